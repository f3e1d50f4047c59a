"""A form as it is filled in: an act of the journal by its one door, or what comes into the plan."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final, Generic, TypeVar

from msgspec import Struct

from seedstart.acts.act import Act, Field, Texts
from seedstart.acts.known import Known
from seedstart.acts.read import field_of, read
from seedstart.acts.values import NotAmongError, yes
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.journal.entries import Entry
from seedstart.text import clean

T = TypeVar("T")


class Slip(Typed):
    """The fields of a form, by their keys; a problem bears the key of its field as its file.

    Attributes:
        known: The season that it comes into.
    """

    def __init__(self, known: Known, texts: Texts) -> None:
        super().__init__()
        self.known = known
        self._texts = {key: said for key, text in texts.items() if (said := clean(text).strip())}

    def text(self, key: str) -> str | None:
        """What stands in a field, cleaned; None for nothing."""
        return self._texts.get(key)

    def need(self, key: str, what: str) -> str:
        """The same for a field that may not stay empty; `what` says what belongs there."""
        said = self.text(key)
        if said is None:
            self.refuse(Problem(file=key, hint=f"It is missing: {what}."))
        return said or ""

    def get(self, key: str, parse: Callable[[str], T]) -> T | None:
        """The value of a field, or None where it is empty or wrong."""
        return self.read(key, self.text(key), parse)

    def yes(self, key: str) -> bool:
        """Whether a field says yes; empty is no."""
        said = self.text(key)
        try:
            return said is not None and yes(said)
        except NotAmongError as error:
            self.refuse(Problem(file=key, found=said, allowed=error.allowed))
            return False


M = TypeVar("M")
# Of what comes into the plan the readers of its files say what is missing.
NEEDED: Final = "something"
AT = Field(key="at", label="When", says="now; or yesterday 18:00, sat 8:30, 2027-03-20 18:00")


class PlanAct(Struct, Generic[T], frozen=True, kw_only=True):
    """A lot, a station or a season that is added.

    Attributes:
        name: In a word or two of the trade.
        about: What it is, for the list of acts.
        fields: In the order in which they are filled in.
        make: The filled-in form → what is added; refuses by raising, through `Slip.done`.
        asks: The field that is filled in by hand when all is known.
        on: Nothing: it is found by its words.
        also: Other words by which it is found.
    """

    name: str
    about: str
    fields: tuple[Field, ...]
    make: Callable[[Slip], T]
    asks: str = ""
    on: tuple[str, ...] = ()
    also: str = ""


class Filled(Struct, Generic[M], frozen=True):
    """What became of a form as it is filled in now.

    Attributes:
        made: What it would write; None while something is wrong or missing.
        at: When it happened; None for now.
        problems: By the key of their fields; under an empty key what concerns no single field.
        only_asks: All that is in the way are questions: the same key again writes it.
    """

    made: M | None
    at: datetime | None
    problems: Mapping[str, Problem]
    only_asks: bool = False


def fill(act: PlanAct[T], known: Known, texts: Texts) -> Filled[T]:
    """Read the form of what is added: what it would add, or everything that is wrong with it."""
    slip = Slip(known, texts)
    try:
        made = act.make(slip)
    except BadInputError as error:
        by_field: dict[str, Problem] = {}
        for problem in error.problems:
            by_field.setdefault(field_of(act.fields, problem), problem)
        return Filled(None, None, by_field)
    return Filled(made, None, {})


def fill_entry(act: Act, known: Known, texts: Texts) -> Filled[tuple[Entry, ...]]:
    """Read the form of an act: its entries, or everything that is wrong with it."""
    found = read(act, known, texts)
    return Filled(found.entries or None, found.at, found.problems, found.only_asks)


def form_fields(act: Act) -> tuple[Field, ...]:
    """The fields of an act's form: the time comes before what is seldom said."""
    often = (one for one in act.fields if not one.rare)
    return (*often, AT, *(one for one in act.fields if one.rare))
