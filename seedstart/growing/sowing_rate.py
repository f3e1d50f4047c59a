"""How many seeds to sow: for so many plants, or so that few cells stay empty.

Dividing the plants by the germination is right only about half the time. Counted here is the
chance: the smallest number of seeds with which at least so many come up, as sure as is asked.
Plain Python: the calendar calls it.
"""

from collections.abc import Callable
from functools import lru_cache
from math import exp, lgamma, log, log1p
from typing import Final, NamedTuple

from seedstart.growing.germination_belief import Belief

# No more than this is sown by the seed.
MOST_SEEDS: Final = 1_000_000
# ln 0.01 / ln 0.1 comes out a hair above 2, 0.9 + 0.09 a hair below 0.99: a seed too many.
_HAIR: Final = 1e-12
_HAIR_OF_EMPTY: Final = 1e-9
# exp() of less is zero; what lies before the first seed with e^-80 is left out (10^-28 in all).
_NO_UNDERFLOW: Final = -600.0
_WORTH_COUNTING: Final = -80.0


class TooManySeedsError(ValueError):
    """More than `MOST_SEEDS` would be needed."""

    def __init__(self) -> None:
        super().__init__(f"more than {MOST_SEEDS} seeds would be needed")


class SowingRate(NamedTuple):
    """How many seeds to sow for so many plants.

    Attributes:
        seeds: The smallest number that will do.
        chance: That at least the plants wanted come up, 0 to 1.
        chance_of_one_fewer: The same with one seed fewer.
    """

    seeds: int
    chance: float
    chance_of_one_fewer: float


class CellRate(NamedTuple):
    """How many seeds to sow in each cell.

    Attributes:
        seeds: The smallest number that will do.
        empty: Chance that a cell stays empty, 0 to 1.
        empty_of_one_fewer: The same with one seed fewer.
    """

    seeds: int
    empty: float
    empty_of_one_fewer: float


@lru_cache(maxsize=4096)
def seeds_for_plants(plants: int, chance: float, germination: float | Belief) -> SowingRate:
    """The smallest number of seeds of which at least `plants` come up with that chance.

    Args:
        plants: 0 or more.
        chance: Above 0 and below 1.
        germination: Share of seeds that come up, above 0 and up to 1, known for sure (binomial);
            or what is believed of it (beta-binomial).

    Raises:
        ValueError: Something outside these bounds.
        TooManySeedsError: More than `MOST_SEEDS` would be needed.

    Source:
        Negative binomial waiting time, and its mixture over a beta distribution: the number of
        seeds at which the last plant wanted comes up.
    """
    _check(germination, above_0=True)
    if plants < 0 or not 0 < chance < 1:
        raise ValueError(f"0 plants or more, a chance between 0 and 1; got {plants} and {chance}")
    if plants == 0:
        return SowingRate(0, 1.0, 1.0)
    if plants > MOST_SEEDS:
        raise TooManySeedsError
    found = _wait(plants, germination, chance - _HAIR, MOST_SEEDS)
    if found.chance < chance - _HAIR:
        raise TooManySeedsError
    return found


def chance_of_plants(seeds: int, plants: int, germination: float | Belief) -> float:
    """The chance, 0 to 1, that at least `plants` of `seeds` come up.

    Raises:
        ValueError: A germination outside 0 to 1, or fewer than 0 seeds or plants.
    """
    _check(germination, above_0=False)
    if seeds < 0 or plants < 0:
        raise ValueError(f"0 seeds and plants or more; got {seeds} and {plants}")
    if plants == 0:
        return 1.0
    if seeds < plants or germination == 0:
        return 0.0
    return _wait(plants, germination, 2.0, seeds).chance


def _wait(plants: int, germination: float | Belief, chance: float, most_seeds: int) -> SowingRate:
    """Seeds sown one by one, until the last plant wanted has come up with that chance."""
    seeds, at_this_seed = _first_seed(plants, germination)
    if seeds > most_seeds:
        return SowingRate(most_seeds, 0.0, 0.0)
    known = not isinstance(germination, Belief)
    a, b = germination if isinstance(germination, Belief) else (0.0, 0.0)
    misses = 1 - germination if not isinstance(germination, Belief) else 0.0
    total, before = at_this_seed, 0.0
    while total < chance and seeds < most_seeds:
        missing = seeds - plants
        if not known:
            misses = (b + missing) / (a + b + seeds)
        at_this_seed *= seeds / (missing + 1) * misses
        before, seeds = total, seeds + 1
        total += at_this_seed
    return SowingRate(seeds, min(total, 1.0), min(before, 1.0))


