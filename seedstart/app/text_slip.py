"""A slip in which something is typed, under the line of a list that it belongs to.

A screen lays one on the line under the cursor of its list:

    self.lines.lay(TextSlip((Part("into", says="how many, and into what"),), self._read))

`_read(texts)` is asked after every key, with what stands in the parts by their keys, and returns
an `Understood`: what Enter would write, or why it cannot, and what the screen then records. While
a text lies there the list hands it every key, the cursor stays on its line, the season waits, and
the foot shows the slip's `keys` and `says`. Enter posts `LineList.Written`: the screen records
`slip.understood.value` and calls `lines.take_off()` from `recorded`, or shows `slip.refusal`. Esc
posts `LineList.Left`; what was typed comes again when that line gets its next slip of those parts.
A `column` puts the text into the row itself, there, and only the rest beneath: of a table.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from msgspec import Struct

from seedstart.app.slip import ANYWHERE, CARET, Key, Slip, Wish
from seedstart.drawing.lines import Line, Span, cells_wide, plain, wrapped
from seedstart.text import clean

_LONGEST: Final = 1000
_TYPING: Final = "You are typing: letters and digits go into the slip, no other key works."


class Understood(Struct, frozen=True):
    """What became of what was typed so far.

    Attributes:
        says: What Enter would write; or what is asked.
        refusal: Why it cannot be written: shown once Enter was pressed.
        letters: What one letter answers to what is asked, as words behind the number.
        value: What the screen records; None where nothing can be.
        instead: The text that Tab puts in place of what was typed: a likelier reading.
    """

    says: str = ""
    refusal: str = ""
    letters: Mapping[str, str] = {}
    value: Any = None
    instead: str = ""


NOTHING_YET: Final = Understood()
Read = Callable[[Mapping[str, str]], Understood]


class Part(Struct, frozen=True):
    """One thing that is typed in a slip.

    Attributes:
        key: By which `Read` gets its text.
        label: Its name, where there are several.
        says: What may be typed, while nothing is.
        proposed: What stands in it: the first key replaces it, Enter or Tab takes it.
        complete: What was typed so far → the whole name, or None; Tab takes it.
    """

    key: str
    label: str = ""
    says: str = ""
    proposed: str = ""
    complete: Callable[[str], str | None] = lambda _: None


class TextSlip(Slip):
    """A text or several, one in sight at a time, and beneath it what it would write.

    Args:
        parts: What is typed, the most needed first.
        read: Reads them.
        column: Where in its own row it is typed; None beneath the row.
        says: What is typed here, for the foot.
        writes: What Enter does.
        leaves: What Esc does.
    """

    def __init__(
        self,
        parts: Sequence[Part],
        read: Read,
        *,
        column: int | None = None,
        says: str = _TYPING,
        writes: str = "write it",
        leaves: str = "leave it",
    ) -> None:
        self.column, self.says = column, says
        self._parts, self._read = tuple(parts), read
        self._writes, self._leaves = writes, leaves
        self._texts = [part.proposed for part in parts]
        self._untouched = [bool(part.proposed) for part in parts]
        self._at, self._caret = 0, len(self._texts[0])
        self._before: list[tuple[list[str], int, int]] = []
        self._height = 0
        self.refusal = ""
        self.understood = NOTHING_YET
        self._again()

    @property
    def name(self) -> object:
        """Its parts."""
        return tuple(part.key for part in self._parts)

    @property
    def texts(self) -> Mapping[str, str]:
        """What stands in each part, by its key."""
        return {part.key: text for part, text in zip(self._parts, self._texts, strict=True)}

    @property
    def text(self) -> str:
        """What stands in the part in sight."""
        return self._texts[self._at]

    @property
    def keys(self) -> tuple[Key, ...]:  # type: ignore[override]
        """What works while it is typed."""
        if self.understood.letters:
            words = "   ".join(f"{one} {word}" for one, word in self.understood.letters.items())
            letters = (Key(" ".join(self.understood.letters), "what happened"),)
            back = Key("⌫", "back to the number")
            return (*letters, back, self._esc) if words else (back, self._esc)
        tab = [Key("Tab", f"take {self.understood.instead}")] if self.understood.instead else []
        tab = tab or ([Key("Tab", "complete it")] if self._ghost() else [])
        return (Key("Enter", self._writes), *tab, *self._next(), self._esc)

    @property
    def _esc(self) -> Key:
        return Key("Esc", self._leaves)

    def _next(self) -> tuple[Key, ...]:
        after = [part.label or part.key for part in self._parts[self._at + 1 :]]
        if after:
            return (Key("↓", f"next part: {', '.join(after)}"),)
        return (Key("↑", "part before"),) if self._at else ()

    # Keys

    def press(self, key: str, character: str | None) -> Wish:
        """Text is text; Tab takes what is proposed; ↑ ↓ go to another part."""
        if key in ANYWHERE:
            return "pass"
        if key in {"enter", "escape"}:
            return self._enter() if key == "enter" else "leave"
        letters = self.understood.letters
        if character and character.casefold() in letters and self.text.strip()[-1:].isdigit():
            self._put(f"{self.text} {letters[character.casefold()]}")
            return self._enter()
        if key in _MOVES:
            _MOVES[key](self)
        elif character is not None and character.isprintable():
            self._insert(character)
        return "stay"

    def _enter(self) -> Wish:
        self.refusal = self.understood.refusal
        return "stay" if self.understood.value is None else "write"

    def read_again(self) -> bool:
        """Read what stands there once more, with what others wrote; whether it can be written."""
        self._again()
        return self._enter() == "write"

    def paste(self, text: str) -> None:
        """Lines become blanks."""
        self._insert(" ".join(text.split()))

    def _insert(self, text: str) -> None:
        old, at = ("", 0) if self._untouched[self._at] else (self.text, self._caret)
        new = clean(f"{old[:at]}{text}")
        self._put(f"{new}{old[at:]}"[:_LONGEST], len(new))

    def _put(self, text: str, caret: int | None = None) -> None:
        self._before.append((list(self._texts), self._at, self._caret))
        self._texts[self._at] = text
        self._untouched[self._at] = False
        self._caret = min(len(text) if caret is None else caret, len(text))
        self._again()

    def _again(self) -> None:
        self.refusal = ""
        self.understood = self._read(self.texts)

    def _backspace(self) -> None:
        if self._untouched[self._at]:
            self._put("")
        elif self._caret:
            self._put(self.text[: self._caret - 1] + self.text[self._caret :], self._caret - 1)

    def _delete(self) -> None:
        if self._untouched[self._at]:
            self._put("")
        else:
            self._put(self.text[: self._caret] + self.text[self._caret + 1 :], self._caret)

    def _to(self, caret: int) -> None:
        self._untouched[self._at] = False
        self._caret = min(max(caret, 0), len(self.text))

    def _tab(self) -> None:
        """Take the likelier reading, the name begun, what is filled in; else go on."""
        whole = self.understood.instead or self._ghost()
        if whole:
            self._put(whole)
        elif self._untouched[self._at]:
            self._to(len(self.text))
        else:
            self._go(1)

    def _ghost(self) -> str:
        """The name that was begun, where the caret stands behind it."""
        if self._untouched[self._at] or self._caret < len(self.text) or not self.text.strip():
            return ""
        return self._parts[self._at].complete(self.text) or ""

    def _go(self, step: int) -> None:
        self._at = min(max(self._at + step, 0), len(self._parts) - 1)
        self._caret = len(self.text)

    def _undo(self) -> None:
        if self._before:
            self._texts, self._at, self._caret = self._before.pop()
            self._again()

    # What is kept

    def kept(self) -> object:
        """All that was typed; nothing where only what was proposed stands there."""
        return list(self._texts) if not all(self._untouched) and any(self._texts) else None

    def resume(self, kept: Any) -> None:  # noqa: ANN401 - what `kept` returned
        """Go on with what was typed before."""
        self._texts = list(kept)
        self._untouched = [False] * len(kept)
        self._caret = len(self.text)
        self._again()

    def refuse(self, refusal: str) -> None:
        """What was typed was not written."""
        self.refusal = refusal

    # How it looks

    def typed(self) -> Line:
        """The part in sight, its label before it where it is not the first."""
        text, at = self.text, self._caret
        label = (Span(f"{self._parts[self._at].label}  ", "quiet"),) if self._at else ()
        if self._untouched[self._at]:
            return (*label, Span(text, "chosen"), Span(CARET, "today"))
        rest = self._ghost()[len(text) :] if self._ghost() else text[at:]
        says = "" if text else f" {self._parts[self._at].says}"
        ghost = Span(rest, "quiet" if self._ghost() else "plain")
        return (*label, Span(text[:at]), Span(CARET, "today"), ghost, Span(says, "quiet"))

    def rows(self, width: int) -> list[Line]:
        """The text, what it would write or why not; never fewer rows than it had before."""
        own = [] if self.column is not None else [_to_the_caret(self.typed(), width)]
        told = list(self._told(width))
        self._height = max(self._height, len(own) + len(told))
        return [*own, *told, *[plain("")] * (self._height - len(own) - len(told))]

    def _told(self, width: int) -> list[Line]:
        if self.refusal:
            return wrapped(self.refusal, width, "", "warn")
        understood = self.understood
        if understood.letters:
            words = "   ".join(f"{one} {word}" for one, word in understood.letters.items())
            return [*wrapped(understood.says, width), *wrapped(words, width, "", "expected")]
        return wrapped(f"= {understood.says}", width) if understood.says else []


_MOVES: Final[Mapping[str, Callable[[TextSlip], None]]] = {
    "backspace": TextSlip._backspace,  # noqa: SLF001 - the class's own
    "delete": TextSlip._delete,  # noqa: SLF001
    "left": lambda slip: slip._to(slip._caret - 1),  # noqa: SLF001
    "right": lambda slip: slip._to(slip._caret + 1),  # noqa: SLF001
    "home": lambda slip: slip._to(0),  # noqa: SLF001
    "end": lambda slip: slip._to(len(slip.text)),  # noqa: SLF001
    "tab": TextSlip._tab,  # noqa: SLF001
    "up": lambda slip: slip._go(-1),  # noqa: SLF001
    "down": lambda slip: slip._go(1),  # noqa: SLF001
    "ctrl+z": TextSlip._undo,  # noqa: SLF001
}


def _to_the_caret(line: Line, width: int) -> Line:
    """A line whose beginning goes where it is too long for its caret to be seen."""
    texts = [span.text for span in line]
    until = texts.index(CARET) + 1 if CARET in texts else 0
    over = sum(map(cells_wide, texts[:until])) - width
    spans: list[Span] = []
    for text, role in line:
        cut = 0
        while over > 0 and cut < len(text):
            over -= cells_wide(text[cut])
            cut += 1
        spans.append(Span(text[cut:], role))
    return tuple(spans)
