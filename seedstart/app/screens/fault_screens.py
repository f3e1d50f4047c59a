"""What is wrong in a season's files: when it cannot be opened, and while it is open."""

import platform
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from traceback import format_exception
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message

from seedstart import disk
from seedstart.app.frame import Foot, Key, TextPane
from seedstart.app.screens.season_screen import FittedScreen
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.problems import BadInputError, Problem, count_of
from seedstart.season.plan.season_file import LOTS_FILE
from seedstart.settings import reports_path


def write_report(error: Exception, where: str, now: datetime) -> Path | None:
    """Write what failed and where; no word of the season beyond what the fault itself says.

    Args:
        error: What failed.
        where: The page.
        now: When, for the file's name.

    Returns:
        The file; None where it cannot be written.
    """
    path = reports_path() / f"{now:%Y-%m-%d-%H%M%S}-{type(error).__name__}.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists():  # the same fault in the same second
            disk.write_new(path, _text(error, where, now).encode("utf-8", "replace"))
    except (OSError, BadInputError):
        return None
    return path


def _text(error: Exception, where: str, now: datetime) -> str:
    versions = ", ".join(f"{name} {_version(name)}" for name in ("seedstart", "textual", "msgspec"))
    head = (
        f"seedstart failed on {where}, {now:%Y-%m-%d %H:%M}.\n"
        f"{versions}, Python {platform.python_version()}, {platform.platform()}\n\n"
    )
    return head + "".join(format_exception(error))


def _version(name: str) -> str:
    from importlib.metadata import PackageNotFoundError, version  # many modules, for a fault alone

    try:
        return version(name)
    except PackageNotFoundError:
        return "of unknown version"


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
                "confirmed is saved, and the other pages still work: their keys are below.",
                width,
                hang="",
            ),
            plain(""),
        ]
        if self.typed:
            lines += wrapped("You had typed this, and it was not written:", width, hang="")
            lines += (line for one in self.typed for line in wrapped(one, width))
            lines.append(plain(""))
        if self.report is None:
            told = f"Please report this to whoever maintains seedstart: {self.what}"
            return [*lines, *wrapped(told, width, hang="")]
        told = "Please send this file to whoever maintains seedstart:"
        path = str(self.report)  # whole, wherever it has to be broken: it is to be found by it
        parts = (path[start : start + width] for start in range(0, len(path), width))
        return [*lines, *wrapped(told, width, hang=""), *map(plain, parts)]


_LOOK_AGAIN_S: Final = 2.0


class ReadAgain(Message):
    """The season is to be opened anew.

    Attributes:
        without_lots: Whether to go on with the stations and the journal alone.
    """

    def __init__(self, *, without_lots: bool = False) -> None:
        self.without_lots = without_lots
        super().__init__()


def fault_lines(problems: tuple[Problem, ...], width: int) -> list[Line]:
    """Each fault: where it is, what stands there, what may stand there."""
    lines: list[Line] = []
    for number, problem in enumerate(problems, 1):
        place = problem.place
        lines += [plain(""), *wrapped(f"{number}. {place}", width, role="warn")]
        said = str(problem).removeprefix(place).lstrip(",:. ")
        lines += wrapped(said[:1].upper() + said[1:], width, indent="   ", hang="")
    return lines


class FaultScreen(FittedScreen):
    """A season that cannot be opened. It looks again by itself, and on Enter."""

    CSS_PATH = "fault_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "read_again", "Read again", show=False, priority=True),
        Binding("w", "without_lots", "Without the lots", show=False),
    ]

    def __init__(self, folder: Path, problems: tuple[Problem, ...]) -> None:
        super().__init__()
        self.folder, self.problems = folder, problems

    @property
    def goes_without_lots(self) -> bool:
        """Whether all the faults are in the file of lots."""
        return all(problem.file.endswith(LOTS_FILE) for problem in self.problems)

    def compose(self) -> ComposeResult:
        """The faults, and what can be done about them."""
        keys = [Key("Enter", "read it again", "screen.read_again")]
        if self.goes_without_lots:
            keys.append(Key("w", "go on without the lots", "screen.without_lots"))
        keys += [Key("↑ ↓", "scroll"), Key("q", "quit", "app.quit")]
        yield TextPane(id="faults")
        yield Foot(keys, None)

    def on_mount(self) -> None:
        """Say what is wrong; look again every other second."""
        self.query_one(TextPane).show_text(self._lines)
        self.set_interval(_LOOK_AGAIN_S, lambda: self.post_message(ReadAgain()))

    def _lines(self, width: int) -> list[Line]:
        count = count_of(self.problems)
        many = "something is" if count == 1 else f"{count} things are"
        said = f"{self.folder}: {many} wrong in the season's files, so the season cannot be opened."
        todo = (
            "Fix it in your editor; it reopens when you save. Nothing was changed, and what was "
            "recorded is safe."
        )
        return [
            heading("This season cannot be read"),
            *wrapped(said, width, hang=""),
            *fault_lines(self.problems, width),
            plain(""),
            *wrapped(todo, width, hang=""),
        ]

    def action_read_again(self) -> None:
        """Try it now."""
        self.query_one(Foot).say("Read again: no change.")
        self.post_message(ReadAgain())

    def action_without_lots(self) -> None:
        """Open what can be read."""
        if self.goes_without_lots:
            self.post_message(ReadAgain(without_lots=True))


class FaultsSoFar(FittedScreen):
    """All that is wrong while the last good plan stands."""

    CSS_PATH = "fault_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,f", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__()
        self.problems = problems

    def compose(self) -> ComposeResult:
        """The faults."""
        yield TextPane(id="faults")
        yield Foot([Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll")], None)

    def on_mount(self) -> None:
        """Say what is wrong."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        said = (
            "The season goes on with the last valid plan, and everything you record is written. "
            "Fix the file and save: the new plan is used at once."
        )
        return [
            heading("Faults in the season's files"),
            *wrapped(said, width, hang=""),
            *fault_lines(self.problems, width),
        ]
