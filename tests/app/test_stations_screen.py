"""The stations, on a copy of the sample season: keys in, words on the screen out."""

import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot

from runner import run_json
from seedstart import disk
from seedstart.app.app import SeedstartApp
from seedstart.app.line_list import LineList
from seedstart.app.stations import StationScreen, StationsScreen
from seedstart.open_season import OpenSeason
from seedstart.season.entries import BLANK, Moved, Read

DAY = date(2026, 4, 10)
SIZES = [(80, 24), (120, 40)]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))


@asynccontextmanager
async def stations(folder: Path, size: tuple[int, int]) -> AsyncIterator[Pilot[None]]:
    app = SeedstartApp(folder, "test", DAY)
    async with app.run_test(size=size) as pilot:
        await pilot.press("s")
        assert page(pilot) is StationsScreen
        yield pilot


def page(pilot: Pilot[None]) -> type[object]:
    return type(pilot.app.screen)


def text(pilot: Pilot[None]) -> str:
    strips = pilot.app.screen._compositor.render_strips()
    return "\n".join(strip.text for strip in strips)


def listed(pilot: Pilot[None]) -> list[str]:
    """The lines of the list, as they are drawn."""
    lines = pilot.app.screen.query_one("#stations", LineList)
    return [lines.render_line(row).text for row in range(min(len(lines.items), lines.size.height))]


@pytest.mark.parametrize("size", SIZES)
async def test_every_station_has_a_line_in_walking_order(
    folder: Path, size: tuple[int, int]
) -> None:
    names = [station.name for station in OpenSeason(folder, "test", DAY).plan.stations]
    async with stations(folder, size) as pilot:
        lines = listed(pilot)
        assert len(lines) == len(names)
        assert all(name in line for name, line in zip(names, lines, strict=True))


@pytest.mark.parametrize("size", SIZES)
async def test_a_station_too_cold_for_what_waits_there_is_marked_in_words(
    folder: Path, size: tuple[int, int]
) -> None:
    # pepper-lantern waits on the north sill, where the story has some 12 °C; Harrington's table
    # gives pepper 60 °F at least (tests/reference/germination_temperature.csv).
    async with stations(folder, size) as pilot:
        (sill,) = (line for line in listed(pilot) if "north sill" in line)
        assert sill.startswith("! ")
        await pilot.press("down", "down", "down")
        shown = text(pilot)
        assert "too cold for pepper" in shown
        assert "pepper from 15.6 °C" in shown  # the limit in the curve
        assert "┄" in shown


@pytest.mark.parametrize("size", SIZES)
async def test_how_full_it_is_equals_what_space_prints(folder: Path, size: tuple[int, int]) -> None:
    weeks = run_json("space", "--season", str(folder))["weeks"]
    percents = {
        week["station"]: f"{week['percent']:.0f} %"
        for week in weeks
        if week["monday"] == "2026-04-06" and week["percent"] is not None
    }
    assert percents
    async with stations(folder, size) as pilot:
        lines = listed(pilot)
        for name, percent in percents.items():
            (line,) = (line for line in lines if name in line)
            assert line.rstrip().endswith(percent)


@pytest.mark.parametrize("size", SIZES)
async def test_enter_opens_one_station_with_each_sowing_that_stands_there(
    folder: Path, size: tuple[int, int]
) -> None:
    records = OpenSeason(folder, "test", DAY).records()
    there = records.sowings_in(("station", "heat mat"))
    async with stations(folder, size) as pilot:
        await pilot.press("enter")
        assert page(pilot) is StationScreen
        await pilot.press("end")
        shown = text(pilot)
        await pilot.press("home")
        shown += text(pilot)
        assert "What stands there" in shown
        assert there
        for sowing in there:
            assert records.standings[sowing].name in shown
        await pilot.press("right")
        assert "upper shelf (shelf)" in text(pilot)
        await pilot.press("left", "left")
        assert "yard tables (outdoors)" in text(pilot)
        await pilot.press("escape")
        assert page(pilot) is StationsScreen


async def test_where_it_is_wide_what_stands_there_is_beside_the_curve(folder: Path) -> None:
    async with stations(folder, (120, 40)) as pilot:
        shown = text(pilot)
        assert "What stands there" in shown
        assert "Space week by week" in shown
    async with stations(folder, (80, 24)) as pilot:
        assert "Space week by week" not in text(pilot)


async def test_what_another_writer_does_shows_without_a_restart(folder: Path) -> None:
    async with stations(folder, (80, 24)) as pilot:
        assert "nothing" in listed(pilot)[-1]
        other = OpenSeason(folder, "other", DAY)
        tray = next(
            name for (kind, name), place in other.records().places.items()
            if kind == "tray" and place.station_at() == "cold frame"
        )  # fmt: skip
        other.record(Moved(**BLANK, tray=tray, station="yard tables"))
        other.record(Read(**BLANK, station="yard tables", quantity="soil_c", value=9.5))
        app = pilot.app
        assert isinstance(app, SeedstartApp)
        app.catch_up()
        await pilot.pause()
        assert "1 tray" in listed(pilot)[-1]
        assert "9.5 °C" in listed(pilot)[-1]


async def test_a_single_reading_is_a_point_and_no_curve(folder: Path) -> None:
    other = OpenSeason(folder, "other", DAY)
    other.record(Read(**BLANK, station="yard tables", quantity="soil_c", value=9.5))
    async with stations(folder, (80, 24)) as pilot:
        await pilot.press("end")
        assert "●" in text(pilot)
        assert "9.5 °C in the medium" in text(pilot)
