"""The frame of every screen: a head, what is wrong in the plan, the keys at the foot."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final, NamedTuple, TypeVar

from rich.console import RenderableType
from rich.text import Text
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.style import Style
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from seedstart.app.line_list import LineList
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, cells_wide, fitted
from seedstart.problems import Problem, count_of
from seedstart.text import plural

_NARROWEST: Final = 20


class TextPane(LineList[Line]):
    """A text that has no lines to choose; arrows and page keys scroll it.

    Args:
        id: Textual's own.
    """

    HAS_CURSOR = False

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(lambda line, _: line, selectable=lambda _: False, id=id)
        self._lines_for: Callable[[int], Sequence[Line]] = lambda _: ()
        self._made_for = 0

    def show_text(self, lines_for: Callable[[int], Sequence[Line]], *, top: bool = False) -> None:
        """Show other lines.

        Args:
            lines_for: The lines for a width in cells; asked again when the width changes.
            top: Whether to begin at the first of them: another text, not the same one brought up
                to date.
        """
        self._lines_for = lines_for
        self._make()
        if top:
            self.scroll_home(animate=False)

    def _make(self) -> None:
        width = self.scrollable_content_region.width
        if width:  # no layout yet: `on_resize` comes back
            self._made_for = width
            self.show(tuple(self._lines_for(max(width, _NARROWEST))))

    def on_resize(self) -> None:
        """Break the lines anew where the width is another."""
        if self.scrollable_content_region.width != self._made_for:
            self._make()


LEAST_COLUMNS: Final = 60
LEAST_ROWS: Final = 16
R = TypeVar("R")
Callback = Callable[..., object]


def is_too_small(size: Size) -> bool:
    """Whether the screens have no room to be read in."""
    return size.width < LEAST_COLUMNS or size.height < LEAST_ROWS


class KeepsItsPlace(Screen[R]):
    """A screen that is not laid out while it is covered: what was in sight stays there."""

    def _screen_resized(self, size: Size) -> None:
        # Textual's own; what lies under the screen in sight is given every size too.
        if not is_too_small(size):
            super()._screen_resized(size)

    def typed_in(self) -> list[str]:
        """What was typed here and not written yet, a line for each field."""
        return []

    def call_after_refresh(self, callback: Callback, *args: object, **kwargs: object) -> bool:
        """Textual's own; but nothing is called of a screen that was left for good meanwhile."""

        def called() -> object:
            return callback(*args, **kwargs) if self.is_running else None

        return super().call_after_refresh(called)


class TooSmall(Screen[None]):
    """Lies over the screen one was on, which keeps its cursor and what was typed.

    The keys are the app's business: it lets those through alone that quit.

    Args:
        quits: The key that quits.
    """

    DEFAULT_CSS = "TooSmall { background: $background; color: $foreground; }"

    def __init__(self, quits: str) -> None:
        super().__init__()
        self.quits = quits

    def render(self) -> RenderableType:
        """How small it is, how large it should be, how to leave."""
        width, height = self.app.size
        said = (
            f"Too small: {width}×{height}; {LEAST_COLUMNS}×{LEAST_ROWS} needed. {self.quits} quits."
        )
        return Text(said[: width * height])


_GAP: Final = "  "
_BETWEEN: Final = "   "
_LEAST_TITLE: Final = 12
_SAID_FOR_S: Final = 10.0


class Key(NamedTuple):
    """A key, and what it does.

    Attributes:
        key: As it stands on the keyboard: `Enter`, `z`, `← →`.
        label: What it does, in a word or two.
        action: What a click on it does, as in a binding: `screen.zoom`; empty where nothing.
    """

    key: str
    label: str
    action: str = ""


# What works on every page; `app.PAGES` opens the same.
APP_KEYS: Final = (
    Key("r", "round", "app.go('round')"),
    Key("c", "calendar", "app.go('calendar')"),
    Key("l", "lots", "app.go('lots')"),
    Key("s", "stations", "app.go('stations')"),
    Key("h", "hardening", "app.go('hardening')"),
    Key("j", "journal", "app.go('journal')"),
    Key("y", "season", "app.go('season')"),
    Key("n", "write", "app.note"),
    Key("?", "help", "app.help"),
    Key("q", "quit", "app.quit"),
)
_UNDO: Final = Key("u", "take back", "app.take_back")
# Left out first where there is no room; `?` tells of them.
_LEFT_OUT: Final = ("y", "j", "q", "h", "s")


def app_keys_that_fit(width: int) -> tuple[Key, ...]:
    """The app's keys for a width; help is the last to go."""
    keys: tuple[Key, ...] = APP_KEYS
    for left_out in _LEFT_OUT:
        if _wide(keys) <= width:
            break
        keys = tuple(key for key in keys if key.key != left_out)
    return keys


def _wide(keys: Sequence[Key]) -> int:
    words = sum(cells_wide(f"{key.key} {key.label}") for key in keys)
    return words + len(_GAP) * max(len(keys) - 1, 0)


