"""Plateau fits against published ones, and on data of which the truth is known."""

from math import inf, isfinite

import numpy as np
import pytest

from seedstart.growing.plateau import Model, fit_plateau, response, varieties_apart
from tables import rows

ROWS = list(rows("plateau_fit_example.csv"))
SETS = ("sas_segmented", "soil15", "freitas1966")


def data(name: str) -> tuple[list[float], list[float]]:
    points = [one for one in ROWS if one["dataset"] == name and one["row_type"] == "data"]
    return [float(one["x"]) for one in points], [float(one["y"]) for one in points]


def answer(name: str, model: str, quantity: str, column: str = "computed_value") -> str:
    (row,) = (
        one
        for one in ROWS
        if (one["dataset"], one["model"], one["quantity"]) == (name, model, quantity)
        and one["row_type"] == "answer"
    )
    return row[column]


@pytest.mark.parametrize("name", SETS)
def test_quadratic_joins_are_the_published_ones(name: str) -> None:
    fit = fit_plateau(*data(name), "quadratic plateau")
    assert fit.join == pytest.approx(float(answer(name, "quadratic_plateau", "join")), rel=1e-4)
    assert fit.plateau == pytest.approx(
        float(answer(name, "quadratic_plateau", "plateau")), rel=1e-4
    )


# SSE of the fits of R (soiltestcorr tutorials): local minima. Notes beside the published rows.
@pytest.mark.parametrize(
    ("name", "published_sse", "published_join"),
    [("soil15", 122.927, 6.2091), ("freitas1966", 2568.45, 75.0)],
)
def test_linear_fits_are_better_than_the_published_local_minima_and_cover_both(
    name: str, published_sse: float, published_join: float
) -> None:
    fit = fit_plateau(*data(name), "linear plateau")
    assert fit.sse < published_sse
    assert fit.join == pytest.approx(float(answer(name, "linear_plateau_global", "join")), rel=1e-5)
    assert fit.join is not None
    assert fit.low <= min(fit.join, published_join)
    assert fit.high >= max(fit.join, published_join)


@pytest.mark.parametrize(
    ("name", "model", "key"),
    [
        ("sas_segmented", "quadratic plateau", "quadratic_plateau"),
        ("soil15", "quadratic plateau", "quadratic_plateau"),
        ("soil15", "linear plateau", "linear_plateau_global"),
        ("freitas1966", "quadratic plateau", "quadratic_plateau"),
        ("freitas1966", "linear plateau", "linear_plateau_global"),
    ],
)
def test_profile_intervals_are_those_computed_elsewhere(name: str, model: Model, key: str) -> None:
    low, high = map(float, answer(name, key, "join_ci95_profile_F").split(".."))
    fit = fit_plateau(*data(name), model)
    assert (fit.low, fit.high) == pytest.approx((low, high), rel=2e-3)


def test_a_join_that_may_lie_beyond_what_was_tried_is_not_claimed() -> None:
    # The upper limit of the SAS data, 16.86, lies beyond the largest x, 16.
    found = response(*data("sas_segmented"))
    quadratic = found.of("quadratic plateau")
    assert quadratic.high > 16
    if found.fits[0].model == "quadratic plateau":
        assert found.plateau is None


def plants(
    join: float, seed: int, levels: tuple[float, ...] = (3, 4.5, 6, 7.5, 9, 11)
) -> tuple[list[float], list[float]]:
    random = np.random.default_rng(seed)
    x = [level for level in levels for _ in range(6)]
    y = [80 - 9 * min(one, join) + float(random.normal(0, 2)) for one in x]
    return x, y


def test_a_plateau_that_is_there_is_found_and_its_interval_holds_it() -> None:
    covered = 0
    for seed in range(40):
        fit = response(*plants(6.7, seed)).of("linear plateau")
        covered += fit.low <= 6.7 <= fit.high
    assert covered >= 35  # of 40, for 95 in 100: fewer would come once in 500


def test_plants_that_go_on_getting_shorter_show_no_plateau() -> None:
    found = response(*plants(50, 1))
    assert found.plateau is None
    assert found.why_none in {
        "a straight line does as well", "it may level off beyond the highest level tried",
        "only the highest level may lie where it is level",
    }  # fmt: skip


def test_plants_that_are_alike_everywhere_show_no_effect() -> None:
    random = np.random.default_rng(4)
    x = [level for level in (3.0, 5, 7, 9) for _ in range(6)]
    found = response(x, [50 + float(random.normal(0, 2)) for _ in x])
    assert found.plateau is None
    assert found.why_none == "no effect of the dose is shown"


def test_one_level_or_two_show_nothing() -> None:
    assert response([5.0] * 6, [40.0, 42, 39, 41, 40, 43]).why_none == "fewer than three levels"
    assert response([5.0, 5, 8, 8], [40.0, 42, 39, 41]).why_none == "fewer than three levels"
    with pytest.raises(ValueError, match="three different doses"):
        fit_plateau([1, 1, 2, 2], [1, 2, 3, 4], "linear plateau")


def test_varieties_that_join_apart_are_told_apart() -> None:
    alike = {"a": plants(6.5, 1), "b": plants(6.5, 2)}
    apart = {"a": plants(5, 1), "b": plants(9, 2)}
    for join_only in (True, False):
        same = varieties_apart(alike, "linear plateau", join_only=join_only)
        differ = varieties_apart(apart, "linear plateau", join_only=join_only)
        assert same is not None
        assert differ is not None
        assert same.p > 0.01
        assert differ.p < 0.001
    assert varieties_apart({"a": plants(5, 1)}, "linear plateau", join_only=True) is None


def test_equal_responses_everywhere_break_nothing() -> None:
    found = response([3.0, 4, 5, 6, 7, 8], [40.0] * 6)
    assert found.plateau is None
    assert all(isfinite(one.sse) for one in found.fits)
    assert found.of("linear plateau").high == inf
