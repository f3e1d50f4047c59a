"""The journal on the screen: acts taken back and restored where they are listed."""

import json
from pathlib import Path
from typing import Any

import pytest
from textual.app import App

from app_bench import LARGE, SMALL, journal_lines, page, rows, running, sample, shown, text
from seedstart.app.screens.journal_screen import JournalScreen, LotJournalScreen
from seedstart.app.screens.lot_screen import LotScreen
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Noted, Struck, Watered


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


def listed(app: App[Any]) -> list[str]:
    """The acts, without the headings of their days."""
    return [line for line in rows(app)[2:] if line[4:9].replace(":", "").isdigit()]


def standing(app: Any, sowing: str) -> int:
    found = app.opened.records().by_name_in_line(sowing)
    assert found is not None
    return int(found.standing)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_an_earlier_act_is_taken_back_whole_and_restored(
    folder: Path, size: tuple[int, int]
) -> None:
    async with running(folder, size) as (app, pilot):
        app.record([Watered(**BLANK, tray="tray 14"), Noted(**BLANK, text="dry")])
        app.record([Noted(**BLANK, text="gnats")])
        await pilot.press("j")
        assert page(app) == "journal"
        assert "noted: gnats" in listed(app)[0]
        assert "watered tray 14 (+1)" in listed(app)[1]
        before = len(journal_lines(folder))
        await pilot.press("down", "enter", "enter")
        told = " ".join(text(app).split())
        assert "Taken back: watered tray 14 (Fri 10 Apr 2026, 12:00) and 1 more" in told
        struck = [json.loads(line) for line in journal_lines(folder)[before:]]
        assert [one["kind"] for one in struck] == ["struck"] * 2
        assert len({one["act"] for one in struck}) == 1
        assert listed(app)[1][1:].startswith("— ")
        assert "watered tray 14 (+1)" in listed(app)[1]
        assert "taken back" in listed(app)[1]
        assert "noted: gnats" in listed(app)[0]
        assert not listed(app)[0][1:].startswith("— ")
        await pilot.press("enter", "enter")
        assert "Restored: watered tray 14" in text(app)
        assert "taken back" not in listed(app)[1]


async def test_u_restores_what_was_just_taken_back_there(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        app.record([Noted(**BLANK, text="dry")])
        app.record([Noted(**BLANK, text="gnats")])
        await pilot.press("j", "down", "enter", "enter", "u")
        assert "Restored: noted: dry" in text(app)
        await pilot.press("u")
        assert "Taken back: noted: gnats" in text(app)


async def test_a_count_taken_back_brings_back_the_counts_that_it_struck(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        assert app.opened is not None
        before = standing(app, "leek-giant")
        assert app.record([Counted(**BLANK, sowing="leek-giant", standing=99)])
        high = json.loads(journal_lines(folder)[-1])["id"]
        better = Counted(**BLANK, sowing="leek-giant", standing=before - 1)
        app.record([Struck(**BLANK, entry=high), better])
        assert standing(app, "leek-giant") == before - 1
        await pilot.press("j", "enter", "enter")
        assert standing(app, "leek-giant") == 99
        await pilot.press("enter", "enter")
        assert standing(app, "leek-giant") == before - 1


async def test_what_another_did_can_be_taken_back_and_shows_as_theirs(folder: Path) -> None:
    OpenSeason(folder, "tablet", None).record(Noted(**BLANK, text="from the tablet"))
    async with running(folder, on=None) as (app, pilot):
        await pilot.press("j")
        assert "tablet  noted: from the tablet" in listed(app)[0]
        await pilot.press("enter", "enter")
        assert json.loads(journal_lines(folder)[-1])["kind"] == "struck"
        assert app.opened is not None
        assert "Written by tablet; taken back" in text(app)


async def test_a_lot_has_its_journal_a_key_away(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("l", "down", "down", "enter")
        lot = shown(app, LotScreen).lot_name
        assert "j its journal" in text(app)
        await pilot.press("j")
        shown(app, LotJournalScreen)
        assert f"Journal of {lot}" in rows(app)[0]
        counts = [line for line in listed(app) if "counted" in line]
        assert counts
        assert all(lot in line for line in counts)
        assert any("taken back" in line for line in counts)  # the sample season has a slip of 300
        await pilot.press("enter", "enter")
        assert f"Taken back: counted {lot}" in text(app)
        await pilot.press("escape")
        assert shown(app, LotScreen).lot_name == lot


async def test_what_the_cursor_is_on_is_offered_to_the_form(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        app.record([Watered(**BLANK, tray="tray 14")])
        await pilot.press("j")
        assert shown(app, JournalScreen).subject() == ("tray", "tray 14")


async def test_a_season_in_which_nothing_was_done_says_so(folder: Path) -> None:
    for file in (folder / "journal").glob("*.jsonl"):
        file.unlink()
    async with running(folder) as (app, pilot):
        await pilot.press("j", "enter", "enter")
        assert "Nothing written yet." in text(app)
        assert journal_lines(folder) == []


async def test_acts_stand_under_their_days_and_tab_goes_to_the_next(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("j")
        days = [row for row in rows(app) if row.rstrip("┃ ").endswith("entries")]
        assert days[0].split()[:3] == ["Friday", "10", "April"]
        assert days[1].split()[:3] == ["Thursday", "9", "April"]
        await pilot.press("tab")
        act = shown(app, JournalScreen).act
        assert act is not None
        assert act.first.at.day == 9
        await pilot.press("shift+tab")
        act = shown(app, JournalScreen).act
        assert act is not None
        assert act.first.at.day == 10


async def test_esc_leaves_an_act_that_was_opened_as_it_is(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        before = journal_lines(folder)
        await pilot.press("j", "enter")
        assert "▸ Take it back" in text(app)
        await pilot.press("escape")
        assert "▸ Take it back" not in text(app)
        assert journal_lines(folder) == before
