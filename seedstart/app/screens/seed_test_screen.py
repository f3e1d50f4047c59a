"""One germination test: its conditions, each replicate, what it says of the seed."""

from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.seed_test_sheet import seed_test_sheet
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import SeedTest, seed_tests
from seedstart.season.journal.entry import Subject
from seedstart.units import Units


class SeedTestState(Struct, frozen=True):
    """The test; None when it is no longer there."""

    test: SeedTest | None
    units: Units = "metric"


class SeedTestScreen(SeasonScreen[SeedTestState]):
    """One test of one lot.

    Args:
        name: The test.
        lot: The lot.
    """

    CSS_PATH = "sheet_screen.tcss"
    PAGE = "trials"
    KEYS = (
        Key("Esc", "back", "app.pop_screen"),
        Key("e", "change it", "app.write_act('change test')"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("e", "app.write_act('change test')", "Change it", show=False),
    ]

    def __init__(self, name: str, lot: str) -> None:
        super().__init__()
        self.test_name, self.lot = name, lot

    @property
    def head(self) -> str:
        """The test's name."""
        return f"Test {self.test_name}"

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def subject(self) -> Subject | None:
        """The lot that is tested."""
        return ("lot", self.lot)

    def look(self, opened: OpenSeason) -> SeedTestState:
        """The test as it is now."""
        every = seed_tests(opened.plan, opened.records(), opened.today)
        found = (one for one in every if (one.name, one.lot) == (self.test_name, self.lot))
        return SeedTestState(next(found, None), opened.plan.units)

    def show(self, state: SeedTestState) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        state = self.state
        if state is None or state.test is None:
            return [plain("This test is no longer in the season.")]
        return seed_test_sheet(state.test, "", state.units, min(width, 96))
