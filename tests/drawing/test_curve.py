"""Curves: which dot lies in which cell, and that nothing needs colour to be read."""

from datetime import date
from itertools import pairwise
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.drawing.curve import LIMIT, POINT, Axis, Curves, Limit, Tick, curve_lines
from seedstart.drawing.lines import as_text, cells_wide

# One figure on the left, so that a canvas of 40 by 10 cells needs 42 by 13.
ACROSS, UP = Axis("days", 0, 79), Axis("seedlings", 0, 9)
WIDTH, HEIGHT = 42, 13
COLUMNS, ROWS = 40, 10


def canvas(curves: Curves, width: int = WIDTH, height: int = HEIGHT) -> list[str]:
    """The cells between the axes."""
    lines = curve_lines(curves, width, height)
    gutter = as_text(lines[-2]).index("└") + 1
    return ["".join(span.text for span in line)[gutter:] for line in lines[1:-2]]


def drawn_dots(cells: list[str]) -> set[tuple[int, int]]:
    """Dots by column and row, from the top left, as the Unicode standard numbers them.

    Unicode 15, block Braille Patterns: dots 1, 2, 3 and 7 run down the left (bits 0, 1, 2, 6),
    dots 4, 5, 6 and 8 down the right (bits 3, 4, 5, 7).
    """
    bits = {0: (0, 0), 1: (0, 1), 2: (0, 2), 6: (0, 3), 3: (1, 0), 4: (1, 1), 5: (1, 2), 7: (1, 3)}
    return {
        (2 * column + x, 4 * row + y)
        for row, text in enumerate(cells)
        for column, sign in enumerate(text)
        if 0x2800 <= ord(sign) < 0x2900
        for bit, (x, y) in bits.items()
        if (ord(sign) - 0x2800) >> bit & 1
    }


@pytest.mark.parametrize(
    ("x", "y", "column", "row", "sign"),
    [
        (0, 0, 0, 9, "⡀"),
        (0, 9, 0, 0, "⠁"),
        (79, 0, 39, 9, "⢀"),
        (79, 9, 39, 0, "⠈"),
    ],
)
def test_the_ends_of_the_axes_are_the_corners(
    x: float, y: float, column: int, row: int, sign: str
) -> None:
    assert canvas(Curves(ACROSS, UP, curve=[(x, y)]))[row][column] == sign
    assert canvas(Curves(ACROSS, UP, points=[(x, y)]))[row][column] == POINT


def test_points_stand_in_their_cells_and_over_the_curve() -> None:
    cells = canvas(Curves(ACROSS, UP, curve=[(0, 4.5), (79, 4.5)], points=[(20, 9), (40, 4.5)]))
    found = [(text.index(POINT), row) for row, text in enumerate(cells) if POINT in text]
    assert found == [(10, 0), (20, 4)]  # two places across and a ninth of ten rows up a cell


def test_a_straight_line_has_a_dot_at_every_place_across() -> None:
    found = drawn_dots(canvas(Curves(ACROSS, UP, curve=[(0, 0), (79, 9)])))
    assert found == {(x, 39 - round(x * 39 / 79)) for x in range(80)}


def test_a_jump_is_drawn_without_a_hole() -> None:
    found = drawn_dots(canvas(Curves(ACROSS, UP, curve=[(0, 0), (39, 0), (40, 9), (79, 9)])))
    assert {y for x, y in found if x in {39, 40}} == set(range(40))
    assert {y for x, y in found if x < 39} == {39}
    assert {y for x, y in found if x > 40} == {0}


@pytest.mark.parametrize("missing", [(30, nan), (30, inf), (nan, 5)])
def test_a_missing_reading_leaves_a_gap(missing: tuple[float, float]) -> None:
    curve = [(0, 5), (20, 5), missing, (60, 5), (79, 5)]
    found = drawn_dots(canvas(Curves(ACROSS, UP, curve=curve)))
    assert {x for x, _ in found} == {*range(21), *range(60, 80)}


def test_many_readings_in_one_place_show_their_whole_range() -> None:
    # ten readings a place; one of them is a cold minute
    curve = [(n / 10, 6.0) for n in range(790)]
    curve[405] = (40.5, 0.0)
    found = drawn_dots(canvas(Curves(ACROSS, UP, curve=curve)))
    assert {y for x, y in found if x in {40, 41}} >= set(range(39 - 26, 40))


def test_a_band_is_every_second_dot_between_its_ends() -> None:
    found = drawn_dots(canvas(Curves(ACROSS, UP, band=[(0, 0, 9), (79, 0, 9)])))
    assert len(found) == 80 * 40 / 2
    assert not any((x + 1, y) in found or (x, y + 1) in found for x, y in found)
    part = drawn_dots(canvas(Curves(ACROSS, UP, band=[(10, 3, 6), (30, 3, 6)])))
    assert {x for x, _ in part} == set(range(10, 31))
    assert (min(y for _, y in part), max(y for _, y in part)) == (13, 26)


def test_the_curve_is_seen_within_its_band() -> None:
    curves = Curves(ACROSS, UP, band=[(0, 0, 9), (79, 0, 9)], curve=[(0, 4.5), (79, 4.5)])
    cells = canvas(curves)
    lines = [row for row, text in enumerate(cells) if len(drawn_dots([text])) == 80]
    in_line = [row for row in lines if len({y for _, y in drawn_dots([cells[row]])}) == 1]
    assert in_line == [4]  # that row holds the line alone, all others the band


