"""Whether a crop comes up at a temperature, and how well: limits and normal seedlings."""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Final, Literal, NamedTuple

# Below this share of its best normal seedlings a temperature brings a crop up badly.
FAIR_SHARE: Final = 2 / 3


class Limits(NamedTuple):
    """Between which temperatures a crop comes up, and how well that is known.

    Attributes:
        lowest_c, highest_c: Limits, °C: printed, or our guess.
        lowest_sourced, highest_sourced: Whether a source (or a relative's) prints them.
        tabulated_c: Coldest and hottest tabulated emergence or germination, where there is a table.
    """

    lowest_c: float
    highest_c: float
    lowest_sourced: bool
    highest_sourced: bool
    tabulated_c: tuple[float, float] | None = None


class Outlook(NamedTuple):
    """Whether a crop comes up at a temperature.

    Attributes:
        verdict: `comes up`; `slow` or `badly` (a date, with a warning); `too cold`, `too hot` or
            `too slow` (no date).
        limit_c: The limit that is broken, °C, where one is.
        limit_sourced: Whether that limit has a source.
        normal_share: Share of the crop's best normal seedlings here, 0 to 1, where known.
    """

    verdict: Literal["comes up", "slow", "badly", "too cold", "too hot", "too slow"]
    limit_c: float | None = None
    limit_sourced: bool = True
    normal_share: float | None = None


def outlook(soil_c: float, limits: Limits, normal_share: float | None = None) -> Outlook:
    """Whether to give a date at a steady temperature.

    A date is given within the printed limits, or between the coldest and hottest tabulated
    emergence, bounds included, and wherever the limit has no source. Outside the printed limits,
    or under two thirds of the best share of normal seedlings, it comes with a warning.
    """
    cold, hot = soil_c < limits.lowest_c, soil_c > limits.highest_c
    if cold or hot:
        limit_c = limits.lowest_c if cold else limits.highest_c
        sourced = limits.lowest_sourced if cold else limits.highest_sourced
        tabulated = limits.tabulated_c
        if sourced and not (tabulated and tabulated[0] <= soil_c <= tabulated[1]):
            if tabulated:
                limit_c = min(limit_c, tabulated[0]) if cold else max(limit_c, tabulated[1])
            return Outlook("too cold" if cold else "too hot", limit_c, sourced, normal_share)
        return Outlook("badly", limit_c, sourced, normal_share)
    if normal_share is not None and normal_share < FAIR_SHARE:
        return Outlook("badly", None, limit_sourced=True, normal_share=normal_share)
    return Outlook("comes up", None, limit_sourced=True, normal_share=normal_share)


def share_of_best(
    soil_c: float, tabulated_c: Sequence[float], normal_percent: Sequence[float | str]
) -> float | None:
    """Normal seedlings at a temperature over the crop's best, straight between the figures.

    Returns:
        0 to 1; None where the figures do not reach.
    """
    known = [
        (c, float(percent))
        for c, percent in zip(tabulated_c, normal_percent, strict=False)
        if not isinstance(percent, str)
    ]
    if not known or not known[0][0] <= soil_c <= known[-1][0]:
        return None
    best = max(percent for _, percent in known)
    if best <= 0:
        return None
    right = min(bisect_right([c for c, _ in known], soil_c), len(known) - 1)
    (c0, p0), (c1, p1) = known[max(right - 1, 0)], known[right]
    here = p0 if c1 == c0 else p0 + (p1 - p0) * (soil_c - c0) / (c1 - c0)
    return here / best


def fails_above(
    soil_c: Sequence[float], percent: Sequence[float | str], share: float = 0.5
) -> float | None:
    """The temperature above the best one from which less than a share of the best is left.

    Args:
        soil_c: Tabulated temperatures, °C, rising.
        percent: Share of normal seedlings, or germinating, at each.
        share: Of the best, 0 to 1.

    Returns:
        °C, to a tenth, straight between the figures; None where they do not fall so far.
    """
    known = [
        (c, float(value))
        for c, value in zip(soil_c, percent, strict=False)
        if not isinstance(value, str)
    ]
    if not known:
        return None
    best = max(value for _, value in known)
    goal, start = share * best, max(place for place, one in enumerate(known) if one[1] == best)
    for (c0, p0), (c1, p1) in pairwise(known[start:]):
        if p1 < goal:
            return round(c0 + (p0 - goal) / (p0 - p1) * (c1 - c0), 1)
    return None
