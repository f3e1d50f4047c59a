"""The season: its frost date with what that means, and what another risk would move."""

from typing import Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.message import Message

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.lines import Line
from seedstart.drawing.season_sheet import RISKS_HEAD, frost_lines, rest_lines, risk_line
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.frost_answer import RiskMoves, risk_moves
from seedstart.season.plan.season_file import Season

_LOTS_RECKONED: Final = 100  # a calendar a risk: of more lots it would be felt


def _line(risk: RiskMoves, width: int) -> Line:
    return risk_line(risk, width, "Enter, then ctrl+s: the calendar shows it")


class FrostState(Struct, frozen=True):
    """What the screen draws.

    Attributes:
        season: The plan.
        frost: Its frost dates, if it has one.
        risks: What may be risked with tender plants, the greatest first.
    """

    season: Season
    frost: FrostDates | None
    risks: tuple[RiskMoves, ...]


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
        yield LineList[RiskMoves](_line, key=lambda risk: risk.risk_percent, id="risks")
        yield TextPane(id="rest")

    def on_mount(self) -> None:
        """The risks take the keys."""
        for name in ("#frost", "#columns", "#rest"):
            self.query_one(name).can_focus = False
        self.query_one("#columns", TextPane).show_text(lambda _: [RISKS_HEAD])
        self.risks.focus()

    @property
    def risks(self) -> LineList[RiskMoves]:
        """The list."""
        return self.query_one("#risks", LineList)

    def look(self, opened: OpenSeason) -> FrostState:
        """The season as it is now."""
        plan, frost = opened.plan, frost_of(opened.plan)
        with_another = opened.calendar_with if len(plan.lots) <= _LOTS_RECKONED else None
        risks = risk_moves(plan, opened.today, opened.calendar(), with_another)
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

    def on_line_list_chosen(self, event: LineList.Chosen[RiskMoves]) -> None:
        """The form, with that risk in it: what moves is said there before it is kept."""
        event.stop()
        self.post_message(TakeRisk(event.item.risk_percent))
