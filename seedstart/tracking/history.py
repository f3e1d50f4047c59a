"""What was written about one sowing: its own entries, and those of where it stood meanwhile."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import chain

from msgspec import Struct

from seedstart.season.journal.entries import Entry, MixedUp, Sown, Struck
from seedstart.season.journal.journal import Journal
from seedstart.text import folded
from seedstart.tracking.identity import without_id
from seedstart.tracking.meanings import meaning
from seedstart.tracking.records import Records
from seedstart.tracking.sowings import fold_sowing
from seedstart.tracking.standing import Standing


def history(happened: Records, journal: Journal, sowing: str) -> list[Entry]:
    """The entries that are about a sowing and were not taken back, in order.

    Its own, under whatever names; and those about its trays and stations while it was there, but
    for what was read there: readings have a list of their own.

    Args:
        happened: The records; what is later than their last day is left out.
        journal: What they were made from.
        sowing: Its id.
    """
    bases = dict.fromkeys(map(without_id, happened.identity.names[sowing]))
    names = [name for base in bases for name in happened.folds.lines.get(base, ())]
    until = happened.until
    own = (
        [
            entry
            for entry in journal.in_force(("sowing", name))
            if (until is None or entry.at.date() <= until)
            and happened.identity.means(entry, name) == sowing
        ]
        for name in names
    )
    return _in_order([*own, *_where_it_was(happened, journal, sowing)])


def _where_it_was(happened: Records, journal: Journal, sowing: str) -> Iterator[list[Entry]]:
    """What was written of each tray and station while the sowing was there and went on."""
    over, until = happened.standings[sowing].over, happened.until
    for spot in happened.spots(sowing):
        for place in spot.subjects:
            for subject in happened.folds.written.get(place, ()):
                yield [
                    entry
                    for entry in journal.in_force(subject)
                    if meaning(entry).care != "readings"
                    and spot.since <= entry.at
                    and (spot.until is None or entry.at < spot.until)
                    and (over is None or entry.at <= over)
                    and (until is None or entry.at.date() <= until)
                ]


def _in_order(parts: Iterable[list[Entry]]) -> list[Entry]:
    """Entries in order of (at, id), each once."""
    entries = {entry.id: entry for entry in chain.from_iterable(parts)}
    return sorted(entries.values(), key=lambda entry: (entry.at, entry.id))


def standing_at(records: Records, sowing: str, at: datetime | None) -> Standing | None:
    """What was known of a sowing's plants at a moment.

    Args:
        records: What happened, up to now.
        sowing: Its id.
        at: The moment, itself included; None for now.

    Returns:
        None where it was not made by then. What it has from its mother (lot, first place) is as
        it is now.
    """
    now = records.standings.get(sowing)
    if now is None or at is None:
        return now
    maker = records.identity.made[sowing]
    if at < maker.at:
        return None
    own = (entry for entry in (maker, *now.counted, *now.acts, *now.dug) if entry.at <= at)
    entries = sorted(
        {entry.id: entry for entry in own}.values(), key=lambda entry: (entry.at, entry.id)
    )
    came = {entry.id: _came(records, entry) for entry in entries if isinstance(entry, MixedUp)}
    return fold_sowing(sowing, entries, records.identity, records.called, came)


def _came(records: Records, mixed: MixedUp) -> int:
    """How many plants a mixing up brought where they went on."""
    givers = (
        standing for standing in records.standings.values() if standing.mixed_into == mixed.id
    )
    return sum(giver.left.get("mixed_up", 0) for giver in givers)


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
        journal: What they were made from; what was taken back is listed too.
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
    sowings = {sowing.id for sowing in records.of_lot(lot)}
    bases = {without_id(name) for sowing in sowings for name in records.identity.names[sowing]}
    found = {entry.id: entry for sowing in sowings for entry in history(records, journal, sowing)}
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
    return all(entry.id in journal.struck for entry in act if not isinstance(entry, Struck))


def strikes_in_force(journal: Journal, act: Iterable[Entry]) -> tuple[str, ...]:
    """The ids of the strikes that keep an act taken back."""
    wanted = {entry.id for entry in act}
    return tuple(
        entry.id
        for entry in journal.by_id.values()
        if isinstance(entry, Struck) and entry.entry in wanted and entry.id not in journal.struck
    )


def names_it(journal: Journal, kind: str, name: str) -> Entry | None:
    """An entry in force that names a lot or a station; None where nothing was done with it."""
    wanted = folded(name)
    for entry in journal.by_id.values():
        named = getattr(entry, kind, None)
        if isinstance(named, str) and folded(named) == wanted and entry.id not in journal.struck:
            return entry
    return None
