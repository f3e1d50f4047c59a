"""A slip: what lies under the line of a list; `text_slip.py` has the one that is typed."""

from collections.abc import Callable, Sequence
from typing import Any, Final, Literal, NamedTuple

from seedstart.drawing.lines import Line, Role, Span, wrapped

CARET: Final = "▏"
BAR: Final = "▐"
# These say how it looks, or end the program; they mean the same everywhere.
ANYWHERE: Final = frozenset({"ctrl+t", "ctrl+q", "ctrl+c"})
# What a slip makes of a key: it is its own, Enter, Esc, or none of its business.
Wish = Literal["stay", "write", "leave", "pass"]


class Key(NamedTuple):
    """A key, and what it does.

    Attributes:
        key: As it stands on the keyboard: `Enter`, `z`, `← →`.
        label: What it does, in a word or two.
        action: What a click on it does, as in a binding: `screen.zoom`; empty where nothing.
    """

    key: str
    label: str
    action: str = ""


class Slip:
    """What lies under a line.

    Attributes:
        holds: Whether it takes every key, and the season waits until it is gone.
        column: The column of its own row in which it is typed; None beneath the row.
        keys: What works now, for the foot.
        says: What is going on, for the second row of the foot; empty where the screens stand there.
    """

    holds: bool = True
    column: int | None = None
    keys: tuple[Key, ...] = ()
    says: str = ""

    @property
    def name(self) -> object:
        """What is kept of one comes again in another of that name, on the same line."""
        return None

    def press(self, key: str, character: str | None) -> Wish:
        """A key was pressed."""
        raise NotImplementedError

    def paste(self, text: str) -> None:
        """A text was pasted."""

    def kept(self) -> object:
        """What was typed, to be given back to `resume`; None for nothing."""
        return None

    def resume(self, kept: Any) -> None:  # noqa: ANN401 - what `kept` returned
        """Go on with what was typed before."""

    def typed(self) -> Line:
        """What is typed, with its caret."""
        return ()

    def rows(self, width: int) -> list[Line]:
        """The rows beneath the line, for a width in cells."""
        raise NotImplementedError


class ChoiceSlip(Slip):
    """Lines to read, and choices of which Enter does one.

    Any other key means what it means anywhere, so the season goes on beneath it.

    Args:
        told: What stands above the choices.
        choices: One line each.
        keys: What works, for the foot.
        also: Keys besides Enter by which the screen is asked; it finds which in `pressed`.

    Attributes:
        chosen: The number of the choice that the mark is on.
        pressed: The key by which it was left: `enter`, or one of the others.
    """

    holds = False

    def __init__(
        self,
        told: Callable[[int], Sequence[Line]],
        choices: Sequence[str],
        keys: Sequence[Key],
        also: Sequence[str] = (),
    ) -> None:
        self._told, self.choices, self._also = told, tuple(choices), frozenset(also)
        self.keys = tuple(keys)
        self.chosen, self.pressed = 0, ""

    def press(self, key: str, character: str | None) -> Wish:  # noqa: ARG002 - no text here
        """↑ ↓ choose, Enter does it."""
        if key == "escape":
            return "leave"
        if key == "enter" or key in self._also:
            self.pressed = key
            return "write"
        if key in {"up", "down"}:
            step = 1 if key == "down" else -1
            self.chosen = min(max(self.chosen + step, 0), max(len(self.choices) - 1, 0))
            return "stay"
        return "pass"

    def rows(self, width: int) -> list[Line]:
        """What is told, then the choices, the one that Enter does marked."""
        rows = list(self._told(width))
        for number, choice in enumerate(self.choices):
            sign = "▸ " if number == self.chosen else "  "
            role: Literal["plain", "expected"] = "expected" if sign.strip() else "plain"
            rows += wrapped(f"{sign}{choice}" if sign.strip() else f"  {choice}", width, "", role)
        return rows


class MarkSlip(Slip):
    """A line each, marked `x` or not: which of them an act is about.

    Args:
        names: What is listed, a line each.
        marked: Which are marked at first.
        says_of: What Enter would write, of the marks.
        doing: What is going on, for the foot.
    """

    def __init__(
        self,
        names: Sequence[str],
        marked: Sequence[bool],
        says_of: Callable[[Sequence[bool]], str],
        doing: str,
    ) -> None:
        self._names, self._says_of, self.says = tuple(names), says_of, doing
        self.marked = list(marked)
        self._at = 0
        self.keys = (
            Key("Enter", "write it"), Key("↑↓", "choose"), Key("Space", "x or not"),
            Key("Esc", "leave it"),
        )  # fmt: skip

    def press(self, key: str, character: str | None) -> Wish:
        """Space or x marks, Enter writes."""
        if key in ANYWHERE:
            return "pass"
        if key in {"enter", "escape"}:
            return "leave" if key == "escape" else "write" if any(self.marked) else "stay"
        if key == "space" or character == "x":
            self.marked[self._at] = not self.marked[self._at]
        elif key in {"up", "down"}:
            step = 1 if key == "down" else -1
            self._at = min(max(self._at + step, 0), len(self._names) - 1)
        return "stay"

    def rows(self, width: int) -> list[Line]:
        """The lines with their marks, the one that the keys are about pointed at; what it does."""
        rows: list[Line] = []
        for number, (name, marked) in enumerate(zip(self._names, self.marked, strict=True)):
            sign = "▸" if number == self._at else " "
            role: Role = "expected" if number == self._at else "plain" if marked else "quiet"
            rows.append((Span(f"{sign} {'x' if marked else '·'} {name}", role),))
        return [*rows, *wrapped(f"= {self._says_of(self.marked)}", width)]
