"""Putting a check off: what was typed → until when, and why."""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from seedstart.acts.act import Values
from seedstart.acts.known import Known
from seedstart.acts.read import read
from seedstart.acts.words import MOIST, PUT_OFF
from seedstart.daily.check import Check
from seedstart.days import day_ahead
from seedstart.planning.quiet import NONE_NEW_DAYS
from seedstart.season.entries import Entry

_LATER: Final = re.compile(
    r"(?:put off|later|not yet)\b(?:\s*[:,]\s*|\s+(?:till|until|to)\s+|\s+)?(.*)", re.IGNORECASE
)
# Common practice, no source: a tray that was moist is felt again after a day, then two, then three;
# a true leaf takes some days.
_MOIST_AGAIN_DAYS: Final = (1, 2, 3)
_LEAF_AGAIN_DAYS: Final = 3


def put_off(check: Check, typed: str, known: Known) -> tuple[Entry, ...] | None:
    """The entries that put a check off, one for each check of its line that is to be done.

    `put off`, `put off: Saturday`, `put off: no true leaf yet`, `put off till 2027-03-20: away`;
    of a tray that is felt also `moist` alone.

    Returns:
        None where something else was typed.

    Raises:
        ValueError: The day that was named is past.
    """
    match = _LATER.fullmatch(typed)
    if match is None and not (check.what == "water" and MOIST.fullmatch(typed)):
        return None
    said = match[1].strip() if match else typed
    parts: Sequence[Check] = [part for part in check.parts if not part.done] or (check,)
    return tuple(entry for part in parts for entry in _one(part, said, known))


def _one(check: Check, said: str, known: Known) -> tuple[Entry, ...]:
    today = known.now.date()
    first, _, rest = (part.strip() for part in said.partition(":"))
    until, why = day_ahead(first, today), rest
    if until is None:
        until, why = _again(check, said, today), said
    given: dict[str, Values] = {"check": {"check": check.key}, "till": {"until": until}}
    return read(PUT_OFF, known, {"why": why}, given).entries


def _again(check: Check, why: str, today: date) -> date:
    """When to ask again, where no day was named."""
    if check.what == "water":
        days = _MOIST_AGAIN_DAYS[min(check.put_off, len(_MOIST_AGAIN_DAYS) - 1)]
    elif "leaf" in why.casefold():
        days = _LEAF_AGAIN_DAYS
    elif check.what == "close":
        days = NONE_NEW_DAYS
    else:
        days = 1
    return today + timedelta(days=days)
