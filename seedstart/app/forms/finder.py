"""A list over the page, found by words: typing narrows it down, Enter chooses."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from seedstart.app.forms.field_row import TypedInput
from seedstart.app.frame import KeepsItsPlace, TextPane
from seedstart.app.line_list import LineList
from seedstart.drawing.lines import Line
from seedstart.text import folded

T = TypeVar("T")


def found(every: Iterable[T], words_of: Callable[[T], str], wanted: str) -> list[T]:
    """Those that have all the words that were typed or begun: by their beginning, then by name.

    Args:
        every: Those to choose from.
        words_of: What one of them is found by, its name in the first line.
        wanted: What was typed.
    """
    words = folded(wanted).split()
    spoken = [(one, folded(words_of(one))) for one in every]
    fits = [(one, text) for one, text in spoken if _has(text, words)]

    def rank(fit: tuple[T, str]) -> tuple[bool, bool]:
        one, text = fit
        name = folded(words_of(one).partition("\n")[0])
        return not text.startswith(folded(wanted)), not _has(name, words)

    return [one for one, _ in sorted(fits, key=rank)]


def _has(text: str, words: Sequence[str]) -> bool:
    """Whether a text has a word that begins with each of these."""
    return all(any(said.startswith(word) for said in text.split()) for word in words)


class Finder(KeepsItsPlace[T], ModalScreen[T], Generic[T]):
    """The list; dismissed with what was chosen, or None.

    Args:
        title: What it is about.
        draw: The line of one of them, for a width in cells.
        words_of: What one of them is found by, its name first.

    Attributes:
        listed: The list.
    """

    CSS_PATH = "forms.tcss"
    AUTO_FOCUS = "#wanted"
    PLACEHOLDER: ClassVar[str]
    PREVIEWS: ClassVar[bool] = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave", id="finder.leave"),
        Binding("tab", "choose", "Choose", id="finder.choose", show=False),
        Binding("down", "move('down')", "Down", id="finder.down", show=False),
        Binding("up", "move('up')", "Up", id="finder.up", show=False),
        Binding("pagedown", "move('page_down')", "Page down", id="finder.pagedown", show=False),
        Binding("pageup", "move('page_up')", "Page up", id="finder.pageup", show=False),
    ]

    def __init__(
        self, title: str, draw: Callable[[T, int], Line], words_of: Callable[[T], str]
    ) -> None:
        super().__init__()
        self._title, self._words_of = title, words_of
        self.listed = LineList[T](draw, key=words_of, id="listed")
        self.listed.can_focus = False  # what is typed narrows the list down, wherever one looks
        self._none = Static("No match.", id="none", markup=False)

    def all(self) -> Sequence[T]:
        """All that can be found, in the order in which it is listed."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """What is wanted, the list, keys."""
        with Vertical(id="finder"):
            yield Static(self._title, id="title", markup=False)
            yield TypedInput(id="wanted", placeholder=self.PLACEHOLDER, compact=True)
            with Horizontal(id="found"):
                yield self.listed
                yield self._none
                yield TextPane(id="preview")
            yield Static("Enter choose   ↑↓ move   Esc leave", id="keys", markup=False)

    def on_mount(self) -> None:
        """All of it."""
        preview = self.query_one("#preview")
        preview.can_focus = False
        preview.set_class(self.PREVIEWS, "shown")
        self._show(self.all())

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        self._show(found(self.all(), self._words_of, event.value))

    def _show(self, some: Sequence[T]) -> None:
        self.listed.show(some)
        self.listed.action_first()
        self.listed.display, self._none.display = bool(some), not some

    def preview(self, item: T, width: int) -> list[Line]:  # noqa: ARG002
        """What choosing it would open, in short; only asked where `PREVIEWS` says so."""
        return []

    def on_line_list_highlighted(self, event: LineList.Highlighted[T]) -> None:
        """What it opens stands beside the list."""
        event.stop()
        item = event.item
        if self.PREVIEWS:
            pane = self.query_one("#preview", TextPane)
            pane.show_text(lambda width: self.preview(item, width), top=True)

    def action_move(self, way: str) -> None:
        """The cursor stays where it is typed; the list moves."""
        moves: dict[str, Callable[[], None]] = {
            "up": self.listed.action_up,
            "down": self.listed.action_down,
            "page_up": partial(self.listed.action_page, -1),
            "page_down": partial(self.listed.action_page, 1),
        }
        moves[way]()

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_choose()

    def action_choose(self) -> None:
        """The one that is marked."""
        if self.listed.item is not None:
            self.dismiss(self.listed.item)

    @on(LineList.Chosen)
    def _clicked_twice(self, event: LineList.Chosen[T]) -> None:
        event.stop()
        self.dismiss(event.item)

    def action_leave(self) -> None:
        """Away, nothing chosen."""
        self.dismiss(None)
