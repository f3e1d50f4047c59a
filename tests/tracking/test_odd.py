"""What is said of an entry that is kept though it looks like a slip."""

from typing import Any

from notebook import Notebook
from seasons import lot, season
from seedstart.season.journal.entries import Counted, Entry, Lost, Moved, Sown
from seedstart.tracking.entry_warnings import odd, odd_in

LOTS = lot("leek", "leek") + lot("pea", "pea")


def said(seeds: dict[str, Any], *counts: int, clusters: bool = False) -> list[str]:
    """What is said of the last of some counts."""
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", **seeds)
    for day, standing in enumerate(counts[:-1], 8):
        book.write(Counted, f"3-{day:02d}", sowing="leek", standing=standing)
    before = book.standing("leek")
    last = book.write(Counted, "3-20", sowing="leek", standing=counts[-1])
    return list(odd(last, before, book.standing("leek"), clusters=clusters))


MORE_THAN_SOWN = (
    "leek: 25 came up of 24 seeds. It is kept, but gets no percentage. If that was a slip, take it "
    "back."
)


def test_more_than_were_sown_is_said_once() -> None:
    assert said({"seeds": 24}, 20, 24) == []
    assert said({"seeds": 24}, 20, 25) == [MORE_THAN_SOWN]
    assert said({"seeds": 24}, 25, 26) == []  # it was said at the count before


def test_of_clusters_and_of_seed_that_was_not_counted_more_may_come() -> None:
    assert said({"seeds": 24}, 20, 25, clusters=True) == []
    assert said({"about": 24}, 20, 25) == []


def told(book: Notebook, kind: type[Entry], at: str, **fields: Any) -> list[str]:
    """What is said of one more entry, of a past time."""
    before = book.records(LOTS)
    entry = book.write(kind, at, **fields)
    return list(odd_in(season(LOTS), before, book.records(LOTS), [entry], entry.at))


def grown() -> Notebook:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="tray M", station="mat")
    book.write(Counted, "3-10", sowing="leek", standing=20)
    book.write(Counted, "3-20", sowing="leek", standing=40)
    return book


def test_a_past_count_is_held_against_what_stood_then() -> None:
    (text,) = told(grown(), Counted, "3-12", sowing="leek", standing=12)
    assert text.startswith("8 fewer than before (20). If they died, write down 8 lost")
    assert told(grown(), Counted, "3-12", sowing="leek", standing=30) == []


def test_a_past_count_that_a_later_one_falls_short_of_is_said() -> None:
    (text,) = told(grown(), Counted, "3-12", sowing="leek", standing=45)
    assert text.startswith("leek: 5 plants missing at a count of a later day, and marked so.")


def test_plants_that_leave_at_a_past_time_are_held_against_what_stood_then() -> None:
    assert told(grown(), Lost, "3-12", sowing="leek", plants=25) == [
        "leek: 20 stood, so 5 came up that nobody counted. If that was a slip, take it back."
    ]


def test_a_sowing_that_left_a_tray_in_the_past_leaves_those_that_were_in_it_then() -> None:
    def moved(at: str) -> list[str]:
        book = grown()
        book.write(Sown, "3-15", sowing="pea", lot="pea", seeds=9, tray="tray M")
        book.write(Moved, "3-16", sowing="pea", station="sill")
        return told(book, Moved, at, sowing="leek", station="shelf")

    assert moved("3-12") == []
    assert moved("3-15 12:00") == ["leek is in tray M no more; pea stays in it."]
    assert moved("3-17") == []
