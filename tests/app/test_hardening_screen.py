"""Hardening off, on a copy of the sample season: keys in, journal lines and words out."""

import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from runner import run, run_json
from seedstart import disk
from seedstart.app.app import SeedstartApp
from seedstart.app.hardening import HardeningOfOne, HardeningScreen
from seedstart.app.line_list import LineList
from seedstart.open_season import OpenSeason
from seedstart.season.entries import BLANK, Forecast, Hardened, Held

DAY = date(2026, 4, 10)
SIZES = [(80, 24), (120, 40)]
# The story has it out on 8 and 9 April (tests/sample/sample_story.py).
OUT = "cabbage-early.1"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))


@asynccontextmanager
async def hardening(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pilot[None]]:
    app = SeedstartApp(folder, "test", DAY)
    async with app.run_test(size=size) as pilot:
        await pilot.press("h")
        assert page(pilot) is HardeningScreen
        yield pilot


def page(pilot: Pilot[None]) -> type[object]:
    return type(pilot.app.screen)


def text(pilot: Pilot[None]) -> str:
    strips = pilot.app.screen._compositor.render_strips()
    return "\n".join(strip.text for strip in strips)


def listed(pilot: Pilot[None]) -> list[str]:
    lines = pilot.app.screen.query_one("#sowings", LineList)
    return [lines.render_line(row).text for row in range(min(len(lines.items), lines.size.height))]


def written(folder: Path) -> list[Hardened | Held]:
    """What this writer wrote on hardening off and did not take back."""
    journal = OpenSeason(folder, "reader", DAY).journal
    return [
        entry
        for entry in journal.by_id.values()
        if isinstance(entry, Hardened | Held)
        and entry.by == "test"
        and entry.id not in journal.struck
    ]


@pytest.mark.parametrize("size", SIZES)
async def test_the_lines_equal_what_harden_prints(folder: Path, size: tuple[int, int]) -> None:
    told = run_json("harden", "--season", str(folder), "--on", DAY.isoformat())
    assert OUT in [one["sowing"] for one in told]
    async with hardening(folder, size) as pilot:
        lines = listed(pilot)
        for one, line in zip(told, lines, strict=False):
            assert one["sowing"] in line
            assert f"{one['step']}: {one['hours']:g} h" in line
            assert one["today"] in line
            day = date.fromisoformat(one["set_out"]["best"])
            assert f"{day.day} {day:%b}" in line


@pytest.mark.parametrize("size", SIZES)
async def test_the_chosen_one_shows_its_days_and_what_is_against_setting_out(
    folder: Path, size: tuple[int, int]
) -> None:
    async with hardening(folder, size) as pilot:
        assert listed(pilot)[0].strip().startswith(OUT)
        shown = text(pilot)
        assert f"{OUT}: step 3 of 10" in shown
        assert "8 Apr 2 h, 9 Apr 3 h" in shown
        assert "8 more days of hardening off" in shown
        await pilot.press("enter")
        assert page(pilot) is HardeningOfOne
        await pilot.press("end")
        last = run("harden", OUT, "--season", str(folder), "--on", DAY.isoformat()).stdout
        assert last.split()[-1] in text(pilot)  # the end of the last source
        await pilot.press("escape")
        assert page(pilot) is HardeningScreen


async def test_space_writes_the_hours_of_the_step_and_u_takes_them_back(folder: Path) -> None:
    async with hardening(folder) as pilot:
        await pilot.press("space")
        (entry,) = written(folder)
        assert isinstance(entry, Hardened)
        assert (entry.sowing, entry.hours, entry.night) == (OUT, 4.0, False)
        assert listed(pilot)[0].startswith("✓ ")
        assert "●●●○" in listed(pilot)[0]
        await pilot.press("space")
        assert "written down already" in text(pilot)
        assert len(written(folder)) == 1
        await pilot.press("u")
        assert written(folder) == []
        assert "●●○" in listed(pilot)[0]


async def test_a_day_that_the_forecast_holds_is_written_with_its_reason(folder: Path) -> None:
    other = OpenSeason(folder, "other", DAY)
    other.record(Forecast(**BLANK, day=DAY, tmax_c=12.0, gust_ms=16.0))
    async with hardening(folder) as pilot:
        assert "held" in listed(pilot)[0]
        assert "Gusts of 16 m/s" in text(pilot)
        await pilot.press("k")
        (entry,) = written(folder)
        assert isinstance(entry, Held)
        assert entry.why.startswith("Gusts of 16 m/s")
        assert "+1" in listed(pilot)[0]


async def test_a_day_held_before_it_began_is_told_and_lets_setting_out_wait(folder: Path) -> None:
    other = OpenSeason(folder, "other", DAY)
    async with hardening(folder) as pilot:
        lines = pilot.app.screen.query_one("#sowings", LineList)
        await pilot.press("down")
        one = lines.item
        assert one is not None
        assert one.begun is None
        await pilot.press("k")
        (entry,) = written(folder)
        assert isinstance(entry, Held)
        now = lines.item
        assert now is not None
        assert (now.today, now.written) == ("held", True)
        assert now.set_out.best > one.set_out.best
    assert other.today == DAY


async def test_with_nothing_to_harden_off_it_says_so_and_keys_do_nothing(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))
    for journal in (folder / "journal").glob("*.jsonl"):
        journal.unlink()
    async with hardening(folder) as pilot:
        assert "Nothing is being hardened off" in text(pilot)
        await pilot.press("space", "k", "enter")
        assert written(folder) == []
        assert page(pilot) is HardeningScreen


async def test_what_another_writer_wrote_shows_without_a_restart(folder: Path) -> None:
    async with hardening(folder) as pilot:
        other = OpenSeason(folder, "other", DAY)
        other.record(Held(**BLANK, sowing=OUT, why="hail"))
        app = pilot.app
        assert isinstance(app, SeedstartApp)
        app.catch_up()
        await pilot.pause()
        assert "Kept in: hail." in text(pilot)


async def test_on_another_day_the_missed_ones_are_told(folder: Path) -> None:
    app = SeedstartApp(folder, "test", DAY + timedelta(days=3))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h")
        assert "10 Apr missed" in text(pilot)
