"""Readings as lines: the last of each series, and what was made of a logger's file."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Final

from seedstart.acts.quantities import IN_WORDS, show_value
from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.planning.read_series import ReadSeries
from seedstart.season.loggers.logger_file import Understood
from seedstart.season.loggers.series import Readings, Series
from seedstart.text import plural
from seedstart.units import Units

_PLACE, _QUANTITY, _VALUE, _WHEN, _NUMBER = 14, 8, 13, 16, 6
_BY: Final = {"logger": "By logger", "hand": "By hand"}


def readings_lines(
    found: Iterable[ReadSeries], units: Units = "metric", width: int = 80
) -> list[Line]:
    """A line a series: its last good reading, when, how many there are, from where to where."""
    lines: list[Line] = []
    for by, series in groupby(found, key=lambda one: one.by):
        lines += [plain("")] if lines else []
        lines += [heading(_BY[by]), _head()]
        for one in series:
            lines += _of_series(one, units, width)
    return lines


def _head() -> Line:
    cells = ("place", _PLACE), ("what", _QUANTITY), ("last", _VALUE), ("when", _WHEN)
    text = " ".join(fitted(word, wide) for word, wide in cells)
    return (Span(f"  {text} {'number':>{_NUMBER}}  range", "quiet"),)


def _of_series(one: ReadSeries, units: Units, width: int) -> Iterator[Line]:
    cells = (
        fitted(one.tray or one.station or "", _PLACE),
        fitted(IN_WORDS[one.quantity], _QUANTITY),
        fitted(show_value(one.quantity, one.last_value, units), _VALUE),
        f"{one.last_at:%Y-%m-%d %H:%M}",
    )
    yield plain(f"  {' '.join(cells)} {one.readings:>{_NUMBER}}  {_span(one, units)}".rstrip())
    if one.marks:
        why = ", ".join(f"{count} {mark.replace('_', ' ')}" for mark, count in one.marks.items())
        yield from wrapped(f"in doubt, and not counted with: {why}", width, "    ", "quiet")


def _span(one: ReadSeries, units: Units) -> str:
    """`12.1–25.3 °C`: the unit of both stands at the end."""
    if one.lowest is None or one.highest is None:
        return ""
    low, high = (show_value(one.quantity, value, units) for value in (one.lowest, one.highest))
    return high if low == high else f"{low.partition(' ')[0]}–{high}"


def understood_lines(
    found: Understood, fresh: Readings, units: Units = "metric", width: int = 80
) -> list[Line]:
    """What was made of a file, to be looked at before it is kept."""
    lines = [heading(found.file)]
    span = ""
    if found.first and found.last:
        span = f", {found.first:%Y-%m-%d %H:%M} to {found.last:%Y-%m-%d %H:%M}"
    order = f", dates are {found.order}" if found.order else ""
    zone = f", clock in {found.zone}" if found.zone else ", times with their offset"
    text = f"{plural(found.rows, 'row')} parted by {found.separator}{span}{order}{zone}."
    lines += wrapped(text, width, indent="  ")
    for column in found.columns:
        lines.append(plain(f"  column {column.header!r}: {column.role}"))
    for one in found.shown:
        value = show_value(one.quantity or "", one.value, units)
        where = one.station or "?"
        lines.append(plain(f"  line {one.line:>7}  {one.at:%Y-%m-%d %H:%M %z}  {where}  {value}"))
    for problem in found.problems:
        lines += wrapped(f"! {problem}", width, indent="  ", role="warn")
    lines += [_series_line(series) for series in fresh.values()]
    return lines


def _series_line(series: Series) -> Line:
    counts: dict[str, int] = {}
    for mark in series.marks:
        if mark:
            counts[mark] = counts.get(mark, 0) + 1
    marks = ", ".join(f"{count} {mark.replace('_', ' ')}" for mark, count in counts.items())
    doubt = f"; marked: {marks}" if marks else ""
    return plain(f"  {series.station}, {series.quantity}: {len(series)} new readings{doubt}")
