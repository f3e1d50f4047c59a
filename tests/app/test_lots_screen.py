"""Lots on the screen: the figures that `lots --json` prints, and one lot with its curve."""

from pathlib import Path

import pytest

from app_bench import LARGE, SMALL, rows, running, sample, shown, text
from runner import run_json
from seedstart.app.screens.lots_screen import LotScreen, LotsScreen
from seedstart.drawing.lines import as_text


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@pytest.mark.parametrize("size", [(80, 40), LARGE])
async def test_each_lot_shows_the_figures_of_the_command(
    folder: Path, size: tuple[int, int]
) -> None:
    printed = run_json("lots", "--season", str(folder), "--on", "2026-04-10")
    async with running(folder, size) as (app, pilot):
        await pilot.press("l")
        await pilot.pause()
        listed = rows(app)
        for lot in printed:
            row = next(row for row in listed if row[3:].startswith(f"{lot['lot']} "))
            if lot["state"] == "over":
                assert "over" in row
            if lot["percent"] is not None:
                low, high = lot["percent_low"], lot["percent_high"]
                assert f"{lot['percent']:.0f} % ({low:.0f}–{high:.0f})" in row
            if lot["t50_days"] is not None and lot["percent"] is not None:
                assert f"{lot['t50_days']:.1f} d" in row


async def test_a_lot_that_waits_says_for_how_long(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l")
        await pilot.pause()
        # sown on 1 April, looked at on 10 April
        assert "waiting 9 d" in next(row for row in rows(app) if "pepper-long" in row)


async def test_a_wide_screen_shows_crop_and_station_too(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("l")
        await pilot.pause()
        aubergine = next(row for row in rows(app) if "aubergine" in row)
        assert "eggplant" in aubergine
        assert "heat mat" in aubergine


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_lot_opens_on_its_curve_its_advice_and_its_journal(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, pilot):
        await pilot.press("l", "down", "down", "down", "enter")
        await pilot.pause()
        sheet = shown(app, LotScreen)
        assert "Lot pepper-long" in rows(app)[0]
        told = text(app)
        assert "● counted" in told
        assert "21 sown" in told
        assert "Warmer:" in told  # its mat is dead
        words = " ".join(" ".join(as_text(line) for line in sheet._words(60)).split())
        assert "21 seeds of pepper-long" in words
        assert "counted pepper-long: 0 standing" in words
        await pilot.press("escape")
        shown(app, LotsScreen)


async def test_another_sowing_of_the_lot_can_be_looked_at(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "down", "enter")
        await pilot.pause()
        assert "onion-red/2 comes up" in text(app)  # the latest first
        await pilot.press("right")
        await pilot.pause()
        assert "onion-red comes up" in text(app)


async def test_a_lot_that_was_not_sown_says_so(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "end", "up", "up", "enter")
        await pilot.pause()
        lot = shown(app, LotScreen).lot_name
        printed = run_json("lots", lot, "--season", str(folder), "--on", "2026-04-10")
        assert ("None of it has been sown yet." in text(app)) == (not printed["sowings"])


async def test_what_is_looked_at_is_offered_to_the_form(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "down")
        assert shown(app, LotsScreen).subject() == ("lot", "onion-red")
        await pilot.press("enter")
        await pilot.pause()
        assert shown(app, LotScreen).subject() == ("lot", "onion-red")
