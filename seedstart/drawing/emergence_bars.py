"""How a sowing comes up, as bars of its counts with what is likely to come.

A row is so many seedlings: the one marked 12 is full where 12 or more are up, half full at 10 of
steps of 4. Past the last count stand the likely number and the band in which 19 sowings of 20 lie.
"""

from bisect import bisect_left
from datetime import date, timedelta
from math import ceil, floor
from typing import Final, NamedTuple

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Span, joined_spans, wrapped
from seedstart.planning.prospects.prospect import LEVEL, Prospect

_EIGHTHS: Final = " ▁▂▃▄▅▆▇█"
_BAND, _LIKELY, _SOWN = "░", "─", "┄"
_STEPS: Final = (1, 2, 4, 5, 10, 20, 25, 40, 50)
_LEAST_ROWS: Final = 3
# Rows that are no seedlings: sown above, the axis and its days below.
_AROUND: Final = 3
# Behind the last column: the likely number, or the word `sown`.
_RIGHT: Final = 5
_WIDEST_DAY: Final = 4
# The drawing ends where a tenth of those still to come, or a quarter of one, is left.
_TAIL, _FEW = 0.1, 0.25


class _Scale(NamedTuple):
    """Where days and seedlings lie: columns a day, days across, seedlings a row, rows."""

    per_day: float
    days: int
    step: int
    rows: int

    def column(self, day: float) -> int:
        return floor(day * self.per_day)

    def row(self, up: float) -> int:
        """The row from the bottom, 0 the lowest, in which so many lie."""
        return max(ceil(up / self.step - 1e-9) - 1, 0)


def emergence_bars(found: Prospect, width: int = 80, height: int = 10) -> list[Line]:
    """The drawing, in at most so many lines; one line that says why where there is none.

    Args:
        found: The sowing, with its course.
        width: Columns.
        height: Lines, the axis among them.
    """
    if found.zero is None or not (found.counts or found.coming):
        return wrapped(f"No bars: {found.unknown or 'nothing was counted.'}", width, role="quiet")
    step, rows = _rows(found, max(height - _AROUND, _LEAST_ROWS))
    gutter = len(str(max(found.seeds or 0, step * rows))) + 2
    columns = width - gutter - _RIGHT
    days = _days(found)
    scale = _Scale(min(columns / days, _WIDEST_DAY), days, step, rows)
    canvas = _canvas(found, scale, columns)
    lines: list[Line] = []
    if found.seeds:
        lines.append((Span(f"{found.seeds:>{gutter - 1}} {_SOWN * columns} sown", "quiet"),))
    best = scale.row(found.total.best) if found.total and found.is_open else None
    for row in reversed(range(rows)):
        end = f" {found.total.best:.0f}" if found.total and row == best else ""
        number = step * (row + 1)
        known = not found.seeds or number <= found.seeds
        label = Span(f"{number if known else '':>{gutter - 1}} ", "quiet")
        lines.append(joined_spans([label, *canvas[row], Span(end)]))
    lines.append((Span(f"{0:>{gutter - 1}} {_LIKELY * columns}", "quiet"),))
    return [*lines, (Span(_day_labels(found.zero.date(), scale, gutter, columns), "quiet"),)]


def bars_in_words(found: Prospect, width: int) -> list[Line]:
    """The same without a drawing: what each count found, and what is likely by when."""
    if found.zero is None or not (found.counts or found.coming):
        return emergence_bars(found, width)
    first = found.zero.date()
    ups = [
        f"{short_day(first + timedelta(days=_day_of(found, day)))} {up}" for day, up in found.counts
    ]
    of = f" of {found.seeds} sown" if found.seeds else ""
    lines = wrapped(f"Up{of}: {', '.join(ups) or 'not counted yet'}.", width, hang="")
    if found.is_open and found.total is not None:
        low, best, high = (round(one) for one in found.total)
        by = found.nine_in_ten
        when = f", nine in ten of them by {short_day(by.best)}" if by is not None else ""
        lines += wrapped(f"Likely {best} in all ({low} to {high}){when}.", width, hang="")
    return lines


def signs_in_words(found: Prospect, width: int) -> list[Line]:
    """What the signs of the drawing mean."""
    signs = ["█ counted"] if found.counts else []
    if found.is_open and found.total is not None:
        signs.append(f"{_LIKELY} likely   {_BAND} 19 sowings of 20")
    return wrapped("   ".join(signs), width, role="quiet", hang="")


