"""Midnight, days of 23 and of 25 hours, clocks set back, other zones: order and days of records.

The season is in Vienna: in 2027 the clocks go from 02:00 to 03:00 on 28 March and from 03:00 back
to 02:00 on 31 October (EU directive 2000/84/EC: the last Sundays of both months, 01:00 UTC).
"""

from datetime import date, datetime, timedelta

import pytest

from notebook import ZONE, Notebook, as_read, moment
from seasons import HEAD
from seedstart.season.journal.entries import (
    Counted,
    Covered,
    Hardened,
    Lost,
    Moved,
    Sown,
    Stratified,
    TakenOut,
    Uncovered,
    Watered,
)
from seedstart.tracking.figures import newly_up
from seedstart.tracking.standing import Standing

FRIDGE = HEAD + '[[station]]\nname = "cold box"\nkind = "fridge"\n'


def at(text: str) -> datetime:
    """A moment with its own offset."""
    return datetime.fromisoformat(text)


def sown(day: str = "3-01") -> tuple[Notebook, str]:
    book = Notebook()
    return book, book.write(Sown, day, sowing="leek", lot="leek", seeds=24, station="mat").id


def leek(book: Notebook, until: date | None = None) -> Standing:
    (one,) = book.records(until=until).standings.values()
    return one


def standings(book: Notebook) -> list[int | None]:
    return [count.entry.standing for count in leek(book).counts]


def test_a_minute_before_midnight_is_the_day_and_a_minute_after_it_the_next() -> None:
    book, _ = sown()
    book.write(Counted, "3-10 23:59", sowing="leek", standing=5)
    book.write(Counted, "3-11 00:00", sowing="leek", standing=6)
    assert leek(book, date(2027, 3, 10)).standing == 5
    assert leek(book, date(2027, 3, 11)).standing == 6


def test_fewer_after_midnight_are_missing_and_before_it_a_second_look() -> None:
    book, _ = sown()
    book.write(Counted, "3-10 23:50", sowing="leek", standing=8)
    book.write(Counted, "3-10 23:59", sowing="leek", standing=7)
    assert leek(book).inferred == 0
    book.write(Counted, "3-11 00:01", sowing="leek", standing=5)
    assert leek(book).inferred == 2


def test_two_writers_on_both_sides_of_midnight_do_not_disagree() -> None:
    book, _ = sown()
    book.write(Counted, "3-10 23:59", "bench", sowing="leek", standing=8)
    book.write(Counted, "3-11 00:01", "phone", sowing="leek", standing=7)
    assert leek(book).disagreements == ()


def test_across_the_hour_that_spring_leaves_out_entries_keep_their_order() -> None:
    book, _ = sown()
    book.write(Counted, at("2027-03-28T03:05:00+02:00"), sowing="leek", standing=6)
    book.write(Counted, at("2027-03-28T01:55:00+01:00"), sowing="leek", standing=5)
    assert standings(book) == [5, 6], "ten minutes lie between them"


def test_the_hour_that_autumn_doubles_is_told_apart_by_its_offset() -> None:
    book, _ = sown("10-01")
    book.write(Counted, at("2027-10-31T02:10:00+01:00"), sowing="leek", standing=7)
    book.write(Counted, at("2027-10-31T02:50:00+02:00"), sowing="leek", standing=6)
    assert standings(book) == [6, 7], "the clock says 02:50 first"
    both = [book.entries[-1].at, book.entries[-2].at]
    assert both[1] - both[0] == timedelta(minutes=20)


@pytest.mark.parametrize(("day", "hours"), [("3-27", 23), ("6-01", 24), ("10-30", 25)])
def test_days_of_counts_are_elapsed_time_whatever_the_wall_clock_did(day: str, hours: int) -> None:
    book, one = sown(f"{day} 12:00")
    month, of_month = map(int, day.split("-"))
    noon = datetime(2027, month, of_month, 12, tzinfo=ZONE) + timedelta(days=1)  # on the wall
    book.write(Counted, as_read(noon), sowing="leek", standing=6)
    records = book.records()
    (newly,) = newly_up(records.standings[one], records)
    assert newly.day == pytest.approx(hours / 24)
    assert newly.up == 6


@pytest.mark.parametrize("day", ["3-28", "10-31"])
def test_a_day_of_23_or_25_hours_is_one_day_for_a_second_look(day: str) -> None:
    book, _ = sown()
    book.write(Counted, f"{day} 00:05", "bench", sowing="leek", standing=8)
    book.write(Counted, f"{day} 23:55", "phone", sowing="leek", standing=7)
    assert (leek(book).inferred, len(leek(book).disagreements)) == (0, 1)


