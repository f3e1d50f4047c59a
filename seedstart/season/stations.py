"""The places of a season: stations in walking order, their lamps, and trays that changed names."""

from typing import Final, Literal, get_args

from msgspec import Struct

from seedstart.season.checked import Table, key_of, refuse_clashes
from seedstart.season.lamps import Lamp, read_lamps
from seedstart.season.names import Named, a_name
from seedstart.season.values import number, one_of, quantity, show
from seedstart.units import Temperatures, Units, parse_area, parse_temperatures

StationKind = Literal[
    "shelf",
    "bench",
    "mat",
    "sill",
    "propagator",
    "cabinet",
    "fridge",
    "greenhouse",
    "tunnel",
    "frame",
    "outdoors",
]

# Kinds that warm the medium from below.
HEATED: Final[frozenset[StationKind]] = frozenset({"mat", "propagator"})


class Station(Struct, frozen=True):
    """A place where trays stand.

    Attributes:
        name: What the grower calls it.
        kind: What it is.
        expected: Medium temperature to plan with until there are readings.
        area_m: Length and width, metres, the longer first.
        lamps: The lamps over it; `growing.light.over_shelf.hung` says how they hang.
        was: Former names.
        daylight_percent: Share of the light outdoors that reaches the leaves through a window.
    """

    name: str
    kind: StationKind
    expected: Temperatures | None = None
    area_m: tuple[float, float] | None = None
    lamps: tuple[Lamp, ...] = ()
    was: tuple[str, ...] = ()
    daylight_percent: float | None = None


class Tray(Struct, frozen=True):
    """A tray whose name changed: trays are named in the journal, here are former names."""

    name: str
    was: tuple[str, ...] = ()


def read_places(table: Table, units: Units) -> tuple[tuple[Station, ...], tuple[Tray, ...]]:
    """The `[[station]]` and `[[tray]]` of a season; their faults go where the table puts them."""
    stations = [(one, read_station(one, units)) for one in table.tables("station", "[[station]]")]
    trays = [(one, _tray(one)) for one in table.tables("tray", "[[tray]]")]
    places: list[tuple[Table, Named]] = [*stations, *trays]
    refuse_clashes([(key_of(one.path), one, place) for one, place in places])
    return tuple(station for _, station in stations), tuple(tray for _, tray in trays)


def read_station(table: Table, units: Units) -> Station:
    """One station; its faults go where the table puts them."""
    name = table.need("name", a_name, "", what="what you call this place")
    table.whose = name
    kind: StationKind = table.need(
        "kind", one_of(get_args(StationKind)), "bench", what="what kind of place it is"
    )
    station = Station(
        name=name,
        kind=kind,
        expected=table.take("expected", quantity(parse_temperatures, units), None),
        area_m=table.take("area", _area, None),
        lamps=read_lamps(table, units),
        was=table.take_list("was", a_name),
        daylight_percent=table.take("daylight_percent", _percent, None),
    )
    table.close()
    return station


def _percent(value: object) -> float:
    """A share in percent, its sign left out or not."""
    bare = value.strip().removesuffix("%").strip() if isinstance(value, str) else value
    return number(0, 100, "a share of the daylight in percent")(bare)


def _tray(table: Table) -> Tray:
    name = table.need("name", a_name, "", what="what you call this tray")
    table.whose = name
    tray = Tray(name=name, was=table.take_list("was", a_name))
    table.close()
    return tray


def _area(value: object) -> tuple[float, float]:
    sides = parse_area(show(value))
    if not 0.05 <= min(sides) <= max(sides) <= 500:
        raise ValueError("length and width from 5 cm to 500 m")
    return sides
