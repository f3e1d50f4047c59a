import pytest
from msgspec import Struct

from seedstart.problems import Problem
from seedstart.season.plan.names import (
    LONGEST_NAME,
    Names,
    clashes,
    daughter_name,
    find_name,
    later_sowing_name,
    wrong_lot_name,
)


class Place(Struct, frozen=True):
    name: str
    was: tuple[str, ...] = ()


PLACES = Names([Place("Heat mat", ("mat", "Étagère")), Place("shelf 2")])


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Heat mat", "Heat mat"),
        ("  HEAT   MAT ", "Heat mat"),
        ("mat", "Heat mat"),
        ("e\u0301tage\u0300re", "Heat mat"),  # accents written apart
        ("shelf 2\x1b[0m", "shelf 2"),
    ],
)
def test_what_is_typed_means_the_name_of_today(typed: str, name: str) -> None:
    assert find_name(typed, PLACES, file="--station") == name


def test_an_unknown_name_brings_the_nearest() -> None:
    problem = find_name("shelv 2", PLACES, file="--station")
    assert isinstance(problem, Problem)
    assert str(problem) == (
        "--station: found 'shelv 2', allowed: Heat mat, shelf 2. Nearest: shelf 2."
    )


def test_a_name_of_today_goes_before_a_former_one() -> None:
    assert Names([Place("a", ("b",)), Place("b")]).find("b") == "b"


@pytest.mark.parametrize("name", ["leek", "leek 2027", "1/2 price", "v1.1b", "no. 1x", "é"])
def test_a_plain_name_is_a_lots(name: str) -> None:
    assert wrong_lot_name(name) is None


@pytest.mark.parametrize("name", ["", "a#b", "leek/2", "leek.1", "leek/22", "12.5"])
def test_a_name_like_a_sowings_is_no_lots(name: str) -> None:
    assert wrong_lot_name(name) is not None


def test_later_sowings_and_daughters_take_the_next_free_name() -> None:
    assert later_sowing_name("leek", set()) == "leek"
    assert later_sowing_name("leek", {"Leek"}) == "leek/2"
    assert later_sowing_name("leek", {"leek", "leek/2", "other"}) == "leek/3"
    assert later_sowing_name("leek", {"leek", "leek/3"}) == "leek/2"
    assert daughter_name("leek/2", {"leek/2"}) == "leek/2.1"
    assert daughter_name("leek", {"leek", "leek.1"}) == "leek.2"


def test_a_name_shared_now_or_formerly_is_put_down_at_the_later() -> None:
    named = [Place("a", ("b",)), Place("B"), Place("c", ("c", "A"))]
    assert sorted(clashes(named)) == [(1, "name", "b", 0), (2, "was", "A", 0)]


def test_a_name_has_an_end() -> None:
    assert wrong_lot_name("x" * LONGEST_NAME) is None
    assert wrong_lot_name("x" * 70_000) == "A name has up to 100 characters; this one has 70000."
    assert wrong_lot_name("\u200d") == "There is nothing to see in this name."


@pytest.mark.parametrize("unseen", ["\u200b", "\u00ad", "\U000e0041", "\u200d", "\ufe0f"])
def test_two_names_that_look_alike_clash(unseen: str) -> None:
    assert list(clashes([Place("zwsp"), Place(f"zw{unseen}sp")]))
    assert Names([Place("zwsp")]).find(f"zw{unseen}sp") == "zwsp"
