"""Last frost and risk: of a record of minima, and by the normal curve of freeze tables.

Which way a percentage runs: a risk of 10 % is the late, safe date, after which a frost still comes
in one year of ten. Plain Python: the calendar calls it.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cached_property
from math import erfc, sqrt
from typing import Final, Literal

from msgspec import Struct

from seedstart.growing.minima_screen import Minima

# Between 13 and 19 days lie between the dates of 50 % and 10 % at six places whose published
# tables print both (median 17); NWS Wilmington's four stations have 12.8 to 15.3 days of standard
# deviation. Source: tests/reference/freeze_normals.csv. 17 / 1.2816 = 13.
STATION_SPREAD_DAYS: Final = 13.0
# Utah Climate Center (help page of its freeze table, citing Moller & Gillies 2007): a season counts
# only if fewer than ten missing days are met before its freeze date is reached.
MISSING_DAYS: Final = 10

Season = Literal["spring", "autumn"]
Quantile = Literal["type7", "weibull"]
# First and last day of the months in which each kind of frost is looked for, north of the equator:
# NCEI turns the season on 1 August, and a spring frost is one after 1 January.
_NORTHERN: Final[dict[Season, tuple[tuple[int, int], tuple[int, int]]]] = {
    "spring": ((1, 1), (7, 31)),
    "autumn": ((8, 1), (12, 31)),
}
_SOUTHERN: Final[dict[Season, tuple[tuple[int, int], tuple[int, int]]]] = {
    "spring": ((7, 1), (1, 31)),
    "autumn": ((2, 1), (6, 30)),
}
_JULY: Final = 181  # days of a common year before 1 July
_NINE_IN_TEN: Final = 1.6449  # of a normal curve, both sides


class FrostYear(Struct, frozen=True):
    """One season of a record.

    Attributes:
        year: The year in which the season's window begins.
        day: The last frost of a spring, the first of an autumn; None where there was none.
        missing: Missing days that could hide another: behind it in spring, before it in autumn,
            as far as the record ever had a frost.
    """

    year: int
    day: date | None
    missing: int

    @property
    def counts(self) -> bool:
        """Whether so little is missing that the season counts."""
        return self.missing < MISSING_DAYS


def frost_years(
    minima: Minima, threshold_tenths: int, season: Season = "spring", *, south: bool = False
) -> tuple[FrostYear, ...]:
    """The last spring frost, or the first autumn frost, of every season wholly inside a record.

    Windows: 1 January to 31 July and 1 August to 31 December, in the south 1 July to 31 January and
    1 February to 30 June. A missing day is no frost day.

    Args:
        minima: Screened.
        threshold_tenths: A day at or below it has a frost, tenths of a degree Celsius.
        season: Which.
        south: Whether the place lies in the southern hemisphere.
    """
    if not minima:
        return ()
    first, last = minima.first, minima.last
    windows = [
        (year, begins, ends)
        for year in range(date.fromordinal(first).year, date.fromordinal(last).year + 1)
        for begins, ends in (_window(year, season, south=south),)
        if first <= begins and ends <= last
    ]
    walks = {
        year: range(ends, begins - 1, -1) if season == "spring" else range(begins, ends + 1)
        for year, begins, ends in windows
    }
    found = {year: _first_frost(walk, minima, threshold_tenths) for year, walk in walks.items()}
    known = [abs(day - walks[year][0]) for year, day in found.items() if day is not None]
    # Days beyond the latest frost of all the years can be missing and hide nothing.
    nearest = min(known, default=0)
    return tuple(
        FrostYear(
            year=year,
            day=None if found[year] is None else date.fromordinal(found[year] or 0),
            missing=_missing(walks[year][nearest:], found[year], minima, threshold_tenths),
        )
        for year in walks
    )


def _window(year: int, season: Season, *, south: bool) -> tuple[int, int]:
    begins, ends = (_SOUTHERN if south else _NORTHERN)[season]
    over = year + (ends < begins)
    return date(year, *begins).toordinal(), date(over, *ends).toordinal()


def _first_frost(walk: range, minima: Minima, threshold_tenths: int) -> int | None:
    return next((day for day in walk if minima.is_frost(day, threshold_tenths)), None)


def _missing(walk: range, frost: int | None, minima: Minima, threshold_tenths: int) -> int:
    """Days of which nobody knows, up to the frost that was found."""
    count = 0
    for day in walk:
        if day == frost:
            break
        count += minima.is_frost(day, threshold_tenths) is None
    return count


def day_number(day: date, *, south: bool = False) -> int:
    """Number of a day in a year of 365, 29 February as the 28th; in the south 1 July is day 1."""
    leap = day.year % 4 == 0 and (day.year % 100 != 0 or day.year % 400 == 0)
    number = day.timetuple().tm_yday - (leap and (day.month, day.day) > (2, 28))
    return (number - _JULY - 1) % 365 + 1 if south else number


def day_of(number: float, year: int, *, south: bool = False) -> date:
    """The day of a number, rounded to a whole one, in the season that begins in `year`."""
    whole = round(number) + (_JULY if south else 0)
    years, within = divmod(whole - 1, 365)
    common = date(2001, 1, 1) + timedelta(days=within)  # a year of 365 days
    return date(year + years, common.month, common.day)


class FrostRisk(Struct, frozen=True, dict=True):
    """How the last frost is spread over the years of a record.

    Seasons without any frost stay as a share of their own (a mixed distribution).

    Attributes:
        days: Day numbers of the seasons with a frost, in order of years.
        seasons: How many count, those without a frost too.
        first_year: Of those that count.
        last_year: Of those that count.
        south: Whether day 1 is 1 July.
    """

    days: tuple[int, ...]
    seasons: int
    first_year: int
    last_year: int
    south: bool = False

    @property
    def with_frost(self) -> int:
        """Seasons with a frost."""
        return len(self.days)

    @cached_property
    def mean_day(self) -> float:
        """Mean day number of the seasons with a frost."""
        return sum(self.days) / len(self.days)

    @cached_property
    def sd_days(self) -> float:
        """Sample standard deviation (n - 1) of the same, days; 0 of one season."""
        if len(self.days) < 2:
            return 0.0
        return sqrt(sum((day - self.mean_day) ** 2 for day in self.days) / (len(self.days) - 1))

    @property
    def share_with_frost(self) -> float:
        """Share of the seasons with any frost, 0 to 1."""
        return self.with_frost / self.seasons

    @property
    def least_risk_percent(self) -> float:
        """The least risk that so many seasons say anything of: 100 / (n + 1)."""
        return 100 / (self.seasons + 1)

    def carries(self, risk_percent: float) -> bool:
        """Whether a risk lies within what the record can say."""
        least = self.least_risk_percent
        return self.with_frost >= 2 and least <= risk_percent <= 100 - least

    def normal_day(self, risk_percent: float) -> float | None:
        """Day number after which a frost comes in that share of years, by the normal method.

        Returns:
            None where a frost comes in no more than that share of the years at all.

        Source:
            d_p = m + s z(1 - p), with k frosts in n years p / (k / n) for p: Thom & Shaw 1958, Mon.
            Wea. Rev. 86: 251-257, and the mixed distribution of NCDC's freeze tables (citations
            from memory).
        """
        share = risk_percent / 100 / self.share_with_frost if self.days else 1.0
        return None if share >= 1 else self.mean_day + self.sd_days * _z(1 - share)

    def empirical_day(self, risk_percent: float, kind: Quantile = "weibull") -> float | None:
        """The day as a quantile of the years; those without a frost come before every date.

        Args:
            risk_percent: Share of years with a later frost.
            kind: Position among n ordered years: (n + 1)(1 - p), `weibull`; 1 + (n - 1)(1 - p),
                `type7` (Hyndman & Fan 1996, the common one of array libraries).

        Returns:
            None where the position lies among the years without a frost, or outside them all.
        """
        n, below = self.seasons, 1 - risk_percent / 100
        position = (n + 1) * below if kind == "weibull" else 1 + (n - 1) * below
        position = round(position, 9)  # 9.000000000000002 of 9 years is inside
        if not 1 <= position <= n:
            return None
        whole = int(position)
        frostless = n - self.with_frost
        if whole <= frostless:
            return None
        ordered = sorted(self.days)
        low = ordered[whole - 1 - frostless]
        high = ordered[min(whole - frostless, len(ordered) - 1)]
        return low + (position - whole) * (high - low)

    def early_day(self, percent: float) -> float | None:
        """Day number before which a first autumn frost comes in that share of years.

        Returns:
            None where a frost comes in no more than that share of the years at all.
        """
        share = percent / 100 / self.share_with_frost if self.days else 1.0
        return None if share >= 1 else self.mean_day + self.sd_days * _z(share)

    def interval_days(self, risk_percent: float) -> float:
        """Days on each side of the normal date that hold the true one nine times in ten, about.

        Source:
            Variance of a normal quantile, s²/k + z² s²/(2 (k - 1)): large-sample formula.
        """
        share = risk_percent / 100 / self.share_with_frost
        k = self.with_frost
        if share >= 1 or k < 2:
            return 0.0
        z = _z(1 - share)
        return _NINE_IN_TEN * self.sd_days * sqrt(1 / k + z * z / (2 * (k - 1)))

    def percent_after(self, day: date) -> float:
        """Share of years, in percent, with a frost later than a day, by the normal method."""
        if not self.days:
            return 0.0
        away = day_number(day, south=self.south) - self.mean_day
        if self.sd_days == 0:
            return 100 * self.share_with_frost * (away < 0)
        return 50 * self.share_with_frost * erfc(away / self.sd_days / sqrt(2))


def frost_risk(years: Sequence[FrostYear], *, south: bool = False) -> FrostRisk | None:
    """The spread of the last frost over the seasons that count; None where none does."""
    counted = [year for year in years if year.counts]
    if not counted:
        return None
    return FrostRisk(
        days=tuple(day_number(year.day, south=south) for year in counted if year.day is not None),
        seasons=len(counted),
        first_year=counted[0].year,
        last_year=counted[-1].year,
        south=south,
    )


class Trend(Struct, frozen=True):
    """A straight line through the dates of the years.

    Attributes:
        days_a_decade: Negative: earlier and earlier.
        low: Lower end of its interval, 95 in 100.
        high: Upper end.
    """

    days_a_decade: float
    low: float
    high: float

    @property
    def is_shown(self) -> bool:
        """Whether the interval leaves out no change at all."""
        return self.low > 0 or self.high < 0


def trend_of(years: Sequence[FrostYear], *, south: bool = False) -> Trend | None:
    """Least-squares line of the date on the year, over the seasons that count and had a frost.

    Returns:
        None of fewer than ten such seasons.

    Source:
        Interval of the slope by Student's t with n - 2 degrees of freedom.
    """
    found = [
        (year.year, day_number(year.day, south=south)) for year in years if year.counts and year.day
    ]
    n = len(found)
    if n < 10:
        return None
    from scipy.special import stdtrit  # only who asks for a trend pays for it

    mean_year = sum(year for year, _ in found) / n
    mean_day = sum(day for _, day in found) / n
    across = sum((year - mean_year) ** 2 for year, _ in found)
    slope = sum((year - mean_year) * (day - mean_day) for year, day in found) / across
    left = sum((day - mean_day - slope * (year - mean_year)) ** 2 for year, day in found)
    either = float(stdtrit(n - 2, 0.975)) * sqrt(left / (n - 2) / across)
    return Trend(10 * slope, 10 * (slope - either), 10 * (slope + either))


def days_after_average(risk_percent: float, spread_days: float = STATION_SPREAD_DAYS) -> float:
    """Days from the average last frost to the day that frosts outlast in `risk_percent` of years.

    Args:
        risk_percent: Share of years with a later frost, above 0 and below 100. 50 is the average.
        spread_days: Standard deviation of the date over the years.

    Returns:
        Days, negative for a risk above 50 %.

    Source:
        d_p = m + s z(1 - p): Thom & Shaw 1958, Mon. Wea. Rev. 86: 251-257 (citation from memory).
    """
    return spread_days * _z(1 - risk_percent / 100)


def risk_percent_after(days: float, spread_days: float = STATION_SPREAD_DAYS) -> float:
    """Share of years, in percent, with a frost later than `days` after the average last frost."""
    return 50 * erfc(days / spread_days / sqrt(2))


def _z(share: float) -> float:
    """The normal deviate below which that share lies."""
    if share == 0.5:
        return 0.0
    from statistics import NormalDist  # 8 ms that an average date does not need

    return NormalDist().inv_cdf(share)
