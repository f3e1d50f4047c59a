import pytest

from seedstart.growing.germination.tolerances import (
    RANGE_FROM_MEMORY,
    RANGE_SOURCE,
    replicate_tolerance,
    two_test_tolerance,
)
from tables import rows

ROWS = list(rows("ista_tolerances.csv"))


# ista_tolerances.csv: as printed in 7 CFR 201.55 (ten rows from memory, marked so).
@pytest.mark.parametrize(
    "row",
    [row for row in ROWS if row["table"].startswith("range_between")],
    ids=lambda row: f"{row['table']} {row['mean_high']}",
)
def test_replicates_may_lie_as_far_apart_as_printed(row: dict[str, str]) -> None:
    replicates = 4 if "_4_" in row["table"] else 2
    every = (*range(int(row["mean_low"]), int(row["mean_high"]) + 1),
             *range(int(row["complement_low"]), int(row["complement_high"]) + 1))  # fmt: skip
    for mean in every:
        found = replicate_tolerance([mean] * replicates, 100)
        assert found is not None
        assert found.allowed == int(row["tolerance_percent"])
        memory = row["source"] == "from memory"
        assert found.source == (RANGE_FROM_MEMORY if memory else RANGE_SOURCE)


@pytest.mark.parametrize(
    "row", [row for row in ROWS if "AOSA_FSA" in row["table"]], ids=lambda row: row["mean_low"]
)
def test_two_tests_may_lie_as_far_apart_as_printed(row: dict[str, str]) -> None:
    for mean in (row["mean_low"], row["mean_high"], row["complement_low"]):
        found = two_test_tolerance(float(mean), float(mean))
        assert found is not None
        assert found.allowed == int(row["tolerance_percent"])


def test_a_range_at_its_tolerance_passes_and_one_beyond_does_not() -> None:
    # ista_tolerances.csv, as printed in 7 CFR 201.55: at a mean of 91 four may lie 11 apart.
    at = replicate_tolerance([96, 92, 85, 91], 100)
    assert at is not None
    assert (at.mean, at.apart, at.allowed, at.within) == (91, 11, 11, True)
    beyond = replicate_tolerance([97, 92, 84, 91], 100)
    assert beyond is not None
    assert not beyond.within


@pytest.mark.parametrize(
    ("percents", "seeds"), [([96, 92, 85, 91], 50), ([96, 92, 85], 100), ([100] * 4, 100)]
)
def test_no_table_applies_to_other_tests(percents: list[float], seeds: int) -> None:
    assert replicate_tolerance(percents, seeds) is None


def test_mean_and_range_of_replicates_are_the_tables() -> None:
    kept = {
        row["statistic"]: float(row["value"])
        for row in rows("germination_comparison_cases.csv")
        if row["case"] == "replicates_1" and row["statistic"].endswith("_percent")
    }
    found = replicate_tolerance([96, 92, 85, 91], 100)
    assert found is not None
    assert (found.mean, found.apart) == (kept["mean_percent"], kept["range_percent"])
