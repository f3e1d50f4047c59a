"""Every screen of the app on the sample season: as text for a test, as pictures for docs/.

`./task pictures` makes both again; look at them before they are committed.
"""

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from itertools import product
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory
from typing import Final, NamedTuple

from seedstart import disk
from seedstart.app.app import SeedstartApp

TOP: Final = Path(__file__).resolve().parents[1]
TEXTS: Final = TOP / "tests" / "pictures"
PICTURES: Final = TOP / "docs" / "pictures"
DAY: Final = date(2026, 4, 10)
SIZES: Final = ((80, 24), (120, 40))


class Screen(NamedTuple):
    """A screen: its name, and the keys that lead to it from the round."""

    name: str
    keys: tuple[str, ...] = ()


SCREENS: Final = (
    Screen("round"),
    Screen("why", ("home", "down", "w")),
    Screen("calendar", ("c",)),
    Screen("lots", ("l",)),
    Screen("lot", ("l", "down", "down", "down", "down", "enter")),
    Screen("stations", ("s",)),
    Screen("light", ("s", "down", "i")),
    Screen("hardening", ("h",)),
    Screen("trials", ("t",)),
    Screen("trial", ("t", "enter")),
    Screen("journal", ("j",)),
    Screen("new-station", ("s", "a")),
    Screen("write-down", ("n",)),
    Screen("season", ("y",)),
    Screen("change-lot", ("l", "e")),
    Screen("help", ("question_mark",)),
)


@asynccontextmanager
async def on_screen(screen: Screen, size: tuple[int, int]) -> AsyncIterator[SeedstartApp]:
    """The app on that screen, on a copy of the sample season."""
    with TemporaryDirectory() as top:
        folder = Path(copytree(disk.shipped("sample_season"), Path(top) / "season"))
        app = SeedstartApp(folder, "bench", DAY)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            await pilot.press(*screen.keys)
            await app.workers.wait_for_complete()
            await pilot.pause()
            yield app


def text_of(app: SeedstartApp) -> str:
    """What stands on the screen."""
    strips = app.screen._compositor.render_strips()
    lines = [re.sub(r"\s+$", "", strip.text) for strip in strips]
    return "\n".join(lines).rstrip() + "\n"


def text_path(screen: Screen, size: tuple[int, int]) -> Path:
    """Where the text of a screen is kept."""
    return TEXTS / f"{screen.name}-{size[0]}x{size[1]}.txt"


async def write() -> None:
    """Write texts and pictures."""
    TEXTS.mkdir(exist_ok=True)
    PICTURES.mkdir(exist_ok=True)
    for screen, size in product(SCREENS, SIZES):
        async with on_screen(screen, size) as app:
            text_path(screen, size).write_text(text_of(app), "utf-8")
            if size == SIZES[0]:
                (PICTURES / f"{screen.name}.svg").write_text(await _picture(app), "utf-8")


async def _picture(app: SeedstartApp) -> str:
    """The screen in the app's own colours, in the reader's own font: nothing is fetched for it."""
    app.theme = "seedstart-dark"
    app.refresh_css(animate=False)
    await asyncio.sleep(0.3)
    svg = app.export_screenshot(title="seedstart")
    return re.sub(r"@font-face\s*\{.*?\}", "", svg, flags=re.DOTALL)


if __name__ == "__main__":
    asyncio.run(write())
