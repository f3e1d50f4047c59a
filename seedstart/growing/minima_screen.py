"""Daily minima of a place: what is known of each night, and the screen before anything rests on it.

Plain Python on whole tenths of a degree: a threshold of -2.2 °C must meet -2.2 °C as it was stored.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property
from itertools import chain
from typing import Final, Literal

from msgspec import Struct

AsideBecause = Literal["out of range", "above the maximum", "stuck", "far from its season"]

# The coldest and the warmest minimum that stand in the world's records lie within -89.2 °C
# (Vostok 1983, WMO archive of extremes) and about 44 °C; below and above them is no night.
COLDEST_TENTHS: Final = -900
WARMEST_TENTHS: Final = 500
# Twenty equal values in a row are a stuck sensor or a filled gap: the streak check of GHCN-Daily
# (Durre et al. 2010, J. Appl. Meteorol. Climatol. 49: 1615; citation from memory).
STREAK_DAYS: Final = 20
# Six standard deviations from the 15-day mean over all years is GHCN-Daily's own rule; here with
# the median and 1.4826 times the median deviation, which no gross error moves.
# Source: tests/reference/README.md, tests/reference/last_frost_expected.csv.
WINDOW_DAYS: Final = 15
_OUTLYING: Final = 6 * 1.4826
# Fewer values than this in the window say nothing of what is usual. Common practice, no source.
_LEAST_IN_WINDOW: Final = 30
# Where frosts come, January and July lie farther apart. Common practice, no source.
_SEASON_TENTHS: Final = 20
_LONGEST_YEAR: Final = 366


class Minima(Struct, frozen=True, dict=True):
    """The minimum of each day of a record, by the day's ordinal number.

    Attributes:
        tenths: Tenths of a degree Celsius.
        below_zero: Days of which only this is known: the minimum was below 0 °C.
        above_zero: Days of which only this is known: it was above 0 °C.
    """

    tenths: Mapping[int, int]
    below_zero: frozenset[int] = frozenset()
    above_zero: frozenset[int] = frozenset()

    def is_frost(self, day: int, threshold_tenths: int) -> bool | None:
        """Whether a day's minimum was at or below the threshold; None where nobody knows."""
        value = self.tenths.get(day)
        if value is not None:
            return value <= threshold_tenths
        if day in self.below_zero and threshold_tenths >= 0:
            return True
        return False if day in self.above_zero and threshold_tenths <= 0 else None

    @cached_property
    def first(self) -> int:
        """The first day of which anything is known."""
        return min(chain(self.tenths, self.below_zero, self.above_zero))

    @cached_property
    def last(self) -> int:
        """The last day of which anything is known."""
        return max(chain(self.tenths, self.below_zero, self.above_zero))

    def __bool__(self) -> bool:
        return bool(self.tenths or self.below_zero or self.above_zero)


class Aside(Struct, frozen=True):
    """A value that is not believed.

    Attributes:
        day: Ordinal number of its day.
        tenths: Tenths of a degree Celsius.
        because: Why.
    """

    day: int
    tenths: int
    because: AsideBecause


def screened(
    minima: Minima, maxima_tenths: Mapping[int, int] | None = None
) -> tuple[Minima, tuple[Aside, ...]]:
    """A record without what cannot be, and what was set aside.

    Set aside are values outside the world's records, above the same day's maximum, in runs of
    twenty equal ones, and those far from what that part of the year has in all the years.

    Args:
        minima: As they were read.
        maxima_tenths: The day's maximum where the file has it, tenths of a degree Celsius.
    """
    tenths = dict(minima.tenths)
    aside: list[Aside] = []
    for found in (_impossible(tenths), _above_maximum(tenths, maxima_tenths or {}), _stuck(tenths)):
        aside += _taken_out(tenths, found)
    aside += _taken_out(tenths, _far_from_season(tenths))
    if not aside:
        return minima, ()
    kept = Minima(tenths, minima.below_zero, minima.above_zero)
    return kept, tuple(sorted(aside, key=lambda left_out: left_out.day))


def _taken_out(tenths: dict[int, int], found: Iterator[Aside]) -> list[Aside]:
    aside = list(found)
    for left_out in aside:
        tenths.pop(left_out.day, None)
    return aside


def _impossible(tenths: Mapping[int, int]) -> Iterator[Aside]:
    values = tenths.values()
    if min(values, default=0) >= COLDEST_TENTHS and max(values, default=0) <= WARMEST_TENTHS:
        return
    for day, value in tenths.items():
        if not COLDEST_TENTHS <= value <= WARMEST_TENTHS:
            yield Aside(day, value, "out of range")


def _above_maximum(tenths: Mapping[int, int], maxima: Mapping[int, int]) -> Iterator[Aside]:
    for day, most in maxima.items():
        value = tenths.get(day)
        if value is not None and value > most:
            yield Aside(day, value, "above the maximum")


