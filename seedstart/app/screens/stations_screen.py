"""Every station in walking order: how warm, what stands there, how full; and one of them whole."""

from datetime import datetime
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.empty_page import BEGINS, FIRST_STATION, EmptyPage
from seedstart.app.screens.light_screen import LightScreen
from seedstart.app.screens.season_screen import LinesFor, SeasonScreen, is_plain
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.measured_curves import warmth_curve_lines, warmth_in_words
from seedstart.drawing.station_sheet import (
    stands_lines,
    station_sheet,
    warnings_of,
)
from seedstart.drawing.stations_list import (
    StationLine,
    pane_lines,
    station_head,
    station_line,
)
from seedstart.open_season import OpenSeason
from seedstart.planning.light.station_light import light_at
from seedstart.planning.space.stations_now import StationView, station_views
from seedstart.season.journal.entry import Subject
from seedstart.units import Units

_THEN: Final = "They are listed in the order in which you walk past them."
# A curve lower than this shows nothing.
_LEAST_CURVE_LINES = 6


class StationsState(Struct, frozen=True):
    """What the screens draw.

    Attributes:
        lines: The stations in walking order.
        now: The moment at the right end of the curves.
        units: Of the season.
    """

    lines: tuple[StationLine, ...]
    now: datetime
    units: Units

    @property
    def views(self) -> tuple[StationView, ...]:
        """The stations without their light."""
        return tuple(line.view for line in self.lines)

    def named(self, name: str) -> StationView | None:
        """One of them."""
        return next((view for view in self.views if view.name == name), None)


def look_at_stations(opened: OpenSeason) -> StationsState:
    """The stations as they are now."""
    plan, now, records, read = opened.plan, opened.now(), opened.records(), opened.readings()
    views = station_views(plan, records, read, opened.calendar(), now)
    light = {
        station.name: light_at(station, plan, records, opened.today, logged=read)
        for station in plan.stations
    }
    lines = (StationLine(view, light.get(view.name), now, plan.units) for view in views)
    return StationsState(tuple(lines), now, plan.units)


class StationsScreen(SeasonScreen[StationsState]):
    """The stations as a list, and the week's warmth of the one under the cursor."""

    CSS_PATH = "stations_screen.tcss"
    HEAD, PAGE = "Stations", "stations"
    HAS_HALF = True
    KEYS = (
        Key("Enter", "open", "screen.open"),
        Key("i", "light", "screen.light"),
        Key("a", "new station", "app.write_act('new station')"),
        Key("e", "change", "app.change"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("i", "light", "Light of the station", id="stations.light", show=False),
        Binding(
            "a", "app.write_act('new station')", "Add a station", id="stations.add", show=False
        ),
    ]

    def body(self) -> ComposeResult:
        """Heads of the columns, the list, and below it the curve; where it is wide, what stands."""
        yield TextPane(id="columns")
        yield LineList[StationLine](self._line, key=lambda line: line.view.name, id="stations")
        yield EmptyPage("No stations yet. Where do trays stand?", (FIRST_STATION,), _THEN)
        yield TextPane(id="warmth", classes="pane")
        yield TextPane(id="room", classes="pane")

    def on_mount(self) -> None:
        """The list takes the keys."""
        for name in ("#columns", "#warmth", "#room"):
            self.query_one(name).can_focus = False
        self.query_one("#stations").focus()

    def look(self, opened: OpenSeason) -> StationsState:
        """The stations as they are now."""
        return look_at_stations(opened)

    def show(self, state: StationsState) -> None:
        """Draw it."""
        self.stations.show(state.lines)
        self.query_one("#columns", TextPane).show_text(
            lambda width: [station_head(state.now, width)]
        )
        for name in ("#columns", "#stations", "#warmth", "#room"):
            self.query_one(name).set_class(not state.lines, "-none")
        self.query_one(EmptyPage).stand(instead_of=self.stations, on=not state.lines)
        self.set_keys(self.KEYS if state.lines else BEGINS)

    def subject(self) -> Subject | None:
        """The station under the cursor."""
        line = self.stations.item
        return None if line is None else ("station", line.view.name)

    @property
    def stations(self) -> LineList[StationLine]:
        """The list."""
        return self.query_one("#stations", LineList)

    def _line(self, line: StationLine, width: int) -> Line:
        return station_line(line, width, plain=is_plain(self))

    def action_open(self) -> None:
        """All about the station under the cursor."""
        self.stations.action_choose()

    def action_light(self) -> None:
        """The light of the station under the cursor."""
        line = self.stations.item
        if line is not None:
            self.app.push_screen(LightScreen(line.view.name))

    def on_line_list_chosen(self, event: LineList.Chosen[StationLine]) -> None:
        """From the list to one station."""
        event.stop()
        self.app.push_screen(StationScreen(event.item.view.name))

    def on_line_list_highlighted(self, event: LineList.Highlighted[StationLine]) -> None:
        """The curve is that of the station under the cursor."""
        event.stop()
        line, state = event.item, self.state
        if state is None:
            return
        self.query_one("#warmth", TextPane).show_text(
            lambda width: self._warmth_lines(line.view, width), top=True
        )
        others = tuple(one for one in state.lines if one is not line)
        self.query_one("#room", TextPane).show_text(
            lambda width: pane_lines(line, others, width), top=True
        )

    def half(self, _: OpenSeason) -> LinesFor | None:
        """The station under the cursor: its week, what stands there, its room week by week."""
        line, state = self.stations.item, self.state
        if line is None or state is None:
            return None
        return lambda width: station_sheet(line.view, state.now, state.units, width)

    def _warmth_lines(self, view: StationView, width: int) -> list[Line]:
        """The words, a curve in the height that is left, and what stands there."""
        if self.state is None:
            return []
        now, units = self.state.now, self.state.units
        lines = [*warnings_of(view, width), *warmth_in_words(view, now, units, width)]
        left = self.query_one("#warmth").scrollable_content_region.height - len(lines)
        curve = warmth_curve_lines(view, now, units, width, max(left, _LEAST_CURVE_LINES))
        if is_plain(self):
            curve = []
        return [*lines, *(curve or [plain(""), *stands_lines(view, width)])]


class StationScreen(SeasonScreen[StationsState]):
    """One station whole.

    Args:
        name: Which.
    """

    CSS_PATH = "stations_screen.tcss"
    HEAD, PAGE = "Station", ""
    KEYS = (
        Key("Esc", "back", "app.pop_screen"),
        Key("← →", "the one before, the next"),
        Key("e", "change", "app.change"),
        Key("↑ ↓", "scroll"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", show=False, priority=True),
        Binding("left", "step(-1)", "The one before", show=False, priority=True),
        Binding("right", "step(1)", "The next", show=False, priority=True),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.station = name

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> StationsState:
        """All of them: one may go on to the next."""
        return look_at_stations(opened)

    def show(self, state: StationsState) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        view = self.state.named(self.station) if self.state else None
        if view is None or self.state is None:
            return [plain(f"{self.station} is no longer in the season.")]
        return station_sheet(view, self.state.now, self.state.units, min(width, 100))

    def subject(self) -> Subject | None:
        """The station."""
        return ("station", self.station)

    def action_step(self, step: int) -> None:
        """To the station before or after it on the walk."""
        if self.state is None or self.state.named(self.station) is None:
            return
        names = [view.name for view in self.state.views]
        self.station = names[(names.index(self.station) + step) % len(names)]
        self.query_one(TextPane).show_text(self._lines, top=True)
