"""How sturdy seedlings are: height over stem, plant by plant, and groups of them.

No published limit of the quotient for vegetables was found (those in use are for trees), so a
plant is compared with its own batch, never called leggy by a number alone.
"""

from collections.abc import Sequence
from math import sqrt
from typing import Final, NamedTuple

# What differs so many times from the middle of its own tray is ten times off: millimetres and
# centimetres mixed up, or a point forgotten.
_TENFOLD: Final = 4.5


def sturdiness_quotient(height_mm: float, diameter_mm: float) -> float:
    """Height in cm over the stem's diameter in mm, just under the seed leaves; low is sturdy.

    Raises:
        ValueError: A height or a diameter that is not above 0.

    Source:
        May, Southern Pine Nursery Handbook, chapter 9, names the ratio.
    """
    if not height_mm > 0 or not diameter_mm > 0:
        raise ValueError(f"height and stem above 0 mm; got {height_mm:g} and {diameter_mm:g}")
    return height_mm / 10 / diameter_mm


def dickson_index(height_mm: float, diameter_mm: float, shoot_g: float, root_g: float) -> float:
    """Dickson's quality index of dried plants; high is good.

    Source:
        Dickson, Leaf & Hosner 1960: total dry g / (H cm / D mm + shoot dry g / root dry g).
    """
    quotient = sturdiness_quotient(height_mm, diameter_mm)
    return (shoot_g + root_g) / (quotient + shoot_g / root_g)


class GroupMean(NamedTuple):
    """Plants of a group.

    Attributes:
        number: How many values it rests on.
        mean: Their mean.
        low, high: Its interval by Student's t; the mean itself of a single one.
        spread: Standard deviation; 0 of a single one.
    """

    number: int
    mean: float
    low: float
    high: float
    spread: float


def group_mean(values: Sequence[float], level: float = 0.95) -> GroupMean:
    """Mean of a group with its interval. The quotient of a group is the mean of its plants'.

    Raises:
        ValueError: No value.
    """
    if not values:
        raise ValueError("at least one value")
    middle = sum(values) / len(values)
    if len(values) == 1:
        return GroupMean(1, middle, middle, middle, 0.0)
    from scipy.special import stdtrit

    spread = sqrt(sum((value - middle) ** 2 for value in values) / (len(values) - 1))
    half = float(stdtrit(len(values) - 1, (1 + level) / 2)) * spread / sqrt(len(values))
    return GroupMean(len(values), middle, middle - half, middle + half, spread)


def pooled_means(groups: Sequence[Sequence[float]], level: float = 0.95) -> list[GroupMean]:
    """Means of groups whose values vary alike: their intervals share one spread.

    So few values as two trays a level say too little of their own spread; all levels together do.

    Args:
        groups: Each with one value at least.
        level: Of the intervals.

    Source:
        The analysis of variance: t with as many degrees of freedom as values less groups.
    """
    means = [sum(values) / len(values) for values in groups]
    free = sum(len(values) for values in groups) - len(groups)
    if free < 1:
        return [group_mean(values, level) for values in groups]
    from scipy.special import stdtrit

    squares = sum(
        (value - middle) ** 2
        for values, middle in zip(groups, means, strict=True)
        for value in values
    )
    spread = sqrt(squares / free)
    half = float(stdtrit(free, (1 + level) / 2)) * spread
    return [
        GroupMean(
            len(values), middle, middle - half / sqrt(len(values)),
            middle + half / sqrt(len(values)), spread,
        )
        for values, middle in zip(groups, means, strict=True)
    ]  # fmt: skip


def ten_times_off(values: Sequence[float]) -> list[float | None]:
    """For each value the one that was likely meant, where it is ten times off its own tray.

    A tray of which all are off looks right by itself: `tenth_or_tenfold` looks at one alone.
    """
    found: list[float | None] = []
    for number, value in enumerate(values):
        others = [*values[:number], *values[number + 1 :]]
        found.append(tenth_or_tenfold(value, middle_of(others)) if len(others) > 1 else None)
    return found


def middle_of(values: Sequence[float]) -> float:
    """The median of some values."""
    ranked = sorted(values)
    half = len(ranked) // 2
    return ranked[half] if len(ranked) % 2 else (ranked[half - 1] + ranked[half]) / 2


def tenth_or_tenfold(value: float, usual: float) -> float | None:
    """A tenth of it or ten times as much, where that is far nearer to what is usual; else None."""
    if usual <= 0 or value <= 0:
        return None
    if value / usual > _TENFOLD:
        return value / 10
    return value * 10 if usual / value > _TENFOLD else None
