"""Lots as they are planned now: what lots.toml says, and what was set anew since."""

from collections.abc import Iterable, Mapping
from typing import Any

from msgspec import structs

from seedstart.problems import Problem
from seedstart.season.entries import Planned
from seedstart.season.lots import LOTS_FILE
from seedstart.season.new_lots import read_new_lots
from seedstart.season.plan import Season
from seedstart.text import folded


def with_planned(
    season: Season, said: Iterable[Mapping[str, Any]], planned: Iterable[Planned]
) -> tuple[Season, list[Problem]]:
    """A season whose lots hold what was planned anew.

    A `planned` holds while the file still says what it said then; edited by hand, the file wins,
    and that is told.

    Args:
        season: As its files have it.
        said: The tables of lots.toml, as they stand there.
        planned: Entries in force, in order of (at, id).
    """
    tables = {folded(str(table.get("name"))): dict(table) for table in said}
    file = {name: dict(table) for name, table in tables.items()}
    names = _present_names(season)
    problems: list[Problem] = []
    changed = False
    for entry in planned:
        name = names.get(folded(entry.lot), folded(entry.lot))
        if name not in tables:
            hint = "No lot of that name is listed any more."
            problems.append(Problem(file="planned", key=entry.id, found=entry.lot, hint=hint))
            continue
        edited = [key for key in entry.to if file[name].get(key) != entry.said.get(key)]
        if edited:
            problems.append(_edited(entry, edited))
            continue
        tables[name] |= entry.to
        changed = True
    if not changed:
        return season, problems
    kept = [
        {key: value for key, value in table.items() if value is not None}
        for table in tables.values()
    ]
    places = [str(table.get("name")) for table in kept]
    lots, faults = read_new_lots(kept, structs.replace(season, lots=()), places)
    if faults:
        problems += [fault.as_problem("planned", str(fault.path[-1])) for fault in faults]
        return season, problems
    return structs.replace(season, lots=lots), problems


def _present_names(season: Season) -> dict[str, str]:
    """Folded former and present names → the folded present one."""
    former = {folded(was): folded(lot.name) for lot in season.lots for was in lot.was}
    return former | {folded(lot.name): folded(lot.name) for lot in season.lots}


def _edited(entry: Planned, keys: list[str]) -> Problem:
    hint = (
        f"{LOTS_FILE} was edited since {entry.at:%Y-%m-%d}: what it says holds, not what was "
        "planned then."
    )
    return Problem(file=LOTS_FILE, key=f"{entry.lot}.{', '.join(keys)}", hint=hint)
