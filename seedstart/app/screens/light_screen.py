"""Light of one station: the map, whether it suits, what to set; keys try another setting."""

import asyncio
from collections.abc import Mapping
from datetime import datetime
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.acts.care import ADJUST
from seedstart.acts.known import Known
from seedstart.acts.read import read
from seedstart.acts.sentences import confirmed
from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.drawing.light_sheet import (
    Money,
    area_in_words,
    basis_in_words,
    distance_in_words,
    map_lines,
    missing_lines,
    option_head,
    option_line,
    place_in_words,
    verdict_lines,
    why_lines,
)
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.open_season import OpenSeason
from seedstart.planning.light.lamp_distance import Distance, distance_at
from seedstart.planning.light.light_options import LightOption, as_they_are, light_options
from seedstart.planning.light.station_light import Logged, StationLight, light_at
from seedstart.problems import in_words
from seedstart.season.journal.entries import Adjusted, Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import LAMP_CAUTIONS, Station
from seedstart.tracking.records import Records

_STEP_MM, _STEP_HOURS = 10.0, 0.5
_LOWEST_MM, _HIGHEST_MM = 10.0, 2000.0
_GONE: Final = "This station is no longer in the season."
_NOTHING: Final = "Nothing was changed: ← → for the height, + and - for the hours."
_REHANG: Final = "These lamps cannot give it. Hang them so; then e writes it into the plan."


class LightState(Struct, frozen=True):
    """What the screen draws and tries with.

    Attributes:
        station: Which; None where the plan no longer lists it.
        plan: The plan.
        records: What happened.
        logged: What loggers measured.
        known: What may be named in what is written down.
        now: The moment.
        light: As the lamps are set; None without a station.
        distance: From lamp to leaf.
    """

    station: Station | None
    plan: Season
    records: Records
    logged: Logged
    known: Known
    now: datetime
    light: StationLight | None = None
    distance: Distance | None = None


def _cautions(width: int) -> list[Line]:
    return [line for text in LAMP_CAUTIONS for line in wrapped(text, width, role="warn")]


