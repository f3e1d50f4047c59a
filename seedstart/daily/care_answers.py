"""Feeling, weighing, measuring, hardening, moving: what was typed → the entries."""

import re
from typing import Final

from seedstart.daily.check import Check
from seedstart.daily.typed import RefusedError, amount
from seedstart.season.entries import (
    BLANK,
    Entry,
    Hardened,
    Held,
    Measured,
    Moved,
    Plant,
    Weighed,
)
from seedstart.season.names import Names

_HOURS: Final = re.compile(
    r"(\d{1,2}(?:[.,]\d{1,2})?)\s*(?:h|hours?)?\s*,?\s*(?:(?:and|\+)\s*)?(night)?", re.IGNORECASE
)
_HELD: Final = re.compile(r"held\b\s*:?\s*(.*)", re.IGNORECASE)
SAY_GRAMS: Final = "moist if it can wait, or its weight in grams, as 1700"
SAY_HOURS: Final = "hours outdoors, as 2; 8 night with the night; held: windy"
SAY_HEIGHTS: Final = "height and stem diameter of each plant in mm, as 52/2.1, 48/1.9"
SAY_STATION: Final = "the station that it goes to"


def grams_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """A tray's weight as it is now; nothing typed: it was watered.

    Raises:
        RefusedError: With what to type instead.
    """
    if not typed:
        return check.writes
    grams = amount(re.sub(r"\s*g(rams?)?$", "", typed, flags=re.IGNORECASE), SAY_GRAMS)
    if check.tray is not None:
        return (Weighed(**BLANK, tray=check.tray, grams=grams, state="now"),)
    return tuple(
        Weighed(**BLANK, sowing=asked.name, grams=grams, state="now") for asked in check.sowings
    )


def hours_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """Hours outdoors of a day of hardening off, or why the plants were kept in.

    Nothing typed: out for as long as today's step says.

    Raises:
        RefusedError: With what to type instead.
    """
    if not typed and check.writes:
        return check.writes
    if held := _HELD.fullmatch(typed):
        if not held[1]:
            raise RefusedError("why they were kept in, as held: windy")
        return tuple(Held(**BLANK, why=held[1], **subject) for subject in _carried(check))
    match = _HOURS.fullmatch(typed)
    hours = float(match[1].replace(",", ".")) if match else 99.0
    if match is None or hours > 24:
        raise RefusedError(SAY_HOURS)
    night = match[2] is not None
    return tuple(
        Hardened(**BLANK, hours=hours, night=night, **subject) for subject in _carried(check)
    )


def heights_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """Heights and stem diameters of plants.

    Raises:
        RefusedError: With what to type instead.
    """
    if len(check.sowings) != 1:
        raise RefusedError("one sowing at a time: open the line")
    plants = tuple(_plant(text) for text in typed.split(","))
    return (Measured(**BLANK, sowing=check.sowings[0].name, plants=plants),)


def _plant(text: str) -> Plant:
    height, _, diameter = text.strip().partition("/")
    return Plant(height_mm=amount(height, SAY_HEIGHTS), diameter_mm=amount(diameter, SAY_HEIGHTS))


def station_answer(check: Check, typed: str, stations: Names) -> tuple[Entry, ...]:
    """A move to the station that was typed; nothing typed: to the one that the check names.

    Raises:
        RefusedError: No such station, or none named.
    """
    if not typed:
        if not check.writes:
            raise RefusedError(f"{SAY_STATION}: {', '.join(stations.current[:6])}")
        return check.writes
    station = stations.find(typed)
    if station is None:
        raise RefusedError(f"{SAY_STATION}: {', '.join(stations.current[:6])}")
    return tuple(Moved(**BLANK, station=station, **subject) for subject in _carried(check))


def _carried(check: Check) -> list[dict[str, str]]:
    """What a check's act is on: the tray as one, else each sowing."""
    if check.tray is not None and check.subject[0] == "tray":
        return [{"tray": check.tray}]
    return [{"sowing": asked.name} for asked in check.sowings]
