"""Curves on a canvas of cells: a dense line, a dotted band, points, limits, axes.

Each cell holds two by four dots of the braille block, so that 80 columns draw 160 places. The
line, the band and the points differ by their dots, never by colour alone.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, floor, isfinite, log10
from typing import Final, NamedTuple

from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, joined_spans, plain

_FAR = 1e3  # in lengths of the axis; what lies further out is as far out of sight


class Tick(NamedTuple):
    """A place on an axis and what is written there."""

    at: float
    text: str


class Axis(NamedTuple):
    """One axis of a drawing.

    Attributes:
        label: What it counts, with its unit: `days since sowing`, `medium, °C`.
        low: Where it begins.
        high: Where it ends, above `low`.
        whole: Whether it counts what has no halves: seedlings, days.
        ticks: Ticks to use instead of round numbers, as dates are; those that find no room are
            left out.
    """

    label: str
    low: float
    high: float
    whole: bool = False
    ticks: tuple[Tick, ...] = ()

    @classmethod
    def over(cls, label: str, values: Iterable[float], *, whole: bool = False) -> "Axis":
        """The axis that holds all these values, its ends at round numbers."""
        finite = [value for value in values if isfinite(value)]
        low, high = (min(finite), max(finite)) if finite else (0.0, 1.0)
        if high == low:
            high = low + 1
        step = round_step((high - low) / 4, whole=whole)
        return cls(label, floor(low / step) * step, ceil(high / step) * step, whole)

    def place(self, value: float, count: int) -> int:
        """Which of `count` places a value falls on, from 0; outside them where it lies outside."""
        share = (value - self.low) / (self.high - self.low)
        return round(min(max(share, -_FAR), _FAR) * (count - 1))

    def round_ticks(self, most: int) -> tuple[Tick, ...]:
        """Ticks at round numbers, at most so many; `most` is two or more."""
        step = round_step((self.high - self.low) / most, whole=self.whole)
        while len(numbers := self._multiples(step)) > most:
            step = round_step(1.5 * step, whole=self.whole)
        decimals = max(0, -floor(log10(step)))
        return tuple(Tick(number * step, f"{number * step:.{decimals}f}") for number in numbers)

    def _multiples(self, step: float) -> range:
        """Which multiples of a step lie on the axis; its ends count, whatever was rounded."""
        return range(ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9) + 1)


def round_step(least: float, *, whole: bool = False) -> float:
    """The smallest of 1, 2, 5, 10, … (or their tenths) that is no smaller than `least`."""
    power = 10.0 ** floor(log10(least))
    step = next(size * power for size in (1, 2, 5, 10) if size * power >= least * (1 - 1e-9))
    return max(step, 1.0) if whole else step


POINT: Final = "●"
LIMIT: Final = "┄"
# Bits of the dots of a braille sign (Unicode 15, block U+2800): by column, then from the top.
_DOTS: Final = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
_AROUND = 3  # lines that the axes take: their names above, the axis and its figures below
_LEAST_COLUMNS, _LEAST_ROWS = 12, 3

XY = tuple[float, float]
_Run = tuple[int, int]


class Limit(NamedTuple):
    """A level to compare with, drawn all the way across."""

    at: float
    label: str


class Curves(NamedTuple):
    """What is drawn. What lies outside the axes is not.

    Attributes:
        across: The axis from left to right.
        up: The axis upwards.
        curve: Points of a line, in order of the first; one that is not finite makes a gap.
        band: Points (across, low, high) of an area, likewise.
        points: Single points, as counts are.
        limits: Levels to compare with.
    """

    across: Axis
    up: Axis
    curve: Sequence[XY] = ()
    band: Sequence[tuple[float, float, float]] = ()
    points: Sequence[XY] = ()
    limits: Sequence[Limit] = ()


def curve_lines(curves: Curves, width: int = 80, height: int = 20) -> list[Line]:
    """The drawing in exactly `height` lines of at most `width` columns.

    Where that is too small for a drawing (some 20 by 6), its lines say so.
    """
    rows = height - _AROUND
    upward = _upward(curves.up, rows) if rows >= _LEAST_ROWS else {}
    gutter = max((len(tick.text) for tick in upward.values()), default=0)
    columns = width - gutter - 1
    if rows < _LEAST_ROWS or columns < _LEAST_COLUMNS:
        says = [plain(fitted("too small to draw", width).rstrip())]
        return [*says, *(plain("") for _ in range(height - 1))][:height]
    canvas = _canvas(curves, columns, rows)
    lines = [_names(curves, width)]
    for row, cells in enumerate(canvas):
        tick = upward.get(row)
        edge = f"{tick.text if tick else '':>{gutter}}│"
        lines.append(joined_spans([Span(edge, "quiet"), *cells]))
    return [*lines, *axis_below(curves.across, gutter, columns)]


def _names(curves: Curves, width: int) -> Line:
    """What the axes count: upwards on the left, across on the right."""
    up, across = f"↑ {curves.up.label}", f"{curves.across.label} →"
    room = width - cells_wide(across)
    if room < cells_wide(up) + 2:
        return (Span(fitted(f"{up}  {across}", width).rstrip(), "quiet"),)
    return (Span(fitted(up, room) + across, "quiet"),)


def _row(axis: Axis, value: float, rows: int) -> int:
    """The row of cells, from the top, that holds the dot of a value."""
    return (4 * rows - 1 - axis.place(value, 4 * rows)) // 4


def _column(axis: Axis, value: float, columns: int) -> int:
    return axis.place(value, 2 * columns) // 2


def _upward(axis: Axis, rows: int) -> dict[int, Tick]:
    """Ticks of the upward axis by row."""
    ticks = axis.ticks or axis.round_ticks(max(rows // 2, 2))
    return {_row(axis, tick.at, rows): tick for tick in ticks}


def axis_below(axis: Axis, gutter: int, columns: int) -> list[Line]:
    """The axis across with its ticks, and their figures below; the gutter lies left of it."""
    line, figures, free = ["─"] * columns, "", 0
    for tick in axis.ticks or _as_many_as_fit(axis, columns):
        column = _column(axis, tick.at, columns)
        if not 0 <= column < columns:
            continue
        line[column] = "'"
        wide = cells_wide(tick.text)
        # under its tick, but never over the right edge
        start = min(gutter + 1 + column - wide // 2, gutter + 1 + columns - wide)
        if start >= free:
            figures += " " * (start - max(free - 1, 0)) + tick.text
            free = start + wide + 1
    return [(Span(f"{'':>{gutter}}└{''.join(line)}", "quiet"),), (Span(figures, "quiet"),)]


def _as_many_as_fit(axis: Axis, columns: int) -> tuple[Tick, ...]:
    """Round ticks whose figures stay three columns or more apart."""
    widest = max(len(f"{end:.0f}") for end in (axis.low, axis.high)) + (not axis.whole)
    return axis.round_ticks(max(columns // (widest + 3), 2))


def _canvas(curves: Curves, columns: int, rows: int) -> list[list[Span]]:
    """The cells from top to bottom; what is put later hides what was put before."""
    cells = [[Span(" ")] * columns for _ in range(rows)]
    _put_dots(cells, _band_dots(curves, columns, rows), "band")
    labels: dict[int, list[str]] = {}
    for limit in curves.limits:
        row = _row(curves.up, limit.at, rows)
        if 0 <= row < rows:
            cells[row] = [Span(LIMIT, "limit")] * columns
            labels.setdefault(row, []).append(limit.label)
    _put_dots(cells, _curve_dots(curves, columns, rows), "curve")
    for x, y in curves.points:
        if isfinite(x) and isfinite(y):
            row, column = _row(curves.up, y, rows), _column(curves.across, x, columns)
            if 0 <= row < rows and 0 <= column < columns:
                cells[row][column] = Span(POINT, "point")
    for row, said in labels.items():
        _put_label(cells[row], ", ".join(said))
    return cells


def _put_label(cells: list[Span], label: str) -> None:
    """Write a limit's name where it hides least: at the right end, the left, or between."""
    text = f" {fitted(label, min(cells_wide(label), len(cells) - 2))} "
    wide = cells_wide(text)
    taken = [cell.role in {"curve", "point"} for cell in cells]
    last = len(cells) - wide
    start = min([last, 0, *range(last)], key=lambda at: sum(taken[at : at + wide]))
    cells[start : start + wide] = [Span(text, "limit"), *[Span("", "limit")] * (wide - 1)]


