"""Sizes of trials against statsmodels, and lots that can be drawn again."""

import pytest
from statsmodels.stats.power import TTestIndPower

from seedstart.growing.trial_design import difference_shown, drawn, trays_needed


def test_the_difference_shown_has_the_power_that_statsmodels_gives_it() -> None:
    # Two levels of 12 trays: a t test of 12 against 12; so many plants that they add nothing.
    shown = difference_shown(2, 12, 10**6, 1.0, 1.0)
    power = TTestIndPower().power(shown.difference, 12, 0.05)
    assert power == pytest.approx(0.8, abs=0.015)


def test_more_trays_show_smaller_differences_and_more_plants_do_less() -> None:
    few, trays, plants = (
        difference_shown(5, one, many, 5, 3).difference for one, many in ((2, 8), (4, 8), (2, 16))
    )
    assert trays < plants < few


def test_one_tray_a_level_speaks_of_its_plants_alone() -> None:
    assert difference_shown(5, 1, 8, 5, 3).of_plants_only
    assert not difference_shown(5, 2, 8, 5, 3).of_plants_only


def test_the_fewest_trays_are_found_or_none() -> None:
    found = trays_needed(5, 8, 8, 5, 3)
    assert found is not None
    assert found.difference <= 8
    assert difference_shown(5, found.trays - 1, 8, 5, 3).difference > 8 or found.trays == 2
    assert trays_needed(5, 8, 0.1, 5, 3) is None


def test_every_block_holds_every_level_and_a_seed_draws_the_same_again() -> None:
    order = drawn([3.1, 4.6, 6.2], blocks=4, seed=4711)
    assert [sorted(order[start : start + 3]) for start in range(0, 12, 3)] == [[3.1, 4.6, 6.2]] * 4
    assert order == drawn([3.1, 4.6, 6.2], blocks=4, seed=4711)
    assert order != drawn([3.1, 4.6, 6.2], blocks=4, seed=1)
