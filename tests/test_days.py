from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.days import (
    Window,
    day_ahead,
    day_in_order,
    day_without_year,
    iso_week,
    long_day,
    monday_of,
    nearest_work_day,
    parse_day,
    short_day,
)

DAYS = st.dates(date(1901, 1, 1), date(2199, 12, 31))


# ISO 8601:2004 4.1.4.2: week 01 holds the year's first Thursday; the standard's own examples.
@pytest.mark.parametrize(
    ("day", "week"),
    [
        (date(1995, 1, 1), "1994-W52"),
        (date(1996, 12, 31), "1997-W01"),
        (date(2027, 1, 3), "2026-W53"),
        (date(2024, 12, 30), "2025-W01"),
        (date(2028, 2, 29), "2028-W09"),
    ],
)
def test_weeks_are_iso_8601s(day: date, week: str) -> None:
    assert iso_week(day) == week


@given(DAYS)
def test_a_week_holds_its_first_thursday(day: date) -> None:
    thursday = monday_of(day) + timedelta(days=3)
    number = (thursday - date(thursday.year, 1, 1)).days // 7 + 1
    assert iso_week(day) == f"{thursday.year}-W{number:02d}"


@given(DAYS)
def test_a_day_is_read_as_it_is_written(day: date) -> None:
    assert parse_day(day.isoformat()) == day
    assert parse_day(f"{day.day} {day:%B} {day.year}") == day
    assert parse_day(f"{day:%b} {day.day}, {day.year}") == day
    assert parse_day(long_day(day)) == day


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2027-02-29", "February 2027 has 28 days"),
        ("2027-13-01", "there is no month 13"),
        ("31.4.", "a day needs its year"),
        ("31.4.2027", "April 2027 has 30 days"),
        ("4/5/27", "it may be read in two ways: write 2027-05-04 or 2027-04-05"),
        ("4/5/2027", "write 2027-05-04 or 2027-04-05"),
        ("31/5/2027", "write it as 2027-05-31"),
        ("31-12-2027", "write it as 2027-12-31"),
        ("3/3/27", "write it as 2027-03-03"),
        ("12 Foo 2027", "Foo is no month"),
        ("tomorrow", "write the day as year-month-day"),
        ("2027-W12-4", "write the day as year-month-day"),
        ("20270512", "write the day as year-month-day"),
        ("", "write the day as year-month-day"),
        ("1027-05-12", "outside 1900 to 2200"),
    ],
)
def test_a_day_in_doubt_is_refused_with_the_way_to_write_it(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        parse_day(text)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("31.03.2027", date(2027, 3, 31)),
        ("3/31/2027", date(2027, 3, 31)),
        ("5.5.2027", date(2027, 5, 5)),
        ("4.5.2027", None),
        ("31.04.2027", None),
        ("31.3.27", None),
    ],
)
def test_a_list_may_hold_a_day_that_has_but_one_reading(text: str, day: date | None) -> None:
    assert day_in_order(text) == day


@given(DAYS, DAYS, st.booleans())
def test_a_day_without_its_year_is_the_nearest_on_that_side(
    day: date, today: date, ahead: bool
) -> None:
    found = day_without_year(short_day(day), today, ahead=ahead)
    assert found is not None
    assert (found.month, found.day) == (day.month, day.day)
    assert (found >= today) if ahead else (found <= today)
    assert abs(found - today) <= timedelta(days=365 if (day.month, day.day) != (2, 29) else 8 * 366)


def test_a_day_ahead_is_read_as_screens_show_it() -> None:
    today = date(2027, 5, 20)
    assert day_ahead("25 May", today) == date(2027, 5, 25)
    assert day_ahead("till Tue 25 May", today) == date(2027, 5, 25)
    assert day_ahead("20 may", today) == date(2028, 5, 20)


@given(st.text(max_size=20))
def test_any_text_is_a_day_or_a_value_error(text: str) -> None:
    try:
        day = parse_day(text)
    except ValueError as error:
        assert str(error)
    else:
        assert 1900 <= day.year <= 2200


WINDOW = Window(date(2028, 2, 20), date(2028, 2, 29), date(2028, 3, 6))  # 29 Feb is a Tuesday


@pytest.mark.parametrize(
    ("work_days", "day"),
    [
        ((), date(2028, 2, 29)),
        (("tue",), date(2028, 2, 29)),
        (("mon", "wed"), date(2028, 2, 28)),  # as near: the earlier
        (("sat",), date(2028, 2, 26)),
        (("thu",), date(2028, 3, 2)),
        (("sun",), date(2028, 2, 27)),
    ],
)
def test_a_work_day_is_the_nearest_inside_and_the_earlier_of_two(
    work_days: tuple[str, ...], day: date
) -> None:
    assert nearest_work_day(WINDOW, work_days) == day


def test_nobody_works_while_away() -> None:
    away = [(date(2028, 2, 26), date(2028, 3, 1))]
    assert nearest_work_day(WINDOW, (), away) == date(2028, 3, 2)
    assert nearest_work_day(WINDOW, ("tue",), away) == date(2028, 2, 22)
    assert nearest_work_day(Window.on(date(2028, 2, 29)), ("wed",)) is None


@given(DAYS, st.integers(0, 60), st.integers(0, 60), st.integers(-400, 400))
def test_a_shifted_window_keeps_its_length(day: date, before: int, after: int, by: int) -> None:
    window = Window.around(day, before, after)
    assert window.shifted(by).days == before + after
    assert window.shifted(by).best == day + timedelta(days=by)


def test_with_full_stops_the_day_stands_first() -> None:
    assert parse_day("2.3.2026") == date(2026, 3, 2)
    assert parse_day("Mon 2.3.2026") == date(2026, 3, 2)
    with pytest.raises(ValueError, match="February 2026 has 28 days"):
        parse_day("30.2.2026")


def test_who_says_the_order_is_asked_no_more() -> None:
    assert day_in_order("4/5/2027") is None
    assert day_in_order("4/5/2027", "dmy") == date(2027, 5, 4)
    assert day_in_order("4/5/2027", "mdy") == date(2027, 4, 5)
    assert day_in_order("31/5/2027", "mdy") is None
