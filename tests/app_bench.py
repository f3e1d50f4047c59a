"""The app on a copy of the sample season, keys in, screen text out."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path
from shutil import copytree
from typing import Any, TypeVar

from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen

from seedstart import disk
from seedstart.app.app import SeedstartApp

S = TypeVar("S", bound=Screen[Any])
DAY = date(2026, 4, 10)
SMALL, LARGE = (80, 24), (120, 40)
WRITER = "bench"


def sample(folder: Path) -> Path:
    """A copy of the sample season that may be written to."""
    return Path(copytree(disk.shipped("sample_season"), folder / "season"))


@asynccontextmanager
async def running(
    folder: Path | None, size: tuple[int, int] = SMALL, on: date | None = DAY, **more: Any
) -> AsyncIterator[tuple[SeedstartApp, Pilot[None]]]:
    """The app, once its first screen is drawn."""
    app = SeedstartApp(folder, WRITER, on, **more)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield app, pilot


def rows(app: App[Any]) -> list[str]:
    """The text of each line of the screen."""
    return [strip.text.rstrip() for strip in app.screen._compositor.render_strips()]


def text(app: App[Any]) -> str:
    """The text of the whole screen."""
    return "\n".join(rows(app))


def shown(app: App[Any], kind: type[S]) -> S:
    """The screen in sight, which must be of that kind."""
    screen = app.screen
    assert isinstance(screen, kind), screen
    return screen


def page(app: App[Any]) -> str:
    """The name of the page in sight."""
    return str(getattr(app.screen, "PAGE", ""))


def journal_lines(folder: Path, writer: str = WRITER) -> list[str]:
    """What stands in a writer's file."""
    path = folder / "journal" / f"{writer}.jsonl"
    return path.read_text("utf-8").splitlines() if path.exists() else []
