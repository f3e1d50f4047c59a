"""One lot: what to do about it first, its counts as bars, where its plants stand, its figures."""

from typing import ClassVar, Final

from msgspec import Struct, structs
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import HeadLine, Key, TextPane
from seedstart.app.screens.compare_screen import put_beside
from seedstart.app.screens.journal_screen import LotJournalScreen
from seedstart.app.screens.lot_figures_screen import LotFiguresScreen
from seedstart.app.screens.season_screen import SeasonScreen, is_plain
from seedstart.drawing.lines import Line, plain
from seedstart.drawing.lot_page import LotPage, Sowed, Stands, lot_page_lines
from seedstart.drawing.lots_list import in_sight, next_of
from seedstart.growing.germination.time_curve import NoFit, time_curve
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.prospect import Prospect
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.lot import Lot
from seedstart.tracking.cases import case_of
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.history import history
from seedstart.tracking.standing import Standing
from seedstart.tracking.whereabouts import Group, whereabouts

_BARS: Final = 10
_BARS_HIGH: Final = 14
_MOST_COLUMNS: Final = 78


class LotState(Struct, frozen=True):
    """What the screen draws of a lot.

    Attributes:
        page: What its page tells; None when it is no longer among the lots.
        drawn: Its sowings from seed with their course: the one in sight first, then the latest.
        lots: All lots, in the order of the list.
    """

    page: LotPage | None
    drawn: tuple[Prospect, ...] = ()
    lots: tuple[Lot, ...] = ()


def look_at_lot(name: str, opened: OpenSeason) -> LotState:
    """A lot as it is now."""
    plan, records = opened.plan, opened.records()
    lot = plan.lots_by_name.get(name)
    if lot is None:
        return LotState(None)
    rows = tuple(row for row in opened.calendar() if row.lot == lot.name)
    figure = figure_of(lot, plan, records)
    prospects = opened.prospects()
    warnings = [said for row in rows for said in (row.problem, *row.warnings) if said]
    page = LotPage(
        lot=lot,
        figure=figure,
        drawn=None,
        to_sow=next_of(rows, opened.today),
        stands=_stands(lot, rows, opened),
        sowed=tuple(_sowed(one, figure, opened) for one in _sowings_and_plants(lot, opened)),
        warnings=tuple(dict.fromkeys(warnings)),
        cautions=plan.crops.crops[lot.crop].cautions,
        units=plan.units,
    )
    drawn = tuple(map(prospects.drawn, _in_order(figure)))
    return LotState(page, drawn, plan.lots)


