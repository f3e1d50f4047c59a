"""What is carried, covered and watered as one: a tray with its sowings, or a sowing by itself."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from itertools import chain
from typing import TypedDict

from msgspec import Struct

from seedstart.daily.check import Asked
from seedstart.season.journal.entry import Subject
from seedstart.text import natural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

WantsCare = Callable[[Standing], bool]


class LineOfOne(TypedDict):
    """Keys of a check that is about one sowing."""

    subject: Subject
    station: str | None
    tray: str | None
    sowings: tuple[Asked, ...]


class Carrier(Struct, frozen=True):
    """A tray, or a sowing that is in none.

    Attributes:
        subject: The tray by name, or the sowing by id.
        name: The tray's, or the sowing's as a line of the journal is to call it.
        station: Where it stands; None somewhere nobody wrote down.
        sowings: Those in it that are alive or went today, by name.
        alive: Those of them that want care: in which something stands or is still to come.
    """

    subject: Subject
    name: str
    station: str | None
    sowings: tuple[Standing, ...]
    alive: tuple[Standing, ...]

    @property
    def tray(self) -> str | None:
        """The tray, if it is one."""
        return self.name if self.subject[0] == "tray" else None

    def line_of(self, one: Standing, asked: Asked) -> LineOfOne:
        """What a check of one sowing here is about, and where that stands: keys of `Check`."""
        return {
            "subject": ("sowing", one.id),
            "station": self.station,
            "tray": self.tray,
            "sowings": (asked,),
        }

    @property
    def in_key(self) -> str:
        """How keys call it: a tray and a sowing may bear one name."""
        tray = self.tray
        return self.name if tray is None or tray.casefold().startswith("tray") else f"tray {tray}"


def carriers(records: Records, today: date, wants_care: WantsCare) -> dict[Subject, Carrier]:
    """Everything that stands somewhere, in order of names.

    Args:
        records: What happened.
        today: What went on that day is still among it.
        wants_care: Whether a sowing wants care: nothing is asked of what is empty.
    """
    return _in_order(_made(records.links.carried, records, today, wants_care))


def carriers_again(
    before: Mapping[Subject, Carrier],
    sowings: Iterable[str],
    records: Records,
    today: date,
    wants_care: WantsCare,
) -> dict[Subject, Carrier]:
    """The same after something new is known of some sowings, none of which came or was moved."""
    touched = {records.links.carrier(sowing) for sowing in sowings}
    others = (one for subject, one in before.items() if subject not in touched)
    return _in_order(chain(others, _made(touched, records, today, wants_care)))


def _in_order(found: Iterable[Carrier]) -> dict[Subject, Carrier]:
    return {one.subject: one for one in sorted(found, key=lambda one: natural(one.name))}


def _made(
    subjects: Iterable[Subject], records: Records, today: date, wants_care: WantsCare
) -> Iterator[Carrier]:
    """Those in which something is alive, or went today."""
    for subject in subjects:
        standings = map(records.standings.__getitem__, records.links.carried[subject])
        here = [one for one in standings if one.over is None or one.over.date() == today]
        if here:
            name = subject[1] if subject[0] == "tray" else records.name_in_line(subject[1])
            station = records.station_of(here[0].id)
            sowings = tuple(sorted(here, key=lambda one: natural(one.name)))
            alive = tuple(one for one in sowings if wants_care(one))
            yield Carrier(subject, name, station, sowings, alive)
