"""The app without a season: screens one over the other, how they look, what may be typed at all."""

import asyncio
import os
from collections import deque
from collections.abc import Awaitable, Callable, Sequence
from importlib import import_module
from typing import Any, Final, cast

from rich.segment import Segment
from textual import events
from textual._context import active_message_pump
from textual.app import App
from textual.color import Color
from textual.events import Event
from textual.filter import LineFilter
from textual.message import Message
from textual.screen import Screen
from textual.scrollbar import ScrollBar
from textual.widget import Widget

from seedstart import clock
from seedstart.app.frame import KeepsItsPlace, TooSmall, is_too_small
from seedstart.app.line_list import LineList
from seedstart.app.pages import PAGES
from seedstart.app.screens.fault_screens import FailedScreen, write_report
from seedstart.app.screens.season_screen import FittedScreen
from seedstart.app.screens.text_screens import QUITS, OpeningScreen
from seedstart.app.styles import THEMES, Ground, QuietBar, theme_name
from seedstart.app.terminal import GroundTold
from seedstart.drawing.signs import in_ascii
from seedstart.problems import BadInputError

# So many turns of the loop in a row without a message on its way: what a key did is done.
_QUIET_TURNS: Final = 5
# After so many turns it is waited for in earnest; in the end the key goes on all the same.
_QUICK_TURNS: Final = 200
_MOST_TURNS: Final = 1200
_PAUSE_S: Final = 0.005


class TypedAhead:
    """What was typed and not handed on yet.

    Args:
        app: Whose screens get it.
        give: Hands one event on.
        is_ready: Whether there is a screen to be typed into; however long that takes, keys wait.
    """

    def __init__(
        self,
        app: App[Any],
        give: Callable[[Event], Awaitable[None]],
        is_ready: Callable[[], bool],
    ) -> None:
        self._app, self._give, self._is_ready = app, give, is_ready
        self._waiting: deque[Event] = deque()
        self._passing: asyncio.Task[None] | None = None

    @property
    def is_empty(self) -> bool:
        """Whether all of it was handed on."""
        return not self._waiting

    def take(self, event: Event) -> None:
        """Something was typed; it is handed on when what came before it is done."""
        self._waiting.append(event)
        if self._passing is None or self._passing.done():
            self._passing = asyncio.create_task(self._pass_on())

    async def _pass_on(self) -> None:
        while self._waiting and self._app.is_running:
            await self._quiet()
            if not self._is_ready():
                await asyncio.sleep(_PAUSE_S)
                continue
            await self._give(self._waiting.popleft())

    async def _quiet(self) -> None:
        """Wait until the screen in sight stands and nothing is left to be handled."""
        quiet = 0
        for turn in range(_MOST_TURNS):
            quiet = quiet + 1 if self._is_quiet() else 0
            if quiet == _QUIET_TURNS:
                return
            await asyncio.sleep(0 if turn < _QUICK_TURNS else _PAUSE_S)

    def _is_quiet(self) -> bool:
        screens = self._app.screen_stack
        if not screens or not screens[-1].is_mounted:
            return False
        pumps = (self._app, *screens, *screens[-1].walk_children())
        return not any(pump.message_queue_size for pump in pumps)


