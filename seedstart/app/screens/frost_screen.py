"""The season: its frost date with what that means, and what another risk would move."""

from typing import Final

from msgspec import Struct, structs
from textual.app import ComposeResult
from textual.message import Message

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.lines import Line
from seedstart.drawing.season_sheet import RISKS_HEAD, Risk, frost_lines, rest_lines, risk_line
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.moves import in_short, moves
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.calendar.sowing_request import FrostDates
from seedstart.season.plan.season_file import Frost, Season

_PERCENTS: Final = (50.0, 30.0, 20.0, 10.0, 5.0)
_LOTS_RECKONED: Final = 100  # a calendar a risk: of more lots it would be felt


class FrostState(Struct, frozen=True):
    """What the screen draws.

    Attributes:
        season: The plan.
        frost: Its frost dates, if it has one.
        risks: What may be risked with tender plants, the greatest first.
    """

    season: Season
    frost: FrostDates | None
    risks: tuple[Risk, ...]


class TakeRisk(Message):
    """The form of the season is asked for, with another risk in it.

    Attributes:
        percent: Which.
    """

    def __init__(self, percent: float) -> None:
        super().__init__()
        self.percent = percent


class FrostScreen(SeasonScreen[FrostState]):
    """The frost date, the risks, and what else the season's files say."""

    CSS_PATH = "frost_screen.tcss"
    HEAD, PAGE = "The season", "season"
    KEYS = (
        Key("Enter", "take that risk", "screen.take_risk"),
        Key("e", "change the frost date", "app.change"),
    )

    def body(self) -> ComposeResult:
        """Frost date, risks, the rest."""
        yield TextPane(id="frost")
        yield TextPane(id="columns")
        yield LineList[Risk](risk_line, key=lambda risk: risk.percent, id="risks")
        yield TextPane(id="rest")

    def on_mount(self) -> None:
        """The risks take the keys."""
        for name in ("#frost", "#columns", "#rest"):
            self.query_one(name).can_focus = False
        self.query_one("#columns", TextPane).show_text(lambda _: [RISKS_HEAD])
        self.risks.focus()

    @property
    def risks(self) -> LineList[Risk]:
        """The list."""
        return self.query_one("#risks", LineList)

    def look(self, opened: OpenSeason) -> FrostState:
        """The season as it is now."""
        plan, frost = opened.plan, frost_of(opened.plan)
        if frost is None or plan.frost is None:
            return FrostState(plan, None, ())
        percents = sorted({*_PERCENTS, frost.tender_risk_percent or 50.0}, reverse=True)
        recorded = plan.frost.recorded
        carried = (one for one in percents if recorded is None or recorded.carries(one))
        risks = tuple(_risk(opened, plan.frost, frost, percent) for percent in carried)
        return FrostState(plan, frost, risks)

    def show(self, state: FrostState) -> None:
        """Draw it."""
        self.query_one("#frost", TextPane).show_text(lambda width: frost_lines(state.frost, width))
        self.risks.show(state.risks)
        self.set_keys(self.KEYS if state.risks else self.KEYS[1:])
        for name in ("#columns", "#risks"):
            self.query_one(name).display = bool(state.risks)
        self.query_one("#rest", TextPane).show_text(self._rest)

    def _rest(self, width: int) -> list[Line]:
        return rest_lines(self.state.season, self.state.frost, width) if self.state else []

    def action_take_risk(self) -> None:
        """The risk under the cursor."""
        self.risks.action_choose()

    def on_line_list_chosen(self, event: LineList.Chosen[Risk]) -> None:
        """The form, with that risk in it: what moves is said there before it is kept."""
        event.stop()
        self.post_message(TakeRisk(event.item.percent))


def _risk(opened: OpenSeason, said: Frost, frost: FrostDates, percent: float) -> Risk:
    """One risk: the day, and what it would move."""
    plan = opened.plan.with_frost(structs.replace(said, tender_risk_percent=percent))
    dates = frost_of(plan)
    day = (dates.trusted if dates else None) or frost.given
    if percent == frost.tender_risk_percent:
        return Risk(percent, day, "as it is", is_taken=True)
    if len(plan.lots) > _LOTS_RECKONED:
        return Risk(percent, day, "Enter, then ctrl+s: the calendar shows it")
    then = opened.calendar_with(plan)
    return Risk(percent, day, in_short(moves(opened.calendar(), then, opened.today)))
