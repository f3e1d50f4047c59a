"""A list of one-line items that draws again only the rows that changed."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import ClassVar, Final, Generic, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.binding import Binding, BindingType
from textual.events import Click
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive, reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from seedstart.app.styles import ROLES, role_css
from seedstart.drawing.lines import Line, Role, as_text, cells_wide
from seedstart.drawing.signs import IN_WORDS

T = TypeVar("T")
ItemT = TypeVar("ItemT")
CARET: Final = "▏"
CURSOR: Final = "▌"
NOWHERE: Final = -1
_SAID_WIDE: Final = 240  # nothing is cut of what is read aloud


class LineList(ScrollView, Generic[T], can_focus=True):
    """Items of one line each, with a cursor on those that can be chosen.

    An item is drawn when its row comes into sight; a row is drawn again when `show` hands over
    another object for it, when the cursor comes or leaves, or when something is typed there. So a
    tick costs one row, however long the list is. Text is text: nothing in it is markup.

    Args:
        draw: The line of an item, for a width in cells; what is longer ends in `…`.
        selectable: Whether the cursor may stand there; headings are passed over.
        key: What makes two objects the same item: the cursor and what was typed stay with it.

    The first column is the cursor's: a line is drawn for one cell less than there are.
    """

    HAS_CURSOR: ClassVar[bool] = True  # without one there is no column for it
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "up", "Up", id="lines.up", show=False),
        Binding("down", "down", "Down", id="lines.down", show=False),
        Binding("pageup", "page(-1)", "Page up", id="lines.pageup", show=False),
        Binding("pagedown", "page(1)", "Page down", id="lines.pagedown", show=False),
        Binding("home", "first", "First", id="lines.first", show=False),
        Binding("end", "last", "Last", id="lines.last", show=False),
        Binding("enter", "choose", "Choose", id="lines.choose", show=False),
    ]
    ALLOW_SELECT = False  # a double click chooses; it marks no text
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        *(f"line-list--{role}" for role in ROLES),
        "line-list--bar",
        "line-list--cursor",
        "line-list--typed",
    }
    # On a ground of its own a row keeps its colours; in 16, and in none, it is reversed.
    DEFAULT_CSS = f"""
    LineList {{
        overflow-x: hidden;
        overflow-y: auto;
        scrollbar-gutter: stable;
        scrollbar-size-vertical: 1;
        {role_css("line-list")}
        & > .line-list--bar {{ color: $text-accent; }}
        & > .line-list--cursor {{ text-style: none; }}
        & > .line-list--typed {{ text-style: bold; }}
        &:focus > .line-list--cursor {{ background: $panel; }}
        &:ansi:focus > .line-list--cursor {{ text-style: reverse; }}
    }}
    """

    cursor: reactive[int] = reactive(NOWHERE, repaint=False)
    typed: reactive[str] = reactive("", repaint=False)
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
        self._styles_found: dict[tuple[str, bool], Style] = {}
        self._drawn: dict[int, tuple[T, int, Strip]] = {}  # by the item's `id`; its width
        super().__init__(id=id, classes=classes)
        self._draw_item = draw
        self._selectable = selectable
        self._key = key
        self._items: tuple[T, ...] = ()
        self._typed_for: Hashable = None

    @property
    def items(self) -> tuple[T, ...]:
        """What is listed."""
        return self._items

    @property
    def line_width(self) -> int:
        """The cells that a line is drawn for."""
        return self.scrollable_content_region.width - (1 if self.HAS_CURSOR else 0)

    @property
    def item(self) -> T | None:
        """The item under the cursor; None where nothing can be chosen."""
        return self._items[self.cursor] if 0 <= self.cursor < len(self._items) else None

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
        said = as_text(self._draw_item(item, _SAID_WIDE)).split()
        if said and said[0] in IN_WORDS:
            said = [f"{IN_WORDS[said[0]]}:", *said[1:]]
        return " ".join(said)

    def show(self, items: Sequence[T]) -> None:
        """List other items; rows that hold the same object as before are not drawn again.

        The cursor stays with its item (by `key`) wherever that went, else on its row or the
        nearest that can be chosen; then what was typed is forgotten.
        """
        before, self._items = self._items, tuple(items)
        if len(before) != len(self._items):
            self.virtual_size = Size(1, len(self._items))
        listed = set(map(id, self._items))
        self._drawn = {at: drawn for at, drawn in self._drawn.items() if at in listed}
        top = self.scroll_offset.y
        rows = range(top, top + self.size.height)
        changed = (_at(before, row) is not _at(self._items, row) for row in rows)
        for is_new, run in groupby(zip(changed, rows, strict=True), key=itemgetter(0)):
            if is_new:
                new = [row for _, row in run]
                self.refresh_lines(new[0], len(new))
        self._keep_cursor(before)

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
        for row in (before, now):
            if row != NOWHERE:
                self.refresh_line(row)
        self._reveal()
        self._settle()

    def watch_typed(self, typed: str) -> None:
        """Draw the entry; it belongs to the item under the cursor and to no other."""
        item = self.item
        self._typed_for = self._key(item) if typed and item is not None else None
        if item is not None:
            self.refresh_line(self.cursor)

    def _settle(self) -> None:
        """Forget an entry whose item is no longer under the cursor, and say where that is."""
        item = self.item
        if self.typed and (item is None or self._key(item) != self._typed_for):
            self.typed = ""
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
        if self.cursor - top >= height:
            top = self.cursor
        if top < first or self.cursor >= first + height:
            self.scroll_to(y=min(self.cursor - height // 2, top), animate=False, force=True)

    def on_resize(self) -> None:
        """A window made smaller keeps the cursor in sight."""
        self._reveal()

    def render_line(self, y: int) -> Strip:
        """One row of the screen."""
        width, row = self.scrollable_content_region.width, y + self.scroll_offset.y
        item = _at(self._items, row)
        if item is None:
            return Strip.blank(width, self._style("plain"))
        if row != self.cursor:
            return self._drawn_for(item, width)
        margin = Strip([Segment(CURSOR, self._style("plain") + self._part("bar"))])
        line = self._draw_item(item, self.line_width)
        entry = f" {self.typed}{CARET}" if self.typed else ""
        strip = self._strip(line, max(self.line_width - cells_wide(entry), 0))
        typed = Strip([Segment(entry, self._style("plain") + self._part("typed"))])
        if not self._part("cursor").reverse:
            return self._under_cursor(Strip.join([margin, strip, typed]))
        return Strip.join([margin, self._under_cursor(Strip.join([strip, typed]))])

    def _under_cursor(self, strip: Strip) -> Strip:
        """A row as it looks where the cursor stands."""
        ink = self._part("cursor")
        if ink.reverse:  # one ink: reversed colours would look like bars of their own
            plain = self._style("plain")
            ink += Style.from_color(plain.color, plain.bgcolor)
        return Strip([Segment(text, (style or Style.null()) + ink) for text, style, _ in strip])

    def _drawn_for(self, item: T, width: int) -> Strip:
        """The row of an item; kept, for most of a list that scrolls or closes up is the same."""
        known = self._drawn.get(id(item))
        if known is None or known[0] is not item or known[1] != width:
            strip = self._strip(self._draw_item(item, self.line_width), self.line_width)
            if self.HAS_CURSOR:
                strip = Strip.join([Strip.blank(1, self._style("plain")), strip])
            known = item, width, strip
            self._drawn[id(item)] = known
        return known[2]

    def _strip(self, line: Line, width: int) -> Strip:
        """A line in exactly so many cells; `…` where more than blanks is cut."""
        strip = Strip([Segment(text, self._style(role)) for text, role in line])
        if strip.cell_length > width and strip.crop(width).text.strip():
            cut = Strip([Segment("…", self._style("plain"))])
            strip = Strip.join([strip.crop(0, max(width - 1, 0)), cut])
        return strip.adjust_cell_length(width, self._style("plain"))

    def _style(self, role: Role) -> Style:
        return self._component(f"line-list--{role}", partial=False)

    def _part(self, name: str) -> Style:
        return self._component(f"line-list--{name}", partial=True)

    def _component(self, name: str, *, partial: bool) -> Style:
        """A component's style; Textual works it out again after every `refresh`, 0.1 ms each."""
        style = self._styles_found.get((name, partial))
        if style is None:
            style = self.get_component_rich_style(name, partial=partial)
            self._styles_found[name, partial] = style
        return style

    def notify_style_update(self) -> None:
        """Another theme, or the focus came or went: work the styles out again."""
        self._styles_found.clear()
        self._drawn.clear()
        super().notify_style_update()

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
        """A click moves the cursor, a second one chooses."""
        offset = event.get_content_offset(self)
        row = offset.y + self.scroll_offset.y if offset else NOWHERE
        item = _at(self._items, row)
        if item is None or not self._selectable(item):
            return
        self.cursor = row
        if event.chain == 2:
            self.action_choose()


def _at(items: tuple[T, ...], row: int) -> T | None:
    return items[row] if 0 <= row < len(items) else None
