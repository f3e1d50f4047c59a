"""Light over a shelf against cases integrated elsewhere, and against scipy's quadrature."""

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad

from seedstart.growing.light.over_shelf import (
    Emitter,
    Field,
    LampKind,
    Patch,
    field_over,
    grid_over,
    hung,
    largest_lit,
    mean_over,
    ppfd_umol,
)
from tables import rows

CASES = {row["case_id"]: row for row in rows("strip_light_cases.csv")}


def lamps_of(row: dict[str, str]) -> list[Emitter]:
    number, spacing = int(row["n_strips"]), float(row["strip_spacing_m"])
    kind: LampKind = "tube" if row["model"] == "tube" else "strip"
    return [
        Emitter(
            kind,
            float(row["ppf_each_umol_s"]),
            float(row["strip_length_m"]),
            0.0,
            (one - (number - 1) / 2) * spacing,
            float(row["height_m"]),
        )
        for one in range(number)
    ]


@pytest.mark.parametrize("case", [one for one in CASES if not one.startswith("A")])
def test_a_point_is_as_bright_as_direct_integration_has_it(case: str) -> None:
    row = CASES[case]
    found = ppfd_umol(lamps_of(row), float(row["x_along_m"]), float(row["y_across_m"]))
    assert found == pytest.approx(float(row["ppfd_umol_m2_s"]), abs=6e-5)


@pytest.mark.parametrize("case", [one for one in CASES if one.startswith("A")])
def test_a_shelf_is_as_bright_and_even_as_direct_integration_has_it(case: str) -> None:
    row = CASES[case]
    along, across = float(row["area_length_m"]), float(row["area_width_m"])
    found = field_over(lamps_of(row), Patch(-along / 2, -across / 2, along, across))
    assert found.mean == pytest.approx(float(row["ppfd_umol_m2_s"]), rel=3e-6)
    assert found.least == pytest.approx(float(row["ppfd_min"]), rel=1e-4)
    assert found.most == pytest.approx(float(row["ppfd_max"]), rel=3e-3)
    assert found.evenness == pytest.approx(float(row["min_over_avg"]), abs=2e-3)
    assert found.landing == pytest.approx(float(row["flux_fraction_on_area"]), abs=6e-5)


@pytest.mark.parametrize("kind", ["strip", "tube", "panel"])
@pytest.mark.parametrize(
    ("x", "y", "height"), [(0.1, 0.0, 0.25), (-0.5, 0.3, 0.1), (0.2, -0.1, 0.6), (0.9, 0.05, 0.15)]
)
def test_a_mean_is_what_quadrature_of_the_points_finds(
    kind: LampKind, x: float, y: float, height: float
) -> None:
    lamp = Emitter(kind, 100, 0.4, x, y, height, 0.3)
    mean = dblquad(lambda b, a: ppfd_umol([lamp], a, b), -0.3, 0.3, -0.2, 0.2)[0] / 0.24
    assert mean_over([lamp], Patch(-0.3, -0.2, 0.6, 0.4)) == pytest.approx(
        mean, rel=1e-4 if kind == "tube" else 1e-6
    )


def test_the_darkest_and_brightest_spots_are_near_those_of_a_grid_much_finer() -> None:
    for height, number, kind in ((0.1, 3, "strip"), (0.2, 5, "tube"), (0.4, 8, "panel")):
        shelf = Patch(0, 0, 2.4, 1.2)
        lamps = hung(Emitter(kind, 36, 0.6, 0, 0, height, 0.2), number, shelf)  # type: ignore[arg-type]
        found = field_over(lamps, shelf)
        fine = [
            ppfd_umol(lamps, x / 100, y / 100) for x in range(0, 241, 2) for y in range(0, 121, 2)
        ]
        assert min(fine) * 0.98 < found.least < min(fine) * 1.02
        assert max(fine) * 0.98 < found.most < max(fine) * 1.02


