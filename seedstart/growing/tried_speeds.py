"""How likely each speed makes what was seen of a sowing, and how many more it lets come.

The likelihood of counts is multinomial over the stretches of the way between them; over the share
it is summed exactly by its beta belief, over the speed on a grid. `coming_up` puts them together.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import exp, inf, lgamma, log, pi, sqrt
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


def share_up(half: float, way: float, slope: float) -> float:
    """Share of those that come that is up at a point of the way."""
    return 1 / (1 + (half / way) ** slope) if way > 0 else 0.0


def tried_speeds(
    speed: Speed, told: "Told", shares: Sequence[tuple[float, Belief]]
) -> list["Tried"]:
    """The speeds of the grid, laid finer where the belief lies until enough of them matter."""
    lates: _Lates = {}
    low, high, points = -_FAR, _FAR, _COARSE
    for _ in range(_PASSES):
        halves, step = _grid(speed, low, high, points)
        tried = [
            Tried(half, _density(half, speed) * step, speed.slope, told, shares, lates)
            for half in halves
        ]
        most = max(one.log_chance for one in tried)
        matter = [place for place, one in enumerate(tried) if one.log_chance > most - _MATTERS]
        if speed.sd <= 0 or (points == _FINE and len(matter) >= _ENOUGH) or told.way <= 0:
            break
        low, high, points = low + (matter[0] - 1) * step, low + (matter[-1] + 1) * step, _FINE
    return tried


class Told(NamedTuple):
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


def told_of(seeds: int, looks: Sequence[Look], dug: Sequence[DugUp]) -> Told:
    """What was seen, put in order.

    Raises:
        ValueError: More came up and were dug up than were sown.
    """
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
    return Told(up, missing, sound, soft, came, dug_at, looks[-1].way if looks else 0.0)


def _log(way: float) -> float:
    return log(way) if way > 0 else -inf


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


class Tried:
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
        told: Told,
        shares: Sequence[tuple[float, Belief]],
        lates: _Lates,
    ) -> None:
        at = log(half)
        seen = log(max(prior, LEAST))
        for before, then, came in told.came:
            seen += came * _log_between(slope * (at - before), slope * (at - then))
        for then, sound in told.dug_at:
            seen += sound * log(max(1 - share_up(half, exp(then), slope), LEAST))
        self.half, self.now = half, share_up(half, told.way, slope)
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
    e2 = exp(min(late, HIGHEST))
    if early > HIGHEST:
        return -log(1 + e2)
    e1 = exp(early)
    return log(max((e1 - e2) / ((1 + e1) * (1 + e2)), LEAST))


def _log_beta(told: Told, belief: Belief) -> float:
    """The part of the sum over the share that no number of late ones changes."""
    a, b = belief
    return (
        lgamma(a + b)
        - lgamma(a)
        - lgamma(b)
        - lgamma(a + b + told.up + told.sound + told.soft + told.missing)
    )


def _late_once(told: Told, belief: Belief, late: float, known: _Lates) -> _Late:
    if (belief, late) not in known:
        known[belief, late] = _late(told, belief, late)
    return known[belief, late]


def _late(told: Told, belief: Belief, late: float) -> _Late:
    """How many of the missing are alive and late: chances in proportion to
    C(m, J) late^J B(a + J, b + m - J), from the first that counts.

    Returns:
        The logarithm of the scale, that first number, and the chances in that scale.
    """  # noqa: D205
    missing = told.missing
    a, b = belief.a + told.up + told.sound, belief.b + told.soft
    if late < LEAST:
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
    while at < missing and chance > _NO_CHANCE:
        chance *= (missing - at) / (at + 1) * late * (a + at) / (b + missing - at - 1)
        up.append(chance)
        at += 1
    chance, at = 1.0, low
    while at > 0 and chance > _NO_CHANCE:
        at -= 1
        chance *= (at + 1) / (missing - at) / late / (a + at) * (b + missing - at - 1)
        down.append(chance)
    return scale, at, [*down[:0:-1], *up]
