"""What the counts of one sowing say of it: how many will come, and by when.

Neither the share that comes nor the speed is known. The share has a beta belief, beside which the
belief may be wrong and the seed dead; the speed is log-normal. Each count is the number of seeds
that came between two points of the way, so the likelihood is multinomial. Over the share it is
summed exactly, over the speed on a grid that is laid twice, the second time where it matters.

The *way* is progress on the crop's own curve, in parts of its days: 1 where the curve has the crop
up, whatever the warmth was meanwhile. Plain Python: the round calls it.

Source of the sum: the mixture over a beta distribution of the share that can germinate
(`still_to_come`, which it equals where the speed is known).
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import erf, exp, inf, lgamma, log, pi, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination_belief import Belief

# What a belief may be wrong in: in one lot of ten the share is anything (seed stored warm, sown too
# deep, a packet mixed up), in one of thirty nothing comes. Common practice, no source.
MAY_BE_WRONG: Final = 0.1
MAY_BE_DEAD: Final = 0.03
_ANYTHING: Final = Belief(1.0, 1.0)
# The grid of speeds reaches so many standard deviations to either side: first in a few points, then
# in more between those that matter, until enough of them do.
_FAR: Final = 3.2
_COARSE, _FINE, _ENOUGH, _PASSES = 13, 21, 7, 4
_SMALL: Final = 1e-9
_LEAST: Final = 1e-300
_HIGHEST: Final = 690.0  # exp of more overflows
# A speed this much less likely than the best (as a logarithm) tells nothing.
_MATTERS: Final = 9.0
_ROOT_2_PI: Final = sqrt(2 * pi)


class Speed(NamedTuple):
    """How far along the way half of those that come are up: log-normal.

    Attributes:
        half: The median, in parts of the curve's days.
        sd: Of its logarithm; 0 where it is known.
        slope: Of the log-logistic of the seeds about it.
    """

    half: float
    sd: float
    slope: float


class Look(NamedTuple):
    """What was seen at one point of the way: how many had come by then in all."""

    way: float
    up: int


class DugUp(NamedTuple):
    """Seeds dug up at a point of the way: firm ones, and soft or missing ones."""

    way: float
    sound: int
    soft: int


class Span(NamedTuple):
    """A figure and the two between which it lies."""

    low: float
    best: float
    high: float


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
            if high is None and below >= 1 - tail - _SMALL:
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
            weight * (self.up + more) * _share(half, way, self.slope)
            for weight, more, half in zip(self.weights, self.more, self.halves, strict=True)
        )

    def band(self, ways: Sequence[float], level: float) -> list[Span]:
        """From the last look on, how many are up at points of the way: in the mean, and between.

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
        now, then = (_share(half, at, self.slope) for at in (self.way, way))
        return min(max((then - now) / (1 - now), 0.0), 1.0) if now < 1 - _SMALL else 1.0

    def way_of(self, share: float, level: float) -> Span:
        """Where on the way such a share of those that come is up, with its interval.

        Of thirty seedlings half are up a little before or after half of a thousand would be: the
        interval has that too. What had not come by the last look is not dated before it.
        """
        alive = 1 - self.chance_of_none
        plants = max(self.up + (self.expected_more / alive if alive > _SMALL else 0.0), 1.0)
        noise = 1 / (self.slope * sqrt(plants * share * (1 - share)))
        below, best, above = (self._log_half(chance) for chance in _ends(level))
        reach = _deviations(level) * noise
        odds = log(share / (1 - share)) / self.slope
        low = exp(odds + best - sqrt((best - below) ** 2 + reach**2))
        high = exp(odds + best + sqrt((above - best) ** 2 + reach**2))
        if self.up < share * self.total(level).low or not self.up:
            low = max(low, self.way)
        return Span(low, max(exp(odds + best), low), max(high, low))

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
        """Of those that still come, the share that does so by a point of the way."""
        now = self.now[place]
        then = _share(self.halves[place], way, self.slope)
        return min(max((then - now) / (1 - now), 0.0), 1.0) if now < 1 - _SMALL else 0.0


def _ends(level: float) -> tuple[float, float, float]:
    return (1 - level) / 2, 0.5, (1 + level) / 2


@lru_cache(maxsize=8)
def _deviations(level: float) -> float:
    """Standard deviations to either side that hold so much of a normal distribution."""
    low, high = 0.0, 10.0
    while high - low > _SMALL:
        middle = (low + high) / 2
        low, high = (middle, high) if erf(middle / sqrt(2)) < level else (low, middle)
    return high


