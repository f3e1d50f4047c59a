from datetime import date

import pytest

from seedstart.planning.calendar.frost_dates import frost_dates

DAY = date(2027, 5, 12)


def test_an_average_date_is_counted_from_as_it_is() -> None:
    frost = frost_dates(DAY)
    assert (frost.average, frost.trusted) == (DAY, None)
    assert "half of all years" in frost.sentence()
    assert "Tender plants" not in frost.sentence()  # for what would they wait?


def test_a_safe_date_is_trusted_and_the_average_lies_17_days_before() -> None:
    # freeze_normals.csv: six places print both, a median of 17 days apart (13 to 19).
    frost = frost_dates(DAY, 10)
    assert (frost.average, frost.trusted) == (date(2027, 4, 25), DAY)
    assert "10 % of years" in frost.sentence()
    assert "estimated" in frost.sentence()
    assert frost.sentence().endswith(" Tender plants wait for it.")


def test_a_named_trust_is_estimated_from_the_average() -> None:
    # freeze_normals.csv: a median of 17 days from the average to the 10 % date; 90 % by symmetry.
    frost = frost_dates(DAY, 50, 10)
    assert (frost.average, frost.trusted) == (DAY, date(2027, 5, 29))
    assert "Tender plants wait for Sat 29 May 2027, a risk of 10 %" in frost.sentence()


def test_a_trust_that_is_the_dates_own_risk_is_that_date() -> None:
    frost = frost_dates(DAY, 20, 20)
    assert frost.trusted == DAY


def test_an_early_date_is_no_safe_one() -> None:
    # freeze_normals.csv: a median of 17 days from the average to the 10 % date; 90 % by symmetry.
    frost = frost_dates(DAY, 90)
    assert (frost.average, frost.trusted) == (date(2027, 5, 29), None)


def test_nothing_is_added_twice() -> None:
    # Average and 10 % date of one place give the same two days, whichever was typed.
    average, safe = frost_dates(date(2027, 4, 25), 50, 10), frost_dates(DAY, 10)
    assert (average.average, average.trusted) == (safe.average, safe.trusted)


@pytest.mark.parametrize(("days", "percent"), [(0, 50), (17, 10), (-17, 90)])
def test_the_risk_left_falls_with_the_day(days: int, percent: float) -> None:
    # freeze_normals.csv: a median of 17 days from the average to the 10 % date; 90 % by symmetry.
    frost = frost_dates(DAY)
    day = date.fromordinal(DAY.toordinal() + days)
    assert frost.risk_left_percent(day) == pytest.approx(percent, abs=0.5)
