"""Sturdiness against 48 measured plants, group by group."""

from collections import defaultdict

import pytest

from seedstart.growing.sturdiness import (
    dickson_index,
    group_mean,
    sturdiness_quotient,
    ten_times_off,
    tenth_or_tenfold,
)
from tables import rows

# Kubota, Eguchi & Kroggel 2017, open raw data; group figures computed from the same plants
# elsewhere (sturdiness_vs_light.csv).
GROUPS = {"Control": 0, "UV1.5h": 1, "UV3h": 2, "UV6h": 3}
PLANTS = defaultdict(list)
for row in rows("sturdiness_plant_level.csv"):
    PLANTS[row["treatment"]].append(
        (float(row["stem_length_cm"]) * 10, float(row["stem_diameter_mm"]))
    )
MEANS = [row for row in rows("sturdiness_vs_light.csv") if row["value_kind"] == "absolute"]


@pytest.mark.parametrize("number", range(4))
def test_groups_are_as_sturdy_as_their_plants_make_them(number: int) -> None:
    plants, printed = list(PLANTS.values())[number], MEANS[number]
    heights = group_mean([height for height, _ in plants])
    stems = group_mean([stem for _, stem in plants])
    quotients = group_mean([sturdiness_quotient(*plant) for plant in plants])
    assert heights.number == int(printed["n"])
    assert heights.mean / 10 == pytest.approx(float(printed["height_cm"]), abs=5e-4)
    assert heights.spread / 10 == pytest.approx(float(printed["height_sd"]), abs=6e-4)
    assert stems.mean == pytest.approx(float(printed["stem_diameter_mm"]), abs=5e-5)
    assert quotients.mean == pytest.approx(
        float(printed["sturdiness_quotient_cm_per_mm"]), abs=5e-5
    )
    assert quotients.low < quotients.mean < quotients.high


def test_dicksons_index_is_as_worked_out_by_hand() -> None:
    # H 15 cm, D 3 mm, shoot 0.9 g, root 0.3 g: 1.2 / (5 + 3)
    assert dickson_index(150, 3, 0.9, 0.3) == pytest.approx(0.15)


def test_a_plant_without_a_stem_is_none() -> None:
    with pytest.raises(ValueError, match="above 0 mm; got 40 and 0"):
        sturdiness_quotient(40, 0)
    with pytest.raises(ValueError, match="at least one value"):
        group_mean([])
    assert group_mean([3.0]) == (1, 3, 3, 3, 0)


def test_what_is_ten_times_off_its_tray_is_found() -> None:
    assert ten_times_off([41, 38, 43, 40, 390]) == [None, None, None, None, 39.0]
    assert ten_times_off([4.1, 38, 43, 40]) == [41.0, None, None, None]
    assert ten_times_off([41]) == [None]
    assert tenth_or_tenfold(0, 5) is None
