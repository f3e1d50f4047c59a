"""How many trays and plants a level to show a difference, and places drawn by lot."""

from collections.abc import Sequence
from math import sqrt
from random import Random
from typing import Final, NamedTuple, TypeVar

T = TypeVar("T")
_MOST_TRAYS: Final = 24
# Seedlings of one tray differ in height by so much of their mean, trays of one level by so much
# more. Common practice, no source.
PLANTS_VARY: Final = 0.12
TRAYS_VARY: Final = 0.05


class Shown(NamedTuple):
    """What a trial of some size can show.

    Attributes:
        difference: Between two levels, in the unit of the spreads.
        trays: A level; one tray is one replicate.
        plants: A tray.
        of_plants_only: With one tray a level what trays differ by is not known: the difference
            holds for those trays alone.
    """

    difference: float
    trays: int
    plants: int
    of_plants_only: bool


def difference_shown(
    levels: int,
    trays: int,
    plants: int,
    plant_spread: float,
    tray_spread: float,
    power: float = 0.8,
) -> Shown:
    """The difference between two levels that is shown with a chance of `power`, at 5 in 100.

    Args:
        levels: How many.
        trays: A level.
        plants: A tray.
        plant_spread: Standard deviation of plants in a tray.
        tray_spread: Standard deviation of trays of a level, beyond what their plants make.
        power: Chance that it is shown.

    Source:
        (t(0.975) + t(power)) √(2 variance of a level's mean), by Student's t with the tray as the
        unit: textbooks of experimental design; compared with statsmodels in the tests.
    """
    from scipy.special import stdtrit

    lone = trays == 1
    variance = plant_spread**2 / (trays * plants)
    variance += 0.0 if lone else tray_spread**2 / trays
    df = levels * (plants - 1) if lone else levels * (trays - 1)
    t = float(stdtrit(max(df, 1), 0.975)) + float(stdtrit(max(df, 1), power))
    return Shown(t * sqrt(2 * variance), trays, plants, lone)


def trays_needed(
    levels: int, plants: int, difference: float, plant_spread: float, tray_spread: float
) -> Shown | None:
    """The fewest trays a level, two at least, that show a difference; None where 24 do not."""
    for trays in range(2, _MOST_TRAYS + 1):
        found = difference_shown(levels, trays, plants, plant_spread, tray_spread)
        if found.difference <= difference:
            return found
    return None


def drawn(of: Sequence[T], blocks: int, seed: int) -> list[T]:
    """All of some things in each block, in an order drawn by lot: the same for the same seed."""
    random = Random(seed)  # noqa: S311 - a lot that anybody can draw again
    order: list[T] = []
    for _ in range(blocks):
        block = list(of)
        random.shuffle(block)
        order += block
    return order
