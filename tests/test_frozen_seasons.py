"""Seasons of earlier versions, read by this one; tests/seasons/README.md tells about them."""

import json
import tomllib
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest

from seedstart.open_season import OpenSeason
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.journal.entries import (
    BLANK,
    KINDS,
    Checked,
    Counted,
    Entry,
    Forecast,
    Noted,
    PutOff,
    Unknown,
    kind_in_lines,
)
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

FROZEN = Path(__file__).resolve().parent / "seasons"
PROJECT = FROZEN.parent.parent / "pyproject.toml"
FOLDERS = sorted(path for path in FROZEN.iterdir() if path.is_dir())
ALL = pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)


def expected(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "expected.json").read_text("utf-8"))
    return found


def opened(folder: Path, on: date | None = None) -> OpenSeason:
    return OpenSeason(folder, "reader", on)


def utc(moment: datetime) -> str:
    return f"{moment.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


def by_name(records: Records) -> dict[str, Standing]:
    return {records.name_in_line(one.id): one for one in records.standings.values()}


def called(records: Records, sowing: str | None) -> str | None:
    return records.name_in_line(sowing) if sowing else None


# What expected.json calls otherwise than the struct does.
SOWING: dict[str, Callable[[Records, Standing], object]] = {
    "mother": lambda records, one: called(records, one.made_from),
    "closed": lambda _, one: one.closed.why if one.closed else None,
    "disagreements": lambda _, one: len(one.disagreements),
    "emerged_by": lambda _, one: list(one.emerged_by),
    "ended": lambda _, one: (
        [one.ended.normal, one.ended.abnormal, one.ended.hard, one.ended.fresh, one.ended.dead]
        if one.ended
        else None
    ),
    "station": lambda records, one: records.station_of(one.id),
    "tray": lambda records, one: spot.tray if (spot := records.spot(one.id)) else None,
    "heights_mm": lambda _, one: [p.height_mm for entry in one.measured for p in entry.plants],
    "hours_out": lambda records, one: {
        day.isoformat(): entry.hours for day, entry in records.hours_out(one.id).items()
    },
    "held": lambda _, one: [entry.why for entry in one.held],
    "dug": lambda _, one: [[entry.sound, entry.soft, entry.gone] for entry in one.dug],
    "day_zero": lambda records, one: zero.isoformat() if (zero := records.day_zero(one.id)) else 0,
    "watered_ml": lambda _, one: [entry.ml for entry in one.watered],
    "fed_ml": lambda _, one: [entry.ml for entry in one.fed],
}


@ALL
def test_every_sowing_is_what_it_was(folder: Path) -> None:
    records, wanted = opened(folder).records(), expected(folder)["sowings"]
    sowings = by_name(records)
    assert set(sowings) == set(wanted)
    for name, values in wanted.items():
        one = sowings[name]
        found = {key: SOWING[key](records, one) if key in SOWING else getattr(one, key)
                 for key in values}  # fmt: skip
        assert found == values, name


@ALL
def test_every_line_is_read_or_named(folder: Path) -> None:
    season, wanted = opened(folder), expected(folder)
    journal = season.journal
    assert len(list((folder / "journal").iterdir())) == wanted["files"]
    assert len(journal.by_id) == wanted["entries"]
    torn = (folder / "journal").glob("*.jsonl")
    assert any(not path.read_bytes().endswith(b"\n") for path in torn), "one is torn"
    assert [[one.file, one.line] for one in journal.set_aside] == wanted["set_aside"]
    circles = [(one.found or "").split(", ") for one in journal.disputed]
    assert circles == wanted["circles"]
    unknown = [entry.called for entry in journal.by_id.values() if isinstance(entry, Unknown)]
    assert unknown == wanted["unknown_kinds"]
    astray = {name: len(entries) for name, entries in season.records().astray.items()}
    assert astray == wanted["astray"]


@ALL
def test_days_are_as_they_were(folder: Path) -> None:
    for day, wanted in expected(folder)["days"].items():
        sowings = by_name(opened(folder, date.fromisoformat(day)).records())
        found = {name: [sowings[name].standing, sowings[name].emerged] for name in wanted}
        assert found == wanted, day


@ALL
def test_entries_hold_in_the_order_of_their_moments(folder: Path) -> None:
    journal = opened(folder).journal
    for name, moments in expected(folder)["in_order"].items():
        assert [utc(entry.at) for entry in journal.of["sowing", name]] == moments


