"""One lot: how its sowings come up, what was recorded of them, and what is advised."""

from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container

from seedstart.app.frame import Key
from seedstart.app.journal_screen import LotJournalScreen
from seedstart.app.season_screen import SeasonScreen
from seedstart.app.text_pane import TextPane
from seedstart.crop_table.crop import Caution
from seedstart.drawing.emergence_curve import emergence_lines, outlook_lines
from seedstart.drawing.lines import Line, heading, plain
from seedstart.drawing.lots_table import lot_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.emerging import progress_of, warmth_of
from seedstart.planning.lot_figures import figure_of
from seedstart.planning.row import Row
from seedstart.planning.sowing_outlook import SowingOutlook, sowing_outlook
from seedstart.season.entries import Entry
from seedstart.season.entry import Subject
from seedstart.season.lot import Lot
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.history import history
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.units import Units

_HIGHEST_CURVE: Final = 22


class LotState(Struct, frozen=True):
    """What the screen draws of a lot.

    Attributes:
        lot: Its plan; None when it is no longer in the season.
        figure: What came up.
        rows: Its rows of the calendar.
        outlooks: Of its sowings from seed, the latest first.
        progress: How far those have come that may still come up.
        histories: By sowing, its entries in force.
        units: For the words.
        daughters: Plants that were pricked out or split off.
        cautions: What can hurt of its crop.
    """

    lot: Lot | None
    figure: LotFigure | None = None
    rows: tuple[Row, ...] = ()
    outlooks: tuple[SowingOutlook, ...] = ()
    progress: dict[str, Progress] = {}
    histories: dict[str, tuple[Entry, ...]] = {}
    units: Units = "metric"
    daughters: tuple[Standing, ...] = ()
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
    ]
    KEYS = (
        Key("Esc", "back", "app.pop_screen"),
        Key("↑ ↓", "scroll"),
        Key("j", "its journal: take back", "screen.journal"),
    )

    def __init__(self, name: str) -> None:
        super().__init__()
        self.lot_name = name
        self.at = 0  # which of the outlooks

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
        lot = next((one for one in plan.lots if one.name == self.lot_name), None)
        if lot is None:
            return LotState(None)
        now, warmth = opened.now(), warmth_of(plan, opened.readings())
        rows = tuple(row for row in opened.calendar() if row.lot == lot.name)
        figure = figure_of(lot, plan, records)
        own = opened.own_factor()
        found = {
            one.id: progress_of(one, plan, records, warmth, now, own) for one in figure.sowings
        }
        daughters = tuple(one for one in records.of_lot(lot.name) if not one.from_seed)
        return LotState(
            lot,
            figure,
            rows,
            tuple(
                sowing_outlook(one, plan, records, found[one.id], now, rows)
                for one in reversed(figure.sowings)
            ),
            {sowing: one for sowing, one in found.items() if one is not None},
            {
                one.id: tuple(history(records, opened.journal, one.id))
                for one in (*figure.sowings, *daughters)
            },
            plan.units,
            daughters,
            plan.crops.crops[lot.crop].cautions,
        )

    def show(self, state: LotState) -> None:
        """Draw it."""
        self.at = min(self.at, max(len(state.outlooks) - 1, 0))
        if len(state.outlooks) > 1:
            self.set_keys((*self.KEYS, Key("← →", "other sowing", "screen.other(1)")))
        self.query_one("#curve", TextPane).show_text(self._curve)
        self.query_one("#words", TextPane).show_text(self._words)

    def subject(self) -> Subject | None:
        """The lot."""
        return ("lot", self.lot_name)

    def action_other(self, step: int) -> None:
        """The curve of another of its sowings."""
        if self.state is not None and self.state.outlooks:
            self.at = (self.at + step) % len(self.state.outlooks)
            self.show(self.state)

    def action_journal(self) -> None:
        """What was done with it, act by act, to be taken back."""
        self.app.push_screen(LotJournalScreen(self.lot_name))

    @property
    def _outlook(self) -> SowingOutlook | None:
        return self.state.outlooks[self.at] if self.state and self.state.outlooks else None

    def _curve(self, width: int) -> list[Line]:
        found = self._outlook
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
        found = self._outlook
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
                state.cautions,
            ),
        ]
