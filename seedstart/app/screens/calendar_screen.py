"""The sowing calendar: weeks across, sowings down, and from a sowing to its reasons."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.empty_page import (
    BEGINS,
    FIRST_LOT,
    MANY_LOTS,
    SAYS_NO_LOTS,
    EmptyPage,
)
from seedstart.app.screens.season_screen import LinesFor, SeasonScreen, is_plain
from seedstart.crop_table.crop import Source
from seedstart.drawing.lines import Line, Span, fitted, plain
from seedstart.drawing.row_sheet import (
    dates_in_words,
    dates_lines,
    row_beside_lines,
    row_sheet_lines,
)
from seedstart.drawing.week_bars import (
    Stretch,
    Zoom,
    bar_line,
    first_day_of,
    moves_within,
    ruler_lines,
    short_legend,
    stretch_for,
)
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row, row_key
from seedstart.season.journal.entry import Subject


def subject_of(row: Row) -> Subject | None:
    """What a row of the calendar is about, for a form."""
    if row.lot is None:
        return None
    return ("sowing", row.sowing) if row.sowing else ("lot", row.lot)


class RowState(Struct, frozen=True):
    """The row, where it is still in the calendar, and what its sources are."""

    row: Row | None
    sources: Mapping[str, Source]


class RowScreen(SeasonScreen[RowState]):
    """The reckoning of one sowing, step by step, with its sources.

    Args:
        name: What the row is called in the calendar.
    """

    CSS_PATH = "row_screen.tcss"
    HEAD, PAGE = "Why these dates", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.row_name = name

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> RowState:
        """The row as it is today."""
        rows = (row for row in opened.calendar() if row_key(row) == self.row_name)
        return RowState(next(rows, None), opened.plan.crops.sources)

    def subject(self) -> Subject | None:
        """The sowing, or its lot while it is not made."""
        row = self.state.row if self.state else None
        return subject_of(row) if row is not None else None

    def show(self, state: RowState) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        if self.state is None or self.state.row is None:
            return [plain(f"{self.row_name} is no longer in the calendar.")]
        return row_sheet_lines(self.state.row, self.state.sources, min(width, 96))


# Today stands at most this far into the drawing when it comes up: what is ahead counts.
_TODAY_AT: Final = 0.4
_STEP_WEEKS: Final[dict[Zoom, int]] = {"weeks": 2, "days": 1}
_ORDERS: Final = ("by the day to sow", "by what comes next", "by name")
_DATED: Final = 2  # lines of the pane for dates in words
_NAMED: Final = 18


class CalendarState(Struct, frozen=True):
    """What the screen draws.

    Attributes:
        rows: By the day to sow.
        today: The day to mark.
        frost: The frost date to mark.
        sources: What the reasons' source keys stand for.
        work_days: Weekdays on which one works; none: every day.
    """

    rows: tuple[Row, ...]
    today: date
    frost: date | None
    sources: Mapping[str, Source]
    work_days: tuple[str, ...] = ()


class CalendarScreen(SeasonScreen[CalendarState]):
    """Bars of weeks or days. Draws a `CalendarState`; knows no file and no clock."""

    CSS_PATH = "calendar_screen.tcss"
    HEAD, PAGE = "Sowing calendar", "calendar"
    HAS_HALF = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "scroll_weeks(-1)", "Earlier", id="calendar.earlier", show=False),
        Binding("right", "scroll_weeks(1)", "Later", id="calendar.later", show=False),
        Binding("shift+left,ctrl+left", "scroll_page(-1)", "A page earlier", show=False),
        Binding("shift+right,ctrl+right", "scroll_page(1)", "A page later", show=False),
        Binding("z", "zoom('days')", "Closer", id="calendar.closer", show=False),
        Binding("Z", "zoom('weeks')", "Wider", id="calendar.wider", show=False),
        Binding("full_stop", "today", "Today", id="calendar.today", show=False),
        Binding("o", "order", "Order", id="calendar.order", show=False),
    ]
    KEYS = (
        Key("Enter", "why", "screen.why"),
        Key("z", "closer", "screen.zoom('days')"),
        Key("← →", "along"),
        Key(".", "today", "screen.today"),
        Key("o", "order", "screen.order"),
        Key("e", "change it", "app.change"),
    )
    _KEYS_BY_DAYS: ClassVar[tuple[Key, ...]] = (
        KEYS[0],
        Key("Z", "wider", "screen.zoom('weeks')"),
        *KEYS[2:],
    )

    def __init__(self) -> None:
        super().__init__()
        self.zoom: Zoom = "weeks"
        self.first_day: date | None = None  # None: where today stands well
        self.order = 0  # of `_ORDERS`

    def body(self) -> ComposeResult:
        """Ruler, bars, and the dates of the row under the cursor in words."""
        yield TextPane(id="ruler")
        yield LineList[Row](self._bar, key=row_key, id="bars")
        yield EmptyPage(SAYS_NO_LOTS, (FIRST_LOT,), MANY_LOTS)
        yield TextPane(id="dates", classes="pane")

    def on_mount(self) -> None:
        """The bars take the keys."""
        self.query_one("#ruler").can_focus = self.query_one("#dates").can_focus = False
        self.query_one("#bars").focus()

    def look(self, opened: OpenSeason) -> CalendarState:
        """The calendar as it is expected today."""
        plan = opened.plan
        frost = plan.frost.last if plan.frost else None
        return CalendarState(
            opened.calendar(), opened.today, frost, plan.crops.sources, plan.work_days
        )

    def show(self, state: CalendarState) -> None:
        """Draw it."""
        for name in ("#ruler", "#bars", "#dates"):
            self.query_one(name).set_class(not state.rows, "-none")
        self.query_one(EmptyPage).stand(instead_of=self.bars, on=not state.rows)
        if not state.rows:
            self.set_keys(BEGINS)
        self._draw()

    @property
    def bars(self) -> LineList[Row]:
        """The list of bars."""
        return self.query_one("#bars", LineList)

    def on_resize(self) -> None:
        """Another width shows another stretch."""
        self._draw()

    def _draw(self) -> None:
        """Ruler and bars anew: the stretch is another."""
        if self.state is None:
            return
        days = self.state.work_days
        self.query_one("#ruler", TextPane).show_text(
            lambda width: ruler_lines(self._stretch(width), width, days)
        )
        self.bars.show(self._listed(self.state))
        self.bars.draw_again()

    def _listed(self, state: CalendarState) -> tuple[Row, ...]:
        """The rows in their order; with days across only those that something happens to."""
        rows = state.rows
        if self.zoom == "days" and self._width > 0:
            stretch = self._stretch(self._width)
            rows = tuple(row for row in rows if moves_within(row, stretch))
        if self.order == 1:
            return tuple(sorted(rows, key=_next_day))
        return tuple(sorted(rows, key=row_key)) if self.order else rows

    def _bar(self, row: Row, width: int) -> Line:
        if is_plain(self):
            sign = Span("! " if row.warnings or row.problem else "  ")
            return (sign, Span(f"{fitted(row_key(row), _NAMED)} "), Span(_joined(row)))
        return bar_line(row, self._stretch(width), width)

    def _stretch(self, width: int) -> Stretch:
        if self.state is None:
            return stretch_for(width, date.min, date.min, None, self.zoom)
        state = self.state
        first = self.first_day or self._usual_first_day(state, width)
        return stretch_for(width, first, state.today, state.frost, self.zoom)

    def _usual_first_day(self, state: CalendarState, width: int) -> date:
        """The season's first day, or later, so that today is in sight with what is ahead."""
        if self.zoom == "days":
            return state.today
        trial = stretch_for(width, state.today, state.today, None, self.zoom)
        before = timedelta(weeks=int(trial.weeks * _TODAY_AT))
        begins = first_day_of(state.rows) or state.today
        return max(begins, state.today - before) if begins <= state.today else state.today

    def action_scroll_weeks(self, step: int) -> None:
        """A little earlier or later."""
        self._scroll(step * _STEP_WEEKS[self.zoom])

    def action_scroll_page(self, step: int) -> None:
        """Nearly as far as one sees."""
        stretch = self._stretch(self._width)
        self._scroll(step * max(stretch.weeks - 1, 1))

    def _scroll(self, weeks: int) -> None:
        self.first_day = self._stretch(self._width).monday + timedelta(weeks=weeks)
        self._draw()

    @property
    def _width(self) -> int:
        return self.bars.line_width

    def action_zoom(self, zoom: Zoom) -> None:
        """Weeks across, or days with each step spelled out."""
        if zoom == self.zoom:
            return
        self.zoom, self.first_day = zoom, None
        self.set_keys(self.KEYS if zoom == "weeks" else self._KEYS_BY_DAYS)
        self._draw()
        self._say_dates()

    def action_today(self) -> None:
        """Back to where it began."""
        self.first_day = None
        self._draw()

    def action_order(self) -> None:
        """The next order of the rows."""
        self.order = (self.order + 1) % len(_ORDERS)
        self._draw()
        self.say(f"Listed {_ORDERS[self.order]}.")

    def subject(self) -> Subject | None:
        """The sowing under the cursor, or its lot while it is not made."""
        row = self.bars.item
        return subject_of(row) if row is not None else None

    def action_why(self) -> None:
        """The reasons of the row under the cursor."""
        self.bars.action_choose()

    def on_line_list_chosen(self, event: LineList.Chosen[Row]) -> None:
        """From a sowing to the reasons of its dates."""
        event.stop()
        self.app.push_screen(RowScreen(row_key(event.item)))

    def on_line_list_highlighted(self, event: LineList.Highlighted[Row]) -> None:
        """The dates of the row under the cursor, in words."""
        event.stop()
        self._say_dates()

    def _say_dates(self) -> None:
        row, zoom = self.bars.item, self.zoom
        if row is not None:
            self.query_one("#dates", TextPane).show_text(
                lambda width: [*_filled(dates_lines(row, width)), short_legend(zoom)], top=True
            )

    def half(self, _: OpenSeason) -> LinesFor | None:
        """The row under the cursor: its dates, why, and what that rests on."""
        row, state = self.bars.item, self.state
        if row is None or state is None:
            return None
        return lambda width: row_beside_lines(row, state.sources, width)


def _next_day(row: Row) -> tuple[bool, date]:
    """The day of what comes next; a row without one comes last."""
    days = (step.window.best for step in row.steps if step.window and step.is_ != "happened")
    day = next(days, None)
    return day is None, day or date.max


def _joined(row: Row) -> str:
    return ", ".join(dates_in_words(row))


def _filled(lines: list[Line]) -> list[Line]:
    """So many lines that what comes under them stays where it is."""
    return [*lines[:_DATED], *[plain("")] * (_DATED - len(lines))]
