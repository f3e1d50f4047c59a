"""One lot: how its sowings come up, what was recorded of them, and what is advised."""

from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container

from seedstart.app.frame import Key
from seedstart.app.journal_screen import LotJournalScreen
from seedstart.app.lot_figures_screen import LotFiguresScreen
from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.crop_table.crop import Caution
from seedstart.drawing.emergence_curve import emergence_lines, outlook_lines
from seedstart.drawing.lines import Line, heading, plain
from seedstart.drawing.lots_table import lot_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.lot_figures import figure_of
from seedstart.planning.prospect import Prospect
from seedstart.planning.row import Row
from seedstart.season.entries import Entry
from seedstart.season.entry import Subject
from seedstart.season.lot import Lot
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
            return [plain("Nothing of it was sown yet.")]
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
