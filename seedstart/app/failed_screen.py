"""What stands in place of a page in which seedstart itself failed; the others go on."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Foot, Key
from seedstart.app.season_screen import FittedScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import Line, heading, plain, wrapped


class FailedScreen(FittedScreen):
    """Says that a page could not be drawn, and where the report of it lies.

    Args:
        report: The file; None where it could not be written.
        what: The fault in short, for want of a file.
        typed: What was typed into the page and not written.
    """

    CSS_PATH = "fault_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.go('round')", "To the round", show=False, priority=True)
    ]

    def __init__(self, report: Path | None, what: str, typed: Sequence[str] = ()) -> None:
        super().__init__()
        self.report, self.what, self.typed = report, what, typed

    def compose(self) -> ComposeResult:
        """What happened, and the keys that lead on."""
        yield TextPane(id="faults")
        yield Foot([Key("Esc", "to the round", "app.go('round')"), Key("↑ ↓", "scroll")], "")

    def on_mount(self) -> None:
        """Say it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        lines = [
            heading("This page could not be drawn"),
            *wrapped(
                "Something in seedstart itself failed; your season is not at fault. What was "
                "confirmed is on the disk, and the other pages work: their keys stand below.",
                width,
                hang="",
            ),
            plain(""),
        ]
        if self.typed:
            lines += wrapped("You had typed, and it is not written:", width, hang="")
            lines += (line for one in self.typed for line in wrapped(one, width))
            lines.append(plain(""))
        if self.report is None:
            told = f"Please tell whoever mends seedstart: {self.what}"
            return [*lines, *wrapped(told, width, hang="")]
        told = "Please send this file to whoever mends seedstart:"
        path = str(self.report)  # whole, wherever it has to be broken: it is to be found by it
        parts = (path[start : start + width] for start in range(0, len(path), width))
        return [*lines, *wrapped(told, width, hang=""), *map(plain, parts)]
