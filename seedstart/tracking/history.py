"""What was written about one sowing: its own entries, and those of where it stood meanwhile."""

from collections.abc import Iterable, Iterator
from itertools import chain

from seedstart.season.entries import Entry
from seedstart.season.journal import Journal
from seedstart.tracking.identity import without_id
from seedstart.tracking.meanings import meaning
from seedstart.tracking.records import Records


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
