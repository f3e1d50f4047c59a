"""A mat that no longer heats, readings that stopped."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final, NamedTuple

from seedstart.daily.alerts.spells import Trace
from seedstart.daily.check import Alert, degrees, degrees_apart, first_few, moment
from seedstart.daily.round_context import Scene
from seedstart.season.plan.stations import HEATED, Station
from seedstart.text import plural
from seedstart.tracking.station_warmth import NO_LONGER_HEATS_C

_HOUR_S: Final = 3600.0
_DAY_S: Final = 24 * _HOUR_S
# All of these are common practice without a source: a mat is said to hold a medium some 6 to 11 °C
# above the room; one that holds less than 3 °C can't be told from none, and one that fell by half
# of what it held is not merely drifting.
_LEAST_RISE_C: Final = 3.0
_FALLEN_SHARE: Final = 0.5
_NOW_HOURS: Final = 1.0
_WEEK_DAYS: Final = 7.0
_LEAST_KNOWN_DAYS: Final = 2.0
_WEEKS_BACK: Final = 4  # what fell long ago still is
_GIVEN_UP_DAYS: Final = 10  # of readings that stopped nothing is said any more
_NO_DIP_HOURS: Final = 3.0  # against its plan alone it is judged by more than an hour
_BY_HAND_HOURS: Final = 6.0  # two readings of one morning are one
# Water from the can is colder than the medium.
AFTER_WATERING_HOURS: Final = 3.0


class Fallen(NamedTuple):
    """A station that fell.

    Attributes:
        since_s: Since when it has been as cold as this.
        now_c: The mean over the last hour; of readings by hand the last.
        held_c: The mean of its medium over a week before; None where it is held against its plan.
        rise_c: How far it was, or is to be, above the room; None where nobody measured the room.
        now_rise_c: How far it is now.
    """

    since_s: float
    now_c: float
    held_c: float | None
    rise_c: float | None = None
    now_rise_c: float | None = None


def fallen(
    medium: Trace,
    room: Trace,
    now_s: float,
    *,
    since_s: float,
    watered_s: float | None,
    expected_c: float | None = None,
) -> Fallen | None:
    """Whether a heated medium has fallen, and since when; it stands until that warms again.

    By half of its rise over the room, against a week before in which it heated; where it was not
    measured so long, against what is expected of it. Of readings by hand, or where nobody measured
    the room, it takes two.

    Args:
        medium: The medium at the station.
        room: The air there, or what stands in for it.
        now_s: The moment.
        since_s: The settings of the station last changed then: nothing before it is compared.
        watered_s: When it was last watered: what is read in the three hours after that is no sign.
        expected_c: What is expected of it as it is set now.

    Returns:
        None while it heats, or where that cannot be judged.
    """
    if watered_s is not None and medium.at_s:
        last_s = medium.at_s[-1]
        if 0 <= last_s - watered_s < AFTER_WATERING_HOURS * _HOUR_S:
            medium = medium.between(0.0, watered_s - 1)
    medium = medium.between(since_s, now_s)
    if not medium.at_s or now_s - medium.at_s[-1] > _GIVEN_UP_DAYS * _DAY_S:
        return None
    last_s = medium.at_s[-1]
    for weeks in range(_WEEKS_BACK):
        found = _against_a_week(medium, room, last_s - _DAY_S - weeks * _WEEK_DAYS * _DAY_S)
        if found is not None:
            return found
    return _against_its_plan(medium, room, expected_c) if expected_c is not None else None


def _against_a_week(medium: Trace, room: Trace, ends_s: float) -> Fallen | None:
    """Against a week that ended a day ago or longer: a fall must not lower its own measure."""
    last_s = medium.at_s[-1]
    begins_s = ends_s - (_WEEK_DAYS - 1) * _DAY_S
    known = medium.between(begins_s, last_s)
    if not known.at_s or last_s - known.at_s[0] < _LEAST_KNOWN_DAYS * _DAY_S:
        return None
    week = _means(medium, room, begins_s, ends_s)
    now = _means(medium, room, last_s - _NOW_HOURS * _HOUR_S, last_s)
    if week is None or now is None:
        return None
    (week_c, room_c), (now_c, room_now_c) = week, now
    rise_c, now_rise_c = week_c - room_c, now_c - room_now_c
    low_c = week_c - _FALLEN_SHARE * rise_c
    if rise_c < _LEAST_RISE_C or now_c > low_c or now_rise_c > _FALLEN_SHARE * rise_c:
        return None
    if not _is_sure(medium, low_c, 0.0):
        return None
    return Fallen(_low_since(medium, low_c), now_c, week_c, rise_c, now_rise_c)


def _against_its_plan(medium: Trace, room: Trace, expected_c: float) -> Fallen | None:
    """Against what is expected of it: it is no warmer than the room, or far colder than that."""
    last_s = medium.at_s[-1]
    now = _means(medium, room, last_s - _NOW_HOURS * _HOUR_S, last_s)
    now_c = medium.between(last_s - _NOW_HOURS * _HOUR_S, last_s).mean_c()
    low_c = expected_c - NO_LONGER_HEATS_C
    if now_c is None or now_c > low_c or not _is_sure(medium, low_c, _NO_DIP_HOURS):
        return None
    since_s = _low_since(medium, low_c)
    if now is None:
        return Fallen(since_s, now_c, None)
    rise_c, now_rise_c = expected_c - now[1], now[0] - now[1]
    if now_rise_c >= _LEAST_RISE_C:
        return None  # it heats, though by less than is expected of it
    return Fallen(since_s, now_c, None, rise_c, now_rise_c)


def _is_sure(medium: Trace, low_c: float, hours: float) -> bool:
    """Whether it was read so low twice, for so long that it is no passing dip."""
    last_s, since_s = medium.at_s[-1], _low_since(medium, low_c)
    apart_h = (last_s - since_s) / _HOUR_S
    if last_s in medium.by_hand:
        return apart_h >= _BY_HAND_HOURS
    return apart_h > 0 and apart_h >= hours


def _means(medium: Trace, room: Trace, from_s: float, until_s: float) -> tuple[float, float] | None:
    medium_c = medium.between(from_s, until_s).mean_c()
    # The room may be read less often than the medium.
    room_c = room.between(from_s - _NOW_HOURS * _HOUR_S, until_s).mean_c()
    return None if medium_c is None or room_c is None else (medium_c, room_c)


def _low_since(trace: Trace, low_c: float) -> float:
    """Since when every reading has been at or below a temperature."""
    since_s = trace.at_s[-1]
    for at_s, c in zip(reversed(trace.at_s), reversed(trace.c), strict=True):
        if c > low_c:
            break
        since_s = at_s
    return since_s


# Readings came daily where there were some on each of so many days before the last. Common
# practice, no source.
_DAILY_DAYS: Final = 5
_SILENT_HOURS: Final = 36.0
# Where the air is the room's.
_IN_THE_ROOM: Final = frozenset({"shelf", "bench", "mat", "sill"})
# What stopped long ago was given up.


def no_longer_heats(station: Station, scene: Scene) -> Iterator[Alert]:
    """A heated medium that fell against its own week and against the room."""
    if station.kind not in HEATED or not scene.records.sowings_in(("station", station.name)):
        return
    place = scene.records.place(("station", station.name))
    mats = [one.mat for one in place.settings if one.mat is not None]
    if mats and mats[-1] == "off":
        return
    medium, room = scene.medium(station.name), _room(station, scene)
    since_s = max((one.at.timestamp() for one in place.settings), default=0.0)
    watered = _watered_s(station, scene)
    now_s = scene.now.timestamp()
    expected = scene.expected_at(station.name)
    found = fallen(
        medium,
        room,
        now_s,
        since_s=since_s,
        watered_s=watered,
        expected_c=expected.mean_c if expected else None,
    )
    if found is None:
        return
    units = scene.season.units
    since = datetime.fromtimestamp(found.since_s, scene.now.tzinfo)
    here = [
        scene.asked(scene.records.standings[one]).name
        for one in scene.records.sowings_in(("station", station.name))
    ]
    held = found.held_c if found.held_c is not None else expected.mean_c if expected else 0.0
    was = f"was {degrees(held, units)}" if found.held_c is not None else _set_to(held, scene)
    yield Alert(
        key=f"mat no longer heats {station.name} {since.date().isoformat()}",
        kind="mat no longer heats",
        level="act_now",
        subject=("station", station.name),
        station=station.name,
        sowings=tuple(here),
        brief=f"{degrees(found.now_c, units)}, {was} → plug, thermostat, probe?",
        text=_fell_in_words(found, held, scene),
        since=since,
        remedies=(
            "check that it is plugged in, its thermostat set and its probe in the medium",
            "unplug a mat with a damaged cable or a wet plug, and leave it to an electrician",
            *_meanwhile(station, scene),
        ),
        basis=f"measured until {moment(_last(medium, scene), scene.today)}, "
        f"{'against the air; ' if found.rise_c is not None else ''}"
        f"not raised within {plural(round(AFTER_WATERING_HOURS), 'hour')} of watering",
    )


def _meanwhile(station: Station, scene: Scene) -> Iterator[str]:
    """Where the seed that lies there comes up until the mat heats again."""
    standings = map(
        scene.records.standings.__getitem__, scene.records.sowings_in(("station", station.name))
    )
    for one in filter(scene.waits, standings):
        crop = scene.crop(one)
        places = scene.prospects.better_places(crop, station.name) if crop is not None else ()
        if places:
            yield f"until it heats, carry what is not up to the {places[0].name}"
            return


def _set_to(expected_c: float, scene: Scene) -> str:
    return f"to hold {degrees(expected_c, scene.season.units)}"


def _fell_in_words(found: Fallen, held_c: float, scene: Scene) -> str:
    """How warm it is, how warm it was or is to be, and what that is above the room."""
    units = scene.season.units
    before = "last week" if found.held_c is not None else "expected"
    was = f"{degrees(held_c, units)} {before}"
    text = f"the medium is at {degrees(found.now_c, units)} ({was})"
    if found.rise_c is None or found.now_rise_c is None:
        return text
    rise, rose = degrees_apart(found.now_rise_c, units), degrees_apart(found.rise_c, units)
    return f"{text}: {rise} above the room instead of {rose}"


def _room(station: Station, scene: Scene) -> Trace:
    """The air at the station; else that of another one in the same room.

    What stands outdoors, under glass or behind a door has an air of its own.
    """
    others = (one.name for one in scene.season.stations if one.kind in _IN_THE_ROOM)
    names = [station.name, *others]
    traces = (scene.air(name) for name in names)
    return next((trace for trace in traces if trace.at_s), Trace((), ()))


def _watered_s(station: Station, scene: Scene) -> float | None:
    records = scene.records
    trays = [("tray", tray) for tray in records.trays_at(station.name)]
    places = [records.place(("station", station.name))]
    places += [records.place(("tray", name)) for _, name in trays]
    standings = [records.standings[one] for one in records.sowings_in(("station", station.name))]
    entries = [one.watered[-1] for one in (*places, *standings) if one.watered]
    return max((entry.at.timestamp() for entry in entries), default=None)


def _last(trace: Trace, scene: Scene) -> datetime:
    return datetime.fromtimestamp(trace.at_s[-1], scene.now.tzinfo)


def readings_stopped(station: Station, scene: Scene) -> Iterator[Alert]:
    """Readings that came daily, and stopped while seed or plants stand there."""
    trace = scene.medium(station.name)
    here = scene.records.sowings_in(("station", station.name))
    if not trace.at_s or not here:
        return
    last = _last(trace, scene)
    silent = (scene.now - last).total_seconds() / 3600
    if not _SILENT_HOURS < silent <= _GIVEN_UP_DAYS * 24 or not _came_daily(trace, last):
        return
    waiting = [one for one in here if scene.waits(scene.records.standings[one])]
    names = [scene.asked(scene.records.standings[one]).name for one in waiting]
    rests = f": the dates of {first_few(names)} go by earlier readings" if names else ""
    yield Alert(
        key=f"readings stopped {station.name} {last.date().isoformat()}",
        kind="readings stopped",
        level="know",
        subject=("station", station.name),
        station=station.name,
        sowings=tuple(names),
        brief=f"no usable reading since {moment(last, scene.today)} → take in the logger's file",
        text=f"no usable reading for {plural(round(silent / 24), 'day')}{rests}",
        since=last,
        remedies=(
            "take in the logger's file",
            "check that the logger runs and its sensor is not stuck: what never moves is left out",
        ),
        basis=f"readings on each of the {_DAILY_DAYS} days before; common practice, no source",
    )


def _came_daily(trace: Trace, last: datetime) -> bool:
    """Whether there was a reading on each of the days before the last one's."""
    midnight = last.replace(hour=0, minute=0, second=0, microsecond=0)
    days = [(midnight - timedelta(days=number)).timestamp() for number in range(_DAILY_DAYS + 1)]
    return all(trace.between(begins_s, ends_s - 1).at_s for ends_s, begins_s in pairwise(days))
