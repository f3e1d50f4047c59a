"""A weather file as a grower has it → its days: known by what stands in it, not by its name."""

import re
from collections.abc import Collection, Mapping, Sequence
from datetime import tzinfo
from typing import Final, NamedTuple

from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.table import decoded, split
from seedstart.season.weather.cells import (
    TENTHS,
    Column,
    DayCells,
    Grid,
    ReportRows,
    Sheet,
    compact_day,
    read_sheet,
    report_nothing,
)
from seedstart.season.weather.fixed_width import DLY_LINE, read_dly
from seedstart.season.weather.headed import Answers, Headed, headed_layout, monthly
from seedstart.season.weather.hours import read_hours
from seedstart.season.weather.published import Layout, published_layout
from seedstart.season.weather.refused import (
    all_missing,
    nothing_found,
    refuse_odd,
    refuse_what_is_no_table,
    refuse_what_is_no_text,
)
from seedstart.season.weather.table_of_json import table_of_json
from seedstart.season.weather.weather_days import (
    ELEMENTS,
    Days,
    Element,
    joined_days,
    refuse_several,
)

__all__ = [
    "SCREENED_BY",
    "Answers",
    "ReadOptions",
    "header_of",
    "read_files",
    "read_issues",
    "read_weather",
]

_BY_YEAR: Final = re.compile(r"[A-Z0-9_-]{11},\d{8},[A-Z0-9]{4},-?\d+,")
_HEADER_WITHIN: Final = 80
_BARE_ROW: Final = re.compile(r"\d{4}-\d\d-\d\d[,;\t]\s*-?\d+[.,]?\d*\s*")
_DAY: Final = re.compile(
    r"\d{4}-\d\d-\d\d(?!\d)|(?:18|19|20|21)\d{6}\s*$|\d{1,2}[./-]\d{1,2}[./-]\d{4}(?!\d)"
)
_ISSUED: Final = "issued"  # the column of a forecast file that says when each was made
_ALL: Final = frozenset(ELEMENTS)
# What a record's minima are screened by, where the file has it.
SCREENED_BY: Final[tuple[Element, ...]] = ("tmax_c",)


class _Table(NamedTuple):
    header: str
    names: list[str]
    grid: Grid
    first_line: int


class ReadOptions(NamedTuple):
    """How a file is read.

    Attributes:
        wanted: Elements to read beside the minimum.
        zone: Of the season, in whose days hours are folded; without one as their times say.
        progress: Called with the rows read so far of a long file.
    """

    wanted: Collection[Element] = _ALL
    zone: tzinfo | None = None
    progress: ReportRows = report_nothing

    def after(self, rows: int) -> "ReadOptions":
        """How what follows these rows is read."""
        return self._replace(progress=lambda more: self.progress(rows + more))


def read_files(
    files: Mapping[str, bytes],
    answers: Mapping[str, Answers] | None = None,
    options: ReadOptions = ReadOptions(),  # noqa: B008 - immutable
) -> Days:
    """Several files of one station as one, in the order of the mapping.

    Args:
        files: What stands in each, by name.
        answers: What was said of them, by name.
        options: How they are read.

    Raises:
        BadInputError: Everything wrong in them.
    """
    parts: list[Days] = []
    problems: list[Problem] = []
    behind = 0
    for name, data in files.items():
        given = (answers or {}).get(name, Answers())
        try:
            parts.append(read_weather(data, name, given, options.after(behind)))
        except BadInputError as error:
            problems += error.problems
        behind += data.count(b"\n")
    if problems:
        raise BadInputError(problems)
    return joined_days(parts)


def read_weather(
    data: bytes,
    file: str,
    answers: Answers | None = None,
    options: ReadOptions = ReadOptions(),  # noqa: B008 - immutable
) -> Days:
    """The days of a weather file.

    Args:
        data: What stands in it.
        file: Its name, for what is wrong.
        answers: What the grower said of it.
        options: How it is read.

    Raises:
        BadInputError: It is no daily weather, leaves something open (`key` of the problem says
            what: unit, order, date, columns), or is of several stations.
    """
    given = answers or Answers()
    refuse_what_is_no_text(data, file)
    text = decoded(data)
    refuse_what_is_no_table(text, file)
    if DLY_LINE.match(text):
        days = read_dly(text, file, given.station, options.wanted)
    elif _BY_YEAR.match(text):
        days = _by_year(text, file, given.station, options)
    else:
        days = _laid_out(_table_of(text, file), file, given, options).days(options)
    if not (days.minima or any(days.others.values()) or days.flagged):
        raise BadInputError(
            [*days.problems, all_missing(days) if days.empty else nothing_found(file)]
        )
    return refuse_odd(days)