def test_a_limit_runs_across_with_its_name_where_it_hides_least() -> None:
    curve = [(40, 8), (79, 8)]
    cells = canvas(
        Curves(ACROSS, UP, curve=curve, limits=[Limit(8, "highest"), Limit(0, "lowest")])
    )
    assert cells[9].endswith(" lowest ")
    assert cells[9][:-8] == LIMIT * 32
    with_curve = next(text for text in cells if "highest" in text)
    assert with_curve.startswith(" highest ")  # the curve lies at the right
    assert {x for x, _ in drawn_dots([with_curve])} == set(range(40, 80))


def test_limits_of_one_row_share_it() -> None:
    limits = [Limit(5, "pepper"), Limit(5.1, "basil"), Limit(12, "out of sight")]
    text = "\n".join(canvas(Curves(ACROSS, UP, limits=limits)))
    assert " pepper, basil " in text
    assert "out of sight" not in text


def test_what_lies_outside_the_axes_is_not_drawn_and_harms_nothing() -> None:
    points = [(-1, 5), (80, 5), (5, -1), (5, 10), (1e308, -1e308), (nan, 1), (1, inf)]
    empty = canvas(Curves(ACROSS, UP))
    assert canvas(Curves(ACROSS, UP, points=points)) == empty
    assert canvas(Curves(ACROSS, UP, curve=[(0, 20), (79, 20)])) == empty
    assert canvas(Curves(ACROSS, UP, curve=[(0, -1e308), (79, -1e308)])) == empty
    through = drawn_dots(canvas(Curves(ACROSS, UP, curve=[(-79, 0), (158, 9)])))
    assert {x for x, _ in through} == set(range(80))  # both ends lie outside, the line inside


def test_the_axes_carry_names_units_and_round_figures() -> None:
    axis = Axis("days since sowing", 0, 21, whole=True)
    lines = [as_text(line) for line in curve_lines(Curves(axis, Axis("up, %", 0, 100)), 60, 15)]
    assert lines[0].startswith("↑ up, %")
    assert lines[0].endswith("days since sowing →")
    assert [edge for text in lines if "│" in text and (edge := text.split("│")[0].strip())] == [
        "100", "80", "60", "40", "20", "0",
    ]  # fmt: skip
    assert lines[-1].split() == [str(day) for day in range(0, 22, 2)]


def test_a_figure_stands_under_its_tick() -> None:
    lines = [as_text(line) for line in curve_lines(Curves(ACROSS, UP), WIDTH, HEIGHT)]
    ticks = [column for column, sign in enumerate(lines[-2]) if sign == "'"]
    assert len(ticks) == len(lines[-1].split()) > 3
    assert all(lines[-1][column].isdigit() for column in ticks)


def test_dates_can_be_the_ticks_and_those_without_room_are_left_out() -> None:
    days = [date(2027, 3, day) for day in range(1, 8)]
    ticks = tuple(Tick(24 * n, f"{day.day} Mar") for n, day in enumerate(days))
    across = Axis("March", 0, 168, ticks=ticks)
    wide = as_text(curve_lines(Curves(across, UP), 80, 10)[-1])
    assert wide.split() == [part for day in days for part in (str(day.day), "Mar")]
    narrow = as_text(curve_lines(Curves(across, UP), 30, 10)[-1])
    assert narrow.split("Mar") == ["1 ", "   3 ", "  5 ", "   7 ", ""]  # 4 columns a day, 6 a date
    assert cells_wide(narrow) <= 30


@pytest.mark.parametrize(
    ("values", "whole", "ends"),
    [
        ([0.0, 37.0], True, (0, 40)),
        ([17.2, 24.9], False, (16, 26)),
        ([0.0, 1.0], True, (0, 1)),
        ([5.0], False, (5, 6)),
        ([], False, (0, 1)),
        ([nan, 3.0, inf, 4.0], False, (3, 4)),
        ([-3.0, 12.0], False, (-5, 15)),
    ],
)
def test_an_axis_over_values_ends_at_round_numbers(
    values: list[float], *, whole: bool, ends: tuple[float, float]
) -> None:
    axis = Axis.over("°C", values, whole=whole)
    assert (axis.low, axis.high) == pytest.approx(ends)


@settings(derandomize=True, deadline=None)
@given(
    low=st.floats(-50, 50),
    length=st.floats(0.01, 5_000),
    most=st.integers(2, 30),
    whole=st.booleans(),
)
def test_ticks_are_even_inside_the_axis_and_no_more_than_asked(
    low: float, length: float, most: int, *, whole: bool
) -> None:
    ticks = Axis("", low, low + length, whole).round_ticks(most)
    assert len(ticks) <= most
    assert all(low - 1e-6 <= tick.at <= low + length + 1e-6 for tick in ticks)
    assert len({tick.text for tick in ticks}) == len(ticks)
    steps = {round(right.at - left.at, 6) for left, right in pairwise(ticks)}
    assert len(steps) <= 1
    if whole:
        assert all("." not in tick.text for tick in ticks)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    width=st.integers(1, 160),
    height=st.integers(1, 50),
    ys=st.lists(st.floats(-10, 30), min_size=0, max_size=30),
    label=st.sampled_from(["lowest", "胡蘿蔔胡蘿蔔胡蘿蔔", "x" * 300]),
)
def test_a_drawing_fills_its_lines_and_no_more(
    width: int, height: int, ys: list[float], label: str
) -> None:
    curve = [(float(x), y) for x, y in enumerate(ys)]
    band = [(x, y - 2, y + 2) for x, y in curve]
    axis = Axis.over("medium, °C", ys)
    curves = Curves(Axis("hours", 0, 30), axis, curve, band, curve, [Limit(axis.low, label)])
    lines = curve_lines(curves, width, height)
    assert len(lines) == height
    assert all(sum(cells_wide(span.text) for span in line) <= width for line in lines)


def test_a_window_too_small_says_so() -> None:
    assert as_text(curve_lines(Curves(ACROSS, UP), 40, 4)[0]) == "too small to draw"
