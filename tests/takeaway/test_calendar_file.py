"""Reminders as iCalendar, read back by a library other than the one that wrote them."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
import vobject
from msgspec import structs

from seedstart.problems import BadInputError
from seedstart.takeaway.calendar_file import Edition, calendar_file
from seedstart.takeaway.reminders import Reminder

EDITION = Edition(
    season="Europe/Vienna 2027",
    title="Back room, spring 2027",
    revision=7,
    stamp=datetime(2027, 3, 1, 6, tzinfo=UTC),
    today=date(2027, 3, 1),
)
SOW = Reminder("leek/1/sow", "sow", date(2027, 3, 10), "sow 35 leek seeds", "Any day will do.")
OUT = Reminder("leek/1/set_out", "set-out", date(2027, 5, 1), "set out leek")


def events(data: bytes) -> dict[str, Any]:
    """By summary, as vobject reads them."""
    calendar = vobject.readOne(data.decode())
    return {one.summary.value: one for one in calendar.vevent_list}


def later(days: int, **changes: object) -> Edition:
    return structs.replace(
        EDITION,
        revision=EDITION.revision + days,
        stamp=EDITION.stamp + timedelta(days=days),
        today=EDITION.today + timedelta(days=days),
        **changes,
    )


def test_a_reminder_is_a_whole_day_and_its_end_is_the_next() -> None:
    found = events(calendar_file([SOW], EDITION))["Sow 35 leek seeds"]
    assert (found.dtstart.value, found.dtend.value) == (date(2027, 3, 10), date(2027, 3, 11))
    assert found.description.value == "Any day will do."
    assert found.transp.value == "TRANSPARENT"


def test_the_same_state_gives_the_same_bytes() -> None:
    data = calendar_file([SOW, OUT], EDITION)
    assert calendar_file([SOW, OUT], EDITION) == data
    assert calendar_file([SOW, OUT], EDITION, old=data) == data


def test_no_line_is_longer_than_75_octets_and_all_end_as_the_standard_wants() -> None:
    long = structs.replace(SOW, more="Čtyři sázky, °C; a \\ and é " * 20)
    data = calendar_file([long], EDITION)
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert events(data)["Sow 35 leek seeds"].description.value == long.more.strip() + " "


def test_what_moved_keeps_its_uid_and_its_sequence_rises() -> None:
    first = calendar_file([SOW, OUT], EDITION)
    moved = structs.replace(SOW, day=date(2027, 3, 14))
    second = calendar_file([moved, OUT], later(0), old=first)  # the plan was edited: same revision
    before, after = events(first), events(second)
    name = "Sow 35 leek seeds"
    assert after[name].uid.value == before[name].uid.value
    assert int(after[name].sequence.value) > int(before[name].sequence.value)
    assert after["Set out leek"].serialize() == before["Set out leek"].serialize()


def test_without_the_old_file_the_sequence_rises_with_what_was_written_down() -> None:
    name = "Sow 35 leek seeds"
    first, second = (events(calendar_file([SOW], one))[name] for one in (EDITION, later(1)))
    assert int(second.sequence.value) > int(first.sequence.value)
    assert second.uid.value == first.uid.value


def test_what_is_no_more_is_cancelled_while_its_day_is_still_to_come() -> None:
    first = calendar_file([SOW, OUT], EDITION)
    second = calendar_file([OUT], later(1), old=first)
    gone = events(second)["Sow 35 leek seeds"]
    assert gone.status.value == "CANCELLED"
    assert calendar_file([OUT], later(1), old=second) == second
    assert list(events(calendar_file([OUT], later(30), old=second))) == ["Set out leek"]


def test_another_season_of_the_same_lots_has_uids_of_its_own() -> None:
    other = structs.replace(EDITION, season="Europe/Vienna 2028")
    (one,), (two,) = (events(calendar_file([SOW], each)).values() for each in (EDITION, other))
    assert one.uid.value != two.uid.value


def test_an_alarm_rings_only_where_it_was_asked_for() -> None:
    assert b"VALARM" not in calendar_file([SOW], EDITION)
    (found,) = events(calendar_file([SOW], EDITION, alarm=timedelta(hours=7))).values()
    assert found.valarm.trigger.value == timedelta(hours=7)
    assert found.valarm.action.value == "DISPLAY"


@pytest.mark.parametrize(
    "old", [b"my notes\n", b"BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\nEND:VCALENDAR\r\n"]
)
def test_a_file_of_something_else_is_not_written_over(old: bytes) -> None:
    with pytest.raises(BadInputError, match=r"notes\.ics\. It is no calendar that seedstart wrote"):
        calendar_file([SOW], EDITION, old=old, file="notes.ics")


def test_a_name_brings_no_line_of_its_own_into_the_file() -> None:
    sly = structs.replace(SOW, says="sow leek\r\nATTACH:http://example.invalid")
    assert b"\r\nATTACH" not in calendar_file([sly], EDITION)
