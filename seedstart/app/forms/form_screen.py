"""The form that writes entries of the journal."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import ClassVar, Final, Generic, TypeVar

from msgspec import structs
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from seedstart.acts.act import Act, Field, Texts
from seedstart.acts.known import Known
from seedstart.acts.sentences import entry_in_words
from seedstart.acts.sheet import SURE
from seedstart.app.forms.field_row import FAULT_SIGN, FieldRow
from seedstart.app.forms.form_input import AT, Filled, PlanAct, fill_entry, form_fields
from seedstart.app.forms.form_services import Desk, Written
from seedstart.app.frame import KeepsItsPlace, is_too_small
from seedstart.drawing.lines import cells_wide
from seedstart.problems import Problem, in_words
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.toml_blocks import Added
from seedstart.text import clean

M = TypeVar("M")
R = TypeVar("R")
_WIDEST: Final = 80  # as in forms.tcss
_FRAME_ROWS: Final = 4  # title, keys
_TOLD_ROWS: Final = 7  # likewise
_KEYS: Final = "Enter next   ↑↓ fields   → complete   ctrl+s write   Esc leave"
_MORE: Final = "   ↓ more"


class _Fields(VerticalScroll, inherit_bindings=False):
    """The fields; up and down go from one to the next, and never scroll."""


class Form(KeepsItsPlace[R], ModalScreen[R], Generic[M, R]):
    """One act to be filled in; dismissed with what was written, or None.

    Args:
        act: What is written down.
        fields: Its fields, from the top.
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
        act: Act | PlanAct[M],
        fields: Sequence[Field],
        look: Callable[[], Known],
        given: Mapping[str, str] | None = None,
        desk: Desk | None = None,
    ) -> None:
        super().__init__()
        self.act, self.look, self._desk = act, look, desk
        known = given or {}
        self.rows = [FieldRow(field, look, known.get(field.key)) for field in fields]
        for row in self.rows:
            row.display = not row.field.rare or row.touched
        self._fields = _Fields(*self.rows, id="fields", can_focus=False)
        self._would = Static(id="would", markup=False)
        self._refused = Static(id="refused", markup=False)
        self._tried = False
        self._left = False
        self._asked_about: Texts | None = None  # a question stands: the same key again writes it

    def fill(self, known: Known, texts: Texts) -> Filled[M]:
        """Read what stands in the fields."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Title, fields, what it would write, keys."""
        with Vertical(id="form"):
            yield Static(self._title(), id="title", markup=False)
            yield self._fields
            yield self._would
            yield self._refused
            yield Static(f"{_KEYS}{_MORE if self._hidden else ''}", id="keys", markup=False)

    @property
    def _hidden(self) -> bool:
        """Whether what is seldom said is not shown yet."""
        return any(not row.display for row in self.rows)

    def _show_all(self) -> None:
        for row in self.rows:
            row.display = True
        self.query_one("#keys", Static).update(_KEYS)

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

    def typed_in(self) -> list[str]:
        """What the grower typed, should the form itself fail."""
        return [f"{row.field.label}: {row.text}" for row in self.rows if row.touched and row.text]

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
        for _ in self.rows:  # a default may follow a default
            texts = self.texts
            followed = [row.put_default(known, texts) for row in self.rows]
            if not any(followed):
                break
        texts = self.texts
        filled = self.fill(known, texts)
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
        inner = max(min(width, _WIDEST) - 2, 1)
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
        if event.input is self._last().input:
            self.action_write()
        else:
            self.action_next()

    def _last(self) -> FieldRow:
        """Where Enter writes: at the time, or at the end; what is seldom said comes below."""
        return next((row for row in self.rows if row.field is AT), self.rows[-1])

    def action_next(self) -> None:
        """On to the next field."""
        self._step(1)

    def action_previous(self) -> None:
        """Back to the field before."""
        self._step(-1)

    def _step(self, step: int) -> None:
        rows = [row for row in self.rows if row.display]
        here = next((at for at, row in enumerate(rows) if row.input.has_focus), 0)
        rows[here].accept()
        if step > 0 and here == len(rows) - 1 and self._hidden:
            self._show_all()
            rows = self.rows
        rows[(here + step) % len(rows)].input.focus()

    def action_make(self) -> None:
        """A form for what this field is to name; back here it is filled in."""
        row = next((row for row in self.rows if row.input.has_focus), None)
        if row is None or not row.field.makes or self._desk is None:
            return
        from seedstart.app.forms.plan_forms import (
            LotForm,  # which are forms themselves
            StationForm,
        )

        typed = row.text.strip()
        known = typed in row.field.names(self.look())
        make = LotForm if row.field.makes == "lot" else StationForm
        form = make(self._desk, {"name": typed} if typed and not known else {})
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
        if filled.only_asks:
            filled = self._asked_again(filled)
        elif filled.made is None:
            self._to_first_fault(filled.problems)
        if filled.made is None:
            return
        refused = self.hand_over(filled.made, filled.at)
        if refused is None:
            self._left = True
            self.dismiss(self.result(filled.made, filled.at))
        else:
            self._refuse(refused)

    def _asked_again(self, filled: Filled[M]) -> Filled[M]:
        """A question is asked once: the same key on the same texts says yes to it."""
        texts = self.texts
        if texts == self._asked_about:
            return self.fill(self.look(), {**texts, SURE: "yes"})
        self._asked_about = texts
        asked = " ".join(dict.fromkeys(problem.hint for problem in filled.problems.values()))
        self._refuse(f"{asked} The same key again, if it is so.")
        return filled

    def hand_over(self, made: M, at: datetime | None) -> str | None:
        """Have it written; None, or why it was not."""
        raise NotImplementedError

    def result(self, made: M, at: datetime | None) -> R:
        """What the screen is dismissed with once it is written."""
        raise NotImplementedError

    def _to_first_fault(self, problems: Mapping[str, Problem]) -> None:
        wrong = next((row for row in self.rows if row.field.key in problems), None)
        if wrong is not None and not wrong.display:
            self._show_all()
        if wrong is not None:
            wrong.input.focus()
        elif "" in problems:
            self._refuse(in_words(problems[""]))

    def _refuse(self, why: str) -> None:
        self._tell(self._refused, f"{FAULT_SIGN} {clean(why)}")


