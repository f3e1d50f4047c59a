"""What a form is made of: an act, its fields, and what it writes. Nothing here draws."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any, Final, Generic, TypeVar

from msgspec import Struct

from seedstart.app.forms.known import Known
from seedstart.app.forms.slip import Slip, Texts
from seedstart.problems import BadInputError, Problem
from seedstart.season.entries import Entry
from seedstart.text import folded

T = TypeVar("T")
M = TypeVar("M")
_BEFORE_A_NAME: Final = (",", ", ", " into ", " to ")


def _no_names(_: Known) -> Sequence[str]:
    return ()


def _nothing(_known: Known, _texts: Texts) -> str:
    return ""


class Makes(Struct, frozen=True):
    """A key on a field makes what it is to name, where that is not there yet.

    Attributes:
        what: As in `a new lot`.
        form: The desk, and what is known of its fields → the form to be filled in first.
    """

    what: str
    form: Callable[[Any, Mapping[str, str]], Any]


class Field(Struct, frozen=True, kw_only=True):
    """One field of a form.

    Attributes:
        key: Its name for the program; a problem bears it.
        label: Its name on the screen.
        says: What may be typed, shown while it is empty.
        need: It may not stay empty.
        names: What it may name; completed while typing.
        only: Nothing but those names will do, so that a beginning is enough.
        listed: It holds several, with commas between; the last one is completed.
        default: What stands in it until something is typed, from the other fields too.
        told: What is known of what was typed, shown beneath.
        makes: What a key makes, for this field to name.
    """

    key: str
    label: str
    says: str = ""
    need: bool = False
    names: Callable[[Known], Sequence[str]] = _no_names
    only: bool = False
    listed: bool = False
    default: Callable[[Known, Texts], str] = _nothing
    told: Callable[[Known, Texts], str] = _nothing
    makes: Makes | None = None

    def completed(self, typed: str, known: Known) -> str | None:
        """What was typed, with the first name that begins so; None where none does."""
        head, last = self._last_name(typed)
        begun = last.casefold()
        if not begun.strip():
            return None
        names = (name for name in self.names(known) if name.casefold().startswith(begun))
        name = next((name for name in names if len(name) > len(last)), None)
        return None if name is None else f"{head}{last}{name[len(last) :]}"

    def accepted(self, typed: str, known: Known) -> str:
        """What is meant on leaving the field: a beginning that only one name has stands for it."""
        if not self.only or self.listed:
            return typed
        wanted = folded(typed)
        fits = {name for name in self.names(known) if wanted and folded(name).startswith(wanted)}
        return fits.pop() if len(fits) == 1 else typed

    def begins_a_name(self, typed: str, known: Known) -> bool:
        """Whether what was typed so far is on its way to a name."""
        return self.completed(typed, known) is not None

    def fitting(self, typed: str, known: Known) -> list[str]:
        """The names that hold what was typed, all of them while nothing is."""
        wanted = folded(self._last_name(typed)[1])
        names = self.names(known)
        fits = [name for name in names if wanted in folded(name)]
        return fits if fits != [typed] else []

    def _last_name(self, typed: str) -> tuple[str, str]:
        """What stands before the name that is being typed, and the name so far."""
        if not self.listed:
            return "", typed
        starts = [typed.rfind(sign) + len(sign) for sign in _BEFORE_A_NAME if sign in typed]
        start = max(starts, default=0)
        return typed[:start], typed[start:]


class Act(Struct, Generic[T], frozen=True, kw_only=True):
    """Something that can be written down in a form.

    Attributes:
        name: The act in a word or two of the trade; no two are alike.
        about: What it is, for the list of acts.
        fields: In the order in which they are filled in.
        make: The filled-in form → what it writes; refuses by raising, through `Slip.done`.
        asks: The field that is filled in by hand when all is known.
        kinds: The kinds of entries that it writes.
        on: What it is done to: what was looked at decides which acts come first.
        also: Other words by which it is found.
    """

    name: str
    about: str
    fields: tuple[Field, ...]
    make: Callable[[Slip], T]
    asks: str = ""
    kinds: tuple[type[Entry], ...] = ()
    on: tuple[str, ...] = ()
    also: str = ""


EntryAct = Act[Sequence[Entry]]


class Filled(Struct, Generic[M], frozen=True):
    """What became of a form as it is filled in now.

    Attributes:
        made: What it would write; None while something is wrong or missing.
        at: When it happened; None for now.
        problems: By the key of their fields; under an empty key what concerns no single field.
    """

    made: M | None
    at: datetime | None
    problems: dict[str, Problem]


def fill(act: Act[T], known: Known, texts: Texts) -> Filled[T]:
    """Read a form: what it would write, or everything that is wrong with it."""
    slip = Slip(known, texts)
    problems: tuple[Problem, ...] = ()
    made: T | None = None
    try:
        made = act.make(slip)
    except BadInputError as error:
        problems = error.problems
    by_field: dict[str, Problem] = {}
    for problem in problems:
        by_field.setdefault(_field_of(act, problem), problem)
    return Filled(made if not problems else None, slip.at, by_field)


def _field_of(act: Act[T], problem: Problem) -> str:
    """The key of the field that a problem is about: what a reader of a file calls it does too."""
    keys = {field.key for field in act.fields}
    key = problem.key.partition(" ")[0]
    named = (key.partition("[")[0], key.rpartition(".")[2], problem.file)
    return next((key for key in named if key in keys), "")


def in_words(problem: Problem) -> str:
    """A problem as it stands under its field: without the field's own name."""
    text = str(
        Problem(
            file="",
            found=problem.found,
            allowed=problem.allowed,
            hint=problem.hint,
            listed_by=problem.listed_by,
        )
    ).lstrip(":. ")
    return f"{text[:1].upper()}{text[1:]}"


AT = Field(key="at", label="When", says="now; or yesterday 18:00, sat 8:30, 2027-03-20 18:00")
