"""Writes the records of the sample season, from a fixed seed: run it to write them again."""

from array import array
from datetime import datetime, timedelta
from math import cos, pi
from pathlib import Path
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from msgspec import structs
from sample_story import Act, story
from sample_weather import weather_files

from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Entry,
    Soaked,
    Sown,
    Stratified,
    Struck,
    TakenOut,
)
from seedstart.season.journal.entry import next_id
from seedstart.season.journal.journal_lines import encode
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings, Series, marked
from seedstart.season.loggers.tidy_file import write_tidy

TOP = Path(__file__).resolve().parent.parent.parent
ZONE = "Europe/Tallinn"
SEED = 18_05


def files() -> dict[str, bytes]:
    """The record files by their path inside the season."""
    found = {f"journal/{by}.jsonl": data for by, data in _journals().items()}
    found |= weather_files()
    found["readings/logger-mat.csv"] = write_tidy(marked(_readings("heat mat", 1)), ZONE)
    found["readings/logger-sill.csv"] = write_tidy(marked(_readings("north sill", 2)), ZONE)
    return found


def _journals() -> dict[str, bytes]:
    chance = Random(SEED)
    acts = sorted(story(), key=lambda act: (act.day, act.hour, act.by))
    by_writer: dict[str, list[Entry]] = {}
    named: dict[str, str] = {}
    last: dict[str, str] = {}
    for act in acts:
        entries = _entries(act, chance, named, last)
        by_writer.setdefault(act.by, []).extend(entries)
    return {by: encode(entries) for by, entries in by_writer.items()}


def _entries(act: Act, chance: Random, named: dict[str, str], last: dict[str, str]) -> list[Entry]:
    """The entries of one act; words that stand for an id are looked up in what came before."""
    at = datetime(act.day.year, act.day.month, act.day.day, tzinfo=ZoneInfo(ZONE))
    at += timedelta(hours=act.hour, seconds=chance.randrange(0, 240))
    ids = []
    for number in range(len(act.lines)):
        now_ms = round(at.timestamp() * 1000) + number
        last[act.by] = next_id(last.get(act.by), now_ms, chance.randbytes(10))
        ids.append(last[act.by])
    entries = []
    for (kind, fields), one in zip(act.lines, ids, strict=True):
        draft = kind(**BLANK, **_with_ids(kind, fields, named))
        whole = ids[0] if len(ids) > 1 else None
        entry = structs.replace(draft, id=one, at=at, by=act.by, act=whole)
        entries.append(entry)
        if isinstance(entry, Soaked | Stratified):
            named[entry.lot] = one
        if isinstance(entry, Counted):
            named[f"{entry.sowing}={entry.standing}"] = one
    return entries


def _with_ids(kind: type[Entry], fields: dict[str, Any], named: dict[str, str]) -> dict[str, Any]:
    if kind in {TakenOut, Struck}:
        return fields | {"entry": named[str(fields["entry"])]}
    if kind is Sown and "after" in fields:
        lots = fields["after"]
        assert isinstance(lots, tuple)
        return fields | {"after": tuple(named[lot] for lot in lots)}
    return fields


def _readings(station: str, seed: int) -> Readings:
    """Hourly soil and air from 1 March; what is wrong with them is part of the story."""
    chance = Random(SEED + seed)
    start = datetime(2026, 3, 1, 0, 10, tzinfo=ZoneInfo(ZONE)).timestamp()
    end = datetime(2026, 4, 10, 7, 10, tzinfo=ZoneInfo(ZONE)).timestamp()
    soil = Series(station, "soil_c", _doubles(), _doubles(), b"")
    air = Series(station, "air_c", _doubles(), _doubles(), b"")
    at = start
    while at <= end:
        hour = (at - start) / 3600
        room = 17.5 + 2.0 * cos(2 * pi * (hour - 15) / 24) + chance.gauss(0, 0.2)
        value = _mat(hour, room, chance) if station == "heat mat" else _sill(hour, chance)
        _put(soil, at, value)
        _put(air, at, room if station == "heat mat" else room - 4)
        at += 3600
    return {
        (station, quantity): structs.replace(series, mark=bytes(len(series.at_s)))
        for quantity, series in _named(soil, air)
    }


def _named(soil: Series, air: Series) -> list[tuple[Quantity, Series]]:
    return [("soil_c", soil), ("air_c", air)]


def _doubles() -> "array[float]":
    return array("d")


def _put(series: Series, at: float, value: float) -> None:
    series.at_s.append(at)
    series.value.append(round(value, 1))


def _mat(hour: float, room: float, chance: Random) -> float:
    """A thermostat's 24 °C; the sensor's power-on value once; the mat fails on the last night."""
    if round(hour) == 412:  # 18 March: the logger's battery was changed
        return 85.0
    fails = 39 * 24 + 22  # 9 April, 22:00
    if hour > fails:
        return float(room + (24 - room) * 0.75 ** (hour - fails))
    return 24.0 + chance.gauss(0, 0.4)


def _sill(hour: float, chance: Random) -> float:
    """A north window in spring: warmer by day, and slowly warmer."""
    return 10.8 + hour / 24 * 0.05 + 2.2 * cos(2 * pi * (hour - 15) / 24) + chance.gauss(0, 0.2)


if __name__ == "__main__":
    for name, data in files().items():
        path = TOP / "sample_season" / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
