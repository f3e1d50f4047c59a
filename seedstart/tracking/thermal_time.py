"""Warmth added up: the integral of a crop's rate of emergence at one place, over time."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise
from math import inf
from typing import Final, NamedTuple

from seedstart.tracking.medium import LAST_HOLDS_S, LONGEST_GAP_S, SPEAKS_S, MeasuredC

DAY_S: Final = 86_400.0


class Gathered(NamedTuple):
    """Gathered rate at one place for one crop, in parts of an emergence: straight between points.

    Attributes:
        at_s: The points' times, rising; one at least.
        gathered: The integral from the first point up to each, in days × 1/days.
        before: Rate before the first point, 1/days.
        after: Rate after the last.
    """

    at_s: list[float]
    gathered: list[float]
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


def _steps(
    measured: MeasuredC, first: int, pairs: Iterable[tuple[int, int]]
) -> Iterable[tuple[int, int]]:
    """Numbers at both ends of the time before each reading; one by hand holds up to the next."""
    if not measured.by_hand:
        return pairs  # of a logger there may be half a million
    at_s = measured.at_s
    return [
        (before, before)
        if place and at_s[place] - at_s[place - 1] > LONGEST_GAP_S
        else (before, on)
        for place, (before, on) in enumerate(pairs, first)
    ]


class Course(NamedTuple):
    """What holds at one place from when to when, whatever the crop: temperatures by number.

    The first numbers stand for what is counted with where nothing was measured; then come the
    temperatures that were measured.

    Attributes:
        at_s: Times at which something changes, seconds of the epoch, rising; one at least.
        ends: Of each, the numbers at the beginning and the end of the time that it ends.
        after: The number after the last.
        stand_ins: How many numbers come before those of the temperatures.
        c: The temperatures, °C, as they came.
        lasting: How many of the first points stay whatever is measured later.
        rests_on: The stand-ins' numbers among what holds up to there.
    """

    at_s: list[float]
    ends: list[tuple[int, int]]
    after: int
    stand_ins: int
    c: Sequence[float] = ()
    lasting: int = 0
    rests_on: frozenset[int] = frozenset()

    @classmethod
    def expected_alone(cls, since_s: Sequence[float]) -> "Course":
        """Where nothing was measured.

        Args:
            since_s: From when on each number is counted with, the first from the beginning.
        """
        last = len(since_s) - 1
        ends = [(number, number) for number in range(last)]
        return cls(list(since_s[1:]) or [0.0], ends or [(0, 0)], last, last + 1)

    def over(
        self,
        measured: MeasuredC,
        stretches: Sequence[tuple[int, int]],
        before: "Course | None" = None,
        begun: tuple[int, int] = (0, -1),
    ) -> "Course":
        """This course overlaid with readings: up to half a gap to either side of a run.

        Args:
            measured: The readings.
            stretches: First and last place of each run of them.
            before: What came of the same stand-ins and the first of the readings. It is gone on
                from and used up: to copy half a million points for each one more takes too long.
            begun: The last run of those.
        """
        c = list(before.c if before else self.c)
        number = {one: n for n, one in enumerate(c, self.stand_ins)}
        at_s: list[float] = before.at_s if before else []
        ends: list[tuple[int, int]] = before.ends if before else []
        if before:
            del at_s[before.lasting :], ends[before.lasting :]
        rests_on = set(before.rests_on) if before else set[int]()
        beyond, passed, lasting = [*self.ends, (self.after, self.after)], 0, 0
        for first, last in stretches:
            start = first
            if before is not None:
                if first < begun[0]:
                    continue
                start = begun[1] + 1 if first == begun[0] else first
            if start == first:
                begin_s = measured.at_s[first] - SPEAKS_S
                stop = bisect_left(self.at_s, begin_s)
                at_s += (*self.at_s[passed:stop], begin_s)
                ends += beyond[passed : stop + 1]
                rests_on.update(n for pair in beyond[passed : stop + 1] for n in pair)
            read = []
            for one in measured.c[start : last + 1]:
                if one not in number:
                    number[one] = self.stand_ins + len(c)
                    c.append(one)
                read.append(number[one])
            came = number[measured.c[start - 1 if start > first else start]]
            at_s += measured.at_s[start : last + 1]
            ends += _steps(measured, start, pairwise([came, *read]))
            lasting = len(at_s)
            end_s = self._holds_till(measured, last)
            at_s.append(end_s)
            ends.append((number[measured.c[last]],) * 2)
            passed = bisect_right(self.at_s, end_s)
        at_s += self.at_s[passed:]
        ends += self.ends[passed:]
        return Course(
            at_s, ends, self.after, self.stand_ins, tuple(c), lasting, frozenset(rests_on)
        )

    def _holds_till(self, measured: MeasuredC, last: int) -> float:
        """How long a run's last reading holds: one by hand a day, or until the setting changes."""
        at_s = measured.at_s[last]
        if at_s not in measured.by_hand:
            return at_s + SPEAKS_S
        changes = self.at_s[bisect_right(self.at_s, at_s) :]
        return max(min([at_s + LAST_HOLDS_S, *changes[:1]]), at_s + SPEAKS_S)

    def same_until(self, other: "Course", at_s: float) -> bool:
        """Whether two courses of stand-ins hold the same up to a moment."""
        stop = bisect_left(self.at_s, at_s)
        mine, its = ([*one.ends, (one.after, one.after)][: stop + 1] for one in (self, other))
        return (
            self.stand_ins == other.stand_ins
            and bisect_left(other.at_s, at_s) == stop
            and list(self.at_s[:stop]) == list(other.at_s[:stop])
            and mine == its
        )

    def gathered(self, per_day: Sequence[float], begun: list[float] | None = None) -> Gathered:
        """What a crop gathers along it: trapezoids.

        Args:
            per_day: Its rate of emergence by number, 1/days.
            begun: What it gathered up to each of the first points, where that is known; used up.
        """
        upto = begun or [0.0]
        known = len(upto) - 1
        parts = [
            (until_s - since_s) / DAY_S * (per_day[begin] + per_day[end]) / 2
            for (since_s, until_s), (begin, end) in zip(
                pairwise(self.at_s[known:]), self.ends[known + 1 :], strict=True
            )
        ]
        upto += accumulate(parts, initial=upto.pop())
        return Gathered(self.at_s, upto, per_day[self.ends[0][0]], per_day[self.after])