def _put_dots(cells: list[list[Span]], dots: Mapping[tuple[int, int], int], role: Role) -> None:
    for (row, column), bits in dots.items():
        cells[row][column] = Span(chr(0x2800 + bits), role)


def _band_dots(curves: Curves, columns: int, rows: int) -> dict[tuple[int, int], int]:
    """Every second dot between low and high."""
    dots: dict[tuple[int, int], int] = {}
    lows = _across([(x, low) for x, low, _ in curves.band], curves, columns, rows)
    highs = _across([(x, high) for x, _, high in curves.band], curves, columns, rows)
    for across, (low, high) in enumerate(zip(lows, highs, strict=True)):
        if low is not None and high is not None:
            top, bottom = max(high[0], 0), min(low[1], 4 * rows - 1)
            _put(dots, across, range(top + (top + across) % 2, bottom + 1, 2))
    return dots


def _curve_dots(curves: Curves, columns: int, rows: int) -> dict[tuple[int, int], int]:
    """A line without holes: where it is steep, dots above each other join its places."""
    dots: dict[tuple[int, int], int] = {}
    runs = _across(curves.curve, curves, columns, rows)
    for across, run in enumerate(runs):
        if run is None:
            continue
        top, bottom = run
        for near in (runs[across - 1] if across else None, *runs[across + 1 : across + 2]):
            if near is not None:  # half of the way to each neighbour
                top = min(top, (top + near[1]) // 2 + 1)
                bottom = max(bottom, (bottom + near[0]) // 2)
        _put(dots, across, range(max(top, 0), min(bottom, 4 * rows - 1) + 1))
    return dots


def _put(dots: dict[tuple[int, int], int], across: int, downs: Iterable[int]) -> None:
    bits = _DOTS[across % 2]
    for down in downs:
        at = (down // 4, across // 2)
        dots[at] = dots.get(at, 0) | bits[down % 4]


def _across(points: Iterable[XY], curves: Curves, columns: int, rows: int) -> list[_Run | None]:
    """Highest and lowest dot, counted from the top, of a line at each place across.

    A place that holds several points shows all of their range; one that holds none lies on the
    straight line between its neighbours.
    """
    axis, up, places = curves.across, curves.up, 2 * columns
    runs: list[_Run | None] = [None] * places
    before: tuple[int, float, float] | None = None
    for x, y in points:
        if not (isfinite(x) and isfinite(y)):
            before = None
            continue
        here = axis.place(x, places)
        if before is not None:
            there, x0, y0 = before
            for place in range(max(there + 1, 0), min(here, places)):
                at = axis.low + place * (axis.high - axis.low) / (places - 1)
                down = 4 * rows - 1 - up.place(y0 + (y - y0) * (at - x0) / (x - x0), 4 * rows)
                runs[place] = (down, down)
        if 0 <= here < places:
            down = 4 * rows - 1 - up.place(y, 4 * rows)
            known = runs[here]
            runs[here] = (min(known[0], down), max(known[1], down)) if known else (down, down)
        before = (here, x, y)
    return runs
