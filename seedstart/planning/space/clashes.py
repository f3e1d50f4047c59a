"""Weeks in which a station is too full, and what to do about it."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby

from msgspec import Struct, structs

from seedstart.days import short_day
from seedstart.planning.calendar.crop_times import at_station
from seedstart.planning.calendar.row import Row, row_key
from seedstart.planning.calendar.season_rows import places_to_come_up
from seedstart.planning.calendar.sowing_request import Where
from seedstart.planning.space.room_by_week import Load, Stand, loads, station_load_m2
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Container
from seedstart.text import plural
from seedstart.tracking.whereabouts import area_m2, used_m2

_WEEK = timedelta(days=7)
# Where seedlings have daylight; elsewhere they need lamps.
_IN_DAYLIGHT = frozenset({"greenhouse", "tunnel"})


class Clash(Struct, frozen=True):
    """Weeks in a row in which more stands at a station than it has room for.

    Attributes:
        station: Which.
        first: Monday of the first week.
        last: Monday of the last.
        worst: The fullest of those weeks.
        remedies: What to do, one change each; empty where no single change does.
    """

    station: str
    first: date
    last: date
    worst: Load
    remedies: tuple[str, ...]


class _Plan(Struct, frozen=True):
    """What remedies are looked for in."""

    rows: dict[str, Row]
    standing: Sequence[Stand]
    season: Season


def clashes(rows: Sequence[Row], standing: Sequence[Stand], season: Season) -> list[Clash]:
    """Every clash of the calendar, in walking order, with its remedies."""
    plan = _Plan({row_key(row): row for row in rows}, standing, season)
    too_full = [load for load in loads(standing, season) if (load.share or 0) > 1]
    found = []
    for _, run in groupby(enumerate(too_full), key=_run_key):
        weeks = [load for _, load in run]
        worst = max(weeks, key=lambda load: load.used_m2)
        remedies = tuple(_remedies(weeks, plan))
        found.append(Clash(worst.station, weeks[0].monday, weeks[-1].monday, worst, remedies))
    return found


def _run_key(numbered: tuple[int, Load]) -> tuple[str, date]:
    """What loads of one station in consecutive weeks have in common."""
    number, load = numbered
    return load.station, load.monday - number * _WEEK


def _remedies(weeks: list[Load], plan: _Plan) -> Iterator[str]:
    """The first single change of each kind that makes all these weeks fit, big lots first."""
    for remedy in (_sow_later, _stand_elsewhere, _smaller_cells):
        found = (remedy(name, weeks, plan) for name in _biggest_first(weeks))
        first = next((text for text in found if text), None)
        if first:
            yield first


def _biggest_first(weeks: list[Load]) -> list[str]:
    size: dict[str, float] = {}
    for stand in {stand for load in weeks for stand in load.stands}:
        size[stand.row] = size.get(stand.row, 0) + used_m2([stand])
    return sorted(size, key=lambda name: (-size[name], name))


def _fits(changed: Sequence[Stand], station: str, mondays: Sequence[date], of_m2: float) -> bool:
    return all(station_load_m2(changed, station, monday) <= of_m2 for monday in mondays)


def _sow_later(name: str, weeks: list[Load], plan: _Plan) -> str | None:
    """Whole weeks later, inside the window of the calendar."""
    row = plan.rows.get(name)
    sow = row.window("sow") if row else None
    if sow is None:
        return None
    for later in range(1, (sow.latest - sow.best).days // 7 + 1):
        changed = [_later(stand, later) if stand.row == name else stand for stand in plan.standing]
        # The weeks after may fill up instead: look as far as the shift can reach.
        mondays = [weeks[0].monday + week * _WEEK for week in range(len(weeks) + later)]
        if _fits(changed, weeks[0].station, mondays, weeks[0].of_m2 or 0):
            day = short_day(sow.best + later * _WEEK)
            return f"sow {name} on {day}, {plural(later, 'week')} later"
    return None


def _later(stand: Stand, weeks: int) -> Stand:
    by = weeks * _WEEK
    return structs.replace(stand, since=stand.since + by, until=stand.until + by)


def _stand_elsewhere(name: str, weeks: list[Load], plan: _Plan) -> str | None:
    """Another station with room in those weeks, on which it comes up well if it is still seed."""
    station, mondays = weeks[0].station, [load.monday for load in weeks]
    places = places_to_come_up(plan.season)
    moving = [stand for stand in plan.standing if stand.row == name and stand.station == station]
    seed = any(stand.stage == "seed" for stand in moving)
    for other in plan.season.stations:
        place = places.get(other.name)
        if other.name == station or other.area_m is None or place is None:
            continue
        if seed and not _comes_up(plan, name, place):
            continue
        lit = bool(other.lamps) or other.kind in _IN_DAYLIGHT
        if not lit and any(stand.stage != "seed" for stand in moving):
            continue
        changed = [
            structs.replace(stand, station=other.name) if stand in moving else stand
            for stand in plan.standing
        ]
        reach = sorted({load.monday for load in loads(changed, plan.season) if _has(load, name)})
        room = other.area_m[0] * other.area_m[1]
        if _fits(changed, station, mondays, weeks[0].of_m2 or 0) and _fits(
            changed, other.name, reach, room
        ):
            return f"put {name} on the {other.name}"
    return None


def _has(load: Load, name: str) -> bool:
    return any(stand.row == name for stand in load.stands)


def _comes_up(plan: _Plan, name: str, place: Where) -> bool:
    row = plan.rows.get(name)
    crop = plan.season.crops.crops.get(row.crop) if row else None
    return crop is not None and at_station(crop, place.medium).outlook.verdict == "comes up"


def _smaller_cells(name: str, weeks: list[Load], plan: _Plan) -> str | None:
    """The container with the fewest cells that still makes it fit; what stands stays in its own."""
    station, mondays = weeks[0].station, [load.monday for load in weeks]
    ahead = (stand for load in weeks for stand in load.stands if not stand.here)
    now = max(
        (stand.container for stand in ahead if stand.row == name), key=_per_cell_m2, default=None
    )
    if now is None:
        return None
    for smaller in sorted(plan.season.containers, key=lambda container: -_per_cell_m2(container)):
        if smaller.cells == 0 or _per_cell_m2(smaller) >= _per_cell_m2(now):
            continue
        changed = [
            structs.replace(stand, container=smaller)
            if stand.row == name and stand.container == now and not stand.here
            else stand
            for stand in plan.standing
        ]
        if _fits(changed, station, mondays, weeks[0].of_m2 or 0):
            return f"raise {name} in a {smaller.name} instead of a {now.name}"
    return None


def _per_cell_m2(kind: Container) -> float:
    return area_m2(kind) / max(kind.cells, 1)
