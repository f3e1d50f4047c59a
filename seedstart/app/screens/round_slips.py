"""The slips of the round: what is typed at a check, put off, corrected; what opens at an alert."""

from collections.abc import Callable, Mapping
from typing import Final

from seedstart.acts.known import Known
from seedstart.acts.read import NAMED
from seedstart.acts.sentences import would_write
from seedstart.app.text_slip import Part, TextSlip, Understood
from seedstart.daily.answers import answer, corrected, what_answers
from seedstart.daily.check import Check
from seedstart.drawing.round_rows import FIELD_FROM
from seedstart.problems import Problem
from seedstart.season.journal.entry import Entry

# What became of plants that are missing; the grower says it with the first letter.
_LETTERS: Final = {
    "died": ("d", "died"),
    "eaten": ("e", "eaten"),
    "pulled out": ("p", "pulled out"),
    "earlier wrong": ("w", "the earlier count was wrong"),
}
TEXT: Final = "text"
Answer = tuple[Entry, ...] | Problem


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


def slip_of(
    check: Check, look: Callable[[], tuple[Check, Known] | None], *, in_row: bool = False
) -> TextSlip:
    """The slip in which a check is answered.

    Args:
        check: Which.
        look: The check and the season as they are when it is read; None where it is gone.
        in_row: It is typed in the row of a table.
    """
    what, says = _asked_for(check)
    return TextSlip(
        (Part(TEXT, says=says),),
        _reader(look, corrected if check.counted else answer, again=bool(check.counted)),
        column=FIELD_FROM if in_row else None,
        says=f"You are typing {what}. Esc leaves it as it was.",
    )


def put_off_slip(look: Callable[[], tuple[Check, Known] | None], what: str) -> TextSlip:
    """Till when a check is put off, and why."""
    return TextSlip(
        (Part("put off", says="saturday, 3 days, no true leaf"),),
        _reader(look, lambda check, text, known: answer(check, f"put off: {text}", known)),
        says=f"You are typing till when, or why, to put off: {what}.",
    )


def _reader(
    look: Callable[[], tuple[Check, Known] | None],
    read: Callable[[Check, str, Known], Answer],
    *,
    again: bool = False,
) -> Callable[[Mapping[str, str]], Understood]:
    def understand(texts: Mapping[str, str]) -> Understood:
        (text,) = texts.values()
        found = look()
        if found is None:
            return Understood(refusal="This line is gone meanwhile: nothing was written.")
        check, known = found
        if check.done and not again:
            return Understood(refusal=done_by(check))
        if not text.strip():
            return Understood(refusal=f"{_sentence(_asked_for(check)[1])}")
        return understood(read(check, text, known), known)

    return understand


def understood(found: Answer, known: Known) -> Understood:
    """What became of an answer, for a slip."""
    if not isinstance(found, Problem):
        return Understood(says=would_write(found, known), value=found)
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
    return f"{NAMED[act].name if act else 'an answer'}, {name}".rstrip(", "), says


def done_by(check: Check) -> str:
    """Who did a line before one could: `tablet did this at 09:12`."""
    at = f" at {check.done_at:%H:%M}" if check.done_at else ""
    return f"{check.done_by or 'Somebody'} did this{at}: nothing was written. Esc leaves it."


def _sentence(says: str) -> str:
    return f"{says[:1].upper()}{says[1:]}."
