"""Against tests/reference/resow_decision_cases.csv: exact sums that agree with quadrature."""

import pytest

from seedstart.growing.germination_belief import Belief
from seedstart.growing.still_to_come import still_to_come
from tables import rows

CASES = list(rows("resow_decision_cases.csv"))


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_the_published_and_computed_cases_come_out(case: dict[str, str]) -> None:
    germination: float | Belief
    if case["germinable_d"]:
        germination = float(case["germinable_d"])
    else:
        germination = Belief(float(case["prior_a"]), float(case["prior_b"]))
    now, then = float(case["F_elapsed"]), float(case["F_horizon"])
    found = still_to_come(int(case["sown"]), int(case["emerged_so_far"]), now, germination)
    by_now = {
        "expected_still_to_come": found.expected(),
        "prob_any_still_to_come": found.chance_of(1),
        "expected_by_horizon": found.expected(then),
        "prob_any_by_horizon": found.chance_of(1, then),
    }
    for name, value in by_now.items():  # shares are printed with eight digits
        assert value == pytest.approx(float(case[name]), rel=2e-5, abs=2e-6), name


# Computed by hand from the same formulas: b = 10, e = 9.5 days, Beta(18, 4), 24 sown, none up.
@pytest.mark.parametrize(
    ("share", "expected", "chance"),
    [(0.1521, 18.265, 1.0), (0.6255, 8.140, 0.9991), (0.9118, 1.517, 0.7684)],
)
def test_a_silent_tray_loses_hope_as_its_days_pass(
    share: float, expected: float, chance: float
) -> None:
    found = still_to_come(24, 0, share, Belief(18, 4))
    assert found.expected() == pytest.approx(expected, abs=0.01)
    assert found.chance_of(1) == pytest.approx(chance, abs=0.0005)


def test_nothing_is_missing_once_all_are_up() -> None:
    found = still_to_come(20, 20, 0.4, Belief(18, 4))
    assert found.expected() == 0
    assert found.chance_of(1) == 0
    assert found.chance_of(0) == 1


def test_on_the_day_of_sowing_the_belief_comes_back() -> None:
    assert still_to_come(24, 0, 0.0, Belief(18, 4)).expected() == pytest.approx(24 * 18 / 22)


def test_more_up_than_sown_is_refused() -> None:
    with pytest.raises(ValueError, match="0 to 20 up"):
        still_to_come(20, 21, 0.4, 0.9)
