"""What was done, act by act, the latest first: so that one can be taken back where it is listed."""

from collections.abc import Iterable

from msgspec import Struct

from seedstart.season.entries import Entry, Sown, Struck
from seedstart.season.journal import Journal
from seedstart.text import folded
from seedstart.tracking.history import history
from seedstart.tracking.identity import without_id
from seedstart.tracking.records import Records


class Act(Struct, frozen=True):
    """Entries that were written together.

    Attributes:
        entries: By id; strikes are left out.
        taken_back: None of them is in force.
    """

    entries: tuple[Entry, ...]
    taken_back: bool

    @property
    def first(self) -> Entry:
        """The entry that says when it was, and whose it is."""
        return self.entries[0]


def acts_of(
    records: Records, journal: Journal, lot: str | None = None, most: int | None = None
) -> tuple[Act, ...]:
    """The acts of a journal, those written last first.

    Args:
        records: What happened; what is later than their last day is left out.
        journal: What they were made from; what was taken back is told too.
        lot: Of this lot, its sowings and their daughters alone.
        most: So many at most.
    """
    entries: Iterable[Entry] = (
        journal.by_id.values() if lot is None else _of_lot(records, journal, lot)
    )
    until = records.until
    together: dict[str, list[Entry]] = {}
    for entry in sorted(entries, key=lambda entry: entry.id, reverse=True):
        if isinstance(entry, Struck) or (until is not None and entry.at.date() > until):
            continue
        act = entry.act or entry.id
        if act in together or most is None or len(together) < most:
            together.setdefault(act, []).append(entry)
    return tuple(
        Act(tuple(reversed(act)), is_taken_back(journal, act)) for act in together.values()
    )


def _of_lot(records: Records, journal: Journal, lot: str) -> Iterable[Entry]:
    """What names a lot, or is about a sowing of it or where that stood; struck ones too."""
    sowings = {one.id for one in records.of_lot(lot)}
    bases = {without_id(name) for one in sowings for name in records.identity.names[one]}
    found = {entry.id: entry for one in sowings for entry in history(records, journal, one)}
    for (kind, name), entries in journal.of.items():
        if kind == "lot" and records.called.lot(name) == lot:
            found |= {entry.id: entry for entry in entries}
        elif kind == "sowing":  # `history` has those in force
            own = without_id(name) in bases
            found |= {
                entry.id: entry
                for entry in entries
                if entry.id in journal.struck
                if (own and records.identity.means(entry, name) in {None, *sowings})
                or (isinstance(entry, Sown) and records.called.lot(entry.lot) == lot)
            }
    return found.values()


def is_taken_back(journal: Journal, act: Iterable[Entry]) -> bool:
    """Whether none of an act is in force; its own strikes do not count."""
    return all(one.id in journal.struck for one in act if not isinstance(one, Struck))


def strikes_in_force(journal: Journal, act: Iterable[Entry]) -> tuple[str, ...]:
    """The ids of the strikes that keep an act taken back."""
    wanted = {entry.id for entry in act}
    return tuple(
        one.id
        for one in journal.by_id.values()
        if isinstance(one, Struck) and one.entry in wanted and one.id not in journal.struck
    )


def names_it(journal: Journal, kind: str, name: str) -> Entry | None:
    """An entry in force that names a lot or a station; None where nothing was done with it."""
    wanted = folded(name)
    for entry in journal.by_id.values():
        named = getattr(entry, kind, None)
        if isinstance(named, str) and folded(named) == wanted and entry.id not in journal.struck:
            return entry
    return None
