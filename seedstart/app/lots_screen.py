"""All lots: what came up of each, how sure that is, and from a lot to its curve."""

from collections.abc import Sequence
from datetime import date
from typing import ClassVar

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from seedstart.app.calendar_screen import NO_LOTS
from seedstart.app.compare_screen import CompareScreen
from seedstart.app.frame import Key
from seedstart.app.line_list import LineList
from seedstart.app.lot_screen import LotScreen
from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import Line
from seedstart.drawing.lots_list import LotLine, lot_line_of, lot_list_line, lots_head
from seedstart.open_season import OpenSeason
from seedstart.planning.lot_figures import figure_of
from seedstart.planning.row import Row
from seedstart.season.entry import Subject

_NOTE = (
    "Percent: emerged over sown, of closed sowings that had a fair chance, with its 95 % interval "
    "(Wilson). Half in: days until half of those that came were up."
)


class LotsState(Struct, frozen=True):
    """What is listed, and the day it is."""

    lines: tuple[LotLine, ...]
    today: date


class LotsScreen(SeasonScreen[LotsState]):
    """The lots in the order of lots.toml. Draws a `LotsState`; knows no file and no clock."""

    CSS_PATH = "lots_screen.tcss"
    HEAD, PAGE = "Lots", "lots"
    KEYS = (
        Key("Enter", "open: curve, journal", "screen.open"),
        Key("a", "add a lot", "app.write_act('new lot')"),
        Key("b", "beside another", "screen.beside"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("o", "open", "Open", id="lots.open", show=False),
        Binding("b", "beside", "Put beside another", id="lots.beside", show=False),
        Binding("a", "app.write_act('new lot')", "Add a lot", id="lots.add", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.first: str | None = None  # the lot that another is to be put beside

    def body(self) -> ComposeResult:
        """Head of the table, lots, what the figures mean."""
        yield TextPane(id="columns")
        yield LineList[LotLine](self._line, key=lambda line: line.lot.name, id="lots")
        yield Static(NO_LOTS, id="empty", markup=False)
        yield Static(_NOTE, id="note", markup=False)

    def on_mount(self) -> None:
        """The lots take the keys."""
        columns = self.query_one("#columns", TextPane)
        columns.can_focus = False
        self.query_one("#empty").display = False
        columns.show_text(lambda width: [lots_head(width)])
        self.lines.focus()

    @property
    def lines(self) -> LineList[LotLine]:
        """The list."""
        return self.query_one("#lots", LineList)

    def look(self, opened: OpenSeason) -> LotsState:
        """What came up of every lot."""
        plan, records, prospects = opened.plan, opened.records(), opened.prospects()
        by_lot: dict[str, list[Row]] = {}
        for row in opened.calendar():
            by_lot.setdefault(row.lot or "", []).append(row)
        lines = tuple(
            lot_line_of(
                lot,
                figure_of(lot, plan, records),
                tuple(by_lot.get(lot.name, ())),
                records.stations_of(one for one in records.of_lot(lot.name) if one.lives),
                prospects.advice_on_lot(lot.name),
            )
            for lot in plan.lots
        )
        return LotsState(_kept(lines, self.state.lines if self.state else ()), opened.today)

    def show(self, state: LotsState) -> None:
        """Draw it."""
        self.lines.show(state.lines)
        self.query_one("#empty").display = not state.lines

    def _line(self, line: LotLine, width: int) -> Line:
        return lot_list_line(line, width, self.state.today if self.state else date.min)

    def subject(self) -> Subject | None:
        """The lot under the cursor."""
        line = self.lines.item
        return None if line is None else ("lot", line.lot.name)

    def action_open(self) -> None:
        """The lot under the cursor."""
        self.lines.action_choose()

    def action_beside(self) -> None:
        """First one lot, then the one beside it; the same twice puts its sowings beside it."""
        line = self.lines.item
        if line is None:
            return
        if self.first is None:
            self.first = line.lot.name
            self.say(f"{self.first}: b on another lot puts it beside; b again, its sowings.")
            return
        first, self.first = self.first, None
        self.app.push_screen(CompareScreen(first, line.lot.name))

    def on_line_list_chosen(self, event: LineList.Chosen[LotLine]) -> None:
        """From a lot to its curve."""
        event.stop()
        self.app.push_screen(LotScreen(event.item.lot.name))


def _kept(lines: tuple[LotLine, ...], before: Sequence[LotLine]) -> tuple[LotLine, ...]:
    """Lines that say what they said before are the same objects: their rows are not redrawn."""
    known = {line.lot.name: line for line in before}
    return tuple(
        known[line.lot.name] if known.get(line.lot.name) == line else line for line in lines
    )
