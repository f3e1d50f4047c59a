"""What a grower types for a sowing → the sowing, or the choices."""

from datetime import datetime

from seedstart.problems import Problem
from seedstart.text import clean, folded, natural
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
    borne = {one.sowing for one in records.identity.bearers(name)}
    by_name = [records.standings[one] for one in borne if one in records.standings]
    fits = _narrowed(by_name, at) or _narrowed(_of_lot(records, name), at)
    if len(fits) == 1:
        return records.name_in_line(fits[0].id)
    if fits:
        choices = tuple(sorted((records.name_in_line(one.id) for one in fits), key=natural))
        hint = "More than one sowing fits: name one of them."
        return Problem(file=file, found=typed, allowed=choices, hint=hint)
    alive = tuple(records.name_in_line(one.id) for one in records.standings.values() if one.alive)
    hint = "" if alive else "Nothing was sown yet."
    return Problem(file=file, found=typed, allowed=alive, hint=hint, listed_by="lots")


def _of_lot(records: Records, name: str) -> list[Standing]:
    lot = records.called.lot(name)
    return [one for one in records.standings.values() if folded(one.lot or "") == folded(lot)]


def _narrowed(fits: list[Standing], at: datetime | None) -> list[Standing]:
    """Those alive, where any is."""
    return [one for one in fits if _was_alive(one, at)] or fits


def _was_alive(one: Standing, at: datetime | None) -> bool:
    if at is None:
        return one.alive
    return one.at <= at and (one.over is None or at < one.over)
