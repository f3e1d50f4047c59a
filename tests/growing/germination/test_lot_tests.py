from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.germination.curve_fit import Between
from seedstart.growing.germination.lot_tests import (
    chi_square,
    chi_square_tail,
    fisher,
    holm,
    log_rank,
    seeds_to_show,
    speed_test,
)
from seedstart.growing.germination.time_curve import NoFit
from seen_for_tests import seen_in
from tables import rows

COUNTED = list(rows("germination_comparison_cases.csv"))


def lots_of(row: dict[str, str]) -> list[tuple[int, int]]:
    counts = [int(one) for one in row["counts"].split()]
    sown = [int(one) for one in row["sown_each"].split()]
    return list(zip(counts, sown * (len(counts) if len(sown) == 1 else 1), strict=True))


# germination_comparison_cases.csv: scipy's fisher_exact and chi2_contingency.
@pytest.mark.parametrize(
    "row",
    [row for row in COUNTED if row["statistic"].startswith(("fisher", "pearson", "dispersion"))],
    ids=lambda row: f"{row['case']} {row['statistic']}",
)
def test_final_counts_are_compared_as_in_the_table(row: dict[str, str]) -> None:
    lots, wanted = lots_of(row), float(row["value"])
    if row["statistic"] == "fisher_two_sided_p":
        assert fisher(*lots).p == pytest.approx(wanted, abs=6e-9)
    else:
        found = chi_square(lots)
        value = found.p if row["statistic"].endswith("_p") else found.statistic
        assert value == pytest.approx(wanted, abs=6e-9)


def test_final_counts_of_the_published_lots_are_compared_as_in_the_table() -> None:
    # germination_tte_answers.csv, Lobelia: scipy's own of 92 against 96 of 100.
    kept = {
        row["quantity"]: float(row["recomputed"])
        for row in rows("germination_tte_answers.csv")
        if row["group"] == "both" and row["quantity"].startswith(("fisher", "pearson"))
    }
    lots = [(92, 100), (96, 100)]
    assert fisher(*lots).p == pytest.approx(kept["fisher_p_92_vs_96_of_100"], abs=6e-9)
    found = chi_square(lots)
    assert found.statistic == pytest.approx(kept["pearson_chisq_uncorrected"], abs=6e-8)
    assert found.p == pytest.approx(kept["pearson_p_uncorrected"], abs=6e-9)


LOT = st.integers(1, 120).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))


@given(LOT, LOT)
@settings(deadline=None, derandomize=True)
def test_fishers_test_is_scipys(first: tuple[int, int], second: tuple[int, int]) -> None:
    from scipy.stats import fisher_exact

    table = np.array([[up, of - up] for up, of in (first, second)])
    assert fisher(first, second).p == pytest.approx(fisher_exact(table).pvalue, abs=1e-9)


def test_whole_courses_are_compared_as_in_the_table() -> None:
    # germination_tte_answers.csv, computed: 7.8120538 and .0051898889; scipy's own below.
    groups = [seen_in("lobelia", "15C"), seen_in("lobelia", "25C")]
    found = log_rank(groups)
    assert found.statistic == pytest.approx(7.8120538, abs=1e-6)
    assert found.p == pytest.approx(0.0051898889, abs=1e-9)


LOOKS = st.lists(st.integers(0, 6), min_size=1, max_size=7)


@given(LOOKS, LOOKS, st.integers(0, 9), st.integers(0, 9))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_log_rank_is_scipys(a: list[int], b: list[int], never_a: int, never_b: int) -> None:
    from scipy.stats import CensoredData, logrank

    last = max(len(a), len(b))

    def seen(new: list[int], never: int) -> list[Between]:
        found = [Between(day, day + 1, up) for day, up in enumerate(new)]
        return [*found, Between(last, inf, never)]

    def as_scipy(new: list[int], never: int) -> CensoredData:
        up = [day + 1.0 for day, seeds in enumerate(new) for _ in range(seeds)]
        return CensoredData(uncensored=up, right=[float(last)] * never)

    sides = [as_scipy(a, never_a), as_scipy(b, never_b)]
    if not sum(a) + sum(b) or any(not len(one) for one in sides):
        assert log_rank([seen(a, never_a), seen(b, never_b)]).p <= 1
        return
    found = log_rank([seen(a, never_a), seen(b, never_b)])
    if found.statistic == pytest.approx(0, abs=1e-12):  # scipy divides 0 by 0 where all are alike
        assert found.p == pytest.approx(1, abs=1e-5)
        return
    theirs = logrank(sides[0], sides[1])
    assert found.statistic == pytest.approx(theirs.statistic**2, rel=1e-8)
    assert found.p == pytest.approx(theirs.pvalue, rel=1e-8)