def _first_seed(plants: int, germination: float | Belief) -> tuple[int, float]:
    """The first seed worth counting from, and the chance that the last plant is just that seed."""
    at_best = _log_chance_at(plants, plants, germination)
    if at_best > _NO_UNDERFLOW:
        return plants, exp(at_best)
    low, high = plants, _likeliest(plants, germination)
    while high - low > 1:
        middle = (low + high) // 2
        if _log_chance_at(middle, plants, germination) < _WORTH_COUNTING:
            low = middle
        else:
            high = middle
    return high, exp(_log_chance_at(high, plants, germination))


def _likeliest(plants: int, germination: float | Belief) -> int:
    """The seed with which the last plant most likely comes: where the terms stop to rise."""
    if isinstance(germination, Belief):
        per_plant = (germination.a + germination.b) / (germination.a + 1)
    else:
        per_plant = 1 / germination
    return max(plants, int((plants - 1) * per_plant) + 1)


def _log_chance_at(seeds: int, plants: int, germination: float | Belief) -> float:
    """Log of the chance that the last of `plants` comes up with seed number `seeds`."""
    missing = seeds - plants
    ways = lgamma(seeds) - lgamma(plants) - lgamma(missing + 1) if missing else 0.0
    if isinstance(germination, Belief):
        a, b = germination
        both = lgamma(a + plants) + lgamma(b + missing) - lgamma(a + b + seeds)
        return ways + both - lgamma(a) - lgamma(b) + lgamma(a + b)
    return ways + plants * log(germination) + (missing * log1p(-germination) if missing else 0.0)


@lru_cache(maxsize=1024)
def seeds_per_cell(most_empty: float, germination: float | Belief) -> CellRate:
    """The smallest number of seeds a cell with which it stays empty with at most that chance.

    Args:
        most_empty: Above 0 and below 1.
        germination: As for `seeds_for_plants`; `clustered` where seeds of a cell fare alike.

    Raises:
        ValueError: Something outside these bounds.
        TooManySeedsError: More than `MOST_SEEDS` would be needed.

    Source:
        (1 - p)^k, and B(a, b + k) / B(a, b). Roy 1957, quoted in Schubert & Fowells 1964, USFS
        PSW-44, has 5 seeds at 50 % and 29 at 10 % for 95 % stocked spots.
    """
    _check(germination, above_0=True)
    if not 0 < most_empty < 1:
        raise ValueError(f"a chance between 0 and 1; got {most_empty}")
    few_enough = most_empty * (1 + _HAIR_OF_EMPTY)
    seeds = _smallest(lambda seeds: chance_cell_empty(seeds, germination) <= few_enough)
    fewer = chance_cell_empty(seeds - 1, germination)
    return CellRate(seeds, chance_cell_empty(seeds, germination), fewer)


def chance_cell_empty(seeds: int, germination: float | Belief) -> float:
    """The chance, 0 to 1, that none of the seeds in a cell comes up."""
    if not isinstance(germination, Belief):
        return float((1 - germination) ** seeds)
    a, b = germination
    return exp(lgamma(b + seeds) - lgamma(b) + lgamma(a + b) - lgamma(a + b + seeds))


def clustered(share: float, alike: float) -> Belief:
    """Germination within one cell, where seeds that lie together fare alike.

    Args:
        share: Share of all seeds that come up, above 0 and below 1.
        alike: Correlation within a cell, above 0 and below 1; 0 would be coins.

    Source:
        Beta-binomial with mean `share` and intra-cell correlation 1 / (a + b + 1).
    """
    if not 0 < share < 1 or not 0 < alike < 1:
        raise ValueError(f"share and correlation between 0 and 1; got {share} and {alike}")
    strength = (1 - alike) / alike
    return Belief(share * strength, (1 - share) * strength)


def _smallest(enough: Callable[[int], bool]) -> int:
    """The smallest number of seeds that is enough, one at least: doubling, then halving."""
    high = 1
    while not enough(high):
        high *= 2
        if high > MOST_SEEDS:
            raise TooManySeedsError
    low = high // 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def _check(germination: float | Belief, *, above_0: bool) -> None:
    if isinstance(germination, Belief):
        if min(germination) <= 0:
            raise ValueError(f"both sides of a belief lie above 0; got {germination}")
    elif not 0 <= germination <= 1 or (above_0 and germination == 0):
        raise ValueError(f"germination above 0 and up to 1; got {germination}")
