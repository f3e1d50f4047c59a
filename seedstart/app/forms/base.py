"""The form on the screen: fields checked as they are typed, written as a whole or not at all.

A form never records. What it is given for `write` does that and answers with None, or with why
not: then the form stays, with all that was typed.
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import ClassVar, Final, Generic, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from seedstart.app.forms.act import Act, Filled, fill, in_words
from seedstart.app.forms.desk import Desk
from seedstart.app.forms.field_row import FAULT_SIGN, FieldRow
from seedstart.app.forms.known import Known
from seedstart.app.too_small import KeepsItsPlace, is_too_small
from seedstart.drawing.lines import cells_wide
from seedstart.problems import Problem
from seedstart.season.adding import Added
from seedstart.text import clean

M = TypeVar("M")
R = TypeVar("R")
_WIDEST: Final = 78  # as in forms.tcss
_FRAME_ROWS: Final = 6  # border, title, keys
_TOLD_ROWS: Final = 7  # likewise
_KEYS: Final = "Enter next   ↑↓ fields   → complete   ctrl+s write   Esc leave"


class Form(KeepsItsPlace[R], ModalScreen[R], Generic[M, R]):
    """One act to be filled in; dismissed with what was written, or None.

    Args:
        act: What is written down.
        look: The season at this moment.
        given: What is known of its fields already, by their keys; counts as typed.
        desk: What the app gives to every form; None where there is no season yet.

    Attributes:
        rows: The fields, from the top.
    """

    CSS_PATH = "forms.tcss"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "write", "Write", id="form.write"),
        Binding("escape", "leave", "Leave", id="form.leave"),
        Binding("tab,down", "next", "Next", id="form.next", show=False),
        Binding("shift+tab,up", "previous", "Back", id="form.previous", show=False),
        Binding("ctrl+n", "make", "Make what is to be named", id="form.make", show=False),
    ]

    def __init__(
        self,
        act: Act[M],
        look: Callable[[], Known],
        given: Mapping[str, str] | None = None,
        desk: Desk | None = None,
    ) -> None:
        super().__init__()
        self.act, self.look, self._desk = act, look, desk
        known = given or {}
        self.rows = [FieldRow(field, look, known.get(field.key)) for field in act.fields]
        self._fields = VerticalScroll(*self.rows, id="fields", can_focus=False)
        self._would = Static(id="would", markup=False)
        self._refused = Static(id="refused", markup=False)
        self._tried = False
        self._left = False

    def compose(self) -> ComposeResult:
        """Title, fields, what it would write, keys."""
        with Vertical(id="form"):
            yield Static(self._title(), id="title", markup=False)
            yield self._fields
            yield self._would
            yield self._refused
            yield Static(_KEYS, id="keys", markup=False)

    def _title(self) -> str:
        return f"{self.act.name.capitalize()}: {self.act.about}"

    def on_mount(self) -> None:
        """Defaults in, the cursor where the first thing is to be typed."""
        self._fit()
        self.check()
        self._first().input.focus()

    def _first(self) -> FieldRow:
        rows = self.rows
        empty = (row for row in rows if row.field.need and not row.text)
        asked = (row for row in rows if row.field.key == self.act.asks)
        return next(empty, None) or next(asked, rows[0])

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the fields, by their keys."""
        return {row.field.key: row.text for row in self.rows}

    # Checked as it is typed

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        if self._left:  # a key that was on its way
            return
        self._tell(self._refused, "")
        self.check()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Another field: what is told stands under that one."""
        event.stop()
        self.check()

    def check(self) -> Filled[M]:
        """Read the form as it stands, and show what is wrong and what it would write."""
        known = self.look()
        for _ in self.act.fields:  # a default may follow a default
            texts = self.texts
            followed = [row.put_default(known, texts) for row in self.rows]
            if not any(followed):
                break
        texts = self.texts
        filled = fill(self.act, known, texts)
        for row in self.rows:
            problem = filled.problems.get(row.field.key)
            row.show(problem, known, texts, all_wrong=self._tried)
        self.call_after_refresh(self._show_focused)
        lines = [] if filled.made is None else self.would_say(filled.made, filled.at, known)
        self._tell(self._would, "\n".join(map(clean, lines)))
        return filled

    def _tell(self, where: Static, text: str) -> None:
        """A text under the fields; they get what is left of the height."""
        if text != str(where.content):  # each change costs a layout
            where.update(text)
            where.display = bool(text)
            self._fit()

    def _fit(self) -> None:
        """A long form scrolls, so that what is told under the fields and the keys stay in sight."""
        width, height = self.app.size
        inner = max(min(width, _WIDEST) - 4, 1)
        taken = _FRAME_ROWS
        for told in (self._would, self._refused):
            if told.display:
                lines = str(told.content).split("\n")
                taken += 1 + min(sum(cells_wide(line) // inner + 1 for line in lines), _TOLD_ROWS)
        self._fields.styles.max_height = max(height - taken, 2)
        self.call_after_refresh(self._show_focused)

    def _show_focused(self) -> None:
        row = next((row for row in self.rows if row.input.has_focus), None)
        if row is not None:
            row.scroll_visible(animate=False)

    def on_resize(self, event: events.Resize) -> None:
        """Another height: the fields get another share."""
        if not is_too_small(event.size):
            self._fit()

    def would_say(self, made: M, at: datetime | None, known: Known) -> list[str]:
        """What the form would write, in words, a line each."""
        raise NotImplementedError

    # Keys

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        rows = self.rows
        if rows[-1].input is event.input:
            self.action_write()
        else:
            self.action_next()

    def action_next(self) -> None:
        """On to the next field."""
        self._step(1)

    def action_previous(self) -> None:
        """Back to the field before."""
        self._step(-1)

    def _step(self, step: int) -> None:
        rows = self.rows
        here = next((at for at, row in enumerate(rows) if row.input.has_focus), 0)
        rows[here].accept()
        rows[(here + step) % len(rows)].input.focus()

    def action_make(self) -> None:
        """A form for what this field is to name; back here it is filled in."""
        row = next((row for row in self.rows if row.input.has_focus), None)
        if row is None or row.field.makes is None or self._desk is None:
            return
        typed = row.text.strip()
        known = typed in row.field.names(self.look())
        form = row.field.makes.form(self._desk, {"name": typed} if typed and not known else {})
        form.add_class("over")
        self.app.push_screen(form, lambda added: self._made(row, added))

    def _made(self, row: FieldRow, added: Added | None) -> None:
        if added is not None:
            row.input.value = added.names[0]
            self.action_next()

    def action_leave(self) -> None:
        """Away, nothing written."""
        self._left = True
        self.dismiss(None)

    def catch_up(self) -> None:
        """Called before anything is written: others may have written meanwhile."""

    def action_write(self) -> None:
        """Write it, if nothing is wrong; else the cursor goes to the first fault."""
        if self._left:  # a second key may have been on its way
            return
        self.catch_up()
        for row in self.rows:
            row.accept()
        self._tried = True
        filled = self.check()
        if filled.made is None:
            self._to_first_fault(filled.problems)
            return
        refused = self.hand_over(filled.made, filled.at)
        if refused is None:
            self._left = True
            self.dismiss(self.result(filled.made, filled.at))
        else:
            self._refuse(refused)

    def hand_over(self, made: M, at: datetime | None) -> str | None:
        """Have it written; None, or why it was not."""
        raise NotImplementedError

    def result(self, made: M, at: datetime | None) -> R:
        """What the screen is dismissed with once it is written."""
        raise NotImplementedError

    def _to_first_fault(self, problems: Mapping[str, Problem]) -> None:
        wrong = next((row for row in self.rows if row.field.key in problems), None)
        if wrong is not None:
            wrong.input.focus()
        elif "" in problems:
            self._refuse(in_words(problems[""]))

    def _refuse(self, why: str) -> None:
        self._tell(self._refused, f"{FAULT_SIGN} {clean(why)}")
