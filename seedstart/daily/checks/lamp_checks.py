"""Lamps over plants that grow: how near the leaves have come."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Final

from seedstart.daily.check import PRACTICE, Check, Doing, Why
from seedstart.daily.round_context import Scene
from seedstart.days import short_day
from seedstart.growing.light.needs import CLOSEST_MM
from seedstart.planning.light.lamp_distance import Distance, distance_at
from seedstart.season.plan.stations import Station
from seedstart.units import show_length

# How often leaves and lamps are looked at where nobody measures the plants. Common practice, no
# source.
_LOOK_AGAIN_DAYS: Final = 7


def raise_lamps(scene: Scene) -> Iterator[Check]:
    """Lamps go up, or trays down, as the leaves come near: once a week a look, or when growth says.

    Only where somebody says how high the lamps hang.
    """
    for station in scene.season.stations:
        since = _grows_since(station, scene) if station.lamps else None
        found = None if since is None else distance_at(station, scene.records, scene.now)
        if since is None or found is None:
            continue
        begun = max(since, found.said_on) if found.said_on else since
        due = _due(begun.date(), found, scene.today)
        if due is not None and due <= scene.today:
            yield _check(station, begun.date(), due, found, scene)


def _due(begun: date, found: Distance, today: date) -> date | None:
    """The latest of its weekly days; where growth was measured, the day it says."""
    if found.growth is not None and found.growth.mm_a_day > 0 and found.said_on is not None:
        return found.too_close_on
    weeks = (today - begun).days // _LOOK_AGAIN_DAYS
    return begun + timedelta(days=weeks * _LOOK_AGAIN_DAYS) if weeks > 0 else None


def _check(station: Station, begun: date, due: date, found: Distance, scene: Scene) -> Check:
    closest = show_length(CLOSEST_MM / 1000, scene.season.units)
    number = (due - begun).days // _LOOK_AGAIN_DAYS
    key = f"raise lamps {station.name} {begun.isoformat()} {number}"
    return Check(
        key=key,
        what="raise lamps",
        says=f"leaves within {closest} of the lamps? Raise them, or lower the trays",
        why=tuple(_why(found, scene)),
        subject=("station", station.name),
        station=station.name,
        due=due,
        tick=Doing("check", ({},), {"check": {"check": key}}),
        typed=Doing("adjust", ({"station": station.name},)),
    )


def _why(found: Distance, scene: Scene) -> Iterator[Why]:
    units = scene.season.units
    high = show_length(round(max(found.now_mm, 0) / 1000, 2), units)
    if found.growth is not None and found.said_on is not None:
        yield Why(
            f"about {high} by now: {found.growth.sowing} grew {found.growth.mm_a_day:.1f} mm a day",
            f"measured till {short_day(found.growth.measured_on)}",
        )
    else:
        on = f" on {short_day(found.said_on.date())}" if found.said_on else " by the plan"
        yield Why(f"the lamps hung {high} over the leaves{on}")
        yield Why("looked at once a week", PRACTICE)
    yield Why(f"no nearer than {show_length(CLOSEST_MM / 1000, units)}", PRACTICE)


def _grows_since(station: Station, scene: Scene) -> datetime | None:
    """Since when something has grown there that is up; None where nothing does."""
    found = []
    for sowing in scene.records.sowings_in(("station", station.name)):
        one = scene.records.standings[sowing]
        if one.standing and one.up_since is not None:
            stay = one.stays[-1].since if one.stays else one.at
            found.append(max(one.up_since, stay))
    return min(found, default=None)


def lamps_done(scene: Scene) -> Iterator[Check]:
    """Lamps that were hung higher or lower today."""
    for station in scene.season.stations:
        settings = scene.records.place(("station", station.name)).settings
        high = [one for one in settings if one.lamp_height_mm is not None]
        if high and high[-1].at.date() == scene.today:
            at = show_length((high[-1].lamp_height_mm or 0) / 1000, scene.season.units)
            yield Check(
                key=f"raise lamps {station.name} done",
                what="raise lamps",
                says=f"lamps set to {at} over the leaves",
                why=(),
                subject=("station", station.name),
                station=station.name,
                due=scene.today,
                done_by=high[-1].by,
                done_at=high[-1].at,
            )
