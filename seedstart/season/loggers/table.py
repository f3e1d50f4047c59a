"""The table inside a logger's file: where it begins, how it is separated, what its header says."""

import csv
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.stamps import DATE, FULL, LONE_CLOCK
from seedstart.text import clean

SEPARATORS: Final = {";": "semicolon", "\t": "tab", ",": "comma", "|": "bar"}
# Enough to pass any preamble and to see a column's habits; the rest is read in blocks.
_SAMPLE_LINES: Final = 400
_HEADER_LINES: Final = 3
# No sensor shows such a number; milliseconds since 1970 stay below.
TOO_MUCH: Final = 1e15
_FIELD: Final = 200  # a longer field is no reading's
_NUMBER: Final = re.compile(
    r"\s*([+-]?(?:\d{1,40}(?:[.,]\d{0,40})?|[.,]\d{1,40})(?:[eE][+-]?\d{1,3})?)\s*"
    r"([°º]?\s?[CF]|%(?:\s?RH)?|k?lx|k?lux|[µμu]mol\S{0,16}|[mµμu]S/cm|dS/m|pH)?\s*"
)
_EPOCH: Final = re.compile(r"\d{10}(?:[.,]\d{1,6})?|\d{13}")


class Table(NamedTuple):
    r"""Where the table of a file lies.

    Attributes:
        text: The whole file, line ends as `\n`.
        separator: Between two fields.
        names: The header of each column, without its units line.
        headers: All that stands above each column, units included.
        first_line: Line of the first row, from 1.
        start: Place of the first row in `text`.
        sample: The first rows, in fields.
    """

    text: str
    separator: str
    names: tuple[str, ...]
    headers: tuple[str, ...]
    first_line: int
    start: int
    sample: list[list[str]]


def decoded(data: bytes) -> str:
    """A logger's file as text: UTF-8, UTF-16 with its mark, else the Windows table."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", "replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("cp1252", "replace")  # ° and µ of older loggers
    if "\0" in text:
        text = text.replace("\0", "")
    text = text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text
    return text.rstrip("\n")


def split(line: str, separator: str) -> list[str]:
    """The fields of one line; a quote that never ends is taken as it stands."""
    if '"' not in line:
        return line.split(separator)
    try:
        return next(csv.reader([line], delimiter=separator, strict=True))
    except (csv.Error, StopIteration):
        return line.split(separator)


def number(field: str) -> tuple[float, str] | None:
    """A number with a full stop or a comma, and the unit behind it; None if it is none."""
    match = _number_in(field)
    if match and abs(value := float(match[1].replace(",", "."))) < TOO_MUCH:
        return value, match[2] or ""
    return None


def _number_in(field: str) -> re.Match[str] | None:
    return _NUMBER.fullmatch(field) if len(field) < _FIELD else None


def is_stamp(field: str) -> bool:
    """Whether a field is a date with a clock time, or seconds since 1970."""
    return bool(FULL.fullmatch(field)) or is_epoch(field)


def is_epoch(field: str) -> bool:
    """Whether a field may be seconds (ten digits) or milliseconds (thirteen) since 1970."""
    return bool(_EPOCH.fullmatch(field.strip()))


def find_table(data: bytes, file: str) -> Table:
    """The table of a logger's file: its preamble is passed over.

    Raises:
        BadInputError: There is no table with times and numbers, or its rows do not fit its
            header.
    """
    text = decoded(data)
    lines = text[: _SAMPLE_LINES * _FIELD].split("\n")[:_SAMPLE_LINES]
    best: tuple[int, str] = (0, "")
    for separator in SEPARATORS:
        found = sum(_is_row(split(line, separator)) for line in lines)
        best = max(best, (found, separator), key=lambda pair: pair[0])
    if not best[0]:
        raise BadInputError([no_table(file)])
    return _table(text, lines, best[1], file)


def _is_row(fields: list[str]) -> bool:
    """Whether the fields of a line are a row of readings: a time, and a number beside it."""
    stamps = [place for place, field in enumerate(fields) if is_stamp(field)]
    if not stamps:
        dates = [place for place, field in enumerate(fields) if DATE.fullmatch(field)]
        clocks = [place for place, field in enumerate(fields) if LONE_CLOCK.fullmatch(field)]
        if not dates or not clocks:
            return False
        stamps = dates[:1] + clocks[:1]
    rest = (field for place, field in enumerate(fields) if place not in stamps)
    return any(map(_number_in, rest))  # also one too large: its row is named, and no heading


def no_table(file: str) -> Problem:
    """What is said of a file in which no table of readings can be made out."""
    return Problem(
        file=file,
        allowed=("rows of a date with a clock time and at least one number",),
        hint="Separated by commas, semicolons, tabs or bars, as loggers export them.",
    )


def _table(text: str, lines: list[str], separator: str, file: str) -> Table:
    rows = [split(line, separator) for line in lines]
    first = next(place for place, row in enumerate(rows) if _is_row(row))
    sample = [row for row in rows[first:] if _is_row(row)]
    above = _header_rows(rows[:first])
    width = max(_usual(len(row) for row in sample), max(map(len, above), default=0))
    named = max(map(len, above), default=width)
    filled = _usual(len(without_tail(row)) for row in sample)
    if filled > named:
        raise BadInputError([_too_wide(file, first + 1, separator, filled, named)])
    names = _column_texts(above[:1], width, " ")
    start = sum(len(line) + 1 for line in lines[:first])
    headers = _column_texts(above, width, " ")
    shown = tuple(name or f"column {place}" for place, name in enumerate(names, 1))
    return Table(text, separator, shown, headers, first + 1, start, sample)


def _usual(lengths: Iterable[int]) -> int:
    return Counter(lengths).most_common(1)[0][0]


def _header_rows(rows: list[list[str]]) -> list[list[str]]:
    """The lines right above the first row that have as many fields as the lowest of them."""
    above = [row for row in rows if any(field.strip() for field in row)]
    if not above or len(above[-1]) < 2:
        return []
    width = len(above[-1])
    found: list[list[str]] = []
    while above and len(above[-1]) == width and len(found) < _HEADER_LINES:
        found.insert(0, above.pop())
    return found


def _column_texts(rows: Sequence[list[str]], width: int, between: str) -> tuple[str, ...]:
    texts = [[row[place] for row in rows if place < len(row)] for place in range(width)]
    return tuple(
        between.join(clean(text[:_FIELD]).strip().lstrip("#").strip() for text in column).strip()
        for column in texts
    )


def without_tail(row: list[str]) -> list[str]:
    """A row without the empty fields at its end."""
    while row and not row[-1].strip():
        row = row[:-1]
    return row


def _too_wide(file: str, line: int, separator: str, fields: int, names: int) -> Problem:
    comma = separator == ","
    return Problem(
        file=file,
        line=line,
        found=f"{fields} fields",
        allowed=(f"{names} fields, as its header has",),
        hint="Decimal commas between commas? Export with semicolons." if comma else "",
    )


def unit_of(table: Table, column: int) -> str:
    """The unit behind the numbers of a column, as its first number has it; mostly none."""
    fields = (row[column] for row in table.sample if column < len(row))
    return next((found[1] for found in map(number, fields) if found), "")