class EntryForm(Form[tuple[Entry, ...], Written]):
    """A form that writes entries of the journal.

    Args:
        act: What is written down.
        desk: What the app gives to every form.
        subject: What the grower was looking at.
        given: What is known of its fields already, by their keys; counts as typed.
    """

    def __init__(
        self,
        act: Act,
        desk: Desk,
        subject: Subject | None = None,
        given: Mapping[str, str] | None = None,
    ) -> None:
        fields = form_fields(act)
        super().__init__(act, fields, lambda: desk.look().about(subject), given, desk)
        self.desk, self._entry_act = desk, act

    def fill(self, known: Known, texts: Texts) -> Filled[tuple[Entry, ...]]:
        """Read what stands in the fields."""
        return fill_entry(self._entry_act, known, texts)

    def would_say(self, made: Sequence[Entry], at: datetime | None, known: Known) -> list[str]:
        """The entries, as a history would show them."""
        said = [
            entry_in_words(structs.replace(one, at=at or known.now), known.plan.units)
            for one in made
            if not hasattr(one, "entry")  # an id says nothing to a grower
        ]
        # The time stands at the end, in brackets; of now it would be the last key's.
        return [one if at else f"{one.rpartition(' (')[0]}, now" for one in said]

    def catch_up(self) -> None:
        """What others wrote counts: a sowing may have been finished elsewhere."""
        self.desk.catch_up()

    def hand_over(self, made: Sequence[Entry], at: datetime | None) -> str | None:
        """Have the entries recorded as one act."""
        return self.desk.write(tuple(made), at)

    def result(self, made: Sequence[Entry], at: datetime | None) -> Written:
        """What was written, and when it happened."""
        return Written(tuple(made), at)
