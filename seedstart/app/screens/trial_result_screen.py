"""What a trial shows: the sentence, the picture, how sure it is; and what leaves."""

import asyncio
import io
from collections.abc import Mapping
from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.screens.season_screen import SeasonScreen, WriteOut
from seedstart.app.screens.trial_screen import TrialScreen
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.trial_picture import NEEDS, trial_picture
from seedstart.drawing.trial_sheet import answer_lines, group_lines, of_light, other_measures
from seedstart.open_season import OpenSeason
from seedstart.planning.light.station_light import Logged
from seedstart.planning.trials.trial_result import MEASURES, TrialResult, trial_result
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.takeaway.tables import write_table
from seedstart.takeaway.trial_table import TRIAL_HEAD, trial_rows
from seedstart.tracking.records import Records

_OTHER_ROWS = 15  # what stands above and below the picture, and head, pane and foot
_LEAST_ROWS, _MOST_ROWS = 9, 18


class ResultState(Struct, frozen=True):
    """What is reckoned with; the trial is None when it is no longer there."""

    trial: TrialPlan | None
    plan: Season
    records: Records
    logged: Logged


class TrialResultScreen(SeasonScreen[ResultState]):
    """One trial's result.

    Args:
        name: The trial.
    """

    CSS_PATH = "trial_screen.tcss"
    PAGE = "trials"
    KEYS = (
        Key("Tab", "height, stem, quotient", "screen.measure"),
        Key("Enter", "trays", "screen.trays"),
        Key("x", "picture, table", "screen.write_out"),
        Key("Esc", "back", "screen.leave"),
        Key("w", "why", "screen.why"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", show=False, priority=True),
        Binding("tab", "measure", "Next measure", show=False, priority=True),
        Binding("enter", "trays", "Trays", show=False, priority=True),
        Binding("x", "write_out", "Picture and table", show=False),
        Binding("w", "why", "Why", show=False),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.trial = name
        self._found: TrialResult | None = None
        self._of = MEASURES[0]
        self._why = False

    @property
    def head(self) -> str:
        """The trial's name."""
        return f"Trial {self.trial}"

    def body(self) -> ComposeResult:
        """Sentence and picture; what it does not say."""
        yield TextPane(id="sheet")
        yield TextPane(id="pane")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one("#pane").can_focus = False
        self.query_one("#sheet").focus()

    def subject(self) -> Subject | None:
        """The first lot that is tried."""
        trial = self.state.trial if self.state is not None else None
        return None if trial is None else ("lot", trial.lots[0])

    def look(self, opened: OpenSeason) -> ResultState:
        """The trial as it is now."""
        trials = (one for one in opened.plan.trials if one.name == self.trial)
        return ResultState(next(trials, None), opened.plan, opened.records(), opened.readings())

    def show(self, state: ResultState) -> None:
        """Reckon it in a thread, for that takes a second or two; then draw it."""
        if state.trial is not None:
            self.run_worker(self._reckon(state, state.trial), exclusive=True)
        self._draw()

    async def _reckon(self, state: ResultState, trial: TrialPlan) -> None:
        found = await asyncio.to_thread(
            lambda: trial_result(trial, state.plan, state.records, logged=state.logged)
        )
        if state is self.state:
            self._found = found
            self._draw()

    def _draw(self) -> None:
        self.query_one("#sheet", TextPane).show_text(self._lines, top=True)
        self.query_one("#pane", TextPane).show_text(self._pane, top=True)

    def _lines(self, width: int) -> list[Line]:
        found = self._found
        if self.state is not None and self.state.trial is None:
            return [plain("This trial is no longer in the season.")]
        if found is None:
            return [plain("Reckoning what it shows.")]
        if self._why:
            said = [*found.remarks, *other_measures(found), *of_light(found)]
            return [
                *group_lines(found), plain(""),
                *(line for text in said for line in wrapped(text, width)),
            ]  # fmt: skip
        rows = min(max(self.size.height - _OTHER_ROWS, _LEAST_ROWS), _MOST_ROWS)
        lines = answer_lines(found, self._of, width, rows)
        others = other_measures(found, self._of)
        return [*lines, *(line for text in others for line in wrapped(text, width, hang=""))]

    def _pane(self, width: int) -> list[Line]:
        found = self._found
        if found is None or self._why:
            return []
        said = [*found.remarks, *of_light(found)]
        return [line for text in said for line in wrapped(text, width, hang="")]

    def action_measure(self) -> None:
        """Height, stem, quotient, and height again."""
        self._of = MEASURES[(MEASURES.index(self._of) + 1) % len(MEASURES)]
        self._draw()

    def action_trays(self) -> None:
        """The trays, and what was measured of each."""
        self.app.push_screen(TrialScreen(self.trial))

    def action_why(self) -> None:
        """The figures, and what limits them; or the picture again."""
        self._why = not self._why
        self._draw()

    def action_leave(self) -> None:
        """From the figures to the picture, from there back."""
        if self._why:
            self.action_why()
        else:
            self.app.pop_screen()

    def action_write_out(self) -> None:
        """A picture and a table of every plant, as files in the season's folder."""
        found = self._found
        if found is None or not any(tray.plants for tray in found.trays):
            self.say("Nothing is measured of it yet: there is nothing to write out.")
            return
        self.say("Drawing the picture.")
        self.run_worker(self._write_out(found), group="writing", exclusive=True)

    async def _write_out(self, found: TrialResult) -> None:
        files, remark = await asyncio.to_thread(_files_of, found)
        self.post_message(WriteOut(f"{found.trial.name}-{{day}}", files, remark))


def _files_of(found: TrialResult) -> tuple[Mapping[str, bytes], str]:
    """The files by their endings; and why there is no picture, where there is none."""
    table = io.StringIO()
    write_table(table, TRIAL_HEAD, trial_rows(found))
    files, remark = {".csv": table.getvalue().encode()}, ""
    if found.responses.get(""):
        try:
            files[".png"] = trial_picture(found, "png")
        except ImportError:
            remark = NEEDS
    return files, remark
