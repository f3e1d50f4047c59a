"""What stands where, week by week: trays by station from the calendar, and where they clash.

Areas are added up: trays that do not go side by side need more. Lots on the same station in the
same week share trays of a kind, cell by cell, as growers fill them.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from math import ceil
from typing import Final

from msgspec import Struct

from seedstart.days import monday_of
from seedstart.planning.row import Row, row_key
from seedstart.season.containers import Container
from seedstart.season.lot import Lot
from seedstart.season.plan import Season

# Where the lots do not say: common practice, no source.
_PRICKED_INTO: Final = "tray of 72"
_POTTED_INTO: Final = "9 cm pot"
_HARDENED_ON: Final = ("frame", "tunnel", "outdoors")


class Stand(Struct, frozen=True):
    """A stretch of time in which a sowing stands at a station.

    Attributes:
        row: Name of the row.
        lot: Its lot.
        station: Where.
        container: In what.
        cells: Cells that it fills; of open trays, trays.
        since: First day.
        until: The day it leaves.
        stage: `seed` until it comes up, then `seedlings`, `pots`, `hardening`.
    """

    row: str
    lot: str
    station: str
    container: Container
    cells: int
    since: date
    until: date
    stage: str

    def in_week(self, monday: date) -> bool:
        """Whether it stands there on a day of that ISO week."""
        return self.since < monday + timedelta(days=7) and monday < self.until


class Load(Struct, frozen=True):
    """What a station carries in one ISO week.

    Attributes:
        station: Which.
        monday: The week's first day.
        used_m2: Area of the trays, square metres.
        of_m2: The station's area; None where it is not said.
        stands: What stands there.
    """

    station: str
    monday: date
    used_m2: float
    of_m2: float | None
    stands: tuple[Stand, ...]

    @property
    def share(self) -> float | None:
        """Used over whole; above 1 it does not fit."""
        return self.used_m2 / self.of_m2 if self.of_m2 else None


def stands(rows: Iterable[Row], season: Season) -> list[Stand]:
    """Where every dated row stands from sowing to setting out, by the best of its windows."""
    lots = {lot.name: lot for lot in season.lots}
    containers = {one.name: one for one in season.containers}
    frame = next((one.name for one in season.stations if one.kind in _HARDENED_ON), None)
    found: list[Stand] = []
    for row in rows:
        lot = lots.get(row.lot or "")
        if lot is not None and row.sow_day is not None:
            found += _stands_of(row, lot, containers, frame)
    return found


def _stands_of(
    row: Row, lot: Lot, containers: dict[str, Container], frame: str | None
) -> Iterator[Stand]:
    name = row_key(row)
    days = {step.name: step.window.best for step in row.steps if step.window}
    sown_in = containers[lot.container or _PRICKED_INTO]
    grown_in = sown_in if sown_in.cells > 0 else containers[_PRICKED_INTO]
    plants = lot.want or row.seeds or 1
    seeds = row.seeds or plants
    out = days.get("set_out", days["emerge"])
    stages = [
        (days["sow"], "seed", lot.station, sown_in, seeds),
        (days["emerge"], "seedlings", lot.then or lot.station, sown_in, seeds),
    ]
    if "prick_out" in days:
        stages.append((days["prick_out"], "seedlings", lot.then or lot.station, grown_in, plants))
    if "pot_on" in days:
        pot = containers[_POTTED_INTO]
        stages.append((days["pot_on"], "pots", lot.then or lot.station, pot, plants))
    if "harden" in days:
        _, _, _, last_in, _ = stages[-1]
        stages.append((days["harden"], "hardening", frame, last_in, plants))
    ends = [since for since, *_ in stages[1:]] + [out]
    for (since, stage, station, container, count), until in zip(stages, ends, strict=True):
        if station is not None and since < until:
            cells = count if container.cells else 1
            yield Stand(name, lot.name, station, container, cells, since, until, stage)


def loads(standing: Sequence[Stand], season: Season) -> list[Load]:
    """What each station carries in each week in which anything stands on it."""
    areas = {one.name: one.area_m[0] * one.area_m[1] for one in season.stations if one.area_m}
    found = []
    for station in season.stations:
        here = [stand for stand in standing if stand.station == station.name]
        for monday in _weeks(here):
            held = _once_each(stand for stand in here if stand.in_week(monday))
            if held:
                area = areas.get(station.name)
                found.append(Load(station.name, monday, used_m2(held), area, held))
    return found


def _once_each(held: Iterable[Stand]) -> tuple[Stand, ...]:
    """A sowing that changes its container in a week counts once, with the larger one."""
    largest: dict[str, Stand] = {}
    for stand in held:
        other = largest.get(stand.row)
        if other is None or used_m2([stand]) > used_m2([other]):
            largest[stand.row] = stand
    return tuple(largest.values())


def station_load_m2(standing: Iterable[Stand], station: str, monday: date) -> float:
    """Area in use at a station in one ISO week, m²."""
    here = (stand for stand in standing if stand.station == station and stand.in_week(monday))
    return used_m2(_once_each(here))


def _weeks(here: Sequence[Stand]) -> Iterator[date]:
    if not here:
        return
    monday = monday_of(min(stand.since for stand in here))
    last = max(stand.until for stand in here)
    while monday < last:
        yield monday
        monday += timedelta(days=7)


def used_m2(held: Iterable[Stand]) -> float:
    """Area of what stands together, m²: cells of one kind of tray are filled up first."""
    cells: dict[Container, int] = defaultdict(int)
    for stand in held:
        cells[stand.container] += stand.cells
    return sum(trays(kind, count) * area_m2(kind) for kind, count in cells.items())


def trays(kind: Container, cells: int) -> int:
    """Trays (or pots) that hold so many cells."""
    return ceil(cells / max(kind.cells, 1))


def area_m2(kind: Container) -> float:
    """Footprint of one container, m²."""
    return kind.footprint_m[0] * kind.footprint_m[1]
