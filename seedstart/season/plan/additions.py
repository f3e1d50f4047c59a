"""What comes into the plan, checked and added; lots with the changes of plan since."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Planned
from seedstart.season.plan.checked import Fault, Table, key_of, refuse_clashes
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.lots import LOTS_FILE, LotReader
from seedstart.season.plan.names import Named
from seedstart.season.plan.season_file import SEASON_FILE, Season, known_in
from seedstart.season.plan.stations import (
    Container,
    Station,
    Tray,
    read_container,
    read_station,
)
from seedstart.season.plan.toml_blocks import add_blocks, block
from seedstart.season.plan.typed_values import parse_bare_number
from seedstart.text import folded

_COUNTS: Final = frozenset({"want", "sowings"})


def lot_value(key: str, typed: str) -> object:
    """What was typed for a key of a lot, as lots.toml is to hold it: counts as numbers."""
    return int(typed) if key in _COUNTS and typed.isdecimal() and len(typed) < 10 else typed


def check_lots(
    new_lots: Sequence[Mapping[str, Any]],
    season: Season,
    *,
    file: str = "new lot",
    written_before: bool = False,
) -> tuple[Lot, ...]:
    """Lots from the keys that a form or an option gave, as lots.toml would be read.

    Args:
        new_lots: Keys of lots.toml and their values, text or typed.
        season: Where they come into: its names, stations, containers, crops.
        file: What the grower calls the place where they were typed.
        written_before: Their crops stand in lots.toml already: a genus is not asked about again.

    Raises:
        BadInputError: Everything wrong in all of them.
    """
    places = [f"lot[{number}]" for number in range(1, len(new_lots) + 1)]
    lots, faults = read_new_lots(new_lots, season, places, written_before=written_before)
    if faults:
        alone = len(new_lots) == 1  # one lot needs no number
        paths = [fault.path[2:] if alone else fault.path for fault in faults]
        raise BadInputError(
            fault.as_problem(file, key_of(path)) for fault, path in zip(faults, paths, strict=True)
        )
    return lots


def read_new_lots(
    new_lots: Sequence[Mapping[str, Any]],
    season: Season,
    places: Sequence[str],
    *,
    written_before: bool = False,
) -> tuple[tuple[Lot, ...], list[Fault]]:
    """New lots with their faults as they are; `places` is what a message calls each lot."""
    faults: list[Fault] = []
    reader = LotReader(known_in(season), written_before=written_before)
    bearers: list[tuple[str, Table, Named]] = [
        (f"{lot.name} in {LOTS_FILE}", Table({}, []), lot) for lot in season.lots
    ]
    lots = []
    for number, keys in enumerate(new_lots):
        values = {key: value for key, value in keys.items() if value is not None}
        table = Table(values, faults, ("lot", number))
        lots.append(reader.read(table))
        bearers.append((places[number], table, lots[-1]))
    refuse_clashes(bearers)
    return tuple(lots), faults


STATION_KEYS: Final = ("name", "kind", "expected", "area", "lamps", "daylight_percent", "was")
# Keys of a lamp; a form and the command line ask for one kind of lamp and how many of it.
# A station has a kind and a width of its own: those of a lamp are asked for under another name.
LAMP_KEYS: Final = (
    "count", "lamp_kind", "light", "watts", "ppf_umol_s", "lumens", "length", "lamp_width",
    "height", "hours", "dimming",
)  # fmt: skip
CONTAINER_KEYS: Final = ("name", "cells", "footprint", "cell_ml")
_NUMBERS: Final = frozenset(
    {"count", "watts", "ppf_umol_s", "lumens", "hours", "cells", "cell_ml", "daylight_percent"}
)


def container_keys(texts: Mapping[str, str | None]) -> dict[str, Any]:
    """The keys of a container as season.toml is to hold them, from texts."""
    return {key: number_value(text, key) for key in CONTAINER_KEYS if (text := texts.get(key))}


def station_keys(texts: Mapping[str, str | None]) -> dict[str, Any]:
    """The keys of a station as season.toml is to hold them, from texts under the keys of both."""
    typed = {key: text for key, text in texts.items() if text}
    lamp = {
        key.removeprefix("lamp_"): number_value(typed[key], key)
        for key in LAMP_KEYS
        if key in typed
    }
    keys: dict[str, Any] = {
        key: number_value(typed[key], key) for key in STATION_KEYS if key in typed
    }
    return keys | ({"lamps": [lamp]} if lamp else {})


def number_value(text: str, key: str = "count") -> object:
    """What was typed for a key, as its file is to hold it: a bare number where one belongs."""
    found = parse_bare_number(text) if key in _NUMBERS else None
    if found is None:
        return text
    return int(found) if found.is_integer() else found


def check_station(
    keys: Mapping[str, Any], season: Season, trays: Iterable[str] = (), *, file: str = "new station"
) -> Station:
    """A station from the keys that a form or options gave, as season.toml would be read.

    Args:
        keys: Keys of a `[[station]]` and their values, text or typed.
        season: Where it comes into.
        trays: Names that trays have in the journal: stations and trays share their names.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in it.
    """
    faults: list[Fault] = []
    table = Table({key: value for key, value in keys.items() if value is not None}, faults)
    station = read_station(table, season.units)
    bearers: list[tuple[str, Table, Named]] = [
        (f"{one.name} in {SEASON_FILE}", Table({}, []), one) for one in season.stations
    ]
    others = [*season.trays, *map(Tray, trays)]
    bearers += [("A tray", Table({}, []), tray) for tray in others]
    refuse_clashes([*bearers, ("It", table, station)])
    if faults:
        raise BadInputError(fault.as_problem(file, key_of(fault.path)) for fault in faults)
    return station


def check_container(
    keys: Mapping[str, Any], season: Season, *, file: str = "new container"
) -> Container:
    """A container from the keys that a form or options gave, as season.toml would be read.

    Args:
        keys: Keys of a `[[container]]` and their values, text or typed.
        season: Where it comes into; a shipped one of the same name gives way.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in it.
    """
    faults: list[Fault] = []
    table = Table(dict(keys), faults)
    container = read_container(table)
    own = {folded(one.name) for one in season.containers if not one.source}
    if folded(container.name) in own:
        table.refuse("name", found=container.name, hint="You have one of this name already.")
    if faults:
        raise BadInputError(fault.as_problem(file, key_of(fault.path)) for fault in faults)
    return container


def add_container(old: bytes, keys: Mapping[str, Any]) -> bytes:
    """season.toml with a container at its end, the old byte by byte as it was.

    Raises:
        BadInputError: The old file cannot be read, or nothing can be added at its end.
    """
    in_order = {key: keys[key] for key in CONTAINER_KEYS if key in keys}
    return add_blocks(old, SEASON_FILE, "container", [block("container", in_order).encode()])


def add_station(old: bytes, keys: Mapping[str, Any]) -> bytes:
    """season.toml with a station at its end, the last on the walk: the old stays byte by byte.

    Args:
        old: The file as it is.
        keys: Its keys and values, checked before (`check_station`).

    Raises:
        BadInputError: The old file cannot be read, or nothing can be added at its end.
    """
    in_order = {key: keys[key] for key in STATION_KEYS if key in keys}
    return add_blocks(old, SEASON_FILE, "station", [block("station", in_order).encode()])


def with_planned(
    season: Season, tables_of_file: Iterable[Mapping[str, Any]], planned: Iterable[Planned]
) -> tuple[Season, list[Problem]]:
    """A season whose lots hold the changes of plan in the journal.

    A `planned` holds while the file still says what it said then; edited by hand, the file wins,
    and that is reported.

    Args:
        season: As its files have it.
        tables_of_file: The tables of lots.toml, as they stand there.
        planned: Entries in force, in order of (at, id).
    """
    tables = {folded(str(table.get("name"))): dict(table) for table in tables_of_file}
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
        f"{LOTS_FILE} was edited since {entry.at:%Y-%m-%d}: that line counts, not what was "
        "planned then."
    )
    return Problem(file=LOTS_FILE, key=f"{entry.lot}.{', '.join(keys)}", hint=hint)