def keys_line(keys: Sequence[Key], width: int, here: str = "") -> Content:
    """Keys side by side, as many as fit; the page that one is on stands in reverse video."""
    parts: list[Content] = []
    for number, key in enumerate(keys, 1):
        if _wide(keys[:number]) > width:
            break
        click = Style.from_meta({"@click": key.action}) if key.action else Style()
        is_here = bool(here) and key.action == f"app.go('{here}')"
        said = Content.assemble(
            (key.key, Style(bold=True) + click),
            (f" {key.label}", click + Style(reverse=True) if is_here else click),
        )
        parts += [Content(_GAP), said] if parts else [said]
    return Content.assemble(*parts)


class HeadLine(Static):
    """One line: which screen, which day, how far the frost date is, which season."""

    def __init__(self, head: str) -> None:
        super().__init__("", markup=False)
        self._head = head
        self._said: tuple[str, date, int | None] | None = None

    def show(self, title: str, day: date, days_to_frost: int | None) -> None:
        """Say it; what did not change is not drawn again."""
        if self._said != (title, day, days_to_frost):
            self._said = (title, day, days_to_frost)
            self._draw()

    def on_resize(self) -> None:
        """The season's title takes what room is left."""
        self._draw()

    def _draw(self) -> None:
        if self._said is None:
            return
        title, day, days = self._said
        room = self.content_size.width - cells_wide(self._head)
        said = _day_line(day, days, frost_in_words, long_day)
        if cells_wide(said) > room:
            said = _day_line(day, days, _frost_in_short, short_day)
        room -= cells_wide(said) + len(_BETWEEN)
        title = f"{_BETWEEN}{fitted(title, room).rstrip()}" if room >= _LEAST_TITLE else ""
        self.update(Content.assemble((self._head, "bold"), said, (title, "dim")))


def _day_line(
    day: date, days: int | None, frost: Callable[[int], str], write: Callable[[date], str]
) -> str:
    parts = [write(day)] if days is None else [write(day), frost(days)]
    return "".join(f"{_BETWEEN}{part}" for part in parts)


def _frost_in_short(days: int) -> str:
    return f"frost in {days} d" if days >= 0 else f"{-days} d past frost"


def frost_in_words(days: int) -> str:
    """How far the last frost date is, as a head says it."""
    if days == 0:
        return "the last frost date is today"
    return f"{plural(abs(days), 'day')} {'to' if days > 0 else 'past'} the last frost date"


class FaultLine(Static):
    """What is wrong in the season's files while it is open; nothing where all is well.

    One line, whatever is wrong: the whole of it is a key away.
    """

    def __init__(self) -> None:
        super().__init__("", markup=False)
        self.display = False
        self._faults: tuple[Problem, ...] = ()

    def show(self, faults: tuple[Problem, ...]) -> None:
        """Say what is wrong."""
        if faults != self._faults:
            self._faults = faults
            self.display = bool(faults)
            self._draw()

    def on_resize(self) -> None:
        """Cut it where it is too long."""
        self._draw()

    def _draw(self) -> None:
        if not self._faults or not self.size.width:
            return
        more = f" ({count_of(self._faults)} faults)" if count_of(self._faults) > 1 else ""
        keys = f"{more}  f: details."
        if any(fault.file.endswith(".toml") for fault in self._faults):
            keys += " Using the last valid plan."
        room = self.content_size.width - cells_wide(keys) - 2
        self.update(Content(f"! {fitted(str(self._faults[0]), max(room, 20)).rstrip()}{keys}"))


class Foot(Widget):
    """What was just said, if anything; the screen's own keys; the app's.

    Args:
        keys: The screen's own.
        here: The page this is, for its mark among the app's keys; None where these do not work.
    """

    def __init__(self, keys: Sequence[Key], here: str | None) -> None:
        super().__init__()
        self._keys, self._here = tuple(keys), here
        self._until: Timer | None = None

    def compose(self) -> ComposeResult:
        """Three lines, of which one or two show."""
        said = Static("", id="said", markup=False)
        said.display = False
        yield said
        yield Static("", id="own-keys", markup=False)
        yield Static("", id="app-keys", markup=False)

    def on_mount(self) -> None:
        """Lines that would say nothing take no room."""
        self.query_one("#own-keys").display = bool(self._keys) or self._here is not None
        self.query_one("#app-keys").display = self._here is not None

    def on_resize(self) -> None:
        """As many keys as fit."""
        self._draw()

    def set_keys(self, keys: Sequence[Key]) -> None:
        """Other keys of the screen: what works depends on where the cursor is."""
        if tuple(keys) != self._keys:
            self._keys = tuple(keys)
            self._draw()

    def say(self, text: str, *, warn: bool = False) -> None:
        """Show a text for ten seconds, or until the next one; an empty one shows nothing."""
        if self._until is not None:
            self._until.stop()
            self._until = None
        if text:
            self._until = self.set_timer(_SAID_FOR_S, lambda: self.say(""))
        said = self.query_one("#said", Static)
        if not text and not said.display:
            return  # to say nothing again would lay the whole screen out again
        said.update(Content(f"! {text}" if warn else text))
        said.set_class(warn, "warn")
        said.display = bool(text)

    def _draw(self) -> None:
        width = self.content_size.width
        own = self._keys if self._here is None else (*self._keys, _UNDO)
        self.query_one("#own-keys", Static).update(keys_line(own, width))
        if self._here is not None:
            keys = keys_line(app_keys_that_fit(width), width, self._here)
            self.query_one("#app-keys", Static).update(keys)
