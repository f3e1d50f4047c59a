"""All that was measured in a season, series by series: by loggers, and read by hand."""

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta, tzinfo
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.planning.calendar.crop_times import basis_in_words
from seedstart.planning.calendar.row import Row
from seedstart.planning.space.room_by_week import Load, SoFar, loads, stands
from seedstart.season.journal.entries import Read
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings, Series
from seedstart.season.plan.season_file import Season
from seedstart.text import natural
from seedstart.tracking.medium import MeasuredC, expectations, measured, thermostat_holds_medium
from seedstart.tracking.records import Records
from seedstart.tracking.whereabouts import Group, used_m2, whereabouts
from seedstart.units import Temperatures, Units

WEEK: Final = timedelta(days=7)
NOWHERE: Final = "no station named"


class Warm(Struct, frozen=True):
    """How warm a station was in the last week.

    Attributes:
        of: What was measured: the medium, or the air where nobody measured the medium.
        at_s: Times of the last week's readings, seconds of the epoch, rising.
        c: Those readings, °C.
        last_at: When the last reading was made, however long ago; None where there is none.
        last_c: That reading, °C.
    """

    of: Literal["medium", "air"]
    at_s: tuple[float, ...] = ()
    c: tuple[float, ...] = ()
    last_at: datetime | None = None
    last_c: float | None = None


class CropLimits(Struct, frozen=True):
    """Between which temperatures a crop comes up that stands there and is not up yet.

    Attributes:
        crop: Which.
        lowest_c: °C.
        highest_c: °C.
        lowest_basis: How far to trust it, in words.
        highest_basis: Likewise.
    """

    crop: str
    lowest_c: float
    highest_c: float
    lowest_basis: str
    highest_basis: str


class StandsThere(Struct, frozen=True):
    """One sowing at a station.

    Attributes:
        id: Of the entry that made it.
        name: What it is called.
        crop: Its crop; empty where its lot is not known.
        tray: In which tray; None where in none.
        container: What it is in; empty where nobody knows.
        seeds: Seeds sown, where they were counted.
        standing: How many stand.
        emerged: How many came up; 0 of plants from elsewhere.
        up: Whether anything is up.
        from_seed: Whether it was sown; else its plants came from another sowing.
    """

    id: str
    name: str
    crop: str
    tray: str | None
    container: str
    seeds: int | None
    standing: int
    emerged: int
    up: bool
    from_seed: bool


class StationView(Struct, frozen=True):
    """One station.

    Attributes:
        name: Which.
        kind: What it is; empty where the plan no longer lists it.
        warm: How warm it was.
        expected: The medium that is expected of it now; None where nobody knows.
        limits: Of the crops that stand there and are not up yet.
        stands: What stands there, tray by tray.
        area_m2: Its area, where it is said.
        used_m2: What the things that stand there now take of it.
        loads: What it carries week by week, from this week on.
    """

    name: str
    kind: str
    warm: Warm
    expected: Temperatures | None = None
    limits: tuple[CropLimits, ...] = ()
    stands: tuple[StandsThere, ...] = ()
    area_m2: float | None = None
    used_m2: float = 0.0
    loads: tuple[Load, ...] = ()

    @property
    def trays(self) -> int:
        """How many trays stand there."""
        return len({group.tray for group in self.stands if group.tray is not None})

    @property
    def share(self) -> float | None:
        """How full it is now, used over whole; None where its area is not said."""
        return self.used_m2 / self.area_m2 if self.area_m2 else None

    @property
    def outside(self) -> tuple[CropLimits, ...]:
        """The crops for which the last reading of the medium was too cold or too hot."""
        c = self.warm.last_c
        if c is None or self.warm.of != "medium":
            return ()
        return tuple(one for one in self.limits if not one.lowest_c <= c <= one.highest_c)


