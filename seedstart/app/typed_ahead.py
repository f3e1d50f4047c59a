"""Keys, pastes and clicks in the order in which they came, each where the one before it led.

Textual hands a key to whatever has the focus when the key arrives, and finds out what it means only
once it has climbed up to the app: typed fast, the next one would go to the screen before.
"""

import asyncio
from collections import deque
from collections.abc import Awaitable, Callable
from typing import Any, Final

from textual.app import App
from textual.events import Event

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