@ALL
def test_places_and_treatments_are_what_they_were(folder: Path) -> None:
    records, wanted = opened(folder).records(), expected(folder)
    for where, values in wanted["places"].items():
        kind, _, name = where.partition(" ")
        place = records.places["tray" if kind == "tray" else "station", name]
        found = {
            "watered_ml": [entry.ml for entry in place.watered],
            "fed": len(place.fed),
            "weighed": [[entry.grams, entry.state] for entry in place.weighed],
            "read": [entry.value for entry in place.readings],
            "noted": [entry.text for entry in place.noted],
            "covered": [kind_in_lines(type(entry).__name__) for entry in place.covered],
            "settings": len(place.settings),
            "stations": [stay.where[1] for stay in place.stays],
        }
        assert {key: found[key] for key in values} == values, where
    treated = [
        [one.what, one.lot, f"{one.since.date()}", one.until and f"{one.until.date()}", one.hours]
        for one in records.treatments.values()
    ]
    assert sorted(treated, key=str) == sorted(wanted["treatments"], key=str)


@ALL
def test_checks_words_and_weather_are_kept(folder: Path) -> None:
    entries, wanted = opened(folder).journal.by_id.values(), expected(folder)["other_kinds"]
    assert [entry.check for entry in of(Checked, entries)] == wanted["checked"]
    assert [entry.check for entry in of(PutOff, entries)] == wanted["put_off"]
    assert [entry.day.isoformat() for entry in of(Forecast, entries)] == wanted["forecast"]
    assert set(wanted["noted"]) <= {entry.text for entry in of(Noted, entries)}


def of(kind: type[Any], entries: Iterable[Entry]) -> list[Any]:
    return [entry for entry in entries if isinstance(entry, kind)]


@ALL
def test_the_plan_is_what_it_was(folder: Path) -> None:
    season, wanted = opened(folder), expected(folder)
    wants = {lot.name: lot.want for lot in season.plan.lots}
    assert {name: wants[name] for name in wanted["plan"]} == wanted["plan"]
    assert [one.key for one in season.planned_problems] == wanted["planned_and_overruled"]
    depths = {name: crop.depth_mm for name, crop in season.plan.crops.crops.items()}
    found = {name: depth.best for name in wanted["own_depth_mm"] if (depth := depths[name])}
    assert found == wanted["own_depth_mm"]


@ALL
def test_planned_tests_and_what_was_learned_are_what_they_were(folder: Path) -> None:
    plan, wanted = opened(folder).plan, expected(folder)
    tests = [
        [one.name, list(one.lots), one.replicates, one.seeds, one.first_count, one.last_count,
         one.grow_out_below]
        for one in plan.tests
    ]  # fmt: skip
    assert tests == wanted.get("planned_tests", [])
    for crop, lots in wanted.get("own_lots", {}).items():
        own = plan.crops.crops[crop].own_lots
        assert [[one.lot, one.up, one.seeds] for one in own] == lots


@ALL
def test_what_came_up_of_each_lot_is_what_it_was(folder: Path) -> None:
    season = opened(folder)
    lots = {lot.name: lot for lot in season.plan.lots}
    for name, values in expected(folder)["lots"].items():
        figure = figure_of(lots[name], season.plan, season.records())
        low, high = figure.interval or (None, None)
        percents = {
            "percent": figure.percent,
            "low": low and 100 * low,
            "high": high and 100 * high,
        }
        counted = {
            "of": figure.of,
            "seeds_sown": figure.seeds_sown,
            "emerged": figure.emerged,
            "left_out": [one.sowing for one in figure.left_out],
        }
        assert counted == {key: values[key] for key in counted}, name
        assert percents == pytest.approx({key: values[key] for key in percents}, abs=0.006), name


@ALL
def test_readings_are_what_they_were(folder: Path) -> None:
    season, wanted = opened(folder), expected(folder)
    found = {
        f"{station} {quantity}": [
            [utc(datetime.fromtimestamp(at_s, UTC)), value, mark]
            for at_s, value, mark in zip(series.at_s, series.value, series.marks, strict=True)
        ]
        for (station, quantity), series in season.readings().items()
    }
    assert found == wanted["readings"]
    garbled = [[one.file, one.line] for one in season.reading_problems]
    assert garbled == wanted["garbled_readings"]


@ALL
def test_it_can_be_written_on(folder: Path, tmp_path: Path) -> None:
    copy = tmp_path / "season"
    copytree(folder, copy)
    before = {path.name: path.read_bytes() for path in (copy / "journal").iterdir()}
    season = OpenSeason(copy, "phone")
    (sowing, *_) = by_name(season.records())
    season.record(Counted(**BLANK, sowing=sowing, standing=3))
    assert OpenSeason(copy, "reader").records() == season.records()
    assert len(season.journal.by_id) == expected(folder)["entries"] + 1
    for path in (copy / "journal").iterdir():
        assert path.read_bytes().startswith(before.get(path.name, b""))


def test_this_version_has_its_season() -> None:
    version = tomllib.loads(PROJECT.read_text("utf-8"))["project"]["version"]
    assert version in {path.name for path in FOLDERS}


def test_every_kind_is_in_a_season() -> None:
    entries = [entry for one in FOLDERS for entry in opened(one).journal.by_id.values()]
    assert set(KINDS.values()) <= {type(entry) for entry in entries}
