"""Loggers that write while the app is open: their rows show, and keys are answered meanwhile."""

import asyncio
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event

import pytest

from app_bench import DAY, page, running, sample, text
from seedstart.app.app import READ_AT_ONCE
from seedstart.disk.readings_folder import ReadingsFolder
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


async def test_keys_are_answered_while_a_great_many_rows_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = sample(tmp_path)
    path = folder / "readings" / "more.csv"
    path.write_text(f"{HEADER}\n", "utf-8")
    may_end, reads = Event(), ReadingsFolder.read_on

    def slow(self: ReadingsFolder, at_most: int | None = None) -> bool:
        if at_most is None:  # in the thread
            assert may_end.wait(20)
        return reads(self, at_most)

    async with running(folder) as (app, pilot):
        monkeypatch.setattr(ReadingsFolder, "read_on", slow)
        many = rows(9000, 31.5)
        assert len(many) > READ_AT_ONCE
        path.write_text(f"{HEADER}\n{many}", "utf-8")
        app.catch_up()
        app.catch_up()  # it is read once, however often one looks
        await pilot.press("l", "s")
        assert page(app) == "stations"
        assert "31.5" not in text(app)
        may_end.set()
        for _ in range(200):
            await asyncio.sleep(0.02)
            if "31.5" in text(app):
                break
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
