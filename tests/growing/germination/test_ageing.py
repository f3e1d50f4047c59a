from datetime import date, timedelta

import pytest

from seedstart.growing.germination.ageing import ageing, share_after
from tables import rows

CASES = [row for row in rows("seed_viability_cases.csv") if row["sigma_days"] and row["Ki_probit"]]


# seed_viability_cases.csv: the line v = Ki - p/sigma, scipy's normal distribution.
@pytest.mark.parametrize("row", CASES, ids=lambda row: f"{row['lot'][:20]} {row['storage_days']}")
def test_the_share_after_storage_is_the_tables(row: dict[str, str]) -> None:
    found = share_after(
        float(row["Ki_probit"]), float(row["sigma_days"]), float(row["storage_days"])
    )
    assert found == pytest.approx(float(row["viability_after"]), abs=2e-6)


def test_two_tests_of_a_lot_give_its_line() -> None:
    # The last row of the table: 92 % at the start, 78 % after 730 days.
    start = date(2025, 1, 1)
    found = ageing((start, 92, 100), (start + timedelta(730), 78, 100))
    assert found is not None
    assert found.sigma_days == pytest.approx(1153.46, abs=0.01)
    assert found.half_life_days == pytest.approx(1620.69, abs=0.01)
    assert found.share_on(start + timedelta(1095)) == pytest.approx(0.675717, abs=1e-5)


@pytest.mark.parametrize(
    ("first", "second", "days"),
    [((92, 100), (78, 100), 0), ((78, 100), (92, 100), 400), ((80, 100), (80, 100), 400),
     ((100, 100), (78, 100), 400), ((92, 100), (0, 100), 400)],
)  # fmt: skip
def test_tests_that_show_no_ageing_give_no_line(
    first: tuple[int, int], second: tuple[int, int], days: int
) -> None:
    start = date(2025, 1, 1)
    assert ageing((start, *first), (start + timedelta(days), *second)) is None
