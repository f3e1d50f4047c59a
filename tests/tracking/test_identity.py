"""Which sowing a name in a line means; docs/tracking.md has the rules."""

from typing import Any

import pytest

from notebook import Notebook
from seedstart.problems import Problem
from seedstart.season.journal.entries import Counted, Finished, PrickedOut, Relabelled, Sown
from seedstart.tracking.standing import Standing
from seedstart.tracking.typed_names import find_sowing

LEEK: dict[str, Any] = {"sowing": "leek", "lot": "leek", "seeds": 24}


def standings(book: Notebook) -> list[Standing]:
    return list(book.records().standings.values())


def test_two_sowings_of_one_name_made_by_two_writers_are_two() -> None:
    book = Notebook()
    book.write(Sown, "3-01", "bench", **LEEK)
    book.write(Sown, "3-02", "phone", **LEEK)
    book.write(Counted, "3-12", "bench", sowing="leek", standing=5)
    book.write(Counted, "3-12", "phone", sowing="leek", standing=9)
    first, second = standings(book)
    assert (first.by, first.standing) == ("bench", 5)
    assert (second.by, second.standing) == ("phone", 9)


def test_a_third_writers_bare_name_that_fits_two_stays_in_sight() -> None:
    book = Notebook()
    book.write(Sown, "3-01", "bench", **LEEK)
    book.write(Sown, "3-02", "phone", **LEEK)
    count = book.write(Counted, "3-12", "tablet", sowing="leek", standing=5)
    happened = book.records()
    assert happened.astray == {"leek": (count,)}
    assert [one.standing for one in happened.standings.values()] == [0, 0]


def test_what_was_written_before_a_second_one_bore_the_name_means_the_first() -> None:
    book = Notebook()
    book.write(Sown, "3-01", "bench", **LEEK)
    book.write(Counted, "3-12", "tablet", sowing="leek", standing=5)
    book.write(Sown, "3-13", "phone", **LEEK)
    first, _ = standings(book)
    assert first.standing == 5


def test_a_name_with_the_end_of_an_id_means_that_one_whoever_writes_it() -> None:
    book = Notebook()
    book.write(Sown, "3-01", "bench", **LEEK)
    second = book.write(Sown, "3-02", "phone", **LEEK)
    in_full = book.records().name_in_line(second.id)
    assert in_full == f"leek#{second.id[-6:]}"
    book.write(Counted, "3-12", "bench", sowing=in_full, standing=9)
    assert [one.standing for one in standings(book)] == [0, 9]
    assert book.standing(in_full).id == second.id


def test_while_only_one_ever_bore_a_name_the_name_alone_stands_in_a_line() -> None:
    book = Notebook()
    one = book.write(Sown, "3-01", "bench", **LEEK)
    assert book.records().name_in_line(one.id) == "leek"
    book.write(Finished, "4-01", "bench", sowing="leek")
    other = book.write(Sown, "4-02", "bench", **LEEK)
    happened = book.records()
    names = {happened.name_in_line(one.id), happened.name_in_line(other.id)}
    assert names == {f"leek#{one.id[-6:]}", f"leek#{other.id[-6:]}"}, "it was borne before"


def test_a_sowing_that_was_struck_never_bore_its_name() -> None:
    book = Notebook()
    wrong = book.write(Sown, "3-01", **LEEK)
    book.strike(wrong)
    right = book.write(Sown, "3-01 09:00", **LEEK)
    book.write(Counted, "3-12", "phone", sowing="leek", standing=5)
    assert book.records().name_in_line(right.id) == "leek"
    assert book.standing("leek").standing == 5


def test_names_are_the_same_case_aside_and_composed_or_not() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="Käsepappel", lot="k", seeds=10)
    book.write(Counted, "3-12", sowing="KA\u0308SEPAPPEL", standing=4)
    assert book.standing("käsepappel").standing == 4


