"""What is said of an entry that is kept though it looks like a slip."""

from typing import Any

from notebook import Notebook
from seedstart.season.entries import Counted, Sown
from seedstart.tracking.odd import odd


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
    "leek: 25 came up of 24 seeds. It is kept, and gets no percentage. If that was a slip, take it "
    "back."
)


def test_more_than_were_sown_is_said_once() -> None:
    assert said({"seeds": 24}, 20, 24) == []
    assert said({"seeds": 24}, 20, 25) == [MORE_THAN_SOWN]
    assert said({"seeds": 24}, 25, 26) == []  # it was said at the count before


def test_of_clusters_and_of_seed_that_was_not_counted_more_may_come() -> None:
    assert said({"seeds": 24}, 20, 25, clusters=True) == []
    assert said({"about": 24}, 20, 25) == []