def test_speed_is_told_apart_from_how_many() -> None:
    # germination_tte_answers.csv: Onofri's tutorial has 9.41 and 5.05 days for Lobelia at 15 and
    # 25 C where all are taken to come; with a share of its own each the difference is the same.
    found = speed_test(seen_in("lobelia", "15C"), seen_in("lobelia", "25C"))
    assert not isinstance(found, NoFit)
    assert found.days == pytest.approx(5.0501097 - 9.4073239, abs=0.01)
    assert found.low < found.days < found.high < 0
    assert found.p == pytest.approx(0.00023, abs=2e-5)
    # as fast, and half as many: how many differs, the speed does not
    full = [Between(4, 5, 8), Between(5, 6, 20), Between(6, 7, 20), Between(7, 8, 8),
            Between(20, inf, 4)]  # fmt: skip
    half = [Between(one.after, one.by, one.seeds // 2) for one in full[:-1]]
    equal = speed_test(full, [*half, Between(20, inf, 32)])
    assert not isinstance(equal, NoFit)
    assert equal.p > 0.9
    assert fisher((56, 60), (28, 60)).p < 0.001


def test_speed_of_lots_of_which_too_little_was_seen_is_not_tested() -> None:
    one_look = [Between(0, 9, 12), Between(9, inf, 3)]
    found = speed_test(one_look, seen_in("lobelia", "15C"))
    assert isinstance(found, NoFit)
    assert "one look" in found.why


@given(st.lists(st.floats(0, 1), min_size=1, max_size=12))
@settings(deadline=None, derandomize=True)
def test_holm_is_statsmodels(ps: list[float]) -> None:
    from statsmodels.stats.multitest import multipletests

    assert holm(ps) == pytest.approx(list(multipletests(ps, method="holm")[1]), abs=1e-12)


@pytest.mark.parametrize(("first", "second"), [(0.77, 0.62), (0.9, 0.8), (0.5, 0.2), (0.2, 0.5)])
def test_so_many_seeds_show_the_difference_four_times_in_five(first: float, second: float) -> None:
    # statsmodels' power of the same test (normal approximation with pooled variance at the null).
    from statsmodels.stats.proportion import power_proportions_2indep

    seeds = seeds_to_show(first, second)
    assert seeds is not None
    for of, reaches in ((seeds, True), (seeds - 1, False)):
        power = float(power_proportions_2indep(first - second, second, of).power)
        assert (power >= 0.8 - 1e-6) == reaches


def test_no_number_of_seeds_shows_what_is_not_there() -> None:
    assert seeds_to_show(0.8, 0.8) is None


@given(st.floats(0, 400), st.integers(1, 40))
@settings(deadline=None, derandomize=True)
def test_the_tail_of_chi_square_is_scipys(statistic: float, freedom: int) -> None:
    from scipy.special import chdtrc

    wanted = float(chdtrc(freedom, statistic))
    assert chi_square_tail(statistic, freedom) == pytest.approx(wanted, rel=1e-9, abs=1e-12)


def test_lots_that_cannot_differ_have_a_p_of_one() -> None:
    assert chi_square([(20, 20), (15, 15)]).p == 1
    assert fisher((0, 20), (0, 15)).p == pytest.approx(1)
    assert log_rank([[Between(5, inf, 20)], [Between(5, inf, 20)]]).p == 1


@pytest.mark.parametrize("lots", [[(1, 2)], [(3, 2), (1, 2)], [(0, 0), (1, 2)], [(-1, 2), (1, 2)]])
def test_counts_that_cannot_be_are_not_compared(lots: list[tuple[int, int]]) -> None:
    with pytest.raises(ValueError, match="two or more"):
        chi_square(lots)
