"""A station that is about to be added to season.toml: checked against the season it comes into."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from seedstart.problems import BadInputError
from seedstart.season.adding import add_blocks
from seedstart.season.checked import Fault, Table, key_of, refuse_clashes
from seedstart.season.names import Named
from seedstart.season.plan import SEASON_FILE, Season
from seedstart.season.stations import Station, Tray, read_station
from seedstart.season.toml_out import block
from seedstart.season.values import parse_bare_number

STATION_KEYS: Final = ("name", "kind", "expected", "area", "lamps", "daylight_percent", "was")
# Keys of a lamp; a form and the command line ask for one kind of lamp and how many of it.
# A station has a kind and a width of its own: those of a lamp are asked for under another name.
LAMP_KEYS: Final = (
    "count", "lamp_kind", "light", "watts", "ppf_umol_s", "lumens", "length", "lamp_width",
    "height", "hours", "dimming",
)  # fmt: skip
_NUMBERS: Final = frozenset({"count", "watts", "ppf_umol_s", "lumens", "hours"})


def station_keys(said: Mapping[str, str | None]) -> dict[str, Any]:
    """The keys of a station as season.toml is to hold them, from texts under the keys of both."""
    typed = {key: text for key, text in said.items() if text}
    lamp = {key.removeprefix("lamp_"): _value(key, typed[key]) for key in LAMP_KEYS if key in typed}
    keys: dict[str, Any] = {key: typed[key] for key in STATION_KEYS if key in typed}
    return keys | ({"lamps": [lamp]} if lamp else {})


def _value(key: str, text: str) -> object:
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
        trays: Names that trays bear in the journal: stations and trays share their names.
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
