"""Light of a station: keys in, words on the screen out."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from threading import Event

import pytest

from app_bench import SMALL, QuickPilot, journal_lines, running, sample, shown, text
from seedstart.app.app import SeedstartApp
from seedstart.app.screens.light_screen import LightScreen
from seedstart.app.screens.stations_screen import StationsScreen
from seedstart.planning.light.light_options import LightOption, light_options
from seedstart.planning.light.station_light import StationLight


@asynccontextmanager
async def light_of(
    tmp_path: Path, *keys: str, waits: bool = True
) -> AsyncIterator[tuple[SeedstartApp, QuickPilot, Path]]:
    folder = sample(tmp_path)
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("s", *keys, "i")
        shown(app, LightScreen)
        if waits:
            await app.workers.wait_for_complete()
            await pilot.pause()
        yield app, pilot, folder


async def test_the_map_and_the_sentence_stand_on_one_screen(tmp_path: Path) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, _):
        told = text(app)
        assert "Light of upper shelf" in told
        assert "2.4 × 0.7 m: 4 white strips of 36 µmol/s, 20 cm over the leaves" in told
        assert "Too dark for" in told
        assert "42   53   56   56   57" in told  # cells summed elsewhere
        assert "▸ 10 strips, 10 cm high" in told
        await pilot.press("w", "end")
        assert "residual-current device" in text(app)
        await pilot.press("escape")
        assert "What to set" in text(app)
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
        assert "tried, 18 cm" not in text(app)
        await pilot.press("u")
        assert "20 cm over the leaves" in text(app)


async def test_what_is_tried_is_forgotten_by_escape_before_the_screen_is_left(
    tmp_path: Path,
) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press("left", "escape")
        assert "20 cm over the leaves" in text(shown(app, LightScreen).app)
        assert "tried" not in text(app)
        await pilot.press("escape")
        shown(app, StationsScreen)
        assert journal_lines(folder) == before


async def test_enter_on_a_line_sets_the_lamps_as_it_says(tmp_path: Path) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press("down", "down", "enter")  # as they hang, 10 cm high
        (line,) = journal_lines(folder)[len(before) :]
        assert '"lamp_height_mm":100.0' in line
        assert "lamp_hours" not in line  # they burn 16 h as it is
        assert "10 cm over the leaves" in text(app)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        (("enter",), "Hang them so"),  # ten strips: there are four
        (("end", "enter"), "Nothing was changed"),  # as now
    ],
)
async def test_nothing_is_written_where_nothing_can_be_set(
    tmp_path: Path, keys: tuple[str, ...], says: str
) -> None:
    async with light_of(tmp_path, "down") as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press(*keys)
        assert journal_lines(folder) == before
        assert says in text(app)


async def test_keys_go_on_while_it_looks_what_to_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = Event()

    def slowly(light: StationLight) -> tuple[LightOption, ...]:
        found.wait(20)
        return light_options(light)

    monkeypatch.setattr("seedstart.app.screens.light_screen.light_options", slowly)
    async with light_of(tmp_path, "down", waits=False) as (app, pilot, _):
        assert "What to set: looking" in text(app)
        await pilot.press("left")
        assert "19 cm over the leaves" in text(app)
        found.set()
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "10 strips, 10 cm high" in text(app)
        assert "19 cm over the leaves" in text(app)


@pytest.mark.parametrize("key", ["left", "plus", "enter", "w"])
async def test_a_station_without_lamps_says_so_and_no_key_harms(tmp_path: Path, key: str) -> None:
    async with light_of(tmp_path) as (app, pilot, folder):
        before = journal_lines(folder)
        await pilot.press(key)
        assert "No lamps are written down for it." in text(app)
        assert "set it so" not in text(app)
        assert journal_lines(folder) == before
