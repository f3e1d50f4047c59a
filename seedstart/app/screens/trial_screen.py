"""The trays of a trial: where each is to stand, how far it is, its plants measured."""

from datetime import date
from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.trials_list import place_in_words, tray_line, trays_head, trial_head
from seedstart.open_season import OpenSeason
from seedstart.planning.trials.trial_trays import TrialTray, trial_trays
from seedstart.season.journal.entry import Subject
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.units import Units


class TrialState(Struct, frozen=True):
    """What the screen draws; the trial is None when it is no longer there."""

    trial: TrialPlan | None
    trays: tuple[TrialTray, ...] = ()
    today: date = date.min
    units: Units = "metric"


class TrialScreen(SeasonScreen[TrialState]):
    """One trial, tray by tray.

    Args:
        name: The trial.
    """

    CSS_PATH = "trial_screen.tcss"
    PAGE = "trials"
    KEYS = (Key("Esc", "back", "app.pop_screen"),)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.trial = name

    @property
    def head(self) -> str:
        """The trial's name."""
        return f"Trial {self.trial}"

    def body(self) -> ComposeResult:
        """What is tried, and its trays."""
        yield TextPane(id="top")
        yield TextPane(id="columns")
        yield LineList[TrialTray](self._line, key=lambda one: one.place.tray, id="trays")
        yield TextPane(id="pane")

    def on_mount(self) -> None:
        """The trays take the keys."""
        for name in ("#top", "#columns", "#pane"):
            self.query_one(name).can_focus = False
        self.query_one("#columns", TextPane).show_text(lambda _: [trays_head()])
        self.trays.focus()

    @property
    def trays(self) -> LineList[TrialTray]:
        """The list."""
        return self.query_one("#trays", LineList)

    def look(self, opened: OpenSeason) -> TrialState:
        """The trial as it is now."""
        plan = opened.plan
        trial = next((one for one in plan.trials if one.name == self.trial), None)
        if trial is None:
            return TrialState(None)
        trays = trial_trays(trial, plan, opened.records(), logged=opened.readings())
        return TrialState(trial, trays, opened.today, plan.units)

    def show(self, state: TrialState) -> None:
        """Draw it."""
        self.query_one("#top", TextPane).show_text(self._top)
        self.trays.show(state.trays)

    def on_line_list_highlighted(self, event: LineList.Highlighted[TrialTray]) -> None:
        """Another tray: where it is to stand."""
        event.stop()
        self.query_one("#pane", TextPane).show_text(self._pane, top=True)

    def _pane(self, width: int) -> list[Line]:
        state, tray = self.state, self.trays.item
        if state is None or tray is None:
            return []
        return wrapped(place_in_words(tray, state.units), width, hang="")

    def subject(self) -> Subject | None:
        """The tray under the cursor, or its sowing."""
        tray = self.trays.item
        return None if tray is None else ("tray", tray.place.tray)

    def _top(self, width: int) -> list[Line]:
        trial = self.state.trial if self.state is not None else None
        if trial is None:
            return [plain("This trial is no longer in the season.")]
        return trial_head(trial, width)

    def _line(self, one: TrialTray, width: int) -> Line:
        state = self.state
        if state is None or state.trial is None:
            return plain(one.place.tray)
        return tray_line(one, state.trial, state.units, width)
