"""What has to be said of something that is recorded: at every door, and not too often."""

import errno
import fcntl
from pathlib import Path

import pytest

from app_bench import QuickPilot, journal_lines, running, sample, text
from failing import fails
from seedstart.app.app import SeedstartApp
from seedstart.disk.durable import Held, failed_after

NO_LOCKS = "This drive has no locks"
FAILED_AFTER = "do not enter it again"


def said(app: SeedstartApp) -> str:
    """All that is on the screen, as running text."""
    return " ".join(text(app).split())


async def note(pilot: QuickPilot, words: str) -> None:
    """Write a note in its form."""
    await pilot.press("n")
    await pilot.paste("noted")
    await pilot.press("enter")
    await pilot.paste(words)
    await pilot.press("ctrl+s")


async def test_that_a_drive_has_no_locks_is_said_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fcntl, "flock", fails(errno.ENOLCK))
    async with running(sample(tmp_path), by="phone") as (app, pilot):
        await pilot.press("space")
        assert NO_LOCKS in said(app)
        await note(pilot, "mould")
        assert NO_LOCKS not in said(app)
        await note(pilot, "white fluff")
        assert NO_LOCKS not in said(app)
        assert len(journal_lines(tmp_path / "season", "phone")) == 3


@pytest.mark.parametrize("door", ["tick", "form", "take back"])
async def test_what_failed_after_it_was_recorded_is_said_every_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, door: str
) -> None:
    close = Held.close

    def close_and_fail(held: Held) -> None:
        close(held)
        held.remarks.append(failed_after("closing the file", OSError(errno.EIO, "")))

    async with running(sample(tmp_path), size=(120, 40), by="phone") as (app, pilot):
        await note(pilot, "white fluff")
        monkeypatch.setattr(Held, "close", close_and_fail)
        for keys in (("space",), ("up", "space")):  # the cursor went on to the line after
            if door == "tick":
                await pilot.press(*keys)
            elif door == "form":
                await note(pilot, "more of it")
            else:
                await pilot.press("u")
            assert FAILED_AFTER in said(app)
            await pilot.press("down")
