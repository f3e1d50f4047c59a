"""Readings of a season: the tidy files under readings/, read and written.

Reading is plain Python, so that no command that only looks waits for numpy.
"""

import csv
import re
from array import array
from collections.abc import Callable, Iterable, Sequence
from datetime import date, tzinfo
from itertools import pairwise
from typing import Final

from msgspec import Struct

from seedstart.growing.sensor_faults import MARKS
from seedstart.problems import Gathered, Problem
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.local_time import find_zone, offset_text, offsets_s
from seedstart.season.loggers.series import QUANTITIES, Readings, Series, joined, ordered
from seedstart.text import clean

HEADER: Final = "time,station,quantity,value,mark"
# A sensor shows no such number, and sums of such could not be reckoned with.
_TOO_MUCH: Final = 1e15
_EPOCH_DAY: Final = date(1970, 1, 1).toordinal()
_FIRST_YEAR, _LAST_YEAR = 1900, 2200  # as every day that a grower types
_CLOCK: Final = re.compile(
    r"[Tt ](\d\d):(\d\d):(\d\d)(\.\d{1,9})?(?:([Zz])|([+-])(\d\d):([0-5]\d))", re.ASCII
)
_NUMBER: Final = re.compile(r"[+-]?\d{1,30}(\.\d{0,30})?([eE][+-]?\d{1,3})?", re.ASCII)


_Appends = tuple[Callable[[float], None], Callable[[float], None], Callable[[int], None]]


class _GarbledError(ValueError):
    """A field that may not stand there."""

    def __init__(self, key: str, found: str, allowed: Sequence[str]) -> None:
        super().__init__(key, found)
        self.key, self.found, self.allowed = key, found, tuple(allowed)


class Tidy(Struct, frozen=True):
    """What was read of a tidy file so far.

    Attributes:
        readings: By station and quantity.
        problems: What is no reading, line by line.
        lines: How many lines that was.
    """

    readings: Readings = {}
    problems: tuple[Problem, ...] = ()
    lines: int = 0


NOTHING_READ: Final = Tidy()


def read_tidy(data: bytes, file: str) -> tuple[Readings, list[Problem]]:
    """The readings of one tidy file, and what in it is no reading.

    A torn or garbled line is named and costs itself alone. Where a station has two readings of
    a quantity at one time, the first holds.
    """
    found = read_more(NOTHING_READ, data, file)
    return found.readings, list(found.problems)


def read_more(before: Tidy, data: bytes, file: str) -> Tidy:
    """A tidy file read on: what was read before, and the lines that came to its end.

    Series of which nothing is new are the same objects as before.
    """
    text = _as_text(data)
    problems = Gathered(before.problems)
    lines = text.split("\n")
    if before.lines:
        first = 0
    elif lines[0].strip() == HEADER:
        first = 1
    else:
        problems.add(_no_header(file, lines[0]))
        first = 0 if _CLOCK.search(lines[0]) else 1
    columns = _read_lines(lines[first:], before.lines + first + 1, file, problems)
    readings = dict(before.readings)
    for series in (_Column.series(column) for column in columns):
        key = series.station, series.quantity
        known = readings.get(key)
        readings[key] = series if known is None else joined(series.station, (known, series))
    count = before.lines + max(text.count("\n"), 1)
    return Tidy(readings, tuple(problems.told()), count)


def _as_text(data: bytes) -> str:
    # What is no UTF-8 becomes lone surrogates, and the line that holds them is refused.
    text = data.decode("utf-8", "surrogateescape").removeprefix("\ufeff")
    return text.replace("\r\n", "\n") if "\r" in text else text


def _no_header(file: str, found: str) -> Problem:
    shown = clean(found[:400].encode("utf-8", "replace").decode("utf-8"))[:80]
    return Problem(file=file, line=1, key="header", found=shown, allowed=(HEADER,))


def _read_lines(
    lines: list[str], number: int, file: str, problems: Gathered
) -> "Iterable[_Column]":
    days, clocks, values, codes, columns = _Days(), _Clocks(), _Values(), _Codes(), _Columns()
    for line in lines:
        try:
            fields = line.split(",") if '"' not in line else _quoted(line)
            time, station, quantity, value, mark = fields
            at_s = days[time[:10]] + clocks[time[10:]]
            read = values[value]
            code = codes[mark]
            at_column, value_column, mark_column = columns[station, quantity]
            at_column(at_s)
            value_column(read)
            mark_column(code)
        except _GarbledError as wrong:
            problems.add(_garbled(file, number, wrong))
        except ValueError:
            if line:
                problems.add(_garbled(file, number, _wrong_row(line)))
        number += 1
    return columns.of.values()


def _quoted(line: str) -> list[str]:
    try:
        return next(csv.reader([line], strict=True))
    except (csv.Error, StopIteration):
        raise _wrong_row(line) from None


def _wrong_row(line: str) -> _GarbledError:
    return _GarbledError("", line, (HEADER,))


def _garbled(file: str, line: int, wrong: _GarbledError) -> Problem:
    found = clean(wrong.found[:400].encode("utf-8", "replace").decode("utf-8"))[:80]
    return Problem(file=file, line=line, key=wrong.key, found=found, allowed=wrong.allowed)


