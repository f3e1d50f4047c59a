"""Every figure of how one lot came up, with its definition; its tests, where it has any."""

from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.app.screens.seed_test_screen import SeedTestScreen
from seedstart.drawing.germination_sheet import germination_lines
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.seed_test_sheet import seed_test_sheet
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.lot_course import LotCourse, lot_course
from seedstart.planning.lots.seed_tests import SeedTest, seed_tests
from seedstart.season.journal.entry import Subject
from seedstart.units import Units


class FiguresState(Struct, frozen=True):
    """How a lot came up; None when it is no longer in the season."""

    course: LotCourse | None
    tests: tuple[SeedTest, ...] = ()
    units: Units = "metric"


class LotFiguresScreen(SeasonScreen[FiguresState]):
    """The germination sheet of one lot.

    Args:
        name: The lot.
    """

    CSS_PATH = "sheet_screen.tcss"
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("enter", "test", "Its test", id="figures.test", show=False, priority=True),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.lot_name = name

    @property
    def head(self) -> str:
        """The lot's name."""
        return f"Germination of {self.lot_name}"

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def subject(self) -> Subject | None:
        """The lot."""
        return ("lot", self.lot_name)

    def look(self, opened: OpenSeason) -> FiguresState:
        """The lot as it is now."""
        lot = opened.plan.lots_by_name.get(self.lot_name)
        if lot is None:
            return FiguresState(None)
        records = opened.records()
        every = seed_tests(opened.plan, records, opened.today)
        return FiguresState(
            lot_course(lot, opened.plan, records),
            tuple(one for one in every if one.lot == lot.name),
            opened.plan.units,
        )

    def show(self, state: FiguresState) -> None:
        """Draw it."""
        test = (Key("Enter", "its test: count it", "screen.test"),) if state.tests else ()
        self.set_keys((*test, *self.KEYS))
        self.query_one(TextPane).show_text(self._lines)

    def action_test(self) -> None:
        """The latest of its tests."""
        if self.state is not None and self.state.tests:
            test = self.state.tests[-1]
            self.app.push_screen(SeedTestScreen(test.name, test.lot))

    def _lines(self, width: int) -> list[Line]:
        state = self.state
        if state is None or state.course is None:
            return [plain(f"{self.lot_name} is no longer among the lots.")]
        lines: list[Line] = []
        for test in state.tests:
            lines += [*seed_test_sheet(test, "", state.units, min(width, 96)), plain("")]
        return [*lines, *germination_lines(state.course, min(width, 96))]
