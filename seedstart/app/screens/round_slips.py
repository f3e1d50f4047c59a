"""The slips of the round: what is typed at a check, put off, corrected; what opens at an alert."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from math import ceil
from typing import Final, NamedTuple

from msgspec import structs

from seedstart.acts.known import Known
from seedstart.acts.parsers import parse_moment
from seedstart.acts.read import NAMED
from seedstart.acts.sentences import would_write
from seedstart.acts.sheet import sentence
from seedstart.app.slip import ChoiceSlip, Key, MarkSlip
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.daily.answers import answer, corrected, seen, what_answers
from seedstart.daily.check import Alert, Check, Round
from seedstart.drawing.lines import Line, wrapped
from seedstart.drawing.round_lines import basis_text
from seedstart.drawing.round_rows import FIELD_FROM
from seedstart.problems import Problem
from seedstart.season.journal.entries import BLANK, Noted
from seedstart.season.journal.entry import Entry
from seedstart.text import joined

# What became of plants that are missing; the grower says it with the first letter.
_LETTERS: Final = {
    "died": ("d", "died"),
    "eaten": ("e", "eaten"),
    "pulled out": ("p", "pulled out"),
    "earlier wrong": ("w", "the earlier count was wrong"),
}
# A tenth more than are wanted are pricked out: some fail. Common practice, no source.
_SPARE: Final = 1.1
_TEXT, _WHEN = "text", "when"
Look = Callable[[], tuple[Check, Known] | None]
Answer = tuple[Entry, ...] | Problem
ReadAnswer = Callable[[Check, str, Known, Mapping[str, str]], Answer]


class ToWrite(NamedTuple):
    """What Enter writes: the drafts of an act, and when it was; None for now."""

    drafts: tuple[Entry, ...]
    at: datetime | None = None


def takes_a_number(check: Check) -> bool:
    """Whether a digit begins an answer to it."""
    if check.counted:
        return len(check.counted) == 1
    if check.done or check.parts:
        return False
    return bool(check.choices) or (check.typed is not None and check.typed.act != "move")


def takes_words(check: Check) -> bool:
    """Whether anything may be typed at it."""
    return takes_a_number(check) or (check.typed is not None and not check.done)


def slip_of(check: Check, look: Look, *, in_row: bool = False) -> TextSlip:
    """The slip in which a check is answered.

    Args:
        check: Which.
        look: The check and the season as they are when it is read; None where it is gone.
        in_row: It is typed in the row of a table.
    """
    what, says = _asked_for(check)
    found = look()
    parts: Sequence[Part] = (Part(_TEXT, says=says),)
    if check.typed is not None and check.typed.act == "prick out" and found is not None:
        parts = _of_pricking(check, found[1])
    elif check.typed is not None and check.typed.act == "move" and found is not None:
        parts = (_of_moving(check, says, found[1]),)
    return TextSlip(
        parts,
        _reader(look, _again if check.counted else answer, again=bool(check.counted)),
        column=FIELD_FROM if in_row else None,
        says=f"You are typing {what}.",
    )


def _of_pricking(check: Check, known: Known) -> tuple[Part, ...]:
    """How many and where to, the likeliest filled in; the station, container, time of it."""
    (one,) = check.sowings
    spare = one.standing if one.want is None else min(one.standing, ceil(one.want * _SPARE))
    return (
        Part(
            _TEXT,
            says="20 into 40, or 20 into 40, 13 into 41; keep if they stay",
            proposed=f"{spare} into {known.free_tray().removeprefix('tray ')}",
        ),
        Part(
            "station", "station", "where new trays stand; else where they are now", one.then,
            _completing(known.stations()),
        ),
        Part(
            "container", "container", "e.g. 72-cell", complete=_completing(known.containers())
        ),
        Part(_WHEN, "when", "now; or 8:30, yesterday 18:00"),
    )  # fmt: skip


def _of_moving(check: Check, says: str, known: Known) -> Part:
    """Where to; filled in as its line names it."""
    named = check.tick.of[0].get("station", "") if check.tick else ""
    return Part(_TEXT, says=says, proposed=named, complete=_completing(known.stations()))


def _completing(names: Sequence[str]) -> Callable[[str], str | None]:
    def complete(text: str) -> str | None:
        begun = text.casefold()
        fits = (name for name in names if name.casefold().startswith(begun) and name != text)
        return next(fits, None)

    return complete


def put_off_slip(look: Look, what: str) -> TextSlip:
    """Till when a check is put off, and why."""
    return TextSlip(
        (Part("put off", says="saturday, 3 days, no true leaf"),),
        _reader(look, lambda check, text, known, _: answer(check, f"put off: {text}", known)),
        says=f"You are typing till when, or why, to put off: {what}.",
    )


def _again(check: Check, text: str, known: Known, _: Mapping[str, str]) -> Answer:
    return corrected(check, text, known)


def _reader(
    look: Look, read: ReadAnswer, *, again: bool = False
) -> Callable[[Mapping[str, str]], Understood]:
    def understand(texts: Mapping[str, str]) -> Understood:
        text, *_ = texts.values()
        found = look()
        if found is None:
            return Understood(refusal="This line is gone meanwhile: nothing was written.")
        check, known = found
        if check.done and not again:
            return Understood(refusal=done_by(check))
        if not text.strip():
            return Understood(refusal=_sentence(_asked_for(check)[1]))
        more = {key: said for key, said in list(texts.items())[1:] if said.strip()}
        try:
            at = parse_moment(more.pop(_WHEN), known.now) if _WHEN in more else None
        except ValueError as error:
            return Understood(refusal=sentence(error))
        at = check.counted[0].at if again else at
        return _understood(read(check, text, known, more), known, at)

    return understand


def _understood(found: Answer, known: Known, at: datetime | None) -> Understood:
    if not isinstance(found, Problem):
        return Understood(says=would_write(found, known), value=ToWrite(found, at))
    asked = {word: said for word, said in _LETTERS.items() if word in found.allowed}
    if asked:
        says = found.hint.partition(" Type ")[0]
        return Understood(says=says, letters=dict(asked.values()))
    return Understood(refusal=found.hint or str(found))


def _asked_for(check: Check) -> tuple[str, str]:
    """What is typed at a check, and what may be typed there."""
    if check.counted:
        return f"a count of {check.counted[0].sowing.name} again", "how many stood"
    says = what_answers(check)
    act = check.typed.act if check.typed else ""
    name = check.sowings[0].name if len(check.sowings) == 1 else check.tray or ""
    if check.choices:
        return f"which count of {name} is right", says
    if act == "count":
        return f"a count of {name}", "how many stand now; = as last time; 0 is a count too"
    return f"{_ACTS.get(act, NAMED[act].name if act else 'an answer')} {name}".rstrip(), says


_ACTS: Final = {
    "prick out": "how many go where, of",
    "weigh": "the weight of",
    "harden off": "the hours out of",
    "measure": "the plants of",
}


def done_by(check: Check) -> str:
    """Who did a line before one could: `tablet did this at 09:12`."""
    at = f" at {check.done_at:%H:%M}" if check.done_at else ""
    return f"{check.done_by or 'Somebody'} did this{at}: nothing was written. Esc leaves it."


def _sentence(says: str) -> str:
    return f"{says[:1].upper()}{says[1:]}."


def alert_slip(alert: Alert) -> ChoiceSlip:
    """What can be done about it, the best first; Enter does and writes it."""
    cost = f" It {alert.cost_in_words}." if alert.cost_in_words and not alert.costs else ""
    text = f"{_sentence(alert.text.removesuffix('.'))}{cost}"

    def told(width: int) -> list[Line]:
        return [
            *wrapped(text, width, "", "plain", ""),
            *wrapped(basis_text(alert), width, "", "quiet"),
        ]

    return ChoiceSlip(
        told,
        [_sentence(one).removesuffix(".") for one in alert.remedies],
        (
            Key("Enter", "do it, and write it"),
            Key("↑↓", "choose"),
            Key("Space", "seen", "screen.tick"),
            Key("Esc", "close"),
            Key("w", "why", "screen.why"),
        ),
        also=("space",),
    )


def move_slip(check: Check) -> MarkSlip:
    """Which sowings of a tray go; at first those that are up."""
    names = [
        f"{one.name}, {f'{one.standing} up' if one.standing else 'not up'}" for one in check.sowings
    ]
    station = check.tick.of[0].get("station", "") if check.tick else ""

    def says(marked: Sequence[bool]) -> str:
        stay = [one.name for one, goes in zip(check.sowings, marked, strict=True) if not goes]
        if not stay:
            return f"all {len(names)} in {check.tray or 'it'} go to the {station}"
        are = "stays" if len(stay) == 1 else "stay"
        return f"{sum(marked)} of {len(names)} go to the {station}; {joined(stay)} {are}"

    up = [bool(one.standing) for one in check.sowings]
    doing = f"You are choosing which go to the {station}."
    return MarkSlip(names, up if any(up) else [True] * len(up), says, doing)


def done_about(alert: Alert, number: int, found: Round, known: Known) -> tuple[Entry, ...]:
    """What doing one of its remedies writes: the check that does it, else a note; and it is seen.

    Args:
        alert: What is wrong.
        number: Which of its remedies was done.
        found: The round.
        known: What an answer may name, and what stands.
    """
    if alert.kind == "cover still on" and number == 0:
        lift = next(
            (one for one in found.checks if one.what == "uncover" and one.tray == alert.tray), None
        )
        drafts = answer(lift, "", known) if lift is not None and not lift.done else ()
        if not isinstance(drafts, Problem) and drafts:
            return (*drafts, seen(alert))
    kind, name = alert.subject
    if kind == "sowing":
        name = known.records.name_in_line(name)
    note = Noted(**BLANK, text=alert.remedies[number])
    if kind in {"sowing", "tray", "station", "lot"}:
        note = structs.replace(note, **{kind: name})
    return note, seen(alert)
