"""Columns of a weather file → days: a whole column at once, a cell at a time only where it fails.

A record of a hundred years has 36 525 rows, and the calendar waits for them.
"""

import csv
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from typing import Final, NamedTuple

from seedstart.problems import Problem, gathered
from seedstart.season.weather.weather_days import FIRST_YEAR, LAST_YEAR, Days, Element

# What stands for a missing value in files that need one, as numbers.
_CODES: Final = frozenset({-9999.0, -999.9, -999.0, -99.9, -99.0, 999.0, 999.9, 9999.0, 99999.0})
_CODES_OF_TENTHS: Final = frozenset({-9999.0, 9999.0})  # -99 is -9.9 °C there
TENTHS: Final = 0.1
_KELVIN: Final = (200, 330)  # nearly all values between these are kelvins
_NO_VALUE: Final = frozenset({"", "m", "na", "n/a", "nan", "null", "none", "-", "--", "---", "t"})
_FIRST_DAY: Final = date(FIRST_YEAR, 1, 1).toordinal()
_LAST_DAY: Final = date(LAST_YEAR, 12, 31).toordinal()
_TOO_MUCH: Final = 1e6
_SHOWN_PROBLEMS: Final = 200

_ISO_LENGTH: Final = 10

ReportRows = Callable[[int], None]  # of the rows of a file that were read so far
PROGRESS_EVERY: Final = 10_000


def report_nothing(_: int) -> None:
    """Nobody waits."""


class Column(NamedTuple):
    """Where an element stands, and how it is turned into the unit of its name.

    Attributes:
        element: Which.
        place: Its column, from 0.
        scale: Times this …
        shift: … after this was added: -32 and 5/9 for Fahrenheit.
        flags: The column of its flags; None where it has none.
        flag: What the flag means: `failed`, `below` zero, `above` zero, or nothing.
    """

    element: Element
    place: int
    scale: float = 1.0
    shift: float = 0.0
    flags: int | None = None
    flag: Callable[[str], str] = lambda _: ""

    @property
    def codes(self) -> frozenset[float]:
        """Numbers that stand for a missing value."""
        return _CODES_OF_TENTHS if self.scale == TENTHS else _CODES


class DayCells(NamedTuple):
    """Where the day of a row stands, and how it is read.

    Attributes:
        places: Its column, or columns, from 0.
        read: What stands there → the day's ordinal number; ValueError where it is no day.
    """

    places: tuple[int, ...]
    read: Callable[..., int]


class Grid:
    """The rows of a table by column.

    Where no field is quoted all the text is split once: whether each line has as many fields as
    the header then shows in the days, which fall out of step where one has not.

    Args:
        text: The rows, as they stand in the file.
        separator: Between two fields.
        width: How many fields the header has.
    """

    def __init__(self, text: str, separator: str, width: int) -> None:
        self.separator, self.width = separator, width
        count = text.count("\n") + 1
        self.numbers: Sequence[int] = range(count)
        self._text = text
        self._flat: list[str] = []
        self._rows: list[list[str]] | None = None
        if '"' not in text and "\n\n" not in text and not text.endswith("\n"):
            flat = text.replace("\n", separator).split(separator)
            self._flat = flat if len(flat) == width * count else []

    @classmethod
    def of_rows(cls, rows: list[list[str]], width: int) -> "Grid":
        """A grid of fields that are split already."""
        grid = cls("", ",", width)
        grid._rows = [[*row, *[""] * (width - len(row))] for row in rows]
        grid.numbers = range(len(rows))
        return grid

    @property
    def rows(self) -> list[list[str]]:
        """Line by line, each with at least as many fields as the header; no empty line."""
        if self._rows is None:
            lines = self._text.split("\n")
            rows: Iterable[list[str]] = (
                csv.reader(lines, delimiter=self.separator)
                if '"' in self._text
                else (line.split(self.separator) for line in lines)
            )
            numbered = [pair for pair in enumerate(rows) if any(map(str.strip, pair[1]))]
            self.numbers = [number for number, _ in numbered]
            self._rows = [[*row, *[""] * (self.width - len(row))] for _, row in numbered]
        return self._rows

    def column(self, place: int) -> list[str]:
        """The fields of one column."""
        if self._flat:
            return self._flat[place :: self.width]
        return [row[place] for row in self.rows]

    def split_by_line(self) -> None:
        """Split line by line: the fields fell out of step."""
        self._flat = []

    def only(self, places: list[int]) -> "Grid":
        """A grid of some of its rows."""
        one = Grid.of_rows([self.rows[place] for place in places], self.width)
        one.numbers = [self.numbers[place] for place in places]
        return one

    def keep(self, places: list[int]) -> None:
        """Leave out the other rows."""
        rows = self.rows
        self.numbers = [self.numbers[place] for place in places]
        self._rows, self._flat = [rows[place] for place in places], []


