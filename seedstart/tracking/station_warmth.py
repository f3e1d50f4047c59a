"""How warm one station was and is expected to be: what was measured, and what stands in for it."""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, tzinfo
from functools import cached_property
from itertools import accumulate
from math import inf
from typing import Final, NamedTuple

from seedstart.growing.emergence import RateCurve
from seedstart.tracking.medium import (
    LONGEST_GAP_S,
    SPEAKS_S,
    Expectation,
    MeasuredC,
    runs,
    spoken_of,
)
from seedstart.tracking.thermal_time import DAY_S, Course
from seedstart.units import Temperatures, Units, show_temperature

# After the last reading the mean of so many days goes on,
_LAST_DAYS: Final = 3.0
# if so much of them was measured without a gap: day and night differ. Common practice, no source.
_LEAST_DAYS: Final = 1.0
_LEAST_BY_HAND_DAYS: Final = 0.75
# A heated medium that is read by so much colder than is expected of it, twice and over three hours,
# is taken to be heated no longer. Common practice, no source.
NO_LONGER_HEATS_C: Final = 4.0
_LOOKED_BACK_DAYS: Final = 14.0
_LAST_DAYS_IN_WORDS: Final = "its average of the last three days"


class LastDays(NamedTuple):
    """The last days of readings under one setting, whose mean goes on.

    Attributes:
        first: Place of the first reading.
        last: Place of the last.
        from_s: From when on their mean stands in, seconds of the epoch.
        fell: Whether they are the days, or hours, since a mat no longer heats.
    """

    first: int
    last: int
    from_s: float
    fell: bool = False

    def times(self, c: Sequence[float]) -> dict[float, int]:
        """How often each temperature was read in these days: few differ, every crop asks."""
        return Counter(c[self.first : self.last + 1])


