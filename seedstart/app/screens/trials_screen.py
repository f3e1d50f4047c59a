"""Trials and germination tests: what is tried, how far it is; one of them opened."""

from collections.abc import Hashable
from datetime import date
from typing import ClassVar, cast

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.app.screens.seed_test_screen import NOT_PLANNED, SeedTestScreen, WritesDown
from seedstart.app.screens.trial_result_screen import TrialResultScreen
from seedstart.app.screens.trial_screen import TrialScreen
from seedstart.drawing.lines import Line
from seedstart.drawing.trials_list import list_head, nothing_lines, test_line, trial_line
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import SeedTest, seed_tests
from seedstart.planning.trials.trial_trays import TrialTray, trial_trays
from seedstart.season.journal.entry import Subject
from seedstart.season.trials.trial_plan import TrialPlan


class ListedTrial(Struct, frozen=True):
    """A trial and its trays."""

    trial: TrialPlan
    trays: tuple[TrialTray, ...]


class TrialsState(Struct, frozen=True):
    """What the screen draws."""

    listed: tuple[ListedTrial | SeedTest, ...]
    today: date


class TrialsScreen(SeasonScreen[TrialsState]):
    """All of them in a list."""

    CSS_PATH = "trials_screen.tcss"
    HEAD, PAGE = "Tests and trials", "trials"
    KEYS = (
        Key("Enter", "open it", "screen.open"),
        Key("e", "change it", "screen.change"),
        Key("a", "new trial", "app.write_act('new trial')"),
        Key("A", "new germination test", "app.write_act('new test')"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("e", "change", "Change it", id="trials.change", show=False),
        Binding("a", "app.write_act('new trial')", "New trial", id="trials.add", show=False),
        Binding("A", "app.write_act('new test')", "New test", id="trials.add_test", show=False),
    ]

    def body(self) -> ComposeResult:
        """Heads of the columns, the list; what is said of none."""
        yield TextPane(id="columns")
        yield LineList[ListedTrial | SeedTest](self._line, key=_key, id="trials")
        yield TextPane(id="empty")

    def on_mount(self) -> None:
        """The list takes the keys."""
        for name in ("#columns", "#empty"):
            self.query_one(name).can_focus = False
        self.query_one("#columns", TextPane).show_text(lambda _: [list_head()])
        self.query_one("#empty", TextPane).show_text(nothing_lines)
        self.query_one("#empty").display = False
        self.trials.focus()

    @property
    def trials(self) -> LineList[ListedTrial | SeedTest]:
        """The list."""
        return self.query_one("#trials", LineList)

    def look(self, opened: OpenSeason) -> TrialsState:
        """As they are now."""
        plan, records, readings = opened.plan, opened.records(), opened.readings()
        trials = [
            ListedTrial(one, trial_trays(one, plan, records, logged=readings))
            for one in plan.trials
        ]
        return TrialsState((*trials, *seed_tests(plan, records, opened.today)), opened.today)

    def show(self, state: TrialsState) -> None:
        """Draw it."""
        self.trials.show(state.listed)
        self.query_one("#empty").display = not state.listed
        for name in ("#columns", "#trials"):
            self.query_one(name).display = bool(state.listed)
        self.set_keys(self.KEYS if state.listed else self.KEYS[2:])

    def subject(self) -> Subject | None:
        """The lot that is tried."""
        one = self.trials.item
        if one is None:
            return None
        return ("lot", one.lot if isinstance(one, SeedTest) else one.trial.lots[0])

    def _line(self, one: ListedTrial | SeedTest, width: int) -> Line:
        if isinstance(one, SeedTest):
            return test_line(one, width)
        return trial_line(one.trial, one.trays, self.state.today if self.state else date.min, width)

    def action_open(self) -> None:
        """The one under the cursor."""
        self.trials.action_choose()

    def action_change(self) -> None:
        """What is planned of the one under the cursor."""
        one, app = self.trials.item, cast("WritesDown", self.app)
        if isinstance(one, ListedTrial):
            app.action_write_act("change trial", "trial", one.trial.name)
        elif one is not None and one.planned is not None:
            app.action_write_act("change test", "test", one.name)
        elif one is not None:
            self.say(NOT_PLANNED)

    def on_line_list_chosen(self, event: LineList.Chosen[ListedTrial | SeedTest]) -> None:
        """Its trays while it is being measured, else what it shows."""
        event.stop()
        one = event.item
        if isinstance(one, SeedTest):
            self.app.push_screen(SeedTestScreen(one.name, one.lot))
        elif any(not tray.plants and not tray.dead for tray in one.trays):
            self.app.push_screen(TrialScreen(one.trial.name))
        else:
            self.app.push_screen(TrialResultScreen(one.trial.name))


def _key(one: ListedTrial | SeedTest) -> Hashable:
    return (one.name, one.lot) if isinstance(one, SeedTest) else one.trial.name
