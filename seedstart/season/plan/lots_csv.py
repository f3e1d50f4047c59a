"""A CSV of lots → lots to add: columns mapped to keys, every fault of every row at once."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from difflib import get_close_matches
from typing import Any, Final, Literal

from msgspec import Struct

from seedstart.days import day_in_order, parse_day
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.additions import read_new_lots
from seedstart.season.plan.checked import Fault
from seedstart.season.plan.lot import LOT_KEYS, Lot
from seedstart.season.plan.lots import KEYS_LISTED_BY
from seedstart.season.plan.season_file import Season
from seedstart.text import clean, folded

NEEDED: Final = ("name", "crop")
# What a column may be headed → the key, and the unit of a bare number under that head.
_HEADS: Final[dict[str, tuple[str, str]]] = {
    "label": ("name", ""),
    "label no": ("name", ""),
    "label number": ("name", ""),
    "lot no": ("name", ""),
    "packet no": ("name", ""),
    "lot": ("name", ""),
    "lot name": ("name", ""),
    "packet": ("name", ""),
    "crop name": ("crop", ""),
    "species": ("crop", ""),
    "plant": ("crop", ""),
    "vegetable": ("crop", ""),
    "kind": ("crop", ""),
    "cultivar": ("variety", ""),
    "variety name": ("variety", ""),
    "plants": ("want", ""),
    "plants wanted": ("want", ""),
    "wanted": ("want", ""),
    "how many": ("want", ""),
    "successions": ("sowings", ""),
    "interval": ("every", " days"),
    "every days": ("every", " days"),
    "days between": ("every", " days"),
    "place": ("station", ""),
    "where": ("station", ""),
    "then to": ("then", ""),
    "tray": ("container", ""),
    "pot": ("container", ""),
    "tray or pot": ("container", ""),
    "ready by": ("ready", ""),
    "sow on": ("sow", ""),
    "sowing date": ("sow", ""),
    "sowing dates": ("sow", ""),
    "soaking": ("soak", ""),
    "soak hours": ("soak", " h"),
    "stratification": ("stratify", ""),
    "cold days": ("stratify", " days"),
    "scarification": ("scarify", ""),
    "sowing depth": ("depth", ""),
    "depth mm": ("depth", " mm"),
    "seed form": ("form", ""),
    "pelleting": ("form", ""),
    "germ %": ("germination", "%"),
    "germ": ("germination", "%"),
    "germination %": ("germination", "%"),
    "germination percent": ("germination", "%"),
    "germination rate": ("germination", "%"),
    "year": ("harvested", ""),
    "harvest": ("harvested", ""),
    "harvest year": ("harvested", ""),
    "stock": ("have", ""),
    "amount": ("have", ""),
    "packet size": ("have", ""),
    "in packet": ("have", ""),
    "seeds": ("have", " seeds"),
    "seeds left": ("have", " seeds"),
    "number of seeds": ("have", " seeds"),
    "grams": ("have", " g"),
    "weight g": ("have", " g"),
    "supplier": ("from", ""),
    "donor": ("from", ""),
    "supplier donor": ("from", ""),
    "source": ("from", ""),
    "seed from": ("from", ""),
    "former name": ("was", ""),
    "former names": ("was", ""),
}
# A bare number under the key's own name, where only one unit can be meant.
_UNITS_OF_KEYS: Final = {"germination": "%"}
_NO_COLUMN: Final = frozenset({"tests"})  # a table of its own: it stands in lots.toml alone
_KEYS: Final = tuple(key for key in LOT_KEYS if key not in _NO_COLUMN)
_NEAR: Final = 0.8  # "varity" is variety; "state" is not station

FoundBy = Literal["mapped", "key", "other word", "near"]


class Column(Struct, frozen=True):
    """A column of the file and the key it was taken for.

    Attributes:
        head: As it stands in the file.
        key: A key of lots.toml.
        by: How it was found: mapped by the grower, the key itself, another word for it, or
            a word near to it.
        unit: The unit of a bare number, from the head.
    """

    head: str
    key: str
    by: FoundBy
    unit: str = ""


def map_columns(
    heads: Sequence[str], mapping: Mapping[str, str], file: str
) -> tuple[list[Column | None], list[Problem]]:
    """What each column holds, and what is wrong with the heads.

    Args:
        heads: The first row.
        mapping: Heads and the keys that the grower says they hold; an empty key leaves the
            column out. What is mapped is not looked for in other columns.
        file: The file's name, for messages.
    """
    problems = list(_wrong_mapping(heads, mapping, file))
    key_of = {folded(head): key for head, key in mapping.items() if key in {"", *_KEYS}}
    columns = [_column(head, key_of) for head in heads]
    first: dict[str, int] = {}
    for number, column in enumerate(columns):
        if column and first.setdefault(column.key, number) != number:
            hint = f"{heads[first[column.key]]!r} is taken for {column.key} too: say which it is."
            problems.append(Problem(file=file, key="row 1", found=column.head, hint=hint))
    for key in NEEDED:
        if key not in first:
            there = ", ".join(filter(None, heads))
            hint = f"No column is taken for {key}: say which of these holds it: {there}."
            problems.append(Problem(file=file, key="row 1", hint=hint))
    return columns, problems


def _wrong_mapping(
    heads: Sequence[str], mapping: Mapping[str, str], file: str
) -> Iterator[Problem]:
    known = {folded(head) for head in heads}
    for head, key in mapping.items():
        if folded(head) not in known:
            allowed = tuple(filter(None, heads))
            yield Problem(file=file, key="row 1", found=head, allowed=allowed, listed_by=file)
        if key and key not in _KEYS:
            yield Problem(
                file=file, key=f"row 1, {head}", found=key, allowed=_KEYS, listed_by=KEYS_LISTED_BY
            )


def _column(head: str, key_of: Mapping[str, str]) -> Column | None:
    word = " ".join(folded(re.sub(r"[_./()-]", " ", head)).split())
    by_word = {key: (key, _UNITS_OF_KEYS.get(key, "")) for key in _KEYS} | _HEADS
    if folded(head) in key_of:
        return _mapped(head, key_of[folded(head)], by_word.get(word, ("", "")))
    near = [word] if word in by_word else get_close_matches(word, by_word, n=1, cutoff=_NEAR)
    if not near or by_word[near[0]][0] in key_of.values():
        return None
    key, unit = by_word[near[0]]
    by: FoundBy = "near" if near[0] != word else "key" if word in _KEYS else "other word"
    return Column(head, key, by, unit)


def _mapped(head: str, key: str, usual: tuple[str, str]) -> Column | None:
    """A column as the grower mapped it; its unit only where the head means the same key."""
    if not key:
        return None
    return Column(head, key, "mapped", usual[1] if usual[0] == key else _UNITS_OF_KEYS.get(key, ""))


_LISTS: Final = frozenset({"sow", "was"})
_COUNTS: Final = frozenset({"want", "sowings"})
_MOST_COLUMNS: Final = 200  # each head is compared with every word that it may mean
_DELIMITERS: Final = ";\t,"
_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")
_LOOKED_AT: Final = 4096  # bytes in which what is no text has a zero


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
    order: str = "",
    file: str = "lots.csv",
) -> LotsFromCsv:
    """The lots of a CSV file: commas, semicolons or tabs, UTF-8 or as a spreadsheet saved it.

    Args:
        data: The file.
        season: Where the lots come into.
        mapping: Heads of columns and the keys the grower says they hold; an empty key leaves
            the column out.
        order: Of day and month in its dates, `dmy` or `mdy`; empty where nobody said.
        file: The file's name, for messages.

    Raises:
        BadInputError: Everything wrong in heads and rows, with the row's number (the heads
            are row 1).
    """
    if b"\0" in data[:_LOOKED_AT] and not data.startswith(_UTF_16):
        hint = "It is no text: save the sheet as CSV, and give that file."
        raise BadInputError([Problem(file=file, hint=hint)])
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
    keys = [_keys_of(row, columns, order) for _, row in numbered]
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
    if data.startswith(_UTF_16):
        return data.decode("utf-16", errors="replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _rows(text: str, file: str) -> list[list[str]]:
    """The rows, empty ones too, so that their numbers are those of a spreadsheet."""
    separator = re.match(r"sep=(.)\r?\n", text)  # some spreadsheets say it in a line of its own
    lines = io.StringIO(text, newline="")
    if separator:
        lines.readline()
    delimiter = separator[1] if separator else _delimiter(text)
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
                hint="Put a cell that contains the separator in quotes.",
            )


def _keys_of(row: Sequence[str], columns: Sequence[Column | None], order: str) -> dict[str, Any]:
    """The keys of a lot from one row; what cannot be read stays text, for the message."""
    keys: dict[str, Any] = {}
    for cell, column in zip(row, columns, strict=False):
        content = clean(cell).strip()
        if column and content:
            keys.setdefault(column.key, _value(content, column, order))
    return keys


def _value(content: str, column: Column, order: str) -> object:
    if column.key in _LISTS:
        parts = [part.strip() for part in re.split(r"[;|,]", content) if part.strip()]
        return [_day(part, order) for part in parts] if column.key == "sow" else parts
    if column.key == "ready":
        return _day(content, order)
    if column.key in _COUNTS and re.fullmatch(r"\d{1,9}", content):
        return int(content)
    if column.key in _COUNTS and re.fullmatch(r"\d{1,3}([.,]\d{3})+", content):
        return f"{content} (one or a thousand? write it without a sign)"
    bare = re.fullmatch(r"\d{1,9}([.,]\d{1,9})?", content)
    # 0.85 under "germination" may be a share: only a figure above 1 is surely in percent.
    if bare and (column.unit != "%" or float(content.replace(",", ".")) > 1):
        return content + column.unit
    return content


def _day(content: str, order: str) -> date | str:
    """A day; in a list also 31/03/2027, which has but one reading, or one in the given order."""
    try:
        return parse_day(content)
    except ValueError:
        found = day_in_order(content, order)
        return content if found is None else found


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
