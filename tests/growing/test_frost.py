from datetime import date

import pytest

from seedstart.growing.frost import days_after_average, risk_percent_after


# NWS Wilmington NC, Florence SC: percent of a later freeze by date; mean 79.26 (20 Mar), SD 14.29
# days fitted to the list. Percent printed is that the last freeze has *passed*; 100 - it remains.
@pytest.mark.parametrize(
    ("day", "passed"),
    [
        (date(2027, 3, 1), 8.9),
        (date(2027, 3, 10), 23.6),
        (date(2027, 3, 20), 49.3),
        (date(2027, 3, 30), 75.2),
        (date(2027, 4, 5), 86.4),
        (date(2027, 4, 10), 92.7),
        (date(2027, 4, 20), 98.4),
    ],
)
def test_the_risk_left_is_a_published_list(day: date, passed: float) -> None:
    number = day.timetuple().tm_yday - 79.26
    assert 100 - risk_percent_after(number, 14.29) == pytest.approx(passed, abs=0.2)


def test_a_safe_date_lies_17_days_after_the_average() -> None:
    # Median of six places that print both: 17 days, 13 to 19 (freeze_normals.csv).
    assert days_after_average(10) == pytest.approx(17, abs=0.5)
    assert days_after_average(90) == pytest.approx(-17, abs=0.5)
    assert days_after_average(50) == 0


@pytest.mark.parametrize("risk", [1, 10, 33, 50, 67, 99])
def test_risk_and_days_are_each_others_inverse(risk: float) -> None:
    assert risk_percent_after(days_after_average(risk)) == pytest.approx(risk)
