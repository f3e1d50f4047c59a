"""The entries of one tray or station → what is known of it."""

from collections.abc import Iterable, Iterator
from itertools import compress, repeat
from operator import is_
from typing import Any, TypeVar

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

_E = TypeVar("_E", bound=Entry)


def fold_place(subject: Subject, entries: Iterable[Entry], called: Called = AS_WRITTEN) -> Place:
    """What is known of one tray or station.

    Args:
        subject: It, by its present name.
        entries: Those in force that name it, in order of (at, id).
        called: Present names of stations.
    """
    entries = list(entries)
    kinds = list(map(type, entries))
    present = set(kinds)

    def of(kind: type[_E]) -> tuple[_E, ...]:
        """Those of a kind; of a nursery's hundred thousand a loop would take thrice as long."""
        if kind not in present:
            return ()
        found: Iterable[Any] = compress(entries, map(is_, kinds, repeat(kind)))
        return tuple(found)

    covers: list[Covered | Uncovered] = [*of(Covered), *of(Uncovered)]
    return Place(
        subject=subject,
        covered=tuple(sorted(covers, key=lambda entry: (entry.at, entry.id))),
        watered=of(Watered),
        fed=of(Fed),
        weighed=of(Weighed),
        hardened=of(Hardened),
        held=of(Held),
        noted=of(Noted),
        readings=of(Read),
        settings=of(Adjusted),
        stays=stays(_moves(of(Moved), called)),
    )


def _moves(moved: Iterable[Moved], called: Called) -> Iterator[Begun]:
    """Where it was carried; what says again where it stands is no move."""
    stood: str | None = None
    for entry in moved:
        if entry.station != stood:
            yield ("station", called.station(entry.station)), entry.at, None
        stood = entry.station
