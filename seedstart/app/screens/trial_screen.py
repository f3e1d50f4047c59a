"""The trays of a trial: sown where they were drawn to stand, measured plant by plant."""

from collections.abc import Mapping
from datetime import date
from typing import ClassVar, Final, cast

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key as KeyPressed

from seedstart.acts.known import Known
from seedstart.acts.read import read
from seedstart.acts.seed import SOW
from seedstart.acts.sentences import confirmed, would_write
from seedstart.app.frame import TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.plants_slip import PlantsSlip
from seedstart.app.screens.season_screen import HandsOut, SeasonScreen, ToRecord
from seedstart.app.slip import Key
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.drawing.trials_list import place_in_words, tray_line, trays_head, trial_head
from seedstart.open_season import OpenSeason
from seedstart.planning.trials.trial_trays import TrialTray, sown_so, trial_trays
from seedstart.problems import Problem
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.text import folded
from seedstart.units import Units

_HOW: Final = (
    "Height from the medium to the shoot tip; stem just under the seed leaves. x for a dead plant, "
    "- for one you skip."
)
_MEASURED: Final = "{tray} was measured today. u takes your last act back; j has every act."
_NOT_UP: Final = "Nothing stands in {tray} yet: count it in the round once it is up."
_BACK: Final = Key("Esc", "back", "app.pop_screen")
_RESULT: Final = Key("w", "what it shows", "screen.result")


