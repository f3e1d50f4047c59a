"""Where something was, one place after the other: stays, cut where the next begins."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from seedstart.season.entry import Subject
from seedstart.tracking.place import Spot
from seedstart.tracking.standing import Stay

# A place, since when, and of a tray the station that was named with it.
Begun = tuple[Subject, datetime, str | None]


def stays(begun: Iterable[Begun]) -> tuple[Stay, ...]:
    """Each lasts until the next begins; of two of one moment the later told holds."""
    told = sorted(begun, key=lambda one: one[1])
    ends: list[datetime | None] = [since for _, since, _ in told[1:]]
    return tuple(
        Stay(where, since, until, station)
        for (where, since, station), until in zip(told, [*ends, None], strict=bool(told))
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
