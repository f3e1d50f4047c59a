"""Lines to read: they are broken for the width that there is, and scroll."""

from collections.abc import Callable, Sequence
from typing import Final

from seedstart.app.line_list import LineList
from seedstart.drawing.lines import Line

_NARROWEST: Final = 20


class TextPane(LineList[Line]):
    """A text that has no lines to choose; arrows and page keys scroll it.

    Args:
        id: Textual's own.
    """

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
