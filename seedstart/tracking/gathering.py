"""Warmth added up: the integral of a crop's rate of emergence at one place, over time."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate, islice, pairwise
from math import inf
from typing import Final, NamedTuple

from seedstart.tracking.medium import SPEAKS_S, MeasuredC, runs

DAY_S: Final = 86_400.0


class Gathered(NamedTuple):
    """Gathered rate at one place for one crop, in parts of an emergence: straight between points.

    Attributes:
        at_s: The points' times, rising; one at least.
        gathered: The integral from the first point up to each, in days × 1/days.
        before: Rate before the first point, 1/days.
        after: Rate after the last.
    """

    at_s: Sequence[float]
    gathered: Sequence[float]
    before: float
    after: float

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


class Course(NamedTuple):
    """What holds at one place from when to when, whatever the crop: temperatures by number.

    The first numbers stand for what is counted with where nothing was measured; then come the
    temperatures that were measured.

    Attributes:
        at_s: Times at which something changes, seconds of the epoch, rising; one at least.
        ends: Of each, the numbers at the beginning and the end of the time that it ends.
        after: The number after the last.
        stand_ins: How many numbers come before those of the temperatures.
        c: The temperatures, °C.
    """

    at_s: Sequence[float]
    ends: Sequence[tuple[int, int]]
    after: int
    stand_ins: int
    c: Sequence[float] = ()

    @classmethod
    def expected_alone(cls, since_s: Sequence[float]) -> "Course":
        """Where nothing was measured.

        Args:
            since_s: From when on each number is counted with, the first from the beginning.
        """
        last = len(since_s) - 1
        ends = [(number, number) for number in range(last)]
        return cls(since_s[1:] or (0.0,), ends or [(0, 0)], last, last + 1)

    def over(self, measured: MeasuredC) -> "Course":
        """The same where readings speak otherwise: up to half a gap to either side of a run."""
        distinct = sorted(set(measured.c))  # loggers step: few temperatures, many readings
        number = {c: n for n, c in enumerate(distinct, self.stand_ins + len(self.c))}
        at_s: list[float] = []
        ends: list[tuple[int, int]] = []
        beyond, passed = [*self.ends, (self.after, self.after)], 0
        for first, last in runs(measured.at_s):
            times = measured.at_s[first : last + 1]
            read = [number[c] for c in measured.c[first : last + 1]]
            begin_s, end_s = times[0] - SPEAKS_S, times[-1] + SPEAKS_S
            stop = bisect_left(self.at_s, begin_s)
            at_s += (*self.at_s[passed:stop], begin_s, *times, end_s)
            ends += beyond[passed : stop + 1]
            ends += zip([read[0], *read], [*read, read[-1]], strict=True)
            passed = bisect_right(self.at_s, end_s)
        at_s += self.at_s[passed:]
        ends += self.ends[passed:]
        return Course(at_s, ends, self.after, self.stand_ins, (*self.c, *distinct))

    def gathered(self, per_day: Sequence[float]) -> Gathered:
        """What a crop gathers along it: trapezoids.

        Args:
            per_day: Its rate of emergence by number, 1/days.
        """
        parts = [
            (until_s - since_s) / DAY_S * (per_day[begin] + per_day[end]) / 2
            for (since_s, until_s), (begin, end) in zip(
                pairwise(self.at_s), islice(self.ends, 1, None), strict=True
            )
        ]
        upto = list(accumulate(parts, initial=0.0))
        return Gathered(self.at_s, upto, per_day[self.ends[0][0]], per_day[self.after])
