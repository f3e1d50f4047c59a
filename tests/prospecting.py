"""One sowing as a test has it, and how it is doing."""

from datetime import timedelta
from typing import Any

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.planning.prospects.prospect import Known, Prospect
from seedstart.planning.prospects.prospects import prospect_of
from seedstart.planning.prospects.to_come import warmth_of
from seedstart.season.journal.entries import Counted, Sown

TOMATO = lot("tomato", "tomato", want="12", station='"mat"', germination='"85%"')
PEPPER = lot("pepper", "pepper", want="12", station='"mat"', germination='"85%"')


def prospect(
    book: Notebook, at: str, lots: str = TOMATO, name: str = "tomato", head: str = HEAD
) -> Prospect:
    plan, records, now = season(lots, head), book.records(lots, head), moment(at)
    standing = records.by_name_in_line(name)
    assert standing is not None
    return prospect_of(standing, Known(plan, records, warmth_of(plan, {}), now))


def sown(seeds: int | None = 24, at: str = "3-10", name: str = "tomato", **more: Any) -> Notebook:
    book = Notebook()
    fields: dict[str, Any] = {"seeds": seeds, "station": "mat", **more}
    book.write(Sown, at, sowing=name, lot=name, **fields)
    return book


def count(book: Notebook, since: str, ups: list[int], name: str = "tomato") -> Notebook:
    """Counts day by day from a day on."""
    for number, up in enumerate(ups):
        at = moment(since) + timedelta(days=number)
        book.write(Counted, at, sowing=name, standing=up)
    return book