def test_a_panel_is_many_points_that_shine_by_the_cosine_law() -> None:
    panel = Emitter("panel", 100, 0.4, 0.0, 0.0, 0.25, 0.3)

    def of_a_point(v: float, u: float) -> float:  # E = Q/A cos²/(π r²), r² = d² + h²
        squared = (0.1 - u) ** 2 + (0.05 - v) ** 2 + 0.25**2
        return 100 / 0.12 * 0.25**2 / (pi * squared**2)

    integral = dblquad(of_a_point, -0.2, 0.2, -0.15, 0.15)[0]
    assert ppfd_umol([panel], 0.1, 0.05) == pytest.approx(integral, rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(
    st.sampled_from(["strip", "bar", "tube", "panel"]),
    st.floats(0.1, 2.0),
    st.floats(0.05, 0.6),
    st.floats(0.1, 0.5),
)
def test_no_photon_is_lost_or_made(
    kind: LampKind, length: float, height: float, width: float
) -> None:
    lamp = Emitter(kind, 50, length, 0, 0, height, width)
    plane = Patch(-100, -100, 200, 200)
    # Of a bare tube half of the light goes up, and of the rest 1 in 200 lands beyond 100 m.
    share, near = (0.5, 8e-3) if kind == "tube" else (1, 1e-4)
    assert field_over([lamp], plane).landing == pytest.approx(share, rel=near)


def test_close_to_a_shelf_half_the_height_is_twice_the_light_not_four_times() -> None:
    near, nearer = (ppfd_umol([Emitter("strip", 30, 1.2, 0, 0, h)], 0, 0) for h in (0.04, 0.02))
    assert nearer / near == pytest.approx(2, rel=0.01)


# Four 1.2 m strips of 36 µmol/s over 2.4 × 0.7 m, 20 cm high: summed strip by strip elsewhere.
def test_strips_hang_end_to_end_where_the_shelf_is_twice_as_long() -> None:
    shelf = Patch(0, 0, 2.4, 0.7)
    lamps = hung(Emitter("strip", 36, 1.2, 0, 0, 0.2), 4, shelf)
    assert [(round(one.x_m, 3), round(one.y_m, 3)) for one in lamps] == [
        (0.6, 0.175), (1.8, 0.175), (0.6, 0.525), (1.8, 0.525),
    ]  # fmt: skip
    cells = grid_over(lamps, shelf, 12, 5)
    assert [[round(one) for one in line] for line in cells][:2] == [
        [42, 53, 56, 56, 57, 57, 57, 57, 56, 56, 53, 42],
        [63, 79, 82, 83, 83, 83, 83, 83, 83, 82, 79, 63],
    ]
    mean = sum(map(sum, cells)) / 60
    assert (round(mean), round(mean * 2.4 * 0.7)) == (65, 109)


def test_lamps_side_by_side_hang_as_far_apart_as_is_said() -> None:
    like = Emitter("strip", 36, 1.2, 0, 0, 0.2)
    lamps = hung(like, 4, Patch(0, 0, 2.4, 0.7), lines=4, spacing_m=0.1)
    assert [round(one.y_m, 3) for one in lamps] == [0.2, 0.3, 0.4, 0.5]
    assert {one.x_m for one in lamps} == {1.2}


def test_a_narrower_patch_is_lit_well_enough_or_there_is_none() -> None:
    shelf = Patch(0, 0, 2.4, 0.7)
    lamps = hung(Emitter("strip", 36, 1.2, 0, 0, 0.2), 4, shelf, lines=4)

    def enough(of: float) -> Patch | None:
        return largest_lit(lamps, shelf, lambda patch: field_over(lamps, patch).least >= of)

    patch = enough(60)
    assert patch is not None
    assert patch.length_m == pytest.approx(1.2)
    assert field_over(lamps, patch).least == pytest.approx(60, abs=3)
    assert enough(500) is None


def test_light_lands_evenly_or_not() -> None:
    assert Field(100, 45, 130, 50, 120).evenness == 0.45
    assert Field(0, 0, 0, 0, 0).evenness == 0
