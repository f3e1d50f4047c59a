"""What was done, the latest first; each act can be taken back where it stands, and restored."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from seedstart.app.frame import HeadLine, Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import LinesFor, SeasonScreen, StrikeAct
from seedstart.app.slip import ChoiceSlip
from seedstart.drawing.acts_list import ActsDay, act_line, act_sheet, by_day, day_line
from seedstart.drawing.lines import Line
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entry import Subject
from seedstart.text import plural
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
        Key("Enter", "open: take back, restore", "screen.open"),
        Key("Tab", "next day", "screen.next_day(1)"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "next_day(1)", "Next day", show=False, priority=True),
        Binding("shift+tab", "next_day(-1)", "Day before", show=False, priority=True),
    ]

    def __init__(self, lot: str | None = None) -> None:
        super().__init__()
        self.lot = lot

    @property
    def head(self) -> str:
        """What is listed."""
        return self.HEAD if self.lot is None else f"Journal of {self.lot}"

    def body(self) -> ComposeResult:
        """The acts under their days, and below them the one under the cursor."""
        yield LineList[ActsDay | Act](self._line, selectable=_is_act, key=_key, id="acts")
        yield Static(_NOTHING, id="empty", markup=False)
        yield TextPane(id="whole", classes="pane")

    def on_mount(self) -> None:
        """The acts take the keys."""
        self.query_one("#whole").can_focus = False
        self.query_one("#empty").display = False
        self.acts.focus()

    @property
    def acts(self) -> LineList[ActsDay | Act]:
        """The list."""
        return self.query_one("#acts", LineList)

    def look(self, opened: OpenSeason) -> JournalState:
        """What was done until now."""
        most = _MOST_ACTS if self.lot is None else None
        found = acts_of(opened.records(), opened.journal, self.lot, most)
        return JournalState(_kept(found, self.state.acts if self.state else ()), opened.plan.units)

    def show(self, state: JournalState) -> None:
        """Draw it."""
        days = {item.day: item for item in self.acts.items if isinstance(item, ActsDay)}
        listed = by_day(state.acts)  # a day of which the same is said is the same object
        self.acts.show([_same(item, days) for item in listed])
        for name in ("#acts", "#whole"):
            self.query_one(name).set_class(not state.acts, "-none")
        self.query_one("#empty").display = not state.acts
        self.set_keys(self.KEYS if state.acts else tuple(k for k in self.KEYS if k.key == "Esc"))
        self.query_one(HeadLine).say_aside(plural(len(state.acts), "act"))

    def _line(self, item: ActsDay | Act, width: int) -> Line:
        if isinstance(item, ActsDay):
            return day_line(item, width)
        return act_line(item, self.state.units if self.state else "metric", width)

    @property
    def act(self) -> Act | None:
        """The act under the cursor."""
        return item if isinstance(item := self.acts.item, Act) else None

    def subject(self) -> Subject | None:
        """What the act was about, for a form."""
        act = self.act
        subjects = act.first.subjects() if act is not None else ()
        known = (one for one in subjects if one[0] in {"sowing", "tray", "station", "lot"})
        return next(known, None)

    def on_line_list_highlighted(self, event: LineList.Highlighted[ActsDay | Act]) -> None:
        """All of the act under the cursor."""
        event.stop()
        if (sheet := self._sheet()) is not None:
            self.query_one("#whole", TextPane).show_text(sheet, top=True)

    def half(self, _: OpenSeason) -> LinesFor | None:
        """The act under the cursor, whole."""
        return self._sheet()

    def _sheet(self) -> LinesFor | None:
        act, units = self.act, self.state.units if self.state else "metric"
        return None if act is None else lambda width: act_sheet(act, units, width)

    def action_open(self) -> None:
        """The act under the cursor."""
        self.acts.action_choose()

    def on_line_list_chosen(self, event: LineList.Chosen[ActsDay | Act]) -> None:
        """An act opens to what can be done about it."""
        event.stop()
        act, sheet = self.act, self._sheet()
        if act is not None and sheet is not None:
            does = "restore it" if act.taken_back else "take it back"
            keys = (Key("Enter", does), Key("Esc", "leave it"))
            self.acts.lay(ChoiceSlip(sheet, (f"{does[:1].upper()}{does[1:]}",), keys))

    def on_line_list_written(self, event: LineList.Written[ActsDay | Act]) -> None:
        """It is taken back, or restored."""
        event.stop()
        act = self.act
        self.acts.take_off()
        if act is not None:
            self.post_message(StrikeAct(act.first.id))

    def action_next_day(self, step: int) -> None:
        """To the first act of the next day of the list, or of the one before."""
        lines = self.acts
        firsts = [row + 1 for row, item in enumerate(lines.items) if isinstance(item, ActsDay)]
        ahead = [row for row in firsts if (row - lines.cursor) * step > 0]
        if ahead:
            lines.cursor = min(ahead, key=lambda row: abs(row - lines.cursor))


class LotJournalScreen(JournalScreen):
    """What was done with one lot; Esc leads back to it."""

    PAGE = ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), *JournalScreen.KEYS)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,j", "app.pop_screen", "Back", show=False, priority=True)
    ]


def _is_act(item: ActsDay | Act) -> bool:
    return isinstance(item, Act)


def _key(item: ActsDay | Act) -> object:
    return item.first.id if isinstance(item, Act) else item.day


def _same(item: ActsDay | Act, days: Mapping[date, ActsDay]) -> ActsDay | Act:
    """The day as it was listed before, where the same is said of it."""
    if isinstance(item, ActsDay) and days.get(item.day) == item:
        return days[item.day]
    return item


def _kept(acts: tuple[Act, ...], before: Sequence[Act]) -> tuple[Act, ...]:
    """Acts that are as they were stay the same objects: their rows are not drawn again."""
    known = {act.first.id: act for act in before}
    return tuple(known[act.first.id] if known.get(act.first.id) == act else act for act in acts)
