"""Light of a station: keys in, words on the screen out."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from app_bench import SMALL, QuickPilot, journal_lines, running, sample, shown, text
from seedstart.app.app import SeedstartApp
from seedstart.app.screens.light_screen import LightScreen
from seedstart.app.screens.stations_screen import StationsScreen


@asynccontextmanager
async def light_of(
    tmp_path: Path, *keys: str
) -> AsyncIterator[tuple[SeedstartApp, QuickPilot, Path]]:
    folder = sample(tmp_path)
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("s", *keys, "i")
        shown(app, LightScreen)
        yield app, pilot, folder


async def test_the_map_and_the_sentence_stand_on_one_screen(tmp_path: Path) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, _):
        told = text(app)
        assert "upper shelf, 2.4 × 0.7 m: 4 white strips of 36 µmol/s" in told
        assert "Too dark for" in told
        assert "42   53   56   56   57" in told  # cells summed elsewhere
        await pilot.press("w", "end")
        assert "residual-current device" in text(app)
        await pilot.press("escape")
        shown(app, StationsScreen)


async def test_another_setting_is_tried_and_written_only_by_enter(tmp_path: Path) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press("left", "left", "plus")
        told = text(app)
        assert "18 cm over the leaves" in told
        assert "16.5 h a day" in told
        assert "Tried, not written" in told
        assert journal_lines(folder) == before
        await pilot.press("enter")
        (line,) = journal_lines(folder)[len(before) :]
        assert '"lamp_hours":16.5,"lamp_height_mm":180.0' in line
        assert "Tried, not written" not in text(app)
        await pilot.press("u")
        assert "20 cm over the leaves" in text(app)


async def test_nothing_is_written_where_nothing_was_tried(tmp_path: Path) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press("enter")
        assert journal_lines(folder) == before
        assert "Nothing was changed" in text(app)


@pytest.mark.parametrize("key", ["left", "plus", "enter", "w"])
async def test_a_station_without_lamps_says_so_and_no_key_harms(tmp_path: Path, key: str) -> None:
    async with light_of(tmp_path) as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press(key)
        assert "No lamps are written down for it." in text(app)
        assert journal_lines(folder) == before
