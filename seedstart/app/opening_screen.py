"""What is seen while a large season is read: it can be left, and keys typed ahead wait."""

from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Final

from textual.app import ComposeResult

from seedstart.app.frame import Foot, Key
from seedstart.app.season_screen import FittedScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import plain
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.text import clean

QUITS: Final = frozenset({"q", "ctrl+q"})


class OpeningScreen(FittedScreen):
    """Says which season is being read.

    Args:
        folder: Where it lies.
    """

    CSS_PATH = "fault_screen.tcss"

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder

    def compose(self) -> ComposeResult:
        """What is read, and the one key that works."""
        yield TextPane(id="faults")
        yield Foot([Key("q", "quit", "app.quit")], None)

    def on_mount(self) -> None:
        """Say it."""
        said = f"Reading {clean(self._folder.absolute().name)} …"
        self.query_one(TextPane).show_text(lambda _: (plain(said),))


def read_whole(
    folder: Path, by: str, on: date | None = None, *, without_lots: bool = False
) -> OpenSeason | BadInputError:
    """A season with its readings, and its round derived; or all that is wrong. Fit for a thread."""
    try:
        opened = OpenSeason(folder, by, on, without_lots=without_lots)
    except BadInputError as error:
        return error
    opened.readings_folder.read_on()  # what cannot be read of it is told on every page
    with suppress(Exception):  # whoever asks for it next fails where it can be shown
        opened.round()
    return opened
