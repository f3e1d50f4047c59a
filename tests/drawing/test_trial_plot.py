"""The picture of a trial on a screen: means, curve, plateau, where it may join."""

import pytest

from seedstart.drawing.lines import as_text
from seedstart.drawing.trial_plot import plot_lines
from seedstart.growing.plateau import response
from seedstart.growing.sturdiness import GroupMean

DOSES = [3.0, 3.0, 4.5, 4.5, 6.0, 6.0, 8.0, 8.0, 10.0, 10.0]
FALLS = [80.0, 78, 60, 62, 41, 43, 36, 37, 36, 35]


def plot(y: list[float], width: int = 77) -> list[str]:
    means = [
        (dose, GroupMean(2, (a + b) / 2, min(a, b) - 3, max(a, b) + 3, 1.0))
        for dose, a, b in zip(DOSES[::2], y[::2], y[1::2], strict=True)
    ]
    found = response(DOSES, y)
    return [as_text(line) for line in plot_lines(means, found, "height, mm", "mol", width, 12)]


def test_it_falls_to_its_plateau_and_says_so_with_every_mean_beside_its_bar() -> None:
    lines = plot(FALLS)
    picture = "\n".join(lines)
    assert [one for one in ("79", "61", "42", "36") if f"┃{one}" in picture] == [
        "79", "61", "42", "36",
    ]  # fmt: skip
    assert picture.index("╲") < picture.index("─┃")
    assert "╱" not in picture
    assert "░ the join: " in lines[-1]
    bottom = lines[-4]  # above the axis, its figures and the signs
    assert bottom.count("░") > 1
    # the curve goes down from left to right: each further row begins at least as far right
    begins = [line.index("╲") for line in lines[:-1] if "╲" in line]
    assert begins == sorted(begins)


def test_what_grows_with_the_dose_rises() -> None:
    assert "╱" in "\n".join(plot([100 - one for one in FALLS]))


def test_without_a_plateau_the_best_model_is_named() -> None:
    lines = plot([80.0, 79, 70, 71, 60, 61, 47, 46, 33, 34])
    assert lines[-1].endswith("╲ straight line")
    assert "░" not in "\n".join(lines)


@pytest.mark.parametrize("width", [30, 60, 77, 118])
def test_no_line_is_wider_than_it_may_be(width: int) -> None:
    assert max(map(len, plot(FALLS, width)[:-1])) <= width
