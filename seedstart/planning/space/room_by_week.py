"""What stands where, week by week, from today on: the plants there are, and what is planned.

Areas are added up: trays that do not go side by side need more. Lots on the same station in the
same week share trays of a kind, cell by cell, as growers fill them; a tray with a name is one.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import islice
from typing import Final, NamedTuple

from msgspec import Struct

from seedstart.days import monday_of
from seedstart.planning.calendar.cold_treatment import (
    cold_days,
    is_fridge,
    out_of_the_fridge_on,
)
from seedstart.planning.calendar.row import Row, StepName, row_key
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Container
from seedstart.tracking.records import Records
from seedstart.tracking.whereabouts import (
    POTTED_INTO,
    PRICKED_INTO,
    Group,
    grown_in,
    used_m2,
    whereabouts,
)

_MOST_WEEKS: Final = 104
_HARDENED_ON: Final = ("frame", "tunnel", "outdoors")
_DAY: Final = timedelta(days=1)


class Stand(Struct, frozen=True):
    """A stretch of time in which something stands at a station.

    Attributes:
        row: Name of the row; of plants that are in none, their own.
        lot: Its lot; empty where nobody knows.
        station: Where.
        container: In what.
        cells: Cells that it fills; of open trays, trays.
        since: First day.
        until: The day it leaves.
        stage: `seed` until it comes up, then `seedlings`, `pots`, `hardening`.
        tray: In which tray; None where none is named.
        here: Whether it stands in that container already.
    """

    row: str
    lot: str
    station: str
    container: Container
    cells: int
    since: date
    until: date
    stage: str
    tray: str | None = None
    here: bool = False

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
    """Where everything stands until it is set out, by the best days of the calendar.

    What is planned stands there from its sowing on; what was sown, from today on.

    Args:
        rows: The calendar, as planned or as it is expected today.
        season: The plan.
        so_far: What has happened; None for the plan alone.
    """
    found: list[Stand] = []
    there = _by_row(so_far.records, season) if so_far else {}
    for row in rows:
        lot = season.lots_by_name.get(row.lot or "")
        if lot is None or row.sow_day is None:
            continue
        if row.sowing_id is None or so_far is None:
            found += _planned(row, lot, season)
        for group in there.pop(row.sowing_id or "", ()):
            found += _from_now(group, row, lot, season, so_far) if so_far else ()
    for group in (group for groups in there.values() for group in groups):
        found += _here_today(group, so_far.today) if so_far else ()
    return found


class Uncounted(NamedTuple):
    """What takes room, and `stands` cannot say where or how much.

    Attributes:
        nowhere: Lots still to be sown, and sowings, for which no station is named.
        unsized: Sowings in something of which nobody knows how large it is.
    """

    nowhere: tuple[str, ...]
    unsized: tuple[str, ...]


def uncounted(
    rows: Iterable[Row], standing: Iterable[Stand], season: Season, so_far: SoFar
) -> Uncounted:
    """What is not among these stands, and why."""
    placed = {stand.row for stand in standing}
    to_sow = (row for row in rows if row.sowing_id is None and not row.station and row.sow_day)
    nowhere = [row.lot or "" for row in to_sow if row_key(row) not in placed]
    groups = whereabouts(so_far.records, season)
    for group in groups:
        lot = season.lots_by_name.get(group.lot or "")
        if group.station is None and (lot is None or lot.station is None):
            nowhere.append(group.name)
    unsized = (group.name for group in groups if group.container is None)
    return Uncounted(tuple(dict.fromkeys(nowhere)), tuple(unsized))


def _by_row(records: Records, season: Season) -> dict[str, list[Group]]:
    """Living groups by the sowing that heads their row."""
    found: defaultdict[str, list[Group]] = defaultdict(list)
    for group in whereabouts(records, season):
        found[records.head_of(group.sowing)].append(group)
    return found


class _Stage(NamedTuple):
    """When something begins to stand in a container, and how many of its cells it fills."""

    since: date
    name: str
    station: str | None
    container: Container
    cells: int
    tray: str | None = None
    here: bool = False


def _planned(row: Row, lot: Lot, season: Season) -> Iterator[Stand]:
    days = {step.name: step.window.best for step in row.steps if step.window}
    plants = lot.want or row.seeds or 1
    sown_in = _named(season, lot.container or PRICKED_INTO)
    first = _Stage(days["sow"], "seed", lot.station or row.station, sown_in, row.seeds or plants)
    crop = season.crop_of(lot.name)
    cold = cold_days(crop, lot) if crop and is_fridge(first.station, season) else None
    out = None if cold is None else days["sow"] + cold * _DAY
    stages = _ahead(_brought_out(first, out, lot, season), days, lot, season, plants)
    yield from _in_turn(row_key(row), lot.name, stages, _best(row, "set_out", "emerge"))


def _from_now(group: Group, row: Row, lot: Lot, season: Season, so_far: SoFar) -> Iterator[Stand]:
    """A living group: where it is today, then where the plan has it."""
    one, tomorrow = so_far.records.standings[group.sowing], so_far.today + _DAY
    if group.container is None:
        return
    days = {
        step.name: max(step.window.best, tomorrow)
        for step in row.steps
        if step.window and step.is_ != "happened"
    }
    if one.potted_since is not None:
        days.pop("pot_on", None)
    plants = group.cells if not one.from_seed else lot.want or group.cells
    if one.closed is not None:
        plants = min(plants, one.standing)
    harden = row.step("harden")
    hardening = harden is not None and harden.is_ == "happened"
    up = "pots" if one.potted_since is not None else "seedlings"
    stage = "seed" if one.up_since is None else "hardening" if hardening else up
    station = group.station or lot.station or row.station
    first = _Stage(
        so_far.today, stage, station, group.container, group.cells, group.tray, here=True
    )
    crop = season.crop_of(lot.name)
    out = out_of_the_fridge_on(one, crop, lot, so_far.records) if crop else None
    now = _brought_out(first, out and max(out, tomorrow), lot, season)
    until = max(_best(row, "set_out", "emerge"), tomorrow)
    yield from _in_turn(row_key(row), lot.name, _ahead(now, days, lot, season, plants), until)


def _here_today(group: Group, today: date) -> Iterator[Stand]:
    """Room taken by what is in no row: as long as it is there, since nobody knows how long."""
    if group.container is not None:
        first = _Stage(
            today, "seedlings", group.station, group.container, group.cells, group.tray, here=True
        )
        yield from _in_turn(group.name, group.lot or "", [first], today + _DAY)


def _brought_out(first: _Stage, out: date | None, lot: Lot, season: Season) -> list[_Stage]:
    """Seed laid into a fridge stands there till its cold is over, then where it comes up."""
    if out is None or not is_fridge(first.station, season):
        return [first]
    comes_up = lot.then if is_fridge(lot.station, season) else lot.station
    return [first, first._replace(since=out, station=comes_up, here=False)]


def _ahead(
    so_far: list[_Stage], days: dict[StepName, date], lot: Lot, season: Season, plants: int
) -> list[_Stage]:
    """How it stands at first, and after each step that is still to come."""
    stages, now = [*so_far], so_far[-1]

    def add(step: StepName, name: str, **new: object) -> None:
        if step in days:
            stages.append(stages[-1]._replace(since=days[step], name=name, **new))  # type: ignore[arg-type]

    light = lot.then or now.station
    cells = grown_in(_named(season, lot.container or PRICKED_INTO), season) or now.container
    own = {"container": cells, "cells": plants, "tray": None, "here": False}
    pot = {**own, "container": _named(season, POTTED_INTO)}
    add("emerge", "seedlings", station=light)
    add("prick_out", "seedlings", station=light, **own)
    add("pot_on", "pots", **pot)
    frame = next(
        (station.name for station in season.stations if station.kind in _HARDENED_ON), None
    )
    add("harden", "hardening", station=frame)
    return stages


def _in_turn(row: str, lot: str, stages: Sequence[_Stage], out: date) -> Iterator[Stand]:
    ends = [*(stage.since for stage in stages[1:]), out]
    for one, end in zip(stages, ends, strict=True):
        cells, until = one.cells if one.container.cells else 1, min(end, out)
        if one.station is not None and one.since < until:
            yield Stand(
                row, lot, one.station, one.container, cells, one.since, until, one.name, one.tray,
                one.here,
            )  # fmt: skip


def _named(season: Season, name: str) -> Container:
    return next(container for container in season.containers if container.name == name)


def _best(row: Row, *names: StepName) -> date:
    """The best day of the first of these steps that has one; long past where none has."""
    days = (window.best for name in names if (window := row.window(name)) is not None)
    return next(days, date.min)


def loads(standing: Sequence[Stand], season: Season) -> list[Load]:
    """What each station carries in each week in which anything stands on it.

    Of very many weeks, as after a sowing that was never ended, those of the last two years.
    """
    areas = {
        station.name: station.area_m[0] * station.area_m[1]
        for station in season.stations
        if station.area_m
    }
    found: list[Load] = []
    for station in season.stations:
        here = [stand for stand in standing if stand.station == station.name]
        area = areas.get(station.name)
        held = ((monday, _held(here, monday)) for monday in _weeks_backwards(here))
        filled = islice(((monday, stands) for monday, stands in held if stands), _MOST_WEEKS)
        weeks = [
            Load(station.name, monday, used_m2(stands), area, stands) for monday, stands in filled
        ]
        found += reversed(weeks)
    return found


def _held(here: Iterable[Stand], monday: date) -> tuple[Stand, ...]:
    return _at_most(stand for stand in here if stand.in_week(monday))


def _at_most(held: Iterable[Stand]) -> tuple[Stand, ...]:
    """Of each row what stands there on the fullest day of the week: what changes its container
    in it counts once.
    """  # noqa: D205
    of_rows: defaultdict[str, list[Stand]] = defaultdict(list)
    for stand in held:
        of_rows[stand.row].append(stand)
    found: list[Stand] = []
    for those in of_rows.values():
        by_day = (
            [stand for stand in those if stand.since <= first.since < stand.until]
            for first in those
        )
        found += max(by_day, key=used_m2) if len(those) > 1 else those
    return tuple(found)


def station_load_m2(standing: Iterable[Stand], station: str, monday: date) -> float:
    """Area in use at a station in one ISO week, m²."""
    here = (stand for stand in standing if stand.station == station and stand.in_week(monday))
    return used_m2(_at_most(here))


def _weeks_backwards(here: Sequence[Stand]) -> Iterator[date]:
    if not here:
        return
    first = monday_of(min(stand.since for stand in here))
    monday = monday_of(max(stand.until for stand in here) - timedelta(days=1))
    while monday >= first:
        yield monday
        monday -= timedelta(days=7)