def station_views(
    season: Season, records: Records, readings: Readings, rows: Sequence[Row], now: datetime
) -> tuple[StationView, ...]:
    """The stations in walking order; then places that are not in the plan and hold something.

    Args:
        season: The plan.
        records: What happened.
        readings: All that was measured.
        rows: The calendar as it is expected today, which `space` counts with too.
        now: The moment, in the season's zone.
    """
    week = now.date() - timedelta(days=now.weekday())
    standing = stands(rows, season, SoFar(records, now.date()))
    full = [load for load in loads(standing, season) if load.monday >= week]
    there = _by_station(whereabouts(records, season))
    views = [
        StationView(
            name=station.name,
            kind=station.kind,
            warm=_warm(station.name, records, readings, now),
            expected=_expected(season, records, number, season.units),
            limits=() if station.kind == "fridge" else _limits(season, records, station.name),
            stands=_stands_there(season, records, there.get(station.name, ())),
            area_m2=station.area_m[0] * station.area_m[1] if station.area_m else None,
            used_m2=used_m2(there.get(station.name, ())),
            loads=tuple(load for load in full if load.station == station.name),
        )
        for number, station in enumerate(season.stations)
    ]
    return (*views, *_unlisted(season, records, there))


def warm_now(
    season: Season, records: Records, readings: Readings, now: datetime
) -> dict[str, tuple[Warm, Temperatures | None]]:
    """How warm each station is, and what is expected of it; arguments as of `station_views`."""
    return {
        station.name: (
            _warm(station.name, records, readings, now),
            _expected(season, records, number, season.units),
        )
        for number, station in enumerate(season.stations)
    }


def _by_station(groups: Iterable[Group]) -> dict[str | None, list[Group]]:
    found: defaultdict[str | None, list[Group]] = defaultdict(list)
    for group in groups:
        found[group.station].append(group)
    return found


def _unlisted(
    season: Season, records: Records, there: Mapping[str | None, Iterable[Group]]
) -> Iterator[StationView]:
    """What stands where the plan has no station, so that nothing is out of sight."""
    elsewhere = {name or NOWHERE: name for name in there if name not in season.stations_by_name}
    for called, name in sorted(elsewhere.items()):
        stands_there = _stands_there(season, records, there[name])
        yield StationView(name=called, kind="", warm=Warm("medium"), stands=stands_there)


def _warm(station: str, records: Records, readings: Readings, now: datetime) -> Warm:
    by_hand = records.place(("station", station)).readings
    soil = measured(readings.get((station, "soil_c")), by_hand, now.timestamp())
    if soil.at_s:
        return _last_week("medium", soil, now)
    return _last_week("air", measured(readings.get((station, "air_c")), (), now.timestamp()), now)


def _last_week(of: Literal["medium", "air"], found: MeasuredC, now: datetime) -> Warm:
    if not found.at_s:
        return Warm("medium")
    recent = found.between((now - WEEK).timestamp(), now.timestamp() + 1)
    last_at = datetime.fromtimestamp(found.at_s[-1], now.tzinfo)
    return Warm(of, tuple(recent.at_s), tuple(recent.c), last_at, found.c[-1])


def _expected(season: Season, records: Records, number: int, units: Units) -> Temperatures | None:
    station = season.stations[number]
    settings = records.place(("station", station.name)).settings
    holds = thermostat_holds_medium(station)
    found = expectations(station.expected, settings, thermostat_holds_it=holds, units=units)
    return found[-1].medium


def _limits(season: Season, records: Records, station: str) -> tuple[CropLimits, ...]:
    crops: dict[str, Crop] = {}
    for sowing in records.sowings_in(("station", station)):
        one = records.standings[sowing]
        crop = season.crop_of(records.lot_of(sowing))
        if crop is not None and one.from_seed and one.closed is None and one.up_since is None:
            crops[crop.name] = crop
    return tuple(
        CropLimits(
            crop.name,
            crop.lowest_c.best,
            crop.highest_c.best,
            basis_in_words(crop.lowest_c, season.crops.sources),
            basis_in_words(crop.highest_c, season.crops.sources),
        )
        for crop in crops.values()
    )


