"""A mat that no longer heats, readings that stopped."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final

from seedstart.daily.check import Alert
from seedstart.daily.mats import AFTER_WATERING_HOURS, Fallen, fallen
from seedstart.daily.scene import Scene
from seedstart.daily.spells import Trace
from seedstart.daily.wording import degrees, degrees_apart, first_few, moment
from seedstart.season.stations import HEATED, Station
from seedstart.text import plural

# Readings came daily where there were some on each of so many days before the last. Common
# practice, no source.
_DAILY_DAYS: Final = 5
_SILENT_HOURS: Final = 36.0
# Where the air is the room's.
_IN_THE_ROOM: Final = frozenset({"shelf", "bench", "mat", "sill"})
# What stopped long ago was given up.
_GIVEN_UP_DAYS: Final = 10  # of readings that stopped nothing is said any more


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
            "see that it is plugged in, its thermostat set and its probe in the medium",
            "unplug a mat with a damaged cable or a wet plug, and leave it to an electrician",
        ),
        basis=f"measured until {moment(_last(medium, scene), scene.today)}, "
        f"{'against the air; ' if found.rise_c is not None else ''}"
        f"not told within {plural(round(AFTER_WATERING_HOURS), 'hour')} of watering",
    )


def _set_to(expected_c: float, scene: Scene) -> str:
    return f"to hold {degrees(expected_c, scene.season.units)}"


def _fell_in_words(found: Fallen, held_c: float, scene: Scene) -> str:
    """How warm it is, how warm it was or is to be, and what that is above the room."""
    units = scene.season.units
    before = "over its week before" if found.held_c is not None else "expected of it"
    text = f"{degrees(found.now_c, units)} in the medium, {degrees(held_c, units)} {before}"
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
    rests = f": the dates of {first_few(names)} rest on what went before" if names else ""
    yield Alert(
        key=f"readings stopped {station.name} {last.date().isoformat()}",
        kind="readings stopped",
        level="know",
        subject=("station", station.name),
        station=station.name,
        sowings=tuple(names),
        brief=f"no reading since {moment(last, scene.today)} → take in the logger's file",
        text=f"no reading for {plural(round(silent / 24), 'day')}{rests}",
        since=last,
        remedies=("take in the logger's file", "see whether the logger runs"),
        basis=f"readings on each of the {_DAILY_DAYS} days before; common practice, no source",
    )


def _came_daily(trace: Trace, last: datetime) -> bool:
    """Whether there was a reading on each of the days before the last one's."""
    midnight = last.replace(hour=0, minute=0, second=0, microsecond=0)
    days = [(midnight - timedelta(days=number)).timestamp() for number in range(_DAILY_DAYS + 1)]
    return all(trace.between(begins_s, ends_s - 1).at_s for ends_s, begins_s in pairwise(days))
