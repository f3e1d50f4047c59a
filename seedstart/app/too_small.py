"""What is seen while the terminal is too small: nothing else, and nothing can be done meanwhile."""

from collections.abc import Callable
from typing import Final, TypeVar

from rich.console import RenderableType
from rich.text import Text
from textual.geometry import Size
from textual.screen import Screen

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
