"""All lots: how far each is, what is up of how many, where it stands, and what comes next."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any, ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import HeadLine, Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.compare_screen import put_beside
from seedstart.app.screens.empty_page import (
    BEGINS,
    FIRST_LOT,
    MANY_LOTS,
    SAYS_NO_LOTS,
    EmptyPage,
)
from seedstart.app.screens.lot_screen import LotScreen, look_at_lot, page_lines
from seedstart.app.screens.season_screen import LinesFor, SeasonScreen
from seedstart.drawing.lines import Line, heading, plain
from seedstart.drawing.lots_list import (
    Columns,
    LotLine,
    in_sight,
    lot_line_of,
    lot_list_line,
    lots_head,
    states_in_words,
)
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.lot import Lot

# The orders of the list, each with its name; the first is that of lots.toml.
_ORDERS: Final[tuple[tuple[str, Callable[[LotLine], Any]], ...]] = (
    ("as they stand in lots.toml", lambda _: 0),
    ("what comes next first", lambda line: (not line.is_urgent, line.day or date.max)),
    ("by crop", lambda line: line.lot.crop),
)


class LotsState(Struct, frozen=True):
    """What is listed."""

    lines: tuple[LotLine, ...]


class LotsScreen(SeasonScreen[LotsState]):
    """The lots, a line each. Draws a `LotsState`; knows no file and no clock."""

    CSS_PATH = "lots_screen.tcss"
    HAS_HALF = True
    HEAD, PAGE = "Lots", "lots"
    KEYS = (
        Key("Enter", "open", "screen.open"),
        Key("a", "new lot", "app.write_act('new lot')"),
        Key("e", "change", "app.change"),
        Key("b", "beside another", "screen.beside"),
        Key("o", "order", "screen.order"),
        Key("Tab", "columns", "screen.columns"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "beside", "Put beside another", id="lots.beside", show=False),
        Binding("a", "app.write_act('new lot')", "New lot", id="lots.add", show=False),
        Binding("o", "order", "Order of the list", id="lots.order", show=False),
        Binding("tab,shift+tab", "columns", "Other columns", id="lots.columns", show=False,
                priority=True),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self.columns: Columns = "next"
        self.order = 0

    def body(self) -> ComposeResult:
        """Names of the columns, lots, what is said of the one under the cursor."""
        yield TextPane(id="columns")
        yield LineList[LotLine](self._line, key=lambda line: line.lot.name, id="lots")
        yield EmptyPage(SAYS_NO_LOTS, (FIRST_LOT,), MANY_LOTS)
        yield TextPane(id="pane", classes="pane")

    def on_mount(self) -> None:
        """The lots take the keys."""
        for name in ("#columns", "#pane"):
            self.query_one(name, TextPane).can_focus = False
        self.lines.focus()

    @property
    def lines(self) -> LineList[LotLine]:
        """The list."""
        return self.query_one("#lots", LineList)

    def look(self, opened: OpenSeason) -> LotsState:
        """How far every lot is."""
        plan, records, prospects = opened.plan, opened.records(), opened.prospects()
        by_lot: dict[str, list[Row]] = {}
        for row in opened.calendar():
            by_lot.setdefault(row.lot or "", []).append(row)

        def line(lot: Lot) -> LotLine:
            figure = figure_of(lot, plan, records)
            one = in_sight(figure)
            waited = one is not None and one.alive and one.closed is None
            return lot_line_of(
                lot,
                figure,
                tuple(by_lot.get(lot.name, ())),
                opened.today,
                crop=plan.crops.crops[lot.crop],
                stations=records.stations_of(
                    each for each in records.of_lot(lot.name) if each.lives
                ),
                advice=prospects.advice_on_lot(lot.name),
                to_come=prospects.to_come(one.id) if one is not None and waited else None,
            )

        lines = tuple(map(line, plan.lots))
        return LotsState(_kept(lines, self.state.lines if self.state else ()))

    def show(self, state: LotsState) -> None:
        """Draw it."""
        self.query_one(HeadLine).say_aside(states_in_words(state.lines))
        columns = self.query_one("#columns", TextPane)
        columns.show_text(lambda _: [lots_head(self.columns)])
        self.lines.show(tuple(sorted(state.lines, key=_ORDERS[self.order][1])))
        for name in ("#columns", "#lots", "#pane"):
            self.query_one(name).set_class(not state.lines, "-none")
        self.query_one(EmptyPage).stand(instead_of=self.lines, on=not state.lines)
        self.set_keys(self.KEYS if state.lines else BEGINS)
        self._show_pane()

    def _show_pane(self) -> None:
        line = self.lines.item
        said = line.says if line is not None else ()
        self.query_one("#pane", TextPane).show_text(lambda _: [plain(text) for text in said])

    def _line(self, line: LotLine, width: int) -> Line:
        return lot_list_line(line, width, self.columns)

    def subject(self) -> Subject | None:
        """The lot under the cursor."""
        line = self.lines.item
        return None if line is None else ("lot", line.lot.name)

    def action_open(self) -> None:
        """The lot under the cursor."""
        self.lines.action_choose()

    def action_columns(self) -> None:
        """The other set of columns."""
        self.columns = "figures" if self.columns == "next" else "next"
        self.lines.draw_again()
        if self.state is not None:
            self.show(self.state)

    def action_order(self) -> None:
        """The list in another order."""
        self.order = (self.order + 1) % len(_ORDERS)
        if self.state is not None:
            self.show(self.state)
            self.say(f"Order: {_ORDERS[self.order][0]}.")

    def action_beside(self) -> None:
        """Put another lot beside this one."""
        line = self.lines.item
        if line is not None and self.state is not None:
            lots = [each.lot for each in self.state.lines]
            put_beside(self, (line.lot.name,), lots)

    def half(self, opened: OpenSeason) -> LinesFor | None:
        """The page of the lot under the cursor."""
        line = self.lines.item
        if line is None:
            return None
        state = look_at_lot(line.lot.name, opened)
        return lambda width: [heading(line.lot.name), *page_lines(state, 0, width)]

    def on_line_list_highlighted(self, event: LineList.Highlighted[LotLine]) -> None:
        """The pane is about the line under the cursor."""
        event.stop()
        self._show_pane()

    def on_line_list_chosen(self, event: LineList.Chosen[LotLine]) -> None:
        """From a lot to its page."""
        event.stop()
        self.app.push_screen(LotScreen(event.item.lot.name))


def _kept(lines: tuple[LotLine, ...], before: Sequence[LotLine]) -> tuple[LotLine, ...]:
    """Lines that say what they said before are the same objects: their rows are not redrawn."""
    known = {line.lot.name: line for line in before}
    return tuple(
        known[line.lot.name] if known.get(line.lot.name) == line else line for line in lines
    )
