"""The entries of one tray or station → what is known of it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import compress, repeat
from operator import attrgetter, is_
from typing import Any, Final

from seedstart.season.entries import Entry
from seedstart.season.entry import Subject
from seedstart.season.names import Called
from seedstart.tracking.identity import AS_WRITTEN
from seedstart.tracking.meanings import MEANINGS
from seedstart.tracking.place import Place
from seedstart.tracking.stays import Begun, stays

_KEPT: Final = frozenset(Place.__struct_fields__)
_order: Final = attrgetter("at", "id")


def fold_place(subject: Subject, entries: Iterable[Entry], called: Called = AS_WRITTEN) -> Place:
    """What is known of one tray or station.

    Args:
        subject: It, by its present name.
        entries: Those in force that name it, in order of (at, id).
        called: Present names of stations.
    """
    entries = list(entries)
    kinds = list(map(type, entries))
    care: defaultdict[str, tuple[Any, ...]] = defaultdict(tuple)
    moved: list[Any] = []
    for kind in set(kinds) & MEANINGS.keys():
        means = MEANINGS[kind]
        # Of a nursery's hundred thousand a loop would take thrice as long.
        those: tuple[Any, ...] = tuple(compress(entries, map(is_, kinds, repeat(kind))))
        if means.care is not None and means.care in _KEPT:
            before = care[means.care]
            care[means.care] = tuple(sorted((*before, *those), key=_order)) if before else those
        elif means.fold == "place":
            moved += those
    return Place(subject=subject, stays=stays(_moves(moved, called)), **care)


def _moves(moved: Iterable[Any], called: Called) -> Iterator[Begun]:
    """Where it was carried; what says again where it stands is no move."""
    stood: str | None = None
    for entry in moved:
        if entry.station != stood:
            yield ("station", called.station(entry.station)), entry.at, None
        stood = entry.station
