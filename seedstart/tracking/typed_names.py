"""Names that a grower types for what a season holds → the names that a line is to bear."""

from seedstart.season.names import daughter_name
from seedstart.text import clean, folded
from seedstart.tracking.place import Treated
from seedstart.tracking.records import Records


def tray_named(records: Records, name: str) -> str | None:
    """A tray of which something was said, by the name it bears; None for a new one."""
    wanted = folded(clean(name))
    trays = (place for kind, place in records.places if kind == "tray")
    known = next((tray for tray in trays if folded(tray) == wanted), None)
    return known or records.called.trays.get(wanted)


def daughter_names(records: Records, mother: str, count: int) -> list[str]:
    """Free names for plants pricked out or split off.

    Args:
        records: What happened.
        mother: The sowing that they come from, as a line is to call it.
        count: How many daughters.
    """
    standing = records.by_name_in_line(mother)
    called, taken = standing.name if standing else mother, set(records.names_borne)
    names: list[str] = []
    for _ in range(count):
        names.append(daughter_name(called, taken))
        taken.add(names[-1])
    return names


def open_treatments(records: Records, lot: str) -> list[Treated]:
    """The soaks and colds of a lot's seed that were begun and not ended, in order."""
    return [
        one
        for one in records.treatments.values()
        if one.lot == lot and one.until is None and one.what != "scarified"
    ]


def ended_treatments(records: Records, lot: str) -> list[Treated]:
    """What was done to a lot's seed, ended, and not sown yet: it belongs to the next sowing."""
    used = {entry for standing in records.standings.values() for entry in standing.after}
    return [
        one
        for one in records.treatments.values()
        if one.lot == lot
        and one.id not in used
        and (one.until is not None or one.what == "scarified")
    ]
