"""GHCN-Daily's own file: a line for each element and month, of 31 values with three flags each.

Source: the layout in NOAA's readme of GHCN-Daily; tests/reference/weather_format_samples.
"""

import re
from collections.abc import Collection
from datetime import date
from typing import Final

from seedstart.problems import Problem, gathered
from seedstart.season.weather.weather_days import (
    FIRST_YEAR,
    LAST_YEAR,
    Days,
    Element,
    refuse_several,
)

DLY_LINE: Final = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}\d{6}[A-Z0-9]{4}(?:[ \d-]{5}.{3})")
_WIDE: Final = 8
_HEAD: Final = 21
_MISSING: Final = -9999
# Elements in tenths of °C, of mm and of m/s; others are passed over.
_ELEMENTS: Final[dict[str, tuple[Element, float]]] = {
    "TMIN": ("tmin_c", 0.1),
    "TMAX": ("tmax_c", 0.1),
    "PRCP": ("rain_mm", 0.1),
    "AWND": ("wind_ms", 0.1),
    "WSFG": ("gust_ms", 0.1),
}


def read_dly(text: str, file: str, station: str | None, wanted: Collection[Element]) -> Days:
    """The days of a GHCN-Daily file: minima, and of the other elements those that are wanted.

    A value with a quality flag failed a check there and is left out. The slots of days that a month
    has not are passed over.

    Raises:
        BadInputError: It holds several stations and none was named.
    """
    tmin: dict[int, int] = {}
    others: dict[Element, dict[int, float]] = {}
    flagged, problems, found = 0, list[Problem](), set[str]()
    for number, line in enumerate(text.split("\n"), 1):
        element, scale = _ELEMENTS.get(line[17:21], (None, 1.0))
        if element is None or (station is not None and line[:11] != station):
            continue
        found.add(line[:11])
        if element != "tmin_c" and element not in wanted:
            continue
        try:
            values, failed = _month(line)
        except ValueError:
            hint = "No month of GHCN-Daily: this line was left out."
            problems.append(Problem(file=file, line=number, found=line[:40], hint=hint))
            continue
        if element == "tmin_c":
            flagged += failed
            tmin |= values
        else:
            kept = others.setdefault(element, {})
            kept |= {day: round(value * scale, 1) for day, value in values.items()}
    if len(found) > 1:
        refuse_several(file, sorted(found))
    return Days(
        file=file,
        layout="GHCN-Daily, fixed width",
        tmin_tenths=tmin,
        others=others,
        stations=tuple(found),
        empty=_gaps(tmin) - flagged if tmin else 0,
        flagged=flagged,
        problems=tuple(gathered(problems)),
    )


def _month(line: str) -> tuple[dict[int, int], int]:
    """Values of one line by day, and how many failed a check.

    Raises:
        ValueError: It is no such line.
    """
    year, month = int(line[11:15]), int(line[15:17])
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError("no thermometer stood then")
    start = date(year, month, 1).toordinal()
    after = date(year + month // 12, month % 12 + 1, 1).toordinal()
    values: dict[int, int] = {}
    failed = 0
    for number in range(after - start):
        place = _HEAD + _WIDE * number
        value = int(line[place : place + 5] or _MISSING)
        if value == _MISSING:
            continue
        if line[place + 6 : place + 7].strip():
            failed += 1
        else:
            values[start + number] = value
    return values, failed


def _gaps(tenths: dict[int, int]) -> int:
    return max(tenths) - min(tenths) + 1 - len(tenths)
