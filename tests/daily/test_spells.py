"""Hours beyond a limit, and days that warmth falling short costs."""

from collections.abc import Sequence
from typing import Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.daily.alerts.spells import (
    Spell,
    Trace,
    days_lost,
    lost_between,
    spell_above,
    spell_below,
)
from seedstart.growing.emergence import RateCurve

HOUR: Final = 3600.0
# Worked by hand in degree-hours, the area between the line and the limit: a gap of six hours
# between the fourth and the fifth reading.
HOURS: Final = (0, 1, 1.5, 2.5, 8.5, 9.5)
CELSIUS: Final = (18, 20, 22, 24, 24, 20)


def trace(hours: Sequence[float], celsius: Sequence[float]) -> Trace:
    return Trace([hour * HOUR for hour in hours], list(map(float, celsius)))


def below(hours: Sequence[float], celsius: Sequence[float], limit_c: float) -> Spell:
    found = spell_below(trace(hours, celsius), limit_c, hours[-1] * HOUR)
    assert found is not None
    return found


def straight(base_c: float, days_at_30_c: float = 1.0) -> RateCurve:
    """A rate that rises in a straight line from its base."""
    per_day = 1 / days_at_30_c
    return RateCurve((base_c, 30.0), (0.0, per_day), (), base_c, 30.0, (base_c, 30.0), "table")


@pytest.mark.parametrize(("base_c", "degree_hours", "hours"), [(10, 39.5, 3.5), (20, 5.5, 3.5)])
def test_days_lost_are_the_degree_hours_that_are_missing(
    base_c: float, degree_hours: float, hours: float
) -> None:
    # At a rate in a straight line a day at the planned temperature is worth 24 (planned - base)
    # degree-hours; what was covered and not gathered is lost.
    planned_c = 24
    curve = straight(base_c)
    lost = lost_between(trace(HOURS, CELSIUS), curve, curve.rate(planned_c))
    assert lost == pytest.approx((hours - degree_hours / (planned_c - base_c)) / 24)


def test_a_day_at_half_the_rate_loses_half_a_day() -> None:
    hours = range(25)
    curve = straight(10)  # at 17 °C half of what it is at 24
    assert lost_between(trace(hours, [17] * 25), curve, curve.rate(24)) == pytest.approx(0.5)


def test_a_day_below_the_base_loses_a_day_and_no_more() -> None:
    curve = straight(10)
    assert lost_between(trace(range(25), [2] * 25), curve, curve.rate(24)) == pytest.approx(1)


def test_the_clock_of_the_curve_does_not_matter() -> None:
    fast, slow = straight(10, 5), straight(10, 12)
    cool = trace(range(13), [14] * 13)
    assert lost_between(cool, fast, fast.rate(24)) == pytest.approx(
        lost_between(cool, slow, slow.rate(24))
    )


def test_warmer_than_planned_loses_nothing() -> None:
    curve = straight(10)
    assert lost_between(trace(range(13), [28] * 13), curve, curve.rate(24)) == 0


def test_a_line_through_the_limit_counts_only_its_part_below() -> None:
    # From 24 down to 18 in an hour and up again: below 20 for 2/6 h each way; what is above, 2/3
    # h each way, is worked by hand.
    found = below((0, 1, 2), (24, 18, 24), 20)
    assert found.hours == pytest.approx(2 / 3)
    assert (found.since_s, found.until_s) == pytest.approx((2 / 3 * HOUR, 4 / 3 * HOUR))
    assert (found.worst_c, found.worst_at_s) == (18, HOUR)
    assert not found.goes_on


@pytest.mark.parametrize("celsius", [(20, 20, 20), (24, 20, 24)])
def test_on_the_limit_is_not_below(celsius: tuple[float, ...]) -> None:
    assert spell_below(trace((0, 1, 2), celsius), 20, 2 * HOUR) is None


def test_hours_that_nobody_measured_are_not_counted() -> None:
    found = below((0, 1, 2, 7, 8, 9), (24, 18, 18, 18, 18, 24), 20)
    # 1/3 h of the way down and an hour, a gap of five; an hour and 1/3 h of the way up.
    assert found.hours == pytest.approx(2 * (1 + 1 / 3))
    assert found.until_s - found.since_s == pytest.approx((7 + 2 / 3) * HOUR)


