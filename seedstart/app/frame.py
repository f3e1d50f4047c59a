"""The frame of every screen: a head, what is wrong in the plan, the keys at the foot."""

import textwrap
from collections.abc import Callable, Sequence
from datetime import date
from typing import Final, TypeVar

from rich.console import RenderableType
from rich.text import Text
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.style import Style
from textual.widget import Widget
from textual.widgets import Static

from seedstart.app.line_list import LineList
from seedstart.app.slip import Key
from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Span, cells_wide, fitted, plain
from seedstart.problems import Problem, count_of
from seedstart.text import plural

__all__ = [
    "FaultLine",
    "Foot",
    "HeadLine",
    "KeepsItsPlace",
    "Key",
    "Pane",
    "TextPane",
    "TooSmall",
    "app_keys_that_fit",
    "is_too_small",
    "keys_line",
]

_NARROWEST: Final = 20


class TextPane(LineList[Line]):
    """A text that has no lines to choose; arrows and page keys scroll it.

    Args:
        id: Textual's own, as are the classes.
    """

    HAS_CURSOR = False

    def __init__(
        self,
        *,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        super().__init__(lambda line, _: line, selectable=lambda _: False, id=id, classes=classes)
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


class Pane(TextPane):
    """Two rows below a list: why the line under the cursor is there, and what was just said."""

    ROWS: Final = 2
    can_focus = False

    def __init__(
        self,
        *,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        super().__init__(id=id, classes=classes)
        self._told: Callable[[int], Sequence[Line]] = lambda _: ()
        self._words, self._warn = "", False

    def tell(self, told: Callable[[int], Sequence[Line]]) -> None:
        """Another line under the cursor.

        Args:
            told: What there is to say of it, for a width in cells.
        """
        self._told = told
        self.show_text(self._both, top=True)

    def say(self, text: str, *, warn: bool = False) -> None:
        """In the second row; where that is too short, in both. Empty for no more."""
        if (text, warn) != (self._words, self._warn):
            self._words, self._warn = text, warn
            self.show_text(self._both, top=True)

    def _both(self, width: int) -> list[Line]:
        said = textwrap.wrap(self._words, width, max_lines=self.ROWS, placeholder=" …")
        words = [(Span(one, "warn" if self._warn else "good"),) for one in said]
        room = self.ROWS - len(words)
        told = list(self._told(width))
        if room and len(told) > room:
            text, role = told[room - 1][0]
            told[room - 1] = (Span(f"{text[: width - 2]} …", role),)
        return [*told[:room], *[plain("")] * (room - len(told)), *words]


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
_APART: Final = "    "

# What works on every page; `app.PAGES` opens the same.
APP_KEYS: Final = (
    Key("r", "round", "app.go('round')"),
    Key("c", "calendar", "app.go('calendar')"),
    Key("l", "lots", "app.go('lots')"),
    Key("s", "stations", "app.go('stations')"),
    Key("h", "harden", "app.go('hardening')"),
    Key("t", "trials", "app.go('trials')"),
    Key("j", "journal", "app.go('journal')"),
    Key("y", "season", "app.go('season')"),
    Key("?", "keys", "app.help"),
)
_WRITE: Final = Key("n", "write down", "app.note")
_UNDO: Final = Key("u", "take back", "app.take_back")
# Left out first where there is no room; `?` tells of them.
_LEFT_OUT: Final = ("y", "j", "h", "s")


def app_keys_that_fit(width: int) -> tuple[Key, ...]:
    """The screens' keys for a width; that of all keys is the last to go."""
    keys: tuple[Key, ...] = APP_KEYS
    for left_out in _LEFT_OUT:
        if _wide(keys, _GAP) <= width:
            break
        keys = tuple(key for key in keys if key.key != left_out)
    return keys


def _wide(keys: Sequence[Key], between: str) -> int:
    words = sum(cells_wide(f"{key.key} {key.label}") for key in keys)
    return words + len(between) * max(len(keys) - 1, 0)


def keys_line(keys: Sequence[Key], width: int, here: str = "", between: str = _GAP) -> Content:
    """Keys side by side, as many as fit; the page that one is on in capitals and reverse video."""
    parts: list[Content] = []
    for number, key in enumerate(keys, 1):
        if _wide(keys[:number], between) > width:
            break
        click = Style.from_meta({"@click": key.action}) if key.action else Style()
        is_here = bool(here) and key.action == f"app.go('{here}')"
        label = key.label.upper() if is_here else key.label
        said = Content.assemble(
            (key.key, Style(bold=True) + click),
            (f" {label}", click + Style(reverse=True) if is_here else click),
        )
        parts += [Content(between), said] if parts else [said]
    return Content.assemble(*parts)


class HeadLine(Static):
    """One line: which screen, which day, when the last frost is; how far one is, or the season."""

    def __init__(self, head: str) -> None:
        super().__init__("", markup=False)
        self._head = head
        self._said: tuple[str, date, date | None] | None = None
        self._aside = ""

    def show(self, title: str, day: date, last_frost: date | None) -> None:
        """Say it; what did not change is not drawn again."""
        if self._said != (title, day, last_frost):
            self._said = (title, day, last_frost)
            self._draw()

    def say_aside(self, text: str) -> None:
        """What stands at the right end, in place of the season's title."""
        if text != self._aside:
            self._aside = text
            self._draw()

    def on_resize(self) -> None:
        """The season's title takes what room is left."""
        self._draw()

    def _draw(self) -> None:
        if self._said is None:
            return
        title, day, frost = self._said
        width = self.content_size.width
        aside = self._aside or title
        for write, say in ((long_day, frost_in_words), (short_day, _frost_in_short)):
            parts = [write(day)] if frost is None else [write(day), say(frost, day)]
            said = "".join(f"{_APART}{part}" for part in parts)
            room = width - cells_wide(self._head) - cells_wide(said) - len(_GAP)
            if cells_wide(self._aside) <= room:
                break
        aside = aside if self._aside or cells_wide(aside) <= room else ""
        gap = " " * max(room - cells_wide(aside), 0) + _GAP
        self.update(Content.assemble((self._head, "bold"), said, f"{gap}{aside}"))


def _frost_in_short(frost: date, day: date) -> str:
    days = (frost - day).days
    return f"frost in {days} d" if days >= 0 else f"{-days} d past frost"


def frost_in_words(frost: date, day: date) -> str:
    """When the last frost date is, as a head says it: `last frost 18 May, in 38 days`."""
    days = (frost - day).days
    if days == 0:
        return "last frost today"
    how_far = f"in {plural(days, 'day')}" if days > 0 else f"{plural(-days, 'day')} ago"
    return f"last frost {short_day(frost)}, {how_far}"


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
    """Two rows, whatever is said: the keys that work on this line, and those of the screens.

    What is said stands in the second of them until the next key; what is longer takes both.

    Args:
        keys: The screen's own.
        here: The page this is, for its mark among the app's keys; None where these do not work.
    """

    def __init__(self, keys: Sequence[Key], here: str | None) -> None:
        super().__init__()
        self._keys, self._here = tuple(keys), here
        self._typing = ""
        self._said, self._warn = "", False

    def compose(self) -> ComposeResult:
        """Two rows."""
        yield Static("", id="own-keys", markup=False)
        yield Static("", id="app-keys", markup=False)

    def on_resize(self) -> None:
        """As many keys as fit."""
        self._draw()

    def set_keys(self, keys: Sequence[Key], typing: str = "") -> None:
        """Other keys: what works depends on where the cursor is.

        Args:
            keys: Of this line, the one that writes first.
            typing: What is being typed; then no other key works, and it stands in the second row.
        """
        if (tuple(keys), typing) != (self._keys, self._typing):
            self._keys, self._typing = tuple(keys), typing
            self._draw()

    def say(self, text: str, *, warn: bool = False) -> None:
        """Show a text until the next key; an empty one shows the keys again."""
        text = f"! {text}" if warn and text else text
        if (text, warn) != (self._said, self._warn):
            self._said, self._warn = text, warn
            self._draw()

    def _draw(self) -> None:
        width = self.content_size.width
        if not width:
            return
        own, app = self.query_one("#own-keys", Static), self.query_one("#app-keys", Static)
        said = textwrap.wrap(self._said, width, max_lines=2, placeholder=" …")
        second: Content = Content("")
        if said:
            second = Content(said[-1])
        elif self._typing:
            second = Content(self._typing)
        elif self._here is not None:
            own_keys = {key.key for key in self._keys}  # a key stands in the foot once
            screens = [key for key in app_keys_that_fit(width) if key.key not in own_keys]
            second = keys_line(screens, width, self._here)
        own.update(Content(said[0]) if len(said) > 1 else self._own(width))
        app.update(second)
        own.set_class(len(said) > 1, "said")
        app.set_class(bool(said), "said")
        for row in (own, app):
            row.set_class(self._warn, "warn")

    def _own(self, width: int) -> Content:
        """The line's keys; what writes anything down and what takes back, where there is room."""
        keys = self._keys
        if self._here is not None and not self._typing:
            own = {key.key for key in keys}
            keys = (*keys, *(key for key in (_WRITE, _UNDO) if key.key not in own))
        while len(keys) > len(self._keys) and _wide(keys, _BETWEEN) > width:
            keys = keys[:-1]
        between = _BETWEEN if _wide(keys, _BETWEEN) <= width else _GAP
        return keys_line(keys, width, between=between)
