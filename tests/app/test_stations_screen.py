"""The stations, on a copy of the sample season: keys in, words on the screen out."""

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from app_bench import DAY, LARGE, SMALL, QuickPilot, listed, running, sample, shown, text
from runner import run_json
from seedstart.app.app import SeedstartApp
from seedstart.app.screens.stations_screen import StationScreen, StationsScreen
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Moved, Read
from seedstart.tracking.whereabouts import used_m2, whereabouts

LIST = "#stations"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@asynccontextmanager
async def stations(
    folder: Path, size: tuple[int, int] = SMALL
) -> AsyncIterator[tuple[SeedstartApp, QuickPilot]]:
    async with running(folder, size) as (app, pilot):
        await pilot.press("s")
        shown(app, StationsScreen)
        yield app, pilot


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_station_has_a_line_in_walking_order(
    folder: Path, size: tuple[int, int]
) -> None:
    names = [station.name for station in OpenSeason(folder, "test", DAY).plan.stations]
    async with stations(folder, size) as (app, _):
        lines = listed(app, LIST)
        assert len(lines) == len(names)
        assert all(name in line for name, line in zip(names, lines, strict=True))


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_station_too_cold_for_what_waits_there_is_marked_in_words(
    folder: Path, size: tuple[int, int]
) -> None:
    # pepper-lantern waits on the north sill, where the story has some 12 °C; Harrington's table
    # gives pepper 60 °F at least (tests/reference/germination_temperature.csv).
    async with stations(folder, size) as (app, pilot):
        (sill,) = (line for line in listed(app, LIST) if "north sill" in line)
        assert sill[1:].startswith("! ")
        await pilot.press("down", "down", "down")
        told = text(app)
        assert "too cold for" in told
        assert "pepper from 15.6 °C" in told  # the limit in the curve
        assert "┄" in told


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_list_says_how_full_each_station_is_now(
    folder: Path, size: tuple[int, int]
) -> None:
    opened = OpenSeason(folder, "test", DAY)
    found = whereabouts(opened.records(), opened.plan)
    async with stations(folder, size) as (app, _):
        lines = listed(app, LIST)
        for station in opened.plan.stations:
            here = [one for one in found if one.station == station.name]
            (line,) = (line for line in lines if station.name in line)
            if station.area_m is not None and here:
                share = used_m2(here) / (station.area_m[0] * station.area_m[1])
                assert f" {100 * share:.0f} %  " in line


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_how_full_it_gets_is_what_space_prints(folder: Path, size: tuple[int, int]) -> None:
    weeks = run_json("space", "--season", str(folder), "--on", DAY.isoformat())["weeks"]
    percents = [f"{week['percent']:.0f} %" for week in weeks if week["station"] == "heat mat"]
    assert percents
    async with stations(folder, size) as (app, pilot):
        await pilot.press("enter", "end")
        lines = text(app).splitlines()
        shown_ = [line for line in lines if re.search(r"20\d\d-W\d\d", line)]
        assert len(shown_) == len(percents)
        for percent, line in zip(percents, shown_, strict=True):
            assert percent in line


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_enter_opens_one_station_with_each_sowing_that_stands_there(
    folder: Path, size: tuple[int, int]
) -> None:
    records = OpenSeason(folder, "test", DAY).records()
    there = records.sowings_in(("station", "heat mat"))
    async with stations(folder, size) as (app, pilot):
        await pilot.press("enter")
        shown(app, StationScreen)
        await pilot.press("end")
        told = text(app)
        await pilot.press("home")
        told += text(app)
        assert "What stands there" in told
        assert there
        for sowing in there:
            assert records.standings[sowing].name in told
        await pilot.press("right")
        assert "upper shelf (shelf)" in text(app)
        await pilot.press("left", "left")
        assert "yard tables (outdoors)" in text(app)
        await pilot.press("escape")
        shown(app, StationsScreen)


async def test_where_it_is_wide_what_stands_there_is_beside_the_curve(folder: Path) -> None:
    async with stations(folder, LARGE) as (app, _pilot):
        told = text(app)
        assert "What stands there" in told
        assert "Space week by week" in told
    async with stations(folder) as (app, _):
        assert "Space week by week" not in text(app)


async def test_what_another_writer_does_shows_without_a_restart(folder: Path) -> None:
    async with stations(folder) as (app, pilot):
        assert " 0 %" in listed(app, LIST)[-1]
        other = OpenSeason(folder, "other", DAY)
        tray = next(
            name for (kind, name), place in other.records().places.items()
            if kind == "tray" and place.station_at() == "cold frame"
        )  # fmt: skip
        other.record(Moved(**BLANK, tray=tray, station="yard tables"))
        other.record(Read(**BLANK, station="yard tables", quantity="soil_c", value=9.5))
        app.catch_up()
        await pilot.pause()
        assert " 0 %" not in listed(app, LIST)[-1]
        assert "9.5 °C" in listed(app, LIST)[-1]


async def test_a_single_reading_is_a_point_and_no_curve(folder: Path) -> None:
    other = OpenSeason(folder, "other", DAY)
    other.record(Read(**BLANK, station="yard tables", quantity="soil_c", value=9.5))
    async with stations(folder) as (app, pilot):
        await pilot.press("end")
        assert "●" in text(app)
        assert "9.5 °C in the medium" in text(app)


async def test_without_stations_the_page_says_how_to_add_one(folder: Path) -> None:
    (folder / "season.toml").write_text('timezone = "Europe/Tallinn"\n', "utf-8")
    (folder / "lots.toml").unlink()
    for journal in (folder / "journal").glob("*.jsonl"):
        journal.unlink()
    async with stations(folder) as (app, pilot):
        assert "No stations yet" in text(app)
        assert "▌▸ where trays stand" in text(app)
        await pilot.press("a", *"tent", "enter", *"shelf", "ctrl+s")
        assert "No stations yet" not in text(app)
        assert listed(app, LIST)[0][1:].startswith("  tent ")
        await pilot.press("u")
        assert "No stations yet" in text(app)


async def test_the_station_looked_at_is_offered_to_the_form(folder: Path) -> None:
    async with stations(folder) as (app, pilot):
        await pilot.press("down")
        assert shown(app, StationsScreen).subject() == ("station", "upper shelf")
        await pilot.press("enter")
        assert shown(app, StationScreen).subject() == ("station", "upper shelf")


async def test_a_line_says_warmth_light_and_room_and_over_full_weeks_are_marked(
    folder: Path,
) -> None:
    async with stations(folder) as (app, _pilot):
        lines = listed(app, LIST)
        (mat,) = (line for line in lines if "heat mat" in line)
        assert "17.1 °C" in mat
        assert "16.8–24.9" in mat
        assert "no lamp" in mat
        (shelf,) = (line for line in lines if "lower shelf" in line)
        weeks = run_json("space", "--season", str(folder), "--on", DAY.isoformat())["weeks"]
        too_full = [
            week for week in weeks if week["station"] == "lower shelf" and week["percent"] > 100
        ]
        assert shelf[1:].startswith("! ")
        assert shelf[2:].count("!") == len(too_full) == 4
        assert "lower shelf   219 % full from 6 Apr" in text(app)


async def test_in_60_columns_the_room_stays_and_the_light_goes(folder: Path) -> None:
    async with stations(folder, (60, 16)) as (app, _pilot):
        (shelf,) = (line for line in listed(app, LIST) if "lower shelf" in line)
        assert " 92 %  !!!!" in shelf
        assert "mol" not in shelf
