"""Words that confirm an act: where things stand, and how many are left."""

from typing import Final

from seedstart.acts.known import Known
from seedstart.season.stations import StationKind
from seedstart.text import plural

# One stands on these and in the others; outdoors has no edge, and neither has one without a kind.
_ON: Final[frozenset[StationKind]] = frozenset({"shelf", "bench", "mat", "sill"})


def at_station(name: str, known: Known) -> str:
    """`on the heat mat`, `in the cold frame`, `at the yard tables`."""
    station = known.plan.stations_by_name.get(name)
    if station is None or station.kind == "outdoors":
        return f"at the {name}"
    return f"{'on' if station.kind in _ON else 'in'} the {name}"


def place_in_words(tray: str | None, station: str | None, known: Known) -> str:
    """`in tray 5, on the heat mat`; empty where neither is known."""
    if tray is not None and station is None:
        station = known.records.place(("tray", tray)).station_at()
    parts = [f"in {tray}" if tray else "", at_station(station, known) if station else ""]
    return ", ".join(filter(None, parts))


def stands_in_words(sowing: str, known: Known) -> str:
    """Where a sowing stands, as `place_in_words` has it."""
    one = known.standing(sowing)
    spot = known.records.spot(one.id) if one else None
    return place_in_words(spot.tray, spot.station, known) if spot else ""


def left_in_words(sowing: str, known: Known) -> str:
    """`13 left in tray M`; empty where nobody knows the sowing."""
    one = known.standing(sowing)
    if one is None:
        return ""
    spot = known.records.spot(one.id)
    place = f" in {spot.tray}" if spot and spot.tray and one.standing else ""
    return f"{one.standing or 'none'} left{place}"


def plants_of(plants: int | None, name: str) -> str:
    """`20 celeriac`; the name alone where no number was said."""
    return name if plants is None else f"{plants} {name}"


def seeds_of(seeds: int | None, about: int | None, grams: float | None, lot: str) -> str:
    """`24 seeds of leek`, `about 100 seeds of leek`, `2 g of leek`."""
    if grams is not None:
        return f"{grams:g} g of {lot}"
    return f"{plural(seeds, 'seed')} of {lot}" if seeds else f"about {about} seeds of {lot}"


def aside(*parts: str) -> str:
    """` (9 cm pot, 20 cells)`: what else was said; empty where nothing was."""
    said = ", ".join(filter(None, parts))
    return f" ({said})" if said else ""


def then(what: str, *more: str) -> str:
    """What was done, and what follows from it behind a semicolon."""
    return "; ".join(filter(None, (what, *more)))
