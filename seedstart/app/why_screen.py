"""Why a check or an alert is there: every reason, its numbers, and where they come from."""

from collections.abc import Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key
from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.crop_table.crop import Source
from seedstart.daily.check import Alert, Check
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.why_sheet import why_sheet_lines
from seedstart.open_season import OpenSeason

_WIDEST = 96


class WhyScreen(SeasonScreen[Mapping[str, Source]]):
    """The reasons of one line of the round.

    Args:
        of: The check or alert as it stood when it was asked of.
    """

    CSS_PATH = "row_screen.tcss"
    HEAD, PAGE = "Why", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,w", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, of: Check | Alert) -> None:
        super().__init__()
        self._of = of

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> Mapping[str, Source]:
        """What the keys of sources stand for."""
        return opened.plan.crops.sources

    def show(self, state: Mapping[str, Source]) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        width = min(width, _WIDEST)
        key = f"Its key on the command line: {self._of.key}"
        sheet = why_sheet_lines(self._of, self.state or {}, width)
        return [*sheet, plain(""), *wrapped(key, width, "", "quiet")]
