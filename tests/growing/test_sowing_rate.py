import subprocess
import sys

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from seedstart.growing.germination_belief import EVEN, Belief
from seedstart.growing.sowing_rate import (
    MOST_SEEDS,
    TooManySeedsError,
    chance_cell_empty,
    chance_of_plants,
    clustered,
    seeds_for_plants,
    seeds_per_cell,
)
from tables import rows

CASES = list(rows("seed_count_decision_cases.csv"))
SOW = [row for row in CASES if row["decision"].startswith("sow_n")]
CELLS = [row for row in CASES if row["decision"].startswith("seeds_per_cell")]
BELIEFS = st.builds(Belief, st.floats(0.5, 60), st.floats(0.5, 60))
# With less than two seeds' worth of good news the tail is so long that thousands would be sown.
FAIR_BELIEFS = st.builds(Belief, st.floats(2, 60), st.floats(0.5, 20))
KNOWN = st.floats(0.05, 1)


def germination_of(row: dict[str, str]) -> float | Belief:
    """What a row of the table knows: a share, a share with likeness in a cell, or a test."""
    if row["rho"]:
        return clustered(float(row["germination_point"]), float(row["rho"]))
    if row["germination_point"]:
        return float(row["germination_point"])
    prior = Belief(float(row["prior_a"]), float(row["prior_b"]))
    return prior.updated(int(row["germ_test_y"]), int(row["germ_test_n"]))


def test_every_row_of_the_table_is_one_of_the_two_questions() -> None:
    assert len(SOW) + len(CELLS) == len(CASES) == 30


# seed_count_decision_cases.csv: scipy's binomial and beta-binomial tails, computed twice.
@pytest.mark.parametrize("row", SOW)
def test_the_seeds_for_so_many_plants_are_those_of_the_table(row: dict[str, str]) -> None:
    found = seeds_for_plants(
        int(row["want_plants"]), float(row["want_probability"]), germination_of(row)
    )
    assert found.seeds == int(row["answer"])
    assert found.chance == pytest.approx(float(row["achieved"]), abs=1e-8)
    assert found.chance_of_one_fewer == pytest.approx(float(row["achieved_one_fewer"]), abs=1e-8)


@pytest.mark.parametrize("row", CELLS)
def test_the_seeds_in_a_cell_are_those_of_the_table(row: dict[str, str]) -> None:
    # The cells of seed_count_decision_cases.csv: computed twice, two rows equal a published rule.
    found = seeds_per_cell(float(row["max_empty_probability"]), germination_of(row))
    assert found.seeds == int(row["answer"])
    assert found.empty == pytest.approx(float(row["achieved"]), abs=1e-8)
    assert found.empty_of_one_fewer == pytest.approx(float(row["achieved_one_fewer"]), abs=1e-8)


# Roy 1957, quoted in Schubert & Fowells 1964, USFS PSW-44: 95 % of spots stocked.
@pytest.mark.parametrize(("viable", "seeds"), [(0.5, 5), (0.1, 29)])
def test_a_spot_gets_as_many_seeds_as_roy_printed(viable: float, seeds: int) -> None:
    assert seeds_per_cell(0.05, viable).seeds == seeds


@pytest.mark.parametrize("odd", [0.0, -0.1, 1.0, 1.1, float("nan"), Belief(0.0, 1.0)])
def test_counts_germinations_and_chances_that_cannot_be_are_refused(odd: float | Belief) -> None:
    with pytest.raises(ValueError, match=r"0 plants or more.* got -1 and 0\.9"):
        seeds_for_plants(-1, 0.9, 0.5)
    for seeds, plants in ((-1, 2), (2, -1)):
        with pytest.raises(ValueError, match=f"0 seeds and plants or more; got {seeds} and"):
            chance_of_plants(seeds, plants, 0.5)
    for germination, chance, said in ((odd, 0.9, "above 0"), (0.8, odd, "chance between 0 and 1")):
        if germination == 1.0 or isinstance(chance, Belief):
            continue
        with pytest.raises(ValueError, match=said):
            seeds_for_plants(12, chance, germination)
        with pytest.raises(ValueError, match=said):
            seeds_per_cell(1 - chance if chance == 0.9 else chance, germination)


def test_rounding_costs_no_seed_and_seeds_are_whole() -> None:
    # 0.1 x 0.1 and 0.9 + 0.09 are 0.01 and 0.99; in binary a hair above and a hair below.
    assert seeds_for_plants(1, 0.99, 0.9).seeds == 2
    assert seeds_per_cell(0.01, 0.9).seeds == 2
    # Nobody sows "3.0 seeds": 0.3 ** 3 = 0.027, 0.8 ** 14 = 0.044, 0.8 ** 13 = 0.055.
    said = [f"{seeds_per_cell(0.05, share).seeds}" for share in (0.7, 0.97, 0.95, 0.2)]
    assert said == ["3", "1", "1", "14"]


