"""How far a sowing's emergence has come by the warmth it had, and when it is expected up.

Progress is the time integral of the rate of emergence over the soil temperature that was measured,
by loggers and by hand; 1 is the expected emergence. A tray's readings go before its station's.
Where nothing was measured, what is expected of the station stands in, and what a date rests on is
said. docs/tracking.md gives the rules.
"""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, datetime, tzinfo
from math import inf
from typing import NamedTuple

from msgspec import Struct

from seedstart.days import Window
from seedstart.growing.emergence import Clock, RateCurve
from seedstart.season.journal.entries import Adjusted, Read
from seedstart.season.loggers.series import Readings, Series
from seedstart.tracking.medium import MeasuredC, covered_s, expectations, measured, runs, spoken_of
from seedstart.tracking.place import Place, Spot
from seedstart.tracking.records import Records
from seedstart.tracking.station_warmth import StationWarmth
from seedstart.tracking.thermal_time import DAY_S, Gathered
from seedstart.units import Temperatures, Units, show_temperature

# A mean over fewer than this is no mean of days.
_FARTHEST_DAYS = 400.0
_NOT_READ = MeasuredC((), ())


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
    """The warmth of a season's stations and trays, integrated once for each crop's curve.

    What a station's readings and settings give is kept until something new is known of it, so one
    `Warmth` serves a season as long as its plan stays the same; readings that came after others
    are added to what those gave.
    """

    def __init__(
        self,
        readings: Readings,
        planned: Mapping[str, Temperatures],
        zone: tzinfo,
        *,
        heated: Collection[str] | None = None,
        outside: Collection[str] = (),
        units: Units = "metric",
    ) -> None:
        """Take the readings in.

        Args:
            readings: All that loggers measured.
            planned: By station, the temperature to plan with.
            zone: The season's, for dates.
            heated: Stations whose thermostat holds the medium; None for all.
            outside: Stations in the weather: where nobody says or reads how warm, no days count.
            units: For sentences, and for bare numbers in settings.
        """
        self._readings, self._planned, self._zone = readings, planned, zone
        self._heated, self._units, self._outside = heated, units, frozenset(outside)
        self._stations: dict[str, _Known] = {}
        self._for_crops: dict[tuple[str, RateCurve, Temperatures], _ForCrop] = {}

    def take_in(self, readings: Readings) -> None:
        """Go on with other readings; of which nothing is new, that series is the same object."""
        self._readings = readings

    def progress(
        self, sowing: str, records: Records, emerging: Emerging, now: datetime
    ) -> Progress | None:
        """How far a sowing has come by now, with what was known by then.

        Returns:
            None for plants from another sowing, and while the seed is in the cold.
        """
        way = self.way(sowing, records, emerging, now)
        return self.progress_along(way, emerging, now) if way else None

    def progress_along(self, way: "Way", emerging: Emerging, now: datetime) -> Progress:
        """How far a sowing has come by now on its way, which was found by now.

        Args:
            way: Its way, by the same curve.
            emerging: The crop's figures; whatever factor they have.
            now: The moment.
        """
        share = way.at(now) / emerging.factor
        days = [
            way.day_of(emerging.factor * part) for part in (emerging.earliest, 1.0, emerging.latest)
        ]
        expected = None
        if days[0] is not None and days[1] is not None and days[2] is not None:
            expected = Window(days[0], days[1], days[2])
        last = way.legs[-1]
        until_s = last.measured_until_s
        return Progress(
            share,
            expected,
            None if until_s is None else datetime.fromtimestamp(until_s, self._zone),
            self._says(last),
            emerging.clock,
            last.here.station.goes_on_c(emerging.tray_setting),
        )

    def way(self, sowing: str, records: Records, emerging: Emerging, now: datetime) -> "Way | None":
        """The way of a sowing by its curve alone (factor 1), with what is known by now.

        Returns:
            None for plants from another sowing, while the seed is in the cold, and where it stands
            in weather of which nothing is known.
        """
        legs = self._legs(sowing, records, emerging, now.timestamp())
        if not legs or self._is_unknown(legs[-1]):
            return None
        return Way(tuple(legs), self._zone)

    def _is_unknown(self, leg: "_Leg") -> bool:
        """Whether it stands out of doors and nobody says or has read how warm."""
        here = leg.here.station
        known = here.measured.at_s or leg.tray.at_s or here.expected[-1].medium is not None
        return here.name in self._outside and not known

    def now_c(self, station: str, records: Records, setting: Temperatures, now: datetime) -> float:
        """How warm a station's medium is: as read within the last day, else as it goes on, °C."""
        found, now_s = self._station(station, records, now.timestamp()), now.timestamp()
        read = found.measured
        if read.at_s and now_s - read.at_s[-1] <= DAY_S:
            return read.c[-1]
        return found.goes_on_c(setting)

    def measured_share(
        self, sowing: str, records: Records, since: datetime, until: datetime, now: datetime
    ) -> float:
        """Share of a time in which the medium of where a sowing stood was measured."""
        seconds, now_s = 0.0, now.timestamp()
        for spot in records.spots(sowing):
            start = max(since, spot.since).timestamp()
            end = min(until, spot.until or until).timestamp()
            if end > start:
                station = self._station(spot.station, records, now_s)
                tray = _in_tray(spot, records, now_s)
                seconds += covered_s((*station.spoken, *spoken_of(tray)), start, end)
        whole = (until - since).total_seconds()
        return seconds / whole if whole > 0 else 0.0

    def _legs(
        self, sowing: str, records: Records, emerging: Emerging, now_s: float
    ) -> "list[_Leg]":
        """Where it was from day zero on, each stay with the warmth there; none without a way."""
        zero = records.day_zero(sowing)
        if not records.standings[sowing].from_seed or zero is None:
            return []
        legs = []
        for spot in records.spots(sowing):
            if spot.until is not None and spot.until <= zero:
                continue
            since_s = max(spot.since, zero).timestamp()
            until_s = spot.until.timestamp() if spot.until else inf
            tray = _in_tray(spot, records, now_s)
            here = self._for_crop(spot.station, records, emerging, now_s)
            gathered = here.over(tray, emerging) if tray.at_s else here.gathered
            legs.append(_Leg(spot, here, tray, gathered, since_s, until_s))
        if legs:
            return legs
        nowhere = self._for_crop(None, records, emerging, now_s)
        spot = Spot(zero, None, None, None)
        return [_Leg(spot, nowhere, _NOT_READ, nowhere.gathered, zero.timestamp(), inf)]

    def _station(self, name: str | None, records: Records, now_s: float) -> StationWarmth:
        """What is known of a station by now; the same object while that is the same."""
        place = records.place(("station", name or ""))
        known = self._stations.get(name or "")
        series = self._readings.get((name or "", "soil_c"))
        air = (name or "", "air_c") in self._readings
        if known is None or not known.holds(place, now_s, series, air_logged=air):
            air_read = any(reading.quantity == "air_c" for reading in place.readings)
            found = measured(series, place.readings, now_s)
            settings = [setting for setting in place.settings if setting.at.timestamp() <= now_s]
            expected = expectations(
                self._planned.get(name or ""),
                settings,
                thermostat_holds_it=self._heated is None or name in self._heated,
                units=self._units,
            )
            before = known.station if known else None
            station = StationWarmth(
                name,
                found,
                expected,
                air_measured=air or air_read,
                heats=self._heated is not None and name in self._heated,
                before=before,
            )
            known = _Known(place.readings, place.settings, now_s, station, series, air)
            self._stations[name or ""] = known
        return known.station

    def _for_crop(
        self, name: str | None, records: Records, emerging: Emerging, now_s: float
    ) -> "_ForCrop":
        """What a station's warmth is for a crop; the same object while that is the same."""
        station = self._station(name, records, now_s)
        key = name or "", emerging.curve, emerging.tray_setting  # whatever its factor
        known = self._for_crops.get(key)
        if known is None or known.station is not station:
            goes_on = known is not None and station.goes_on_from is known.station.mark
            rates = known.per_day if known is not None and goes_on else ()
            per_day = station.per_day(emerging.curve, emerging.tray_setting, rates)
            sentence = station.in_words(emerging.tray_setting, self._units, self._zone)
            begun = known.begun(station, per_day) if known else None
            known = _ForCrop(station, per_day, station.course.gathered(per_day, begun), sentence)
            self._for_crops[key] = known
        return known

    def _says(self, leg: "_Leg") -> str:
        """What a date rests on."""
        if not leg.tray.at_s:
            return leg.here.says
        degrees = show_temperature(leg.tray.c[-1], self._units)
        at = datetime.fromtimestamp(leg.tray.at_s[-1], self._zone)
        return (
            f"{leg.here.says} Readings by hand in the {leg.spot.tray}, last {degrees} on "
            f"{at:%-d %b %H:%M}, are used before that."
        )


