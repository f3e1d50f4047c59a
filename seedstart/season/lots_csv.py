"""A CSV of lots → lots to add: columns mapped to keys, every fault of every row at once."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any, Final

from msgspec import Struct

from seedstart.days import only_reading, parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.checked import Fault
from seedstart.season.csv_heads import NEEDED, Column, map_columns
from seedstart.season.lot import Lot
from seedstart.season.new_lots import read_new_lots
from seedstart.season.plan import Season
from seedstart.text import clean

_LISTS: Final = frozenset({"sow", "was"})
_COUNTS: Final = frozenset({"want", "sowings"})
_MOST_COLUMNS: Final = 200  # each head is compared with every word that it may mean
_DELIMITERS: Final = ";\t,"


class LotsFromCsv(Struct, frozen=True):
    """What a CSV of lots gives: to be shown first, and then added in one go.

    Attributes:
        keys: The keys of each lot, for `add_lots`.
        lots: The same lots, read.
        columns: Columns that were taken, and for what.
        unmapped: Heads of the columns that were not.
    """

    keys: tuple[dict[str, Any], ...]
    lots: tuple[Lot, ...]
    columns: tuple[Column, ...]
    unmapped: tuple[str, ...]


def read_lots_csv(
    data: bytes,
    season: Season,
    mapping: Mapping[str, str] | None = None,
    *,
    file: str = "lots.csv",
) -> LotsFromCsv:
    """The lots of a CSV file: commas, semicolons or tabs, UTF-8 or as a spreadsheet saved it.

    Args:
        data: The file.
        season: Where the lots come into.
        mapping: Heads of columns and the keys the grower says they hold; an empty key leaves
            the column out.
        file: The file's name, for messages.

    Raises:
        BadInputError: Everything wrong in heads and rows, with the row's number (the heads
            are row 1).
    """
    rows = _rows(_decoded(data), file)
    if not rows:
        raise BadInputError([Problem(file=file, hint="The file is empty.")])
    heads = [clean(head).strip() for head in rows[0]]
    if len(heads) > _MOST_COLUMNS:
        allowed = (f"up to {_MOST_COLUMNS} columns",)
        found = f"{len(heads)} columns"
        raise BadInputError([Problem(file=file, key="row 1", found=found, allowed=allowed)])
    columns, problems = map_columns(heads, mapping or {}, file)
    numbered = [(number, row) for number, row in enumerate(rows[1:], 2) if any(map(str.strip, row))]
    problems += _too_long(numbered, len(heads), file)
    keys = [_keys_of(row, columns) for _, row in numbered]
    numbers = [number for number, _ in numbered]
    lots, faults = read_new_lots(keys, season, [f"row {number}" for number in numbers])
    problems += _in_rows(faults, numbers, columns, file)
    if problems:
        raise BadInputError(problems)
    taken = tuple(column for column in columns if column)
    left = tuple(head for head, column in zip(heads, columns, strict=True) if head and not column)
    return LotsFromCsv(tuple(keys), lots, taken, left)


def _decoded(data: bytes) -> str:
    """Text as spreadsheets save it: UTF-8, UTF-16 with its mark, else Western European."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _rows(text: str, file: str) -> list[list[str]]:
    """The rows, empty ones too, so that their numbers are those of a spreadsheet."""
    said = re.match(r"sep=(.)\r?\n", text)  # some spreadsheets say it in a line of its own
    lines = io.StringIO(text, newline="")
    if said:
        lines.readline()
    delimiter = said[1] if said else _delimiter(text)
    reader = csv.reader(lines, delimiter=delimiter, strict=True)
    rows: list[list[str]] = []
    try:
        rows.extend(reader)
    except csv.Error as error:
        hint = f"The row cannot be taken apart: {error}."
        raise BadInputError([Problem(file=file, key=f"row {len(rows) + 1}", hint=hint)]) from None
    return rows


def _delimiter(text: str) -> str:
    """What parts the cells: the sign that stands most often in the heads, quotes aside."""
    heads = re.sub(r'"[^"]*"', "", re.split(r"[\r\n]", text.lstrip("\r\n"), maxsplit=1)[0])
    return max(_DELIMITERS, key=heads.count)


def _too_long(rows: Sequence[tuple[int, list[str]]], heads: int, file: str) -> Iterator[Problem]:
    for number, row in rows:
        if any(map(str.strip, row[heads:])):
            yield Problem(
                file=file,
                key=f"row {number}",
                found=f"{len(row)} cells",
                allowed=(f"{heads} cells, as there are heads",),
                hint="A cell that holds the sign between cells stands in quotes.",
            )


def _keys_of(row: Sequence[str], columns: Sequence[Column | None]) -> dict[str, Any]:
    """The keys of a lot from one row; what cannot be read stays text, for the message."""
    keys: dict[str, Any] = {}
    for cell, column in zip(row, columns, strict=False):
        said = clean(cell).strip()
        if column and said:
            keys.setdefault(column.key, _value(said, column))
    return keys


def _value(said: str, column: Column) -> object:
    if column.key in _LISTS:
        parts = [part.strip() for part in re.split(r"[;|,]", said) if part.strip()]
        return [_day(part) for part in parts] if column.key == "sow" else parts
    if column.key == "ready":
        return _day(said)
    if column.key in _COUNTS and re.fullmatch(r"\d{1,9}", said):
        return int(said)
    if column.key in _COUNTS and re.fullmatch(r"\d{1,3}([.,]\d{3})+", said):
        return f"{said} (one or a thousand? write it without a sign)"
    bare = re.fullmatch(r"\d{1,9}([.,]\d{1,9})?", said)
    # 0.85 under "germination" may be a share: only a figure above 1 is surely in percent.
    if bare and (column.unit != "%" or float(said.replace(",", ".")) > 1):
        return said + column.unit
    return said


def _day(said: str) -> date | str:
    """A day; in a list also 31.03.2027, which has but one reading."""
    try:
        return parse_day(said)
    except ValueError:
        only = only_reading(said)
        return said if only is None else only


def _in_rows(
    faults: Iterable[Fault], rows: Sequence[int], columns: Sequence[Column | None], file: str
) -> Iterator[Problem]:
    """The faults under the number of their row and the head of their column."""
    heads = {column.key: column.head for column in columns if column}
    for fault in sorted(faults, key=lambda fault: fault.path[1:2]):
        _, lot, *keys = fault.path
        key = str(keys[0])
        if key in NEEDED and key not in heads:
            continue  # said once, of the heads
        whose = f" ({fault.whose})" if fault.whose else ""
        yield fault.as_problem(file, f"row {rows[int(lot)]}, {heads.get(key, key)}{whose}")
