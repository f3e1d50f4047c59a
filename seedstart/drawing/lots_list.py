"""Lots on a screen: a line a lot, as wide as the screen is."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Final

from msgspec import Struct

from seedstart.days import short_day
from seedstart.drawing.lines import Line, Role, Span, fitted
from seedstart.drawing.lots_table import percent_in_words
from seedstart.planning.calendar.row import Row
from seedstart.planning.prospects.prospect import Advice, AdviceWord
from seedstart.season.plan.lot import Lot
from seedstart.tracking.figures import LotFigure

# Cells of each column; crop and station are shown where the screen is wide.
_SOW, _STATE, _UP, _PERCENT, _DAYS = 7, 12, 17, 14, 7
_CROP, _STATION = 15, 14
_LEAST_NAME, _MOST_NAME = 10, 24
_GAP: Final = " "
_WIDE: Final = 108
# What stands in place of a state where something is to be done, the most urgent first.
_TO_DO: Final[dict[AdviceWord, str]] = {
    "sow again": "sow again", "dig": "dig a few", "look": "look", "too late": "too late",
}  # fmt: skip


class LotLine(Struct, frozen=True):
    """One lot as it is listed.

    Attributes:
        lot: Its plan.
        figure: What came up.
        sow: Its next day to sow, or the last on which it was sown; None where no date can be given.
        sown: Whether that day is past.
        since: When the latest sowing that is waited for was made; None where none is.
        warns: Whether something speaks against its dates.
        stations: Where its plants stand now, those with most of them first.
        advice: What is to be done about one of its sowings, where that is more than to wait.
    """

    lot: Lot
    figure: LotFigure
    sow: date | None
    sown: bool
    since: datetime | None
    warns: bool
    stations: tuple[str, ...] = ()
    advice: AdviceWord | None = None


def lot_line_of(
    lot: Lot,
    figure: LotFigure,
    rows: tuple[Row, ...],
    stations: tuple[str, ...] = (),
    advice: Iterable[Advice] = (),
) -> LotLine:
    """What is listed of a lot.

    Args:
        lot: The lot.
        figure: What came up.
        rows: Its rows of the calendar, by the day to sow.
        stations: Where its plants stand now, those with most of them first.
        advice: What to do about each of its sowings that may give too few.
    """
    told = {one.what for one in advice}
    to_sow = [row for row in rows if row.sowing is None and row.sow_day]
    made = [row for row in rows if row.sowing is not None]
    row = made[-1] if made else to_sow[0] if to_sow else None
    waiting = [one.at for one in figure.sowings if one.alive and one.up_since is None]
    return LotLine(
        lot,
        figure,
        row.sow_day if row else None,
        bool(made),
        max(waiting, default=None),
        any(row.problem or row.warnings for row in rows),
        stations,
        next((what for what in _TO_DO if what in told), None),
    )


def lots_head(width: int) -> Line:
    """The names of the columns."""
    cells = ["lot", "sow", "state", "up", "percent (95 %)", "half up"]
    return (Span("  " + _cells(cells, width, "crop", "station"), "quiet"),)


def lot_list_line(line: LotLine, width: int, today: date) -> Line:
    """A lot: its mark, name, day to sow, state, what came up and how sure, days to half of it."""
    figure = line.figure
    when = (short_day(line.sow) + ("✓" if line.sown else "")) if line.sow else "no date"
    # Of what still comes up half is not up: the lot's curve says when it will be.
    half = figure.t50_days if figure.percent is not None else None
    days = f"{half:.1f} d" if half is not None else ""
    percent = percent_in_words(figure).replace(" to ", "–")
    cells = ["", when, _state(line, today), figure.came_up, percent, days]
    name, rest = _name_wide(width), _cells(cells, width, line.lot.crop, _where(line))
    role: Role = "quiet" if not figure.sowings else "plain"
    return (
        Span("! " if line.warns or line.advice else "  ", "warn"),
        Span(fitted(line.lot.name, name), "name"),
        Span(rest[name:], role),
    )


def _where(line: LotLine) -> str:
    """Where it stands now, else where it is to be sown: `shelf, sill`, `heat mat +2`."""
    if not line.stations:
        return "-" if line.figure.sowings else line.lot.station or "-"
    every = ", ".join(line.stations)
    if len(every) <= _STATION:
        return every
    more = f" +{len(line.stations) - 1}" if line.stations[1:] else ""
    return fitted(line.stations[0], _STATION - len(more)).rstrip() + more


def _state(line: LotLine, today: date) -> str:
    state = line.figure.state
    if line.advice is not None and state != "to sow":
        return _TO_DO[line.advice]
    if line.since is not None:
        return f"waiting {(today - line.since.date()).days} d"
    return state


def _name_wide(width: int) -> int:
    taken = 2 + _SOW + _STATE + _UP + _PERCENT + _DAYS + 5 * len(_GAP)
    if width >= _WIDE:
        taken += _CROP + _STATION + 2 * len(_GAP)
    return min(max(width - taken, _LEAST_NAME), _MOST_NAME)


def _cells(cells: list[str], width: int, crop: str, station: str) -> str:
    wides = [_name_wide(width), _SOW, _STATE, _UP, _PERCENT, _DAYS]
    if width >= _WIDE:
        cells = [cells[0], crop, station, *cells[1:]]
        wides = [wides[0], _CROP, _STATION, *wides[1:]]
    return _GAP.join(fitted(cell, wide) for cell, wide in zip(cells, wides, strict=True)).rstrip()