def test_a_relabelled_sowing_answers_to_both_names() -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK)
    book.write(Counted, "3-10", sowing="leek", standing=3)
    book.write(Relabelled, "3-11", sowing="leek", name="blue leek")
    book.write(Counted, "3-12", sowing="blue leek", standing=5)
    (leek,) = standings(book)
    assert (leek.name, leek.standing, [c.emerged for c in leek.counts]) == ("blue leek", 5, [3, 5])
    assert book.records().names_borne == {"leek", "blue leek"}


def test_labels_that_were_swapped_keep_their_records_apart() -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK)
    other = book.write(Sown, "3-01 08:10", sowing="onion", lot="onion", seeds=24)
    book.write(Counted, "3-10", sowing="leek", standing=3)
    book.write(Counted, "3-10", sowing="onion", standing=7)
    book.write(Relabelled, "3-11", sowing="leek", name="onion")
    book.write(Relabelled, "3-11", sowing=f"onion#{other.id[-6:]}", name="leek")
    first, second = standings(book)
    assert (first.name, first.standing) == ("onion", 3)
    assert (second.name, second.standing) == ("leek", 7)
    happened = book.records()
    book.write(Counted, "3-12", sowing=happened.name_in_line(first.id), standing=4)
    first, second = standings(book)
    assert (first.standing, second.standing) == (4, 7)


def test_what_is_said_of_a_sowing_that_is_not_there_yet_waits_for_it() -> None:
    book = Notebook()
    count = book.write(Counted, "3-12", sowing="leek", standing=5)
    assert book.records().astray == {"leek": (count,)}
    book.write(Sown, "3-01", **LEEK)
    happened = book.records()
    assert happened.astray == {}
    assert book.standing("leek").standing == 5


def test_a_daughter_is_never_her_own_mother() -> None:
    book = Notebook()
    book.write(Sown, "3-01", "bench", **LEEK)
    book.write(Sown, "3-02", "bench", **LEEK)
    book.write(PrickedOut, "3-20", "phone", sowing="leek", plants=3, into="leek.1")
    book.write(Relabelled, "3-21", "phone", sowing="leek.1", name="leek")
    daughter = standings(book)[-1]
    assert daughter.made_from is None


def typed(book: Notebook, name: str, lots: str = "") -> str | Problem:
    return find_sowing(book.records(lots), name, file="SOWING")


def test_a_typed_name_is_resolved_before_it_is_written() -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK)
    book.write(Sown, "3-15", sowing="leek/2", lot="leek", seeds=24)
    assert typed(book, " LEEK ") == "leek"
    assert typed(book, "leek/2") == "leek/2"


def test_a_lots_name_does_while_only_one_of_its_sowings_is_alive() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="early", lot="leek", seeds=24)
    assert typed(book, "leek") == "early"
    book.write(Sown, "3-15", sowing="late", lot="leek", seeds=24)
    found = typed(book, "leek")
    assert isinstance(found, Problem)
    assert found.allowed == ("early", "late")
    book.write(Finished, "4-01", sowing="early")
    assert typed(book, "leek") == "late"


def test_of_two_that_bear_a_name_the_one_alive_is_meant_else_both_are_named() -> None:
    book = Notebook()
    one = book.write(Sown, "3-01", "bench", **LEEK)
    other = book.write(Sown, "3-02", "phone", **LEEK)
    ends = {f"leek#{one.id[-6:]}", f"leek#{other.id[-6:]}"}
    found = typed(book, "leek")
    assert isinstance(found, Problem)
    assert set(found.allowed) == ends
    book.write(Finished, "4-01", "bench", sowing="leek")
    assert typed(book, "leek") == f"leek#{other.id[-6:]}"


@pytest.mark.parametrize(("name", "nearest"), [("leak", "leek"), ("lek", "leek"), ("", None)])
def test_a_name_that_nothing_bears_is_refused_with_the_nearest(
    name: str, nearest: str | None
) -> None:
    book = Notebook()
    book.write(Sown, "3-01", **LEEK)
    found = typed(book, name)
    assert isinstance(found, Problem)
    assert found.nearest == nearest