class LotScreen(SeasonScreen[LotState]):
    """The page of one lot; which sowing's bars are drawn can be changed.

    Args:
        name: The lot.
    """

    CSS_PATH = "sheet_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("right", "other_lot(1)", "Next lot", id="lot.next", show=False, priority=True),
        Binding("left", "other_lot(-1)", "Lot before", show=False, priority=True),
        Binding("tab", "other(1)", "Next sowing", id="lot.sowing", show=False, priority=True),
        Binding("shift+tab", "other(-1)", "Sowing before", show=False, priority=True),
        Binding("j", "journal", "Its journal", id="lot.journal", show=False),
        Binding("g", "germination", "Every figure", id="lot.germination", show=False),
        Binding("b", "beside", "Beside another", id="lot.beside", show=False),
    ]
    KEYS = (
        Key("Esc", "back", "app.pop_screen"),
        Key("← →", "other lots", "screen.other_lot(1)"),
        Key("g", "every figure", "screen.germination"),
        Key("j", "its journal", "screen.journal"),
        Key("e", "change", "app.change"),
    )

    def __init__(self, name: str) -> None:
        super().__init__()
        self.lot_name = name
        self.at = 0  # which of the sowings, from the one in sight

    @property
    def head(self) -> str:
        """The lot's name."""
        return f"Lot {self.lot_name}"

    def body(self) -> ComposeResult:
        """The page."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The page takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> LotState:
        """The lot as it is now."""
        return look_at_lot(self.lot_name, opened)

    def show(self, state: LotState) -> None:
        """Draw it."""
        if state.page is not None:
            self.query_one(HeadLine).say_aside(_what(state.page.lot))
        self.at = min(self.at, max(len(state.drawn) - 1, 0))
        several = (Key("Tab", "other sowing", "screen.other(1)"),) if state.drawn[1:] else ()
        self.set_keys((*self.KEYS[:2], *several, *self.KEYS[2:]))
        self.query_one(TextPane).show_text(self._lines)

    def subject(self) -> Subject | None:
        """The lot."""
        return ("lot", self.lot_name)

    def action_other(self, step: int) -> None:
        """The bars of another of its sowings."""
        if self.state is not None and self.state.drawn[1:]:
            self.at = (self.at + step) % len(self.state.drawn)
            self.show(self.state)

    def action_other_lot(self, step: int) -> None:
        """The lot before or after it in the list."""
        names = [lot.name for lot in self.state.lots] if self.state is not None else []
        if self.lot_name in names:
            place = (names.index(self.lot_name) + step) % len(names)
            self.app.switch_screen(LotScreen(names[place]))

    def action_beside(self) -> None:
        """Put another lot beside it."""
        if self.state is not None:
            put_beside(self, (self.lot_name,), self.state.lots)

    def action_journal(self) -> None:
        """What was done with it, act by act, to be taken back."""
        self.app.push_screen(LotJournalScreen(self.lot_name))

    def action_germination(self) -> None:
        """Every figure of how it came up, and its tests."""
        self.app.push_screen(LotFiguresScreen(self.lot_name))

    def _lines(self, width: int) -> list[Line]:
        if self.state is None or self.state.page is None:
            return [plain(f"{self.lot_name} is no longer among the lots.")]
        height = _BARS_HIGH if self.has_class("-high") else _BARS
        if is_plain(self):
            height = 0
        return page_lines(self.state, self.at, width, height)


def page_lines(state: LotState, at: int, width: int, height: int = _BARS) -> list[Line]:
    """The page of a lot that there is; `at` says which of its sowings is drawn."""
    if state.page is None:
        return []
    page = structs.replace(state.page, drawn=state.drawn[at] if state.drawn else None)
    return lot_page_lines(page, min(width, _MOST_COLUMNS), height)


def _what(lot: Lot) -> str:
    """`tomato, plum for drying; 2025`: what it is, and of which year its seed."""
    of = f"; {lot.harvested}" if lot.harvested and lot.harvested != "unknown" else ""
    return f"{lot.crop}{f', {lot.variety}' if lot.variety else ''}{of}"


def _in_order(figure: LotFigure) -> tuple[str, ...]:
    """Its sowings from seed: the one in sight first, then the latest."""
    first = in_sight(figure)
    every = [one.id for one in reversed(figure.sowings)]
    return tuple(dict.fromkeys([*([first.id] if first else []), *every]))


def _sowings_and_plants(lot: Lot, opened: OpenSeason) -> tuple[Standing, ...]:
    every = opened.records().of_lot(lot.name)
    return (*(one for one in every if one.from_seed), *(one for one in every if not one.from_seed))


def _stands(lot: Lot, rows: tuple[Row, ...], opened: OpenSeason) -> tuple[Stands, ...]:
    """Where its plants stand, most of them first, and what comes next of each."""
    records = opened.records()
    groups = [one for one in whereabouts(records, opened.plan) if one.lot == lot.name]
    groups.sort(key=lambda one: -one.plants)

    def stands(group: Group) -> Stands:
        spot = records.spot(group.sowing)
        seed = records.lineage(group.sowing)[-1].id
        own = tuple(row for row in rows if row.sowing_id == seed)
        return Stands(group, spot.since.date() if spot else None, next_of(own, opened.today))

    return tuple(map(stands, groups))


def _sowed(one: Standing, figure: LotFigure, opened: OpenSeason) -> Sowed:
    records = opened.records()
    half = nine_in_ten = None
    if one.from_seed and one.closed is not None:
        case = case_of(one, records, clusters=figure.clusters)
        curves = time_curve(case.between) if case and case.between else NoFit("")
        if not isinstance(curves, NoFit):
            half, nine_in_ten = curves[0].time_to(0.5), curves[0].time_to(0.9)
    prospect = opened.prospects()[one.id] if one.from_seed else None
    entries = tuple(history(records, opened.journal, one.id))
    return Sowed(one, half, nine_in_ten, prospect, entries)
