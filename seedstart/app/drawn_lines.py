"""Lines as rows of the screen: their ink, the row under the cursor, the rows of a slip."""

from collections.abc import Callable
from typing import ClassVar, Final, Generic, TypeVar

from rich.segment import Segment
from rich.style import Style
from textual.scroll_view import ScrollView
from textual.strip import Strip

from seedstart.app.slip import BAR
from seedstart.app.styles import ROLES, role_css
from seedstart.drawing.lines import Line, Role, Span

T = TypeVar("T")
CURSOR: Final = "▌"
SLIP_FROM: Final = 5  # cells: a slip's bar and the blanks about it


class DrawnLines(ScrollView, Generic[T]):
    """Draws an item when its row comes into sight, and keeps it as long as it is the same object.

    Args:
        draw: The line of an item, for a width in cells; what is longer ends in `…`.
    """

    ALLOW_SELECT = False  # a double click chooses; it marks no text
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        *(f"line-list--{role}" for role in ROLES),
        "line-list--cursor",
        "line-list--slip",
        "line-list--bar",
    }
    HAS_CURSOR: ClassVar[bool] = True  # without one there is no column for it
    # On a ground of its own a row keeps its colours; in 16, and in none, it is reversed.
    DEFAULT_CSS = f"""
    DrawnLines {{
        overflow-x: hidden;
        overflow-y: auto;
        scrollbar-gutter: stable;
        scrollbar-size-vertical: 1;
        {role_css("line-list")}
        & > .line-list--bar {{ color: $text-accent; }}
        & > .line-list--slip {{ background: $panel; }}
        & > .line-list--cursor {{ text-style: none; }}
        &:focus > .line-list--cursor {{ background: $panel; }}
        &:ansi:focus > .line-list--cursor {{ text-style: reverse; }}
    }}
    """

    def __init__(
        self,
        draw: Callable[[T, int], Line],
        *,
        id: str | None = None,  # noqa: A002 - Textual's own name
        classes: str | None = None,
    ) -> None:
        self._styles_found: dict[tuple[str, bool], Style] = {}
        self._drawn: dict[int, tuple[T, int, Strip]] = {}  # by the item's `id`; its width
        super().__init__(id=id, classes=classes)
        self._draw_item = draw

    @property
    def _width(self) -> int:
        return self.scrollable_content_region.width

    @property
    def line_width(self) -> int:
        """The cells that a line is drawn for."""
        return self._width - (1 if self.HAS_CURSOR else 0)

    def _with_cursor(self, strip: Strip) -> Strip:
        """The row under the cursor: its bar before it, and the colours it had."""
        ink, plain = self._part("cursor"), self._style("plain")
        bar = plain + self._part("bar")
        if ink.reverse:  # one ink: reversed colours would look like bars of their own
            ink += Style.from_color(plain.color, plain.bgcolor)
        else:
            bar += ink
        row = [Segment(text, (style or Style.null()) + ink) for text, style, _ in strip]
        return Strip([Segment(CURSOR, bar), *row])

    def _strip_of_slip(self, line: Line, width: int) -> Strip:
        """A row of the slip: its bar, then what it says, on the tint."""
        bar = Span(f"{' ' * (SLIP_FROM - 2)}{BAR} "), *line
        rest = self._style("plain") + self._part("slip")
        return self._on_slip(bar).adjust_cell_length(width, rest)

    def _on_slip(self, line: Line) -> Strip:
        tint = self._part("slip")
        segments = []
        for text, role in line:
            bar = self._part("bar") if text.strip() == BAR else Style()
            segments.append(Segment(text, self._style(role) + tint + bar))
        return Strip(segments)

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
