"""Degree-hours against worked figures and against plain numeric integration."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.degree_hours import above, below

# Worked by hand, hours and °C, with a gap of six hours between the fourth and the fifth.
HOURS = (0, 1, 1.5, 2.5, 8.5, 9.5)
CELSIUS = (18, 20, 22, 24, 24, 20)


@pytest.mark.parametrize(
    ("base_c", "longest_gap", "degree_hours", "covered"),
    [(10, float("inf"), 123.5, 9.5), (10, 3, 39.5, 3.5), (20, 3, 5.5, 3.5)],
)
def test_degree_hours_are_those_worked_by_hand(
    base_c: float, longest_gap: float, degree_hours: float, covered: float
) -> None:
    found = above([hour * 3600 for hour in HOURS], CELSIUS, base_c, longest_gap)
    assert found.degree_hours == pytest.approx(degree_hours)
    assert found.covered_hours == pytest.approx(covered)


def test_a_line_through_the_limit_counts_only_its_part_above() -> None:
    # From 18 to 24 in an hour above 20: (24-20)²/(2·6) = 4/3, as worked by hand; to cut the ends
    # off at the limit first gives 2.
    found = above([0, 3600], [18, 24], 20)
    assert found.degree_hours == pytest.approx(4 / 3)
    assert found.hours == pytest.approx(2 / 3)


READINGS = st.lists(st.floats(-5, 45, width=32), min_size=2, max_size=20)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(READINGS, st.floats(0, 40, width=32))
def test_any_line_agrees_with_a_sum_over_fine_steps(celsius: list[float], limit_c: float) -> None:
    at_s = np.cumsum(np.arange(len(celsius)) * 600.0)
    found = above(at_s.tolist(), celsius, limit_c)
    fine_s = np.linspace(at_s[0], at_s[-1], 200_001)
    over = np.clip(np.interp(fine_s, at_s, celsius) - limit_c, 0, None)
    expected = float(over.mean()) * (at_s[-1] - at_s[0]) / 3600
    assert found.degree_hours == pytest.approx(expected, rel=2e-3, abs=2e-3)


@settings(derandomize=True)
@given(READINGS, st.floats(0, 40, width=32))
def test_above_less_below_is_the_signed_area(celsius: list[float], limit_c: float) -> None:
    at_s = [600.0 * place for place in range(len(celsius))]
    signed = sum((a + b) / 2 - limit_c for a, b in pairwise(celsius)) / 6
    over, under = above(at_s, celsius, limit_c), below(at_s, celsius, limit_c)
    assert over.degree_hours - under.degree_hours == pytest.approx(signed, abs=1e-6)
    assert over.hours + under.hours <= over.covered_hours + 1e-9
