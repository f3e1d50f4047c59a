from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.germination.intervals import (
    Interval,
    clopper_pearson,
    jeffreys,
    likely_share,
    wilson,
)
from seedstart.growing.germination_belief import EVEN, Belief
from tables import rows

CASES = list(rows("germination_interval_cases.csv"))
BY_METHOD = {
    "wilson": wilson,
    "clopper_pearson": clopper_pearson,
    "jeffreys_edge_adjusted": jeffreys,
}
COUNTED = [row for row in CASES if row["method"] in BY_METHOD]
BELIEVED = [row for row in CASES if row["method"] == "bayes_uniform_equal_tail"]


# germination_interval_cases.csv: statsmodels and scipy, which agree to 1e-9; 6 decimals printed.
# Four of Wilson's equal what Newcombe 1998 printed.
@pytest.mark.parametrize("row", COUNTED)
def test_an_interval_is_that_of_the_table(row: dict[str, str]) -> None:
    found = BY_METHOD[row["method"]](int(row["germinated"]), int(row["sown"]), float(row["level"]))
    assert found.low == pytest.approx(float(row["lower"]), abs=6e-7)
    assert found.high == pytest.approx(float(row["upper"]), abs=6e-7)


def test_each_method_has_its_18_rows() -> None:
    assert len(COUNTED) == 54
    assert len(BELIEVED) == 18


@pytest.mark.parametrize("row", BELIEVED)
def test_the_even_start_and_a_test_give_the_tables_interval(row: dict[str, str]) -> None:
    # germination_interval_cases.csv, the same two: scipy's beta distribution.
    belief = EVEN.updated(int(row["germinated"]), int(row["sown"]))
    found = likely_share(belief, float(row["level"]))
    assert found.low == pytest.approx(float(row["lower"]), abs=6e-7)
    assert found.high == pytest.approx(float(row["upper"]), abs=6e-7)


@given(
    st.integers(1, 400).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))),
    st.sampled_from([0.8, 0.9, 0.95, 0.99]),
)
@settings(deadline=None, derandomize=True)
def test_both_agree_with_statsmodels(counted: tuple[int, int], level: float) -> None:
    from statsmodels.stats.proportion import proportion_confint

    up, of = counted
    for method, name in ((wilson, "wilson"), (clopper_pearson, "beta")):
        low, high = proportion_confint(up, of, 1 - level, name)
        assert method(up, of, level) == pytest.approx((float(low), float(high)), abs=1e-9)


@pytest.mark.parametrize("method", [wilson, clopper_pearson, jeffreys])
def test_none_and_all_touch_the_ends_exactly(method: Callable[..., Interval]) -> None:
    assert method(0, 20)[0] == 0.0
    assert method(20, 20)[1] == 1.0


@pytest.mark.parametrize("method", [wilson, clopper_pearson, jeffreys])
@pytest.mark.parametrize(("up", "of"), [(1, 0), (0, 0), (21, 20), (-1, 20)])
def test_counts_and_levels_that_cannot_be_are_refused(
    method: Callable[..., Interval], up: int, of: int
) -> None:
    with pytest.raises(ValueError, match="0 or more up"):
        method(up, of)
    for level in (0.0, 1.0, 95.0):
        with pytest.raises(ValueError, match="level between 0 and 1"):
            method(17, 20, level)
        with pytest.raises(ValueError, match="level between 0 and 1"):
            likely_share(Belief(18.0, 4.0), level)


def coverage(method: Callable[..., Interval], of: int) -> float:
    """How often the interval of `of` seeds holds the truth, over germination 50 to 98 %: exact."""
    from scipy.stats import binom

    ends = [method(up, of) for up in range(of + 1)]
    truths = [share / 1000 for share in range(500, 981, 5)]
    covered = [
        sum(float(binom.pmf(up, of, p)) for up, (low, high) in enumerate(ends) if low <= p <= high)
        for p in truths
    ]
    return sum(covered) / len(covered)


@pytest.mark.parametrize("of", [20, 50, 100])
def test_intervals_hold_the_truth_as_often_as_they_say(of: int) -> None:
    # Brown, Cai & DasGupta 2001 (from memory): Wilson and Jeffreys near 95 % on average, the exact
    # one never below.
    assert 0.93 <= coverage(wilson, of) <= 0.97
    assert 0.93 <= coverage(jeffreys, of) <= 0.97
    assert coverage(clopper_pearson, of) >= 0.95