class _PlainSigns(LineFilter):
    """Every sign as ASCII, a cell for a cell."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002
        """The same, of ASCII alone."""
        return [Segment(in_ascii(text), style, control) for text, style, control in segments]


# Quits on any screen, whatever is being typed.
_QUITS_ANYWHERE: Final = "ctrl+q"
_QUITS: Final = "q"


class Shell(App[None]):
    """Goes from screen to screen and says things at their foot; knows no season.

    Args:
        ground: Dark or light; None where nobody knows: the terminal's own.
        keep_ground: Called with another ground when the grower chose it.
        plain: ASCII signs, no rules, no bars, and a sentence for each line under the cursor.
    """

    def __init__(
        self,
        *,
        ground: Ground | None = "dark",
        keep_ground: Callable[[Ground], None] = lambda _: None,
        plain: bool = False,
    ) -> None:
        # Before `super`: Textual takes NO_COLOR out of the environment and picks its filter there.
        self._no_colours = "NO_COLOR" in os.environ
        super().__init__(ansi_color=True if self._no_colours else None)
        self.ground: Ground | None = ground
        self.plain = plain
        self.set_class(plain, "-plain")
        self._keep_ground = keep_ground
        self._waiting: Screen[Any] | None = None  # for a larger terminal
        self.typed_ahead = TypedAhead(self, self._give, self._is_ready)
        self.faults: list[Exception] = []  # of the program itself, that it lived through
        ScrollBar.renderer = QuietBar
        for theme in THEMES:
            self.register_theme(theme)
        self._use_ground(ground)

    # Where the grower is

    def only(self, screen: Screen[Any]) -> None:
        """That screen and nothing under it; while the terminal is too small, it waits."""
        if is_too_small(self.size):
            self._waiting = screen
            self._cover()
            return
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if len(self.screen_stack) == 2:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def page(self, name: str) -> Screen[Any]:
        """One of the pages; made when it is first asked for."""
        if not self.is_screen_installed(name):
            page = next(page for page in PAGES if page.name == name)
            made: Screen[Any] = getattr(import_module(page.module), page.screen)()
            self.install_screen(made, name)
        return self.get_screen(name)

    def say(self, text: str, *, warn: bool = False) -> None:
        """A line at the foot of the screen in sight."""
        for screen in reversed(self.screen_stack):
            if isinstance(screen, FittedScreen):
                screen.say(text, warn=warn)
                return

    # A terminal too small to be read

    @property
    def _covered(self) -> bool:
        return isinstance(self.screen, TooSmall)

    def on_resize(self, event: events.Resize) -> None:
        """Too small now, or no longer."""
        if is_too_small(event.size):
            self._cover()
        else:
            self.call_later(self._uncover)  # once the app itself knows its new size

    def _cover(self) -> None:
        if not self._covered:
            self.push_screen(TooSmall(_QUITS_ANYWHERE if self._is_typed_in() else _QUITS))

    def _uncover(self) -> None:
        if not self._covered or is_too_small(self.size):
            return
        self.pop_screen()
        if self._waiting is not None:
            screen, self._waiting = self._waiting, None
            self.only(screen)

    def _is_typed_in(self) -> bool:
        """Whether a `q` would be a letter of an answer, or quitting would lose one."""
        focused = self.focused
        half_typed = isinstance(focused, LineList) and focused.is_held
        return half_typed or self.screen.is_modal  # a form, or the palette

    async def on_event(self, event: events.Event) -> None:
        """What the hands do is handed on in order, each to the screen that stands by then."""
        if isinstance(event, events.Key) and event.key in QUITS and self._is_only_read():
            await self.action_quit()
        elif isinstance(event, events.InputEvent | events.Paste) and not event.is_forwarded:
            self.typed_ahead.take(event)
        else:
            await super().on_event(event)

    def _is_ready(self) -> bool:
        return not isinstance(self.screen, OpeningScreen)

    def _is_only_read(self) -> bool:
        """Whether a season is being read, and nothing was typed ahead that a `q` belongs to."""
        return bool(self.screen_stack) and not self._is_ready() and self.typed_ahead.is_empty

    async def _give(self, event: events.Event) -> None:
        """Nothing is done that cannot be seen: while it is too small, keys quit or do nothing."""
        try:
            if not self._covered:
                if isinstance(event, events.Key) and isinstance(self.screen, FittedScreen):
                    self.screen.unsay()
                await super().on_event(event)
            elif isinstance(event, events.Key) and self._quits(event.key):
                await self.action_quit()
        except Exception as error:  # noqa: BLE001 - a fault of ours
            self._handle_exception(error)

    def _quits(self, key: str) -> bool:
        return key in {cast("TooSmall", self.screen).quits, _QUITS_ANYWHERE}

    # How it looks

    def action_other_ground(self) -> None:
        """Light on dark or dark on light; kept in the settings."""
        ground: Ground = "light" if self.ground == "dark" else "dark"
        self.ground = ground
        self._use_ground(ground)
        try:
            self._keep_ground(ground)
        except BadInputError as error:  # NotRecorded is one
            self.say(in_short(error), warn=True)

    def on_ground_told(self, event: GroundTold) -> None:
        """The terminal answered; what the grower chose meanwhile stays."""
        if self.ground is None:
            self.ground = event.ground
            self._use_ground(event.ground)

    def _use_ground(self, ground: Ground | None) -> None:
        few = self._no_colours or self.console.color_system == "standard"
        self.theme = theme_name(ground, few_colours=few)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Textual's own; what is drawn goes through them last."""
        filters = super().get_line_filters()
        return [*filters, _PlainSigns()] if self.plain else filters

    # A fault in the program itself

    @property
    def failed(self) -> Exception | None:
        """What ended the app, if it was no key."""
        return self._exception

    def page_failed(self, screen: Screen[Any], error: Exception) -> None:
        """A page gives way to one that says so; what lies over it goes too."""
        if isinstance(screen, FailedScreen) or screen not in self.screen_stack[1:]:
            super()._handle_exception(error)  # there is nothing left that could say it
            return
        self.faults.append(error)
        report = write_report(error, type(screen).__name__, clock.now("UTC"))
        typed = screen.typed_in() if isinstance(screen, KeepsItsPlace) else []
        said = FailedScreen(report, f"{type(error).__name__}: {error}", typed)
        while self.screen is not screen:
            self.pop_screen()
        self.switch_screen(said)
        self.uninstall_screen(screen)  # asked for again, it is made anew

    def act_failed(self, error: Exception) -> None:
        """What a key asked for was not done, and no page is the worse for it."""
        self.faults.append(error)
        report = write_report(error, type(self.screen).__name__, clock.now("UTC"))
        told = f"Please send {report} to whoever maintains it." if report else f"{error!r}"
        said = "That failed in seedstart itself; what was confirmed is saved."
        self.say(f"{said} {told}", warn=True)

    async def _dispatch_message(self, message: Message) -> None:
        """The app's own messages: one that fails does not end the app."""
        try:
            await super()._dispatch_message(message)
        except Exception as error:  # noqa: BLE001 - a fault of ours
            self._handle_exception(error)

    def _handle_exception(self, error: Exception) -> None:
        """Called by Textual with what a screen, a widget or the app itself failed with."""
        pump = active_message_pump.get(self)
        above = pump.ancestors_with_self if isinstance(pump, Widget) else ()
        screen = next((one for one in above if isinstance(one, Screen)), None)
        if screen is not None and screen not in self.screen_stack:
            self.faults.append(error)  # it gave way already, or was left: nobody misses it
        elif screen is not None:
            self.page_failed(screen, error)
        elif len(self.screen_stack) > 1 and self.is_running:
            self.act_failed(error)
        else:
            super()._handle_exception(error)

    def _fatal_error(self) -> None:
        """End without Textual's traceback: the command line says what a grower can read."""
        self._close_messages_no_wait()


def in_short(error: BadInputError) -> str:
    """What was wrong, for a line at the foot; with its place where that is a line of a file."""
    return " ".join(
        str(problem) if problem.line is not None else problem.hint or str(problem)
        for problem in error.problems
    )
