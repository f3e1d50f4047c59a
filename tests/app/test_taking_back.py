"""Taking back: one act, an alert that was seen, a lot and a station that were added."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app_bench import QuickPilot, journal_lines, running, sample, text
from seedstart.acts.notes_and_plan import need_of
from seedstart.app.app import SeedstartApp
from seedstart.app.line_list import LineList
from seedstart.daily.check import Alert
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Noted


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return sample(tmp_path)


def files(folder: Path) -> tuple[bytes, bytes]:
    return (folder / "season.toml").read_bytes(), (folder / "lots.toml").read_bytes()


def said(app: SeedstartApp) -> str:
    """All that is on the screen, as running text."""
    return " ".join(text(app).split())


async def test_an_alert_that_was_seen_is_said_and_comes_back(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("home")
        lines: LineList[object] = app.screen.query_one("#lines", LineList)
        alert = lines.item
        assert isinstance(alert, Alert)
        await pilot.press("space")
        entry = json.loads(journal_lines(folder)[-1])
        assert (entry["kind"], entry["check"]) == ("checked", alert.key)
        assert "Seen. It comes back" in said(app)
        assert "Seen. It comes back" in said(app)
        assert alert.key not in [one.key for one in lines.items if isinstance(one, Alert)]
        await pilot.press("u")
        assert f"Taken back: checked {need_of(alert.key)}" in said(app)
        assert alert.key in [one.key for one in lines.items if isinstance(one, Alert)]
        await pilot.press("u")
        assert "Restored: checked" in said(app)
        assert alert.key not in [one.key for one in lines.items if isinstance(one, Alert)]


async def add_lot(pilot: QuickPilot, name: str = "melon") -> None:
    await pilot.press("l", "a")
    await pilot.paste(name)
    await pilot.press("enter")
    await pilot.paste("leek")
    await pilot.press("ctrl+s")


async def add_station(pilot: QuickPilot, name: str = "tent") -> None:
    await pilot.press("s", "a")
    await pilot.paste(name)
    await pilot.press("enter")
    await pilot.paste("shelf")
    await pilot.press("ctrl+s")


async def test_a_new_lot_is_said_taken_back_to_the_byte_and_restored(folder: Path) -> None:
    before = files(folder)
    async with running(folder) as (app, pilot):
        await add_lot(pilot)
        after = files(folder)
        assert after[1].startswith(before[1])
        assert b'name = "melon"' in after[1]
        assert "Added to lots.toml: melon. u takes it back." in said(app)
        await pilot.press("u")
        assert files(folder) == before
        assert "Taken back: the lot melon in lots.toml. u restores it." in said(app)
        assert app.opened is not None
        assert "melon" not in app.opened.plan.lots_by_name
        await pilot.press("u")
        assert files(folder) == after
        assert "Restored: the lot melon in lots.toml." in said(app)
        await pilot.press("u")
        assert files(folder) == before


async def test_a_new_station_stands_on_the_page_and_is_taken_back(folder: Path) -> None:
    before = files(folder)
    async with running(folder) as (app, pilot):
        await add_station(pilot)
        assert "Added to season.toml: tent. u takes it back." in said(app)
        assert any(line.startswith("   tent ") for line in text(app).splitlines())
        assert app.opened is not None
        assert app.opened.plan.stations[-1].name == "tent"
        await pilot.press("u")
        assert files(folder) == before
        assert "Taken back: the station tent in season.toml" in said(app)


async def test_what_was_done_since_is_taken_back_first(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await add_lot(pilot)
        after = files(folder)
        assert app.record([Noted(**BLANK, text="gnats")])
        await pilot.press("u")
        assert "Taken back: noted: gnats" in said(app)
        assert files(folder) == after


async def test_a_lot_that_something_was_done_with_stays(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await add_lot(pilot)
        OpenSeason(folder, "tablet", app.on).record(Noted(**BLANK, lot="Melon", text="sweet"))
        after = files(folder)
        await pilot.press("u")
        assert "The lot melon stays: it is named in the journal (noted Melon: sweet" in said(app)
        assert files(folder) == after


async def test_a_station_that_a_lot_names_stays(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await add_station(pilot)
        lots = folder / "lots.toml"
        lots.write_bytes(
            lots.read_bytes() + b'\n[[lot]]\nname = "m"\ncrop = "leek"\nstation = "tent"\n'
        )
        after = files(folder)
        await pilot.press("u")
        assert "lots.toml, line" in said(app)
        assert "found 'tent'" in said(app)
        assert files(folder) == after


async def test_a_lot_that_was_edited_since_is_left_to_the_grower(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await add_lot(pilot)
        lots = folder / "lots.toml"
        lots.write_bytes(lots.read_bytes() + b"want = 3\n")
        after = files(folder)
        line = after[1].count(b"\n") - 3  # [[lot]], name, crop, want
        await pilot.press("u")
        assert f"lots.toml, line {line}" in said(app)
        assert "take it out there by hand" in said(app)
        assert files(folder) == after


async def test_a_sowing_may_begin_with_a_new_lot(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("n", *"sow", "enter", "ctrl+u")
        await pilot.paste("melon")
        assert "(ctrl+n: a new lot)" in said(app)
        await pilot.press("ctrl+n")
        assert "New lot" in said(app)
        await pilot.paste("leek")
        await pilot.press("tab", "tab", "tab")
        await pilot.paste("ledge")
        await pilot.press("ctrl+n")
        assert "New station" in said(app)
        await pilot.press(*"sill", "ctrl+s", "ctrl+s")
        assert "Sow: seed of one lot" in said(app)
        await pilot.press("ctrl+u", *"12", "ctrl+s")
        entry = json.loads(journal_lines(folder)[-1])
        assert (entry["lot"], entry["station"], entry["seeds"]) == ("melon", "ledge", 12)


async def test_a_new_lot_that_is_left_leaves_the_form_as_it_was(folder: Path) -> None:
    before = files(folder)
    async with running(folder) as (app, pilot):
        await pilot.press("n", *"sow", "enter", "ctrl+u")
        await pilot.paste("melon")
        await pilot.press("ctrl+n", "escape")
        assert app.focused is not None
        assert app.focused.value == "melon"  # type: ignore[attr-defined]
        await pilot.press("tab", "ctrl+n")  # this field names nothing that could be made
        assert "Sow: seed of one lot" in said(app)
        assert files(folder) == before


def log_note(folder: Path, text: str, at: datetime) -> None:
    OpenSeason(folder, "bench").record(Noted(**BLANK, text=text), at=at)


async def test_an_act_of_another_day_is_named_before_it_is_taken_back(folder: Path) -> None:
    log_note(folder, "mould", datetime(2026, 5, 2, 7, tzinfo=UTC))
    before = len(journal_lines(folder))
    async with running(folder) as (app, pilot):
        await pilot.press("u")
        assert "u again takes back: noted: mould (Sat 2 May 2026, 10:00)." in said(app)
        assert len(journal_lines(folder)) == before
        await pilot.press("u")
        assert "Taken back: noted: mould" in said(app)
        await pilot.press("u")
        assert "Restored: noted: mould" in said(app)


async def test_what_is_written_between_is_taken_back_at_once(folder: Path) -> None:
    log_note(folder, "mould", datetime(2026, 5, 2, 7, tzinfo=UTC))
    async with running(folder) as (app, pilot):
        await pilot.press("u")
        await pilot.press("home", "space")
        await pilot.press("u")
        assert "Taken back: checked" in said(app)


async def test_what_was_just_written_of_another_day_is_taken_back_at_once(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        assert app.record([Noted(**BLANK, text="late")], datetime(2026, 4, 2, 7, tzinfo=UTC))
        await pilot.press("u")
        assert "Taken back: noted: late" in said(app)


async def test_a_change_of_the_plan_is_taken_back_and_restored(folder: Path) -> None:
    before = files(folder)
    async with running(folder) as (app, pilot):
        await pilot.press("l")
        await pilot.press("e")
        assert "Change lot" in text(app)
        await pilot.press("tab", "tab", *"7", "ctrl+s")
        assert "Changed: the lot" in said(app)
        after = files(folder)
        assert after != before
        await pilot.press("u")
        assert "Taken back: the change of lots.toml. u restores it." in said(app)
        assert files(folder) == before
        await pilot.press("u")
        assert files(folder) == after


async def test_a_file_that_was_edited_since_is_not_put_back(folder: Path) -> None:
    async with running(folder) as (app, pilot):
        await pilot.press("l", "e", "tab", "tab", *"7", "ctrl+s")
        lots = folder / "lots.toml"
        lots.write_bytes(lots.read_bytes() + b"# mine\n")
        after = files(folder)
        await pilot.press("u")
        assert "It was edited since" in said(app)
        assert files(folder) == after
