import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.growing.germination.indices import (
    Newly,
    half_time,
    indices_of,
    maguire_speed,
    mean_time,
)
from tables import rows

# tests/reference/germination_index_*.csv: published daily counts of 27 lots and seven constructed
# ones; the answers were computed from the published formula that the index is named after.
CASES: dict[str, list[Newly]] = {}
SOWN: dict[str, int] = {}
for _row in rows("germination_index_cases.csv"):
    _newly = Newly(float(_row["day"]), int(_row["newly_germinated"]))
    CASES.setdefault(_row["case"], []).append(_newly)
    SOWN[_row["case"]] = int(_row["sown"])
ANSWERS: dict[str, dict[str, str]] = {}
for _row in rows("germination_index_answers.csv"):
    ANSWERS.setdefault(_row["case"], {})[_row["index"]] = _row["value"]


@pytest.mark.parametrize("case", sorted(CASES))
def test_every_index_of_published_counts(case: str) -> None:
    found = {one.key: one.value for one in indices_of(CASES[case], SOWN[case])}
    assert found.keys() == ANSWERS[case].keys()
    for index, answer in ANSWERS[case].items():
        if answer == "":
            assert found[index] is None, index
        else:
            assert found[index] == pytest.approx(float(answer), rel=1e-6, abs=1e-9), index


def test_each_index_says_whose_it_is_and_no_two_share_a_name() -> None:
    found = indices_of(CASES["lobelia_15C"], 100)
    assert all(one.source and one.formula and one.unit for one in found)
    assert len({one.label for one in found}) == len(found) == 20


@pytest.mark.parametrize(
    ("found", "seeds"),
    [
        ([Newly(3, 2), Newly(3, 1)], 20),  # the same day twice
        ([Newly(4, 2), Newly(3, 1)], 20),  # backwards
        ([Newly(0, 2)], 20),  # on the day of sowing
        ([Newly(3, -1)], 20),
        ([Newly(3, 21)], 20),
        ([Newly(3, 0)], 0),
    ],
)
def test_counts_that_cannot_be_give_no_figure(found: list[Newly], seeds: int) -> None:
    with pytest.raises(ValueError, match=r"days that rise|0 or more up"):
        indices_of(found, seeds)


def test_without_a_look_there_are_no_days() -> None:
    found = {one.key: one.value for one in indices_of([], 20)}
    assert found["germination_percent"] == 0
    assert found["mean_time_days"] is found["first_day"] is found["t50_of_sown"] is None
    assert maguire_speed([]) == 0


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
