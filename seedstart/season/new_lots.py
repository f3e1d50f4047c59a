"""Lots that are about to be added: checked against the season they come into."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from seedstart.problems import BadInputError
from seedstart.season.checked import Fault, Table, key_of, refuse_clashes
from seedstart.season.lot import Lot
from seedstart.season.lots import LOTS_FILE, LotReader
from seedstart.season.names import Named
from seedstart.season.plan import Season, known_in

_COUNTS: Final = frozenset({"want", "sowings"})


def lot_value(key: str, typed: str) -> object:
    """What was typed for a key of a lot, as lots.toml is to hold it: counts as numbers."""
    return int(typed) if key in _COUNTS and typed.isdecimal() and len(typed) < 10 else typed


def check_lots(
    new_lots: Sequence[Mapping[str, Any]], season: Season, *, file: str = "new lot"
) -> tuple[Lot, ...]:
    """Lots from the keys that a form or an option gave, as lots.toml would be read.

    Args:
        new_lots: Keys of lots.toml and their values, text or typed.
        season: Where they come into: its names, stations, containers, crops.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in all of them.
    """
    places = [f"lot[{number}]" for number in range(1, len(new_lots) + 1)]
    lots, faults = read_new_lots(new_lots, season, places)
    if faults:
        alone = len(new_lots) == 1  # one lot needs no number
        paths = [fault.path[2:] if alone else fault.path for fault in faults]
        raise BadInputError(
            fault.as_problem(file, key_of(path)) for fault, path in zip(faults, paths, strict=True)
        )
    return lots


def read_new_lots(
    new_lots: Sequence[Mapping[str, Any]], season: Season, places: Sequence[str]
) -> tuple[tuple[Lot, ...], list[Fault]]:
    """The same, with the faults as they are; `places` says what a message calls each lot."""
    faults: list[Fault] = []
    reader = LotReader(known_in(season))
    bearers: list[tuple[str, Table, Named]] = [
        (f"{lot.name} in {LOTS_FILE}", Table({}, []), lot) for lot in season.lots
    ]
    lots = []
    for number, keys in enumerate(new_lots):
        said = {key: value for key, value in keys.items() if value is not None}
        table = Table(said, faults, ("lot", number))
        lots.append(reader.read(table))
        bearers.append((places[number], table, lots[-1]))
    refuse_clashes(bearers)
    return tuple(lots), faults
