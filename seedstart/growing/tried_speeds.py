"""How likely each speed makes what was seen of a sowing, and how many more it lets come.

The likelihood of counts is multinomial over the stretches of the way between them; over the share
it is summed exactly by its beta belief, over the speed on a grid. `coming_up` puts them together.
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, pairwise, repeat
from math import exp, expm1, inf, lgamma, log, log1p, pi, sqrt
from operator import mul
from typing import Final, NamedTuple

from seedstart.growing.germination_belief import Belief

# The grid of speeds reaches so many standard deviations to either side: first in a few points, then
# in more between those that matter, until enough of them do.
_FAR: Final = 3.2
_COARSE, _FINE, _ENOUGH, _PASSES = 11, 17, 4, 4
SMALL: Final = 1e-9
_NO_CHANCE: Final = 1e-7  # of a number beside the likeliest one
LEAST: Final = 1e-300
HIGHEST: Final = 690.0  # exp of more overflows
# Of so few missing seeds every number is reckoned with: no chance of theirs is too small for it.
_FEW: Final = 40
_LARGE: Final = 40.0  # from here on log(1 + exp(x)) is x
# A speed this much less likely than the best (as a logarithm) adds nothing.
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


def share_up(half: float, way: float, slope: float) -> float:
    """Share of those that come that is up at a point of the way."""
    return 1 / (1 + (half / way) ** slope) if way > 0 else 0.0


def tried_speeds(
    speed: Speed, observed: "Observed", shares: Sequence[tuple[float, Belief]]
) -> list["Tried"]:
    """The speeds of the grid, laid finer where the belief lies until enough of them matter.

    How many more each lets come is worked out for those of the last grid alone.
    """
    seen, lates = _Seen(observed, speed.slope), _Lates(observed, shares)
    low, high, points = -_FAR, _FAR, _COARSE
    for _ in range(_PASSES):
        grid = _grid(speed, low, high, points)
        tried = [(at, prior + seen.log_chance(at), seen.late(at)) for at, prior in grid]
        found = [weight + lates.log_chance(late) for _, weight, late in tried]
        least = max(found) - _MATTERS
        matter = [place for place, weight in enumerate(found) if weight > least]
        if speed.sd <= 0 or (points == _FINE and len(matter) >= _ENOUGH) or observed.way <= 0:
            break
        step = (high - low) / (points - 1)
        low, high, points = low + (matter[0] - 1) * step, low + (matter[-1] + 1) * step, _FINE
    return [
        Tried(exp(at), whole, 1 - late, lates.sums(late, weight))
        for (at, weight, late), whole in zip(tried, found, strict=True)
    ]


class Observed(NamedTuple):
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


def observed_in(seeds: int, looks: Sequence[Look], dug: Sequence[DugUp]) -> Observed:
    """What was seen, put in order.

    Raises:
        ValueError: More came up and were dug up than were sown.
    """
    up = looks[-1].up if looks else 0
    sound, soft = sum(digging.sound for digging in dug), sum(digging.soft for digging in dug)
    missing = seeds - up - sound - soft
    if missing < 0:
        raise ValueError(f"{seeds} seeds sown; got {up} up and {sound + soft} dug up")
    ends = (
        (_log(before.way), _log(look.way), look.up - before.up)
        for before, look in pairwise((Look(0.0, 0), *looks))
    )
    came = tuple(one for one in ends if one[2] > 0)
    dug_at = tuple((_log(digging.way), digging.sound) for digging in dug if digging.sound)
    return Observed(up, missing, sound, soft, came, dug_at, looks[-1].way if looks else 0.0)


def _log(way: float) -> float:
    return log(way) if way > 0 else -inf


def _grid(speed: Speed, low: float, high: float, points: int) -> list[tuple[float, float]]:
    """Logarithms of points of the way by which half may be up, and of the chance of each."""
    middle = log(speed.half)
    if speed.sd <= 0:
        return [(middle, 0.0)]
    step = (high - low) / (points - 1)
    every, whole = [low + place * step for place in range(points)], log(step / _ROOT_2_PI)
    return [(middle + speed.sd * z, whole - z * z / 2) for z in every]


class Tried(NamedTuple):
    """One speed: how likely it makes what was seen, and how many more would come.

    Attributes:
        half: The point of the way by which half are up.
        log_chance: Logarithm of prior times likelihood, the dead apart.
        now: Share of those that come that was up at the last look.
        sums: In one part or more: the logarithm of its weight and scale, and of how many more the
            first number that has a chance and the chances from there on, in that scale.
    """

    half: float
    log_chance: float
    now: float
    sums: list[tuple[float, int, list[float]]]


class _Seen:
    """The chance of what came in each stretch, of those that came, and of the sound seed.

    Between two points of the way there come, of speed h and slope s, with e = (h / way)^s,
    (e1 - e2) / (1 + e1) / (1 + e2): the first part hangs on h as h^s alone, so that for each of the
    thirty speeds of a grid one sum over the points is left.
    """

    def __init__(self, observed: Observed, slope: float) -> None:
        self._slope, self._observed, self._last = slope, observed, _log(observed.way)
        self._always, self._steep = 0.0, 0.0
        points: dict[float, int] = {}
        for begins, ends, came in observed.came:
            if begins > -inf:
                narrow = -expm1(slope * (begins - ends))
                self._always += came * (log(max(narrow, LEAST)) - slope * begins)
                self._steep += came * slope
                points[begins] = points.get(begins, 0) + came
            if ends > -inf:
                points[ends] = points.get(ends, 0) + came
            else:  # up before any way was gone: as little likely at every speed
                self._always -= came * HIGHEST
        self._points = [(slope * point, came) for point, came in points.items()]

    def log_chance(self, at: float) -> float:
        """Its logarithm where half are up at the point of the way with that logarithm."""
        here = self._slope * at
        seen = self._always + self._steep * at
        for point, came in self._points:
            e = here - point
            seen -= came * (log1p(exp(e)) if e < _LARGE else e)
        for then, sound in self._observed.dug_at:
            seen += sound * log(max(self._late(at, then), LEAST))
        return seen

    def late(self, at: float) -> float:
        """Share of those that come that was not up at the last look."""
        return self._late(at, self._last)

    def _late(self, at: float, then: float) -> float:
        e = self._slope * (at - then)
        return 1 / (1 + exp(-e)) if e > -_LARGE else exp(max(e, -HIGHEST))


class _Lates:
    """How many of the missing are alive and late, by all beliefs of the share together."""

    def __init__(self, observed: Observed, shares: Sequence[tuple[float, Belief]]) -> None:
        self._missing = observed.missing
        self._each = [_Late(observed, belief, weight) for weight, belief in shares]
        self._where_all_are: list[float] | None = None
        if observed.missing <= _FEW:
            logs = [late.log_chances() for late in self._each]
            self._scale = max(max(row) for row in logs)
            rows = [[exp(one - self._scale) for one in row] for row in logs]
            self._where_all_are = [sum(column) for column in zip(*rows, strict=True)]

    def log_chance(self, late: float) -> float:
        """Logarithm of the chance that so many are missing, where such a share is late."""
        if self._where_all_are is None:
            return _log_sum([(scale, sum(row)) for scale, _, row in self.sums(late, 0.0)])
        whole = 0.0
        for one in reversed(self._where_all_are):
            whole = whole * late + one
        return self._scale + log(whole)

    def sums(self, late: float, seen: float) -> list[tuple[float, int, list[float]]]:
        """What `Tried.sums` has.

        Args:
            late: Share of those that come that is not up.
            seen: Logarithm of the chance of all the rest that was seen.
        """
        if self._where_all_are is None:
            every = (one.chances(late) for one in self._each)
            return [(seen + scale, first, row) for scale, first, row in every]
        powers = accumulate(repeat(late, self._missing), mul, initial=1.0)
        return [(seen + self._scale, 0, list(map(mul, self._where_all_are, powers)))]


def _log_sum(parts: Sequence[tuple[float, float]]) -> float:
    """Logarithm of a sum of parts, each a logarithm and what it is to be multiplied by."""
    most = max(scale for scale, _ in parts)
    return most + log(sum(exp(scale - most) * times for scale, times in parts))


@lru_cache(maxsize=_FEW + 1)
def _ways_of(missing: int) -> tuple[float, ...]:
    """-log(number! rest!) of each number of the few missing: every belief needs it."""
    logs = [lgamma(number + 1) for number in range(missing + 1)]
    return tuple(-one - rest for one, rest in zip(logs, reversed(logs), strict=True))


class _Late:
    """How many more come by one belief: in proportion to C(m, J) late^J B(a + J, b + m - J)."""

    def __init__(self, observed: Observed, belief: Belief, weight: float) -> None:
        a, b = belief
        self._missing = observed.missing
        self._a, self._b = a + observed.up + observed.sound, b + observed.soft
        seeds = observed.up + observed.sound + observed.soft + observed.missing
        self._weight = weight + lgamma(a + b) - lgamma(a) - lgamma(b) - lgamma(a + b + seeds)
        self._weight += lgamma(observed.missing + 1)

    def log_chance(self, number: int) -> float:
        """Logarithm of the chance of so many, where all are late."""
        rest = self._missing - number
        ways = -lgamma(number + 1) - lgamma(rest + 1)
        return self._weight + ways + lgamma(self._a + number) + lgamma(self._b + rest)

    def log_chances(self) -> list[float]:
        """Logarithms of the chance of every number, from none to all that are missing."""
        weight, a, b = self._weight, self._a, self._b + self._missing
        return [
            weight + ways + lgamma(a + number) + lgamma(b - number)
            for number, ways in enumerate(_ways_of(self._missing))
        ]

    def chances(self, late: float) -> tuple[float, int, list[float]]:
        """Chances from the first that matters on: where many seeds are missing, few numbers do."""
        if late < LEAST:
            return self.log_chance(0), 0, [1.0]
        missing = self._missing
        low, high = 0, missing
        while low < high:  # the chance of one more over that of so many falls all the way
            at = (low + high) // 2
            if self._ratio(at) * late > 1:
                low = at + 1
            else:
                high = at
        up, down = [1.0], []
        chance, at = 1.0, low
        while at < missing and chance > _NO_CHANCE:
            chance *= self._ratio(at) * late
            up.append(chance)
            at += 1
        chance, at = 1.0, low
        while at > 0 and chance > _NO_CHANCE:
            at -= 1
            chance /= self._ratio(at) * late
            down.append(chance)
        return self.log_chance(low) + low * log(late), at, down[::-1] + up

    def _ratio(self, at: int) -> float:
        """The chance of one more over that of so many, where all are late."""
        rest = self._missing - at
        return rest / (at + 1) * (self._a + at) / (self._b + rest - 1)
