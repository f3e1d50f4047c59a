import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.growing.indices import (
    Newly,
    half_time,
    maguire_speed,
    mean_time,
    synchrony,
    uncertainty_bits,
    variance_of_time,
)
from tables import rows

# tests/reference/germination_index_*.csv: published daily counts of 27 lots and seven constructed
# ones; the answers were computed from the published formula that the index is named after.
CASES: dict[str, list[Newly]] = {}
for _row in rows("germination_index_cases.csv"):
    _newly = Newly(float(_row["day"]), int(_row["newly_germinated"]))
    CASES.setdefault(_row["case"], []).append(_newly)
ANSWERS = {
    (row["case"], row["index"]): row["value"] for row in rows("germination_index_answers.csv")
}
INDICES = {
    "mean_time_days": mean_time,
    "time_variance": variance_of_time,
    "t50_farooq_2005": half_time,
    "t50_coolbear_1984": lambda found: half_time(found, coolbear=True),
    "synchrony_primack_1985": synchrony,
    "uncertainty_labouriau_1983": uncertainty_bits,
}


@pytest.mark.parametrize("case", sorted(CASES))
@pytest.mark.parametrize("index", sorted(INDICES))
def test_indices_of_published_counts(case: str, index: str) -> None:
    answer = ANSWERS[case, index]
    found = INDICES[index](CASES[case])
    if answer == "":
        assert found is None
    else:
        assert found == pytest.approx(float(answer), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("case", sorted(CASES))
def test_maguires_speed_of_published_counts(case: str) -> None:
    answer = ANSWERS[case, "speed_maguire_1962"]
    assert maguire_speed(CASES[case]) == pytest.approx(float(answer or 0), rel=1e-6)


@given(st.lists(st.integers(0, 30), min_size=1, max_size=20))
def test_the_mean_lies_between_first_and_last_and_half_comes_no_later_than_all(
    counts: list[int],
) -> None:
    found = [Newly(float(day), count) for day, count in enumerate(counts, 1)]
    mean, half = mean_time(found), half_time(found)
    days = [one.day for one in found if one.up]
    assert (mean is None) == (half is None) == (not days)
    if mean is not None and half is not None:
        assert days[0] - 1e-9 <= mean <= days[-1] + 1e-9
        assert 0 <= half <= days[-1]