class _Known(NamedTuple):
    """A station's warmth, and what it was made of."""

    readings: tuple[Read, ...]
    settings: tuple[Adjusted, ...]
    now_s: float
    station: StationWarmth
    series: Series | None
    air_logged: bool

    def holds(self, place: Place, now_s: float, series: Series | None, *, air_logged: bool) -> bool:
        """Whether nothing else is known by now than was known then."""
        if (self.readings, self.settings) != (place.readings, place.settings):
            return False
        if series is not self.series or air_logged != self.air_logged:
            return False
        if now_s == self.now_s:
            return True
        first, last = sorted((self.now_s, now_s))
        later = [setting.at.timestamp() for setting in self.settings]
        if now_s >= self.now_s:
            later.append(self.station.measured.next_s)
        elif self.station.measured.at_s:
            later.append(self.station.measured.at_s[-1])
        return not any(first < at_s <= last for at_s in later)


class _ForCrop(NamedTuple):
    """What a station's warmth is for a crop.

    Attributes:
        station: The station.
        per_day: The crop's rates along its course.
        gathered: What the crop gathers there.
        says: What a date there rests on.
    """

    station: StationWarmth
    per_day: list[float]
    gathered: Gathered
    says: str

    def begun(self, station: StationWarmth, per_day: Sequence[float]) -> list[float] | None:
        """What was gathered up to where a station goes on from this one, which is used up by it.

        Returns:
            None where it does not go on from this one, or something moved before that point.
        """
        if station.goes_on_from is not self.station.mark:
            return None
        if any(per_day[n] != self.per_day[n] for n in station.shared_rests_on):
            return None
        points = self.gathered.gathered
        del points[station.shared_points :]
        return points

    def over(self, tray: MeasuredC, emerging: Emerging) -> Gathered:
        """What the crop gathers where a tray's own readings go before the station's."""
        station = self.station
        changes = (
            expectation.since.timestamp() for expectation in station.expected if expectation.since
        )
        # What is measured beside it knows better than a reading of yesterday.
        tray = tray._replace(by_hand=frozenset()) if station.measured.at_s else tray
        tray = tray.after_changes(changes)
        course = station.course.over(tray, list(runs(tray.at_s, by_hand=tray.by_hand)))
        more = course.c[len(self.station.course.c) :]
        return course.gathered([*self.per_day, *map(emerging.curve.rate, more)])


