"""Names that a grower types for what a season holds → the names that a line is to have."""

from datetime import datetime

from seedstart.problems import Problem
from seedstart.season.plan.names import daughter_name
from seedstart.text import clean, folded, natural
from seedstart.tracking.place import Treated
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def find_sowing(
    records: Records, typed: str, *, file: str, at: datetime | None = None
) -> str | Problem:
    """The sowing that is meant, as a line is to call it.

    Exact names first, the end of an id after `#` too; then the only one alive; a lot's name does
    while only one of its sowings is alive.

    Args:
        records: What happened.
        typed: What was typed.
        file: Where, for the problem.
        at: The moment at which it has to be alive; None for now.

    Returns:
        The name for a line; or the problem, with the choices or the nearest names.
    """
    name = clean(typed).strip()
    borne = {bearer.sowing for bearer in records.identity.bearers(name)}
    by_name = [records.standings[sowing] for sowing in borne if sowing in records.standings]
    fits = _narrowed(by_name, at) or _narrowed(_of_lot(records, name), at)
    if len(fits) == 1:
        return records.name_in_line(fits[0].id)
    if fits:
        choices = tuple(sorted((records.name_in_line(fit.id) for fit in fits), key=natural))
        hint = "More than one sowing fits: name one of them."
        return Problem(file=file, found=typed, allowed=choices, hint=hint)
    alive = tuple(
        records.name_in_line(standing.id)
        for standing in records.standings.values()
        if standing.alive
    )
    hint = "" if alive else "Nothing has been sown yet."
    return Problem(file=file, found=typed, allowed=alive, hint=hint, listed_by="lots")


def _of_lot(records: Records, name: str) -> list[Standing]:
    lot = records.called.lot(name)
    return [
        standing
        for standing in records.standings.values()
        if folded(standing.lot or "") == folded(lot)
    ]


def _narrowed(fits: list[Standing], at: datetime | None) -> list[Standing]:
    """The living ones, where any is."""
    return [fit for fit in fits if _was_alive(fit, at)] or fits


def _was_alive(standing: Standing, at: datetime | None) -> bool:
    if at is None:
        return standing.alive
    return standing.at <= at and (standing.over is None or at < standing.over)


def tray_named(records: Records, name: str) -> str | None:
    """A tray of which something was said, by its name; None for a new one."""
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
        treatment
        for treatment in records.treatments.values()
        if treatment.lot == lot and treatment.until is None and treatment.what != "scarified"
    ]


def ended_treatments(records: Records, lot: str) -> list[Treated]:
    """What was done to a lot's seed, ended, and not sown yet: it belongs to the next sowing."""
    used = {entry for standing in records.standings.values() for entry in standing.after}
    return [
        treatment
        for treatment in records.treatments.values()
        if treatment.lot == lot
        and treatment.id not in used
        and (treatment.until is not None or treatment.what == "scarified")
    ]