class Sheet(NamedTuple):
    """A table to be read.

    Attributes:
        file: Its name.
        layout: What kind of file it is, in words.
        grid: Its rows.
        first_line: The line of the first of them.
        day: Where the day stands.
        columns: What is read of it.
        stations: Whose it is.
        notes: For the grower.
    """

    file: str
    layout: str
    grid: Grid
    first_line: int
    day: DayCells
    columns: Sequence[Column]
    stations: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def read_sheet(sheet: Sheet, progress: ReportRows = report_nothing) -> Days:
    """The days of a sheet; lines that cannot be read are named and cost themselves alone."""
    problems: list[Problem] = []
    days = _days_of(sheet, problems, progress)
    tmin = next((column for column in sheet.columns if column.element == "tmin_c"), None)
    found = _Minima({}, set(), set(), 0, 0, 0)
    if tmin is not None:
        found = _read_minima(sheet, tmin, days, problems)
    others: dict[Element, dict[int, float]] = {
        column.element: _read_other(column, days, sheet.grid)
        for column in sheet.columns
        if column.element != "tmin_c"
    }
    return Days(
        file=sheet.file,
        layout=sheet.layout,
        tmin_tenths=found.tenths,
        others=others,
        below_zero=frozenset(found.below - found.tenths.keys()),
        above_zero=frozenset(found.above - found.tenths.keys()),
        stations=sheet.stations,
        empty=found.empty,
        flagged=found.flagged,
        twice=found.twice,
        notes=sheet.notes,
        problems=tuple(gathered(sorted(problems, key=lambda problem: problem.line or 0))),
    )


def _days_of(sheet: Sheet, problems: list[Problem], progress: ReportRows) -> list[int]:
    """The day of each row; rows without one leave the grid."""
    grid, day = sheet.grid, sheet.day
    try:
        days = _read_days(day, [grid.column(place) for place in day.places], progress)
        if days and min(days) >= _FIRST_DAY and max(days) <= _LAST_DAY:
            return days
    except (ValueError, IndexError, OverflowError):
        pass
    grid.split_by_line()
    days, kept = [], []
    for place, row in enumerate(grid.rows):
        try:
            found = day.read(*(row[at] for at in day.places))
        except (ValueError, IndexError, OverflowError):
            found = 0
        if _FIRST_DAY <= found <= _LAST_DAY:
            days.append(found)
            kept.append(place)
        else:
            hint = "No day of the calendar: this line was left out."
            note(problems, sheet, place, grid.separator.join(row), hint)
    grid.keep(kept)
    return days


def _read_days(day: DayCells, columns: list[list[str]], progress: ReportRows) -> list[int]:
    plain = day.read is iso_day and set(map(len, columns[0])) == {_ISO_LENGTH}
    days: list[int] = []
    for start in range(0, len(columns[0]), PROGRESS_EVERY):
        some = [column[start : start + PROGRESS_EVERY] for column in columns]
        if plain:
            days += map(date.toordinal, map(date.fromisoformat, some[0]))
        else:
            days += map(day.read, *some)
        progress(len(days))
    return days


class _Minima(NamedTuple):
    tenths: dict[int, int]
    below: set[int]
    above: set[int]
    empty: int
    flagged: int
    twice: int


def _read_minima(sheet: Sheet, column: Column, days: list[int], problems: list[Problem]) -> _Minima:
    cells = sheet.grid.column(column.place)
    values = _values(cells)
    if column.flags is None and None not in values.values():
        scale, shift = 10 * column.scale, column.shift
        rounded = {cell: round(((value or 0.0) + shift) * scale) for cell, value in values.items()}
        tenths = dict(zip(days, map(rounded.__getitem__, cells), strict=True))
        if len(tenths) == len(days) and column.codes.isdisjoint(values.values()):
            return _Minima(tenths, set(), set(), 0, 0, 0)
    wrong = {cell for cell, value in values.items() if value is None and not _is_blank(cell)}
    if wrong:
        for place, cell in enumerate(cells):
            if cell in wrong:
                note(problems, sheet, place, cell, "No temperature: this day counts as missing.")
    return _minima_with_gaps(sheet, column, days, [values[cell] for cell in cells])


def _values(cells: list[str]) -> dict[str, float | None]:
    """The number in each of the different cells: in a hundred years there are some hundreds."""
    found: dict[str, float | None] = {}
    for cell in set(cells):
        try:
            found[cell] = float(cell)
        except ValueError:
            with suppress(ValueError):
                found[cell] = number_in(cell)
        value = found.setdefault(cell, None)
        if value is not None and not abs(value) < _TOO_MUCH:  # nan and inf are no numbers either
            found[cell] = None
    return found