def test_entries_of_other_zones_stand_in_the_order_of_their_moments_on_the_days_they_name() -> None:
    book, _ = sown()
    book.write(Counted, at("2027-03-11T04:00:00+01:00"), "bench", sowing="leek", standing=5)
    book.write(Counted, at("2027-03-10T23:30:00-05:00"), "phone", sowing="leek", standing=6)
    book.write(Counted, at("2027-03-11T03:15:00Z"), "tablet", sowing="leek", standing=7)
    assert standings(book) == [5, 7, 6], "03:00, 03:15 and 04:30 in UTC"
    assert leek(book, date(2027, 3, 10)).standing == 6, "its day is the date as written"


def test_a_clock_set_back_puts_what_was_written_later_before() -> None:
    book, _ = sown()
    book.write(Counted, "3-12 08:00", sowing="leek", standing=9)
    book.write(Lost, "3-11 08:00", sowing="leek", plants=2)  # written after it, a day before
    one = leek(book)
    assert (one.standing, one.emerged, one.left) == (9, 11, {"lost": 2})


def test_at_one_moment_what_was_written_first_comes_first() -> None:
    book, _ = sown()
    book.write(Counted, "3-12 08:00", sowing="leek", standing=9)
    book.write(Counted, at("2027-03-12T07:00:00Z"), sowing="leek", standing=8)
    assert standings(book) == [9, 8]


def test_what_lies_ahead_waits_for_its_day_where_a_day_is_asked_for() -> None:
    book, _ = sown()
    book.write(Counted, "3-12", sowing="leek", standing=9)
    book.write(Counted, "9-30", sowing="leek", standing=3)  # a clock half a year ahead
    assert leek(book, date(2027, 3, 13)).standing == 9
    assert leek(book).standing == 3
    right = book.write(Counted, "3-14", sowing="leek", standing=10)
    assert leek(book, right.at.date()).emerged == 10


def test_a_cover_lifted_in_the_doubled_hour_is_lifted_after_it_was_laid_on() -> None:
    book, one = sown("10-01")
    book.write(Uncovered, at("2027-10-31T02:10:00+01:00"), station="mat")
    book.write(Covered, at("2027-10-31T02:40:00+02:00"), station="mat")
    assert not book.records().is_covered(one)
    book.write(Covered, at("2027-10-31T01:20:00Z"), sowing="leek")
    assert book.records().is_covered(one)


def test_watered_last_is_the_latest_moment_and_not_the_latest_clock() -> None:
    book, one = sown("10-01")
    later = book.write(Watered, at("2027-10-31T02:05:00+01:00"), station="mat")
    book.write(Watered, at("2027-10-31T02:55:00+02:00"), sowing="leek")
    assert book.records().last(one, "watered") == later


@pytest.mark.parametrize("day", ["3-28", "10-31"])
def test_hours_out_belong_to_the_day_as_written(day: str) -> None:
    book, one = sown()
    month, of_month = map(int, day.split("-"))
    book.write(Hardened, f"{day} 00:00", sowing="leek", hours=2)
    book.write(Hardened, f"{day} 23:59", sowing="leek", hours=23)
    after = date(2027, month, of_month) + timedelta(days=1)
    book.write(Hardened, moment(f"{after.month}-{after.day} 00:00"), sowing="leek", hours=4)
    found = {out: entry.hours for out, entry in book.records().hours_out(one).items()}
    assert found == {date(2027, month, of_month): 23, after: 4}


def test_day_zero_is_the_later_of_sown_and_taken_out_in_moments() -> None:
    book = Notebook()
    cold = book.write(Stratified, "2-01", lot="leek", days=21)
    out = book.write(TakenOut, at("2027-03-01T02:30:00-05:00"), entry=cold.id)
    one = book.write(
        Sown, "3-01 08:00", sowing="leek", lot="leek", seeds=9, station="mat", after=(cold.id,)
    )
    assert book.records().day_zero(one.id) == out.at, "08:30 in Vienna, half an hour after sowing"


def test_out_of_the_fridge_in_the_hour_that_spring_leaves_out() -> None:
    book = Notebook()
    one = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=9, station="cold box")
    out = book.write(Moved, at("2027-03-28T01:30:00Z"), sowing="leek", station="mat")
    records = book.records(head=FRIDGE)
    assert records.day_zero(one.id) == out.at
    before, after = out.at - timedelta(minutes=1), out.at
    assert records.station_of(one.id, before.astimezone(ZONE)) == "cold box"
    assert records.station_of(one.id, after.astimezone(ZONE)) == "mat"
