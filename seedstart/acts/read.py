"""The one door: what was typed into the fields of an act → entries, or what is wrong by field."""

from collections.abc import Mapping
from datetime import datetime
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from seedstart.acts.act import Act, Field, Texts, Values
from seedstart.acts.care import ADJUST, FEED, HARDEN, HOLD, READ, WATER, WEIGH
from seedstart.acts.counting import COUNT, DIG
from seedstart.acts.known import Known
from seedstart.acts.measuring import MEASURE
from seedstart.acts.moving import COVER, MOVE, POT_ON, PRICK_OUT, SPLIT, UNCOVER
from seedstart.acts.notes_and_plan import CHECK, FORECAST, NOTE, PLAN, PUT_OFF
from seedstart.acts.seed import SCARIFY, SOAK, SOW, STRATIFY, TAKE_OUT
from seedstart.acts.seedlings import (
    FINISH,
    GIVE,
    LOSE,
    MIX_UP,
    RELABEL,
    SET_OUT,
    THIN,
)
from seedstart.acts.sheet import Sheet, sentence
from seedstart.acts.values import NotAmongError, value
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Entry

ACTS: Final[tuple[Act, ...]] = (
    COUNT, WATER, SOW, MOVE, PRICK_OUT, READ, NOTE, UNCOVER, COVER, LOSE, THIN, POT_ON, HARDEN,
    HOLD, SET_OUT, FEED, WEIGH, MEASURE, GIVE, DIG, SOAK, STRATIFY, SCARIFY, TAKE_OUT, ADJUST,
    SPLIT, FINISH, RELABEL, MIX_UP, PLAN, FORECAST, CHECK, PUT_OFF,
)  # fmt: skip
OF_KIND: Final[dict[type[Entry], Act]] = {act.kind: act for act in ACTS}
NAMED: Final[dict[str, Act]] = {act.name: act for act in ACTS}


class Filled(Struct, frozen=True):
    """What became of an act as it was filled in.

    Attributes:
        entries: What it writes, as drafts of one act; none while something is wrong or missing.
        at: When it happened; None for now.
        problems: By the key of their fields, which they bear as their file.
        questions: Those of them that are a question only: whoever is `sure` writes it.
    """

    entries: tuple[Entry, ...] = ()
    at: datetime | None = None
    problems: Mapping[str, Problem] = {}
    questions: frozenset[str] = frozenset()

    @property
    def only_asks(self) -> bool:
        """Whether all that is in the way are questions."""
        return bool(self.problems) and self.problems.keys() <= self.questions


def read(act: Act, known: Known, texts: Texts, given: Mapping[str, Values] | None = None) -> Filled:
    """Read an act.

    Args:
        act: Which.
        known: What may be named, and what stands.
        texts: What was typed, by field; `at` is its time, `sure` says that a slip is none.
        given: Values that were computed, by the field whose text they stand for: a text would
            round them. What was typed wins.

    Raises:
        KeyError: The act has no such field.
    """
    sheet = Sheet(act, known, texts, given)
    for one in act.fields:
        _read_field(sheet, one)
    for check in act.checks:
        check(sheet)
    entries = () if sheet.problems else _made(sheet)
    return Filled(entries, sheet.at, sheet.problems, frozenset(sheet.questions))


def _read_field(sheet: Sheet, one: Field) -> None:
    sheet.field = one.key
    text = sheet.text(one.key)
    if text is None:
        if one.key in sheet.given:
            sheet.values |= sheet.given[one.key]
        elif one.need:
            sheet.refuse(f"It is missing: {one.need}.")
        return
    try:
        if one.read is not None:
            sheet.values |= one.read(text, sheet)
        elif one.into:
            units = sheet.known.plan.units
            sheet.values[one.into] = value(sheet.act.kind, one.into, text, one.says, units)
    except NotAmongError as error:
        sheet.refuse("", error.allowed)
    except ValueError as error:
        sheet.refuse(sentence(error))


def _made(sheet: Sheet) -> tuple[Entry, ...]:
    """The entries; what another reader refuses is put to the field that it calls."""
    try:
        return tuple(sheet.act.make(sheet))
    except BadInputError as error:
        for problem in error.problems:
            key = field_of(sheet.act.fields, problem) or sheet.act.fields[-1].key
            sheet.problems.setdefault(key, replace(problem, file=key, key=""))
    return ()


def field_of(fields: tuple[Field, ...], problem: Problem) -> str:
    """The key of the field that a problem is about: what a reader of a file calls it does too."""
    keys = {field.key for field in fields}
    key = problem.key.partition(" ")[0]
    named = (key.partition("[")[0], key.rpartition(".")[2], problem.file)
    return next((key for key in named if key in keys), "")
