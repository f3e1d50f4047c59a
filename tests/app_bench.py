"""The app on a copy of the sample season, keys in, screen text out."""

import asyncio
import unicodedata
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from datetime import date
from pathlib import Path
from shutil import copytree
from typing import Any, TypeVar

from textual.app import App
from textual.events import Key, Paste
from textual.keys import _character_to_key, _get_unicode_name_from_key
from textual.pilot import Pilot
from textual.screen import Screen

from seedstart import disk
from seedstart.app.app import SeedstartApp
from seedstart.app.line_list import LineList
from seedstart.app.shell import Shell

S = TypeVar("S", bound=Screen[Any])
DAY = date(2026, 4, 10)
SMALL, LARGE = (80, 24), (120, 40)
WRITER = "bench"
# Turns that each task gets before it is asked whether all is handled: a message may be on its way.
_TURNS = 10
_RESIZE_S = 0.02
_BETWEEN_KEYS_S = 0.1
# An app that ended leaves messages that nobody handles.
_PATIENCE_S = 20


def sample(folder: Path) -> Path:
    """A copy of the sample season that may be written to."""
    return Path(copytree(disk.shipped("sample_season"), folder / "season"))


class QuickPilot(Pilot[None]):
    """Presses keys and goes on as soon as every message that follows from them was handled.

    Textual's own waits after each key until the process is idle for a fiftieth of a second, twice.
    """

    _pressed_at = 0.0

    async def press(self, *keys: str) -> None:
        """Press keys, one after the other."""
        for key in keys:
            event = key_event(key)
            # As a hand is: a key that comes again at once is one that is held down.
            event.time = self._pressed_at = max(event.time, self._pressed_at + _BETWEEN_KEYS_S)
            self.app.post_message(event)
            await self.settled()

    async def paste(self, text: str) -> None:
        """A text at once where the cursor is: a form is laid out anew after each key."""
        self.app.post_message(Paste(text))
        await self.settled()

    async def pause(self, delay: float | None = None) -> None:
        """Let everything be handled; or wait so many seconds."""
        await super().pause(0 if delay is None else delay)
        await self.settled()

    async def resize_terminal(self, width: int, height: int) -> None:
        """Another size; Textual lays out anew a moment after the last of several."""
        await super().resize_terminal(width, height)
        await self.pause(_RESIZE_S)

    async def settled(self) -> None:
        """Until no widget has a message left, and what they changed is laid out and drawn."""
        loop = asyncio.get_running_loop()
        patience_ends = loop.time() + _PATIENCE_S
        while loop.time() < patience_ends:
            for _ in range(_TURNS):
                await asyncio.sleep(0)
            if not self._waiting():
                await super().pause(0)
                if not self._waiting():
                    return
        raise TimeoutError("a message was never handled: did the app end?")

    def _waiting(self) -> bool:
        """Whether anything in sight has a message to handle."""
        app = self.app
        if isinstance(app, Shell) and not app.typed_ahead.is_empty:
            return True
        pumps = [app, *app.screen.walk_children(with_self=True)]
        return any(pump.message_queue_size for pump in pumps)


def key_event(key: str) -> Key:
    """A key by its sign or its name, with the sign that it types."""
    name = _character_to_key(key) if len(key) == 1 else key
    if len(key) > 1:
        with suppress(KeyError):
            key = unicodedata.lookup(_get_unicode_name_from_key(name))
    return Key(name, key if len(key) == 1 else None)


@asynccontextmanager
async def running(
    folder: Path | None,
    size: tuple[int, int] = SMALL,
    on: date | None = DAY,
    *,
    by: str = WRITER,
    faults: list[Exception] | None = None,
    **more: Any,
) -> AsyncIterator[tuple[SeedstartApp, QuickPilot]]:
    """The app, once its first screen is drawn; of its own faults there are none but these."""
    app = SeedstartApp(folder, by, on, **more)
    async with app.run_test(size=size):
        pilot = QuickPilot(app)
        await pilot.pause()
        yield app, pilot
        assert app.faults == ([] if faults is None else faults)


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


def listed(app: App[Any], selector: str) -> list[str]:
    """The lines of a list that are in sight, as they are drawn."""
    lines = app.screen.query_one(selector, LineList)
    return [lines.render_line(row).text for row in range(min(len(lines.items), lines.size.height))]


def page(app: App[Any]) -> str:
    """The name of the page in sight."""
    return str(getattr(app.screen, "PAGE", ""))


def journal_lines(folder: Path, writer: str = WRITER) -> list[str]:
    """What stands in a writer's file."""
    path = folder / "journal" / f"{writer}.jsonl"
    return path.read_text("utf-8").splitlines() if path.exists() else []
