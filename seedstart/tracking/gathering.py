"""Warmth added up: the integral of a crop's rate of emergence at one place, over time."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from itertools import accumulate, pairwise
from math import inf
from typing import Final, NamedTuple

from seedstart.tracking.medium import SPEAKS_S, Measured, runs

DAY_S: Final = 86_400.0


class StandsIn(NamedTuple):
    """What is counted with from one moment on, where nothing was measured.

    Attributes:
        since_s: From when on, seconds of the epoch; -inf from the beginning.
        rate: Rate of emergence, 1/days.
        c: The temperature, °C.
    """

    since_s: float
    rate: float
    c: float


class Gathered(NamedTuple):
    """Gathered rate at one place for one crop, in parts of an emergence: straight between points.

    Attributes:
        at_s: The points' times, rising; one at least.
        gathered: The integral from the first point up to each, in days × 1/days.
        before: Rate before the first point, 1/days.
        after: Rate after the last.
        after_c: The temperature that goes on after it, °C.
    """

    at_s: Sequence[float]
    gathered: Sequence[float]
    before: float
    after: float
    after_c: float

    def upto(self, at_s: float) -> float:
        """Gathered from the first point up to a moment; negative before it."""
        if at_s <= self.at_s[0]:
            return (at_s - self.at_s[0]) / DAY_S * self.before
        if at_s >= self.at_s[-1]:
            return self.gathered[-1] + (at_s - self.at_s[-1]) / DAY_S * self.after
        right = bisect_right(self.at_s, at_s)
        t0, t1 = self.at_s[right - 1], self.at_s[right]
        g0, g1 = self.gathered[right - 1], self.gathered[right]
        return g0 + (g1 - g0) * (at_s - t0) / (t1 - t0)

    def integral(self, from_s: float, to_s: float) -> float:
        """Gathered between two moments; infinite ends are not asked for."""
        return self.upto(to_s) - self.upto(from_s) if to_s > from_s else 0.0

    def when(self, from_s: float, amount: float) -> float:
        """The moment at which `amount` more has been gathered; infinite where it never is."""
        goal = self.upto(from_s) + amount
        if goal >= self.gathered[-1]:
            rest = goal - self.gathered[-1]
            return self.at_s[-1] + rest / self.after * DAY_S if self.after > 0 else inf
        if goal < 0:
            return self.at_s[0] + goal / self.before * DAY_S if self.before > 0 else self.at_s[0]
        right = bisect_right(self.gathered, goal)
        t0, t1 = self.at_s[right - 1], self.at_s[right]
        g0, g1 = self.gathered[right - 1], self.gathered[right]
        return t0 + (t1 - t0) * (goal - g0) / (g1 - g0)

    def over(self, own: "Sequence[tuple[Sequence[float], Sequence[float]]]") -> "Gathered":
        """The same with stretches in which something else was gathered.

        Args:
            own: Of each stretch, in order, its points' times and what was gathered up to each.
        """
        at_s: list[float] = []
        gathered: list[float] = []
        shift, left = 0.0, 0
        for times, got in own:
            stop = bisect_left(self.at_s, times[0])
            at_s += self.at_s[left:stop]
            gathered += [one + shift for one in self.gathered[left:stop]]
            start = self.upto(times[0]) + shift
            at_s += times
            gathered += [start + one for one in got]
            shift = gathered[-1] - self.upto(times[-1])
            left = bisect_right(self.at_s, times[-1])
        at_s += self.at_s[left:]
        gathered += [one + shift for one in self.gathered[left:]]
        nought = gathered[0]
        return self._replace(at_s=at_s, gathered=[one - nought for one in gathered])


def stretches(
    measured: Measured, rate: Callable[[float], float]
) -> list[tuple[list[float], list[float]]]:
    """What was gathered while readings speak: trapezoids, and half a gap to either side of a run.

    Returns:
        Of each run of readings its points' times, and what was gathered up to each.
    """
    found = []
    known = {c: rate(c) for c in set(measured.c)}  # loggers step: few values, many readings
    for first, last in runs(measured.at_s):
        times = measured.at_s[first : last + 1]
        rates = [known[c] for c in measured.c[first : last + 1]]
        parts = [
            (until - since) / DAY_S * (rate_before + rate_after) / 2
            for (since, until), (rate_before, rate_after) in zip(
                pairwise(times), pairwise(rates), strict=True
            )
        ]
        ends = SPEAKS_S / DAY_S * rates[0], SPEAKS_S / DAY_S * rates[-1]
        gathered = [0.0, *accumulate(parts, initial=ends[0])]
        gathered.append(gathered[-1] + ends[1])
        found.append(([times[0] - SPEAKS_S, *times, times[-1] + SPEAKS_S], gathered))
    return found


def expected_alone(stands_in: Sequence[StandsIn]) -> Gathered:
    """What is gathered where nothing was measured.

    Args:
        stands_in: What is counted with, the first from the beginning on.
    """
    at_s, gathered = [one.since_s for one in stands_in[1:]] or [0.0], [0.0]
    for before, one in pairwise(stands_in[1:]):
        days = (one.since_s - before.since_s) / DAY_S
        gathered.append(gathered[-1] + days * before.rate)
    last = stands_in[-1]
    return Gathered(at_s, gathered, stands_in[0].rate, last.rate, last.c)
