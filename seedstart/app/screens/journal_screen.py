"""What was done, the latest first; each act can be taken back where it stands, and restored."""

from collections.abc import Sequence
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import LinesFor, SeasonScreen, StrikeAct
from seedstart.drawing.lines import Line
from seedstart.drawing.round_lines import act_line, act_sheet, acts_head
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entry import Subject
from seedstart.tracking.history import Act, acts_of
from seedstart.units import Units

# What an app shows of a season of a million entries; a lot's own journal is shown whole.
_MOST_ACTS: Final = 1000
_NOTHING: Final = "Nothing written yet. n writes down what you did."


class JournalState(Struct, frozen=True):
    """What is listed.

    Attributes:
        acts: The latest first.
        units: For the words.
    """

    acts: tuple[Act, ...]
    units: Units


class JournalScreen(SeasonScreen[JournalState]):
    """A line an act, and below it all of the one under the cursor.

    Args:
        lot: What was done with this lot alone; None for all.
    """

    CSS_PATH = "journal_screen.tcss"
    HEAD, PAGE = "Journal", "journal"
    HAS_HALF = True
    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("t", "take back or restore", "screen.strike"),
        Key("↑ ↓", "choose"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t", "strike", "Take back or restore", id="journal.strike", show=False)
    ]

    def __init__(self, lot: str | None = None) -> None:
        super().__init__()
        self.lot = lot

    @property
    def head(self) -> str:
        """What is listed."""
        return self.HEAD if self.lot is None else f"Journal of {self.lot}"

    def body(self) -> ComposeResult:
        """Heads of the columns, the acts, and below them the one under the cursor."""
        yield TextPane(id="columns")
        yield LineList[Act](self._line, key=lambda act: act.first.id, id="acts")
        yield Static(_NOTHING, id="empty", markup=False)
        yield TextPane(id="whole", classes="pane")

    def on_mount(self) -> None:
        """The acts take the keys."""
        columns = self.query_one("#columns", TextPane)
        columns.can_focus = self.query_one("#whole").can_focus = False
        columns.show_text(lambda width: [acts_head(width)])
        self.query_one("#empty").display = False
        self.acts.focus()

    @property
    def acts(self) -> LineList[Act]:
        """The list."""
        return self.query_one("#acts", LineList)

    def look(self, opened: OpenSeason) -> JournalState:
        """What was done until now."""
        most = _MOST_ACTS if self.lot is None else None
        found = acts_of(opened.records(), opened.journal, self.lot, most)
        return JournalState(_kept(found, self.state.acts if self.state else ()), opened.plan.units)

    def show(self, state: JournalState) -> None:
        """Draw it."""
        self.acts.show(state.acts)
        self.query_one("#empty").display = not state.acts

    def _line(self, act: Act, width: int) -> Line:
        return act_line(act, self.state.units if self.state else "metric", width)

    def subject(self) -> Subject | None:
        """What the act was about, for a form."""
        act = self.acts.item
        subjects = act.first.subjects() if act is not None else ()
        known = (one for one in subjects if one[0] in {"sowing", "tray", "station", "lot"})
        return next(known, None)

    def on_line_list_highlighted(self, event: LineList.Highlighted[Act]) -> None:
        """All of the act under the cursor."""
        event.stop()
        act, units = event.item, self.state.units if self.state else "metric"
        whole = self.query_one("#whole", TextPane)
        whole.show_text(lambda width: act_sheet(act, units, width), top=True)

    def half(self, _: OpenSeason) -> LinesFor | None:
        """The act under the cursor, whole."""
        act, units = self.acts.item, self.state.units if self.state else "metric"
        return None if act is None else lambda width: act_sheet(act, units, width)

    def action_strike(self) -> None:
        """Take back the act under the cursor, or restore it."""
        act = self.acts.item
        if act is not None:
            self.post_message(StrikeAct(act.first.id))


class LotJournalScreen(JournalScreen):
    """What was done with one lot; Esc leads back to it."""

    PAGE = ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), *JournalScreen.KEYS)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,j", "app.pop_screen", "Back", show=False, priority=True)
    ]


def _kept(acts: tuple[Act, ...], before: Sequence[Act]) -> tuple[Act, ...]:
    """Acts that are as they were stay the same objects: their rows are not drawn again."""
    known = {act.first.id: act for act in before}
    return tuple(known[act.first.id] if known.get(act.first.id) == act else act for act in acts)
