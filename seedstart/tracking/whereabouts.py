"""Where the plants are: every living group with its place, what it is in, and the room it takes.

A group is a sowing, or what was pricked out, split off or mixed up from sowings: it is carried as
one. What is in no tray with a name shares trays of a kind, cell by cell, as growers fill them.
"""

from collections import defaultdict
from collections.abc import Iterable
from math import ceil
from typing import Final, Protocol

from msgspec import Struct

from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import Container
from seedstart.text import folded, plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

# Where neither an entry nor the lot says so: common practice, no source.
PRICKED_INTO: Final = "tray of 72"
POTTED_INTO: Final = "9 cm pot"


class TakesRoom(Protocol):
    """What stands somewhere in so many cells."""

    @property
    def container(self) -> Container | None:
        """What it is in; None where nobody knows how large that is."""

    @property
    def cells(self) -> int:
        """Cells or pots that it fills; of a tray without cells 1."""

    @property
    def tray(self) -> str | None:
        """The tray by its name; None where it is in none."""


class Group(Struct, frozen=True):
    """Plants, or seeds that may still come up, that stand together.

    Attributes:
        sowing: Its id.
        name: How a line is to call it.
        lot: The lot by whose plan it is raised; None where nobody knows.
        station: Where it, or its tray, stands; None somewhere nobody wrote down.
        tray: In which tray; None where in none.
        container: What it is in: as was said, else as its lot plans or as is usual; None where what
            was said is no container of the season, and for seed on paper.
        container_text: What was said of that; empty where nothing was.
        plants: How many stand.
        cells: Cells or pots that it fills; of a tray without cells 1.
    """

    sowing: str
    name: str
    lot: str | None
    station: str | None
    tray: str | None
    container: Container | None
    container_text: str
    plants: int
    cells: int

    @property
    def room_m2(self) -> float | None:
        """The room that it takes where it stands alone, m²; None where nobody knows."""
        return None if self.container is None else used_m2((self,))


def whereabouts(records: Records, season: Season) -> tuple[Group, ...]:
    """Every living group, in order of making; on a day, where the records end with it.

    Args:
        records: What happened.
        season: For its containers and lots.
    """
    known = {folded(container.name): container for container in season.containers}
    return tuple(
        _group(standing, records, season, known)
        for standing in records.standings.values()
        if standing.lives
    )


def _group(
    standing: Standing, records: Records, season: Season, known: dict[str, Container]
) -> Group:
    spot = records.spot(standing.id)
    lot = season.lots_by_name.get(records.lot_of(standing.id) or "")
    container = _container(standing, lot, records, season, known)
    return Group(
        sowing=standing.id,
        name=records.name_in_line(standing.id),
        lot=records.lot_of(standing.id),
        station=spot.station if spot else None,
        tray=spot.tray if spot else None,
        container=container,
        container_text=standing.container or "",
        plants=standing.standing,
        cells=1 if container is not None and not container.cells else _cells(standing, lot),
    )


def _container(
    standing: Standing,
    lot: Lot | None,
    records: Records,
    season: Season,
    known: dict[str, Container],
) -> Container | None:
    if standing.container is not None:
        return known.get(folded(standing.container))
    if standing.potted_since is not None:
        return known[folded(POTTED_INTO)]
    sown_in = known.get(folded(lot.container if lot and lot.container else PRICKED_INTO))
    if standing.from_seed:
        return sown_in if standing.on == "medium" else None
    if standing.made == "pricked_out":
        return grown_in(sown_in, season)
    # Parted and mixed up as it stood.
    before = records.lineage(standing.id)[1:]
    return _container(before[0], lot, records, season, known) if before else sown_in


def grown_in(sown_in: Container | None, season: Season) -> Container | None:
    """What seedlings are pricked out into where nobody says so: cells as they were sown in."""
    if sown_in is not None and sown_in.cells > 0:
        return sown_in
    return next(
        (container for container in season.containers if container.name == PRICKED_INTO), sown_in
    )


def _cells(standing: Standing, lot: Lot | None) -> int:
    """What was sown fills its cells till plants leave it; plants fill as many as they are."""
    if not standing.from_seed or standing.potted_since is not None:
        cells = min(standing.cells, standing.standing) if standing.cells else standing.standing
        return max(cells, 1)
    sown = standing.cells or standing.seeds or standing.about or (lot.want if lot else None) or 1
    return (
        min(sown, standing.standing) if standing.standing and sum(standing.left.values()) else sown
    )


def containers_of(held: Iterable[TakesRoom]) -> dict[Container, int]:
    """Trays and pots of each kind that hold this; a tray with a name is one, whoever is in it."""
    loose: defaultdict[Container, int] = defaultdict(int)
    named: defaultdict[str, defaultdict[Container, int]] = defaultdict(lambda: defaultdict(int))
    for item in held:
        if item.container is not None:
            in_tray = item.tray is not None and item.container.cells != 1
            cells = named[item.tray or ""] if in_tray else loose
            cells[item.container] += item.cells
    found: defaultdict[Container, int] = defaultdict(int)
    for kind, number in loose.items():
        found[kind] += _trays(kind, number)
    for kinds in named.values():
        largest = max(kinds, key=lambda kind: _trays(kind, kinds[kind]) * area_m2(kind))
        found[largest] += _trays(largest, kinds[largest]) if largest.cells else 1
    return dict(found)


def used_m2(held: Iterable[TakesRoom]) -> float:
    """Area of what stands together, m²."""
    return sum(number * area_m2(kind) for kind, number in containers_of(held).items())


def _trays(kind: Container, cells: int) -> int:
    """Trays (or pots) that hold so many cells; open trays, one each."""
    return ceil(cells / max(kind.cells, 1))


def area_m2(kind: Container) -> float:
    """Footprint of one container, m²."""
    return kind.footprint_m[0] * kind.footprint_m[1]


def left_alone(groups: Iterable[Group], kind: str, name: str) -> str:
    """What would stand unasked after without a lot, or nowhere without a station; else nothing.

    Args:
        groups: What lives.
        kind: `lot` or `station`.
        name: Its present name.
    """
    those = [group for group in groups if getattr(group, kind, None) == name]
    if not those:
        return ""
    trays = tuple(dict.fromkeys(group.tray for group in those if group.tray))
    plants = sum(group.plants for group in those)
    standing = f" with {plural(plants, 'plant')}" if plants else ", not up yet,"
    where = f" (in {', '.join(trays[:4])}{' …' if trays[4:] else ''})" if trays else ""
    sowings = plural(len(those), "sowing")
    if kind == "station":
        return f"{sowings}{where}{standing} would stand nowhere."
    return f"Nobody would be asked after {sowings} of it{where}{standing.rstrip(',')}."
