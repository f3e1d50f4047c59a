"""Lots as a grower planned them: a line a lot."""

from collections.abc import Iterable, Mapping

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Span, fitted, plain, wrapped
from seedstart.planning.row import Row
from seedstart.season.lot import Lot
from seedstart.text import plural

_NAME, _CROP, _WANT, _SOW, _PLACE = 18, 15, 6, 9, 14


def lot_list_lines(
    lots: Iterable[Lot], width: int = 80, rows: Mapping[str, Row] | None = None
) -> list[Line]:
    """A line a lot: crop, plants wanted, first day to sow, station, container, seed.

    Args:
        lots: What to list.
        width: Columns.
        rows: The first row of each lot in the calendar, by lot; left out, no day is shown.
    """
    head = f"  {'lot':<{_NAME}} {'crop':<{_CROP}} {'want':>{_WANT - 1}}  "
    if rows is not None:
        head += f"{'sow':<{_SOW}}"
    lines: list[Line] = [(Span(f"{head}{'station':<{_PLACE}} container", "quiet"),)]
    count = 0
    for lot in lots:
        lines.append(_line(lot, rows))
        count += 1
    if not count:
        return [plain("No lots yet: `seedstart lot add NAME --crop CROP` adds one.")]
    lines += [plain(""), *wrapped(f"{plural(count, 'lot')}.", width, role="quiet")]
    return lines


def _line(lot: Lot, rows: Mapping[str, Row] | None) -> Line:
    times = f" ×{max(lot.sowings, len(lot.sow))}" if max(lot.sowings, len(lot.sow)) > 1 else ""
    want = f"{lot.want}{times}" if lot.want else times.strip()
    cells = f" {fitted(lot.crop, _CROP)} {want:>{_WANT - 1}}  "
    if rows is not None:
        row = rows.get(lot.name)
        cells += fitted(short_day(row.sow_day) if row and row.sow_day else "no date", _SOW)
    cells += f"{fitted(lot.station or '-', _PLACE)} {lot.container or '-'}"
    return (Span(f"  {fitted(lot.name, _NAME)}", "name"), Span(cells))
