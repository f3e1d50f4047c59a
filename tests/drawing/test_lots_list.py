"""Lots as lines of a screen, from narrow to wide."""

import re
from datetime import date
from typing import Any

import pytest

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.days import Window, short_day
from seedstart.drawing.lines import as_text, cells_wide
from seedstart.drawing.lots_list import (
    Columns,
    LotLine,
    lot_line_of,
    lot_list_line,
    lots_head,
    states_in_words,
)
from seedstart.growing.coming_up import Span
from seedstart.planning.calendar.season_today import rows_today
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.prospect import ToCome
from seedstart.season.journal.entries import Counted, Finished, Sown

LOTS = lot("leek-of-the-long-name-too-long", "leek", want="20", station='"shelf"')
NAME = "leek-of-the-long-name-too-long"


def line(book: Notebook, day: date, to_come: ToCome | None = None) -> LotLine:
    plan, records = season(LOTS), book.records(LOTS, until=day)
    rows = rows_today(plan, records, {}, day)
    figure = figure_of(plan.lots[0], plan, records)
    crop = plan.crops.crops[plan.lots[0].crop]
    more: dict[str, Any] = {"crop": crop, "stations": ("shelf",), "to_come": to_come}
    return lot_line_of(plan.lots[0], figure, rows, day, **more)


def drawn(book: Notebook, day: date, width: int = 78, columns: Columns = "next") -> str:
    return as_text(lot_list_line(line(book, day), width, columns))


def sown() -> Notebook:
    book = Notebook()
    book.write(Sown, "3-02", sowing="leek", lot=NAME, seeds=24, station="shelf")
    return book


def test_before_sowing_it_says_what_to_sow_and_when() -> None:
    day = date(2027, 1, 10)
    found, text = line(Notebook(), day), drawn(Notebook(), day)
    assert " to sow " in text
    assert found.next.startswith("sow ")
    assert found.day is not None
    assert f"on {short_day(found.day)}" in text
    assert "✓" not in drawn(Notebook(), day, columns="figures")
    assert found.says[0].endswith("Nothing of it is sown yet; wanted: 20 plants.")


def test_a_sowing_that_nothing_came_of_yet_counts_its_days() -> None:
    text = drawn(sown(), moment("3-11").date())
    assert "waiting 9 " in text
    assert "0 of 24 " in text
    assert "2 Mar✓" in drawn(sown(), moment("3-11").date(), columns="figures")


# 20 of 24: Wilson's 95 % interval is 64.1 to 93.3 (score formula, z = 1.959964, by hand).
def test_a_closed_sowing_has_its_percentage_and_interval() -> None:
    book = sown()
    book.write(Counted, "3-14", sowing="leek", standing=10)
    book.write(Counted, "3-20", sowing="leek", standing=20, final=True)
    day = moment("3-21").date()
    text = drawn(book, day, columns="figures")
    assert "20 of 24" in text
    assert "83 % (64–93)" in text
    assert "growing" in drawn(book, day)
    assert "83 % (64 to 93) emerged, 20 of 24." in line(book, day).says[1]
    # 7 CFR 201.31: leek 60.
    assert "Label minimum 60 %" in line(book, day).says[1]
    book.write(Finished, "3-22", sowing="leek")
    assert " over " in drawn(book, moment("3-23").date())


@pytest.mark.parametrize(
    ("today", "says"), [(date(2027, 3, 5), "up 8 to 20 Mar"), (date(2027, 3, 12), "up by 20 Mar")]
)
def test_what_is_waited_for_comes_on_no_day_that_is_past(today: date, says: str) -> None:
    when = Window(date(2027, 3, 8), date(2027, 3, 13), date(2027, 3, 20))
    assert line(sown(), today, to_come=ToCome(sowing="1", expected=when)).next == says


def test_how_many_more_are_likely_stands_there_until_there_are_enough() -> None:
    book, day = sown(), date(2027, 3, 15)
    book.write(Counted, "3-14", sowing="leek", standing=10)
    more: dict[str, Any] = {"sowing": "1", "total": Span(13, 17.2, 22), "more": 7.2}
    assert line(book, day, to_come=ToCome(up=10, **more)).next == "wait: 3 to 12 more"
    assert line(book, day, to_come=ToCome(up=20, **more)).next.startswith("harden ")


def test_of_several_sowings_the_latest_that_lives_is_in_sight() -> None:
    book = sown()
    book.write(Counted, "3-20", sowing="leek", standing=20, final=True)
    book.write(Sown, "3-25", sowing="leek/2", lot=NAME, seeds=30, station="shelf")
    found = line(book, moment("4-01").date())
    assert (found.label, found.state, found.up) == ("leek/2", "waiting 7", "0 of 30")


def test_what_fell_due_and_was_not_done_says_for_how_long() -> None:
    book = sown()
    book.write(Counted, "3-14", sowing="leek", standing=20, final=True)
    found = line(book, date(2027, 6, 20))
    assert re.fullmatch(r"harden, \d+ d over", found.next)


@pytest.mark.parametrize("columns", ["next", "figures"])
@pytest.mark.parametrize("width", [58, 77, 108, 118])
def test_lines_and_head_stand_under_each_other(width: int, columns: Columns) -> None:
    book = sown()
    book.write(Counted, "3-14", sowing="leek", standing=10)
    day = moment("3-15").date()
    text, head = drawn(book, day, width, columns), as_text(lots_head(columns))
    assert "…" in text[:17]
    assert cells_wide(head) <= 78
    if width >= 77:
        assert cells_wide(text) <= width
    starts = {"state": "coming up", "up ": "10 of 24"} if columns == "next" else {"sow": "2 Mar✓"}
    assert all(text.index(cell) == head.index(name) for name, cell in starts.items())


def test_the_head_counts_the_lots_by_their_state() -> None:
    lines = [line(sown(), moment("3-11").date()), line(Notebook(), moment("3-11").date())]
    assert states_in_words(lines) == "1 coming up, 1 to sow"
