"""All lots: what came up of each, how sure that is, and from a lot to its curve."""

from collections.abc import Sequence
from datetime import date
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Static

from seedstart.app.frame import Key, TextPane
from seedstart.app.line_list import LineList
from seedstart.app.screens.calendar_screen import NO_LOTS
from seedstart.app.screens.compare_screen import CompareScreen
from seedstart.app.screens.journal_screen import LotJournalScreen
from seedstart.app.screens.lot_figures_screen import LotFiguresScreen
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.crop_table.crop import Caution
from seedstart.drawing.lines import Line, heading, plain
from seedstart.drawing.lots_list import LotLine, lot_line_of, lot_list_line, lots_head
from seedstart.drawing.lots_table import lot_lines
from seedstart.drawing.measured_curves import emergence_lines, outlook_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.lot import Lot
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.history import history
from seedstart.tracking.standing import Standing
from seedstart.tracking.whereabouts import Group, whereabouts
from seedstart.units import Units

_HIGHEST_CURVE: Final = 22


class LotState(Struct, frozen=True):
    """What the screen draws of a lot.

    Attributes:
        lot: Its plan; None when it is no longer in the season.
        figure: What came up.
        rows: Its rows of the calendar.
        prospects: Of its sowings from seed, the latest first.
        histories: By sowing, its entries in force.
        units: For the words.
        daughters: Plants that were pricked out or split off.
        groups: By sowing, where it stands now.
        cautions: What can hurt of its crop.
    """

    lot: Lot | None
    figure: LotFigure | None = None
    rows: tuple[Row, ...] = ()
    prospects: tuple[Prospect, ...] = ()
    histories: dict[str, tuple[Entry, ...]] = {}
    units: Units = "metric"
    daughters: tuple[Standing, ...] = ()
    groups: dict[str, Group] = {}
    cautions: tuple[Caution, ...] = ()


class LotScreen(SeasonScreen[LotState]):
    """Curve and words of one lot; the sowing whose curve is drawn can be changed.

    Args:
        name: The lot.
    """

    CSS_PATH = "lot_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("right,tab", "other(1)", "Next sowing", id="lot.next", show=False, priority=True),
        Binding("left,shift+tab", "other(-1)", "Sowing before", show=False, priority=True),
        Binding("j", "journal", "Its journal", id="lot.journal", show=False),
        Binding("g", "germination", "Every figure", id="lot.germination", show=False),
    ]
    KEYS = (
        Key("Esc", "back", "app.pop_screen"),
        Key("↑ ↓", "scroll"),
        Key("j", "its journal: take back", "screen.journal"),
        Key("e", "change", "app.change"),
        Key("g", "every figure", "screen.germination"),
    )

    def __init__(self, name: str) -> None:
        super().__init__()
        self.lot_name = name
        self.at = 0  # which of the sowings

    @property
    def head(self) -> str:
        """The lot's name."""
        return f"Lot {self.lot_name}"

    def body(self) -> ComposeResult:
        """The curve, and the words below or beside it."""
        with Container(id="lot"):
            yield TextPane(id="curve")
            yield TextPane(id="words")

    def on_mount(self) -> None:
        """The words take the keys."""
        self.query_one("#curve").can_focus = False
        self.query_one("#words").focus()

    def look(self, opened: OpenSeason) -> LotState:
        """The lot as it is now."""
        plan, records = opened.plan, opened.records()
        lot = plan.lots_by_name.get(self.lot_name)
        if lot is None:
            return LotState(None)
        rows = tuple(row for row in opened.calendar() if row.lot == lot.name)
        figure = figure_of(lot, plan, records)
        prospects = opened.prospects()
        daughters = tuple(one for one in records.of_lot(lot.name) if not one.from_seed)
        return LotState(
            lot,
            figure,
            rows,
            tuple(prospects.drawn(one.id) for one in reversed(figure.sowings)),
            {
                one.id: tuple(history(records, opened.journal, one.id))
                for one in (*figure.sowings, *daughters)
            },
            plan.units,
            daughters,
            {one.sowing: one for one in whereabouts(records, plan) if one.lot == lot.name},
            plan.crops.crops[lot.crop].cautions,
        )

    def show(self, state: LotState) -> None:
        """Draw it."""
        self.at = min(self.at, max(len(state.prospects) - 1, 0))
        if len(state.prospects) > 1:
            self.set_keys((*self.KEYS, Key("← →", "other sowing", "screen.other(1)")))
        self.query_one("#curve", TextPane).show_text(self._curve)
        self.query_one("#words", TextPane).show_text(self._words)

    def subject(self) -> Subject | None:
        """The lot."""
        return ("lot", self.lot_name)

    def action_other(self, step: int) -> None:
        """The curve of another of its sowings."""
        if self.state is not None and self.state.prospects:
            self.at = (self.at + step) % len(self.state.prospects)
            self.show(self.state)

    def action_journal(self) -> None:
        """What was done with it, act by act, to be taken back."""
        self.app.push_screen(LotJournalScreen(self.lot_name))

    def action_germination(self) -> None:
        """Every figure of how it came up, and its tests."""
        self.app.push_screen(LotFiguresScreen(self.lot_name))

    @property
    def _prospect(self) -> Prospect | None:
        return self.state.prospects[self.at] if self.state and self.state.prospects else None

    def _curve(self, width: int) -> list[Line]:
        found = self._prospect
        if found is None:
            return [plain("None of it has been sown yet.")]
        height = self.query_one("#curve").size.height - 3
        return [
            heading(f"{found.name} comes up"),
            *emergence_lines(found, width, min(max(height, 6), _HIGHEST_CURVE)),
        ]

    def _words(self, width: int) -> list[Line]:
        state = self.state
        if state is None or state.lot is None or state.figure is None:
            return [plain(f"{self.lot_name} is no longer among the lots.")]
        found = self._prospect
        lines = outlook_lines(found, width) if found else []
        return [
            *lines,
            *([plain("")] if lines else []),
            *lot_lines(
                state.lot,
                state.figure,
                state.rows,
                {},
                state.histories,
                state.units,
                width,
                state.daughters,
                state.groups,
                state.cautions,
            ),
        ]


_NOTE = (
    "Percent: seedlings out of seeds sown, of closed sowings not too cold or too hot, with its 95 "
    "% interval (Wilson). Half up: days until half of them had emerged."
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
        Key("e", "change", "app.change"),
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
