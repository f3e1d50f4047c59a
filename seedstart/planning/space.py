"""What stands where, week by week: trays by station from the calendar, and where they clash.

Areas are added up: trays that do not go side by side need more. Lots on the same station in the
same week share trays of a kind, cell by cell, as growers fill them.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from math import ceil
from typing import Final, NamedTuple

from msgspec import Struct, structs

from seedstart.days import monday_of
from seedstart.planning.own_record import family
from seedstart.planning.row import Row, StepName, row_key
from seedstart.season.containers import Container
from seedstart.season.lot import Lot
from seedstart.season.plan import Season
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

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


class SoFar(NamedTuple):
    """What has happened by a day: what was sown stands where it is, and not where it was planned.

    Attributes:
        records: What happened.
        today: The day.
    """

    records: Records
    today: date


def stands(rows: Iterable[Row], season: Season, so_far: SoFar | None = None) -> list[Stand]:
    """Where every dated row stands from sowing to setting out, by the best of its windows.

    Args:
        rows: The calendar, as planned or as it is expected today.
        season: The plan.
        so_far: What has happened; None for the plan alone.
    """
    lots = {lot.name: lot for lot in season.lots}
    containers = {one.name: one for one in season.containers}
    frame = next((one.name for one in season.stations if one.kind in _HARDENED_ON), None)
    found: list[Stand] = []
    for row in rows:
        lot = lots.get(row.lot or "")
        if lot is None or row.sow_day is None:
            continue
        made = so_far.records.standings.get(row.sowing_id or "") if so_far else None
        if made is None or so_far is None:
            found += _stands_of(row, lot, containers, frame, _planned(row, lot))
        else:
            family = _Family(row, lot, made, so_far)
            found += family.moved(_stands_of(row, lot, containers, frame, family.numbers()))
    return found


class _Numbers(NamedTuple):
    """How many cells a row fills before and after pricking out, and when it is over."""

    seeds: int
    plants: int
    until: date


def _planned(row: Row, lot: Lot) -> _Numbers:
    plants = lot.want or row.seeds or 1
    return _Numbers(row.seeds or plants, plants, _best(row, "set_out", "emerge"))


def _best(row: Row, *names: StepName) -> date:
    """The best day of the first of these steps that has one; long past where none has."""
    days = (window.best for name in names if (window := row.window(name)) is not None)
    return next(days, date.min)


class _Family(NamedTuple):
    """A row that was sown: the sowing, and what was pricked out of it."""

    row: Row
    lot: Lot
    made: Standing
    so_far: SoFar

    @property
    def _all(self) -> list[Standing]:
        return list(family(self.made, self.so_far.records))

    def numbers(self) -> _Numbers:
        """The seeds that were sown; once some were pricked out, the plants that stand."""
        made = self.made
        wanted = self.lot.want or 1
        seeds = made.cells or made.seeds or made.about or wanted
        pricked = self._happened("prick_out")
        stand = sum(one.standing for one in self._all if one.alive)
        return _Numbers(seeds, (stand if pricked else 0) or self.lot.want or seeds, self._until())

    def _until(self) -> date:
        ends = [one.over for one in self._all]
        if all(ends):
            return max(end.date() for end in ends if end)
        # What is alive stands there today at least, whatever the calendar says.
        tomorrow = self.so_far.today + timedelta(days=1)
        return max(_best(self.row, "set_out", "emerge"), tomorrow)

    def _happened(self, name: StepName) -> bool:
        step = self.row.step(name)
        return step is not None and step.is_ == "happened"

    def moved(self, planned: Iterable[Stand]) -> Iterator[Stand]:
        """What has begun stands where it was carried; what is ahead, where the plan has it."""
        pricked = self._happened("prick_out")
        since = _best(self.row, "prick_out")
        for stand in planned:
            if stand.since > self.so_far.today:
                yield stand
            elif pricked and stand.since >= since:
                yield structs.replace(stand, station=self.row.station or stand.station)
            else:
                yield from self._by_stays(stand)

    def _by_stays(self, stand: Stand) -> Iterator[Stand]:
        spots = self.so_far.records.spots(self.made.id)
        for spot in spots:
            since = max(stand.since, spot.since.date())
            until = min(stand.until, spot.until.date()) if spot.until else stand.until
            if since < until:
                station = spot.station or stand.station
                yield structs.replace(stand, station=station, since=since, until=until)
        if not spots:
            yield stand


def _stands_of(
    row: Row, lot: Lot, containers: dict[str, Container], frame: str | None, numbers: _Numbers
) -> Iterator[Stand]:
    name = row_key(row)
    days = {step.name: step.window.best for step in row.steps if step.window}
    sown_in = containers[lot.container or _PRICKED_INTO]
    grown_in = sown_in if sown_in.cells > 0 else containers[_PRICKED_INTO]
    seeds, plants, out = numbers
    home = lot.station or row.station
    stages = [(days["sow"], "seed", home, sown_in, seeds)]
    if "emerge" in days:
        stages.append((days["emerge"], "seedlings", lot.then or home, sown_in, seeds))
    if "prick_out" in days:
        stages.append((days["prick_out"], "seedlings", lot.then or home, grown_in, plants))
    if "pot_on" in days:
        pot = containers[_POTTED_INTO]
        stages.append((days["pot_on"], "pots", lot.then or home, pot, plants))
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