def _stuck(tenths: Mapping[int, int]) -> Iterator[Aside]:
    """Runs of equal values; a missing day breaks none, for a filled file may leave gaps."""
    days = sorted(tenths)
    in_order = days == list(tenths)  # as nearly every file is
    values = list(tenths.values()) if in_order else [tenths[day] for day in days]
    # A run holds two values twenty places apart that are equal, and few other places do.
    ahead = STREAK_DAYS - 1
    seen = 0
    for place, (one, other) in enumerate(zip(values, values[ahead:], strict=False)):
        if one == other and place >= seen and len(set(values[place : place + STREAK_DAYS])) == 1:
            seen = place
            while seen < len(values) and values[seen] == one:
                yield Aside(days[seen], one, "stuck")
                seen += 1


def _far_from_season(tenths: Mapping[int, int]) -> Iterator[Aside]:
    """Values too far from the median of the fifteen days around theirs in all the years."""
    by_day = _by_day_of_year(tenths)
    sides = WINDOW_DAYS // 2
    every = [*by_day[-sides:], *by_day, *by_day[:sides]]
    # The median of fifteen days together lies between those of the single days.
    low = [values[(len(values) - 1) // 2] if values else WARMEST_TENTHS for values in every]
    high = [values[len(values) // 2] if values else COLDEST_TENTHS for values in every]
    for number, found in enumerate(by_day):
        if not found:
            continue
        ends = number + WINDOW_DAYS
        least, most, around = min(low[number:ends]), max(high[number:ends]), every[number:ends]
        near = max(most - found[0], found[-1] - least) / _OUTLYING
        if not _most_are_near(least - near, most + near, around):
            continue
        middle = _median_of(around, least, most)
        near = max(middle - found[0], found[-1] - middle) / _OUTLYING
        if _most_are_near(middle - near, middle + near, around):
            yield from _outlying(number, tenths, middle, list(chain.from_iterable(around)))


def _by_day_of_year(tenths: Mapping[int, int]) -> list[list[int]]:
    """The values of 1 January in all years, of the next day, and so on, each in order."""
    get = tenths.get
    years = [
        [*map(get, range(start, ends)), *[None] * (_LONGEST_YEAR - (ends - start))]
        for start, ends in _years_of(tenths)
    ]
    days = zip(*years, strict=True)
    return [
        sorted(day) if None not in day else sorted([value for value in day if value is not None])
        for day in days
    ]


def _years_of(tenths: Mapping[int, int]) -> list[tuple[int, int]]:
    """First days of the record's years and of the years after them."""
    if not tenths:
        return []
    years = range(date.fromordinal(min(tenths)).year, date.fromordinal(max(tenths)).year + 1)
    starts = [date(year, 1, 1).toordinal() for year in years]
    return list(zip(starts, [*starts[1:], date(years[-1], 12, 31).toordinal() + 1], strict=True))


def _median_of(ordered: list[list[int]], low: int, high: int) -> float:
    """The median of several ordered lists together, between two bounds: counted, not sorted."""
    count = sum(map(len, ordered))
    before = (count - 1) // 2
    while low < high:
        middle = (low + high) // 2
        if sum([bisect_right(values, middle) for values in ordered]) > before:
            high = middle
        else:
            low = middle + 1
    places = [bisect_right(values, low) for values in ordered]
    if count % 2 or sum(places) > before + 1:
        return low
    behind = zip(ordered, places, strict=True)
    return (low + min(values[place] for values, place in behind if place < len(values))) / 2


def _most_are_near(low: float, high: float, ordered: list[list[int]]) -> bool:
    """Whether half of the values lie between, so that the median deviation may be less."""
    inside = every = 0
    for values in ordered:
        inside += bisect_left(values, high) - bisect_right(values, low)
        every += len(values)
    return 2 * inside >= every


def _outlying(
    number: int, tenths: Mapping[int, int], middle: float, usual: list[int]
) -> Iterator[Aside]:
    if len(usual) < _LEAST_IN_WINDOW:
        return
    away = sorted(abs(value - middle) for value in usual)
    half, odd = divmod(len(away), 2)
    allowed = _OUTLYING * (away[half] if odd else (away[half - 1] + away[half]) / 2)
    for start, ends in _years_of(tenths):
        value = tenths.get(start + number) if start + number < ends else None
        if value is not None and abs(value - middle) > allowed:
            yield Aside(start + number, value, "far from its season")


def is_southern(minima: Minima) -> bool:
    """Whether July is colder than January: the spring frosts come in the second half of the year.

    Where a record has not both, or hardly differs between them, it is taken for a northern one.
    """
    sums = {1: [0, 0], 7: [0, 0]}
    for year in range(date.fromordinal(minima.first).year, date.fromordinal(minima.last).year + 1):
        for month, found in sums.items():
            start = date(year, month, 1).toordinal()
            for day in range(start, start + 31):
                if (value := minima.tenths.get(day)) is not None:
                    found[0] += value
                    found[1] += 1
    (january, of_january), (july, of_july) = sums[1], sums[7]
    if not of_january or not of_july:
        return False
    return july / of_july < january / of_january - _SEASON_TENTHS
