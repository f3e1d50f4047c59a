"""Why a check or an alert is there: every reason, its numbers, and where they come from."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from seedstart.app.frame import Foot, Key, TextPane
from seedstart.app.screens.season_screen import FittedScreen, SeasonScreen
from seedstart.crop_table.crop import Source
from seedstart.daily.check import Alert, Check
from seedstart.drawing.lines import Line, Span, heading, plain, wrapped
from seedstart.drawing.round_lines import why_sheet_lines
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.text import clean

_EVERYWHERE: Final = (
    ("r c l s h", "round, calendar, lots, stations, hardening off"),
    ("t", "tests and trials"),
    ("n", "write down what was done; new lots, stations, tests, trials"),
    ("y", "the season: frost date, and what another risk would move"),
    ("e", "change the lot or station here; elsewhere the frost date"),
    ("u", "take back what you did last; again restores it"),
    ("j", "journal: Enter takes back, or restores, anything done before"),
    ("↑ ↓ PgUp PgDn", "up and down; Home and End to the ends"),
    ("Enter, Esc", "open what the cursor is on; back again"),
    ("f", "what is wrong in the season's files, if anything"),
    ("ctrl+p", "find any of these by name"),
    ("ctrl+t", "light or dark"),
    ("q", "quit; everything is written already"),
)
_ROUND: Final = (
    ("Space", "done as the line says it; an alert: seen"),
    ("0-9", "a slip on this line: how many; Enter writes it, Esc leaves it"),
    ("Enter", "the slip, for words too: held: windy; or what the line holds"),
    ("= m k", "as last time; felt moist; kept in today"),
    ("p P", "put off by its usual time; till when, and why"),
    ("w", "why the line is there: numbers and sources"),
    ("Tab", "the next station"),
)
_HARDENING: Final = (("Space, k", "put out for today's hours; keep in"),)
_LISTS: Final = (
    ("a b, g", "add a lot, a station; two lots beside each other; every figure of one"),
    ("i", "on the stations: light of this one"),
)
_LIGHT: Final = (
    ("← →", "lamps lower, higher over the leaves; map and sentence follow"),
    ("+ -", "half an hour of light more, less"),
    ("Enter", "writes down that the lamps are set so"),
)
_TRIALS: Final = (
    ("a, A", "a new trial; a new germination test"),
    ("Enter", "open it: what it shows; its trays"),
    ("Tab", "in what a trial shows: height, stem, quotient"),
    ("x", "writes its picture and table into the season's folder"),
)
_FORMS: Final = (
    ("Enter, ↑ ↓", "the next field; from field to field"),
    ("→", "completes the name"),
    ("ctrl+n", "makes a new lot or station for the field"),
    ("ctrl+s, Esc", "write it; leave it, nothing written"),
)
_CALENDAR: Final = (
    ("← →", "earlier, later; with Shift a whole page"),
    ("z Z", "closer: days, each step spelled out; wider: weeks"),
    (". o", "back to today; another order"),
)


# What is listed, and the page it belongs to; that of the page one came from stands first.
_SECTIONS: Final = (
    ("", "Everywhere", _EVERYWHERE),
    ("round", "On the round", _ROUND),
    ("calendar", "On the calendar", _CALENDAR),
    ("lots", "Lots and stations", _LISTS),
    ("hardening", "Hardening off", _HARDENING),
    ("stations", "Light of a station", _LIGHT),
    ("trials", "Tests and trials", _TRIALS),
    ("", "In a form", _FORMS),
)
_SIGNS: Final = (
    "· to do  ✓ done  ! look  ▸ opens  ▾ open  — taken back  ▌ cursor  ▐ a slip",
    "━ was  ─ to come  · not sown  ═ any of these days  │ today  ┊ last frost",
)


class HelpScreen(FittedScreen):
    """What every key does: those of the line one came from first, then those of its page.

    Args:
        page: The page one came from; empty for another screen.
        keys: What works on its line now.
    """

    CSS_PATH = "help_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,question_mark", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, page: str = "", keys: Sequence[Key] = ()) -> None:
        super().__init__()
        self._page, self._keys = page, tuple(keys)

    def compose(self) -> ComposeResult:
        """The keys."""
        yield Static("Keys", id="title", markup=False)
        yield TextPane(id="help")
        yield Foot([Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll")], None)

    def on_mount(self) -> None:
        """Show them."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        now = tuple((key.key, key.label) for key in self._keys)
        sections = [("", "On the line you came from", now)] if now else []
        sections += sorted(_SECTIONS, key=lambda one: not (one[0] and one[0] == self._page))
        lines: list[Line] = []
        for _, head, keys in sections:
            lines.append(heading(head))
            lines += [(Span(f"  {key:<14}", "today"), Span(does)) for key, does in keys]
            lines.append(plain(""))
        lines += [heading("Signs"), *(plain(f"  {signs}") for signs in _SIGNS), plain("")]
        told = "The mouse: a click moves the cursor, a second opens; foot keys can be clicked."
        return [*lines, *wrapped(told, width, role="quiet", hang="")]


QUITS: Final = frozenset({"q", "ctrl+q"})


class OpeningScreen(FittedScreen):
    """Says which season is being read.

    Args:
        folder: Where it lies.
    """

    CSS_PATH = "fault_screen.tcss"

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder

    def compose(self) -> ComposeResult:
        """What is read, and the one key that works."""
        yield TextPane(id="faults")
        yield Foot([Key("q", "quit", "app.quit")], None)

    def on_mount(self) -> None:
        """Say it."""
        said = f"Reading {clean(self._folder.absolute().name)} …"
        self.query_one(TextPane).show_text(lambda _: (plain(said),))


def read_whole(
    folder: Path, by: str, on: date | None = None, *, without_lots: bool = False
) -> OpenSeason | BadInputError:
    """A season with its readings, and its round derived; or all that is wrong. Fit for a thread."""
    try:
        opened = OpenSeason(folder, by, on, without_lots=without_lots)
    except BadInputError as error:
        return error
    opened.readings_folder.read_on()  # what cannot be read of it is told on every page
    with suppress(Exception):  # whoever asks for it next fails where it can be shown
        opened.round()
    return opened


_WIDEST = 96


class WhyScreen(SeasonScreen[Mapping[str, Source]]):
    """The reasons of one line of the round.

    Args:
        of: The check or alert as it stood when it was asked of.
    """

    CSS_PATH = "row_screen.tcss"
    HEAD, PAGE = "Why", ""
    KEYS = (Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll"))
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,w", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def __init__(self, of: Check | Alert) -> None:
        super().__init__()
        self._of = of

    def body(self) -> ComposeResult:
        """The sheet."""
        yield TextPane(id="sheet")

    def on_mount(self) -> None:
        """The sheet takes the keys."""
        self.query_one(TextPane).focus()

    def look(self, opened: OpenSeason) -> Mapping[str, Source]:
        """What the keys of sources stand for."""
        return opened.plan.crops.sources

    def show(self, state: Mapping[str, Source]) -> None:  # noqa: ARG002 - it is `self.state`
        """Draw it."""
        self.query_one(TextPane).show_text(self._lines)

    def _lines(self, width: int) -> list[Line]:
        width = min(width, _WIDEST)
        key = f"Its key on the command line: {self._of.key}"
        sheet = why_sheet_lines(self._of, self.state or {}, width)
        return [*sheet, plain(""), *wrapped(key, width, "", "quiet")]
