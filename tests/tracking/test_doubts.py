"""What was written down and leaves a doubt; docs/tracking.md has the rules behind it."""

from typing import Any

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    Counted,
    Finished,
    Lost,
    Moved,
    Planned,
    PrickedOut,
    Soaked,
    Sown,
    Struck,
    TakenOut,
    Watered,
)
from seedstart.tracking.entry_warnings import Doubt, doubts
from seedstart.tracking.fold_journal import records

LEEK: dict[str, Any] = {"sowing": "leek", "lot": "leek", "seeds": 24, "station": "mat"}
LOTS = lot("leek", "leek", was='["poree"]') + lot("beet", "beet")
PLAN = season(LOTS, HEAD.replace('name = "mat"', 'name = "mat"\nwas = ["old mat"]'))


def sown() -> Notebook:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK)
    return book


def found(book: Notebook, now: str = "12-31") -> list[Doubt]:
    journal = book.journal()
    return doubts(journal, records(journal, PLAN), PLAN, moment(now))


def the_only(book: Notebook, now: str = "12-31") -> Problem:
    (doubt,) = found(book, now)
    return doubt.problem


def test_a_season_in_which_all_is_said_leaves_no_doubt() -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK | {"lot": "poree", "station": "old mat", "tray": "blue"})
    book.write(Counted, "3-12", sowing="leek", standing=20)
    book.write(Counted, "3-14", sowing="leek", standing=18)
    book.write(Lost, "3-14", sowing="leek", plants=2)
    book.write(PrickedOut, "3-20", sowing="leek", plants=12, into="leek.1", tray="red")
    book.write(Watered, "3-21", tray="red")
    book.write(Moved, "3-22", tray="an empty one", station="shelf")
    assert found(book) == []


def test_a_sowing_that_is_not_there_is_named_with_the_nearest_and_how_many_lines() -> None:
    book = sown()
    first = book.write(Counted, "3-12", sowing="leak", standing=5)
    book.write(Counted, "3-13", sowing="leak", standing=6)
    (doubt,) = found(book)
    assert (doubt.entry, doubt.problem.found, doubt.problem.nearest) == (first.id, "leak", "leek")
    assert "2 entries about it" in doubt.problem.hint


def test_a_name_that_fits_two_is_named_with_both() -> None:
    book = Notebook()
    one = book.write(Sown, "3-01", "bench", **LEEK)
    other = book.write(Sown, "3-02", "phone", **LEEK)
    book.write(Counted, "3-12", "tablet", sowing="leek", standing=5)
    problem = the_only(book)
    assert problem.allowed == (f"leek#{one.id[-6:]}", f"leek#{other.id[-6:]}")
    assert "Several sowings have that name" in problem.hint


def test_lots_that_no_file_lists_are_named_once_and_plans_for_them_elsewhere() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="x", lot="leak", seeds=5)
    book.write(Soaked, "3-01", lot="Leak", hours=2.0)
    book.write(Planned, "3-01", lot="gone", to={"want": 3}, said={})
    problem = the_only(book)
    assert (problem.key, problem.found, problem.nearest) == ("lot", "leak", "leek")


def test_stations_that_no_file_lists_are_named_with_the_nearest() -> None:
    book = sown()
    book.write(Moved, "3-05", sowing="leek", station="shelv")
    book.write(Watered, "3-06", station="shelv")
    problem = the_only(book)
    assert (problem.key, problem.found, problem.nearest) == ("station", "shelv", "shelf")


def test_a_tray_that_is_cared_for_and_never_held_anything_is_named() -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK, tray="tray 5")
    watered = book.write(Watered, "3-06", tray="tray5")
    (doubt,) = found(book)
    assert (doubt.entry, doubt.problem.found) == (watered.id, "tray5")
    assert doubt.problem.nearest == "tray 5"


