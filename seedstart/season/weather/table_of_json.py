"""An exported forecast in JSON → a table with a header, as a spreadsheet would have it."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeVar

import msgspec

from seedstart.problems import BadInputError, Problem

T = TypeVar("T")

_DATED: Final = re.compile(r"\d{4}-\d\d-\d\d(?:[T ].*)?")
_DEEPEST: Final = 6


def table_of_json(text: str, file: str) -> tuple[list[str], list[list[str]]]:
    """Headers and rows of the longest table of days that a JSON document holds.

    A table is an object of lists of one length, one of them dates, or a list of objects with a date
    each. Units that stand beside it, under its name and `_units`, or under `units` anywhere,
    go into the headers, and so does the zone of its times.

    Raises:
        BadInputError: It is no JSON, or holds no such table.
    """
    try:
        document = msgspec.json.decode(text)
    except RecursionError:
        hint = "It is nested deeper than any forecast."
        raise BadInputError([Problem(file=file, hint=hint)]) from None
    except (msgspec.DecodeError, UnicodeError) as error:
        raise BadInputError([Problem(file=file, hint=f"It is no whole JSON: {error}.")]) from None
    zone = next(_named(document, "timezone", str, 0), None)
    units = next(_named(document, "units", dict, 0), {})
    tables = list(_tables(document, units, 0))
    if not tables:
        hint = "No days were found in it: a forecast has a date and a lowest temperature a day."
        raise BadInputError([Problem(file=file, hint=hint)])
    # Days rather than hours, where an export has both.
    names, rows = min(tables, key=lambda table: (_a_day(table[1]), -len(table[1])))
    return [_with_zone(name, zone) for name in names], rows


def _named(value: object, name: str, kind: type[T], depth: int) -> Iterator[T]:
    """What stands under a name, wherever that is."""
    if depth > _DEEPEST:
        return
    if isinstance(value, dict):
        if isinstance(found := value.get(name), kind):
            yield found
        for inner in value.values():
            yield from _named(inner, name, kind, depth + 1)


def _with_zone(name: str, zone: str | None) -> str:
    bare, _, unit = name.partition(" (")
    stamps = bare.casefold() in {"time", "date", "datetime"} and (not unit or "iso" in unit)
    return f"{bare} ({zone})" if stamps and zone else name


def _a_day(rows: Sequence[Sequence[str]]) -> float:
    days = {cell[:10] for row in rows for cell in row if _DATED.fullmatch(cell)}
    return len(rows) / max(len(days), 1)


def _tables(
    value: object, units: Mapping[str, object], depth: int
) -> Iterator[tuple[list[str], list[list[str]]]]:
    if depth > _DEEPEST:
        return
    if isinstance(value, dict):
        lists = {key: inner for key, inner in value.items() if isinstance(inner, list) and inner}
        dates = [key for key, column in lists.items() if all(map(_is_date, column))]
        if dates:
            same = {
                key: column for key, column in lists.items() if len(column) == len(lists[dates[0]])
            }
            plain = {
                key: column for key, column in same.items() if not any(map(_is_nested, column))
            }
            rows = [list(map(_cell, row)) for row in zip(*plain.values(), strict=True)]
            yield [_header(key, units) for key in plain], rows
        for key, inner in value.items():
            beside = value.get(f"{key}_units")
            yield from _tables(inner, beside if isinstance(beside, dict) else units, depth + 1)
    elif isinstance(value, list) and value and all(isinstance(inner, dict) for inner in value):
        flat = [dict(_flat(inner)) for inner in value]
        names = list(dict.fromkeys(key for row in flat for key in row))
        if any(all(_is_date(row.get(name)) for row in flat) for name in names):
            yield (
                [_header(name, units) for name in names],
                [[_cell(row.get(name)) for name in names] for row in flat],
            )
        for inner in value:
            yield from _tables(inner, units, depth + 1)


def _flat(value: Mapping[str, object], before: str = "") -> Iterator[tuple[str, object]]:
    for key, inner in value.items():
        if isinstance(inner, dict):
            yield from _flat(inner, f"{before}{key} ")
        elif not isinstance(inner, list):
            yield f"{before}{key}", inner


def _is_date(value: object) -> bool:
    return isinstance(value, str) and bool(_DATED.fullmatch(value))


def _is_nested(value: object) -> bool:
    return isinstance(value, dict | list)


def _cell(value: object) -> str:
    return "" if value is None else str(value)


def _header(name: str, units: Mapping[str, object]) -> str:
    unit = units.get(name, units.get(name.rpartition(" ")[2]))
    return f"{name} ({unit})" if isinstance(unit, str) and "iso" not in unit else name
