"""Loggers that write while the app is open: their rows show, and keys are answered meanwhile."""

import asyncio
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, current_thread, main_thread
from typing import Any

import pytest

from app_bench import DAY, page, running, sample, text
from seedstart.app.app import READ_AT_ONCE
from seedstart.daily.derived import Derived
from seedstart.planning.following import Following, Moment
from seedstart.planning.to_come import Begun, begun_of
from seedstart.season.loggers.tidy_file import HEADER


def rows(count: int, c: float) -> str:
    """The last rows of a logger, a minute apart, up to eight in the morning of the day."""
    last = datetime(DAY.year, DAY.month, DAY.day, 5, tzinfo=UTC)
    return "".join(
        f"{(last - timedelta(minutes=count - 1 - minute)).isoformat()},heat mat,soil_c,{c},\n"
        for minute in range(count)
    )


async def test_a_row_more_shows_on_the_stations(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    path = folder / "readings" / "more.csv"
    path.write_text(f"{HEADER}\n", "utf-8")
    async with running(folder) as (app, pilot):
        await pilot.press("s")
        assert "31.5" not in text(app)
        with path.open("a", encoding="utf-8") as file:
            file.write(rows(1, 31.5))
        app.catch_up()
        await pilot.pause()
        assert "31.5" in text(app)


async def test_keys_are_answered_while_a_great_many_rows_are_read_and_derived(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = sample(tmp_path)
    path = folder / "readings" / "more.csv"
    path.write_text(f"{HEADER}\n", "utf-8")
    may_end, follow = Event(), Derived.follow
    derived_here: list[object] = []
    derived_there: list[object] = []

    def slow(self: Derived, moment: Moment) -> Following:
        if current_thread() is not main_thread():
            assert may_end.wait(20)
        return follow(self, moment)

    def seen(*given: Any) -> Begun:
        (derived_here if current_thread() is main_thread() else derived_there).append(given)
        return begun_of(*given)

    async with running(folder) as (app, pilot):
        monkeypatch.setattr(Derived, "follow", slow)
        many = rows(9000, 31.5)
        assert len(many) > READ_AT_ONCE
        path.write_text(f"{HEADER}\n{many}", "utf-8")
        app.catch_up()
        app.catch_up()  # it is read once, however often one looks
        await pilot.press("l", "s")
        assert page(app) == "stations"
        assert "31.5" not in text(app)
        await pilot.press("r")
        monkeypatch.setattr("seedstart.planning.prospects.begun_of", seen)
        may_end.set()
        for _ in range(400):
            await asyncio.sleep(0.02)
            if app.opened is not None and not app.opened.readings_folder.is_behind:
                break
        await pilot.pause()
        assert derived_there
        assert derived_here == []
        await pilot.press("s")
        assert "31.5" in text(app)


async def test_readings_that_cannot_be_read_are_told_and_the_round_goes_on(tmp_path: Path) -> None:
    folder = sample(tmp_path)
    (folder / "readings" / "gone.csv").symlink_to("nowhere")
    async with running(folder) as (app, pilot):
        assert page(app) == "round"
        assert "gone.csv" in text(app)
        await pilot.press("s")
        assert "gone.csv" in text(app)
        (folder / "readings" / "gone.csv").unlink()
        app.catch_up()
        await pilot.pause()
        assert "gone.csv" not in text(app)


async def test_a_line_of_the_journal_that_cannot_be_read_is_told_below_the_head(
    tmp_path: Path,
) -> None:
    folder = sample(tmp_path)
    async with running(folder) as (app, pilot):
        assert "far.jsonl" not in text(app)
        (folder / "journal" / "far.jsonl").write_text('{"kind":"dreamt"}\n', "utf-8")
        app.catch_up()
        await pilot.pause()
        assert "far.jsonl, line 1" in text(app)
