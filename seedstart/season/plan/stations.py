"""The places of a season: stations in walking order, their lamps, and trays that changed names."""

from collections.abc import Sequence
from math import pi
from typing import Final, Literal, get_args

from msgspec import Struct

from seedstart.season.plan.checked import Table, key_of, refuse_clashes
from seedstart.season.plan.lamps import Lamp, read_lamps
from seedstart.season.plan.names import Named, a_name
from seedstart.season.plan.typed_values import number, one_of, quantity, show, whole
from seedstart.text import folded
from seedstart.units import Temperatures, Units, parse_area, parse_temperatures


class Container(Struct, frozen=True):
    """A tray or a pot.

    Attributes:
        name: What the grower calls it.
        cells: Cells in it; 1 for a pot, 0 for an open tray without cells.
        footprint_m: Length and width of the place it takes, metres, the longer first.
        cell_ml: Volume of a cell (of the whole, where there are no cells), millilitres.
        source: Where the figures of a shipped one come from; empty for a grower's own.
    """

    name: str
    cells: int
    footprint_m: tuple[float, float]
    cell_ml: float | None = None
    source: str = ""


def round_pot_ml(top_cm: float, bottom_cm: float, high_cm: float) -> float:
    """Volume of a round pot filled to the brim, millilitres: V = πh(d₁² + d₁d₂ + d₂²)/12.

    Source:
        The volume of a frustum of a cone, from its inner diameters and height.
    """
    return pi * high_cm * (top_cm**2 + top_cm * bottom_cm + bottom_cm**2) / 12


# Cells a tray → millilitres a cell.
_CELL_ML: Final = {24: 171, 38: 106, 50: 66, 72: 43, 128: 23, 200: 11, 288: 7}
_TRAY_SOURCE: Final = (
    "cell volume: Ontario Ministry of Agriculture, Growing vegetable transplants in plug trays"
    " (ontario.ca/page/growing-vegetable-transplants-plug-trays), it varies with depth and shape;"
    " footprint: the trade's standard 10 × 20 inch tray, outer size from memory"
)
_POT_SOURCE: Final = (
    "volume computed for 9 cm across the top, 6.5 cm at the bottom, 8 cm high, filled to the brim;"
    " sizes common practice, no source"
)
_OPEN_TRAY_SOURCE: Final = "size common practice, no source; measure your own"

SHIPPED: Final = (
    *(
        Container(f"tray of {cells}", cells, (0.54, 0.28), ml, _TRAY_SOURCE)
        for cells, ml in _CELL_ML.items()
    ),
    Container("9 cm pot", 1, (0.09, 0.09), round(round_pot_ml(9, 6.5, 8)), _POT_SOURCE),
    Container("seed tray", 0, (0.38, 0.24), None, _OPEN_TRAY_SOURCE),
    Container("half seed tray", 0, (0.24, 0.19), None, _OPEN_TRAY_SOURCE),
)


def with_shipped(own: Sequence[Container]) -> tuple[Container, ...]:
    """A season's own containers, then the shipped ones whose names it does not use."""
    named = {folded(container.name) for container in own}
    return (*own, *(container for container in SHIPPED if folded(container.name) not in named))


def read_container(table: Table) -> Container:
    """One `[[container]]`; its faults go where the table puts them."""
    name = table.need("name", a_name, "", what="what you call this tray or pot")
    table.whose = name
    container = Container(
        name=name,
        cells=table.need("cells", whole(0, 2000), 0, what="1 for a pot, 0 for an open tray"),
        footprint_m=table.need(
            "footprint", _footprint, (0.54, 0.28), what="its length and width, e.g. 54 x 28 cm"
        ),
        cell_ml=table.take("cell_ml", number(0.5, 100_000, "millilitres"), None),
    )
    table.close()
    return container


def _footprint(value: object) -> tuple[float, float]:
    sides = parse_area(value if isinstance(value, str) else "")
    if not 0.01 <= min(sides) <= max(sides) <= 3:  # 54 x 28 m is a slip of the unit
        raise ValueError("length and width from 1 cm to 3 m")
    return sides


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
    stations = [
        (keys, read_station(keys, units)) for keys in table.tables("station", "[[station]]")
    ]
    trays = [(keys, _tray(keys)) for keys in table.tables("tray", "[[tray]]")]
    places: list[tuple[Table, Named]] = [*stations, *trays]
    refuse_clashes([(key_of(keys.path), keys, place) for keys, place in places])
    return tuple(station for _, station in stations), tuple(tray for _, tray in trays)


def read_station(table: Table, units: Units) -> Station:
    """One station; its faults go where the table puts them."""
    name = table.need("name", a_name, "", what="what you call this place")
    table.whose = name
    kind: StationKind = table.need(
        "kind",
        one_of(get_args(StationKind)),
        "bench",
        what=f"what kind of place it is ({', '.join(get_args(StationKind))})",
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


_LAMPS: Final = (
    "Lamps: plug, timer and strip hang above the bench and out of the splash, behind a "
    "residual-current device (RCD, GFCI); no strip on another strip or lead (Technical Safety BC). "
    "Do not look into a bright LED or any lamp with UV (from memory)."
)
_CLOSE: Final = (
    "Lamps close above covers warm what lies under them: look at the medium's temperature. Leaves "
    "that touch a lamp scorch (from memory)."
)
_MAT: Final = (
    "Heat mat: one made for plants, flat on hard dry ground, never folded, on carpet or under a "
    "cloth; its thermostat's probe belongs in the medium (from memory)."
)
_BY_KIND: Final[dict[StationKind, str]] = {
    "cabinet": (
        "Tent or cabinet: lamps hang on chain, no ballast or strip on the floor, nothing near them "
        "that burns, the fan running, a smoke alarm in the room (from memory)."
    ),
    "frame": (
        "Cold frame: open the sash on a sunny morning, or plants cook though it is cold outside; "
        "prop it so that it cannot fall (Leavenworth Times 2013)."
    ),
    "greenhouse": (
        "A paraffin or gas heater gives off carbon monoxide: a vent open, an alarm, never filled "
        "while hot; an electric one plugs straight into the wall (US Consumer Product Safety "
        "Commission)."
    ),
}
_FIRST: Final = "Your local code and the maker's sheet go before this."
LAMP_CAUTIONS: Final = (_LAMPS, _CLOSE, _FIRST)


def station_cautions(kind: str, *, lamps: bool) -> tuple[str, ...]:
    """What to mind at a station of a kind, each as a sentence or two; none where nothing hurts.

    Args:
        kind: Its kind.
        lamps: Whether lamps hang over it.
    """
    found = [_MAT] if kind in HEATED else []
    found += [text for one, text in _BY_KIND.items() if one == kind]
    found += [_LAMPS, _CLOSE] if lamps else []
    return (*found, _FIRST) if found else ()
