"""Lots on the screen: the figures that `lots --json` prints, and one lot with its curve."""

from pathlib import Path

import pytest

from app_bench import LARGE, SMALL, rows, running, sample, shown, text
from runner import run_json
from seedstart.app.screens.compare_screen import CompareScreen
from seedstart.app.screens.lot_screen import LotScreen
from seedstart.app.screens.lots_screen import LotsScreen


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@pytest.mark.parametrize("size", [(80, 40), LARGE])
async def test_each_lot_shows_the_figures_of_the_command(
    folder: Path, size: tuple[int, int]
) -> None:
    printed = run_json("lots", "--season", str(folder), "--on", "2026-04-10")
    async with running(folder, size) as (app, pilot):
        await pilot.press("l", "tab")
        await pilot.pause()
        listed = rows(app)
        for lot in printed:
            row = next(row for row in listed if row[3:].startswith(lot["lot"]))
            if lot["percent"] is not None:
                low, high = lot["percent_low"], lot["percent_high"]
                assert f"{lot['percent']:.0f} % ({low:.0f}–{high:.0f})" in row
            if lot["t50_days"] is not None and lot["percent"] is not None:
                assert f"day {lot['t50_days']:.0f} " in row
        await pilot.press("tab")
        await pilot.pause()
        for lot in printed:
            row = next(row for row in rows(app) if row[3:].startswith(lot["lot"]))
            assert (lot["state"] == "over") == (" over " in row[:30])


async def test_a_lot_that_waits_says_for_how_long_and_what_is_wrong(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l")
        await pilot.pause()
        # sown on 1 April, looked at on 10 April, on a mat that died
        waits = next(row for row in rows(app) if "pepper-long" in row)
        assert waits[1] == "!"
        assert "waiting 9 " in waits
        assert "too cold: upper shelf" in waits


async def test_two_rows_are_about_the_lot_under_the_cursor(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l")
        await pilot.pause()
        assert "leek-giant   64 sown 8 Mar for 48 plants; 54 up." in rows(app)[-4]
        assert "Seed of 2025; label minimum 60 %" in rows(app)[-3]
        await pilot.press("down")
        await pilot.pause()
        assert "onion-red/2   200 sown 15 Mar" in rows(app)[-4]


async def test_the_list_is_put_in_another_order_and_the_cursor_stays_on_its_lot(
    folder: Path,
) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "down", "down", "o")
        await pilot.pause()
        assert shown(app, LotsScreen).subject() == ("lot", "celeriac")
        listed = [line.is_urgent for line in shown(app, LotsScreen).lines.items]
        assert listed == sorted(listed, reverse=True)
        assert any(listed)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_lot_opens_on_what_to_do_its_bars_and_where_it_stands(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, pilot):
        await pilot.press("l", "down", "down", "down", "enter")
        await pilot.pause()
        shown(app, LotScreen)
        page = rows(app)
        assert "Lot pepper-long" in page[0]
        assert page[1].startswith(" Warmer:")  # its mat is dead
        told = text(app)
        assert "┄ sown" in told
        assert "░" in told
        where = next(at for at, row in enumerate(page) if "Where they stand" in row)
        assert "heat mat, tray M" in page[where + 1]
        sowings = next(at for at, row in enumerate(page) if row.startswith(" Sowings"))
        assert page[sowings + 1].split()[:4] == ["pepper-long", "1", "Apr", "21"]
        await pilot.press("end")
        await pilot.pause()
        assert "counted pepper-long: 0 standing" in text(app)
        await pilot.press("escape")
        shown(app, LotsScreen)


async def test_another_sowing_and_another_lot_can_be_looked_at(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "down", "enter")
        await pilot.pause()
        assert " 200 ┄" in text(app)  # the latest first
        await pilot.press("tab")
        await pilot.pause()
        assert " 160 ┄" in text(app)
        await pilot.press("right")
        await pilot.pause()
        assert "Lot celeriac" in rows(app)[0]
        await pilot.press("left", "left")
        await pilot.pause()
        assert "Lot leek-giant" in rows(app)[0]
        await pilot.press("escape")
        shown(app, LotsScreen)


async def test_from_a_lots_page_another_is_put_beside_it(folder: Path) -> None:
    async with running(folder, SMALL) as (app, pilot):
        await pilot.press("l", "enter", "b", *"thyme", "enter")
        await pilot.pause()
        assert shown(app, CompareScreen).names == ("leek-giant", "thyme")


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
