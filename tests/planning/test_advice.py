"""What is advised where plants are missing: dug up already, nearly all up, lost, of another lot."""

from datetime import timedelta

import pytest

from notebook import Notebook, moment
from prospecting import PEPPER, TOMATO, count, prospect, sown
from seasons import HEAD, lot, season
from seedstart.drawing.lines import as_text
from seedstart.drawing.lots_table import advice_lines, lot_lines
from seedstart.drawing.measured_curves import outlook_lines
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.journal.entries import Counted, Dug, Lost, PrickedOut, Relabelled

MANY = lot("tomato", "tomato", want="24", station='"mat"', germination='"85%"')


def words(found: Prospect) -> str:
    assert found.advice is not None
    return found.advice.in_words


def last_day(book: Notebook) -> str:
    """The last day to sow again, as a text of moment."""
    found = prospect(count(book, "3-18", [0, 2, 3, 4, 4, 4, 4, 4, 4, 4, 4]), "3-28 20:00", MANY)
    assert found.advice is not None
    assert found.advice.until is not None
    return f"{found.advice.until:%m-%d}"


def test_once_it_was_dug_in_the_last_week_nobody_is_told_to_wait_till_it_is_too_late() -> None:
    end = moment(last_day(sown(seeds=38)))
    book = sown(seeds=38, at=f"{end - timedelta(days=27):%m-%d}")
    for days in range(18, 2, -1):
        book.write(Counted, end - timedelta(days=days), sowing="tomato", standing=0)
    book.write(Dug, end - timedelta(days=2), sowing="tomato", sound=1, soft=4)
    found = prospect(book, f"{end - timedelta(days=2):%m-%d} 20:00", MANY)
    assert found.chance is not None
    assert 0.01 < found.chance < 0.5, "else this shows nothing"
    assert words(found).startswith("Sow again: ")
    assert found.advice is not None
    assert f"{found.advice.until:%m-%d}" == f"{end:%m-%d}"


def test_nobody_digs_among_seedlings_for_the_one_that_is_missing() -> None:
    book = count(sown(seeds=30), "3-18", [0, 4, 12, 20, 22, 23, 23, 23, 23])
    for day in ("3-26 20:00", "3-28", "4-02"):
        assert "Dig" not in words(prospect(book, day, MANY)), day


def test_one_that_is_short_by_one_is_told_so_before_its_count_is_closed() -> None:
    book = count(sown(seeds=24), "3-18", [0, 4, 12, 20, 22, 23, *[23] * 12])
    said = words(prospect(book, "4-04 20:00", MANY))
    assert said.startswith("Close the count: 23 of 24 were up by 4 Apr.")
    assert "It is 1 short of the 24 plants wanted: sow again by" in said


def test_a_count_that_is_closed_says_how_many_are_missing() -> None:
    # Fewer seeds than plants wanted: there never was a chance of all of them.
    book = count(sown(seeds=20), "3-18", [0, 4, 12, 18, 19, *[19] * 9])
    found = prospect(book, "3-31 20:00", MANY)
    assert found.advice is not None
    assert found.advice.what == "close"
    last = found.advice.until
    assert last is not None
    assert found.advice.text.endswith(
        f"It is 5 short of the 24 plants wanted: sow again by {last.day} {last:%b}, or close."
    )
    late = prospect(count(book, "4-28", [19]), "4-28 20:00", MANY)
    assert words(late).endswith("It is 5 short of the 24 plants wanted.")


def test_dead_seed_too_little_for_the_plants_wanted_is_not_dug_for_ever() -> None:
    # Fewer seeds than plants wanted: that they will not come is no news, that none comes is.
    book = count(sown(seeds=11), "3-18", [0] * 45)
    book.write(Dug, "3-30", sowing="tomato", soft=3)
    said = words(prospect(book, "4-30 20:00", MANY))
    assert said.startswith(("Sow again: ", "Too late to sow again: ")), said
    assert "The chance that none comes is over 99 %." in said