def _share(half: float, way: float, slope: float) -> float:
    """Share of those that come that is up at a point of the way."""
    return 1 / (1 + (half / way) ** slope) if way > 0 else 0.0


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
    told = _told(seeds, looks, dug)
    parts = ((1 - may_be_wrong - may_be_dead, _tame(belief)), (may_be_wrong, _ANYTHING))
    shares = [(log(weight), one) for weight, one in parts if weight > 0]
    tried = _tried(speed, told, shares)
    dead = may_be_dead if not told.up and not told.sound else 0.0
    return _put_together(tried, dead, told, speed.slope)


def _tried(speed: Speed, told: "_Told", shares: Sequence[tuple[float, Belief]]) -> list["_Tried"]:
    """The speeds of the grid, laid finer where the belief lies until enough of them matter."""
    lates: _Lates = {}
    low, high, points = -_FAR, _FAR, _COARSE
    for _ in range(_PASSES):
        halves, step = _grid(speed, low, high, points)
        tried = [
            _Tried(half, _density(half, speed) * step, speed.slope, told, shares, lates)
            for half in halves
        ]
        most = max(one.log_chance for one in tried)
        matter = [place for place, one in enumerate(tried) if one.log_chance > most - _MATTERS]
        if speed.sd <= 0 or (points == _FINE and len(matter) >= _ENOUGH) or told.way <= 0:
            break
        low, high, points = low + (matter[0] - 1) * step, low + (matter[-1] + 1) * step, _FINE
    return tried


class _Told(NamedTuple):
    """What was seen, as the likelihood needs it: logarithms of the way, and how many came between.

    `came` has of each stretch its two ends (the first may be -inf) and how many came in it.
    """

    up: int
    missing: int
    sound: int
    soft: int
    came: tuple[tuple[float, float, int], ...]
    dug_at: tuple[tuple[float, int], ...]
    way: float


def _told(seeds: int, looks: Sequence[Look], dug: Sequence[DugUp]) -> _Told:
    up = looks[-1].up if looks else 0
    sound, soft = sum(one.sound for one in dug), sum(one.soft for one in dug)
    missing = seeds - up - sound - soft
    if missing < 0:
        raise ValueError(f"{seeds} seeds sown; got {up} up and {sound + soft} dug up")
    ends = (
        (_log(before.way), _log(look.way), look.up - before.up)
        for before, look in pairwise((Look(0.0, 0), *looks))
    )
    came = tuple(one for one in ends if one[2] > 0)
    dug_at = tuple((_log(one.way), one.sound) for one in dug if one.sound)
    return _Told(up, missing, sound, soft, came, dug_at, looks[-1].way if looks else 0.0)


def _log(way: float) -> float:
    return log(way) if way > 0 else -inf


def _tame(belief: Belief) -> Belief:
    """With two hills (a or b below 1) the sum would have two; the even start is as unsure."""
    return Belief(max(belief.a, 1.0), max(belief.b, 1.0))


def _grid(speed: Speed, low: float, high: float, points: int) -> tuple[list[float], float]:
    """Points of the way by which half may be up, and how many deviations lie between two."""
    if speed.sd <= 0:
        return [speed.half], 1.0
    step = (high - low) / (points - 1)
    return [speed.half * exp(speed.sd * (low + place * step)) for place in range(points)], step


def _density(half: float, speed: Speed) -> float:
    if speed.sd <= 0:
        return 1.0
    z = log(half / speed.half) / speed.sd
    return exp(-z * z / 2) / _ROOT_2_PI


# What was worked out already, by belief and share to come: before any look it is the same for all.
_Late = tuple[float, int, list[float]]
_Lates = dict[tuple[Belief, float], _Late]


