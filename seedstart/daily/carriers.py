"""What is carried, covered and watered as one: a tray with its sowings, or a sowing by itself."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cached_property
from itertools import chain

from msgspec import Struct

from seedstart.season.entry import Subject
from seedstart.text import natural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


class Carrier(Struct, frozen=True, dict=True):
    """A tray, or a sowing that is in none.

    Attributes:
        subject: The tray by name, or the sowing by id.
        name: The tray's, or the sowing's as a line of the journal is to call it.
        station: Where it stands; None where nobody has said.
        sowings: Those in it that are alive or went today, by name.
    """

    subject: Subject
    name: str
    station: str | None
    sowings: tuple[Standing, ...]

    @property
    def tray(self) -> str | None:
        """The tray, if it is one."""
        return self.name if self.subject[0] == "tray" else None

    @property
    def in_key(self) -> str:
        """How keys call it: a tray and a sowing may bear one name."""
        tray = self.tray
        return self.name if tray is None or tray.casefold().startswith("tray") else f"tray {tray}"

    @cached_property
    def alive(self) -> tuple[Standing, ...]:
        """The sowings in it that want care: not those whose plants were all pricked out."""
        return tuple(one for one in self.sowings if one.lives)


def carriers(records: Records, today: date) -> dict[Subject, Carrier]:
    """Everything that stands somewhere, in order of names."""
    return _in_order(_made(records.links.carried, records, today))


def carriers_again(
    before: Mapping[Subject, Carrier], sowings: Iterable[str], records: Records, today: date
) -> dict[Subject, Carrier]:
    """The same after something new is known of some sowings, none of which came or was moved."""
    touched = {records.links.carrier(sowing) for sowing in sowings}
    others = (one for subject, one in before.items() if subject not in touched)
    return _in_order(chain(others, _made(touched, records, today)))


def _in_order(found: Iterable[Carrier]) -> dict[Subject, Carrier]:
    return {one.subject: one for one in sorted(found, key=lambda one: natural(one.name))}


def _made(subjects: Iterable[Subject], records: Records, today: date) -> Iterator[Carrier]:
    """Those in which something is alive, or went today."""
    for subject in subjects:
        standings = map(records.standings.__getitem__, records.links.carried[subject])
        here = [one for one in standings if one.over is None or one.over.date() == today]
        if here:
            name = subject[1] if subject[0] == "tray" else records.name_in_line(subject[1])
            station = records.station_of(here[0].id)
            yield Carrier(
                subject, name, station, tuple(sorted(here, key=lambda one: natural(one.name)))
            )
