"""A germination test in the app: begun, counted replicate by replicate, closed, put right."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

import pytest

from app_bench import SMALL, QuickPilot, rows, running, shown, text
from seedstart.app.app import SeedstartApp
from seedstart.app.forms.change_forms import ChangeForm
from seedstart.app.screens.lot_figures_screen import LotFiguresScreen
from seedstart.app.screens.seed_test_screen import SeedTestScreen

SEASON = """
title = "Seed library (invented)"
timezone = "Europe/Vienna"

[[station]]
name = "cupboard"
kind = "cabinet"
expected = "20C"
"""
TEST = """kind = "germination test"
lots = ["onion-red"]
replicates = 2
seeds = 50
station = "cupboard"
first_count = 6
last_count = 12
begin = 2027-03-01
grow_out_below = "60%"
"""
BEGUN, FIRST, LAST = date(2027, 3, 1), date(2027, 3, 7), date(2027, 3, 13)


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A seed library with a planned test."""
    (tmp_path / "season.toml").write_text(SEASON)
    (tmp_path / "lots.toml").write_text('[[lot]]\nname = "onion-red"\ncrop = "onion"\n')
    (tmp_path / "trials").mkdir()
    (tmp_path / "trials" / "spring.toml").write_text(TEST)
    return tmp_path


@asynccontextmanager
async def opened(library: Path, on: date) -> AsyncIterator[tuple[SeedstartApp, QuickPilot]]:
    """The test, on a day."""
    async with running(library, SMALL, on) as (app, pilot):
        app.push_screen(SeedTestScreen("spring", "onion-red"))
        await pilot.pause()
        yield app, pilot


async def begin(library: Path) -> None:
    async with opened(library, BEGUN) as (_, pilot):
        await pilot.press("space")


def row_of(app: SeedstartApp, replicate: int) -> str:
    return next(row for row in rows(app) if f"replicate {replicate} " in row)


async def test_space_begins_a_planned_test_with_all_its_replicates(library: Path) -> None:
    async with opened(library, BEGUN) as (app, pilot):
        assert "Nothing is sown of it yet." in text(app)
        assert "Space begun" in text(app)
        await pilot.press("space")
        assert "day 0; last count Sat 13 Mar" in rows(app)[0]
        assert row_of(app, 2).split()[-5:] == ["50", "·", "·", "·", "·"]
        assert "Space begun" not in text(app)


async def test_digits_count_a_replicate_and_enter_goes_on_to_the_next(library: Path) -> None:
    await begin(library)
    async with opened(library, FIRST) as (app, pilot):
        await pilot.press(*"14")
        assert "▐ 14" in row_of(app, 1)
        assert "normal ones, taken out" in text(app)
        await pilot.press("enter")
        assert "Replicates" not in text(app), "the second one is not counted today yet"
        await pilot.press(*"11", "enter")
        assert "Replicates 28 22 in 100: no more apart than chance" in text(app)
        assert row_of(app, 1).split()[1:6] == ["replicate", "1", "14", "14", "36"]
        assert "So far 25 of 100 normal: 25 in 100 (18 to 34). Not closed yet." in text(app)
        # a count of today that is typed again takes the place of the first
        await pilot.press("up", *"16", "enter")
        assert row_of(app, 1).split()[3:6] == ["16", "16", "34"]
        assert "So far 27 of 100 normal" in text(app)
        await pilot.press("u")
        assert row_of(app, 1).split()[3:6] == ["14", "14", "36"]


async def test_at_the_last_count_the_rest_has_to_add_up(library: Path) -> None:
    await begin(library)
    async with opened(library, FIRST) as (_, pilot):
        await pilot.press(*"14", "enter", *"11", "enter")
    async with opened(library, LAST) as (app, pilot):
        await pilot.press(
            *"5", "space", *"2", "space", *"3", "space", *"4", "space", *"19", "enter"
        )
        assert "36 left, 33 entered: 3 missing." in text(app)
        assert row_of(app, 1)[1] == "·"
        await pilot.press("backspace", "backspace", *"22", "enter")
        assert row_of(app, 1).split()[-4:] == ["2", "3", "4", "22"]
        # each in a part of its own
        await pilot.press(*"10", "tab", *"1", "tab", *"0", "tab", *"0", "tab", *"28", "enter")
        assert row_of(app, 2).split()[-4:] == ["1", "0", "0", "28"]
        assert "closed 13 Mar" in rows(app)[0]
        told = " ".join(text(app).split())
        assert "40 of 100 normal: 40 in 100 (31 to 50)." in told
        assert "Grow out for fresh seed: surely below 60." in told
        await pilot.press(*"5")
        assert "nothing to count here now" in text(app)


@pytest.mark.parametrize(
    ("typed", "says"),
    [("51", "50 lie there, not 51."), ("x", "“1x” is no number."), ("1 2", "“1 2” is no number.")],
)
async def test_what_cannot_be_is_refused_at_the_row_and_nothing_written(
    library: Path, typed: str, says: str
) -> None:
    await begin(library)
    async with opened(library, FIRST) as (app, pilot):
        keys = ["space" if key == " " else key for key in typed]
        await pilot.press(*(keys if typed[0].isdigit() else ["1", *keys]), "enter")
        assert says in text(app)
        await pilot.press("escape")
        assert row_of(app, 1).split()[3:6] == ["·", "0", "50"]


async def test_e_changes_what_is_planned_of_this_test(library: Path) -> None:
    async with opened(library, BEGUN) as (app, pilot):
        await pilot.press("e")
        assert isinstance(app.screen, ChangeForm)
        assert app.screen.texts["test"] == "spring"
        assert app.screen.texts["last_count"] == "12"


async def test_a_lots_figures_open_its_test(library: Path) -> None:
    async with running(library, SMALL, BEGUN) as (app, pilot):
        await pilot.press("l", "enter", "g", "enter")
        shown(app, SeedTestScreen)
        await pilot.press("escape")
        shown(app, LotFiguresScreen)
