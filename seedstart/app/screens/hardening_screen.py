"""Hardening off and setting out: who is at which step, today's hours, what is held and why."""

from collections.abc import Mapping
from datetime import date
from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.acts.act import Act, Texts, Values
from seedstart.acts.care import HARDEN, HOLD
from seedstart.acts.known import Known
from seedstart.acts.read import read
from seedstart.acts.sentences import confirmed
from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen, ToRecord
from seedstart.crop_table.crop import Source
from seedstart.drawing.harden_days import LEGEND, heads_across, line_across
from seedstart.drawing.harden_table import NOTHING, ahead_line, harden_sheet
from seedstart.drawing.lines import Line, plain
from seedstart.open_season import OpenSeason
from seedstart.planning.hardening.hardening_status import Hardening, coming
from seedstart.planning.known_weather import Weather
from seedstart.problems import in_words
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.units import Units

# What `held` says where no forecast gave the reason.
_NO_REASON = "no reason given"


class HardeningState(Struct, frozen=True):
    """What the screens draw.

    Attributes:
        found: Those that are being hardened off or are due to begin.
        ahead: What begins soon, and when.
        today: The day it is.
        sources: What the reasons' source keys stand for.
        in_lines: By the id of a sowing, how a line of the journal calls it.
        known: What may be named in what is written down.
        weather: As it is known, by day.
        units: Of temperatures and speeds.
    """

    found: tuple[Hardening, ...]
    ahead: tuple[tuple[str, date], ...]
    today: date
    sources: Mapping[str, Source]
    in_lines: Mapping[str, str]
    known: Known
    weather: Weather
    units: Units


def look_at_hardening(opened: OpenSeason) -> HardeningState:
    """Hardening off as it is now."""
    plan, records, today = opened.plan, opened.records(), opened.today
    rows, found = opened.calendar(), opened.hardening()
    names = {one.id: records.name_in_line(one.id) for one in found}
    ahead = coming(rows, today)
    return HardeningState(
        found, ahead, today, plan.crops.sources, names, opened.known(), opened.weather(), plan.units
    )


class HardeningScreen(SeasonScreen[HardeningState]):
    """The days ahead across, a line a sowing, and below it all about the one under the cursor."""

    CSS_PATH = "hardening_screen.tcss"
    HEAD, PAGE = "Hardening off", "hardening"
    KEYS = (
        Key("Space", "it was out", "screen.out"),
        Key("k", "it was kept in", "screen.keep_in"),
        Key("Enter", "all about it", "screen.open"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "out", "Out as the step asks", id="hardening.out", show=False),
        Binding("k", "keep_in", "Kept in", id="hardening.keep_in", show=False),
    ]

    def body(self) -> ComposeResult:
        """Days and weather, the list, what its signs mean, what begins soon, all about one."""
        yield TextPane(id="columns")
        yield LineList[Hardening](self._line, key=lambda one: one.id, id="sowings")
        yield TextPane(id="legend")
        yield TextPane(id="ahead")
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The list takes the keys."""
        for name in ("#columns", "#legend", "#ahead"):
            self.query_one(name).can_focus = False
        self.query_one("#sowings").focus()

    def look(self, opened: OpenSeason) -> HardeningState:
        """Hardening off as it is now."""
        return look_at_hardening(opened)

    def show(self, state: HardeningState) -> None:
        """Draw it."""
        self.sowings.show(state.found)
        some = bool(state.found)
        columns = self.query_one("#columns", TextPane)
        known = state.weather, state.today, state.units
        columns.show_text(lambda width: heads_across(*known, width) if some else [plain(NOTHING)])
        self.query_one("#legend").display = some
        self.query_one("#legend", TextPane).show_text(lambda _: [plain(LEGEND)])
        self.query_one("#ahead").display = bool(state.ahead)
        self.query_one("#ahead", TextPane).show_text(lambda width: [ahead_line(state.ahead, width)])
        if not some:
            self.query_one("#sheet", TextPane).show_text(lambda _: [])

    @property
    def sowings(self) -> LineList[Hardening]:
        """The list."""
        return self.query_one("#sowings", LineList)

    def subject(self) -> Subject | None:
        """The sowing under the cursor."""
        one = self.sowings.item
        return None if one is None else ("sowing", one.id)

    def _line(self, one: Hardening, width: int) -> Line:
        return line_across(one, self.state.today, width) if self.state is not None else ()

    def on_line_list_highlighted(self, event: LineList.Highlighted[Hardening]) -> None:
        """All about the sowing under the cursor."""
        event.stop()
        if self.state is not None:
            one, sources, today = event.item, self.state.sources, self.state.today
            sheet = self.query_one("#sheet", TextPane)
            sheet.show_text(lambda width: harden_sheet(one, sources, today, width), top=True)

    def on_line_list_chosen(self, event: LineList.Chosen[Hardening]) -> None:
        """From the list to one sowing."""
        event.stop()
        self.app.push_screen(HardeningOfOne(event.item.id, event.item.name))

    def action_open(self) -> None:
        """All about the sowing under the cursor, on a screen of its own."""
        self.sowings.action_choose()

    def action_out(self) -> None:
        """It was out as long as today's step asks."""
        one = self._to_write()
        if one is not None:
            texts = {"night": "yes" if one.night else ""}
            self._write(one, HARDEN, texts, {"hours": {"hours": one.hours}})

    def action_keep_in(self) -> None:
        """It was kept in; why, the forecast says where it holds the day."""
        one = self._to_write()
        if one is not None:
            why = one.why[0].text.rstrip(".") if one.today == "held" and one.why else _NO_REASON
            self._write(one, HOLD, {"why": why})

    def _to_write(self) -> Hardening | None:
        one = self.sowings.item
        if one is not None and one.written:
            self.say(f"Today is already written down for {one.name}; u takes the last act back.")
            return None
        return one

    def _write(
        self, one: Hardening, act: Act, texts: Texts, given: Mapping[str, Values] | None = None
    ) -> None:
        if self.state is None:
            return
        what = {"what": f"sowing:{self.state.in_lines[one.id]}"}
        filled = read(act, self.state.known, {**what, **texts}, given)
        if filled.problems:
            self.say(" ".join(map(in_words, filled.problems.values())), warn=True)
        else:
            self.post_message(ToRecord(self, filled.entries, asked=one))

    def recorded(self, entries: tuple[Entry, ...], asked: object) -> None:
        """It is on the disk."""
        if isinstance(asked, Hardening) and self.state is not None:
            self.say(f"{confirmed(entries, self.state.known)} u takes it back.")


class HardeningOfOne(SeasonScreen[HardeningState]):
    """All about one sowing.

    Args:
        sowing: Its id.
        name: What it is called.
    """

    CSS_PATH = "hardening_screen.tcss"
    HEAD, PAGE = "Hardening off", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, sowing: str, name: str) -> None:
        super().__init__()
        self.sowing, self.sowing_name = sowing, name

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="whole")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def subject(self) -> Subject | None:
        """The sowing."""
        return ("sowing", self.sowing)

    def look(self, opened: OpenSeason) -> HardeningState:
        """Hardening off as it is now."""
        return look_at_hardening(opened)

    def show(self, state: HardeningState) -> None:
        """Draw it."""
        one = next((one for one in state.found if one.id == self.sowing), None)
        pane = self.query_one(TextPane)
        if one is None:
            pane.show_text(
                lambda _: [plain(f"{self.sowing_name} is no longer being hardened off.")]
            )
        else:
            pane.show_text(
                lambda width: harden_sheet(
                    one, state.sources, state.today, min(width, 100), state.weather, state.units
                )
            )
