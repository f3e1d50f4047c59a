"""The calendar as bars: what stands in which column, told apart without colour."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from seedstart.days import Window
from seedstart.drawing.lines import Line, as_text, cells_wide
from seedstart.drawing.week_bars import (
    FROST,
    LETTERS,
    SEVERAL,
    TODAY,
    Zoom,
    bar_line,
    first_day_of,
    moves_within,
    ruler_lines,
    stretch_for,
    week_bars,
)
from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.calendar.row import STEP_NAMES, Happening, Row, Step, StepName
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import Ask, tray_setting
from shipped import with_weeks

MONDAY = date(2027, 3, 1)
ELSEWHERE = date(2020, 1, 1)  # out of sight, where a test is not about today
GUTTER = 19  # at 80 columns: 17 for the name, one for `!`, one blank
COLUMNS = 61


def step(name: StepName, *days: int, is_: Happening = "planned") -> Step:
    """A step so many days after MONDAY: one day, or earliest, best and latest."""
    window = Window(*(MONDAY + timedelta(days=day) for day in (days * 3)[:3]))
    return Step(name, window, is_)


def row(*steps: Step, lot: str = "leek", problem: str | None = None) -> Row:
    return Row(lot=lot, number=1, crop="leek", steps=steps, problem=problem)


def bar(one: Row, zoom: Zoom = "days", today: date = ELSEWHERE, frost: date | None = None) -> str:
    """The columns of one row, without its name."""
    stretch = stretch_for(80, MONDAY, today, frost, zoom)
    text = "".join(span.text for span in bar_line(one, stretch, 80))
    assert len(text) == 80
    return text[GUTTER:]


def head(today: date, frost: date | None, zoom: Zoom = "weeks", first: date = MONDAY) -> list[str]:
    """The three lines of the ruler, from its first column on."""
    lines = week_bars([], first, today, frost, 80, zoom)[:3]
    return ["".join(span.text for span in line)[GUTTER:] for line in lines]


def test_a_letter_stands_on_its_day_with_its_number() -> None:
    drawn = bar(row(step("sow", 2), step("emerge", 9), step("set_out", 58)), "weeks")
    # three columns a week: 3 March, 10 March, 28 April of 2027
    assert drawn.startswith("s3·u10")
    assert drawn.index("o28") == 58 * 3 // 7


def test_a_week_is_three_columns() -> None:
    drawn = [bar(row(step("sow", day)), "weeks").index("s") for day in range(14)]
    assert drawn == [0, 0, 0, 1, 1, 2, 2, 3, 3, 3, 4, 4, 5, 5]


def test_of_two_steps_whose_days_would_meet_the_earlier_loses_its_day() -> None:
    drawn = bar(row(step("sow", 0), step("emerge", 5), step("harden", 15)), "weeks")
    assert drawn.startswith("s1u6··h16")
    near = bar(row(step("sow", 14), step("emerge", 17), step("set_out", 40)), "weeks")
    assert near[6:].startswith("su18")  # 15 March has no room before the 18th


def test_steps_of_one_column_are_one_sign() -> None:
    drawn = bar(row(step("pot_on", 9), step("harden", 9), step("set_out", 19)))
    assert drawn[18] == SEVERAL


def test_planned_expected_and_happened_differ_without_colour() -> None:
    today = MONDAY + timedelta(days=24)
    steps = (step("sow", 2), step("emerge", 14), step("set_out", 50, 50, 57))
    planned = bar(row(*steps), "weeks", today)
    assert planned.startswith("s3····u15·│····")
    done = [structs.replace(one, is_="happened") for one in steps[:2]]
    out = structs.replace(steps[2], is_="expected")
    drawn = bar(row(*done, out), "weeks", today)
    assert drawn.startswith("S3━━━━U15━│─────")  # what was, today, what is to come
    assert drawn[21:].startswith("o20")
    assert drawn.rstrip().endswith("o20═")  # a week later would do as well


def test_what_is_overdue_says_so_where_its_day_would_stand() -> None:
    due = Window(*([MONDAY] * 3))
    late = structs.replace(step("prick_out", 10, 10, 12), is_="expected", missed=due)
    drawn = bar(row(step("sow", 0, is_="happened"), late), "weeks", MONDAY + timedelta(days=10))
    assert drawn.rstrip().endswith("p!")


def test_with_days_across_a_step_is_spelled_out_as_far_as_the_next_leaves_room() -> None:
    one = row(
        step("sow", 1, is_="happened"),
        step("emerge", 5, 5, 9, is_="expected"),
        step("prick_out", 8, is_="expected"),
        step("set_out", 18, 18, 23, is_="expected"),
    )
    drawn = "  SOW─────up, toprick out───────────out, any day to 24 Mar"
    assert bar(one, today=MONDAY).rstrip() == TODAY + drawn[1:]


def test_the_lines_of_today_and_of_the_frost_run_through_bars_and_blanks() -> None:
    today, frost = MONDAY + timedelta(days=7), MONDAY + timedelta(days=70)
    drawn = bar(row(step("sow", 0, is_="happened"), step("set_out", 30)), "weeks", today, frost)
    assert drawn.index(TODAY) == 3
    assert drawn.index(FROST) == 30
    on_sowing = bar(row(step("sow", 7)), "weeks", today, frost)
    assert on_sowing[3] == "s"


def test_what_lies_out_of_sight_is_pointed_at() -> None:
    stretch = stretch_for(80, MONDAY, ELSEWHERE, None, "days")
    early = as_text(bar_line(row(step("sow", -20), step("set_out", 5)), stretch, 80))
    late = as_text(bar_line(row(step("sow", 5), step("set_out", 90)), stretch, 80))
    assert early[GUTTER] == "‹"
    assert not early.endswith("›")
    assert late[GUTTER] == " "
    assert late.endswith("›")


def test_a_row_moves_where_one_of_its_days_is_in_sight() -> None:
    stretch = stretch_for(80, MONDAY, ELSEWHERE, None, "days")
    assert moves_within(row(step("sow", -20), step("set_out", 5)), stretch)
    assert not moves_within(row(step("sow", -20), step("set_out", 90)), stretch)


def test_the_ruler_names_each_monday_and_the_month_that_it_is_the_first_of() -> None:
    months, mondays, _ = head(ELSEWHERE, None, first=date(2026, 12, 16))
    assert mondays.split()[:5] == ["14", "21", "28", "4", "11"]
    assert months.index("Jan 2027") == mondays.index(" 4 ") + 1 == 9
    _, letters, numbers = head(ELSEWHERE, None, "days")
    assert letters.split()[:7] == list("mtwtfss")
    assert numbers.split()[:7] == list("1234567")


def test_days_on_which_one_works_are_capitals() -> None:
    stretch = stretch_for(80, MONDAY, ELSEWHERE, None, "days")
    letters = as_text(ruler_lines(stretch, 80, ("wed", "sun"))[1])
    assert letters.startswith("work days capital")
    assert letters.split()[3:10] == ["m", "t", "W", "t", "f", "s", "S"]


def test_the_ruler_points_at_today_and_at_the_frost() -> None:
    marks = head(date(2027, 3, 15), date(2027, 5, 12))[2]
    assert marks.index("today▾") + len("today") == 6  # the third week
    assert marks.index("▾ frost 12 May") == 30  # the Wednesday of the eleventh
    near = head(MONDAY, date(2027, 5, 12))[2]
    assert near.startswith("▾ today")  # no room to its left
    corner = head(MONDAY, date(2027, 3, 4))[2]
    assert corner.startswith("▾▾ today, frost 4 Mar")
    gone = head(date(2027, 2, 1), date(2027, 2, 5))[2]
    assert gone.startswith("‹ today 1 Feb, frost 5 Feb")
    beyond = head(date(2027, 2, 1), date(2028, 5, 12))[2]
    assert beyond.startswith("‹ today 1 Feb")
    assert beyond.rstrip().endswith("frost 12 May ›")


DAYS = st.dates(date(2026, 1, 1), date(2029, 1, 1))


@settings(derandomize=True, deadline=None)
@given(first=DAYS, today=DAYS, frost=st.none() | DAYS, width=st.integers(40, 220))
@pytest.mark.parametrize("zoom", ["weeks", "days"])
def test_no_line_is_wider_than_the_window(
    zoom: Zoom, first: date, today: date, frost: date | None, width: int
) -> None:
    rows = [
        row(step("sow", 1, 5, 9), step("set_out", 60), lot="胡蘿蔔胡蘿蔔胡蘿蔔胡蘿蔔胡蘿蔔"),
        row(lot="Früher Möhrentraum aus dem Norden, 2025", problem="too cold here: " * 20),
    ]
    lines = week_bars(rows, first, today, frost, width, zoom)
    assert all(sum(cells_wide(span.text) for span in line) <= width for line in lines)
    if width >= 80 and zoom == "weeks":
        said = as_text(lines[2])
        assert "today" in said
        assert frost is None or "frost" in said


def test_a_row_without_dates_says_why() -> None:
    lines = week_bars([row(problem="too cold: leek needs 5 °C")], MONDAY, MONDAY, None, 80, "weeks")
    assert as_text(lines[3]).split() == ["!", "leek", "too", "cold:", "leek", "needs", "5", "°C"]


def test_the_legend_explains_every_sign() -> None:
    legend = " ".join(as_text(line) for line in week_bars([], MONDAY, MONDAY, None)[4:])
    assert all(f"{letter.upper()} " in legend for letter in LETTERS.values())
    assert all(sign in legend for sign in (*"·═─━!", SEVERAL, TODAY, FROST))


@pytest.mark.parametrize("name", STEP_NAMES)
def test_every_step_has_a_letter_of_its_own(name: StepName) -> None:
    assert bar(row(step(name, 7)), "weeks")[3] == LETTERS[name]
    assert bar(row(step(name, 7, is_="happened")), "weeks")[3] == LETTERS[name].upper()
    assert len({*LETTERS.values()}) == len(STEP_NAMES)


def test_the_letters_of_every_shipped_crop_stand_in_order_of_time() -> None:
    frost = frost_dates(date(2027, 5, 12), 50)
    rows = [plan(Ask(crop=crop, where=tray_setting(crop), frost=frost)) for crop in with_weeks()]
    first = first_day_of(rows)
    assert first is not None
    for one in [one for one in rows if one.sow_day]:
        stretch = stretch_for(400, first, ELSEWHERE, None)  # wide enough for all of it
        text = "".join(span.text for span in bar_line(one, stretch, 400))[24 + 2 :]
        drawn = [sign for sign in text if sign in LETTERS.values() or sign == SEVERAL]
        wanted = [LETTERS[step.name] for step in one.steps if step.window]
        if SEVERAL in drawn:
            assert len(drawn) < len(wanted)
        else:
            assert drawn == wanted, one.crop


def test_nothing_to_draw_is_a_ruler_and_a_legend() -> None:
    lines: list[Line] = week_bars([], MONDAY, MONDAY, None)
    assert first_day_of([]) is None
    assert as_text(lines[3]) == ""
