"""Seedlings in too little light by what was read there, or lit for longer than they stand."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from seedstart.daily.check import Alert, first_few
from seedstart.daily.round_context import Scene
from seedstart.days import short_day
from seedstart.growing.light.needs import need_of_all
from seedstart.planning.light.station_light import crops_at, read_dose
from seedstart.season.plan.stations import Station
from seedstart.text import plural
from seedstart.tracking.lamp_settings import lamps_since
from seedstart.tracking.light_readings import LIGHT
from seedstart.tracking.standing import Standing


def too_little_light(station: Station, scene: Scene) -> Iterator[Alert]:
    """Readings say that the leaves get less than the crops there need: they stretch."""
    place = scene.records.place(("station", station.name))
    logged = {
        key: series
        for key, series in scene.readings.items()
        if key[0] == station.name and key[1] in LIGHT
    }
    found = scene.memo.of(read_dose, station.name, station, place, logged, scene.now)
    growing = _growing(station, scene) if found is not None else []
    if found is None or not growing:
        return
    need = need_of_all(crops_at(station.name, scene.season, scene.records))
    if round(found.mol, 1) >= need.low_mol:
        return
    names = tuple(scene.asked(one).name for one in growing)
    told = f"{found.mol:.1f} mol a day at the leaf instead of {need.low_mol:g}"
    yield Alert(
        key=f"too little light {station.name} {found.last.date().isoformat()}",
        kind="too little light",
        level="today",
        subject=("station", station.name),
        station=station.name,
        sowings=names,
        brief=f"{told} → lower the lamps, or longer hours",
        text=f"{told}: {first_few(list(names))} will stretch",
        since=found.last,
        remedies=(
            "lower the lamps or raise the trays on blocks, and read again",
            f"let them burn longer, up to {need.longest_hours:g} h a day",
            "bring the trays together under the middle of the lamps",
        ),
        basis=f"{plural(found.number, 'reading')}, the last of {short_day(found.last.date())}; "
        f"{need.range_source}",
    )


def day_too_long(station: Station, scene: Scene) -> Iterator[Alert]:
    """The lamps burn for longer than the most sensitive crop there stands."""
    if not station.lamps:
        return
    place = scene.records.place(("station", station.name))
    setting = lamps_since(station, place.settings)[-1]
    hours = max((lamp.hours or 0 for lamp in setting.lamps), default=0)
    growing = _growing(station, scene) if hours else []
    need = need_of_all(crops_at(station.name, scene.season, scene.records))
    if not growing or hours <= need.longest_hours:
        return
    began = min((one.up_since for one in growing if one.up_since), default=scene.now)
    since: datetime = max(began, setting.since) if setting.since is not None else began
    names = tuple(scene.asked(one).name for one in growing)
    told = f"{hours:g} h of light a day; {need.longest_hours:g} are as many as is safe"
    yield Alert(
        key=f"day too long {station.name} {hours:g} h",
        kind="day too long",
        level="today",
        subject=("station", station.name),
        station=station.name,
        sowings=names,
        brief=f"{hours:g} h of light a day → {need.longest_hours:g} at most",
        text=told,
        since=since,
        remedies=(f"set the timer to {need.longest_hours:g} h or less",),
        basis=need.hours_source,
    )


def _growing(station: Station, scene: Scene) -> Sequence[Standing]:
    """The sowings there that are up; not those of a germination test."""
    here = (
        scene.records.standings[one] for one in scene.records.sowings_in(("station", station.name))
    )
    return [one for one in here if one.standing and one.alive and one.purpose != "test"]
