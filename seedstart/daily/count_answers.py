"""A count that was typed → the entries that it writes."""

import re
from collections.abc import Iterator
from typing import Final

from seedstart.daily.check import Asked, Check
from seedstart.daily.typed import RefusedError, whole
from seedstart.season.entries import BLANK, Counted, Entry, Struck

_COUNT: Final = re.compile(r"(=|\d{1,9})\s*(.*)")
_DIED: Final = frozenset({"died", "dead", "lost", "damped off", "damping off", "wilted"})
_EATEN: Final = frozenset({"eaten", "slugs", "mice"})
_WRONG: Final = frozenset({"wrong", "earlier wrong", "earlier was wrong", "miscounted"})
SAY_SEVERAL: Final = "one count for each in this order, with commas: 18, 12, ="
SAY: Final = "how many stand now, as 18; = for as many as last time; 18 final for the last count"


def count_answer(check: Check, typed: str) -> tuple[Entry, ...]:
    """The counts of a check's sowings, and what explains a lower one.

    One count each, in the order shown, with commas between: `18, 12, =`. A sole `0` or `=` holds
    for all. After a lower count stands what happened: `15 died`, `15 eaten`, `15 earlier wrong`.

    Raises:
        RefusedError: With what to type instead.
    """
    texts = [text.strip() for text in typed.split(",")]
    if len(texts) == 1 and texts[0] in {"0", "="}:
        texts *= len(check.sowings)
    if len(texts) != len(check.sowings):
        names = ", ".join(asked.name for asked in check.sowings)
        raise RefusedError(f"one count each, with commas between: {names}")
    found = [_one(asked, text) for asked, text in zip(check.sowings, texts, strict=True)]
    return tuple(entry for entries in found for entry in entries)


def _one(asked: Asked, text: str) -> tuple[Entry, ...]:
    match = _COUNT.fullmatch(text)
    if not match:
        raise RefusedError(f"{asked.name}: {SAY}")
    standing = asked.standing if match[1] == "=" else whole(match[1], SAY)
    rest, final = _final(match[2].strip().casefold())
    if standing >= asked.standing:
        if rest:
            raise RefusedError(f"{asked.name}: {asked.standing} stood, so none is missing; {SAY}")
        return (_counted(asked, standing, final=final),)
    return _lower(asked, standing, rest, final=final)


def _final(rest: str) -> tuple[str, bool]:
    words = rest.split()
    others = [word for word in words if word not in {"final", "last"}]
    return " ".join(others), len(others) < len(words)


def _lower(asked: Asked, standing: int, why: str, *, final: bool) -> tuple[Entry, ...]:
    """A lower count is no death until someone says so."""
    missing = asked.standing - standing
    if why in _DIED | _EATEN:
        return (_counted(asked, standing, final=final, lost=missing, why=why),)
    if why in _WRONG and asked.earlier:
        return (
            *_too_high(asked, standing),
            _counted(asked, standing, final=final),
        )
    ways = ("died", "eaten", "earlier wrong") if asked.earlier else ("died", "eaten")
    raise RefusedError(
        f"{asked.name}: {asked.standing} stood, {missing} are missing. What happened? "
        f"Type {standing}{' final' if final else ''} and one of: {', '.join(ways)}",
        asked.name,
        ways,
    )


def _too_high(asked: Asked, standing: int) -> Iterator[Struck]:
    """The latest counts are struck as far as they are above what stands now: none has died."""
    for earlier, entry in asked.earlier:
        if earlier <= standing:
            return
        yield Struck(**BLANK, entry=entry)


def _counted(
    asked: Asked, standing: int, *, final: bool, lost: int | None = None, why: str | None = None
) -> Counted:
    return Counted(**BLANK, sowing=asked.name, standing=standing, lost=lost, why=why, final=final)
