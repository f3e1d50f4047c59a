"""Lots beside each other, or the sowings of one: is it more than chance?"""

from collections.abc import Sequence
from typing import ClassVar, Final

from msgspec import Struct
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen

from seedstart.app.forms.finder import Finder
from seedstart.app.frame import HeadLine, Key, TextPane
from seedstart.app.screens.season_screen import SeasonScreen
from seedstart.drawing.compare_sheet import compare_lines, next_time_in_words
from seedstart.drawing.lines import Line, Span, fitted, plain
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.comparing import By, Comparison, compare
from seedstart.planning.lots.rates import NextTime, next_time
from seedstart.season.plan.lot import Lot

# More do not stand beside each other on one screen.
MOST: Final = 4
_MOST_COLUMNS: Final = 78
_NAME_WIDE: Final = 24


class Beside(Struct, frozen=True):
    """What is compared, what to sow of each next time, and what else could be put beside it.

    Attributes:
        found: The comparison.
        next_time: Of each lot whose own figure says how many.
        others: Lots that are not among them.
    """

    found: Comparison
    next_time: tuple[NextTime, ...]
    others: tuple[Lot, ...]


class CompareScreen(SeasonScreen[Beside]):
    """A comparison as lines.

    Args:
        names: Lots; one alone puts its sowings beside each other.
    """

    CSS_PATH = "sheet_screen.tcss"
    KEYS = (
        Key("b", "put another beside", "screen.beside"),
        Key("↑ ↓", "scroll"),
        Key("Esc", "back", "app.pop_screen"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.pop_screen", "Back", show=False, priority=True),
        Binding("b", "beside", "Put another beside", id="compare.beside", show=False),
    ]

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__()
        self.names = tuple(dict.fromkeys(names))

    @property
    def head(self) -> str:
        """How many stand beside each other."""
        numbers = {2: "Two lots", 3: "Three lots", 4: "Four lots"}
        return f"{numbers.get(len(self.names), 'The sowings of a lot')} beside each other"

    def body(self) -> ComposeResult:
        """The sheet, and what to sow another time."""
        yield TextPane(id="sheet")
        yield TextPane(id="pane")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one("#pane").can_focus = False
        self.query_one("#sheet").focus()

    def look(self, opened: OpenSeason) -> Beside:
        """The comparison as it is now; a lot that went is left out."""
        by_name, records = opened.plan.lots_by_name, opened.records()
        lots = [by_name[name] for name in self.names if name in by_name]
        by: By = "lot" if len(self.names) > 1 else "sowing"
        found = compare(lots, opened.plan, records, by)
        said = [next_time(lot, opened.plan, records, opened.today) for lot in lots]
        return Beside(
            found,
            tuple(one for one in said if one is not None),
            tuple(lot for lot in opened.plan.lots if lot.name not in self.names),
        )

    def show(self, state: Beside) -> None:
        """Draw it."""
        self.query_one(HeadLine).say_aside(", ".join(self.names) if len(self.names) < 3 else "")
        can = len(self.names) < MOST and bool(state.others)
        self.set_keys(self.KEYS if can else self.KEYS[1:])
        said = next_time_in_words(state.next_time)
        pane = self.query_one("#pane", TextPane)
        pane.display = bool(said)
        pane.styles.height = len(said) + 1  # its rule
        pane.show_text(lambda width: [plain(fitted(text, width).rstrip()) for text in said])
        self.query_one("#sheet", TextPane).show_text(self._lines)

    def action_beside(self) -> None:
        """Put another lot beside these."""
        if self.state is not None and len(self.names) < MOST:
            put_beside(self, self.names, self.state.others)

    def _lines(self, width: int) -> list[Line]:
        if self.state is None:
            return [plain("")]
        return compare_lines(self.state.found, min(width, _MOST_COLUMNS), headed=False)


class _Lots(Finder[Lot]):
    """The lots that may be put beside others, found by name, crop or variety."""

    CSS_PATH = "../forms/forms.tcss"
    PLACEHOLDER = "a lot, a crop"

    def __init__(self, names: Sequence[str], lots: Sequence[Lot]) -> None:
        title = f"Put beside {', '.join(names)}"
        super().__init__(title, self._line, lambda lot: f"{lot.name}\n{lot.crop} {lot.variety}")
        self._names, self._all = names, tuple(lots)

    def all(self) -> Sequence[Lot]:
        """In their own order."""
        return self._all

    def _line(self, lot: Lot, width: int) -> Line:
        about = ", ".join(part for part in (lot.crop, lot.variety, lot.harvested) if part)
        if lot.name in self._names:
            about = "its own sowings beside each other"
        name = Span(f"{fitted(lot.name, _NAME_WIDE)} ", "name")
        return name, Span(fitted(about, max(width - _NAME_WIDE - 1, 1)).rstrip())


def put_beside(screen: Screen[None], names: Sequence[str], others: Sequence[Lot]) -> None:
    """Ask for one more lot, and show it beside those.

    Args:
        screen: From where; another comparison gives way to the new one.
        names: The lots that stand there.
        others: Those that may be put beside them; one of `names` puts its own sowings there.
    """

    def chosen(lot: Lot | None) -> None:
        if lot is None:
            return
        shown = CompareScreen((*names, lot.name))
        if isinstance(screen, CompareScreen):
            screen.app.switch_screen(shown)
        else:
            screen.app.push_screen(shown)

    screen.app.push_screen(_Lots(names, others), chosen)
