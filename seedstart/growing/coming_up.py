"""What the counts of one sowing say of it: how many will come, and by when.

Neither the share that comes nor the speed is known. The share has a beta belief, beside which the
belief may be wrong and the seed dead; the speed is log-normal. Each count is the number of seeds
that came between two points of the way (`tried_speeds`).

The *way* is progress on the crop's own curve, in parts of its days: 1 where the curve has the crop
up, whatever the warmth was meanwhile. Plain Python: the round calls it.

Source of the sum: the mixture over a beta distribution of the share that can germinate. Where the
speed is known it gives tests/reference/resow_decision_cases.csv.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import erf, exp, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination_belief import Belief
from seedstart.growing.tried_speeds import (
    HIGHEST,
    LEAST,
    SMALL,
    DugUp,
    Look,
    Observed,
    Speed,
    Tried,
    observed_in,
    share_up,
    tried_speeds,
)

# What a belief may be wrong in: in one lot of ten the share is anything (seed stored warm, sown too
# deep, a packet mixed up), in one of thirty nothing comes. Common practice, no source.
MAY_BE_WRONG: Final = 0.1
MAY_BE_DEAD: Final = 0.03
_ANYTHING: Final = Belief(1.0, 1.0)


class Span(NamedTuple):
    """A figure and the two between which it lies."""

    low: float
    best: float
    high: float


# By its looks alone nothing more is to come where five seedlings or more are up and, were all seed
# alive that is missing, fewer than so many of them were late. Held against `coming_up` by
# tests/growing/test_coming_up.py: it never expects half a seedling more there.
_FEWEST_UP: Final = 5
_HARDLY_ANY: Final = 0.05


def hardly_any_late(missing: int, looks: Sequence[Look], slope: float) -> bool:
    """Whether the looks alone show, and quickly, that no more come.

    Half of it is taken to have come as late as the looks allow: at the first that found half of
    those now up, or where half would be had nine in ten come at the first that found these.

    Args:
        missing: Seeds of which nothing was seen, 0 or more.
        looks: In order of the way; those alike in a row may be left out but for first and last.
        slope: Of the log-logistic.
    """
    up = looks[-1].up if looks else 0
    if up < _FEWEST_UP:
        return False
    half, nine = (next(look.way for look in looks if look.up >= up * part) for part in (0.5, 0.9))
    late_half = max(half, nine / 9 ** (1 / slope))
    return missing * (1 - share_up(late_half, looks[-1].way, slope)) < _HARDLY_ANY


class ComingUp(NamedTuple):
    """What is believed of a sowing after its last look.

    Attributes:
        up: How many had come.
        chances: Chance that 0, 1, 2 … more come, ever.
        halves: Points of the way by which half may be up, rising.
        weights: The chance of each; they sum to 1.
        more: With each of them, how many more come in the mean, ever.
        now: With each, the share of those that come that was up at the last look.
        slope: Of the log-logistic.
        way: Where on the way the last look was.
    """

    up: int
    chances: tuple[float, ...]
    halves: tuple[float, ...]
    weights: tuple[float, ...]
    more: tuple[float, ...]
    now: tuple[float, ...]
    slope: float
    way: float = 0.0

    @property
    def expected_more(self) -> float:
        """How many more come in the mean, ever."""
        return sum(number * chance for number, chance in enumerate(self.chances))

    @property
    def chance_of_none(self) -> float:
        """Chance, 0 to 1, that none ever comes: the lot is dead."""
        return 0.0 if self.up else self.chances[0]

    def chance_of(self, more: int) -> float:
        """Chance, 0 to 1, that at least so many more come, ever."""
        if more <= 0:
            return 1.0
        return min(sum(self.chances[more:]), 1.0)

    def total(self, level: float) -> Span:
        """How many come in all, with the interval of that level; never below what is up."""
        tail, below = (1 - level) / 2, 0.0
        low = high = None
        for number, chance in enumerate(self.chances):
            below += chance
            if low is None and below > tail:
                low = number
            if high is None and below >= 1 - tail - SMALL:
                high = number
        low, high = low or 0, len(self.chances) - 1 if high is None else high
        return Span(self.up + low, self.up + self.expected_more, self.up + high)

    def more_by(self, way: float) -> float:
        """How many more come from the last look up to a point of the way, in the mean."""
        return sum(
            weight * more * self._part(place, way)
            for place, (weight, more) in enumerate(zip(self.weights, self.more, strict=True))
        )

    def chance_of_one_by(self, way: float) -> float:
        """Chance that at least one more has come by a point of the way, from the means."""
        return sum(
            weight * (1 - exp(-more * self._part(place, way)))
            for place, (weight, more) in enumerate(zip(self.weights, self.more, strict=True))
        )

    def up_by(self, way: float) -> float:
        """How many were or will be up at a point of the way, as the curve through it all has it."""
        return sum(
            weight * (self.up + more) * share_up(half, way, self.slope)
            for weight, more, half in zip(self.weights, self.more, self.halves, strict=True)
        )

    def band(self, ways: Sequence[float], level: float) -> list[Span]:
        """How many are up at points of the way from the last look on: the mean, and the interval.

        The low end is that of the total come as slowly as may be, the high end the other two.
        """
        total, halves = self.total(level), self.way_of(0.5, level)
        return [
            Span(
                self.up + (total.low - self.up) * self._since(way, halves.high),
                self.up + self.more_by(way),
                self.up + (total.high - self.up) * self._since(way, halves.low),
            )
            for way in ways
        ]

    def _since(self, way: float, half: float) -> float:
        """The part of the rest that comes from the last look to a point of the way."""
        now, then = (share_up(half, at, self.slope) for at in (self.way, way))
        return min(max((then - now) / (1 - now), 0.0), 1.0) if now < 1 - SMALL else 1.0

    def way_of(self, share: float, level: float) -> Span:
        """Where on the way such a share of those that come is up, with its interval.

        Of thirty seedlings half are up a little before or after half of a thousand would be: the
        interval has that too. What had not come by the last look is not dated before it.
        """
        (found,) = self.ways_of((share,), level)
        return found

    def ways_of(self, shares: Sequence[float], level: float) -> list[Span]:
        """`way_of` for several shares: what they have in common is found once."""
        alive, total = 1 - self.chance_of_none, self.total(level)
        more = total.best - self.up
        plants = max(self.up + (more / alive if alive > SMALL else 0.0), 1.0)
        below, best, above = (self._log_half(chance) for chance in _ends(level))
        found = []
        for share in shares:
            reach = _deviations(level) / (self.slope * sqrt(plants * share * (1 - share)))
            odds = log(share / (1 - share)) / self.slope
            low = exp(odds + best - sqrt((best - below) ** 2 + reach**2))
            high = exp(odds + best + sqrt((above - best) ** 2 + reach**2))
            if self.up < share * total.low or not self.up:
                low = max(low, self.way)
            found.append(Span(low, max(exp(odds + best), low), max(high, low)))
        return found

    def _log_half(self, chance: float) -> float:
        """Logarithm of the point of the way before which half are up with such a chance.

        The points of the grid lie at equal steps, and each stands for the step about it.
        """
        if len(self.halves) == 1:
            return log(self.halves[0])
        first = log(self.halves[0])
        step = (log(self.halves[-1]) - first) / (len(self.halves) - 1)
        below = 0.0
        for place, weight in enumerate(self.weights):
            if below + weight >= chance:
                return first + step * (place - 0.5 + (chance - below) / weight)
            below += weight
        return first + step * (len(self.halves) - 0.5)

    def _part(self, place: int, way: float) -> float:
        """Share of those still to come that is up by a point of the way."""
        now = self.now[place]
        then = share_up(self.halves[place], way, self.slope)
        return min(max((then - now) / (1 - now), 0.0), 1.0) if now < 1 - SMALL else 0.0


def _ends(level: float) -> tuple[float, float, float]:
    return (1 - level) / 2, 0.5, (1 + level) / 2


@lru_cache(maxsize=8)
def _deviations(level: float) -> float:
    """Standard deviations to either side that hold so much of a normal distribution."""
    low, high = 0.0, 10.0
    while high - low > SMALL:
        middle = (low + high) / 2
        low, high = (middle, high) if erf(middle / sqrt(2)) < level else (low, middle)
    return high


@lru_cache(maxsize=2048)
def coming_up(
    seeds: int,
    belief: Belief,
    speed: Speed,
    looks: tuple[Look, ...] = (),
    dug: tuple[DugUp, ...] = (),
    *,
    may_be_wrong: float = MAY_BE_WRONG,
    may_be_dead: float = MAY_BE_DEAD,
) -> ComingUp:
    """What is believed of a sowing after all that was seen of it.

    Args:
        seeds: Sown, 0 or more.
        belief: Of the share that comes, from before the sowing.
        speed: Of its speed, likewise.
        looks: In order of the way; what had come by each never falls.
        dug: Seeds that were dug up meanwhile: they come no more.
        may_be_wrong: Chance that the belief does not hold, and the share is anything.
        may_be_dead: Chance that none comes.

    Raises:
        ValueError: More came up and were dug up than were sown.
    """
    observed = observed_in(seeds, looks, dug)
    parts = ((1 - may_be_wrong - may_be_dead, _tame(belief)), (may_be_wrong, _ANYTHING))
    shares = [(log(weight), part) for weight, part in parts if weight > 0]
    tried = tried_speeds(speed, observed, shares)
    dead = may_be_dead if not observed.up and not observed.sound else 0.0
    return _put_together(tried, dead, observed, speed.slope)


def _tame(belief: Belief) -> Belief:
    """With two hills (a or b below 1) the sum would have two; the even start is as unsure."""
    return Belief(max(belief.a, 1.0), max(belief.b, 1.0))


def _put_together(
    tried: Sequence[Tried], may_be_dead: float, observed: Observed, slope: float
) -> ComingUp:
    """The beliefs of all speeds as one."""
    most = max(speed.log_chance for speed in tried)
    alive = [exp(speed.log_chance - most) for speed in tried]
    whole = sum(alive)
    dead = exp(log(may_be_dead) - most) if may_be_dead and most > -HIGHEST else 0.0
    if may_be_dead and most <= -HIGHEST:
        whole, dead = 0.0, 1.0
    chances = [0.0] * (observed.missing + 1)
    chances[0] = dead / (whole + dead)
    lives, more = whole / (whole + dead), []
    for one, weight in zip(tried, alive, strict=True):
        mean = 0.0
        for scale, first, row in one.sums:
            times = exp(scale - most) / (whole + dead) if lives else 0.0
            for number, chance in enumerate(row, first):
                part = times * chance
                chances[number] += part
                mean += part * number
        more.append(mean / (weight / whole) if weight > LEAST and lives else 0.0)
    return ComingUp(
        observed.up,
        tuple(chances),
        tuple(speed.half for speed in tried),
        tuple(weight / sum(alive) for weight in alive),
        tuple(more),
        tuple(speed.now for speed in tried),
        slope,
        observed.way,
    )
