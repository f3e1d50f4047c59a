"""How far a sowing's emergence has come by the warmth it had, and when it is expected up.

Progress is the time integral of the rate of emergence over the soil temperature that was measured;
1 is the expected emergence. Where nothing was measured the station's planned temperature stands in,
and what a date rests on is said.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import date, datetime, tzinfo
from math import inf
from typing import Final, NamedTuple

from msgspec import Struct

from seedstart.days import Window
from seedstart.growing.emergence import Clock, RateCurve
from seedstart.season.series import Readings, Series
from seedstart.tracking.place import Spot
from seedstart.tracking.records import Records
from seedstart.units import Temperatures, show_temperature

# Between readings farther apart than this nobody knows what lay between: the planned temperature
# stands in. Common practice, no source.
LONGEST_GAP_S: Final = 3 * 3600.0
_DAY_S: Final = 86_400.0
# After the last reading the mean of so many days goes on.
_LAST_DAYS: Final = 3.0
# A mean over fewer than this is no mean of days.
_FARTHEST_DAYS: Final = 400.0


class Emerging(NamedTuple):
    """A crop's figures of emergence, as the calendar has them.

    Attributes:
        curve: Rate over soil temperature, 1/days on its own clock.
        clock: `table` or `trays`.
        factor: Days in this grower's trays over days of the curve: 1 on the trays' clock.
        earliest: Share of the best days by which the first may be up.
        latest: Multiple of the best days by which nine in ten of them are up.
        tray_setting: Stands in where a station's temperature is not known at all.
    """

    curve: RateCurve
    clock: Clock
    factor: float
    earliest: float
    latest: float
    tray_setting: Temperatures


class Progress(Struct, frozen=True):
    """How far a sowing has come.

    Attributes:
        share: Of the way to emergence; 1 is the expected day, more is past it.
        expected: When it is expected up; None where nothing comes up at that warmth.
        measured_until: The last reading it rests on; None where nothing was measured.
        assumed: What the dates rest on, as a sentence.
        clock: `table` or `trays`.
        goes_on_c: The temperature that is counted with from now on, °C.
    """

    share: float
    expected: Window | None
    measured_until: datetime | None
    assumed: str
    clock: Clock
    goes_on_c: float


class Warmth:
    """The measured warmth of a season's stations, integrated once for each crop's curve."""

    def __init__(
        self, readings: Readings, planned: Mapping[str, Temperatures], zone: tzinfo
    ) -> None:
        """Take the readings in.

        Args:
            readings: All that was measured.
            planned: By station, the temperature to plan with.
            zone: The season's, for dates.
        """
        self._readings, self._planned, self._zone = readings, planned, zone
        self._profiles: dict[tuple[str, int], _Profile] = {}
        self._curves: list[RateCurve] = []  # kept alive, so that no id is used twice

    def progress(
        self, sowing: str, records: Records, emerging: Emerging, now: datetime
    ) -> Progress | None:
        """How far a sowing has come by now.

        Returns:
            None for plants from another sowing, and while the seed is in the cold.
        """
        zero = records.day_zero(sowing)
        if not records.standings[sowing].from_seed or zero is None:
            return None
        legs = self._legs(records.spots(sowing), zero, emerging)
        done = sum(
            leg.profile.integral(leg.since_s, min(leg.until_s, now.timestamp())) for leg in legs
        )
        share = done / emerging.factor
        days = [
            self._day_of(legs, emerging.factor * part)
            for part in (emerging.earliest, 1.0, emerging.latest)
        ]
        expected = None
        if days[0] is not None and days[1] is not None and days[2] is not None:
            expected = Window(days[0], days[1], days[2])
        last = legs[-1]
        return Progress(
            share,
            expected,
            self._measured_until(last, now),
            last.profile.says,
            emerging.clock,
            last.profile.after_c,
        )

    def _legs(self, spots: Sequence[Spot], zero: datetime, emerging: Emerging) -> "list[_Leg]":
        """Where it was from day zero on, each stay with the warmth of its station."""
        legs = []
        for spot in spots:
            if spot.until is not None and spot.until <= zero:
                continue
            since = max(spot.since, zero).timestamp()
            until = spot.until.timestamp() if spot.until else inf
            legs.append(_Leg(self._profile(spot.station, emerging), since, until))
        return legs or [_Leg(self._profile(None, emerging), zero.timestamp(), inf)]

    def _profile(self, station: str | None, emerging: Emerging) -> "_Profile":
        key = (station or "", id(emerging.curve))
        if key not in self._profiles:
            series = self._readings.get((station or "", "soil_c"))
            planned = self._planned.get(station or "")
            self._profiles[key] = _profile(station, series, planned, emerging, self._zone)
            self._curves.append(emerging.curve)
        return self._profiles[key]

    def _day_of(self, legs: "list[_Leg]", amount: float) -> date | None:
        """The day on which so much has been gathered; None where it never is."""
        rest = amount
        for leg in legs:
            at_s = leg.profile.when(leg.since_s, rest)
            if at_s <= leg.until_s:
                farthest = leg.since_s + _FARTHEST_DAYS * _DAY_S
                return None if at_s > farthest else datetime.fromtimestamp(at_s, self._zone).date()
            rest -= leg.profile.integral(leg.since_s, leg.until_s)
        return None

    def _measured_until(self, leg: "_Leg", now: datetime) -> datetime | None:
        last_s = leg.profile.last_s
        if last_s is None or last_s < leg.since_s:
            return None
        return datetime.fromtimestamp(min(last_s, now.timestamp()), self._zone)


class _Leg(NamedTuple):
    profile: "_Profile"
    since_s: float
    until_s: float


class _Profile(NamedTuple):
    """Gathered rate at one station for one crop, in parts of an emergence.

    Attributes:
        at_s: Times of the readings, rising.
        gathered: Integral of the rate from the first reading up to each, in days × 1/days.
        before: Rate before the first reading, 1/days.
        after: Rate after the last.
        says: What the time after the last reading rests on.
        after_c: The temperature that goes on after it, °C.
    """

    at_s: Sequence[float]
    gathered: Sequence[float]
    before: float
    after: float
    says: str
    after_c: float

    @property
    def last_s(self) -> float | None:
        return self.at_s[-1] if self.at_s else None

    def upto(self, at_s: float) -> float:
        """Gathered from the first reading up to a moment; negative before it."""
        if not self.at_s:
            return at_s / _DAY_S * self.after
        if at_s <= self.at_s[0]:
            return (at_s - self.at_s[0]) / _DAY_S * self.before
        if at_s >= self.at_s[-1]:
            return self.gathered[-1] + (at_s - self.at_s[-1]) / _DAY_S * self.after
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
        if not self.at_s or goal >= self.gathered[-1]:
            start = self.at_s[-1] if self.at_s else 0.0
            have = self.gathered[-1] if self.at_s else 0.0
            return start + (goal - have) / self.after * _DAY_S if self.after > 0 else inf
        if goal < 0:
            return self.at_s[0] + goal / self.before * _DAY_S if self.before > 0 else self.at_s[0]
        right = bisect_right(self.gathered, goal)
        t0, t1 = self.at_s[right - 1], self.at_s[right]
        g0, g1 = self.gathered[right - 1], self.gathered[right]
        return t0 + (t1 - t0) * (goal - g0) / (g1 - g0)


def _profile(
    station: str | None,
    series: Series | None,
    planned: Temperatures | None,
    emerging: Emerging,
    zone: tzinfo,
) -> _Profile:
    stands_in = emerging.curve.mean_rate(planned or emerging.tray_setting)
    good = series.good() if series is not None else None
    if good is None or len(good) < 2:
        says = _not_measured(station, planned, emerging)
        medium = planned or emerging.tray_setting
        return _Profile((), (), stands_in, stands_in, says, medium.mean_c)
    rates = [emerging.curve.rate(value) for value in good.value]
    gathered = [0.0]
    for place in range(1, len(rates)):
        apart = good.at_s[place] - good.at_s[place - 1]
        mean = (rates[place] + rates[place - 1]) / 2 if apart <= LONGEST_GAP_S else stands_in
        gathered.append(gathered[-1] + mean * apart / _DAY_S)
    first = bisect_right(good.at_s, good.at_s[-1] - _LAST_DAYS * _DAY_S)
    last_rates, last_c = rates[first:], good.value[first:]
    after = sum(last_rates) / len(last_rates)
    until = datetime.fromtimestamp(good.at_s[-1], zone)
    says = (
        f"By the warmth measured at the {station} until {until:%-d %b %H:%M}; after that the mean "
        f"of its last three days, {show_temperature(round(sum(last_c) / len(last_c), 1))}, goes on."
    )
    return _Profile(good.at_s, gathered, stands_in, after, says, sum(last_c) / len(last_c))


def _not_measured(station: str | None, planned: Temperatures | None, emerging: Emerging) -> str:
    if planned is None:
        c = show_temperature(round(emerging.tray_setting.mean_c, 1))
        return f"Nothing was measured and no temperature is planned: {c}, the mixed-tray setting."
    return (
        f"Nothing was measured at the {station}: its planned "
        f"{show_temperature(round(planned.mean_c, 1))} stands in."
    )