def test_dividing_by_the_germination_is_right_about_half_the_time() -> None:
    (row,) = (row for row in SOW if (row["want_plants"], row["germination_point"]) == ("72", "0.9"))
    seeds, plants = int(row["answer"]), int(row["want_plants"])
    assert chance_of_plants(seeds, plants, 0.9) == pytest.approx(float(row["achieved"]), abs=1e-8)
    assert chance_of_plants(80, plants, 0.9) == pytest.approx(0.593, abs=0.0005)  # exact sum


@given(st.integers(0, 400), st.integers(0, 120), st.one_of(KNOWN, BELIEFS))
@settings(deadline=None, derandomize=True)
def test_the_chance_of_so_many_plants_is_scipys_tail(
    seeds: int, plants: int, germination: float | Belief
) -> None:
    from scipy import stats

    if isinstance(germination, Belief):
        tail = stats.betabinom.sf(plants - 1, seeds, germination.a, germination.b)
    else:
        tail = stats.binom.sf(plants - 1, seeds, germination)
    assert chance_of_plants(seeds, plants, germination) == pytest.approx(float(tail), abs=1e-9)


@given(st.integers(1, 150), st.sampled_from([0.5, 0.8, 0.9, 0.95]), st.one_of(KNOWN, FAIR_BELIEFS))
@example(12, 0.9, 1.0)
@settings(deadline=None, derandomize=True)
def test_one_seed_fewer_would_not_do(
    plants: int, chance: float, germination: float | Belief
) -> None:
    found = seeds_for_plants(plants, chance, germination)
    assert found.chance >= chance - 1e-12 > found.chance_of_one_fewer - 1e-9
    assert chance_of_plants(found.seeds, plants, germination) == pytest.approx(found.chance)


@pytest.mark.parametrize("germination", [0.3, Belief(30.0, 70.0), Belief(900.0, 2100.0)])
def test_thousands_of_plants_are_counted_though_the_first_chance_is_too_small_for_a_float(
    germination: float | Belief,
) -> None:
    from scipy import stats

    found = seeds_for_plants(5000, 0.9, germination)
    for seeds, enough in ((found.seeds - 1, False), (found.seeds, True)):
        if isinstance(germination, Belief):
            tail = float(stats.betabinom.sf(4999, seeds, germination.a, germination.b))
        else:
            tail = float(stats.binom.sf(4999, seeds, germination))
        assert (tail >= 0.9) is enough
        assert chance_of_plants(seeds, 5000, germination) == pytest.approx(tail, abs=1e-7)


@given(st.integers(1, 60), st.floats(0.2, 0.95), st.floats(3, 200))
@settings(deadline=None, derandomize=True)
def test_who_is_less_sure_sows_no_fewer(plants: int, mean: float, strength: float) -> None:
    sure = seeds_for_plants(plants, 0.9, mean).seeds
    unsure = seeds_for_plants(plants, 0.9, Belief(mean * strength, (1 - mean) * strength)).seeds
    # A whole seed of slack: a discrete tail is not strictly ordered near its step.
    assert unsure >= sure - 1


@given(st.integers(0, 60), st.one_of(KNOWN, BELIEFS))
@settings(deadline=None, derandomize=True)
def test_an_empty_cell_is_no_plant_at_all(seeds: int, germination: float | Belief) -> None:
    empty = chance_cell_empty(seeds, germination)
    assert 1 - empty == pytest.approx(chance_of_plants(seeds, 1, germination), abs=1e-9)


def test_nothing_wanted_needs_no_seed_and_nothing_viable_gives_no_plant() -> None:
    assert seeds_for_plants(0, 0.9, 0.5).seeds == 0
    assert chance_of_plants(10, 0, 0.0) == 1
    assert chance_of_plants(10, 1, 0.0) == 0
    assert chance_of_plants(3, 4, 0.9) == 0


def test_a_hopeless_wish_says_so() -> None:
    with pytest.raises(TooManySeedsError, match="more than 1000000 seeds"):
        seeds_for_plants(MOST_SEEDS + 1, 0.9, 1.0)
    with pytest.raises(TooManySeedsError, match="more than 1000000 seeds"):
        seeds_for_plants(900, 0.9, 1e-6)
    with pytest.raises(TooManySeedsError, match="more than 1000000 seeds"):
        seeds_per_cell(1e-6, EVEN)  # 1 / (k + 1): one seed short of a million is not enough


def test_counting_seeds_loads_no_array_library() -> None:
    code = (
        "import sys, datetime, seedstart.growing.germination.intervals\n"
        "import seedstart.planning.calendar.season_rows\n"
        "from seedstart.growing.sowing_rate import seeds_for_plants\n"
        "from seedstart.growing.germination_belief import Belief, belief_from_lots\n"
        "seeds_for_plants(12, 0.9, Belief(18.0, 4.0)); belief_from_lots(((9, 10),) * 5)\n"
        "print(*sorted({'numpy', 'scipy', 'pandas', 'statistics'} & set(sys.modules)))"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert loaded.stdout.strip() == ""
