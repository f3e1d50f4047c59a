"""Hardening off, on a copy of the sample season: keys in, journal lines and words out."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest

from app_bench import DAY, LARGE, SMALL, QuickPilot, listed, running, sample, shown, text
from runner import run, run_json
from seedstart.app.app import SeedstartApp
from seedstart.app.screens.hardening_screen import HardeningOfOne, HardeningScreen
from seedstart.drawing.harden_days import LEGEND
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Forecast, Hardened, Held

LIST, BY = "#sowings", "test"
# The story has it out on 8 and 9 April (tests/sample/sample_story.py).
OUT = "cabbage-early.1"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


@asynccontextmanager
async def hardening(
    folder: Path, size: tuple[int, int] = SMALL, on: date = DAY
) -> AsyncIterator[tuple[SeedstartApp, QuickPilot]]:
    async with running(folder, size, on, by=BY) as (app, pilot):
        await pilot.press("h")
        shown(app, HardeningScreen)
        yield app, pilot


def written(folder: Path) -> list[Hardened | Held]:
    """What this writer wrote on hardening off and did not take back."""
    journal = OpenSeason(folder, "reader", DAY).journal
    return [
        entry
        for entry in journal.by_id.values()
        if isinstance(entry, Hardened | Held) and entry.by == BY and entry.id not in journal.struck
    ]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_lines_equal_what_harden_prints(folder: Path, size: tuple[int, int]) -> None:
    told = run_json("harden", "--season", str(folder), "--on", DAY.isoformat())
    assert OUT in [one["sowing"] for one in told]
    async with hardening(folder, size) as (app, _):
        lines = listed(app, LIST)
        for one, line in zip(told, lines, strict=False):
            assert one["sowing"] in line
            assert f"{one['hours']:g}" in line.split()[1:4]
            day = date.fromisoformat(one["set_out"]["best"])
            assert f"{day.day} {day:%b}" in line


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_chosen_one_shows_its_days_and_what_is_against_setting_out(
    folder: Path, size: tuple[int, int]
) -> None:
    async with hardening(folder, size) as (app, pilot):
        assert listed(app, LIST)[0][1:].strip().startswith(OUT)
        told = text(app)
        assert f"{OUT}: step 3 of 10" in told
        assert "8 Apr 2 h, 9 Apr 3 h" in told
        assert "8 more days of hardening off" in told
        await pilot.press("enter")
        shown(app, HardeningOfOne)
        await pilot.press("end")
        last = run("harden", OUT, "--season", str(folder), "--on", DAY.isoformat()).stdout
        assert last.split()[-1] in text(app)  # the end of the last source
        await pilot.press("escape")
        shown(app, HardeningScreen)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_weather_stands_once_over_the_days_of_all(
    folder: Path, size: tuple[int, int]
) -> None:
    # tests/sample/sample_weather.py: the forecast of 10 April; it blows on the 12th, and the night
    # before is the one at -1 °C.
    async with hardening(folder, size) as (app, _):
        rows = listed(app, "#columns")
        assert [row[:16].strip() for row in rows] == [
            "forecast 06:00", "day °C", "night after °C", "gusts m/s, rain",
        ]  # fmt: skip
        assert listed(app, "#legend")[0].strip() == LEGEND
        assert rows[0].split()[2:5] == ["today", "Sat11", "Sun12"]
        assert rows[1].split()[2:6] == ["12", "14", "6", "7"]
        assert rows[2].split()[3:7] == ["5", "-1", "-1", "0"]
        assert rows[3].split()[3:7] == ["5", "4", "14", "!r"]
        assert listed(app, LIST)[0].removeprefix("▌").split()[1:8] == [
            "▃",
            "4",
            "▃",
            "5",
            "in",
            "▄",
            "6~",
        ]


async def test_without_a_forecast_the_weather_is_one_row_that_says_how_to_come_by_one(
    folder: Path,
) -> None:
    for known in ("forecast.csv", "yard.csv"):
        (folder / "weather" / known).unlink()
    async with hardening(folder) as (app, _):
        rows = listed(app, "#columns")
        assert len(rows) == 2
        assert rows[1].startswith("no forecast: n, then “forecast”")
        assert "▃ 4   ▃ 5" in listed(app, LIST)[0]


async def test_space_writes_the_hours_of_the_step_and_u_takes_them_back(folder: Path) -> None:
    async with hardening(folder) as (app, pilot):
        await pilot.press("space")
        (entry,) = written(folder)
        assert isinstance(entry, Hardened)
        assert (entry.sowing, entry.hours, entry.night) == (OUT, 4.0, False)
        assert listed(app, LIST)[0][1:].startswith("✓ ")
        assert "✓ 4 " in listed(app, LIST)[0][2:]
        await pilot.press("space")
        assert "already written down" in text(app)
        assert len(written(folder)) == 1
        await pilot.press("u")
        assert written(folder) == []
        assert "▃ 4 " in listed(app, LIST)[0]


async def test_a_day_that_the_forecast_holds_is_written_with_its_reason(folder: Path) -> None:
    (folder / "weather" / "forecast.csv").unlink()  # it would move setting out too
    other = OpenSeason(folder, "other", DAY)
    other.record(Forecast(**BLANK, day=DAY, tmax_c=12.0, gust_ms=16.0))
    async with hardening(folder) as (app, pilot):
        assert "in   " in listed(app, LIST)[0]
        assert "Gusts of 16 m/s" in text(app)
        await pilot.press("k")
        (entry,) = written(folder)
        assert isinstance(entry, Held)
        assert entry.why.startswith("Gusts of 16 m/s")
        assert "+3" in listed(app, LIST)[0]


async def test_a_day_held_before_it_began_is_told_and_lets_setting_out_wait(folder: Path) -> None:
    for known in ("forecast.csv", "yard.csv"):  # a half day moves setting out as far as a held one
        (folder / "weather" / known).unlink()
    day = DAY + timedelta(days=2)
    other = OpenSeason(folder, "other", day)
    async with hardening(folder, on=day) as (app, pilot):
        lines = shown(app, HardeningScreen).sowings
        one = lines.item
        while one is not None and one.begun is not None:
            await pilot.press("down")
            one = lines.item
        assert one is not None
        await pilot.press("k")
        (entry,) = written(folder)
        assert isinstance(entry, Held)
        now = lines.item
        assert now is not None
        assert (now.today, now.written) == ("held", True)
        assert now.set_out is not None
        assert one.set_out is not None
        assert now.set_out.best > one.set_out.best
    assert other.today == day


async def test_with_nothing_to_harden_off_it_says_so_and_keys_do_nothing(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    for journal in (folder / "journal").glob("*.jsonl"):
        journal.unlink()
    async with hardening(folder) as (app, pilot):
        assert "Nothing is being hardened off" in text(app)
        await pilot.press("space", "k", "enter")
        assert written(folder) == []
        shown(app, HardeningScreen)


async def test_what_another_writer_wrote_shows_without_a_restart(folder: Path) -> None:
    async with hardening(folder) as (app, pilot):
        other = OpenSeason(folder, "other", DAY)
        other.record(Held(**BLANK, sowing=OUT, why="hail"))
        app.catch_up()
        await pilot.pause()
        assert "Kept in: hail." in text(app)


async def test_on_another_day_the_missed_ones_are_told(folder: Path) -> None:
    async with hardening(folder, on=DAY + timedelta(days=3)) as (app, _):
        assert "10 Apr missed" in text(app)


async def test_the_one_under_the_cursor_is_offered_to_the_form(folder: Path) -> None:
    async with hardening(folder) as (app, pilot):
        screen = shown(app, HardeningScreen)
        one = screen.sowings.item
        assert one is not None
        assert screen.subject() == ("sowing", one.id)
        await pilot.press("enter")
        assert shown(app, HardeningOfOne).subject() == ("sowing", one.id)
