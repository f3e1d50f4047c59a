"""What is known of one tray or station: where a tray stood, what was done there, what was read."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import compress, repeat
from operator import attrgetter, is_
from typing import Any, Final, Literal

from msgspec import Struct

from seedstart.season.journal.entries import (
    Entry,
    Scarified,
    Soaked,
    Stratified,
    TakenOut,
    Treatment,
)
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.names import Called
from seedstart.tracking.identity import AS_WRITTEN
from seedstart.tracking.meanings import MEANINGS, CaredPlace
from seedstart.tracking.standing import Stay


class Place(CaredPlace, frozen=True, kw_only=True):
    """What is known of one tray or station; the care that it got itself is in order of (at, id).

    Attributes:
        subject: The tray or station by its present name.
        stays: Of a tray: the stations at which it stood, in order. What sowings say of it
            (sown in this tray at that station) counts too.
    """

    subject: Subject
    stays: tuple[Stay, ...] = ()

    def station_at(self, at: datetime | None = None) -> str | None:
        """The station at which a tray stood, or stands now; None before any was named."""
        if at is None:
            return self.stays[-1].where[1] if self.stays else None
        return next((stay.where[1] for stay in reversed(self.stays) if stay.since <= at), None)


class Spot(Struct, frozen=True, gc=False):
    """Tray and station at which a sowing was for a time.

    Attributes:
        since: From when on.
        until: Till when; None while it is there.
        tray: The tray it was in, if in one.
        station: Where it, or its tray, stood; None somewhere nobody wrote down.
    """

    since: datetime
    until: datetime | None
    tray: str | None
    station: str | None

    @property
    def subjects(self) -> Iterator[Subject]:
        """The tray, then the station."""
        if self.tray is not None:
            yield "tray", self.tray
        if self.station is not None:
            yield "station", self.station


class Treated(Struct, frozen=True, gc=False):
    """Something that was done to a lot's seed before it was sown.

    Attributes:
        id: Of its entry; `sown` names it under `after`.
        lot: The lot by its present name.
        what: The treatment.
        since: When it began.
        until: When it was taken out; None while it lasts, and where nobody said so.
        hours: How long it is to last, hours.
        seeds: How many seeds.
        c: At what temperature, °C.
        liquid: In what, where that is not water.
        by: Who began it.
        ended_by: Who took it out.
    """

    id: str
    lot: str
    what: Literal["soaked", "stratified", "scarified"]
    since: datetime
    until: datetime | None = None
    hours: float | None = None
    seeds: int | None = None
    c: float | None = None
    liquid: str | None = None
    by: str = ""
    ended_by: str = ""


# A place, since when, and of a tray the station that was named with it.
Begun = tuple[Subject, datetime, str | None]


def stays(begun: Iterable[Begun]) -> tuple[Stay, ...]:
    """Stays that each last until the next begins; of two of one moment the later listed holds."""
    in_order = sorted(begun, key=lambda stay: stay[1])
    ends: list[datetime | None] = [since for _, since, _ in in_order[1:]]
    return tuple(
        Stay(where, since, until, station)
        for (where, since, station), until in zip(in_order, [*ends, None], strict=bool(in_order))
        if since != until
    )


def spots(of_sowing: Sequence[Stay], of_trays: dict[str, tuple[Stay, ...]]) -> tuple[Spot, ...]:
    """Tray and station of a sowing, from its own stays and those of the trays it was in."""
    found: list[Spot] = []
    for stay in of_sowing:
        kind, name = stay.where
        if kind == "station":
            found.append(Spot(stay.since, stay.until, None, name))
        else:
            found += _in_tray(stay, name, of_trays.get(name, ()))
    return tuple(found)


def _in_tray(stay: Stay, tray: str, of_tray: tuple[Stay, ...]) -> Iterable[Spot]:
    """A stay in a tray, cut where the tray was carried to another station."""
    since, station = stay.since, None
    for other in of_tray:
        if stay.until is not None and other.since >= stay.until:
            break
        if other.since > since:
            yield Spot(since, other.since, tray, station)
            since = other.since
        station = other.where[1]
    yield Spot(since, stay.until, tray, station)


_WHAT: Final[dict[type[Entry], Literal["soaked", "stratified", "scarified"]]] = {
    Soaked: "soaked", Stratified: "stratified", Scarified: "scarified",
}  # fmt: skip


def fold_treatments(lot: str, entries: Iterable[Entry]) -> tuple[Treated, ...]:
    """The treatments of a lot's seed, in order.

    Args:
        lot: Its present name.
        entries: Those in force that name it, in order of (at, id), the ends of its treatments too.
            Of two ends of one treatment the later holds.
    """
    known = list(entries)
    ends = {entry.entry: entry for entry in known if isinstance(entry, TakenOut)}
    return tuple(
        Treated(
            id=entry.id,
            lot=lot,
            what=_WHAT[type(entry)],
            since=entry.at,
            until=ends[entry.id].at if entry.id in ends else None,
            hours=entry.days * 24 if entry.days is not None else entry.hours,
            seeds=entry.seeds,
            c=entry.c,
            liquid=entry.liquid,
            by=entry.by,
            ended_by=ends[entry.id].by if entry.id in ends else "",
        )
        for entry in known
        if isinstance(entry, Treatment)
    )


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
