"""Lines with a cursor, and a slip under it: it belongs to the item and takes the keys first."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Final, Generic, TypeVar

from textual.events import Key as KeyPressed
from textual.events import Paste
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive, reactive
from textual.strip import Strip

from seedstart.app.drawn_lines import SLIP_FROM, DrawnLines
from seedstart.app.slip import BAR, Slip
from seedstart.drawing.lines import Line, Span

T = TypeVar("T")
ItemT = TypeVar("ItemT")
NOWHERE: Final = -1


class SlipLines(DrawnLines[T]):
    """Items of which one has the cursor, and it may have a slip.

    Args:
        draw: The line of an item, for a width in cells.
        key: What makes two objects the same item: a slip stays with it.
    """

    cursor: reactive[int] = reactive(NOWHERE, repaint=False)
    # Textual's own lays the whole screen out again, and draws all of it, for every other length.
    virtual_size: Reactive[Size] = Reactive(Size(0, 0))

    @dataclass
    class _OfSlip(Message, Generic[ItemT], namespace="line_list"):
        """Something happened to the slip that lies here."""

        lines: "SlipLines[ItemT]"
        slip: Slip

        @property
        def control(self) -> "SlipLines[ItemT]":
            """The list it lies in."""
            return self.lines

    class Typed(_OfSlip[ItemT], namespace="line_list"):
        """A slip was laid, or something in it is another."""

    class Written(_OfSlip[ItemT], namespace="line_list"):
        """Enter was pressed in it: it is to be written."""

    class Left(_OfSlip[ItemT], namespace="line_list"):
        """It was taken off, written or not."""

    def __init__(
        self,
        draw: Callable[[T, int], Line],
        key: Callable[[T], Hashable],
        *,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        super().__init__(draw, id=id, classes=classes)
        self._key = key
        self._items: tuple[T, ...] = ()
        self._slip: Slip | None = None
        self._slip_key: Hashable = None
        self._slip_rows: tuple[Line, ...] = ()
        self._kept: dict[Hashable, object] = {}  # what was typed and left, by line and slip

    def _reveal(self) -> None:
        """Keep the cursor in sight, and the slip."""
        raise NotImplementedError

    @property
    def items(self) -> tuple[T, ...]:
        """What is listed."""
        return self._items

    @property
    def item(self) -> T | None:
        """The item under the cursor; None where nothing can be chosen."""
        return self._items[self.cursor] if 0 <= self.cursor < len(self._items) else None

    @property
    def slip(self) -> Slip | None:
        """What lies under the cursor's line."""
        return self._slip

    @property
    def is_held(self) -> bool:
        """Whether something is being typed here, so that nothing else may move."""
        return self._slip is not None and self._slip.holds

    def lay(self, slip: Slip, *, anew: bool = False) -> None:
        """Lay a slip on the cursor's line, with what was typed there before, unless `anew`."""
        item = self.item
        if item is None:
            return
        self._slip, self._slip_key = slip, self._key(item)
        kept = self._kept.pop((self._slip_key, slip.name), None)
        if kept is not None and not anew:
            slip.resume(kept)
        self.lay_again()

    def lay_again(self) -> None:
        """Draw the slip again: what stands in it, or its height, is another."""
        slip = self._slip
        if slip is None:
            return
        self._break_slip()
        self.refresh_line(self._y_of(self.cursor))
        self.post_message(self.Typed(self, slip))

    def take_off(self, *, keep: bool = False) -> None:
        """Take the slip off; what was typed in it is forgotten, unless `keep`."""
        slip, self._slip = self._slip, None
        if slip is None:
            return
        kept = slip.kept() if keep else None
        if kept is not None:
            self._kept[self._slip_key, slip.name] = kept
        self._put_rows(())
        if self.cursor != NOWHERE:
            self.refresh_line(self._y_of(self.cursor))
        self.post_message(self.Left(self, slip))

    def _break_slip(self) -> None:
        """Its lines for another width."""
        if self._slip is not None:
            self._put_rows(self._slip.rows(max(self._width - SLIP_FROM, 1)))

    def _put_rows(self, rows: Sequence[Line]) -> None:
        """The rows of the slip; what lies below is drawn again only where it moved."""
        before, self._slip_rows = len(self._slip_rows), tuple(rows)
        first = self._y_of(self.cursor) + 1
        if before == len(rows):
            if rows:
                self.refresh_lines(first, len(rows))
            return
        self.virtual_size = Size(1, len(self._items) + len(rows))
        below = self.scroll_offset.y + self.size.height - first
        if below > 0:
            self.refresh_lines(first, below)
        self._reveal()

    def _y_of(self, row: int) -> int:
        """Where an item stands in the list, the rows of the slip counted."""
        return row + len(self._slip_rows) if row > self.cursor else row

    def _at_y(self, y: int) -> tuple[int, int]:
        """The row of the item that stands there, and which row of the slip it is; NOWHERE else."""
        in_slip = y - self.cursor - 1
        if 0 <= in_slip < len(self._slip_rows):
            return NOWHERE, in_slip
        return (y - len(self._slip_rows) if in_slip >= 0 else y), NOWHERE

    def _row_with_cursor(self, item: T) -> Strip:
        """The row under the cursor; where the slip is typed in the row, with its text."""
        line = self._draw_item(item, self.line_width)
        strip = self._with_cursor(self._strip(line, self.line_width))
        slip, width = self._slip, self._width
        if slip is None or slip.column is None:
            return strip
        field = self._on_slip((Span(f"{BAR} ", "expected"), *slip.typed()))
        after = slip.column + max(field.cell_length, 1)
        return Strip.join([strip.crop(0, slip.column), field, strip.crop(after, width)])

    def on_key(self, event: KeyPressed) -> None:
        """A slip takes the keys first."""
        slip = self._slip
        if slip is None:
            return
        sign = event.character if event.is_printable else None
        wish = slip.press(event.key, sign)
        if wish == "pass":
            return
        event.stop()
        event.prevent_default()
        if wish == "leave":
            self.take_off(keep=True)
            return
        self.lay_again()
        if wish == "write":
            self.post_message(self.Written(self, slip))

    def on_paste(self, event: Paste) -> None:
        """What is pasted goes into the slip."""
        if self._slip is not None:
            event.stop()
            self._slip.paste(event.text)
            self.lay_again()


def item_at(items: tuple[T, ...], row: int) -> T | None:
    """The item of a row; None where there is none."""
    return items[row] if 0 <= row < len(items) else None
