"""All the keys on one screen."""

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from seedstart.app.frame import Foot, Key
from seedstart.app.season_screen import FittedScreen
from seedstart.app.text_pane import TextPane
from seedstart.drawing.lines import Line, Span, heading, plain, wrapped

_EVERYWHERE: Final = (
    ("r c l s h", "round, calendar, lots, stations, hardening off"),
    ("n", "note down what was done; new lots, stations, tests"),
    ("u", "take back what you did last; once more restores it"),
    ("j", "journal: t takes back, or restores, anything done before"),
    ("↑ ↓ PgUp PgDn", "up and down; Home and End to the ends"),
    ("Enter, Esc", "open what the cursor is on; back again"),
    ("f", "what is wrong in the season's files, if anything"),
    ("ctrl+p", "find any of these by name"),
    ("ctrl+t", "light or dark"),
    ("q", "quit; everything is written already"),
)
_ROUND: Final = (
    ("Space", "tick: done; on an alert: seen. The cursor goes on by itself"),
    ("0-9 … Enter", "type a count where the cursor is; 12, 9, = for several"),
    ("Enter", "type words: moist; held: windy; 30 into tray 40"),
    ("=", "as many as last time"),
    ("p", "put off: till when, or why"),
    ("w", "why the line is there: numbers and sources"),
    ("m", "a remark about it"),
)
_HARDENING: Final = (("Space, k", "out for today's hours; kept in"),)
_LISTS: Final = (
    ("a b, g", "add a lot, a station; two lots beside each other; every figure of one"),
)
_FORMS: Final = (
    ("Enter, ↑ ↓", "the next field; from field to field"),
    ("→", "completes the name that is begun"),
    ("ctrl+n", "makes the lot or the station that a field asks for"),
    ("ctrl+s, Esc", "writes it; leaves it, nothing written"),
)
_CALENDAR: Final = (
    ("← →", "earlier, later; with Shift a whole page"),
    ("z", "a column is half a week, or a day"),
    ("t", "back to today"),
)


class HelpScreen(FittedScreen):
    """What every key does."""

    CSS_PATH = "help_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,question_mark", "app.pop_screen", "Back", show=False, priority=True)
    ]

    def compose(self) -> ComposeResult:
        """The keys."""
        yield TextPane(id="help")
        yield Foot([Key("Esc", "back", "app.pop_screen"), Key("↑ ↓", "scroll")], None)

    def on_mount(self) -> None:
        """Show them."""
        self.query_one(TextPane).show_text(_lines)


def _lines(width: int) -> list[Line]:
    lines: list[Line] = []
    for head, keys in (
        ("Everywhere", _EVERYWHERE),
        ("On the round", _ROUND),
        ("Hardening off", _HARDENING),
        ("On the calendar", _CALENDAR),
        ("Lots and stations", _LISTS),
        ("In a form", _FORMS),
    ):
        lines.append(heading(head))
        for key, does in keys:
            lines.append((Span(f"  {key:<14}", "today"), Span(does)))
        lines.append(plain(""))
    told = "The mouse works too: click a key at the foot, double-click a line."
    return [*lines, *wrapped(told, width, role="quiet", hang="")]