class LightScreen(SeasonScreen[LightState]):
    """The light of one station.

    Args:
        name: Which station.
    """

    CSS_PATH = "light_screen.tcss"
    PAGE = "stations"
    KEYS = (
        Key("Enter", "set it so", "screen.set"),
        Key("← →", "height"),
        Key("+ -", "hours"),
        Key("n", "read light", "app.write_act('read')"),
        Key("Esc", "back", "screen.leave"),
        Key("w", "why", "screen.why"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", show=False, priority=True),
        Binding("left", "height(-1)", "Lower", show=False, priority=True),
        Binding("right", "height(1)", "Higher", show=False, priority=True),
        Binding("plus", "hours(1)", "Longer", show=False, priority=True),
        Binding("minus", "hours(-1)", "Shorter", show=False, priority=True),
        Binding("enter", "set", "Set it so", show=False, priority=True),
        Binding("w", "why", "Why", show=False),
        Binding("n", "app.write_act('read')", "Read light", show=False),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.station = name
        self._height_mm: float | None = None
        self._hours: float | None = None
        self._why = False
        self._tried_light: StationLight | None = None
        self._options: tuple[LightOption, ...] = ()
        self._options_of: StationLight | None = None

    @property
    def head(self) -> str:
        """The station's name."""
        return f"Light of {self.station}"

    def body(self) -> ComposeResult:
        """The map, what may be set, what is to be said of the line under the cursor."""
        yield TextPane(id="sheet")
        yield TextPane(id="columns")
        yield LineList[LightOption](self._line, key=lambda one: (one.how, one.patch), id="options")
        yield TextPane(id="pane")

    def on_mount(self) -> None:
        """The options take the keys."""
        for name in ("#columns", "#pane"):
            self.query_one(name).can_focus = False
        self.options.focus()

    @property
    def options(self) -> LineList[LightOption]:
        """What may be set."""
        return self.query_one("#options", LineList)

    def look(self, opened: OpenSeason) -> LightState:
        """The light as it is now."""
        plan, records, now = opened.plan, opened.records(), opened.now()
        logged, known = opened.readings(), opened.known()
        station = plan.stations_by_name.get(self.station)
        if station is None:
            return LightState(station, plan, records, logged, known, now)
        light = light_at(station, plan, records, opened.today, logged=logged)
        distance = distance_at(station, records, now)
        return LightState(station, plan, records, logged, known, now, light, distance)

    def show(self, state: LightState) -> None:
        """Draw it; what may be set is found in a thread, where many lamps take their time."""
        if state.light is not None and state.light != self._options_of:
            self._options, self._options_of = (), state.light
            self.run_worker(self._find_options(state.light), exclusive=True)
        self._draw()

    async def _find_options(self, light: StationLight) -> None:
        found = await asyncio.to_thread(light_options, light)
        if light is self._options_of:
            self._options = found
            self._draw()

    def subject(self) -> Subject | None:
        """The station."""
        return ("station", self.station)

    def _draw(self) -> None:
        state = self.state
        light = state.light if state is not None else None
        tried = [as_they_are(self._tried_light, "tried")] if self._tried_light is not None else []
        can_set = light is not None and not light.missing and not self._why
        self.options.show([*tried, *self._options] if can_set else ())
        for part in (self.options, self.query_one("#columns"), self.query_one("#pane")):
            part.display = can_set
        self.query_one("#sheet", TextPane).show_text(self._lines, top=True)
        what = "What to set" if self._options else "What to set: looking"
        self.query_one("#columns", TextPane).show_text(lambda _: [option_head(self._money, what)])
        self.query_one("#pane", TextPane).show_text(self._pane, top=True)
        self.set_keys(self.KEYS if can_set else self.KEYS[3:])

    @property
    def _money(self) -> Money:
        plan = self.state.plan if self.state is not None else None
        return Money(plan.price_per_kwh, plan.currency) if plan is not None else Money()

    def _line(self, one: LightOption, width: int) -> Line:  # noqa: ARG002 - columns are fixed
        if self.state is None or self.state.light is None:
            return plain("")
        best = next((each for each in self._options if each.fits), None)
        mark = "▸" if one is best else ""
        return option_line(one, self.state.light, self._money, self.state.plan.units, mark)

    def _lines(self, width: int) -> list[Line]:
        state = self.state
        light = self._tried_light or (state.light if state is not None else None)
        if state is None or light is None:
            return [plain(_GONE)]
        units, wide = state.plan.units, min(width, 100)
        if light.missing:
            return list(missing_lines(light, wide))
        if self._why:
            return [*why_lines(light, units, wide), plain(""), *_cautions(wide)]
        lines = [heading(place_in_words(light, units)), *verdict_lines(light, wide)]
        return [*lines, plain(""), *map_lines(light)]

    def _pane(self, width: int) -> list[Line]:
        """What the line under the cursor takes; what the figures rest on; how near the leaves."""
        state, one = self.state, self.options.item
        if state is None or state.light is None:
            return []
        does = "" if one is None else self._does(one, state.light)
        near = [] if state.distance is None else distance_in_words(state.distance, state.plan.units)
        said = [does, basis_in_words(state.light), *near]
        return [line for text in said if text for line in wrapped(text, width, hang="")]

    def _does(self, one: LightOption, light: StationLight) -> str:
        if one.how in {"together", "more lamps"}:
            return _REHANG
        if one.how == "tried":
            return "Tried, not written: Enter sets it so."
        if one.how == "narrower" and one.patch is not None and self.state is not None:
            middle = area_in_words(one.patch, self.state.plan.units)
            return f"Keep the trays within the middle {middle}; Enter sets the lamps so."
        return "Enter sets it so." if self._texts(one, light) else "So they are set now."

    def on_line_list_highlighted(self, event: LineList.Highlighted[LightOption]) -> None:
        """Another line: what it takes."""
        event.stop()
        if event.lines is self.options:
            self.query_one("#pane", TextPane).show_text(self._pane, top=True)

    # Trying

    def _try(self) -> None:
        state = self.state
        if state is None or state.station is None:
            return
        what_if = Adjusted(
            id="0" * 36, at=state.now, by="tried", station=self.station,
            lamp_height_mm=self._height_mm, lamp_hours=self._hours,
        )  # fmt: skip
        self._tried_light = light_at(
            state.station, state.plan, state.records, state.now.date(), logged=state.logged,
            tried=(what_if,),
        )  # fmt: skip
        self._draw()
        self.options.cursor = 0

    def _forget(self) -> None:
        self._height_mm = self._hours = self._tried_light = None
        self._draw()

    def _now(self) -> StationLight | None:
        """As it is tried, else as it is; None where nothing can be tried."""
        light = self._tried_light or (self.state.light if self.state is not None else None)
        return None if light is None or light.missing or self._why else light

    def action_height(self, step: int) -> None:
        """Lamps a centimetre lower or higher."""
        now = self._now()
        if now is not None and now.height_mm is not None:
            height = now.height_mm + step * _STEP_MM
            self._height_mm = min(max(height, _LOWEST_MM), _HIGHEST_MM)
            self._try()

    def action_hours(self, step: int) -> None:
        """Half an hour of light less or more."""
        now = self._now()
        if now is not None:
            self._hours = min(max(now.hours + step * _STEP_HOURS, 0.0), 24.0)
            self._try()

    # Setting

    def action_set(self) -> None:
        """Write down that the lamps are set as the line under the cursor says."""
        state, one = self.state, self.options.item
        if state is None or state.light is None or one is None or self._why:
            return
        texts = self._texts(one, state.light)
        if one.how in {"together", "more lamps"}:
            self.say(_REHANG)
        elif not texts:
            self.say(_NOTHING)
        else:
            filled = read(ADJUST, state.known, {"station": self.station, **texts})
            if filled.problems:
                self.say(" ".join(map(in_words, filled.problems.values())), warn=True)
            else:
                self.post_message(ToRecord(self, filled.entries, asked=self.station))

    def _texts(self, one: LightOption, light: StationLight) -> Mapping[str, str]:
        """What is written of an option: what of it is not so already."""
        texts = {}
        if one.height_mm != light.height_mm:
            texts["lamp_height"] = f"{one.height_mm:g} mm"
        if one.hours != light.hours:
            texts["lamp_hours"] = f"{one.hours:g}"
        if one.dimming_percent not in {None, light.lamps[0].dimming_percent}:
            texts["lamp_percent"] = f"{one.dimming_percent:g}"
        return texts

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:  # noqa: ARG002
        """It is on the disk: so they are set now."""
        self._forget()
        if self.state is not None:
            self.say(f"{confirmed(entries, self.state.known)} u takes it back.")

    # Leaving

    def action_leave(self) -> None:
        """One step back: from the sources, from what is tried, from the screen."""
        if self._why:
            self.action_why()
        elif self._tried_light is not None:
            self._forget()
        else:
            self.app.pop_screen()

    def action_why(self) -> None:
        """Where the figures come from and what to mind, or the map again."""
        light = self.state.light if self.state is not None else None
        if light is None or light.missing:
            return
        self._why = not self._why
        self._draw()
        self.query_one("#sheet" if self._why else "#options").focus()