def read_issues(
    data: bytes,
    file: str,
    answers: Answers | None = None,
    options: ReadOptions = ReadOptions(),  # noqa: B008 - immutable
) -> list[tuple[str | None, Days]]:
    """The forecasts of a file, by the moment at which each was made, where a column says it.

    Args:
        data: What stands in it.
        file: Its name, for what is wrong.
        answers: What the grower said of it.
        options: How it is read.

    Returns:
        The earliest first; one with None where the file does not say when it was made.

    Raises:
        BadInputError: As `read_weather`.
    """
    refuse_what_is_no_text(data, file)
    text = decoded(data)
    refuse_what_is_no_table(text, file)
    table = _table_of(text, file)
    heads = [name.strip().casefold() for name in table.names]
    if _ISSUED not in heads:
        return [(None, read_weather(data, file, answers, options))]
    place = heads.index(_ISSUED)
    laid_out = _laid_out(table, file, answers or Answers(), options)
    by_moment: dict[str, list[int]] = {}
    for at, row in enumerate(table.grid.rows):
        by_moment.setdefault(row[place], []).append(at)
    found: list[tuple[str | None, Days]] = []
    behind = 0
    for moment, rows in sorted(by_moment.items()):
        days = laid_out.of_rows(rows).days(options.after(behind))
        found.append((moment.strip(), refuse_odd(days)))
        behind += len(rows)
    return found


def header_of(data: bytes, file: str) -> str:
    """The line or the words by which a table of this kind is known again; empty where it has none.

    Raises:
        BadInputError: It is no text, or no table.
    """
    refuse_what_is_no_text(data, file)
    text = decoded(data)
    refuse_what_is_no_table(text, file)
    if DLY_LINE.match(text) or _BY_YEAR.match(text):
        return ""
    return _table_of(text, file).header


def _by_year(text: str, file: str, station: str | None, options: ReadOptions) -> Days:
    """GHCN-Daily by year: station, day, element, tenths, flags; the second flag is of quality."""
    elements: tuple[tuple[str, Element], ...] = (
        ("TMIN", "tmin_c"), ("TMAX", "tmax_c"), ("PRCP", "rain_mm"), ("AWND", "wind_ms"),
        ("WSFG", "gust_ms"),
    )  # fmt: skip
    lines = text.split("\n")
    found: list[Days] = []
    stations: set[str] = set()
    for code, element in elements:
        mark = f",{code},"
        rows = [line.split(",") for line in lines if mark in line[:30]]
        rows = [row for row in rows if station is None or row[0] == station]
        stations |= {row[0] for row in rows}
        if len(stations) > 1:
            refuse_several(file, sorted(stations))
        if rows and (element == "tmin_c" or element in options.wanted):
            column = Column(element, 3, TENTHS, 0.0, 5, lambda flag: "failed" if flag else "")
            sheet = Sheet(
                file, "GHCN-Daily by year", Grid.of_rows(rows, 8), 1,
                DayCells((1,), compact_day), (column,), tuple(stations),
            )  # fmt: skip
            found.append(read_sheet(sheet, options.progress))
    if not found:
        raise BadInputError([nothing_found(file)])
    return joined_days(found)


class _LaidOut(NamedTuple):
    """A table of which is known what stands where; of hours where its header says so."""

    sheet: Sheet
    headed: Headed | None

    def of_rows(self, rows: list[int]) -> "_LaidOut":
        """Some of its rows."""
        return self._replace(sheet=self.sheet._replace(grid=self.sheet.grid.only(rows)))

    def days(self, options: ReadOptions) -> Days:
        """Its days."""
        if self.headed is not None and self.headed.hourly:
            return read_hours(self.sheet, self.headed.zone, options.zone, options.progress)
        return read_sheet(self.sheet, options.progress)


