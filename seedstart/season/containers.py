"""Trays and pots: what is shipped, with its source, and what a season adds."""

from collections.abc import Sequence
from math import pi
from typing import Final

from msgspec import Struct

from seedstart.season.checked import Table
from seedstart.season.names import a_name
from seedstart.season.values import number, whole
from seedstart.text import folded
from seedstart.units import parse_area


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
    """A season's own containers, then the shipped ones that it does not name anew."""
    named = {folded(container.name) for container in own}
    return (*own, *(one for one in SHIPPED if folded(one.name) not in named))


def read_container(table: Table) -> Container:
    """One `[[container]]`; its faults go where the table puts them."""
    name = table.need("name", a_name, "", what="what you call this tray or pot")
    table.whose = name
    container = Container(
        name=name,
        cells=table.need("cells", whole(0, 2000), 0, what="1 for a pot, 0 for an open tray"),
        footprint_m=table.need(
            "footprint", _footprint, (0.54, 0.28), what="its length and width, as 54 x 28 cm"
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
