"""Names that a grower types for what a season holds → the names that a line is to bear."""

from collections.abc import Callable

from seedstart.problems import Problem
from seedstart.season.names import Names, daughter_name, find_name, wrong_name
from seedstart.season.plan import Season
from seedstart.season.typed import TypedValues
from seedstart.text import clean, folded
from seedstart.tracking.naming import find_sowing
from seedstart.tracking.place import Treated
from seedstart.tracking.records import Records


class TypedNames(TypedValues):
    """What was typed, with the season's names looked up; what is not found is gathered.

    Args:
        plan: The season, as it is when a name is looked up.
        records: What happened in it, likewise: only who names a sowing or tray pays for it.
    """

    def __init__(self, plan: Callable[[], Season], records: Callable[[], Records]) -> None:
        super().__init__()
        self._plan, self._records = plan, records

    def sowing(self, name: str, option: str = "SOWING") -> str:
        """The sowing that is meant, as a line is to call it."""
        return self.take(find_sowing(self._records(), name, file=option)) or ""

    def lot(self, name: str, option: str = "LOT") -> str:
        """The lot that is meant, by its present name."""
        lots = Names(self._plan().lots)
        return self.take(find_name(name, lots, file=option, lists="seedstart lots")) or ""

    def station(self, name: str | None, option: str = "--station") -> str | None:
        """The station that is meant, by its present name."""
        if name is None:
            return None
        stations = Names(self._plan().stations)
        return self.take(find_name(name, stations, file=option, lists="season.toml"))

    def tray(self, name: str | None, option: str = "--tray") -> str | None:
        """A tray by the name it is written with; a new one needs no registering."""
        if name is None:
            return None
        known = tray_named(self._records(), name)
        new = clean(name).strip()
        if known is None and new and (why := wrong_name(new)):
            self.refuse(Problem(file=option, found=new, hint=why))
        return known or new

    def what(self, name: str, option: str = "WHAT") -> dict[str, str]:
        """A sowing, a tray or a station, by the one name that fits; key and name."""
        records = self._records()
        station = Names(self._plan().stations).find(name)
        tray = tray_named(records, name)
        sowing = find_sowing(records, name, file=option)
        fits = [{"station": station}] if station is not None else []
        fits += [{"tray": tray}] if tray is not None else []
        fits += [{"sowing": sowing}] if not isinstance(sowing, Problem) else []
        if len(fits) == 1:
            return fits[0]
        if not fits:
            self._refuse_unknown(name, option, sowing)
            return {"sowing": ""}
        kinds = tuple(f"{next(iter(one))}:{name}" for one in fits)
        hint = "More than one thing bears the name: give the tray or station another, or use `#`."
        self.refuse(Problem(file=option, found=name, allowed=kinds, hint=hint))
        return fits[0]

    def _refuse_unknown(self, name: str, option: str, sowing: str | Problem) -> None:
        """None of them bears the name: the nearest of all three are told."""
        alive = sowing.allowed if isinstance(sowing, Problem) else ()
        trays = (place for kind, place in self._records().places if kind == "tray")
        known = (*Names(self._plan().stations).current, *trays, *alive)
        hint = (
            "It takes a sowing, a tray or a station; a tray is known once something was sown or "
            "carried into it."
        )
        self.refuse(
            Problem(file=option, found=name, allowed=known, hint=hint, listed_by="seedstart lots")
        )


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
