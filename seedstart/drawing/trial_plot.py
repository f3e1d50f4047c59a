"""A trial's picture on a screen: the means of its levels, the fitted curve, where it may join."""

from collections.abc import Sequence
from math import floor, isfinite
from typing import Final

from seedstart.drawing.curve import Axis, axis_below, round_step
from seedstart.drawing.lines import Line, Span, fitted, joined_spans
from seedstart.growing.plateau import Response
from seedstart.growing.sturdiness import GroupMean

MEAN: Final = "┃"
_FALLS, _RISES, LEVEL, BAND = "╲", "╱", "─", "░"
_GUTTER: Final = 5

Mean = tuple[float, GroupMean]  # a dose, and the mean of the plants that got it


def plot_lines(
    means: Sequence[Mean],
    fits: Response,
    up: str,
    across: str,
    width: int,
    height: int,
    digits: int = 0,
) -> list[Line]:
    """The picture in so many lines, and one more that says what its signs mean.

    Args:
        means: Level by level.
        fits: The response to the dose.
        up: What is measured, with its unit.
        across: What the doses are.
        width: Columns.
        height: Of the picture, with the axis and its figures.
        digits: Of the means, behind the point.
    """
    rows, columns = max(height - 3, 3), width - _GUTTER - 1
    x = Axis.over(across, [dose for dose, _ in means])
    y = _upward(up, [end for _, mean in means for end in (mean.low, mean.high)])
    cells = [[Span(" ")] * columns for _ in range(rows)]
    _put_curve(cells, fits, x, y, [dose for dose, _ in means])
    _put_band(cells, fits, x)
    for dose, mean in means:
        _put_mean(cells, mean, x.place(dose, columns), y, digits)
    names = f"{up:<{max(width - len(across) - 2, len(up) + 1)}}{across} →"
    lines: list[Line] = [(Span(fitted(names, width).rstrip(), "quiet"),)]
    ticks = {rows - 1 - y.place(one.at, rows): one.text for one in y.round_ticks(max(rows, 2))}
    for row, line in enumerate(cells):
        edge = f"{ticks.get(row, ''):>{_GUTTER - 1}} │"
        lines.append(joined_spans([Span(edge, "quiet"), *line]))
    return [*lines, *axis_below(x, _GUTTER, columns), (Span(_signs(fits, digits), "quiet"),)]


def _upward(label: str, ends: Sequence[float]) -> Axis:
    """From the round number below to the one above, with few rows to spare."""
    low, high = min(ends), max(ends)
    step = round_step(max(high - low, 1e-6) / 8)
    return Axis(label, floor(low / step) * step, (floor(high / step) + 1) * step)


def _put_curve(
    cells: list[list[Span]], fits: Response, x: Axis, y: Axis, doses: Sequence[float]
) -> None:
    """The best curve over the doses that were tried."""
    fit, rows, columns = fits.plateau or fits.fits[0], len(cells), len(cells[0])
    slope = _FALLS if fit.slope < 0 else _RISES
    for column in range(x.place(min(doses), columns), x.place(max(doses), columns) + 1):
        dose = x.low + (x.high - x.low) * column / (columns - 1)
        level = fit.slope == 0 or (fit.join is not None and dose >= fit.join)
        row = rows - 1 - y.place(fit.at(dose), rows)
        if 0 <= row < rows:
            cells[row][column] = Span(LEVEL if level else slope, "curve")


def _put_band(cells: list[list[Span]], fits: Response, x: Axis) -> None:
    fit, columns = fits.plateau, len(cells[0])
    if fit is None or not (isfinite(fit.low) and isfinite(fit.high)):
        return
    for column in range(x.place(fit.low, columns), x.place(fit.high, columns) + 1):
        if 0 <= column < columns and cells[-1][column].text == " ":
            cells[-1][column] = Span(BAND, "band")


def _put_mean(cells: list[list[Span]], mean: GroupMean, column: int, y: Axis, digits: int) -> None:
    """The interval as a bar, the mean beside it."""
    rows, columns = len(cells), len(cells[0])
    column = min(max(column, 0), columns - 1)
    top, bottom = (rows - 1 - y.place(end, rows) for end in (mean.high, mean.low))
    for row in range(max(top, 0), min(bottom, rows - 1) + 1):
        cells[row][column] = Span(MEAN, "point")
    row = min(max(rows - 1 - y.place(mean.mean, rows), 0), rows - 1)
    text = f"{mean.mean:.{digits}f}"
    begin = column + 1 if column + len(text) < columns else column - len(text)
    for place, sign in enumerate(text, begin):
        cells[row][place] = Span(sign, "point")


def _signs(fits: Response, digits: int) -> str:
    said = [f"{MEAN} mean and its interval"]
    fit = fits.plateau
    if fit is None or fit.plateau is None:
        best = fits.fits[0]
        sign = LEVEL if best.slope == 0 else _FALLS if best.slope < 0 else _RISES
        return "   ".join([*said, f"{sign} {best.model}"])
    slope = _FALLS if fit.slope < 0 else _RISES
    said += [f"{slope} fitted, {LEVEL} level at {fit.plateau:.{digits}f}"]
    if isfinite(fit.low) and isfinite(fit.high):
        said += [f"{BAND} the join: {fit.low:.1f} to {fit.high:.1f}"]
    return "   ".join(said)
