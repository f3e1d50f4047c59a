"""Columns of a weather file → days: a whole column at once, a cell at a time only where it fails.

A record of a hundred years has 36 525 rows, and the calendar waits for them.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Final, Literal, NamedTuple

from seedstart.problems import Problem, gathered
from seedstart.season.weather.days import Days, Element

# What stands for a missing value in files that need one, as numbers.
_CODES: Final = frozenset({-9999.0, -999.9, -999.0, -99.9, -99.0, 999.0, 999.9, 9999.0, 99999.0})
_CODES_OF_TENTHS: Final = frozenset({-9999.0, 9999.0})  # -99 is -9.9 °C there
TENTHS: Final = 0.1
_KELVIN: Final = (200, 330)  # nearly all values between these are kelvins
_NO_VALUE: Final = frozenset({"", "m", "na", "n/a", "nan", "null", "none", "-", "--", "---", "t"})
_SHOWN_PROBLEMS: Final = 200

Order = Literal["dmy", "mdy"]


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


class Sheet(NamedTuple):
    """Rows of a file, to be read.

    Attributes:
        file: Its name.
        layout: What kind of file it is, in words.
        rows: Its rows, in fields.
        first_line: The line of the first of them.
        day: A row → the day's ordinal number; ValueError where there is none.
        columns: What is read of it.
        stations: Whose it is.
        notes: For the grower.
    """

    file: str
    layout: str
    rows: Sequence[Sequence[str]]
    first_line: int
    day: Callable[[Sequence[str]], int]
    columns: Sequence[Column]
    stations: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def read_sheet(sheet: Sheet) -> Days:
    """The days of a sheet; lines that cannot be read are named and cost themselves alone."""
    problems: list[Problem] = []
    most = max(column.place for column in sheet.columns) + 1
    most = max([most, *(column.flags + 1 for column in sheet.columns if column.flags is not None)])
    days, rows = _days_of(sheet, most, problems)
    tmin = next((one for one in sheet.columns if one.element == "tmin_c"), None)
    found = _Minima({}, set(), set(), 0, 0, 0)
    if tmin is not None:
        found = _read_minima(sheet, tmin, days, rows, problems)
    others = {
        column.element: _read_other(column, days, rows)
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
        problems=tuple(gathered(problems)),
    )


def _days_of(
    sheet: Sheet, most: int, problems: list[Problem]
) -> tuple[list[int], Sequence[Sequence[str]]]:
    """The day of each row, and the rows that have one and are whole."""
    try:
        days = list(map(sheet.day, sheet.rows))
        if min(map(len, sheet.rows), default=most) >= most:
            return days, sheet.rows
    except (ValueError, IndexError):
        pass
    days, rows = [], []
    for place, row in enumerate(sheet.rows):
        if not any(cell.strip() for cell in row):
            continue
        try:
            day = sheet.day(row)
            rows.append([*row, *[""] * (most - len(row))])
            days.append(day)
        except (ValueError, IndexError):
            hint = "No day of the calendar: this line was left out."
            _note(problems, sheet, place, ",".join(row), hint)
    return days, rows


class _Minima(NamedTuple):
    tenths: dict[int, int]
    below: set[int]
    above: set[int]
    empty: int
    flagged: int
    twice: int


def _read_minima(
    sheet: Sheet,
    column: Column,
    days: list[int],
    rows: Sequence[Sequence[str]],
    problems: list[Problem],
) -> _Minima:
    cells = [row[column.place] for row in rows]
    try:
        values: list[float | None] = [float(cell) if cell else None for cell in cells]
    except ValueError:
        values = _one_by_one(sheet, cells, problems)
    failed, below, above = set[int](), set[int](), set[int]()
    if column.flags is not None:
        for place, row in enumerate(rows):
            flag = row[column.flags]
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


def _one_by_one(sheet: Sheet, cells: list[str], problems: list[Problem]) -> list[float | None]:
    found: list[float | None] = []
    for place, cell in enumerate(cells):
        try:
            found.append(number_in(cell))
        except ValueError:
            found.append(None)
            _note(problems, sheet, place, cell, "No temperature: this day counts as missing.")
    return found


def number_in(cell: str) -> float | None:
    """A number, its decimal mark a full stop or a comma; None where the cell says there is none.

    Raises:
        ValueError: It is something else.
    """
    bare = cell.strip().strip('"').strip()
    if bare.casefold() in _NO_VALUE:
        return None
    value = float(bare.replace(",", ".")) if re.fullmatch(r"[+-]?\d+[.,]?\d*", bare) else None
    if value is None:
        raise ValueError(f"no number: {cell}")
    return value


def _read_other(
    column: Column, days: list[int], rows: Sequence[Sequence[str]]
) -> dict[int, float]:
    """Another element; what is no number there ("<31") is no figure either."""
    found: dict[int, float] = {}
    for day, row in zip(days, rows, strict=True):
        if column.flags is not None and column.flag(row[column.flags]) == "failed":
            continue
        try:
            value = number_in(row[column.place])
        except ValueError:
            continue
        if value is not None and value not in column.codes:
            found.setdefault(day, round((value + column.shift) * column.scale, 2) + 0.0)
    return found


def _note(problems: list[Problem], sheet: Sheet, place: int, found: str, hint: str) -> None:
    if len(problems) < _SHOWN_PROBLEMS:
        line = sheet.first_line + place
        problems.append(Problem(file=sheet.file, line=line, found=found, hint=hint))


def look_like_kelvins(tenths: Mapping[int, int]) -> bool:
    """Whether nearly all of a record lies where kelvins do."""
    low, high = (10 * bound for bound in _KELVIN)
    return bool(tenths) and sum(low < one < high for one in tenths.values()) > 0.9 * len(tenths)


def iso_day(place: int) -> Callable[[Sequence[str]], int]:
    """Reads the day from a column that has it as `2031-04-01`, also before a clock time."""

    def read(row: Sequence[str]) -> int:
        return date.fromisoformat(row[place][:10]).toordinal()

    return read


def compact_day(place: int) -> Callable[[Sequence[str]], int]:
    """Reads the day from a column that has it as `20310401`."""

    def read(row: Sequence[str]) -> int:
        cell = row[place].strip()
        return date(int(cell[:4]), int(cell[4:6]), int(cell[6:8])).toordinal()

    return read


def written_day(place: int, order: Order) -> Callable[[Sequence[str]], int]:
    """Reads the day from a column that has it as `01.04.2031` or `4/1/2031`."""

    def read(row: Sequence[str]) -> int:
        match = re.match(r"\s*(\d{1,2})[./-](\d{1,2})[./-](\d{4})", row[place])
        if not match:
            raise ValueError(row[place])
        first, second, year = (int(part) for part in match.groups())
        day, month = (first, second) if order == "dmy" else (second, first)
        return date(year, month, day).toordinal()

    return read
