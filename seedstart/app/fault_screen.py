"""What is wrong in a season's files: when it cannot be opened, and while it is open."""

from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message

from seedstart.app.frame import Foot, Key
from seedstart.app.season_screen import FittedScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.problems import Problem, count_of
from seedstart.season.plan import LOTS_FILE

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
        said = f"{self.folder}: {many} wrong in the season's files, so it is not open."
        todo = (
            "Mend it in your editor and save: it opens by itself then. Nothing was changed, "
            "and what was recorded is safe."
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
        self.query_one(Foot).say("Read again: nothing has changed.")
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
            "The season goes on with the last plan that could be read, and everything you record "
            "is written. Mend the file and save: the new plan holds at once."
        )
        return [
            heading("Wrong in the season's files"),
            *wrapped(said, width, hang=""),
            *fault_lines(self.problems, width),
        ]
