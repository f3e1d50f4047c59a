from math import inf, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.germination.curve_fit import Between
from seedstart.growing.germination.step_curve import step_curve, up_by
from seen_for_tests import seen_in
from tables import rows

ANSWERS = [
    row
    for row in rows("germination_tte_answers.csv")
    if row["quantity"].startswith(("npmle", "naive_se_at"))
]


# germination_tte_answers.csv: Onofri's tutorial (two flushes, printed), and one constructed case
# whose looks overlap.
@pytest.mark.parametrize("row", ANSWERS, ids=lambda row: f"{row['dataset']} {row['quantity']}")
def test_the_curve_of_any_shape_is_the_tables(row: dict[str, str]) -> None:
    seen = seen_in(row["dataset"], row["group"])
    up = up_by(step_curve(seen), float(row["quantity"].rpartition("_")[2]))
    if row["quantity"].startswith("naive"):
        up = sqrt(up * (1 - up) / sum(one.seeds for one in seen))
    assert up == pytest.approx(float(row["published"] or row["recomputed"]), abs=6e-5)


# The same file: another library's Kaplan-Meier curve, each seed booked at the look that found it.
@pytest.mark.parametrize("group", ["15C", "25C"])
def test_of_one_tray_it_is_the_kaplan_meier_curve_at_the_looks(group: str) -> None:
    steps = step_curve(seen_in("lobelia", group))
    kept = {
        row["quantity"]: float(row["recomputed"])
        for row in rows("germination_tte_answers.csv")
        if row["group"] == group and row["quantity"].startswith("km_")
    }
    assert next(one.by for one in steps if one.up >= 0.5) == kept.pop(
        "km_median_event_at_inspection"
    )
    assert len(kept) == 3
    for quantity, up in kept.items():
        assert up_by(steps, float(quantity.rpartition("day")[2])) == pytest.approx(up, abs=1e-9)


LOOKS = st.lists(st.integers(0, 9), min_size=1, max_size=10)


@given(LOOKS, st.integers(0, 20))
@settings(deadline=None, derandomize=True)
def test_of_one_tray_it_is_the_share_that_was_up_at_each_look(new: list[int], never: int) -> None:
    if sum(new) + never == 0:
        return
    seen = [Between(day, day + 1, seeds) for day, seeds in enumerate(new)]
    steps = step_curve([*seen, Between(len(new), inf, never)])
    for day in range(1, len(new) + 1):
        assert up_by(steps, day) == pytest.approx(sum(new[:day]) / (sum(new) + never), abs=1e-6)


BATCH = st.tuples(st.integers(0, 8), st.integers(1, 5), st.integers(1, 9)).map(
    lambda one: Between(float(one[0]), float(one[0] + one[1]), one[2])
)


@given(st.lists(BATCH, min_size=1, max_size=7))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_no_seed_can_be_moved_to_make_overlapping_looks_likelier(seen: list[Between]) -> None:
    # Kuhn and Tucker's condition at the maximum (Gentleman & Geyer 1994).
    steps = step_curve(seen)
    total = sum(one.seeds for one in seen)
    held = [
        sum(step.rise for step in steps if one.after <= step.after and step.by <= one.by)
        for one in seen
    ]
    for step in steps:
        pull = sum(
            one.seeds / share
            for one, share in zip(seen, held, strict=True)
            if one.after <= step.after and step.by <= one.by
        )
        assert pull / total <= 1 + 1e-4


def test_without_a_seed_there_is_no_curve() -> None:
    with pytest.raises(ValueError, match="at least one seed"):
        step_curve([Between(0, 3, 0)])