def _laid_out(table: _Table, file: str, answers: Answers, options: ReadOptions) -> _LaidOut:
    """What stands where in a table, which must be of one station.

    Raises:
        BadInputError: It is of months or of several stations, or leaves something open.
    """
    heads = {name.strip().casefold(): place for place, name in reversed([*enumerate(table.names)])}
    if _is_of_months(heads):
        raise BadInputError([monthly(file)])
    layout = published_layout(heads, table.grid, answers.unit) if not answers.columns else None
    headed = None
    if layout is None:
        headed = headed_layout(table.names, table.grid, answers, file)
        layout = headed.layout
    if layout.needs_unit:
        hint = "The file does not say whether its temperatures are °C or °F: say it, C or F."
        some = _some_values(table.grid, layout.columns)
        hint += f" Its first minima are {', '.join(some)}." if some else ""
        raise BadInputError([Problem(file=file, key="unit", allowed=("C", "F"), hint=hint)])
    stations = _of_one_station(table.grid, layout, answers.station, file)
    kept = tuple(
        column
        for column in layout.columns
        if column.element == "tmin_c" or column.element in options.wanted
    )
    if not kept:
        raise BadInputError([nothing_found(file)])
    sheet = Sheet(
        file, layout.name, table.grid, table.first_line, layout.day, kept, stations, layout.notes
    )
    return _LaidOut(sheet, headed)


def _table_of(text: str, file: str) -> _Table:
    """The table under a preamble: its header, and its rows in fields."""
    if text.lstrip()[:1] in {"{", "["}:
        names, rows = table_of_json(text, file)
        return _Table(", ".join(names), names, Grid.of_rows(rows, len(names)), 1)
    lines = text.split("\n", _HEADER_WITHIN)
    if _BARE_ROW.fullmatch(lines[0]):
        separator = next(sign for sign in ",;\t" if sign in lines[0])
        return _Table("", ["date", "tmin_c"], Grid(text, separator, 2), 1)
    for top, line in enumerate(lines[:_HEADER_WITHIN]):
        separator = max(";\t,|", key=line.count)
        names = [name.strip() for name in split(line, separator)] if line.strip() else []
        below = next((one for one in lines[top + 1 : top + 4] if one.strip()), "")
        if _is_header(names, split(below, separator)):
            grid = Grid("\n".join(lines[top + 1 :]), separator, len(names))
            return _Table(line.strip(), names, grid, top + 2)
    raise BadInputError([nothing_found(file)])


def _is_header(names: Sequence[str], below: Sequence[str]) -> bool:
    """Whether a line names columns, and the next has a day in as many fields."""
    worded = [name for name in names if re.search(r"[^\W\d_]", name) and not _DAY.match(name)]
    dated = any(_DAY.match(cell.strip()) for cell in below)
    dated = dated or {"year", "month"} <= {name.casefold() for name in names}
    return len(names) > 1 and len(names) == len(below) == len(worded) and dated


def _is_of_months(heads: Mapping[str, int]) -> bool:
    months = {"year", "month"} <= heads.keys() and "day" not in heads and "date" not in heads
    no_day = months and not any(head.startswith("min temp (") for head in heads)
    return no_day or "mess_datum_beginn" in heads


def _of_one_station(grid: Grid, layout: Layout, station: str | None, file: str) -> tuple[str, ...]:
    """Whose the rows are; of several stations those that were not named leave the grid."""
    place = layout.station
    if place is None:
        return ()
    stations = sorted({name.strip() for name in set(grid.column(place)) if name.strip()})
    if len(stations) < 2:
        return tuple(stations)
    if station is None:
        refuse_several(file, stations)
    kept = [number for number, row in enumerate(grid.rows) if row[place].strip() == station]
    if not kept:
        problem = Problem(file=file, key="station", found=station, allowed=tuple(stations))
        raise BadInputError([problem])
    grid.keep(kept)
    return tuple(one for one in stations if one == station)


def _some_values(grid: Grid, columns: Sequence[Column]) -> list[str]:
    place = next((column.place for column in columns if column.element == "tmin_c"), None)
    cells = grid.column(place)[:20] if place is not None else []
    return [cell.strip() for cell in cells if cell.strip()][:4]
