"""A list of one-line items that draws again only the rows that changed."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import ClassVar, Final, Generic, TypeVar

from textual.binding import Binding, BindingType
from textual.events import Click
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip

from seedstart.app.slip_lines import NOWHERE, SlipLines, item_at
from seedstart.drawing.lines import Line, as_text
from seedstart.drawing.signs import IN_WORDS

T = TypeVar("T")
ItemT = TypeVar("ItemT")
# The rows beyond the cursor that stay in sight, above and below.
_NEAR: Final = 2
_SAID_WIDE: Final = 240  # nothing is cut of what is read aloud


class LineList(SlipLines[T], can_focus=True):
    """Items of one line each, with a cursor on those that can be chosen.

    An item is drawn when its row comes into sight; a row is drawn again when `show` hands over
    another object for it, or when the cursor comes or leaves. So a tick costs one row, however long
    the list is. Text is text: nothing in it is markup. A slip may lie under the cursor's line
    (`slip.py`): its rows are put in there, and it belongs to the item, not to the row.

    Args:
        draw: The line of an item, for a width in cells; what is longer ends in `…`.
        selectable: Whether the cursor may stand there; headings are passed over.
        key: What makes two objects the same item: the cursor and a slip stay with it.
        spoken: The line as it is read aloud, where a row leaves out what stands above it.

    The first column is the cursor's: a line is drawn for one cell less than there are.
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
        spoken: Callable[[T, int], Line] | None = None,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        super().__init__(draw, key, id=id, classes=classes)
        self._selectable = selectable
        self._clicked: Hashable = None  # the line of the last click
        self._spoken = spoken or draw

    def sentence(self) -> str:
        """The line under the cursor as one sentence: its sign as a word, and where it stands.

        What stands over it comes first, where that was not said of the line before.
        """
        item = self.item
        if item is None:
            return ""
        can = [row for row, one in enumerate(self._items) if self._selectable(one)]
        at = can.index(self.cursor)
        above = self._items[can[at - 1] + 1 if at else 0 : self.cursor]
        headed = "".join(f"{self._said(one)}. " for one in above)
        return f"{headed}{self._said(item)}; line {at + 1} of {len(can)}."

    def _said(self, item: T) -> str:
        said = as_text(self._spoken(item, _SAID_WIDE)).split()
        if said and said[0] in IN_WORDS:
            said = [f"{IN_WORDS[said[0]]}:", *said[1:]]
        return " ".join(said)

    def show(self, items: Sequence[T]) -> None:
        """List other items; rows that hold the same object as before are not drawn again.

        The cursor stays with its item (by `key`) wherever that went, else on its row or the
        nearest that can be chosen; then a slip is taken off, and what was typed in it is kept.
        """
        before, self._items = self._items, tuple(items)
        if len(before) != len(self._items):
            self.virtual_size = Size(1, len(self._items) + len(self._slip_rows))
        if len(self._drawn) > len(self._items):  # rows that left; none is taken for another
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
        changed = (item_at(before, row) is not item_at(self._items, row) for row in rows)
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
        old = item_at(before, self.cursor)
        if old is not None and item_at(self._items, self.cursor) is old:
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
        now = item_at(self._items, self.cursor)
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

        It scrolls no farther than so that rows beyond the cursor are in sight too: the lines
        stand still under the eyes but near the edge, and move there by as many as the cursor did.
        """
        top, first, height = self.cursor, self.scroll_offset.y, self.size.height
        if top == NOWHERE or not height:  # no layout yet: `on_resize` comes back
            return
        while top > 0 and not self._selectable(self._items[top - 1]):
            top -= 1
        last = self.cursor + len(self._slip_rows)  # of a slip its last row, what it says
        if last - top >= height:
            top = min(self.cursor, max(last - height + 1, 0))
        near = max(min(_NEAR, (height - 1 - last + top) // 2), 0)
        lowest = max(top - near, 0)
        highest = min(last + near + 1, max(self.virtual_size.height, last + 1)) - height
        y = min(max(first, highest), lowest)
        if y != first:
            self.scroll_to(y=y, animate=False, force=True)

    def on_resize(self) -> None:
        """A window made smaller keeps the cursor in sight; a slip is broken anew."""
        self._break_slip()
        self._reveal()

    def render_line(self, y: int) -> Strip:
        """One row of the screen."""
        width = self._width
        row, in_slip = self._at_y(y + self.scroll_offset.y)
        if in_slip != NOWHERE:
            return self._strip_of_slip(self._slip_rows[in_slip], width)
        item = item_at(self._items, row)
        if item is None:
            return Strip.blank(width, self._style("plain"))
        if row != self.cursor:
            return self._drawn_for(item, width)
        return self._row_with_cursor(item)

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
        """A click moves the cursor, a second on that line chooses; while one types, neither."""
        if self.is_held:
            return
        offset = event.get_content_offset(self)
        row = self._at_y(offset.y + self.scroll_offset.y)[0] if offset else NOWHERE
        item = item_at(self._items, row)
        if item is None or not self._selectable(item):
            return
        key = self._key(item)
        is_second = self.cursor == row and self._clicked == key
        self.cursor, self._clicked = row, key
        if is_second:
            self._clicked = None
            self.post_message(self.Chosen(self, item, row))