class _Tried:
    """One speed: how likely it makes what was seen, and how many more would come.

    Attributes:
        half: The point of the way by which half are up.
        log_chance: Logarithm of prior times likelihood, the dead apart.
        now: Share of those that come that was up at the last look.
        sums: For each belief of the share its weight's logarithm, and of how many more the first
            number that has a chance and the chances from there on, unscaled.
    """

    __slots__ = ("half", "log_chance", "now", "sums")

    def __init__(
        self,
        half: float,
        prior: float,
        slope: float,
        told: _Told,
        shares: Sequence[tuple[float, Belief]],
        lates: _Lates,
    ) -> None:
        at = log(half)
        seen = log(max(prior, _LEAST))
        for before, then, came in told.came:
            seen += came * _log_between(slope * (at - before), slope * (at - then))
        for then, sound in told.dug_at:
            seen += sound * log(max(1 - _share(half, exp(then), slope), _LEAST))
        self.half, self.now = half, _share(half, told.way, slope)
        self.sums = [
            (
                seen + weight + _log_beta(told, belief),
                *_late_once(told, belief, 1 - self.now, lates),
            )
            for weight, belief in shares
        ]
        most = max(weight + scale for weight, scale, _, _ in self.sums)
        self.log_chance = most + log(
            sum(exp(weight + scale - most) * sum(row) for weight, scale, _, row in self.sums)
        )


def _log_between(early: float, late: float) -> float:
    """Logarithm of the share that comes between two points, each as slope × log(half / way)."""
    e2 = exp(min(late, _HIGHEST))
    if early > _HIGHEST:
        return -log(1 + e2)
    e1 = exp(early)
    return log(max((e1 - e2) / ((1 + e1) * (1 + e2)), _LEAST))


def _log_beta(told: _Told, belief: Belief) -> float:
    """The part of the sum over the share that no number of late ones changes."""
    a, b = belief
    return (
        lgamma(a + b)
        - lgamma(a)
        - lgamma(b)
        - lgamma(a + b + told.up + told.sound + told.soft + told.missing)
    )


def _late_once(told: _Told, belief: Belief, late: float, known: _Lates) -> _Late:
    if (belief, late) not in known:
        known[belief, late] = _late(told, belief, late)
    return known[belief, late]


def _late(told: _Told, belief: Belief, late: float) -> _Late:
    """How many of the missing are alive and late: chances in proportion to
    C(m, J) late^J B(a + J, b + m - J), from the first that counts.

    Returns:
        The logarithm of the scale, that first number, and the chances in that scale.
    """  # noqa: D205
    missing = told.missing
    a, b = belief.a + told.up + told.sound, belief.b + told.soft
    if late < _LEAST:
        return lgamma(a) + lgamma(b + missing), 0, [1.0]

    low, high = 0, missing
    while low < high:  # the chance of one more over that of so many falls all the way
        at = (low + high) // 2
        if (missing - at) / (at + 1) * late * (a + at) / (b + missing - at - 1) > 1:
            low = at + 1
        else:
            high = at
    scale = (
        lgamma(missing + 1) - lgamma(low + 1) - lgamma(missing - low + 1) + low * log(late)
        + lgamma(a + low) + lgamma(b + missing - low)
    )  # fmt: skip
    up, down = [1.0], [1.0]
    chance, at = 1.0, low
    while at < missing and chance > _SMALL:
        chance *= (missing - at) / (at + 1) * late * (a + at) / (b + missing - at - 1)
        up.append(chance)
        at += 1
    chance, at = 1.0, low
    while at > 0 and chance > _SMALL:
        at -= 1
        chance *= (at + 1) / (missing - at) / late / (a + at) * (b + missing - at - 1)
        down.append(chance)
    return scale, at, [*down[:0:-1], *up]


def _put_together(
    tried: Sequence[_Tried], may_be_dead: float, told: _Told, slope: float
) -> ComingUp:
    """The beliefs of all speeds as one."""
    most = max(one.log_chance for one in tried)
    alive = [exp(one.log_chance - most) for one in tried]
    whole = sum(alive)
    dead = exp(log(may_be_dead) - most) if may_be_dead and most > -_HIGHEST else 0.0
    if may_be_dead and most <= -_HIGHEST:
        whole, dead = 0.0, 1.0
    chances = [0.0] * (told.missing + 1)
    chances[0] = dead / (whole + dead)
    lives, more = whole / (whole + dead), []
    for one, weight in zip(tried, alive, strict=True):
        mean = 0.0
        for part, scale, first, row in one.sums:
            times = exp(part + scale - most) / (whole + dead) if lives else 0.0
            for number, chance in enumerate(row, first):
                chances[number] += times * chance
                mean += times * chance * number
        more.append(mean / (weight / whole) if weight > _LEAST and lives else 0.0)
    return ComingUp(
        told.up,
        tuple(chances),
        tuple(one.half for one in tried),
        tuple(weight / sum(alive) for weight in alive),
        tuple(more),
        tuple(one.now for one in tried),
        slope,
        told.way,
    )
