"""What came up of a lot: which sowings count, and from which check on half were up."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notebook import Notebook
from seedstart.season.journal.entries import Counted, Dug, Finished, MixedUp, Relabelled, Sown
from seedstart.tracking.figures import LotFigure, lot_figure


def figure(book: Notebook) -> LotFigure:
    return lot_figure("leek", book.records())


def counted(book: Notebook, name: str, counts: dict[str, int], *, final: bool = True) -> None:
    for day, standing in counts.items():
        last = final and day == list(counts)[-1]
        book.write(Counted, day, sowing=name, standing=standing, final=last)


def test_closed_sowings_are_pooled_and_the_others_named() -> None:
    book = Notebook()
    for number, (name, seeds) in enumerate((("a", 24), ("b", 20), ("c", 30), ("d", 24))):
        book.write(Sown, f"3-01 08:{number:02}", sowing=name, lot="leek", seeds=seeds)
    counted(book, "a", {"3-10": 10, "3-20": 20})
    counted(book, "b", {"3-10": 10, "3-20": 16})
    counted(book, "c", {"3-10": 9}, final=False)
    counted(book, "d", {"3-10": 1, "3-20": 2})
    book.write(MixedUp, "4-01", sowings=("d", "other"), into="d")
    found = figure(book)
    assert (found.pooled_up, found.pooled_seeds, found.final) == (36, 44, False)
    assert {one.sowing: one.why for one in found.left_out} == {
        "c": "still open", "d": "mixed up with others",
    }  # fmt: skip


def test_until_it_is_closed_it_is_so_many_so_far() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="a", lot="leek", seeds=24)
    counted(book, "a", {"3-10": 8}, final=False)
    found = figure(book)
    assert (found.came_up, found.percent, found.interval) == ("8 of 24 so far", None, None)
    book.write(Finished, "4-01", sowing="a")
    found = figure(book)
    assert found.came_up == "8 of 24"
    assert found.percent == pytest.approx(100 * 8 / 24)


def test_a_lot_is_to_sow_then_waits_comes_up_grows_and_is_over() -> None:
    book = Notebook()
    assert figure(book).state == "to sow"
    book.write(Sown, "3-01", sowing="a", lot="leek", seeds=24)
    assert figure(book).state == "waiting"
    counted(book, "a", {"3-10": 8}, final=False)
    assert figure(book).state == "coming up"
    book.write(Sown, "3-11", sowing="b", lot="leek", seeds=24)
    assert figure(book).state == "waiting", "one of its sowings still waits"
    counted(book, "a", {"3-20": 9}, final=True)
    counted(book, "b", {"3-20": 9}, final=True)
    assert figure(book).state == "growing"
    book.write(Finished, "4-01", sowing="a")
    assert figure(book).state == "growing"
    book.write(Finished, "4-01", sowing="b")
    assert figure(book).state == "over"


def test_a_doubtful_label_and_a_sample_give_no_figure() -> None:
    book = Notebook()
    for name in ("a", "b"):
        book.write(Sown, "3-01", sowing=name, lot="leek", seeds=100)
    book.write(Counted, "3-20", sowing="a", standing=20, final=True)
    book.write(Relabelled, "3-21", sowing="a", lot="leek", sure=False)
    book.write(Counted, "3-20", sowing="b", standing=20, looked_at=25, final=True)
    whys = [one.why for one in figure(book).left_out]
    assert whys == ["its label is in doubt", "its last count was a sample"]


def test_one_count_does_not_tell_when_half_of_them_were_up() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-14", sowing="leek", standing=20)
    found = lot_figure("leek", book.records())
    assert (found.mean_days, found.t50_days) == (13, None)


def test_counts_alike_and_two_of_one_moment_tell_no_half_time_either() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    book.write(Counted, "3-11", sowing="leek", standing=18)
    book.write(Counted, "3-12", sowing="leek", standing=18)
    assert lot_figure("leek", book.records()).t50_days is None
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    for day, standing in (("3-10", 0), ("3-11", 4), ("3-12", 8)):
        book.write(Counted, day, sowing="leek", standing=standing)
    once = lot_figure("leek", book.records()).t50_days
    assert once == pytest.approx(10.0)
    book.write(Counted, "3-12", sowing="leek", standing=8)
    assert lot_figure("leek", book.records()).t50_days == once


def test_half_came_after_the_last_look_that_found_none() -> None:
    # By hand: none at 9 days, 10 at 10 days; half of them by interpolation between the two.
    book = Notebook()
    book.write(Sown, "3-01", sowing="a", lot="leek", seeds=10)
    counted(book, "a", {"3-05": 0, "3-10": 0, "3-11": 10})
    found = figure(book)
    assert found.t50_days == pytest.approx(9.5)
    assert found.mean_days == pytest.approx(10.0)


def test_tests_speak_for_a_lot_and_not_its_trays() -> None:
    book = Notebook()
    book.write(Sown, "1-10", sowing="a", lot="leek", seeds=20, purpose="test", on="paper")
    end: dict[str, Any] = {"normal": 15, "abnormal": 2, "hard": 0, "fresh": 0, "dead": 3}
    book.write(Counted, "1-24", sowing="a", standing=17, final=True, **end)
    book.write(Sown, "3-01", sowing="b", lot="leek", seeds=24)
    counted(book, "b", {"3-10": 10, "3-20": 20})
    found = figure(book)
    assert (found.of, found.pooled_up, found.pooled_seeds) == ("germinated", 15, 20)
    assert found.left_out[0].why == "a tray; its tests count instead"


def test_a_test_and_the_trays_of_one_lot_are_never_added_up() -> None:
    book = Notebook()
    book.write(Sown, "1-10", sowing="a", lot="leek", seeds=20, purpose="test", on="paper")
    book.write(Counted, "1-24", sowing="a", standing=4)
    assert figure(book).came_up == "4 of 20 so far"
    book.write(Sown, "3-01", sowing="b", lot="leek", seeds=60)
    counted(book, "b", {"3-10": 2}, final=False)
    assert figure(book).came_up == "2 of 60 so far"
    end: dict[str, Any] = {"normal": 15, "abnormal": 2, "hard": 0, "fresh": 0, "dead": 3}
    book.write(Counted, "3-12", sowing="a", standing=17, final=True, **end)
    found = figure(book)
    assert (found.came_up, found.percent, found.final) == ("2 of 60 so far", 75, False)
    counted(book, "b", {"3-20": 40})
    assert (figure(book).came_up, figure(book).percent) == ("40 of 60", 75)


def test_a_test_whose_seeds_were_not_judged_is_not_pooled_with_trays() -> None:
    book = Notebook()
    book.write(Sown, "1-10", sowing="a", lot="leek", seeds=20, purpose="test", on="paper")
    book.write(Counted, "1-24", sowing="a", standing=4, final=True)
    book.write(Sown, "3-01", sowing="b", lot="leek", seeds=24)
    counted(book, "b", {"3-10": 10, "3-20": 20})
    found = figure(book)
    assert (found.of, found.pooled_up, found.pooled_seeds) == ("emerged", 20, 24)
    assert [(one.sowing, one.why) for one in found.left_out] == [("a", "a test")]


def beets(**sown: Any) -> Notebook:
    book = Notebook()
    book.write(Sown, "3-01", sowing="beet", lot="leek", **sown)
    return book


def clusters(book: Notebook) -> LotFigure:
    return lot_figure("leek", book.records(), clusters=True)


@pytest.mark.parametrize(
    ("sown", "sown_in"), [({"seeds": 12}, 12), ({"seeds": 30, "cells": 15}, 15)]
)
def test_beet_counts_cells_with_at_least_one_over_the_cells_or_clusters_sown(
    sown: dict[str, int], sown_in: int
) -> None:
    book = beets(**sown)
    book.write(Counted, "3-10", sowing="beet", standing=14, cells=6)
    found = clusters(book)
    assert (found.came_up, found.percent) == (f"6 of {sown_in} so far", None)
    book.write(Counted, "3-20", sowing="beet", standing=31, cells=11, final=True)
    found = clusters(book)
    assert found.percent == pytest.approx(100 * 11 / sown_in)
    assert (found.came_up, found.emerged, found.left_out) == (f"11 of {sown_in}", 31, ())


def test_more_seedlings_than_clusters_without_cells_give_no_percentage_and_say_why() -> None:
    book = beets(seeds=12)
    book.write(Counted, "3-20", sowing="beet", standing=31, final=True)
    found = clusters(book)
    assert (found.percent, found.interval) == (None, None)
    assert found.came_up == "31 up, cells not counted"
    assert "count cells" in found.left_out[0].why


def test_more_cells_than_were_sown_are_a_slip() -> None:
    book = beets(seeds=12)
    book.write(Counted, "3-20", sowing="beet", standing=31, cells=13, final=True)
    found = clusters(book)
    assert found.percent is None
    assert found.left_out[0].why == "more cells were up than were sown"


def test_a_test_of_clusters_whose_seeds_were_judged_needs_no_cells() -> None:
    book = beets(seeds=20, purpose="test", on="paper")
    end: dict[str, Any] = {"normal": 15, "abnormal": 2, "hard": 0, "fresh": 0, "dead": 3}
    book.write(Counted, "3-15", sowing="beet", standing=31, final=True, **end)
    found = clusters(book)
    assert (found.of, found.percent, found.left_out) == ("germinated", 75, ())


def test_clusters_that_were_not_counted_give_no_percentage() -> None:
    book = beets(about=50, cells=24)
    book.write(Counted, "3-20", sowing="beet", standing=31, cells=20, final=True)
    assert clusters(book).left_out[0].why == "its seeds were not counted"


@given(
    st.lists(st.tuples(st.integers(0, 40), st.none() | st.integers(0, 16)), max_size=5),
    st.none() | st.integers(1, 15),
    st.booleans(),
)
@settings(derandomize=True, deadline=None, max_examples=100)
def test_a_percentage_lies_between_0_and_100_whatever_was_counted(
    counts: list[tuple[int, int | None]], cells: int | None, several: bool
) -> None:
    book = beets(seeds=12, cells=cells)
    for day, (standing, with_one) in enumerate(counts, 2):
        book.write(Counted, f"3-{day:02}", sowing="beet", standing=standing, cells=with_one)
    book.write(Finished, "4-01", sowing="beet")
    found = lot_figure("leek", book.records(), clusters=several)
    assert found.percent is None or 0 <= found.percent <= 100
    assert (found.percent is None) == (found.left_out != ())


def test_sowings_that_chance_would_not_part_so_far_give_no_common_figure() -> None:
    # 12 of 110 and 88 of 200: Fisher's p is far below 0.001 (scipy); 10 and 12 of 24: 0.77
    for up, of, apart in ((88, 200, True), (12, 110, False)):
        book = Notebook()
        for name, came, seeds in (("a", 12, 110), ("b", up, of)):
            book.write(Sown, "3-01", sowing=name, lot="leek", seeds=seeds)
            counted(book, name, {"3-20": came})
        found = figure(book)
        assert found.apart == apart
        assert [one.up for one in found.differing] == ([12, up] if apart else [])
        assert (found.percent is None) == (found.interval is None) == apart


def test_an_open_sowing_that_is_ahead_already_lies_apart_and_one_behind_does_not_yet() -> None:
    for up, apart in ((88, True), (20, False), (2, False)):
        book = Notebook()
        for name, seeds in (("a", 160), ("b", 200)):
            book.write(Sown, "3-01", sowing=name, lot="leek", seeds=seeds)
        counted(book, "a", {"3-20": 17})
        counted(book, "b", {"3-20": up}, final=False)
        found = figure(book)
        assert found.apart == apart
        assert (found.percent is None) == apart


@pytest.mark.parametrize(
    ("sound", "up", "why"),
    [(10, 0, "all its seeds were dug up"), (6, 7, "more came up than were left to")],
)
def test_a_sowing_whose_sound_seeds_were_dug_up_gives_no_share_that_cannot_be(
    sound: int, up: int, why: str
) -> None:
    book = Notebook()
    for name in ("a", "b"):
        book.write(Sown, "3-01", sowing=name, lot="leek", seeds=10)
    book.write(Dug, "3-10", sowing="a", sound=sound)
    counted(book, "a", {"3-20": up})
    counted(book, "b", {"3-20": 6})
    found = figure(book)
    assert [(one.sowing, one.why) for one in found.left_out] == [("a", why)]
    assert found.percent == pytest.approx(60)
