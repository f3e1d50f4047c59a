"""Two lots beside each other, or the sowings of one: is it more than chance?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.compare_sheet import compare_lines
from seedstart.drawing.lines import Line, plain
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.comparing import By, Comparison, compare


class CompareScreen(SeasonScreen[Comparison]):
    """A comparison as lines.

    Args:
        first: A lot.
        second: Another; the same one puts its sowings beside each other.
    """

    CSS_PATH = "sheet_screen.tcss"
    HEAD, PAGE = "Beside each other", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, first: str, second: str) -> None:
        super().__init__()
        self.names = tuple(dict.fromkeys((first, second)))

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> Comparison:
        """The comparison as it is now; a lot that went is left out."""
        lots = [opened.plan.lots_by_name[name] for name in self.names
                if name in opened.plan.lots_by_name]  # fmt: skip
        by: By = "lot" if len(self.names) > 1 else "sowing"
        return compare(lots, opened.plan, opened.records(), by)

    def show(self, state: Comparison) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        return compare_lines(self.state, min(width, 96)) if self.state else [plain("")]