def test_what_was_struck_raises_no_doubt() -> None:
    book = sown()
    book.strike(book.write(Moved, "3-05", sowing="leek", station="shelv"))
    book.strike(book.write(Counted, "3-12", sowing="leak", standing=5))
    assert found(book) == []


def test_two_writers_who_differ_on_a_morning_are_named_with_both_counts() -> None:
    book = sown()
    wrong = book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=18)
    book.write(Counted, "3-08 08:20", "phone", sowing="leek", standing=17)
    assert str(the_only(book)) == (
        "journal, sowing leek. bench counted 18 (08:00) and phone 17 (08:20) on Mon 8 Mar: which "
        "is right? Until one is taken back, the later one is used."
    )
    book.strike(wrong)
    assert found(book) == []


def test_more_by_the_evening_leaves_no_doubt() -> None:
    book = sown()
    book.write(Counted, "3-08 08:00", "bench", sowing="leek", standing=8)
    book.write(Counted, "3-08 19:00", "phone", sowing="leek", standing=11)
    assert found(book) == []


def test_plants_that_are_missing_are_named_until_someone_says_why_or_it_is_over() -> None:
    book = sown()
    book.write(Counted, "3-08", sowing="leek", standing=20)
    fall = book.write(Counted, "3-09", sowing="leek", standing=17)
    (doubt,) = found(book)
    assert doubt.entry == fall.id
    assert "3 plants are missing" in doubt.problem.hint
    assert "write down 3 lost" in doubt.problem.hint
    said = book.write(Lost, "3-10", sowing="leek", plants=3)
    assert found(book) == []
    book.strike(said)
    assert len(found(book)) == 1
    book.write(Finished, "4-01", sowing="leek")
    assert found(book) == []


def test_more_seedlings_than_seeds_are_named_but_for_clusters() -> None:
    book = sown()
    book.write(Sown, "3-01", sowing="beet", lot="beet", seeds=10, station="mat")
    book.write(Counted, "3-12", sowing="beet", standing=23, cells=9)
    assert found(book) == []
    book.write(Counted, "3-12", sowing="leek", standing=25)
    assert "25 came up and 24 seeds were sown" in the_only(book).hint


def test_what_lies_ahead_is_named_once_a_writer_and_counts_as_written() -> None:
    book = sown()
    book.write(Counted, "3-12", "phone", sowing="leek", standing=5)
    book.write(Counted, "3-14", "phone", sowing="leek", standing=7)
    assert found(book, "3-14 08:00") == []
    problem = the_only(book, "3-13")
    assert "1 entry lies ahead of now, the first on 2027-03-14 08:00" in problem.hint
    assert "2 entries lie ahead" in the_only(book, "3-11").hint
    assert book.standing("leek").standing == 7


def test_what_names_an_entry_that_has_not_come_is_named() -> None:
    book = sown()
    missing = "0195ffff-1c00-7000-8000-000000000001"
    book.write(Struck, "3-02", entry=missing)
    book.write(TakenOut, "3-02", entry=missing)
    assert [doubt.problem.found for doubt in found(book)] == [missing, missing]


def test_more_plants_in_a_daughter_than_came_are_named() -> None:
    book = sown()
    book.write(Counted, "3-12", sowing="leek", standing=20)
    book.write(PrickedOut, "3-20", sowing="leek", plants=12, into="leek.1", tray="red")
    book.write(Counted, "3-25", sowing="leek.1", standing=13)
    assert "13 plants were there and 12 came" in the_only(book).hint


def test_a_count_of_a_day_before_the_sowing_is_in_doubt() -> None:
    book = Notebook()
    early = book.write(Counted, "2-20", sowing="leek", standing=5)
    book.write(Sown, "3-01", **LEEK)
    found = doubts(book.journal(), records(book.journal(), PLAN), PLAN, moment("4-01"))
    (one,) = [doubt for doubt in found if doubt.entry == early.id]
    assert "counted on 2027-02-20, before it was sown on 2027-03-01" in one.problem.hint
