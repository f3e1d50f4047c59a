"""What every screen of the season shares: how it is given what it shows, and how it asks.

A screen never reads a file, a clock or a season that changes, and it never records. To build one:

    class LotsScreen(SeasonScreen[LotsState]):
        CSS_PATH = "lots_screen.tcss"
        HEAD, PAGE = "Lots", "lots"
        KEYS = (Key("Enter", "open a lot", "choose"),)

        def body(self) -> ComposeResult:            # its widgets, between head and foot
            yield LineList(...)

        def look(self, opened: OpenSeason) -> LotsState:   # frozen values, nothing kept
            return LotsState(opened.plan.lots, ...)

        def show(self, state: LotsState) -> None:   # draw them; `self.state` is the same object
            self.query_one(LineList).show(...)

The app calls `look` and `show` when the screen comes up, after each entry (its own or another
writer's), after an edit of the plan's files, and on a new day; only for what is in sight. `show`
is not called when `look` returns the very object that it returned before. It calls nothing of a
screen before the screen is mounted: the screen asks for it then.

What the grower does is posted and nothing has happened yet: `self.post_message(ToRecord(self,
(Counted(**BLANK, ...),)))`. The app writes it; then it calls `recorded(entries, asked)`, or
`refused(problems, asked)` when nothing was written: a screen keeps what was typed until
`recorded`. `subject()` names what the cursor is on, for the form that `n` opens. `say("…")` shows
a line at the foot until the next key. What is typed on a line is a slip: `app/text_slip.py`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, ClassVar, Final, Generic, Protocol, TypeVar, cast

from msgspec import Struct
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from seedstart.app.frame import FaultLine, Foot, HeadLine, KeepsItsPlace, Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.drawing.lines import Line
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject

__all__ = [
    "FittedScreen",
    "Frame",
    "HandsOut",
    "Key",
    "SeasonScreen",
    "StrikeAct",
    "ToRecord",
    "WriteOut",
]

S = TypeVar("S")
WIDE_COLUMNS: Final = 118
HIGH_ROWS: Final = 34


class Frame(Struct, frozen=True):
    """What head and foot of every screen show.

    Attributes:
        title: The season's.
        day: Which day it is.
        last_frost: The last frost date; None where the season has none.
        faults: What is wrong in the season's files now; the last good plan stands meanwhile.
    """

    title: str
    day: date
    last_frost: date | None
    faults: tuple[Problem, ...] = ()


def frame_of(opened: OpenSeason) -> Frame:
    """What stands around every page of a season: title, day, last frost, faults."""
    plan, today = opened.plan, opened.today
    last = plan.frost.last if plan.frost else None
    faults = (
        *opened.plan_problems,
        *opened.record_problems,
        *opened.planned_problems,
        *opened.journal_problems,
        *opened.reading_problems,
        *opened.weather_folder.problems,
    )
    return Frame(plan.title, today, last, faults)


# The lines of a text for a width in cells.
LinesFor = Callable[[int], Sequence[Line]]


def is_plain(screen: Screen[Any]) -> bool:
    """Whether nothing is to be drawn, and all is to be said."""
    return screen.app.has_class("-plain")


@dataclass
class ToRecord(Message):
    """Entries to be written as one act. Nothing is done until the app has written them.

    Attributes:
        screen: Who asks and gets the answer.
        drafts: What was done or seen, made with `BLANK`.
        at: When; None for now.
        asked: Handed back with the answer, so that a screen knows what it was about.
    """

    screen: "SeasonScreen[Any]"
    drafts: tuple[Entry, ...]
    at: datetime | None = None
    asked: object = field(default=None)


@dataclass
class StrikeAct(Message):
    """The act of an entry is to be taken back, or restored where it was.

    Attributes:
        entry_id: One of its entries.
    """

    entry_id: str


@dataclass
class WriteOut(Message):
    """Files are to be written into the season's folder, for the grower to take away.

    Attributes:
        name: Of all of them, without their endings; `{day}` in it becomes the day.
        files: Their bytes, by their endings.
        remark: What else is to be said.
    """

    name: str
    files: Mapping[str, bytes]
    remark: str = ""


class HandsOut(Protocol):
    """The part of the app that a screen knows."""

    def catch_up(self) -> None:
        """Take in what others wrote."""

    def hand_out(self, asked: "SeasonScreen[Any] | None" = None) -> None:
        """Give the screens in sight the season as it is now; `asked` even while it is held."""

    def show_half(self, screen: "SeasonScreen[Any]") -> None:
        """Show beside its list what Enter would open."""


class FittedScreen(KeepsItsPlace[None]):
    """A screen that shows more where the terminal is larger; it has a foot."""

    # Classes for the style sheets: one of each list is on.
    HORIZONTAL_BREAKPOINTS = [(0, "-usual"), (WIDE_COLUMNS, "-wide")]  # noqa: RUF012 - Textual's own
    VERTICAL_BREAKPOINTS = [(0, "-usual-height"), (HIGH_ROWS, "-high")]  # noqa: RUF012

    def say(self, text: str, *, warn: bool = False) -> None:
        """A line at the foot; a screen that does not stand yet says it as soon as it does."""
        if self.is_mounted:
            self.query_one(Foot).say(text, warn=warn)
        else:
            self.call_later(self.say, text, warn=warn)

    def unsay(self) -> None:
        """A key was pressed: what was said has been read."""
        for foot in self.query(Foot):  # none yet, where keys were typed ahead
            foot.say("")


class SeasonScreen(FittedScreen, Generic[S]):
    """A whole screen of the season, with head and foot."""

    HEAD: ClassVar[str] = ""
    PAGE: ClassVar[str] = ""  # its name in `app.PAGES`; empty for one that is opened from another
    KEYS: ClassVar[tuple[Key, ...]] = ()
    HAS_HALF: ClassVar[bool] = False  # a right half, where it is wide enough

    state: S | None = None
    _half_asked: bool = False
    _keys_now: tuple[Key, ...] = ()
    version: int = 0  # of the season, as it was when `look` was last called

    def look(self, opened: OpenSeason) -> S:
        """What this screen shows, as frozen values. The season itself is not to be kept."""
        raise NotImplementedError

    def show(self, state: S) -> None:
        """Draw it."""
        raise NotImplementedError

    def half(self, opened: OpenSeason) -> "LinesFor | None":  # noqa: ARG002
        """What the right half shows: what Enter would open for the line under the cursor."""
        return None

    def subject(self) -> Subject | None:
        """What the cursor is on, for the form of what is written down next."""
        return None

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        """What was asked for is on the disk; `show` has been called with it."""

    def refused(self, problems: tuple[Problem, ...], asked: object) -> None:  # noqa: ARG002
        """Nothing was written; what was typed stays."""
        self.say(" ".join(problem.hint or str(problem) for problem in problems), warn=True)

    def take(self, state: S) -> None:
        """Called by the app with what `look` returned."""
        if state is not self.state:
            self.state = state
            self.show(state)
            self._ask_for_half()

    def on_screen_resume(self) -> None:
        """In sight again, or for the first time: it may have missed something."""
        cast("HandsOut", self.app).hand_out()

    def compose(self) -> ComposeResult:
        """Head, what is wrong in the plan, the screen's own widgets, foot."""
        yield HeadLine(self.head)
        yield FaultLine()
        with Horizontal(id="halves"):
            with Vertical(id="body"):
                yield from self.body()
            if self.HAS_HALF:
                self.add_class("-halved")
                half = TextPane(id="half")
                half.can_focus = False
                yield half
        yield Static("", id="sentence", markup=False)
        self._keys_now = self.KEYS
        yield Foot(self.KEYS, self.PAGE)

    def on_line_list_highlighted(self, event: LineList.Highlighted[Any]) -> None:
        """Another line under the cursor: said as a sentence, where that is wanted."""
        if is_plain(self):
            self.query_one("#sentence", Static).update(event.lines.sentence())
        self._ask_for_half()

    def on_resize(self) -> None:
        """Wider than before, it may have a right half now."""
        self._ask_for_half()

    def _ask_for_half(self) -> None:
        """The right half is worked out once the line itself is drawn."""
        if self.HAS_HALF and not self._half_asked:
            self._half_asked = True
            self.call_after_refresh(self._show_half)

    def _show_half(self) -> None:
        self._half_asked = False
        if self.is_current and self.query_one("#half").display:
            cast("HandsOut", self.app).show_half(self)

    @property
    def head(self) -> str:
        """What the screen is called at its head."""
        return self.HEAD

    def body(self) -> ComposeResult:
        """The screen's own widgets."""
        raise NotImplementedError

    @property
    def keys_now(self) -> tuple[Key, ...]:
        """What works where one is, as the foot lists it."""
        return self._keys_now

    def set_keys(self, keys: tuple[Key, ...]) -> None:
        """Other keys at the foot: what works depends on where one is."""
        self._keys_now = keys
        if self.is_mounted:
            self._show_keys()

    def _show_keys(self) -> None:
        slip = next((lines.slip for lines in self.query(LineList) if lines.slip), None)
        if slip is None:
            self.query_one(Foot).set_keys(self._keys_now)
        else:
            self.query_one(Foot).set_keys(slip.keys, slip.says)

    # A slip on one of its lists

    @property
    def is_held(self) -> bool:
        """Whether something is being typed: the season goes on when that is done."""
        return any(lines.is_held for lines in self.query(LineList))

    def on_line_list_typed(self, event: LineList.Typed[Any]) -> None:
        """The foot says what works in a slip."""
        event.stop()
        self._show_keys()

    def on_line_list_left(self, event: LineList.Left[Any]) -> None:
        """The slip is gone: what waited for it is shown."""
        event.stop()
        self._show_keys()
        cast("HandsOut", self.app).hand_out()

    def take_frame(self, frame: Frame) -> None:
        """Called by the app with what head and foot show."""
        self.query_one(HeadLine).show(frame.title, frame.day, frame.last_frost)
        self.query_one(FaultLine).show(frame.faults)
