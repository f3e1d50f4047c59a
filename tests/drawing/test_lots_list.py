"""Lots as lines of a screen, from narrow to wide."""

from datetime import date

import pytest

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.drawing.lines import as_text, cells_wide
from seedstart.drawing.lots_list import LotLine, lot_line_of, lot_list_line, lots_head
from seedstart.planning.calendar.season_today import rows_today
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.journal.entries import Counted, Finished, Sown

LOTS = lot("leek-of-the-long-name-too-long", "leek", want="20", station='"shelf"')
NAME = "leek-of-the-long-name-too-long"


def line(book: Notebook, day: date) -> LotLine:
    plan, records = season(LOTS), book.records(LOTS)
    rows = rows_today(plan, records, {}, day)
    return lot_line_of(plan.lots[0], figure_of(plan.lots[0], plan, records), rows)


def drawn(book: Notebook, day: date, width: int = 78) -> str:
    return as_text(lot_list_line(line(book, day), width, day))


def sown() -> Notebook:
    book = Notebook()
    book.write(Sown, "3-02", sowing="leek", lot=NAME, seeds=24, station="shelf")
    return book


def test_before_sowing_it_shows_the_day_to_sow() -> None:
    found = line(Notebook(), date(2027, 1, 10))
    assert found.sow is not None
    assert "to sow" in drawn(Notebook(), date(2027, 1, 10))
    assert "✓" not in drawn(Notebook(), date(2027, 1, 10))


def test_a_sowing_that_nothing_came_of_yet_counts_its_days() -> None:
    text = drawn(sown(), moment("3-11").date())
    assert "2 Mar✓" in text
    assert "waiting 9 d" in text
    assert "0 of 24 so far" in text


# 20 of 24: Wilson's 95 % interval is 64.1 to 93.3 (score formula, z = 1.959964, by hand).
def test_a_closed_sowing_has_its_percentage_and_interval() -> None:
    book = sown()
    book.write(Counted, "3-14", sowing="leek", standing=10)
    book.write(Counted, "3-20", sowing="leek", standing=20, final=True)
    text = drawn(book, moment("3-21").date())
    assert "growing" in text
    assert "20 of 24" in text
    assert "83 % (64–93)" in text
    book.write(Finished, "3-22", sowing="leek")
    assert "over" in drawn(book, moment("3-23").date())


@pytest.mark.parametrize("width", [58, 77, 108, 118])
def test_lines_and_head_fit_and_stand_under_each_other(width: int) -> None:
    book = sown()
    book.write(Counted, "3-14", sowing="leek", standing=10)
    text, head = drawn(book, moment("3-15").date(), width), as_text(lots_head(width))
    assert "…" in text.split("2 Mar")[0]
    if width >= 77:
        assert cells_wide(text) <= width
        assert cells_wide(head) <= width
    assert text.index("2 Mar✓") == head.index("sow ")
    assert text.index("coming up") == head.index("state")
    assert text.index("10 of 24") == head.index("up ")