class StationWarmth:
    """What is known of one station's medium by some moment.

    Attributes:
        name: The station; None for nowhere in particular.
        measured: Its readings.
        expected: What is expected of it, one after the other.
        stretches: First and last place of each run of them without a gap.
        spoken: Begin and end of each time of which its readings speak.
        course: What holds from when to when.
        mark: Tells it from another.
        goes_on_from: The mark of the one from whose course its own goes on; None for none.
        shared_points: How many points of the course are that one's.
        shared_rests_on: The stand-ins' numbers among what holds up to there.
        air_measured: Whether the air there was measured.
    """

    def __init__(
        self,
        name: str | None,
        measured: MeasuredC,
        expected: tuple[Expectation, ...],
        *,
        air_measured: bool = False,
        heats: bool = False,
        before: "StationWarmth | None" = None,
    ) -> None:
        """Find the last days of readings under each setting.

        Args:
            name: The station's.
            measured: Its readings.
            expected: What is expected of it.
            air_measured: Whether the air there was measured.
            heats: Whether a mat or thermostat holds the medium there.
            before: What was known of it before the last of these readings came.
        """
        since = [
            expectation.since.timestamp() if expectation.since else -inf for expectation in expected
        ]
        measured = measured.after_changes(since)
        self.name, self.measured, self.expected = name, measured, expected
        self.air_measured = air_measured
        if before is not None and not measured.goes_on_from(before.measured):
            before = None
        known = before.stretches if before is not None else []
        begun = known[-1] if known else (0, 0)
        by_hand = measured.by_hand
        self.stretches: list[tuple[int, int]] = [*known[:-1], *runs(measured.at_s, begun, by_hand)]
        self.spoken = spoken_of(measured, self.stretches)
        self._settings = list(zip(since, [*since[1:], inf], strict=True))
        gapless_s = _Gapless(measured, self.stretches)
        self._last_days = [
            _last_days(measured, gapless_s, since_s, until_s, low_c=_low_c(one, heats=heats))
            if one.medium is not None
            else _all_that_is_known(measured, since_s, until_s)
            for one, (since_s, until_s) in zip(expected, self._settings, strict=True)
        ]
        self._alone = Course.expected_alone(list(self._since()))
        if before is not None:
            begin_s = measured.at_s[begun[0]] - SPEAKS_S
            if not self._alone.same_until(before._alone, begin_s):  # noqa: SLF001 - its own kind
                before = None
        shared: Course | None = before.course if before is not None else None
        # Which one its course goes on from; the mark alone, so that that one need not be kept.
        self.mark, self.goes_on_from = object(), before.mark if before is not None else None
        self.shared_points = shared.lasting if shared else 0
        self.shared_rests_on = shared.rests_on if shared else frozenset[int]()
        self.course: Course = self._alone.over(measured, self.stretches, shared, begun)

    def _since(self) -> Iterator[float]:
        """When each expectation begins to count, seconds of the epoch."""
        for (since_s, _), days in zip(self._settings, self._last_days, strict=True):
            yield since_s
            if days is not None:
                yield days.from_s

    def goes_on_c(self, tray_setting: Temperatures) -> float:
        """The temperature that is counted with from now on, °C."""
        if self._last_mean_c is None:
            return self.expected[-1].counted_with(tray_setting).mean_c
        return self._last_mean_c

    @cached_property
    def _last_mean_c(self) -> float | None:
        """The mean of the last days, which goes on; kept, since every sowing there asks for it."""
        times = self._times_read[-1]
        return None if times is None else _mean(times, {c: c for c in times})

    @cached_property
    def _times_read(self) -> list[dict[float, int] | None]:
        return [days and days.times(self.measured.c) for days in self._last_days]

    def per_day(
        self, curve: RateCurve, tray_setting: Temperatures, begun: Sequence[float] = ()
    ) -> list[float]:
        """A crop's rate of emergence by the numbers of the course, 1/days.

        Args:
            curve: The crop's.
            tray_setting: Stands in where the station's temperature is not known at all.
            begun: The same of the one from whose course its own goes on.
        """
        measured = list(begun[self.course.stand_ins :])
        measured += map(curve.rate, self.course.c[len(measured) :])
        known = dict(zip(self.course.c, measured, strict=True))
        found = []
        for one, times in zip(self.expected, self._times_read, strict=True):
            found.append(curve.mean_rate(one.counted_with(tray_setting)))
            if times is not None:
                found.append(_mean(times, known))
        return found + measured

    def in_words(self, tray_setting: Temperatures, units: Units, zone: tzinfo) -> str:
        """What its warmth rests on, in a sentence or two."""
        days = self._last_days[-1]
        stands_in = self.expected[-1].in_words(tray_setting, units)
        if not self.measured.at_s:
            return self._not_measured(stands_in)
        if days is not None and self._last_mean_c is not None:
            mean = show_temperature(self._last_mean_c, units)
            until = _shown(self.measured.at_s[days.last], zone)
            how = "read by hand only" if self.measured.only_by_hand else "measured"
            which = "its average since it stopped heating" if days.fell else _LAST_DAYS_IN_WORDS
            return (
                f"By the warmth {how} at the {self.name} until {until}; after that {which}, "
                f"{mean}, is assumed."
            )
        last = _shown(self.measured.at_s[-1], zone)
        if self.measured.only_by_hand:
            degrees = show_temperature(self.measured.c[-1], units)
            return (
                f"Read by hand only at the {self.name}, last {degrees} on {last}: that holds for "
                f"a day, or till the next reading; otherwise {stands_in}."
            )
        changed = self.measured.at_s[-1] < self._settings[-1][0]
        why = "its setting was changed since" if changed else "less than a day was measured"
        return (
            f"By the warmth measured at the {self.name} until {last}; {why}, so after that "
            f"{stands_in}."
        )

    def _not_measured(self, stands_in: str) -> str:
        text = f"Nothing was measured at the {self.name}: {stands_in}."
        if self.name is None:
            text = f"Nobody wrote down where it is: {stands_in}."
        return f"{text} Only its air was measured, not the medium." if self.air_measured else text


def _mean(times: Mapping[float, int], of: Mapping[float, float]) -> float:
    """The mean of a value for each temperature that was read, each as often as it was."""
    return sum(of[c] * count for c, count in times.items()) / sum(times.values())


