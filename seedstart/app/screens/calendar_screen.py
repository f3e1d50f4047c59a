"""The sowing calendar: weeks across, sowings down, and from a sowing to its reasons."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.crop_table.crop import Source
from seedstart.drawing.calendar_table import row_sheet_lines
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.week_bars import (
    Stretch,
    Zoom,
    bar_line,
    first_day_of,
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


NO_LOTS: Final = "No lots yet. n, then “new lot”, adds the first packet of seed."
# Today stands at most this far into the drawing when it comes up: what is ahead counts.
_TODAY_AT: Final = 0.4
_STEP_WEEKS: Final[dict[Zoom, int]] = {"weeks": 2, "days": 1}


class CalendarState(Struct, frozen=True):
    """What the screen draws.

    Attributes:
        rows: By the day to sow.
        today: The day to mark.
        frost: The frost date to mark.
        sources: What the reasons' source keys stand for.
    """

    rows: tuple[Row, ...]
    today: date
    frost: date | None
    sources: Mapping[str, Source]


class CalendarScreen(SeasonScreen[CalendarState]):
    """Bars of weeks or days. Draws a `CalendarState`; knows no file and no clock."""

    CSS_PATH = "calendar_screen.tcss"
    HEAD, PAGE = "Sowing calendar", "calendar"
    KEYS = (
        Key("Enter", "why", "screen.why"),
        Key("← →", "earlier, later"),
        Key("z", "weeks or days", "screen.zoom"),
        Key("t", "today", "screen.today"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "scroll_weeks(-1)", "Earlier", id="calendar.earlier", show=False),
        Binding("right", "scroll_weeks(1)", "Later", id="calendar.later", show=False),
        Binding("shift+left,ctrl+left", "scroll_page(-1)", "A page earlier", show=False),
        Binding("shift+right,ctrl+right", "scroll_page(1)", "A page later", show=False),
        Binding("z", "zoom", "Weeks or days", id="calendar.zoom", show=False),
        Binding("t", "today", "Today", id="calendar.today", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.zoom: Zoom = "weeks"
        self.first_day: date | None = None  # None: where today stands well

    def body(self) -> ComposeResult:
        """Ruler, bars, legend; where there is room, the reasons of the row under the cursor."""
        yield TextPane(id="ruler")
        yield LineList[Row](self._bar, key=row_key, id="bars")
        yield Static(NO_LOTS, id="empty", markup=False)
        yield Static(short_legend(), id="legend", markup=False)
        yield TextPane(id="beside")

    def on_mount(self) -> None:
        """The bars take the keys."""
        self.query_one("#ruler").can_focus = False
        self.query_one("#empty").display = False
        self.query_one("#bars").focus()

    def look(self, opened: OpenSeason) -> CalendarState:
        """The calendar as it is expected today."""
        plan = opened.plan
        frost = plan.frost.last if plan.frost else None
        return CalendarState(opened.calendar(), opened.today, frost, plan.crops.sources)

    def show(self, state: CalendarState) -> None:
        """Draw it."""
        self.bars.show(state.rows)
        self.query_one("#empty").display = not state.rows
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
        self.query_one("#ruler", TextPane).show_text(
            lambda width: ruler_lines(self._stretch(width), width)
        )
        self.bars.draw_again()

    def _bar(self, row: Row, width: int) -> Line:
        return bar_line(row, self._stretch(width), width)

    def _stretch(self, width: int) -> Stretch:
        if self.state is None:
            return stretch_for(width, date.min, date.min, None, self.zoom)
        state = self.state
        first = self.first_day or self._usual_first_day(state, width)
        return stretch_for(width, first, state.today, state.frost, self.zoom)

    def _usual_first_day(self, state: CalendarState, width: int) -> date:
        """The season's first day, or later, so that today is in sight with what is ahead."""
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

    def action_zoom(self) -> None:
        """Half a week a column, or a day."""
        self.zoom = "days" if self.zoom == "weeks" else "weeks"
        self.first_day = None
        self._draw()

    def action_today(self) -> None:
        """Back to where it began."""
        self.first_day = None
        self._draw()

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
        """Where there is room, the reasons stand below the bars."""
        event.stop()
        if self.state is not None:
            row, sources = event.item, self.state.sources
            beside = self.query_one("#beside", TextPane)
            beside.show_text(lambda width: row_sheet_lines(row, sources, width), top=True)
