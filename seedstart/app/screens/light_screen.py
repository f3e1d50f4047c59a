"""Light of one station: the map, whether it suits, what to set; keys try another setting."""

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
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.drawing.light_sheet import Money, light_lines, why_lines
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.open_season import OpenSeason
from seedstart.planning.light.lamp_distance import Distance, distance_at
from seedstart.planning.light.light_options import LightOption, light_options
from seedstart.planning.light.station_light import StationLight, light_at
from seedstart.problems import in_words
from seedstart.season.journal.entries import Adjusted, Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import LAMP_CAUTIONS, Station
from seedstart.tracking.records import Records

_STEP_MM, _STEP_HOURS = 10.0, 0.5
_LOWEST_MM, _HIGHEST_MM = 10.0, 2000.0
_GONE: Final = "This station is no longer in the season."


class LightState(Struct, frozen=True):
    """What the screen draws and tries with.

    Attributes:
        station: Which; None where the plan no longer lists it.
        plan: The plan.
        records: What happened.
        known: What may be named in what is written down.
        now: The moment.
        light: As the lamps are set; None without a station.
        options: What may be set.
        distance: From lamp to leaf.
    """

    station: Station | None
    plan: Season
    records: Records
    known: Known
    now: datetime
    light: StationLight | None = None
    options: tuple[LightOption, ...] = ()
    distance: Distance | None = None


def _cautions(width: int) -> list[Line]:
    return [line for text in LAMP_CAUTIONS for line in wrapped(text, width, role="warn")]


class LightScreen(SeasonScreen[LightState]):
    """The light of one station.

    Args:
        name: Which station.
    """

    CSS_PATH = "light_screen.tcss"
    HEAD, PAGE = "Light", ""
    KEYS = (
        Key("← →", "height"),
        Key("+ -", "hours"),
        Key("Enter", "set it so", "screen.set"),
        Key("w", "why", "screen.why"),
        Key("Esc", "back", "app.pop_screen"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("left", "height(-1)", "Lower", show=False, priority=True),
        Binding("right", "height(1)", "Higher", show=False, priority=True),
        Binding("plus", "hours(1)", "Longer", show=False, priority=True),
        Binding("minus", "hours(-1)", "Shorter", show=False, priority=True),
        Binding("enter", "set", "Set it so", show=False, priority=True),
        Binding("w", "why", "Why", show=False),
    ]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.station = name
        self._height_mm: float | None = None
        self._hours: float | None = None
        self._why = False

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> LightState:
        """The light as it is now."""
        plan, records, now = opened.plan, opened.records(), opened.now()
        station = plan.stations_by_name.get(self.station)
        state = LightState(station, plan, records, opened.known(), now)
        if station is None:
            return state
        light = light_at(station, plan, records, opened.today)
        distance = distance_at(station, records, now)
        return LightState(
            station, plan, records, opened.known(), now, light, light_options(light), distance
        )

    def show(self, state: LightState) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def subject(self) -> Subject | None:
        """The station."""
        return ("station", self.station)

    def _lines(self, width: int) -> list[Line]:
        state, light = self.state, self._light()
        if state is None or light is None:
            return [plain(_GONE)]
        plan, wide = state.plan, min(width, 100)
        money = Money(plan.price_per_kwh, plan.currency)
        lines = light_lines(light, state.options, state.distance, money, plan.units, wide)
        if self._why and not light.missing:
            return [*why_lines(light, plan.units, wide), plain(""), *_cautions(wide)]
        if self._tried():
            tried = wrapped("Tried, not written: Enter sets it so.", wide, role="warn", hang="")
            return [*tried, *lines]
        return lines

    def _light(self) -> StationLight | None:
        """As it is set, or as it is tried."""
        state, tried = self.state, self._tried()
        if state is None or state.station is None or not tried:
            return state.light if state else None
        what_if = Adjusted(
            id="0" * 36, at=state.now, by="tried", station=self.station,
            lamp_height_mm=self._height_mm, lamp_hours=self._hours,
        )  # fmt: skip
        today = state.now.date()
        return light_at(state.station, state.plan, state.records, today, tried=(what_if,))

    def _tried(self) -> bool:
        return self._height_mm is not None or self._hours is not None

    def action_height(self, step: int) -> None:
        """Lamps a centimetre lower or higher."""
        now = self._light()
        if now is not None and now.height_mm is not None and not now.missing:
            height = now.height_mm + step * _STEP_MM
            self._height_mm = min(max(height, _LOWEST_MM), _HIGHEST_MM)
            self.query_one(TextPane).show_text(self._lines)

    def action_hours(self, step: int) -> None:
        """Half an hour of light less or more."""
        now = self._light()
        if now is not None and not now.missing:
            self._hours = min(max(now.hours + step * _STEP_HOURS, 0.0), 24.0)
            self.query_one(TextPane).show_text(self._lines)

    def action_set(self) -> None:
        """Write down that the lamps are set as was tried."""
        if self.state is None or not self._tried():
            self.say("Nothing was changed: ← → for the height, + and - for the hours.")
            return
        texts = {"station": self.station}
        if self._height_mm is not None:
            texts["lamp_height"] = f"{self._height_mm:g} mm"
        if self._hours is not None:
            texts["lamp_hours"] = f"{self._hours:g}"
        filled = read(ADJUST, self.state.known, texts)
        if filled.problems:
            self.say(" ".join(map(in_words, filled.problems.values())), warn=True)
        else:
            self.post_message(ToRecord(self, filled.entries, asked=self.station))

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:  # noqa: ARG002
        """It is on the disk: what was tried is how they are set."""
        self._height_mm = self._hours = None
        if self.state is not None:
            self.query_one(TextPane).show_text(self._lines)
            self.say(f"{confirmed(entries, self.state.known)} u takes it back.")

    def action_why(self) -> None:
        """Where the figures come from and what to mind, or the map again."""
        self._why = not self._why
        self.query_one(TextPane).show_text(self._lines, top=True)