def _minima_with_gaps(
    sheet: Sheet, column: Column, days: list[int], values: list[float | None]
) -> _Minima:
    """Minima of a column with missing values, flags, or days that come twice."""
    failed, below, above = set[int](), set[int](), set[int]()
    flags = sheet.grid.column(column.flags) if column.flags is not None else []
    for place, flag in enumerate(flags):
        means = column.flag(flag) if flag else ""
        if means == "failed":
            failed.add(place)
        elif means:
            (below if means == "below" else above).add(days[place])
    scale, shift, codes = 10 * column.scale, column.shift, column.codes
    tenths: dict[int, int] = {}
    twice = 0
    for place, (day, value) in enumerate(zip(days, values, strict=True)):
        if value is None or value in codes or place in failed:
            continue
        minimum = round((value + shift) * scale)
        if tenths.setdefault(day, minimum) != minimum:
            twice += 1
    flagged = sum(values[place] is not None for place in failed)
    empty = len(set(days) - tenths.keys() - below - above) - flagged
    return _Minima(tenths, below, above, max(empty, 0), flagged, twice)


def number_in(cell: str) -> float | None:
    """A number, its decimal mark a full stop or a comma; None where the cell says there is none.

    Raises:
        ValueError: It is something else.
    """
    bare = cell.strip().strip('"').strip()
    if _is_blank(bare):
        return None
    value = float(bare.replace(",", ".")) if re.fullmatch(r"[+-]?\d+[.,]?\d*", bare) else None
    if value is None:
        raise ValueError(f"no number: {cell}")
    return value


def _is_blank(cell: str) -> bool:
    return cell.strip().strip('"').strip().casefold() in _NO_VALUE


def figures(column: Column, grid: Grid) -> list[float | None]:
    """An element row by row; what is no number there ("<31") is no figure either."""
    cells = grid.column(column.place)
    flags = grid.column(column.flags) if column.flags is not None else [""] * len(cells)
    known = {
        cell: round((value + column.shift) * column.scale, 2) + 0.0
        for cell, value in _values(cells).items()
        if value is not None and value not in column.codes
    }
    return [
        known[cell] if cell in known and not (flag and column.flag(flag) == "failed") else None
        for cell, flag in zip(cells, flags, strict=True)
    ]


def _read_other(column: Column, days: list[int], grid: Grid) -> dict[int, float]:
    """Another element than the minimum, the first of each day."""
    found: dict[int, float] = {}
    for day, figure in zip(days, figures(column, grid), strict=True):
        if figure is not None:
            found.setdefault(day, figure)
    return found


def note(problems: list[Problem], sheet: Sheet, place: int, found: str, hint: str) -> None:
    """One more row that cannot be read."""
    if len(problems) < _SHOWN_PROBLEMS:
        line = sheet.first_line + sheet.grid.numbers[place]
        problems.append(Problem(file=sheet.file, line=line, found=found, hint=hint))


def look_like_kelvins(tenths: Mapping[int, int]) -> bool:
    """Whether nearly all of a record lies where kelvins do."""
    low, high = (10 * bound for bound in _KELVIN)
    some = list(tenths.values())[:: max(len(tenths) // 1000, 1)]
    return bool(some) and sum(low < one < high for one in some) > 0.9 * len(some)


def iso_day(cell: str) -> int:
    """A day as `2031-04-01`, also before a clock time, as its ordinal number."""
    return date.fromisoformat(cell.strip()[:_ISO_LENGTH]).toordinal()


def compact_day(cell: str) -> int:
    """A day as `20310401`."""
    bare = cell.strip()
    return date(int(bare[:4]), int(bare[4:6]), int(bare[6:8])).toordinal()


def day_first(cell: str) -> int:
    """A day as `01.04.2031` or `1/4/2031`."""
    day, month, year = _written(cell)
    return date(year, month, day).toordinal()


def month_first(cell: str) -> int:
    """A day as `4/1/2031`."""
    month, day, year = _written(cell)
    return date(year, month, day).toordinal()


def day_in_three(year: str, month: str, day: str) -> int:
    """A day in three columns."""
    return date(int(year), int(month), int(day)).toordinal()


def _written(cell: str) -> tuple[int, int, int]:
    match = re.match(r"\s*(\d{1,2})[./-](\d{1,2})[./-](\d{4})", cell)
    if not match:
        raise ValueError(cell)
    return int(match[1]), int(match[2]), int(match[3])
