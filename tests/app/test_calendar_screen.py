"""The calendar on the screen: what `calendar` prints, as bars, and from a sowing to its reasons."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from app_bench import LARGE, SMALL, rows, running, sample, shown, text
from runner import run_json
from seedstart.app.screens.calendar_screen import CalendarScreen, RowScreen
from seedstart.planning.calendar.row import row_key


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


def bars(app: Any) -> CalendarScreen:
    return shown(app, CalendarScreen)


def first_day(app: Any) -> date:
    return bars(app)._stretch(bars(app)._width).monday


def _name(one: dict[str, Any]) -> str:
    """A row of the JSON, as the screen calls it."""
    return one["sowing"] or (f"{one['lot']}/{one['number']}" if one["number"] > 1 else one["lot"])


async def test_its_rows_are_those_of_the_command(folder: Path) -> None:
    printed = run_json("calendar", "--season", str(folder), "--on", "2026-04-10")
    async with running(folder) as (app, pilot):
        await pilot.press("c")
        state = bars(app).state
        assert state is not None
        drawn = {
            row_key(row): window.best.isoformat() if (window := row.window("set_out")) else None
            for row in state.rows
        }
    said = {_name(one): one["set_out"] and one["set_out"]["best"] for one in printed}
    assert drawn == said


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_today_the_frost_and_the_signs_are_told(folder: Path, size: tuple[int, int]) -> None:
    async with running(folder, size) as (app, pilot):
        await pilot.press("c")
        told = text(app)
        assert "today▾" in told
        assert "▾ frost 18 May" in told
        assert "S1━━━U12━━" in told  # thyme: sown on 1 March, up on 12 March
        if size == SMALL:
            assert "S sown U up P pricked out" in told


async def test_a_sowing_that_was_made_and_one_that_was_not_differ_by_their_signs(
    folder: Path,
) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("c")
        told = text(app).splitlines()
        thyme = next(row for row in told if row[3:].startswith("thyme  "))
        assert "S1━━━U12━━" in thyme  # sown and up
        await pilot.press("end")
        kale = next(row for row in rows(app) if row[3:].startswith("kale-autumn  "))
        assert "━" not in kale
        assert "·s" in kale


async def test_a_column_may_be_a_day_and_the_drawing_scrolls(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c")
        by_weeks = first_day(app)
        await pilot.press("right")
        assert (first_day(app) - by_weeks).days == 14
        await pilot.press("full_stop")
        assert first_day(app) == by_weeks
        await pilot.press("z")
        await pilot.pause()
        assert "m t W t f S S" in rows(app)[2]  # the sample's work days: Wed Sat Sun
        assert "HARDEN" in text(app)  # cabbage-early began on 8 April
        names = [row_key(row) for row in bars(app).bars.items]
        assert "broccoli" in names
        assert "kale-autumn" not in names  # sown in summer: nothing of it in these 30 days
        by_days = first_day(app)
        await pilot.press("left")
        assert (by_days - first_day(app)).days == 7
        await pilot.press("shift+right")
        assert first_day(app) > by_days


async def test_from_a_sowing_to_the_reasons_of_its_dates_and_their_sources(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c", "end", "enter")
        await pilot.pause()
        sheet = shown(app, RowScreen)
        state = sheet.state
        assert state is not None
        assert state.row is not None
        told = "\n".join("".join(span.text for span in line) for line in sheet._lines(78))
        for step in state.row.steps:
            assert step.window is not None
            assert f"{step.window.best.day} " in told
        cited = {key for reason in state.row.reasons for key in reason.sources}
        assert cited
        for key in cited:
            assert " ".join(state.sources[key].text.split()[:4]) in " ".join(told.split())
        await pilot.press("escape")
        shown(app, CalendarScreen)


async def test_z_comes_closer_and_capital_z_goes_back(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c", "z")
        assert "Z wider" in text(app)
        await pilot.press("z")
        assert bars(app).zoom == "days"
        await pilot.press("Z")
        assert bars(app).zoom == "weeks"
        assert "z closer" in text(app)


async def test_the_dates_of_the_row_stand_under_the_bars_in_words(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c", "down", "down", "down", "down", "down", "down")
        await pilot.pause()
        assert "broccoli   sown 15 Mar · up 22 Mar · pricked out 1 Apr · harden 11 Apr" in text(app)
        assert "out Sun 19 Apr, any day from 12 Apr to 18 May" in text(app)


async def test_o_lists_by_what_comes_next_and_by_name(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("c")
        by_sowing = [row_key(row) for row in bars(app).bars.items]
        await pilot.press("o", "o")
        assert [row_key(row) for row in bars(app).bars.items] == sorted(by_sowing)
        await pilot.press("o")
        assert [row_key(row) for row in bars(app).bars.items] == by_sowing


async def test_where_there_is_room_the_reasons_stand_beside(folder: Path) -> None:
    async with running(folder, LARGE) as (app, pilot):
        await pilot.press("c")
        await pilot.pause()
        assert "│ thyme" in text(app)
        assert "It was sown on" in text(app)
        assert "S sown U up" not in text(app)  # the pane has gone: its rows are lines of the list
        await pilot.resize_terminal(80, 24)
        assert "It was sown on" not in text(app)
        await pilot.resize_terminal(120, 40)
        assert "It was sown on" in text(app)


async def test_a_count_made_elsewhere_changes_the_bar(folder: Path) -> None:
    from seedstart.open_season import OpenSeason
    from seedstart.season.journal.entries import BLANK, Counted

    async with running(folder) as (app, pilot):
        await pilot.press("c")
        await pilot.pause()
        before = next(row for row in bars(app).state.rows if row.sowing == "pepper-long")  # type: ignore[union-attr]
        tablet = OpenSeason(folder, "tablet", date(2026, 4, 10))
        tablet.record(Counted(**BLANK, sowing="pepper-long", standing=3))
        app.catch_up()
        await pilot.pause()
        after = next(row for row in bars(app).state.rows if row.sowing == "pepper-long")  # type: ignore[union-attr]
        assert before.step("emerge").is_ == "expected"  # type: ignore[union-attr]
        assert after.step("emerge").is_ == "happened"  # type: ignore[union-attr]


async def test_a_season_without_lots_says_so(folder: Path) -> None:
    (folder / "lots.toml").write_text("", "utf-8")
    async with running(folder) as (app, pilot):
        await pilot.press("c")
        await pilot.pause()
        assert "No packets yet. What is the first?" in text(app)
