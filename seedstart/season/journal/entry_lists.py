"""Lists of journal entries: files read in step, repeats left out, put in order, some taken away."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from itertools import islice
from operator import attrgetter, eq
from typing import Final

from seedstart.season.journal.entry import Entry

ID: Final = attrgetter("id")
AT: Final = attrgetter("at")


def in_step(files: list[Iterator[list[Entry]]]) -> Iterator[list[Entry]]:
    """The entries of several files, batch by batch, in order of id as far as theirs are.

    What was written at one time comes at one time: so repeats meet, hardly anything has to be
    put in order later, and it is all still in the cache.
    """
    if len(files) == 1:
        yield from files[0]
        return
    heads: list[tuple[list[Entry], Iterator[list[Entry]]]] = [([], blocks) for blocks in files]
    while heads := [head for head in map(_filled, heads) if head[0]]:
        upto = min(entries[-1].id for entries, _ in heads)
        cuts = [bisect_right(entries, upto, key=ID) for entries, _ in heads]
        batch = [e for (entries, _), cut in zip(heads, cuts, strict=True) for e in entries[:cut]]
        yield sorted(batch, key=ID)
        heads = [
            (entries[cut:], blocks) for (entries, blocks), cut in zip(heads, cuts, strict=True)
        ]


def _filled(
    head: tuple[list[Entry], Iterator[list[Entry]]],
) -> tuple[list[Entry], Iterator[list[Entry]]]:
    entries, blocks = head
    while not entries and (block := next(blocks, None)) is not None:
        entries = sorted(block, key=ID)
    return entries, blocks


def without_neighbours(batch: list[Entry]) -> list[Entry]:
    """Entries in order of id, without those like the one before."""
    ids = list(map(ID, batch))
    repeated = map(eq, ids, islice(ids, 1, None))
    fresh = batch[:1]
    fresh += (
        entry
        for before, entry, again in zip(batch, islice(batch, 1, None), repeated, strict=False)
        if not again or not alike(before, entry)
    )
    return fresh


def put_in_order(entries: list[Entry]) -> None:
    """Sort entries by (at, id), in place."""
    entries.sort(key=AT)
    moments = list(map(AT, entries))
    if any(map(eq, moments, islice(moments, 1, None))):
        entries.sort(key=ID)
        entries.sort(key=AT)


def without(entries: list[Entry], taken_back: Iterable[Entry]) -> list[Entry]:
    """Entries without some of them: few are struck, and the stretches between are copied whole."""
    places = []
    for entry in taken_back:
        place = bisect_left(entries, entry.at, key=AT)
        while entries[place] is not entry:
            place += 1
        places.append(place)
    kept: list[Entry] = []
    start = 0
    for place in sorted(places):
        kept += entries[start:place]
        start = place + 1
    return kept + entries[start:]


def alike(entry: Entry, other: Entry) -> bool:
    """Whether two entries of one id say the same."""
    # Times compare as moments, but the day of an entry is its date as written.
    zones = entry.at.tzinfo, other.at.tzinfo
    return entry == other and (zones[0] is zones[1] or entry.at.utcoffset() == other.at.utcoffset())
