"""How fast and how evenly a sowing came up, from the counts of its days.

Formulas and their papers: docs/tracking.md. All are over those that came up; seeds that never
did are in none of them.
"""

from collections.abc import Sequence
from math import comb, log2
from typing import NamedTuple


class Newly(NamedTuple):
    """What a check found: days since sowing, and how many were new since the check before."""

    day: float
    up: int


def mean_time(found: Sequence[Newly]) -> float | None:
    """Mean time to emergence, sum(n t)/N, days; None where nothing came up.

    Booked at the check: half an interval late on average.
    """
    total = sum(one.up for one in found)
    return sum(one.up * one.day for one in found) / total if total else None


def variance_of_time(found: Sequence[Newly]) -> float | None:
    """Variance of the time, sum n (t - mean)²/(N - 1), days² (Ranal et al. 2009)."""
    mean, total = mean_time(found), sum(one.up for one in found)
    if mean is None or total < 2:
        return None
    return sum(one.up * (one.day - mean) ** 2 for one in found) / (total - 1)


def half_time(found: Sequence[Newly], *, coolbear: bool = False) -> float | None:
    """Days until half of those that came are up, by interpolation between checks.

    Args:
        found: The checks, in order.
        coolbear: Half is (N + 1)/2 (Coolbear et al. 1984); else N/2 (Farooq et al. 2005).

    Returns:
        None where nothing came up. The left end of the first interval is day 0, none up.
    """
    total = sum(one.up for one in found)
    if not total:
        return None
    goal = (total + 1) / 2 if coolbear else total / 2
    up, day = 0, 0.0
    for one in found:
        if up + one.up >= goal and one.up:
            return day + (goal - up) * (one.day - day) / one.up
        up, day = up + one.up, one.day
    return None


def maguire_speed(found: Sequence[Newly]) -> float:
    """Speed of germination, sum(n/t), seeds a day (Maguire 1962)."""
    return sum(one.up / one.day for one in found if one.day > 0)


def synchrony(found: Sequence[Newly]) -> float | None:
    """Share of pairs that came at the same check, 0 to 1; None with fewer than two."""
    total = sum(one.up for one in found)
    return sum(comb(one.up, 2) for one in found) / comb(total, 2) if total >= 2 else None


def uncertainty_bits(found: Sequence[Newly]) -> float | None:
    """Spread over the checks, -sum f log2 f, bits (Labouriau & Valadares 1976)."""
    total = sum(one.up for one in found)
    shares = [one.up / total for one in found if one.up] if total else []
    return sum(-share * log2(share) for share in shares) if shares else None