def test_single_readings_say_nothing_about_hours() -> None:
    found = below((0, 12, 24), (24, 18, 17), 20)
    assert found.alone
    assert found.hours == 0
    assert found.goes_on


def test_dips_of_one_night_are_one_event() -> None:
    found = below((0, 1, 2, 3, 4, 5, 6), (24, 18, 21, 21, 18, 17, 24), 20)
    assert found.since_s == pytest.approx(2 / 3 * HOUR)
    assert found.worst_c == 17


def test_two_nights_are_two_events_and_the_latest_is_told() -> None:
    hours = [float(hour) for hour in range(49)]
    celsius = [24.0] * 49
    celsius[2], celsius[26] = 15.0, 18.0
    found = below(hours, celsius, 20)
    assert found.worst_c == 18
    assert found.since_s > 24 * HOUR


def test_too_hot_is_too_cold_upside_down() -> None:
    hours, celsius = (0, 1, 2, 3), (24, 36, 38, 24)
    hot = spell_above(trace(hours, celsius), 35, 3 * HOUR)
    cold = below(hours, [-c for c in celsius], -35)
    assert hot is not None
    assert (hot.hours, hot.since_s, hot.until_s) == (cold.hours, cold.since_s, cold.until_s)
    assert (hot.worst_c, hot.now_c) == (38, 24)


def test_the_cost_takes_in_the_hours_around_the_event() -> None:
    # Below the planned 24 °C from hour 2 to hour 10, below the limit of 15 only in the middle.
    hours = range(13)
    celsius = (24, 24, 24, 17, 17, 17, 14, 17, 17, 17, 24, 24, 24)
    seen, curve = trace(hours, celsius), straight(10)
    found = below(list(map(float, hours)), celsius, 15)
    lost = days_lost(seen, curve, 24, found)
    # Shares lost by reading: 1/2 at 17, 10/14 at 14; trapezoids from hour 2 to 10.
    assert lost == pytest.approx((7 * 0.5 + (10 / 14 - 0.5)) / 24)


def test_nothing_is_lost_where_nothing_was_to_come_up() -> None:
    found = below((0, 1, 2), (24, 5, 24), 10)
    assert days_lost(trace((0, 1, 2), (24, 5, 24)), straight(10), 8, found) is None


READINGS = st.lists(st.tuples(st.floats(0.1, 8), st.floats(-5, 45)), min_size=2, max_size=30).map(
    lambda steps: [(sum(gap for gap, _ in steps[: n + 1]), c) for n, (_, c) in enumerate(steps)]
)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(READINGS, st.floats(0, 40))
def test_a_spell_lies_in_what_was_measured(
    readings: list[tuple[float, float]], limit_c: float
) -> None:
    hours, celsius = zip(*readings, strict=True)
    seen = trace(hours, celsius)
    found = spell_below(seen, limit_c, hours[-1] * HOUR)
    week = [
        c
        for at_s, c in zip(seen.at_s, seen.c, strict=True)
        if at_s >= hours[-1] * HOUR - 7 * 86_400
    ]
    if found is None:
        assert min(week) >= limit_c
        return
    assert found.worst_c < limit_c
    assert found.worst_c >= min(week)
    assert seen.at_s[0] <= found.since_s <= found.worst_at_s <= found.until_s <= seen.at_s[-1]
    assert 0 <= found.hours <= (found.until_s - found.since_s) / HOUR + 1e-9
    assert found.goes_on == (celsius[-1] < limit_c)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(READINGS, st.floats(12, 30))
def test_never_more_is_lost_than_was_measured(
    readings: list[tuple[float, float]], planned_c: float
) -> None:
    hours, celsius = zip(*readings, strict=True)
    curve = straight(10)
    lost = lost_between(trace(hours, celsius), curve, curve.rate(planned_c))
    assert 0 <= lost <= (hours[-1] - hours[0]) / 24 + 1e-9
