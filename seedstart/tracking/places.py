"""The entries of one tray or station → what is known of it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from seedstart.season.entries import (
    Adjusted,
    Covered,
    Entry,
    Fed,
    Hardened,
    Held,
    Moved,
    Noted,
    Read,
    Uncovered,
    Watered,
    Weighed,
)
from seedstart.season.entry import Subject
from seedstart.season.names import Called
from seedstart.tracking.identity import AS_WRITTEN
from seedstart.tracking.place import Place
from seedstart.tracking.stays import Begun, stays


def fold_place(subject: Subject, entries: Iterable[Entry], called: Called = AS_WRITTEN) -> Place:
    """What is known of one tray or station.

    Args:
        subject: It, by its present name.
        entries: Those in force that name it, in order of (at, id).
        called: Present names of stations.
    """
    by_kind: defaultdict[type[Entry], list[Any]] = defaultdict(list)
    for entry in entries:
        by_kind[type(entry)].append(entry)
    covers = [*by_kind[Covered], *by_kind[Uncovered]]
    return Place(
        subject=subject,
        covered=tuple(sorted(covers, key=lambda entry: (entry.at, entry.id))),
        watered=tuple(by_kind[Watered]),
        fed=tuple(by_kind[Fed]),
        weighed=tuple(by_kind[Weighed]),
        hardened=tuple(by_kind[Hardened]),
        held=tuple(by_kind[Held]),
        noted=tuple(by_kind[Noted]),
        readings=tuple(by_kind[Read]),
        settings=tuple(by_kind[Adjusted]),
        stays=stays(_moves(by_kind[Moved], called)),
    )


def _moves(moved: Iterable[Moved], called: Called) -> Iterator[Begun]:
    """Where it was carried; what says again where it stands is no move."""
    stood: str | None = None
    for entry in moved:
        if entry.station != stood:
            yield ("station", called.station(entry.station)), entry.at, None
        stood = entry.station
