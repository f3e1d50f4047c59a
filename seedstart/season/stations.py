"""The places of a season: stations in walking order, their lamps, and trays that changed names."""

from typing import Final, Literal, get_args

from msgspec import Struct

from seedstart.season.checked import Table, key_of, refuse_clashes
from seedstart.season.names import Named, a_name
from seedstart.season.values import (
    between,
    number,
    one_of,
    quantity,
    show,
    text,
    whole,
)
from seedstart.units import Temperatures, Units, parse_area, parse_length, parse_temperatures

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
# Kinds with glass or film between them and the frost, and no heat that is sure to keep it out.
UNDER_GLASS: Final[frozenset[StationKind]] = frozenset({"frame", "tunnel"})
# Where the weather hardens plants off, and decides how warm it is.
OUTSIDE: Final[frozenset[StationKind]] = UNDER_GLASS | {"outdoors"}


class Lamp(Struct, frozen=True):
    """One lamp over a station; several of a kind stand in the plan one by one.

    Attributes:
        name: What the grower calls it.
        watts: Electric power, W.
        ppf_umol_s: Photon flux, µmol s⁻¹.
        length_m: Length of its lit strip, metres.
        height_mm: Height over the leaves, millimetres.
        hours: Hours of light a day.
    """

    name: str = ""
    watts: float | None = None
    ppf_umol_s: float | None = None
    length_m: float | None = None
    height_mm: float | None = None
    hours: float | None = None


class Station(Struct, frozen=True):
    """A place where trays stand.

    Attributes:
        name: What the grower calls it.
        kind: What it is.
        expected: Medium temperature to plan with until there are readings.
        area_m: Length and width, metres, the longer first.
        lamps: The lamps over it, spread evenly over its width.
        was: Former names.
    """

    name: str
    kind: StationKind
    expected: Temperatures | None = None
    area_m: tuple[float, float] | None = None
    lamps: tuple[Lamp, ...] = ()
    was: tuple[str, ...] = ()


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
        lamps=_lamps(table, units),
        was=table.take_list("was", a_name),
    )
    table.close()
    return station


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


def _lamps(table: Table, units: Units) -> tuple[Lamp, ...]:
    """The lamps of a station; `count = 4` stands for four alike."""
    lamps: list[Lamp] = []
    for one in table.tables("lamps", "lamps = [{ … }]"):
        count = one.take("count", whole(1, 100), 1)
        lamps += [_lamp(one, units)] * count
        one.close()
    return tuple(lamps)


def _lamp(table: Table, units: Units) -> Lamp:
    metres = quantity(parse_length, units)
    name = table.take("name", text, "")
    watts = table.take("watts", number(0.1, 5000), None)
    photons = table.take("ppf_umol_s", number(0.1, 20_000), None)
    length_m = table.take("length", between(metres, 0.05, 5, "a length from 5 cm to 5 m"), None)
    height_m = table.take("height", between(metres, 0.01, 5, "a height from 1 cm to 5 m"), None)
    return Lamp(
        name=name,
        watts=watts,
        ppf_umol_s=photons,
        length_m=length_m,
        height_mm=None if height_m is None else round(height_m * 1000, 3),
        hours=table.take("hours", number(0, 24, "hours a day"), None),
    )
