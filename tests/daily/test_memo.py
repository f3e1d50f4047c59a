"""A value is made again where what it was made of is no longer the same, and only there."""

from typing import Any

import pytest

from seedstart.daily.memo import Memo


class Counting:
    """Makes lists, and knows how often."""

    def __init__(self) -> None:
        self.times = 0

    def lengths(self, *texts: str) -> list[int]:
        self.times += 1
        return [len(one) for one in texts]


@pytest.fixture
def made() -> Counting:
    return Counting()


def test_what_was_made_of_equal_inputs_is_not_made_again(made: Counting) -> None:
    memo = Memo()
    first = memo.of(made.lengths, "bench", "leek", "beet")
    assert memo.of(made.lengths, "bench", "leek", "be" + "et") is first
    assert (first, made.times) == ([4, 4], 1)


@pytest.mark.parametrize("inputs", [("leek", "bean"), ("leek",), ("leek", "beet", "beet")])
def test_other_inputs_have_it_made_again(made: Counting, inputs: tuple[str, ...]) -> None:
    memo = Memo()
    memo.of(made.lengths, "bench", "leek", "beet")
    assert memo.of(made.lengths, "bench", *inputs) == [4] * len(inputs)
    assert made.times == 2


def test_an_equal_value_stays_the_same_object(made: Counting) -> None:
    memo = Memo()
    first = memo.of(made.lengths, "bench", "leek")
    assert memo.of(made.lengths, "bench", "beet") is first
    memo.of(made.lengths, "bench", "beet")
    assert made.times == 2, "the inputs of the last time count"


def test_each_subject_and_each_function_has_a_value_of_its_own(made: Counting) -> None:
    memo = Memo()
    found: list[Any] = [memo.of(made.lengths, shelf, "leek") for shelf in ("top", "low")]
    assert found[0] is not found[1]
    assert memo.of(str.upper, "top", "leek") == "LEEK"
    assert memo.of(made.lengths, "top", "leek") is found[0]


def test_equal_things_of_one_subject_are_the_one_handed_out_first() -> None:
    memo = Memo()
    first, equal, other = [1], [1], [2]
    assert memo.same("a", first) is first
    assert memo.same("a", equal) is first
    assert memo.same("b", equal) is equal
    assert memo.same("a", other) is other


def test_what_nobody_asked_for_between_two_turns_is_let_go(made: Counting) -> None:
    memo = Memo()
    asked, unasked = memo.of(made.lengths, "asked", "leek"), memo.of(made.lengths, "not", "leek")
    memo.turn()
    assert memo.of(made.lengths, "asked", "leek") is asked
    memo.turn()
    assert memo.of(made.lengths, "asked", "leek") is asked
    assert memo.of(made.lengths, "not", "leek") is not unasked