def _stands_there(
    season: Season, records: Records, groups: Iterable[Group]
) -> tuple[StandsThere, ...]:
    found = [_stands(season, records, group) for group in groups]
    return tuple(sorted(found, key=lambda group: (natural(group.tray or ""), natural(group.name))))


def _stands(season: Season, records: Records, group: Group) -> StandsThere:
    one, crop = records.standings[group.sowing], season.crop_of(group.lot)
    return StandsThere(
        id=one.id,
        name=one.name,
        crop=crop.name if crop else "",
        tray=group.tray,
        container=group.container.name if group.container else group.container_text,
        seeds=one.seeds,
        standing=one.standing,
        emerged=one.emerged,
        up=one.up_since is not None,
        from_seed=one.from_seed,
    )


class ReadSeries(Struct, frozen=True, kw_only=True):
    """One quantity at one place, read in one way.

    Attributes:
        station: The station; None of a tray that stands at none.
        tray: The tray, where it was read in one.
        quantity: What was measured, in the unit that its name ends with.
        by: How.
        readings: How many, those in doubt among them.
        lowest: The lowest that is not in doubt; None where all are.
        highest: The highest of these.
        last_value: The last of these; the last of all where all are in doubt.
        last_at: When that was read.
        marks: How many are in doubt, by why.
    """

    station: str | None
    tray: str | None = None
    quantity: Quantity
    by: Literal["logger", "hand"]
    readings: int
    lowest: float | None
    highest: float | None
    last_value: float
    last_at: datetime
    marks: dict[str, int] = {}


def read_series(
    stations: Sequence[str],
    readings: Readings,
    records: Records,
    zone: tzinfo,
    until: datetime | None = None,
) -> tuple[ReadSeries, ...]:
    """Every series: the loggers' first, then what was read by hand; each in walking order.

    Args:
        stations: Names of the stations in walking order.
        readings: What loggers measured.
        records: What was read by hand, as of their last day.
        zone: The season's.
        until: Leaves out what loggers measured later.
    """
    order = {name: number for number, name in enumerate(stations)}
    logged = [found for series in readings.values() for found in _logged(series, zone, until)]
    by_hand = list(_by_hand(records))

    def place(series: ReadSeries) -> tuple[int, str, bool, str]:
        at = series.station or ""
        return order.get(at, len(order)), at, series.tray is not None, series.tray or ""

    return (*sorted(logged, key=place), *sorted(by_hand, key=place))


def _logged(series: Series, zone: tzinfo, until: datetime | None) -> Iterator[ReadSeries]:
    end = len(series) if until is None else bisect_right(series.at_s, until.timestamp())
    if not end:
        return
    seen = series if end == len(series) else series.at(range(end))
    good = seen.good()
    last = good if len(good) else seen
    yield ReadSeries(
        station=seen.station,
        quantity=seen.quantity,
        by="logger",
        readings=len(seen),
        lowest=min(good.value, default=None),
        highest=max(good.value, default=None),
        last_value=last.value[-1],
        last_at=datetime.fromtimestamp(last.at_s[-1], zone),
        marks=dict(Counter(mark for mark in seen.marks if mark)),
    )


def _by_hand(records: Records) -> Iterator[ReadSeries]:
    for (kind, name), place in records.places.items():
        by_quantity: dict[Quantity, list[Read]] = {}
        for entry in place.readings:
            by_quantity.setdefault(entry.quantity, []).append(entry)
        for quantity, read in by_quantity.items():
            values = [entry.value for entry in read]
            yield ReadSeries(
                station=place.station_at() if kind == "tray" else name,
                tray=name if kind == "tray" else None,
                quantity=quantity,
                by="hand",
                readings=len(read),
                lowest=min(values),
                highest=max(values),
                last_value=values[-1],
                last_at=read[-1].at,
            )