class _Leg(NamedTuple):
    spot: Spot
    here: _ForCrop
    tray: MeasuredC
    gathered: Gathered
    since_s: float
    until_s: float

    @property
    def measured_until_s(self) -> float | None:
        """When the last reading was made while it was there."""
        both = (*self.here.station.measured.at_s[-1:], *self.tray.at_s[-1:])
        return max((at_s for at_s in both if at_s >= self.since_s), default=None)


class Way(NamedTuple):
    """How far a sowing has come by its crop's own curve, and when it comes how far.

    Attributes:
        legs: Where it was and is, with the warmth there.
        zone: The season's, for dates.
    """

    legs: tuple[_Leg, ...]
    zone: tzinfo

    def at(self, moment: datetime) -> float:
        """The way gone by a moment, in parts of the curve's days; the last warmth goes on."""
        return _gathered_by(self.legs, moment.timestamp())

    def day_of(self, amount: float) -> date | None:
        """The day on which so much of the way is gone; None where it never is."""
        rest = amount
        for leg in self.legs:
            at_s = leg.gathered.when(leg.since_s, rest)
            if at_s <= leg.until_s:
                farthest = leg.since_s + _FARTHEST_DAYS * DAY_S
                return None if at_s > farthest else datetime.fromtimestamp(at_s, self.zone).date()
            rest -= leg.gathered.integral(leg.since_s, leg.until_s)
        return None


def _in_tray(spot: Spot, records: Records, now_s: float) -> MeasuredC:
    """What was read by hand in its tray while it stood there."""
    read = records.place(("tray", spot.tray)).readings if spot.tray is not None else ()
    if not read:
        return _NOT_READ
    until_s = spot.until.timestamp() if spot.until else inf
    return measured(None, read, now_s).between(spot.since.timestamp(), until_s)


def _gathered_by(legs: "Sequence[_Leg]", at_s: float) -> float:
    if len(legs) == 1:  # as most are: a count asks for each look
        return legs[0].gathered.integral(legs[0].since_s, min(legs[0].until_s, at_s))
    return sum(leg.gathered.integral(leg.since_s, min(leg.until_s, at_s)) for leg in legs)