class _Gapless:
    """Seconds measured without a gap, from the first reading up to each, by its place."""

    def __init__(self, measured: MeasuredC, stretches: Sequence[tuple[int, int]]) -> None:
        self._at_s = measured.at_s
        self._first = [first for first, _ in stretches]
        lengths = (measured.at_s[last] - measured.at_s[first] for first, last in stretches)
        self._before_s = list(accumulate(lengths, initial=0.0))

    def __getitem__(self, place: int) -> float:
        run = bisect_right(self._first, place) - 1
        return self._before_s[run] + self._at_s[place] - self._at_s[self._first[run]]


def _low_c(expectation: Expectation, *, heats: bool) -> float:
    """What a heated medium that is read so cold is taken to be: no longer heated, °C."""
    return expectation.medium.mean_c - NO_LONGER_HEATS_C if heats and expectation.medium else -inf


def _fell_since(measured: MeasuredC, begin: int, end: int, low_c: float) -> tuple[int, bool]:
    """The first reading since a mat fell, and True; or since it warms again, and False.

    Args:
        measured: The readings.
        begin: The first of them that counts.
        end: The one after the last.
        low_c: So cold it no longer heats.
    """
    if begin == end or min(measured.c[begin:end]) > low_c:  # as nearly always: a quick answer
        return begin, False
    place, now_low = end, False
    while place > begin:
        last = first = place - 1
        if measured.c[last] > low_c:
            place = last
            continue
        while first > begin and measured.c[first - 1] <= low_c:
            first -= 1
        # Two readings, and longer than water from the can cools it.
        if measured.at_s[last] - measured.at_s[first] >= LONGEST_GAP_S:
            now_low = last == end - 1
            return (first if now_low else last + 1), now_low
        place = first
    return begin, False


def _last_days(
    measured: MeasuredC, gapless_s: _Gapless, since_s: float, until_s: float, low_c: float = -inf
) -> LastDays | None:
    """The latest three days of readings of which one at least was measured without a gap.

    A single reading after them ends no days: it is one more, and their mean goes on around it.
    Of a mat that no longer heats, or does again, none goes on from before that.
    """
    at_s = measured.at_s
    begin, end = bisect_left(at_s, since_s), bisect_left(at_s, until_s)
    if low_c > -inf and end > begin:
        near = max(begin, bisect_right(at_s, at_s[end - 1] - _LOOKED_BACK_DAYS * DAY_S))
        begin, fell = _fell_since(measured, near, end, low_c)
        if fell:
            first = max(begin, bisect_right(at_s, at_s[end - 1] - _LAST_DAYS * DAY_S))
            return LastDays(first, end - 1, at_s[end - 1], fell=True)
    for last in range(end - 1, begin, -1):
        # Two mornings are a day, though one be the earlier by the clock.
        least_s = (_LEAST_BY_HAND_DAYS if at_s[last] in measured.by_hand else _LEAST_DAYS) * DAY_S
        if gapless_s[last] - gapless_s[begin] < least_s:
            return None
        if gapless_s[last] == gapless_s[last - 1]:
            continue
        first = max(begin, bisect_right(at_s, at_s[last] - _LAST_DAYS * DAY_S))
        if gapless_s[last] - gapless_s[first] >= least_s:
            return LastDays(first, last, at_s[last])
    return None


def _all_that_is_known(measured: MeasuredC, since_s: float, until_s: float) -> LastDays | None:
    """The latest three days of readings where nothing else is known: few are better than none."""
    at_s = measured.at_s
    begin, end = bisect_left(at_s, since_s), bisect_left(at_s, until_s)
    if begin == end:
        return None
    first = max(begin, bisect_right(at_s, at_s[end - 1] - _LAST_DAYS * DAY_S))
    return LastDays(first, end - 1, at_s[begin])


def _shown(at_s: float, zone: tzinfo) -> str:
    return f"{datetime.fromtimestamp(at_s, zone):%-d %b %H:%M}"
