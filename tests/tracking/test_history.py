"""What was written about one sowing, under whatever names and wherever it stood."""

from datetime import date
from typing import Any

from notebook import Notebook
from seasons import HEAD, lot, season
from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Covered,
    Entry,
    Fed,
    Finished,
    Hardened,
    Moved,
    PrickedOut,
    Read,
    Relabelled,
    Sown,
    Uncovered,
    Watered,
)
from seedstart.tracking.fold_journal import records
from seedstart.tracking.history import history

PLAN = season(
    lot("leek", "leek", was='["poree"]') + lot("onion", "onion"),
    HEAD.replace('name = "mat"', 'name = "mat"\nwas = ["old mat"]'),
)


def test_the_history_of_a_sowing_is_its_own_under_whatever_names() -> None:
    book = Notebook()
    first = book.write(Sown, "3-01", "bench", sowing="leek", lot="leek", seeds=24)
    other = book.write(Sown, "3-01", "phone", sowing="leek", lot="leek", seeds=24)
    own = book.write(Counted, "3-10", "bench", sowing="leek", standing=8)
    book.write(Counted, "3-10", "phone", sowing="leek", standing=3)
    struck = book.write(Counted, "3-11", "bench", sowing="leek", standing=9)
    book.strike(struck)
    named = book.write(Relabelled, "3-12", "bench", sowing="leek", name="blue leek")
    early = book.write(Counted, "3-09", "tablet", sowing="blue leek", standing=5)
    out = book.write(PrickedOut, "3-20", "bench", sowing="blue leek", plants=5, into="leek.1")
    journal = book.journal()
    happened = records(journal, PLAN)
    assert history(happened, journal, first.id) == [first, early, own, named, out]
    assert len(history(happened, journal, other.id)) == 2
    assert history(happened, journal, out.id) == [out]
    by_then = records(journal, PLAN, date(2027, 3, 10))
    assert history(by_then, journal, first.id) == [first, own], "it had one name by then"


def told(book: Notebook, sowing: str, until: date | None = None) -> list[Entry]:
    """A sowing's history."""
    journal = book.journal()
    happened = records(journal, PLAN, until)
    return history(happened, journal, sowing)


def test_what_was_done_to_its_tray_and_station_is_in_it_while_it_stood_there() -> None:
    book = Notebook()
    book.write(Watered, "2-27", station="mat")  # before it came
    tray: dict[str, Any] = {
        "sowing": "leek",
        "lot": "leek",
        "seeds": 24,
        "tray": "tray 3",
        "station": "mat",
    }
    sown = book.write(Sown, "3-01", **tray)
    covered = book.write(Covered, "3-01 09:00", tray="tray 3")
    set_ = book.write(Adjusted, "3-02", station="old mat", thermostat_c=24.0)
    book.write(Read, "3-03", station="mat", quantity="soil_c", value=23.0)
    watered = book.write(Watered, "3-04", tray="tray 3", ml=500.0)
    book.write(Watered, "3-04", tray="tray 4")
    moved = book.write(Moved, "3-10", tray="tray 3", station="shelf")
    book.write(Watered, "3-11", station="mat")  # after it left
    fed = book.write(Fed, "3-12", station="shelf")
    lifted = book.write(Uncovered, "3-13", tray="tray 3")
    out = book.write(Hardened, "3-14", tray="tray 3", hours=2.0)
    end = book.write(Finished, "3-15", sowing="leek")
    book.write(Watered, "3-16", tray="tray 3")  # after it was over
    assert told(book, sown.id) == [
        sown, covered, set_, watered, moved, fed, lifted, out, end,
    ]  # fmt: skip
    assert told(book, sown.id, date(2027, 3, 4)) == [sown, covered, set_, watered]


def test_what_was_taken_back_of_a_tray_is_not_in_it_and_nothing_is_in_it_twice() -> None:
    book = Notebook()
    sown = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="a", station="mat")
    slip = book.write(Watered, "3-02", tray="a")
    book.strike(slip)
    book.write(Moved, "3-03", tray="a", station="shelf")
    book.write(Moved, "3-04", tray="a", station="mat")
    watered = book.write(Watered, "3-05", station="mat")
    found = told(book, sown.id)
    assert slip not in found
    assert found.count(watered) == 1
    assert len(found) == 4


def test_a_daughters_history_begins_with_its_making() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="a", station="mat")
    book.write(Watered, "3-02", tray="a")
    out = book.write(PrickedOut, "3-20", sowing="leek", plants=5, into="leek.1", tray="b")
    fed = book.write(Fed, "3-30", tray="b")
    book.write(Fed, "3-30", tray="a")
    assert told(book, out.id) == [out, fed]
