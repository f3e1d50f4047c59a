"""A grower's own factor."""

from array import array
from datetime import timedelta
from math import exp, hypot, log

import pytest

from notebook import ZONE, Notebook, moment
from seedstart.growing.emergence import table_curve
from seedstart.season.journal.entries import Counted, Sown
from seedstart.season.loggers.series import Readings, Series
from seedstart.tracking.own_factor import own_factor, seen_factor
from seedstart.tracking.warmth import Emerging, Warmth
from seedstart.units import steady
from tables import emergence_tables

# Harrington & Minges 1954: tomato at 25 °C, 6 days.
_SOIL_C, _DAYS = emergence_tables()["Tomato"]
TOMATO = Emerging(table_curve(_SOIL_C, _DAYS, 10, 35), "table", 1.3, 1 / 1.3, 1.2, steady(24))


def measured(days: float, celsius: float = 25.0) -> Readings:
    start = moment("3-01").timestamp()
    times = array("d", [start + 3600 * hour for hour in range(int(days * 24) + 1)])
    series = Series("mat", "soil_c", times, array("d", [celsius] * len(times)), bytes(len(times)))
    return {("mat", "soil_c"): series}


def book(up: dict[float, int], *, final: bool = True) -> Notebook:
    """A sowing of the first of March, counted so many days after it."""
    found = Notebook()
    found.write(Sown, "3-01", sowing="tomato", lot="tomato", seeds=20, station="mat")
    for day, standing in up.items():
        at = moment("3-01") + timedelta(days=day)
        last = final and day == max(up)
        found.write(Counted, at, sowing="tomato", standing=standing, final=last)
    return found


def seen(notebook: Notebook, readings: Readings, emerging: Emerging = TOMATO) -> float | None:
    happened = notebook.records()
    (sowing,) = happened.standings.values()
    warmth = Warmth(readings, {}, ZONE)
    return seen_factor(sowing, happened, warmth, emerging, moment("5-01"))


def test_half_up_after_nine_days_where_the_table_says_six_is_a_factor_of_one_and_a_half() -> None:
    looks = {7.0: 0, 8.0: 0, 9.0: 10, 10.0: 20}
    assert seen(book(looks), measured(12)) == pytest.approx(9 / 6)


def test_what_was_not_measured_or_looked_at_or_closed_says_nothing() -> None:
    looks = {8.0: 0, 9.0: 10, 10.0: 20}
    assert seen(book(looks), measured(4)) is None
    assert seen(book(looks), {}) is None
    assert seen(book(looks, final=False), measured(12)) is None
    assert seen(book({9.0: 20}), measured(12)) is None, "the first look found all of them"
    assert seen(book({8.0: 0, 9.0: 2, 10.0: 4}), measured(12)) is None
    assert seen(book(looks), measured(12), TOMATO._replace(clock="trays")) is None


def test_without_a_sowing_it_is_where_trays_usually_are() -> None:
    found = own_factor([])
    assert found.factor == pytest.approx(1.6)
    # docs/tracking.md: the spread of printed days, quartiles 1.3 and 2.2, and that of a sowing.
    assert log(found.high / found.low) == pytest.approx(2 * 1.959964 * 0.39, rel=1e-3)
    assert found.next_sd == pytest.approx(hypot(log(2.2 / 1.3) / 1.349, 0.25))


def test_it_moves_as_the_whole_curve_of_belief_does() -> None:
    """Against the belief worked out point by point, with no formula for its mean."""
    sowings = [1.8, 2.1, 1.6]
    points = [0.0005 * step for step in range(-2000, 4000)]

    def weight(x: float) -> float:
        squares = ((x - log(1.6)) / 0.38999) ** 2
        squares += sum(((log(one) - x) / 0.25) ** 2 for one in sowings)
        return exp(-squares / 2)

    mean = sum(x * weight(x) for x in points) / sum(map(weight, points))
    found = own_factor(sowings)
    assert found.factor == pytest.approx(exp(mean), rel=1e-5)
    assert found.low < found.factor < found.high
    assert found.sowings == 3
