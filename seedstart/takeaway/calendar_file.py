"""Reminders as an iCalendar file (RFC 5545) that a phone's calendar takes in.

A reminder keeps its UID whatever day it moves to, and its SEQUENCE rises when it changes, so that a
reader that obeys the standard updates it in place of doubling it. The file of one state is the same
byte for byte.
"""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final
from uuid import UUID, uuid5

from msgspec import Struct

from seedstart.problems import BadInputError, Problem
from seedstart.takeaway.reminders import Reminder
from seedstart.text import clean

if TYPE_CHECKING:
    from icalendar import Calendar, Event

_PRODUCT: Final = "-//seedstart//sowing calendar//EN"
# A name space of our own: version 5 UUIDs of the same key are the same everywhere.
_SPACE: Final = UUID("5d9a3a1e-6f0b-4a0e-9a53-5eed57a27000")


class Edition(Struct, frozen=True):
    """What an export is of.

    Attributes:
        season: What marks off this season from others in the same calendar.
        title: For the reader.
        revision: Never falls while the season goes on: the SEQUENCE of what is new or has changed.
        stamp: When its state came about, in UTC.
        today: The day it is made for.
    """

    season: str
    title: str
    revision: int
    stamp: datetime
    today: date


def calendar_file(
    reminders: Iterable[Reminder],
    edition: Edition,
    *,
    alarm: timedelta | None = None,
    old: bytes = b"",
    file: str = "",
) -> bytes:
    """The bytes of an iCalendar file.

    Args:
        reminders: What is to be done.
        edition: What the export is of.
        alarm: After midnight of the day, where a reminder is to ring.
        old: The file that it takes the place of. What did not change in it stays as it stands
            there; what it had for days to come, and is no more, is marked as cancelled.
        file: Its name, for what is wrong.

    Raises:
        BadInputError: The old file is no calendar of this program.
    """
    before = _events_of(old, file) if old.strip() else {}
    events = [_event(reminder, edition, alarm) for reminder in reminders]
    named = {str(event["UID"]) for event in events}
    gone = [
        _cancelled(one, edition)
        for uid, one in before.items()
        if uid not in named and one.decoded("DTSTART") >= edition.today
    ]
    calendar = _empty(edition)
    for event in [*events, *gone]:
        calendar.add_component(_kept(event, before.get(str(event["UID"]))))
    return bytes(calendar.to_ical(sorted=True))


def _empty(edition: Edition) -> "Calendar":
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("PRODID", _PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("X-WR-CALNAME", clean(edition.title))
    return calendar


def _event(reminder: Reminder, edition: Edition, alarm: timedelta | None) -> "Event":
    from icalendar import Alarm, Event

    event = Event()
    event.add("UID", f"{uuid5(_SPACE, f'{edition.season}/{reminder.key}')}@seedstart")
    event.add("DTSTAMP", edition.stamp)
    event.add("DTSTART", reminder.day)
    event.add("DTEND", reminder.day + timedelta(days=1))  # all day: the end is not included
    event.add("SUMMARY", clean(f"{reminder.says[:1].upper()}{reminder.says[1:]}"))
    if reminder.more:
        event.add("DESCRIPTION", clean(reminder.more))
    event.add("CATEGORIES", [reminder.kind])
    event.add("TRANSP", "TRANSPARENT")  # the day is not taken up by it
    event.add("SEQUENCE", edition.revision)
    if alarm is not None:
        ring = Alarm()
        ring.add("ACTION", "DISPLAY")
        ring.add("DESCRIPTION", clean(reminder.says))
        ring.add("TRIGGER", alarm)
        event.add_component(ring)
    return event


def _cancelled(event: "Event", edition: Edition) -> "Event":
    """An event that is to be no more (STATUS: CANCELLED under its own UID, RFC 5545 3.8.1.11)."""
    gone = event.copy(recursive=True)
    for key in ("STATUS", "DTSTAMP", "SEQUENCE"):
        gone.pop(key, None)
    gone.subcomponents = []
    gone.add("STATUS", "CANCELLED")
    gone.add("DTSTAMP", edition.stamp)
    gone.add("SEQUENCE", edition.revision)
    return gone


def _kept(event: "Event", before: "Event | None") -> "Event":
    """The event as it stood, where it says the same; else with a SEQUENCE above the old one."""
    if before is None:
        return event
    if _without_edition(event) == _without_edition(before):
        return before
    sequence = max(int(str(event["SEQUENCE"])), int(str(before.get("SEQUENCE", 0))) + 1)
    event.pop("SEQUENCE")
    event.add("SEQUENCE", sequence)
    return event


def _without_edition(event: "Event") -> bytes:
    bare = event.copy(recursive=True)
    for key in ("DTSTAMP", "SEQUENCE"):
        bare.pop(key, None)
    return bytes(bare.to_ical(sorted=True))


def _events_of(old: bytes, file: str) -> Mapping[str, "Event"]:
    """The events of a file that was written before, by UID.

    Raises:
        BadInputError: It is something else.
    """
    from icalendar import Calendar

    hint = "It is no calendar that seedstart wrote: nothing was written over it. Name another file."
    try:
        calendar = Calendar.from_ical(old)
        if str(calendar.get("PRODID", "")) != _PRODUCT:
            raise BadInputError([Problem(file=file, hint=hint)])
    except ValueError:
        raise BadInputError([Problem(file=file, hint=hint)]) from None
    return {str(event["UID"]): event for event in calendar.events}
