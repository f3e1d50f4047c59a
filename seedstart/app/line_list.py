"""A list of one-line items that draws again only the rows that changed."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import ClassVar, Final, Generic, TypeVar

from textual.binding import Binding, BindingType
from textual.events import Click, Paste
from textual.events import Key as KeyPressed
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


class LineList(DrawnLines[T], can_focus=True):
    """Items of one line each, with a cursor on those that can be chosen.

    An item is drawn when its row comes into sight; a row is drawn again when `show` hands over
    another object for it, or when the cursor comes or leaves. So a tick costs one row, however long
    the list is. Text is text: nothing in it is markup. A slip may lie under the cursor's line
    (`slip.py`): its rows are put in there, and it belongs to the item, not to the row.

    Args:
        draw: The line of an item, for a width in cells; what is longer ends in `…`.
        selectable: Whether the cursor may stand there; headings are passed over.
        key: What makes two objects the same item: the cursor and a slip stay with it.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "up", "Up", id="lines.up", show=False),
        Binding("down", "down", "Down", id="lines.down", show=False),
        Binding("pageup", "page(-1)", "Page up", id="lines.pageup", show=False),
        Binding("pagedown", "page(1)", "Page down", id="lines.pagedown", show=False),
        Binding("home", "first", "First", id="lines.first", show=False),
        Binding("end", "last", "Last", id="lines.last", show=False),
        Binding("enter", "choose", "Choose", id="lines.choose", show=False),
    ]
    cursor: reactive[int] = reactive(NOWHERE, repaint=False)
    # Textual's own lays the whole screen out again, and draws all of it, for every other length.
    virtual_size: Reactive[Size] = Reactive(Size(0, 0))

    @dataclass
    class Highlighted(Message, Generic[ItemT]):
        """The cursor came to another item, or the item under it became another object."""

        lines: "LineList[ItemT]"
        item: ItemT
        row: int

        @property
        def control(self) -> "LineList[ItemT]":
            """The list it came from."""
            return self.lines

    @dataclass
    class _OfSlip(Message, Generic[ItemT]):
        """Something happened to the slip that lies here."""

        lines: "LineList[ItemT]"
        slip: Slip

        @property
        def control(self) -> "LineList[ItemT]":
            """The list it lies in."""
            return self.lines

    class Typed(_OfSlip[ItemT]):
        """A slip was laid, or something in it is another."""

    class Written(_OfSlip[ItemT]):
        """Enter was pressed in it: it is to be written."""

    class Left(_OfSlip[ItemT]):
        """It was taken off, written or not."""

    @dataclass
    class Chosen(Message, Generic[ItemT]):
        """Enter was pressed on an item, or it was clicked twice."""

        lines: "LineList[ItemT]"
        item: ItemT
        row: int

        @property
        def control(self) -> "LineList[ItemT]":
            """The list it came from."""
            return self.lines

    def __init__(
        self,
        draw: Callable[[T, int], Line],
        *,
        selectable: Callable[[T], bool] = lambda _: True,
        key: Callable[[T], Hashable] = id,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        super().__init__(draw, id=id, classes=classes)
        self._selectable = selectable
        self._key = key
        self._items: tuple[T, ...] = ()
        self._slip: Slip | None = None
        self._slip_key: Hashable = None
        self._slip_rows: tuple[Line, ...] = ()
        self._kept: dict[Hashable, object] = {}  # what was typed and left, by line and slip

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
        self._put_rows(slip.rows(max(self._width - SLIP_FROM, 1)))
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

    def show(self, items: Sequence[T]) -> None:
        """List other items; rows that hold the same object as before are not drawn again.

        The cursor stays with its item (by `key`) wherever that went, else on its row or the
        nearest that can be chosen; then a slip is taken off, and what was typed in it is kept.
        """
        before, self._items = self._items, tuple(items)
        if len(before) != len(self._items):
            self.virtual_size = Size(1, len(self._items) + len(self._slip_rows))
        listed = set(map(id, self._items))
        self._drawn = {at: drawn for at, drawn in self._drawn.items() if at in listed}
        if self._slip_rows:
            self.refresh()
        else:
            self._draw_changed(before)
        self._keep_cursor(before)

    def _draw_changed(self, before: tuple[T, ...]) -> None:
        top = self.scroll_offset.y
        rows = range(top, top + self.size.height)
        changed = (_at(before, row) is not _at(self._items, row) for row in rows)
        for is_new, run in groupby(zip(changed, rows, strict=True), key=itemgetter(0)):
            if is_new:
                new = [row for _, row in run]
                self.refresh_lines(new[0], len(new))

    def watch_virtual_size(self, _: Size, size: Size) -> None:
        """Another length: its place on the screen stays, unless it is as high as it is long."""
        height = self.styles.height
        if height is None or height.is_auto:
            self.refresh(layout=True)
        else:
            self._scroll_update(size)

    def draw_again(self) -> None:
        """Draw every row again: what it says of the same item is another."""
        self._drawn.clear()
        self.refresh()

    def _keep_cursor(self, before: tuple[T, ...]) -> None:
        old = _at(before, self.cursor)
        if old is not None and _at(self._items, self.cursor) is old:
            return
        row = self._nearest(self._row_of(old), 1)
        if row != self.cursor:
            self.cursor = row
        else:  # the same row, another object: a screen shows its reason beside it
            self._settle()

    def _row_of(self, old: T | None) -> int:
        """Where an item is now; where it was, when it is gone."""
        if old is None:
            return 0
        wanted = self._key(old)
        now = _at(self._items, self.cursor)
        if now is not None and self._key(now) == wanted:
            return self.cursor
        found = (row for row, item in enumerate(self._items) if self._key(item) == wanted)
        return next(found, self.cursor)

    def _nearest(self, row: int, step: int) -> int:
        """The row itself or the next that can be chosen that way, else the other way."""
        if not self._items:
            return NOWHERE
        row = min(max(row, 0), len(self._items) - 1)
        ways = (range(row, len(self._items)), range(row, -1, -1))
        for way in ways if step > 0 else reversed(ways):
            for at in way:
                if self._selectable(self._items[at]):
                    return at
        return NOWHERE

    def validate_cursor(self, row: int) -> int:
        """Only rows that can be chosen; the nearest otherwise."""
        return self._nearest(row, 1)

    def watch_cursor(self, before: int, now: int) -> None:
        """Draw both rows again."""
        if self._slip_rows:
            self.refresh()
        else:
            for row in (before, now):
                if row != NOWHERE:
                    self.refresh_line(row)
        self._reveal()
        self._settle()

    def _settle(self) -> None:
        """Take off a slip whose item is no longer under the cursor, and say where that is."""
        item = self.item
        if self._slip is not None and (item is None or self._key(item) != self._slip_key):
            self.take_off(keep=True)
        if item is not None:
            self.post_message(self.Highlighted(self, item, self.cursor))

    def _reveal(self) -> None:
        """Keep the cursor in sight, with the headings right above it.

        A cursor that leaves the window comes to the middle of it: what comes next is in sight, and
        the whole window is drawn anew once in half a page of ticks, not at each of them.
        """
        top, first, height = self.cursor, self.scroll_offset.y, self.size.height
        if top == NOWHERE or not height:  # no layout yet: `on_resize` comes back
            return
        while top > 0 and not self._selectable(self._items[top - 1]):
            top -= 1
        last = self.cursor + len(self._slip_rows)  # of a slip its last row, what it says
        if last - top >= height:
            top = min(self.cursor, max(last - height + 1, 0))
        if self._slip_rows and top >= first and last >= first + height:
            self.scroll_to(y=min(last - height + 1, self.cursor), animate=False, force=True)
        elif top < first or last >= first + height:
            self.scroll_to(y=min(self.cursor - height // 2, top), animate=False, force=True)

    def on_resize(self) -> None:
        """A window made smaller keeps the cursor in sight; a slip is broken anew."""
        if self._slip is not None:
            self._put_rows(self._slip.rows(max(self._width - SLIP_FROM, 1)))
        self._reveal()

    def render_line(self, y: int) -> Strip:
        """One row of the screen."""
        width = self._width
        row, in_slip = self._at_y(y + self.scroll_offset.y)
        if in_slip != NOWHERE:
            return self._strip_of_slip(self._slip_rows[in_slip], width)
        item = _at(self._items, row)
        if item is None:
            return Strip.blank(width, self._style("plain"))
        if row != self.cursor:
            return self._drawn_for(item, width)
        strip = self._with_cursor(self._strip(self._draw_item(item, width), width))
        slip = self._slip
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

    def action_up(self) -> None:
        """To the item above."""
        self._step(-1)

    def action_down(self) -> None:
        """To the item below."""
        self._step(1)

    def _step(self, step: int) -> None:
        row = self._nearest(self.cursor + step, step)
        if self.cursor == NOWHERE or (row - self.cursor) * step <= 0:
            self.scroll_relative(y=step, animate=False)  # lines that cannot be chosen are read
        else:
            self.cursor = row

    def action_page(self, step: int) -> None:
        """As far as the window is high, one row less."""
        rows = step * max(self.size.height - 1, 1)
        if self.cursor == NOWHERE:
            self.scroll_relative(y=rows, animate=False)
        else:
            self.cursor = self._nearest(self.cursor + rows, step)

    def action_first(self) -> None:
        """To the first item."""
        self.scroll_home(animate=False)
        self.cursor = self._nearest(0, 1)

    def action_last(self) -> None:
        """To the last item."""
        self.scroll_end(animate=False)
        self.cursor = self._nearest(len(self._items) - 1, -1)

    def action_choose(self) -> None:
        """What Enter means is the screen's business."""
        item = self.item
        if item is not None:
            self.post_message(self.Chosen(self, item, self.cursor))

    def on_click(self, event: Click) -> None:
        """A click moves the cursor, a second one chooses; while something is typed, neither."""
        if self.is_held:
            return
        offset = event.get_content_offset(self)
        row = self._at_y(offset.y + self.scroll_offset.y)[0] if offset else NOWHERE
        item = _at(self._items, row)
        if item is None or not self._selectable(item):
            return
        self.cursor = row
        if event.chain == 2:
            self.action_choose()


def _at(items: tuple[T, ...], row: int) -> T | None:
    return items[row] if 0 <= row < len(items) else None
