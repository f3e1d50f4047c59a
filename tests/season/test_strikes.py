"""Strikes, strikes of strikes, circles."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from season.entries_for_tests import STRIKES, an_id, at
from seedstart.season.journal.entries import Struck
from seedstart.season.journal.journal_lines import Strikes


def strike(number: int, names: int) -> Struck:
    return Struck(id=an_id(number), at=at("08:00Z"), by="bench", entry=an_id(names))


def in_force(number: str, strikes: dict[str, str]) -> bool:
    """The rule as docs/formats_journal.md states it, word by word."""
    naming = [by for by, named in strikes.items() if named == number and not in_circle(by, strikes)]
    return not any(in_force(by, strikes) for by in naming)


def in_circle(number: str, strikes: dict[str, str]) -> bool:
    seen: list[str] = []
    here = number
    while here in strikes and here not in seen:
        seen.append(here)
        here = strikes[here]
        if here == number:
            return True
    return False


def test_an_entry_is_struck_and_restored_and_struck() -> None:
    strikes = Strikes()
    assert strikes.add([strike(2, 1)]) == {an_id(1)}
    assert strikes.struck == {an_id(1)}
    assert strikes.add([strike(3, 2)]) == {an_id(1), an_id(2)}
    assert strikes.struck == {an_id(2)}
    strikes.add([strike(4, 3)])
    assert strikes.struck == {an_id(1), an_id(3)}


def test_an_entry_struck_twice_is_restored_by_striking_both() -> None:
    strikes = Strikes()
    strikes.add([strike(2, 1), strike(3, 1), strike(4, 2)])
    assert an_id(1) in strikes.struck
    strikes.add([strike(5, 3)])
    assert an_id(1) not in strikes.struck


def test_a_circle_strikes_nothing_and_is_named() -> None:
    strikes = Strikes()
    strikes.add([strike(2, 3), strike(3, 2), strike(4, 4)])
    assert strikes.struck == set()
    assert strikes.circles == {(an_id(2), an_id(3)), (an_id(4),)}


def test_a_strike_on_one_of_a_circle_is_in_force() -> None:
    strikes = Strikes()
    strikes.add([strike(2, 3), strike(3, 2), strike(4, 3)])
    assert strikes.struck == {an_id(3)}


@settings(derandomize=True, deadline=None)
@given(st.lists(STRIKES, unique_by=lambda entry: entry.id), st.randoms(use_true_random=False))
def test_what_is_struck_follows_the_rule_in_any_order_of_arrival(
    strikes: list[Struck], random: Random
) -> None:
    by_id = {strike.id: strike.entry for strike in strikes}
    together, one_by_one = Strikes(), Strikes()
    together.add(strikes)
    random.shuffle(strikes)
    state: set[str] = set()
    for one in strikes:
        state ^= one_by_one.add([one])
        assert state == one_by_one.struck
    ids = [an_id(number) for number in range(1, 13)]
    assert together.struck == {one for one in ids if not in_force(one, by_id)}
    assert one_by_one.struck == together.struck
    assert one_by_one.circles == together.circles
    assert {one for circle in together.circles for one in circle} == {
        one for one in by_id if in_circle(one, by_id)
    }