class _Days(dict[str, float]):
    """Each different date read once: seconds of the epoch at its midnight, as if in UTC."""

    def __missing__(self, text: str) -> float:
        try:
            day = date.fromisoformat(text)
        except ValueError:
            raise _no_time(text) from None
        if (
            len(text) != 10
            or text[4] != "-"
            or text[7] != "-"
            or not _FIRST_YEAR <= day.year <= _LAST_YEAR
        ):
            raise _no_time(text)
        self[text] = (day.toordinal() - _EPOCH_DAY) * 86400.0
        return self[text]


class _Clocks(dict[str, float]):
    """Each different clock time read once: seconds since midnight, less its offset from UTC."""

    def __missing__(self, text: str) -> float:
        match = _CLOCK.fullmatch(text)
        if not match or int(match[1]) > 23 or int(match[2]) > 59 or int(match[3]) > 59:
            raise _no_time(text)
        clock_s = int(match[1]) * 3600.0 + int(match[2]) * 60 + float(match[3] + (match[4] or ""))
        if not match[5]:
            if int(match[7]) > 23:
                raise _no_time(text)
            offset_s = int(match[7]) * 3600 + int(match[8]) * 60
            clock_s += offset_s if match[6] == "-" else -offset_s
        self[text] = clock_s
        return clock_s


def _no_time(text: str) -> _GarbledError:
    return _GarbledError("time", text, ("a time with its offset, e.g. 2027-03-20T06:00:00+01:00",))


class _Values(dict[str, float]):
    def __missing__(self, text: str) -> float:
        if not _NUMBER.fullmatch(text) or not abs(float(text)) < _TOO_MUCH:
            raise _GarbledError("value", text, ("a number with a full stop, e.g. 21.5",))
        self[text] = float(text)
        return self[text]


class _Codes(dict[str, int]):
    def __init__(self) -> None:
        super().__init__({mark: code for code, mark in enumerate(MARKS)})

    def __missing__(self, text: str) -> int:
        raise _GarbledError("mark", text, ("empty", *MARKS[1:]))


class _Column:
    """A series as it grows, in order of lines."""

    def __init__(self, station: str, quantity: Quantity) -> None:
        self.station, self.quantity = station, quantity
        self.at_s, self.value, self.mark = array("d"), array("d"), bytearray()

    def series(self) -> Series:
        """The series, in order of time."""
        return ordered(Series(self.station, self.quantity, self.at_s, self.value, bytes(self.mark)))


class _Columns(dict[tuple[str, str], _Appends]):
    """By station and quantity as they stand in the line, where to add a reading."""

    def __init__(self) -> None:
        super().__init__()
        self.of: dict[tuple[str, Quantity], _Column] = {}

    def __missing__(self, key: tuple[str, str]) -> _Appends:
        station = clean(key[0]).strip()
        if not station or not _is_text(key[0]):
            raise _GarbledError("station", key[0], ("the name of a station",))
        for quantity in QUANTITIES:
            if quantity == key[1]:
                column = self.of.setdefault((station, quantity), _Column(station, quantity))
                self[key] = column.at_s.append, column.value.append, column.mark.append
                return self[key]
        raise _GarbledError("quantity", key[1], QUANTITIES)


def _is_text(text: str) -> bool:
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


def write_tidy(readings: Readings, zone: str) -> bytes:
    """The readings as a tidy file, series by series, their times in a zone with its offset.

    Times are written to the second, or to the millisecond where they have some; values in full.

    Raises:
        ValueError: No such zone.
    """
    place = find_zone(zone)
    rows = [HEADER]
    for key in sorted(readings):
        rows += _rows(readings[key], place)
    rows.append("")
    return "\n".join(rows).encode()


def _rows(series: Series, zone: tzinfo) -> list[str]:
    """The lines of one series, in stretches of one day and one offset: little is written again."""
    import numpy as np

    at_ms = np.round(np.array(series.at_s) * 1000).astype(np.int64)
    offsets = offsets_s(at_ms, zone) // 60 * 60  # some had seconds before 1972
    days, of_day = np.divmod(at_ms + offsets * 1000, 86_400_000)
    ends = np.flatnonzero(np.diff(days).astype(bool) | np.diff(offsets).astype(bool)) + 1
    texts, clocks, values = of_day.tolist(), _ClockTexts(), _ValueTexts()
    rows: list[str] = []
    for first, end in pairwise((0, *ends.tolist(), len(texts))):
        if first < end:
            day = f"{date.fromordinal(_EPOCH_DAY + int(days[first]))}T"
            offset = offset_text(int(offsets[first]))
            rest = f"{offset},{_field(series.station)},{series.quantity},"
            rows += [
                f"{day}{clocks[ms]}{rest}{values[value]},{MARKS[mark]}"
                for ms, value, mark in zip(
                    texts[first:end],
                    series.value[first:end],
                    series.mark[first:end],
                    strict=True,
                )
            ]
    return rows


class _ClockTexts(dict[int, str]):
    """Milliseconds since midnight as text; the milliseconds only where there are some."""

    def __missing__(self, ms: int) -> str:
        minutes, rest = divmod(ms, 60_000)
        part = f".{rest % 1000:03d}" if rest % 1000 else ""
        self[ms] = f"{minutes // 60:02d}:{minutes % 60:02d}:{rest // 1000:02d}{part}"
        return self[ms]


class _ValueTexts(dict[float, str]):
    def __missing__(self, value: float) -> str:
        self[value] = repr(value)
        return self[value]


def _field(station: str) -> str:
    quoted = station.replace('"', '""')
    return f'"{quoted}"' if "," in station or '"' in station else station
