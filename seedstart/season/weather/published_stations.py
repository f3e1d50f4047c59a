"""Published last-frost dates of stations, for growers without a record of their own."""

import csv
from collections.abc import Sequence
from datetime import date
from typing import Final, Literal

from msgspec import Struct

from seedstart.problems import Problem
from seedstart.text import folded

PUBLISHED_FILE: Final = "last_frosts.csv"
# What stands in place of a date in the normals of NOAA NCEI.
_IN_WORDS: Final[dict[str, Literal["too rare", "all year"]]] = {
    "-6666": "too rare", "-4444": "all year",
}  # fmt: skip


class PublishedDate(Struct, frozen=True):
    """One printed date.

    Attributes:
        risk_percent: A frost comes on or after it in this share of years.
        day: It, in a year of 365 days; or that frost is too rare for a date, or comes all year.
    """

    risk_percent: float
    day: date | Literal["too rare", "all year"]


class PublishedStation(Struct, frozen=True):
    """What is printed of the last frost at one station.

    Attributes:
        name: As its source has it.
        period: Which years.
        threshold_f: A day at or below it has a frost, °F.
        dates: The latest first.
        source: Where it is printed.
    """

    name: str
    period: str
    threshold_f: float
    dates: tuple[PublishedDate, ...]
    source: str


def published_stations(data: bytes) -> tuple[PublishedStation, ...]:
    """The stations of the shipped table, in its order."""
    found: dict[tuple[str, str, str], list[dict[str, str]]] = {}
    for row in csv.DictReader(data.decode("utf-8").splitlines()):
        found.setdefault((row["station"], row["period"], row["threshold_f"]), []).append(row)
    return tuple(
        PublishedStation(
            name=name,
            period=period,
            threshold_f=float(threshold),
            dates=tuple(sorted(map(_date, rows), key=lambda one: one.risk_percent)),
            source=rows[0]["source"].partition(", ann-tmin")[0],
        )
        for (name, period, threshold), rows in found.items()
    )


def _date(row: dict[str, str]) -> PublishedDate:
    shown = row["date_mmdd"]
    day = _IN_WORDS.get(shown) or date.fromisoformat(f"2001-{shown}")
    return PublishedDate(float(row["probability_percent"]), day)


def find_stations(
    stations: Sequence[PublishedStation], typed: str, file: str
) -> tuple[PublishedStation, ...] | Problem:
    """The stations whose name holds every word that was typed.

    Args:
        stations: All there are.
        typed: What was typed.
        file: Where, for what is wrong.
    """
    words = folded(typed).split()
    found = [
        station
        for station in stations
        if words and all(word in folded(station.name) for word in words)
    ]
    names = list(dict.fromkeys(station.name for station in found))
    if len(names) == 1:
        return tuple(found)
    known = tuple(dict.fromkeys(station.name for station in stations))
    hint = "" if not names else f"{len(names)} stations have that in their names: say more of it."
    return Problem(file=file, found=typed, allowed=tuple(names) or known, hint=hint)
