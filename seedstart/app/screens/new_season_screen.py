"""Where there is no season: make one, or look at a copy of the sample season."""

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message

from seedstart import clock, disk
from seedstart.app.forms.form_services import why_not
from seedstart.app.forms.new_season_form import SeasonForm
from seedstart.app.frame import Foot, Key, TextPane
from seedstart.app.screens.season_screen import FittedScreen
from seedstart.disk.season_folder import check_new_season, make_season
from seedstart.drawing.lines import Line, Span, heading, plain, wrapped
from seedstart.season.plan.season_file import SEASON_FILE

SAMPLE: str = "sample-season"


class OpenSample(Message):
    """A copy of the sample season is to be made and opened."""


class AskNewSeason(Message):
    """A new season is to be made."""


class NewSeasonScreen(FittedScreen):
    """What seedstart is for, and two ways to begin.

    Args:
        here: The folder one is in.
    """

    CSS_PATH = "new_season_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,n", "make", "Make a season", show=False, priority=True),
        Binding("s", "sample", "The sample season", show=False),
    ]

    def __init__(self, here: Path) -> None:
        super().__init__()
        self.here = here

    def compose(self) -> ComposeResult:
        """The two ways."""
        yield TextPane(id="offer")
        yield Foot(
            [
                Key("Enter", "make a season", "screen.make"),
                Key("s", "open a sample", "screen.sample"),
                Key("q", "quit", "app.quit"),
            ],
            None,
        )

    def on_mount(self) -> None:
        """Say what there is to choose."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        here = f"There is no season in {self.here}, or above it."
        season = (
            "A season is a folder of plain text: your frost date, your shelves and mats, your "
            "packets of seed, and what you did and saw. It is made here."
        )
        sample = (
            f"An invented season in full swing, copied to {self.here / SAMPLE}. Nothing in it is "
            "real: look round, tick things, break it."
        )
        return [
            heading("seedstart"),
            *wrapped(here, width, role="quiet", hang=""),
            plain(""),
            (Span("Enter  ", "today"), Span("Make a season", "heading")),
            *wrapped(season, width, indent="       ", hang=""),
            plain(""),
            (Span("s      ", "today"), Span("Open a copy of the sample season", "heading")),
            *wrapped(sample, width, indent="       ", hang=""),
            plain(""),
            *wrapped(
                "Elsewhere: q, then go to your season's folder, or `seedstart --season PATH`.",
                width,
                role="quiet",
                hang="",
            ),
        ]

    def say(self, text: str, *, warn: bool = False) -> None:
        """A line at the foot."""
        self.query_one(Foot).say(text, warn=warn)

    def action_make(self) -> None:
        """To the form."""
        self.post_message(AskNewSeason())

    def action_sample(self) -> None:
        """Copy it and open it."""
        self.post_message(OpenSample())


def first_season_form() -> SeasonForm:
    """The form of a season that takes nothing over."""
    return SeasonForm(
        lambda folder, files: why_not(lambda: make_season(folder, files)), clock.local_zone()
    )


def copy_sample(here: Path) -> Path:
    """A copy of the sample season in a folder, unless it is there already.

    Raises:
        BadInputError: It cannot be made there.
    """
    folder = here / SAMPLE
    if not (folder / SEASON_FILE).is_file():
        check_new_season(folder, file=SAMPLE)
        disk.make_folder(folder, disk.read_tree(disk.shipped("sample_season")))
    return folder
