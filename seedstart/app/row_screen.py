"""One sowing of the calendar: its dates, and why they are what they are."""

from collections.abc import Mapping
from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key
from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.crop_table.crop import Source
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.row_sheet import row_sheet_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.row import Row, row_key
from seedstart.season.entry import Subject


def subject_of(row: Row) -> Subject | None:
    """What a row of the calendar is about, for a form."""
    if row.lot is None:
        return None
    return ("sowing", row.sowing) if row.sowing else ("lot", row.lot)


class RowState(Struct, frozen=True):
    """The row, where it is still in the calendar, and what its sources are."""

    row: Row | None
    sources: Mapping[str, Source]


class RowScreen(SeasonScreen[RowState]):
    """The reckoning of one sowing, step by step, with its sources.

    Args:
        name: What the row is called in the calendar.
    """

    CSS_PATH = "row_screen.tcss"
    HEAD, PAGE = "Why these dates", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.row_name = name

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> RowState:
        """The row as it is today."""
        rows = (row for row in opened.calendar() if row_key(row) == self.row_name)
        return RowState(next(rows, None), opened.plan.crops.sources)

    def subject(self) -> Subject | None:
        """The sowing, or its lot while it is not made."""
        row = self.state.row if self.state else None
        return subject_of(row) if row is not None else None

    def show(self, state: RowState) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        if self.state is None or self.state.row is None:
            return [plain(f"{self.row_name} is no longer in the calendar.")]
        return row_sheet_lines(self.state.row, self.state.sources, min(width, 96))