class TrialState(Struct, frozen=True):
    """What the screen draws; the trial is None when it is no longer there."""

    known: Known
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
    KEYS = (_BACK,)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False),
        Binding("w", "result", "What it shows", show=False),
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
        plan, known = opened.plan, opened.known()
        trial = next((one for one in plan.trials if one.name == self.trial), None)
        if trial is None:
            return TrialState(known, None)
        trays = trial_trays(trial, plan, opened.records(), logged=opened.readings())
        return TrialState(known, trial, trays, opened.today, plan.units)

    def show(self, state: TrialState) -> None:
        """Draw it; the cursor begins at the first tray that is to be done."""
        first = not self.trays.items
        self.query_one("#top", TextPane).show_text(self._top)
        self.trays.show(state.trays)
        if first:
            self._to_next(0)
        self._tell()

    def _to_next(self, row: int) -> None:
        """The cursor to the next tray that is not measured, else it stays."""
        rows = [*range(row, len(self.trays.items)), *range(row)]
        self.trays.cursor = next(
            (at for at in rows if not _is_done(self.trays.items[at])), self.trays.cursor
        )

    def on_line_list_highlighted(self, event: LineList.Highlighted[TrialTray]) -> None:
        """Another tray: where it is to stand, or how it is measured."""
        event.stop()
        self._tell()

    def _tell(self) -> None:
        self.query_one("#pane", TextPane).show_text(self._pane, top=True)
        tray = self.trays.item
        own = [] if tray is None or self._why_not(tray) else [Key("Enter", _does(tray))]
        if any(map(_is_done, self.trays.items)):
            own.append(_RESULT)
        self.set_keys((*own, _BACK))

    def _pane(self, width: int) -> list[Line]:
        state, tray = self.state, self.trays.item
        if state is None or tray is None:
            return []
        said = _HOW if tray.standing else place_in_words(tray, state.units)
        return wrapped(said, width, hang="")

    def subject(self) -> Subject | None:
        """The sowing in the tray under the cursor; before it was sown, the tray."""
        tray = self.trays.item
        if tray is None:
            return None
        return ("sowing", tray.sowing) if tray.sowing else ("tray", tray.place.tray)

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

    # Slips

    def _why_not(self, tray: TrialTray) -> str:
        """Why nothing can be typed at a tray now; empty where something can."""
        if not tray.sowing:
            return ""
        if self.state is not None and tray.on == self.state.today:
            return _MEASURED.format(tray=tray.place.tray)
        return "" if tray.standing else _NOT_UP.format(tray=tray.place.tray)

    def on_key(self, event: KeyPressed) -> None:
        """A digit begins what the tray's line takes: plants, or seeds."""
        sign = event.character or ""
        tray = self.trays.item
        takes = "0123456789x" if tray is not None and tray.sowing else "0123456789"
        if len(sign) == 1 and sign in takes and tray is not None:
            event.stop()
            event.prevent_default()
            self._type(sign)

    def on_line_list_chosen(self, event: LineList.Chosen[TrialTray]) -> None:
        """Enter: the same."""
        event.stop()
        self._type("")

    def _type(self, text: str) -> None:
        tray, state = self.trays.item, self.state
        if tray is None or state is None or state.trial is None:
            return
        if why := self._why_not(tray):
            self.say(why)
            return
        name = tray.place.tray
        slip: TextSlip
        if tray.sowing:
            slip = PlantsSlip(lambda: self._sowing_in(name), name, state.trial.plants)
        else:
            part = Part("seeds", says="how many seeds", proposed=f"{state.trial.seeds}")
            slip = TextSlip(
                (part,), lambda texts: self._sown(name, texts),
                says=f"You are typing how many seeds go into {name}. Esc leaves it.",
            )  # fmt: skip
        self.trays.lay(slip, anew=bool(text))
        if text:
            slip.paste(text)
            self.trays.lay_again()

    def _tray(self, name: str) -> TrialTray | None:
        trays = self.state.trays if self.state is not None else ()
        return next((one for one in trays if folded(one.place.tray) == folded(name)), None)

    def _sowing_in(self, name: str) -> tuple[str, Known] | None:
        tray = self._tray(name)
        if tray is None or not tray.sowing or self.state is None:
            return None
        return tray.sowing, self.state.known

    def _sown(self, name: str, texts: Mapping[str, str]) -> Understood:
        tray, state = self._tray(name), self.state
        if tray is None or state is None or state.trial is None or tray.sowing:
            return Understood(refusal="Somebody sowed it meanwhile: nothing was written.")
        so = sown_so(tray.place, state.trial)
        filled = read(SOW, state.known, {**so, "seeds": texts["seeds"]})
        if filled.entries:
            return Understood(says=would_write(filled.entries, state.known), value=filled.entries)
        said = (one.hint or str(one) for one in filled.problems.values())
        return Understood(refusal=" ".join(said))

    def on_line_list_written(self, event: LineList.Written[TrialTray]) -> None:
        """Enter in a slip: read once more with all that others wrote, then write it."""
        event.stop()
        slip, app = event.slip, cast("HandsOut", self.app)
        app.catch_up()
        app.hand_out(self)
        if not isinstance(slip, TextSlip) or self.trays.slip is not slip:
            self.say("That tray is gone meanwhile: nothing was written.", warn=True)
        elif slip.read_again():
            self.post_message(ToRecord(self, slip.understood.value))
        self.trays.lay_again()

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:  # noqa: ARG002
        """It is on the disk: on to the next tray."""
        self.trays.take_off()
        self._to_next(self.trays.cursor + 1)
        if self.state is not None:
            self.say(confirmed(entries, self.state.known))

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:
        """It is not: what was typed stays."""
        slip = self.trays.slip
        if isinstance(slip, TextSlip):
            slip.refuse(" ".join(problem.hint or str(problem) for problem in problems))
            self.trays.lay_again()
        else:
            super().refused(problems, asked)

    def action_result(self) -> None:
        """What was measured so far, and what it shows."""
        if not any(map(_is_done, self.trays.items)):
            self.say("Nothing is measured of it yet.")
            return
        from seedstart.app.screens.trial_result_screen import TrialResultScreen

        self.app.push_screen(TrialResultScreen(self.trial))


def _is_done(tray: TrialTray) -> bool:
    return bool(tray.plants or tray.dead)


def _does(tray: TrialTray) -> str:
    return "measure its plants" if tray.sowing else "sow it"
