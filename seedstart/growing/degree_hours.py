"""How long and how far measured temperatures lay above or below a limit. Plain Python."""

from collections.abc import Sequence
from itertools import pairwise
from math import inf
from typing import NamedTuple


class Beyond(NamedTuple):
    """What lies beyond a limit, between the first reading and the last.

    Attributes:
        degree_hours: The area between the line and the limit, °C h.
        hours: How long the line was beyond the limit.
        covered_hours: How long is known at all: gaps left out are in neither figure.
    """

    degree_hours: float
    hours: float
    covered_hours: float


def above(
    at_s: Sequence[float], value_c: Sequence[float], limit_c: float, longest_gap_hours: float = inf
) -> Beyond:
    """How far and how long readings lay above a limit, straight lines drawn between them.

    Args:
        at_s: Times in seconds, rising.
        value_c: Temperatures in °C, one each.
        limit_c: The limit in °C. On it is neither above nor below.
        longest_gap_hours: Of readings farther apart the time between is left out.

    Raises:
        ValueError: The two sequences differ in length.
    """
    degree_hours = hours = covered = 0.0
    pairs = pairwise(zip(at_s, value_c, strict=True))
    for (before_s, before_c), (after_s, after_c) in pairs:
        apart = (after_s - before_s) / 3600
        if apart <= longest_gap_hours:
            covered += apart
            share, mean_c = _part_above(before_c - limit_c, after_c - limit_c)
            hours += apart * share
            degree_hours += apart * share * mean_c
    return Beyond(degree_hours, hours, covered)


def below(
    at_s: Sequence[float], value_c: Sequence[float], limit_c: float, longest_gap_hours: float = inf
) -> Beyond:
    """How far and how long readings lay below a limit; the mirror of `above`."""
    return above(at_s, [-value for value in value_c], -limit_c, longest_gap_hours)


def _part_above(before_c: float, after_c: float) -> tuple[float, float]:
    """Share of a straight line above nought, and the mean height of that part.

    To cut the ends off at nought first would draw another line: from 2 below to 4 above the
    part above is two thirds of the time at 2 on average, not all of it.
    """
    low, high = sorted((before_c, after_c))
    if high <= 0:
        return 0.0, 0.0
    return (1.0, (low + high) / 2) if low >= 0 else (high / (high - low), high / 2)
