"""Done, seen, put off: what was said of checks by their keys."""

from datetime import date, datetime, timedelta

import pytest

from notebook import ZONE, moment
from seasons import lot, season
from seedstart.acts.known import Known
from seedstart.daily.check import Check, What
from seedstart.daily.check_status import NOTHING_SAID, put_off, said_of
from seedstart.season.journal.entries import BLANK, Checked, Counted, PutOff, Sown, Struck
from seedstart.season.journal.entry import Subject
from seedstart.tracking.records import Records
from walk import MakeWalk

WEDNESDAY = date(2027, 3, 17)


def on(day: date) -> Known:
    """What is known on a day."""
    return Known(season(), Records(), datetime(day.year, day.month, day.day, 8, tzinfo=ZONE))


def check(what: What = "prick out", put: int = 0) -> Check:
    subject: Subject = ("sowing", "1")
    return Check(key="key", what=what, says="", why=(), subject=subject, due=WEDNESDAY, put_off=put)


@pytest.mark.parametrize(
    ("typed", "until", "why"),
    [("put off", "03-18", None), ("later", "03-18", None), ("not yet", "03-18", None),
     ("put off: tomorrow", "03-18", None), ("put off till tomorrow", "03-18", None),
     ("put off: Saturday", "03-20", None), ("put off: sat: frost", "03-20", "frost"),
     ("put off: wed", "03-24", None), ("put off till monday", "03-22", None),
     ("put off: 3 days", "03-20", None), ("put off: 2 weeks", "03-31", None),
     ("put off: 3d", "03-20", None), ("later to 2027-04-01: away", "04-01", "away"),
     ("put off: 1 April 2027", "04-01", None),
     ("put off: no true leaf yet", "03-20", "no true leaf yet"),
     ("put off: sunny today", "03-18", "sunny today"),
     ("PUT OFF: Thu", "03-18", None)],
)  # fmt: skip
def test_putting_off_till_a_day_or_with_a_reason(typed: str, until: str, why: str | None) -> None:
    found = put_off(check(), typed, on(WEDNESDAY))
    month, day = map(int, until.split("-"))
    assert found == (PutOff(**BLANK, check="key", until=date(2027, month, day), why=why),)


@pytest.mark.parametrize(
    ("typed", "today", "until"),
    [("put off: tomorrow", date(2027, 12, 31), date(2028, 1, 1)),
     ("put off: 2 days", date(2028, 2, 28), date(2028, 3, 1)),
     ("put off: monday", date(2028, 2, 29), date(2028, 3, 6)),
     ("put off: 1 day", date(2027, 2, 28), date(2027, 3, 1))],
)  # fmt: skip
def test_the_year_ends_and_leaps(typed: str, today: date, until: date) -> None:
    (found,) = put_off(check(), typed, on(today)) or ()
    assert isinstance(found, PutOff)
    assert found.until == until


@pytest.mark.parametrize(("times", "days"), [(0, 1), (1, 2), (2, 3), (9, 3)])
def test_moist_waits_longer_each_time(times: int, days: int) -> None:
    # docs/round.md, common practice.
    (found,) = put_off(check("water", times), "moist", on(WEDNESDAY)) or ()
    assert isinstance(found, PutOff)
    assert (found.until, found.why) == (WEDNESDAY + timedelta(days=days), "moist")


@pytest.mark.parametrize("typed", ["", "5", "moist", "putting off", "laterally", "="])
def test_nothing_else_puts_off(typed: str) -> None:
    assert put_off(check(), typed, on(WEDNESDAY)) is None


def test_the_last_word_holds() -> None:
    fields = {"check": "key", "by": "me"}
    first = PutOff(id="a" * 36, at=moment("3-17"), until=date(2027, 4, 1), **fields)
    second = PutOff(id="b" * 36, at=moment("3-18"), until=date(2027, 3, 20), **fields)
    done = Checked(id="c" * 36, at=moment("3-19"), **fields)
    found = said_of([first, second])
    assert found.hides_on(date(2027, 3, 19))
    assert not found.hides_on(date(2027, 3, 20))
    assert said_of([first, second, done]).checked == done
    assert said_of([]) is NOTHING_SAID


def test_put_off_without_a_day_is_till_tomorrow() -> None:
    said = said_of([PutOff(id="a" * 36, at=moment("3-17"), by="me", check="key")])
    assert said.hides_on(date(2027, 3, 17))
    assert not said.hides_on(date(2027, 3, 18))


def test_what_journals_say_of_a_check_by_its_former_key_still_holds(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek", station='"shelf"'))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    assert found.check("3-10", "water").key == "water leek 2027-03-01"
    found.write(PutOff, "3-10", check="feel leek 2027-03-01", until=date(2027, 3, 12))
    assert found.checks("3-11", "water") == []
    assert found.check("3-12", "water").put_off == 1
    found.write(PutOff, "3-12", check="water leek 2027-03-01", until=date(2027, 3, 14))
    assert found.check("3-14", "water").put_off == 2


def test_what_was_put_off_and_struck_is_there_again(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek", station='"shelf"'))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.write(Counted, "3-15", sowing="leek", standing=9)
    count = found.check("3-16", "count")
    (later,) = found.tick(count, "3-16 09:00", "put off: saturday")
    assert found.checks("3-17", "count") == []
    found.write(Struck, "3-17 09:00", entry=later.id)
    assert found.check("3-17 10:00", "count").key == count.key


def test_done_today_is_in_sight_till_midnight(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek", station='"shelf"'))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.write(Counted, "3-15", sowing="leek", standing=9)
    lamp = found.check("3-15 09:00", "lamp on")
    found.tick(lamp, "3-15 23:00")
    (done,) = found.done("3-15 23:30", "lamp on")
    assert (done.key, done.done_by) == (lamp.key, "bench")
    assert found.done("3-16 00:00", "lamp on") + found.checks("3-16 00:00", "lamp on") == []