def test_what_nobody_looked_at_keeps_its_last_day_to_sow_again() -> None:
    book = count(sown(seeds=38, at="3-13"), "4-01", [0, 8, 13, *[15] * 7])
    before = prospect(book, "4-10 20:00", MANY)
    assert before.advice is not None
    assert before.advice.until is not None
    later = prospect(book, "4-14", MANY)
    assert later.advice is not None
    assert later.advice.what == "look"
    assert later.advice.until == before.advice.until
    assert f"{before.advice.until.day} {before.advice.until:%b}" in later.advice.text


def pricked_out() -> Notebook:
    book = count(sown(), "3-18", [0, 4, 12, 13, 13])
    book.write(PrickedOut, "3-23", sowing="tomato", plants=10, into="tomato.1", station="shelf")
    return book


def test_what_died_after_it_was_pricked_out_is_no_longer_left() -> None:
    book = pricked_out()
    assert words(prospect(book, "3-23 20:00")).startswith(
        "Enough: 13 of those that came up are left"
    )
    book.write(Lost, "3-24", sowing="tomato.1", plants=5, why="slugs")
    found = prospect(book, "3-24 20:00")
    assert (found.lost, found.short) == (5, 4)
    assert not words(found).startswith("Enough")


def test_what_turned_out_to_be_of_another_lot_is_not_among_the_plants_wanted() -> None:
    book = pricked_out()
    book.write(Relabelled, "3-24", sowing="tomato.1", lot="pepper")
    found = prospect(book, "3-24 20:00", TOMATO + PEPPER)
    assert (found.lost, found.short) == (10, 9)


def test_at_a_warmth_at_which_none_comes_those_that_came_are_not_denied() -> None:
    book = sown(station="sill", name="pepper")
    book.write(Counted, "3-30", sowing="pepper", standing=3)
    found = prospect(book, "3-30 20:00", PEPPER, "pepper")
    assert words(found).startswith("Warmer: No more of it will come up at that temperature.")


@pytest.mark.parametrize("at", ["3-12", "3-30"])
def test_nothing_is_said_twice_of_a_sowing_that_is_too_cold(at: str) -> None:
    book = sown(station="sill", name="pepper")
    found = prospect(book, at, PEPPER, "pepper")
    plan, records = season(PEPPER), book.records(PEPPER, HEAD)
    figure = figure_of(plan.lots[0], plan, records)
    page = lot_lines(plan.lots[0], figure, [], {found.sowing: found}, {}, width=400)
    for lines in (page, outlook_lines(found, 400)):
        text = " ".join(as_text(line).strip() for line in lines)
        assert text.count("at that temperature") == 1
        assert text.count(found.assumed) == 1


def test_no_way_is_gone_to_more_than_its_end() -> None:
    book = count(sown(), "3-18", [0] * 6)
    found = prospect(book, "3-23 20:00")
    assert found.progress is not None
    assert found.progress.share > 1, "else this shows nothing"
    plan, records = season(TOMATO), book.records(TOMATO, HEAD)
    figure = figure_of(plan.lots[0], plan, records)
    page = lot_lines(plan.lots[0], figure, [], {found.sowing: found}, {}, width=400)
    text = " ".join(as_text(line).strip() for line in page)
    assert "% of the way" not in text
    assert found.usual is not None
    assert f"Past its day, {found.usual.best.day} {found.usual.best:%b}; now expected" in text


def test_an_advice_does_not_repeat_its_word() -> None:
    silent = prospect(count(sown(), "3-16", [0] * 11), "3-26 20:00")
    quiet = prospect(count(sown(), "3-18", [0, 4, 12, 20, 22, *[22] * 8]), "3-31 20:00")
    for found, word in ((silent, "dig"), (quiet, "close")):
        assert found.advice is not None
        assert found.advice.what == word
        (line,) = advice_lines(found.advice, 1000)
        assert as_text(line).lower().count(word) == 1
