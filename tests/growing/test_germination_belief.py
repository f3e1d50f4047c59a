import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.germination.intervals import likely_share
from seedstart.growing.germination_belief import (
    EVEN,
    MOST_SURE,
    Belief,
    anywhere_above,
    as_if_tested,
    belief_from_lots,
)
from tables import rows

CASES = list(rows("empirical_bayes_cases.csv"))
# The least percentages of 7 CFR 201.31 and of the other rules.
LEAST = sorted({float(row["minimum_percent"]) for row in rows("minimum_germination_standards.csv")})
# How many came up of how many, of lots whose daily counts were published.
PUBLISHED: dict[str, tuple[int, int]] = {}
for _row in rows("germination_index_cases.csv"):
    _up, _ = PUBLISHED.get(_row["case"], (0, 0))
    PUBLISHED[_row["case"]] = (_up + int(_row["newly_germinated"]), int(_row["sown"]))
# Normal seedlings in the handbook's table, by soil temperature.
LETTUCE = {
    float(row["soil_temp_c"]): float(row["percent"])
    for row in rows("normal_seedlings_percent.csv")
    if row["crop"] == "Lettuce" and row["percent"].replace(".", "").isdigit()
}
Lots = tuple[tuple[int, int], ...]


def lots_of(row: dict[str, str]) -> Lots:
    up, of = row["lots_y"].split(), row["lots_n"].split()
    return tuple(zip(map(int, up), map(int, of), strict=True))


def log_likelihood(lots: Lots, a: float, b: float) -> float:
    """Beta-binomial, by the log gamma function: not the sums that the program uses."""
    one = math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)
    return sum(
        math.lgamma(a + up) + math.lgamma(b + of - up) - math.lgamma(a + b + of) - one
        for up, of in lots
    )


# empirical_bayes_cases.csv: made-up lots; Crowder 1978; Tarone 1982 (from memory).
@pytest.mark.parametrize("row", CASES)
def test_past_lots_and_a_new_test_give_the_tables_estimate(row: dict[str, str]) -> None:
    prior = belief_from_lots(lots_of(row))
    assert prior.mean == pytest.approx(float(row["prior_mean"]), abs=2e-6)
    assert prior.strength == pytest.approx(float(row["prior_strength"]), rel=1e-5)
    assert prior.a == pytest.approx(float(row["prior_a"]), rel=1e-5)
    assert prior.b == pytest.approx(float(row["prior_b"]), rel=1e-5)
    after = prior.updated(int(row["new_y"]), int(row["new_n"]))
    assert after.mean == pytest.approx(float(row["shrunk_estimate"]), abs=2e-6)
    likely = likely_share(after)
    assert likely.low == pytest.approx(float(row["cri95_low"]), abs=5e-6)
    assert likely.high == pytest.approx(float(row["cri95_high"]), abs=5e-6)


@pytest.mark.parametrize("row", CASES)
def test_the_likelihood_at_the_estimate_is_the_tables(row: dict[str, str]) -> None:
    prior = belief_from_lots(lots_of(row))
    ways = sum(math.log(math.comb(of, up)) for up, of in lots_of(row))
    found = log_likelihood(lots_of(row), prior.a, prior.b) + ways
    assert found == pytest.approx(float(row["loglik"]), abs=1e-5)


LOT = st.integers(1, 60).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))


@given(st.lists(LOT, min_size=4, max_size=12).map(tuple))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_no_other_belief_makes_the_lots_likelier(lots: Lots) -> None:
    up, of = sum(up for up, _ in lots), sum(of for _, of in lots)
    if up in (0, of):
        return
    best = belief_from_lots(lots)
    reached = log_likelihood(lots, best.a, best.b)
    for mean in (0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, best.mean * 0.99, best.mean):
        for strength in (2.0, 3.0, 6.0, 12.0, 25.0, 50.0, 100.0, 200.0, MOST_SURE):
            other = log_likelihood(lots, mean * strength, (1 - mean) * strength)
            assert other <= reached + 1e-7


def test_lots_that_differ_no_more_than_coins_stop_at_the_cap() -> None:
    lots = ((17, 20),) * 4
    found = belief_from_lots(lots)
    assert found.strength == pytest.approx(MOST_SURE)
    best = log_likelihood(lots, found.a, found.b)
    for mean in (found.mean - 1e-4, found.mean + 1e-4, 0.85):  # 0.85 itself only without a cap
        assert log_likelihood(lots, mean * MOST_SURE, (1 - mean) * MOST_SURE) < best


def test_three_lots_teach_nothing_of_how_lots_differ() -> None:
    assert len(PUBLISHED) > 3
    assert belief_from_lots(tuple(PUBLISHED.values())[:3]) == EVEN
    assert belief_from_lots(()) == EVEN


@pytest.mark.parametrize("up", [0, 10])
def test_lots_of_which_all_or_none_came_up_leave_room_for_the_other(up: int) -> None:
    found = belief_from_lots(((up, 10),) * 5)
    # Beta(1 + 50, 1) or its mirror: the even start and 50 seeds.
    assert sorted(found) == pytest.approx([1.0, 51.0])


@pytest.mark.parametrize("lot", [(3, 2), (-1, 5), (0, 0)])
def test_a_lot_that_cannot_be_is_refused(lot: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="each lot"):
        belief_from_lots((lot, (1, 2), (1, 2), (1, 2)))


def test_a_printed_figure_counts_like_the_test_it_is_worth() -> None:
    for percent in LEAST:
        assert as_if_tested(percent / 100, 200) == pytest.approx(
            EVEN.updated(round(2 * percent), 200)
        )
    with pytest.raises(ValueError, match="from 0 to 1"):
        as_if_tested(85, 20)


def test_a_share_lowers_the_mean_and_leaves_the_strength() -> None:
    best = max(LETTUCE.values())
    for percent in LETTUCE.values():
        if percent:
            hot = Belief(18.0, 4.0).times(percent / best)
            assert hot.mean == pytest.approx(18 / 22 * percent / best)
            assert hot.strength == pytest.approx(22)
    for share in (0.0, 1.1):
        with pytest.raises(ValueError, match="above 0"):
            Belief(18.0, 4.0).times(share)


def test_age_lowers_and_weakens_and_three_years_are_the_most() -> None:
    fresh = Belief(18.0, 4.0)
    assert fresh.aged(0) == fresh
    assert fresh.aged(-2) == fresh
    one = fresh.aged(1)
    assert one.mean == pytest.approx(fresh.mean * 0.8)
    assert one.strength == pytest.approx(11)
    assert fresh.aged(3).strength == pytest.approx(5)
    assert fresh.aged(40) == fresh.aged(3)
    assert EVEN.weakened() == EVEN


def test_more_up_than_sown_is_refused() -> None:
    with pytest.raises(ValueError, match="0 to 20 of 20"):
        EVEN.updated(21, 20)


@pytest.mark.parametrize("least", [0.0, *(percent / 100 for percent in LEAST)])
def test_where_only_the_least_is_known_the_belief_is_as_wide_as_any_share_above_it(
    least: float,
) -> None:
    from scipy import stats

    found, even = stats.beta(*anywhere_above(least)), stats.uniform(least, 1 - least)
    assert found.mean() == pytest.approx(even.mean())
    assert found.var() == pytest.approx(even.var())


def test_above_nought_anything_is_the_even_start() -> None:
    assert anywhere_above(0.0) == EVEN


@pytest.mark.parametrize("least", [-0.1, 1.0])
def test_the_least_share_lies_below_all(least: float) -> None:
    with pytest.raises(ValueError, match="0 to below 1"):
        anywhere_above(least)
