"""The entries of one tray or station → what is known of it."""

from collections import defaultdict
from collections.abc import Iterable
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
from seedstart.tracking.identity import AS_WRITTEN, Called
from seedstart.tracking.place import Place
from seedstart.tracking.stays import stays


def fold_place(subject: Subject, entries: Iterable[Entry], called: Called = AS_WRITTEN) -> Place:
    """What is known of one tray or station.

    Args:
        subject: It, by its present name.
        entries: Those in force that name it, in order of (at, id).
        called: Present names of stations.
    """
    by_kind: defaultdict[type[Entry], list[Any]] = defaultdict(list)
    covers: list[Covered | Uncovered] = []
    for entry in entries:
        if isinstance(entry, Covered | Uncovered):
            covers.append(entry)
        else:
            by_kind[type(entry)].append(entry)
    return Place(
        subject=subject,
        covered=tuple(covers),
        watered=tuple(by_kind[Watered]),
        fed=tuple(by_kind[Fed]),
        weighed=tuple(by_kind[Weighed]),
        hardened=tuple(by_kind[Hardened]),
        held=tuple(by_kind[Held]),
        noted=tuple(by_kind[Noted]),
        readings=tuple(by_kind[Read]),
        settings=tuple(by_kind[Adjusted]),
        stays=stays(
            (("station", called.station(move.station)), move.at, None) for move in by_kind[Moved]
        ),
    )