def _rows(found: Prospect, most: int) -> tuple[int, int]:
    """Seedlings a row, a round number, and rows: with one for the figure above the last bar."""
    likely = found.total.high if found.total and found.is_open else 0
    power = 1
    while True:
        for one in _STEPS:
            step = one * power
            above = 1 if found.counts else 0
            rows = max(ceil(likely / step - 1e-9), ceil(found.up / step) + above, 1)
            if rows <= most:
                return step, rows
        power *= 10


def _days(found: Prospect) -> int:
    """Days across: to the last count, and while it is open till nothing more is to come."""
    if not found.is_open or found.coming is None or found.total is None:
        return max(_day_of(found, found.counted_on) + 1, 1)
    least = max(_FEW, found.coming.expected_more * _TAIL)
    ends = [days for days, way in found.course if _still(found, way) >= least]
    last = max([*ends, found.counted_on, found.days_now, 1.0])
    return ceil(last) + 1


def _still(found: Prospect, way: float) -> float:
    """How many are still to come past a point of the way."""
    coming = found.coming
    return 0.0 if coming is None else coming.expected_more - coming.more_by(way)


def _canvas(found: Prospect, scale: _Scale, columns: int) -> list[list[Span]]:
    """The cells, the lowest row first."""
    cells = [[Span(" ")] * columns for _ in range(scale.rows)]
    _put_likely(cells, found, scale, columns)
    by_day = {_day_of(found, day): up for day, up in found.counts}
    for day, up in by_day.items():
        first = min(scale.column(day), columns - 1)
        wide = max(floor(scale.per_day) - 1, 1)
        _put_bar(cells, range(first, min(first + wide, columns)), up, scale)
    _put_figures(cells, by_day, scale, columns)
    return cells


def _day_of(found: Prospect, days: float) -> int:
    """Which day after the first a time lies on: a count of next morning lies on the next."""
    if found.zero is None:
        return floor(days)
    return ((found.zero + timedelta(days=days)).date() - found.zero.date()).days


def _put_bar(cells: list[list[Span]], across: range, up: int, scale: _Scale) -> None:
    for row in range(scale.rows):
        eighths = round(8 * min(max(up / scale.step - row, 0.0), 1.0))
        eighths = max(eighths, 1) if up > row * scale.step else eighths
        for column in across:
            cells[row][column] = Span(_EIGHTHS[eighths], "happened") if eighths else Span(" ")


def _put_figures(
    cells: list[list[Span]], by_day: dict[int, int], scale: _Scale, columns: int
) -> None:
    """How many, above each bar that leaves room for it; the last one first."""
    for day, up in sorted(by_day.items(), reverse=True):
        row = scale.row(up) + 1 if up else 0
        text = str(up)
        end = min(scale.column(day) + max(floor(scale.per_day) - 1, 1), columns)
        start = max(end - len(text), 0)
        if row >= scale.rows:
            continue
        around = cells[row][max(start - 1, 0) : start + len(text) + 1]
        if all(cell.text == " " or cell.role in {"band", "expected"} for cell in around):
            for place, sign in enumerate(text):
                cells[row][start + place] = Span(sign)


def _put_likely(cells: list[list[Span]], found: Prospect, scale: _Scale, columns: int) -> None:
    """From the last count on: the number that is likely, and the band."""
    coming = found.coming
    if coming is None or found.total is None or not found.is_open or not found.course:
        return
    first = scale.column(_day_of(found, found.counted_on) + 1) if found.counts else 0
    last = min(columns, scale.column(scale.days))
    days, ways = zip(*found.course, strict=True)
    begun = found.zero.hour / 24 if found.zero else 0.0  # how late on its first day
    at = [(column + 0.5) / scale.per_day - begun for column in range(first, last)]
    along = [ways[min(bisect_left(days, day), len(ways) - 1)] for day in at]
    for column, way, span in zip(range(first, last), along, coming.band(along, LEVEL), strict=True):
        low, high = scale.row(span.low), min(scale.row(span.high), scale.rows - 1)
        for row in range(low, high + 1):
            cells[row][column] = Span(_BAND, "band")
        mean = min(scale.row(found.up + coming.more_by(way)), scale.rows - 1)
        cells[mean][column] = Span(_LIKELY, "expected")


def _day_labels(zero: date, scale: _Scale, gutter: int, columns: int) -> str:
    """Days of the month under their columns; the month where it begins."""
    text, month = "", 0
    every = max(ceil(_WIDEST_DAY / scale.per_day), 2 if scale.per_day < _WIDEST_DAY else 1)
    for number in range(0, scale.days + 1, every):
        day = zero + timedelta(days=number)
        label = short_day(day) if day.month != month else str(day.day)
        column = gutter + scale.column(number)
        if column + len(label) > gutter + columns + _RIGHT or (text and column <= len(text)):
            continue
        text, month = f"{text:<{column}}{label}", day.month
    return text
