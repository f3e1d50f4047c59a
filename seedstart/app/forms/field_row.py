"""A field of a form on the screen: its name, what is typed, and a line beneath it."""

from collections.abc import Callable
from typing import Final

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.suggester import Suggester
from textual.widgets import Input, Static

from seedstart.acts.act import Field, Texts
from seedstart.acts.known import Known
from seedstart.problems import Problem, in_words
from seedstart.text import clean

LONGEST: Final = 1000
_NAMES_SHOWN: Final = 12
FAULT_SIGN: Final = "✗"


class _Completes(Suggester):
    """Completes the name that is being typed."""

    def __init__(self, field: Field, look: Callable[[], Known]) -> None:
        super().__init__(use_cache=False, case_sensitive=True)
        self._field, self._look = field, look

    async def get_suggestion(self, value: str) -> str | None:
        return self._field.completed(value, self._look())


class TypedInput(Input):
    """What is typed, cleaned as it comes in: pasted text may hold anything."""

    def replace(self, text: str, start: int, end: int) -> None:
        """Put text in place of a stretch of it."""
        super().replace(clean(text), start, end)


class FieldRow(Vertical):
    """One field, and beneath it what is wrong, else what is known, else what may be typed.

    Attributes:
        field: What it asks for.
        touched: The grower typed here; else the default goes on following the other fields.
        input: Where it is typed.
        problem: What is shown to be wrong with it.
    """

    def __init__(self, field: Field, look: Callable[[], Known], given: str | None = None) -> None:
        super().__init__(id=f"field-{field.key}", classes="field")
        self.field = field
        self.touched = given is not None
        self._look = look
        self._put = given or ""
        self.problem: Problem | None = None
        self.input = TypedInput(
            self._put,
            placeholder=field.says,
            suggester=_Completes(field, look),
            compact=True,
            max_length=LONGEST,
        )
        self._said = ""
        self._under = Static(classes="beneath", markup=False)

    def compose(self) -> ComposeResult:
        """Name and input side by side, the line beneath."""
        with Horizontal(classes="typed"):
            yield Static(self.field.label, classes="label", markup=False)
            yield self.input
        yield self._under

    @property
    def text(self) -> str:
        """What stands there."""
        return self.input.value

    def typed_now(self) -> bool:
        """Whether what stands there was put by the grower since the default was."""
        if self.text != self._put:
            self.touched = True
        return self.touched

    def put_default(self, known: Known, texts: Texts) -> bool:
        """Let the default follow; whether what stands there is another now."""
        if self.typed_now():
            return False
        default = clean(self.field.default(known, texts))[:LONGEST]
        if default == self._put:
            return False
        self._put = self.input.value = default
        self.input.cursor_position = len(default)
        return True

    def accept(self) -> None:
        """The grower leaves the field: a beginning that will do stands for the name."""
        meant = self.field.accepted(self.text, self._look())
        if meant != self.text:
            self.input.value = meant
            self.input.cursor_position = len(meant)

    def show(self, problem: Problem | None, known: Known, texts: Texts, *, all_wrong: bool) -> None:
        """Draw the line beneath.

        Args:
            problem: What is wrong with it, if anything.
            known: The season.
            texts: What stands in all the fields.
            all_wrong: What is missing is a fault too: somebody tried to write.
        """
        here = self.input.has_focus
        unfinished = here and self.field.begins_a_name(self.text, known)
        untold = not self.text.strip() or unfinished
        self.problem = problem if problem is not None and (all_wrong or not untold) else None
        said = self._beneath(known, texts) if here and self.problem is None else ""
        if self.problem is not None:
            said = f"{FAULT_SIGN} {in_words(self.problem)}"
        if here and self.field.makes:
            said = f"{said}{' ' if said else ''}(ctrl+n: a new {self.field.makes})"
        if said != self._said:  # each change costs a layout
            self._said = said
            self._under.update(clean(said))
            self._under.display = bool(said)
        self.set_class(self.problem is not None, "wrong")
        self.set_class(here, "here")

    def _beneath(self, known: Known, texts: Texts) -> str:
        told = self.field.told(known, texts)
        if told:
            return told
        names = self.field.fitting(self.text, known)
        more = " …" if len(names) > _NAMES_SHOWN else ""
        return f"{', '.join(names[:_NAMES_SHOWN])}{more}" or (self.field.says if self.text else "")

    def on_click(self, event: events.Click) -> None:
        """A click beside the input means the input."""
        event.stop()
        self.input.focus()
