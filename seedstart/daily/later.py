"""Putting a check off: what was typed → until when, and why."""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from seedstart.daily.check import Check
from seedstart.daily.typed import RefusedError
from seedstart.days import WEEKDAYS, parse_day
from seedstart.planning.quiet import NONE_NEW_DAYS
from seedstart.season.entries import BLANK, Entry, PutOff

_LATER: Final = re.compile(
    r"(?:put off|later|not yet)\b(?:\s*[:,]\s*|\s+(?:till|until|to)\s+|\s+)?(.*)", re.IGNORECASE
)
_MOIST: Final = re.compile(r"(?:still )?(?:moist|damp|wet)\b.*", re.IGNORECASE)
_DAYS: Final = re.compile(r"(\d{1,3})\s*(?:d|days?)|(\d{1,2})\s*(?:w|weeks?)", re.IGNORECASE)
_IN_FULL: Final = (
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
)  # fmt: skip
# Common practice, no source: a tray that was moist is felt again after a day, then two, then three;
# a true leaf takes some days.
_MOIST_AGAIN_DAYS: Final = (1, 2, 3)
_LEAF_AGAIN_DAYS: Final = 3


def put_off(check: Check, typed: str, today: date) -> tuple[Entry, ...] | None:
    """The entries that put a check off, one for each check of its line that is to be done.

    `put off`, `put off: Saturday`, `put off: no true leaf yet`, `put off till 2027-03-20: away`;
    of a tray that is felt also `moist` alone.

    Returns:
        None where something else was typed.
    """
    match = _LATER.fullmatch(typed)
    if match is None and not (check.what == "feel" and _MOIST.fullmatch(typed)):
        return None
    said = match[1].strip() if match else typed
    parts: Sequence[Check] = [part for part in check.parts if not part.done] or (check,)
    return tuple(_one(part, said, today) for part in parts)


def _one(check: Check, said: str, today: date) -> PutOff:
    first, _, rest = (part.strip() for part in said.partition(":"))
    until = day_named(first, today)
    if until is None:
        return PutOff(**BLANK, check=check.key, until=_again(check, said, today), why=said or None)
    return PutOff(**BLANK, check=check.key, until=until, why=rest or None)


def day_named(text: str, today: date) -> date | None:
    """The day that was named: `saturday`, `3 days`, `2027-03-20`; None where it is none.

    Raises:
        RefusedError: It is past.
    """
    word = text.casefold().removeprefix("till ").removeprefix("until ").strip(" .")
    if word == "tomorrow":
        return today + timedelta(days=1)
    if len(word) >= 3 and word[:3] in WEEKDAYS and word.isalpha():
        ahead = (WEEKDAYS.index(word[:3]) - today.weekday() - 1) % 7 + 1
        return today + timedelta(days=ahead) if _is_weekday(word) else None
    if match := _DAYS.fullmatch(word):
        days = int(match[1]) if match[1] else 7 * int(match[2])
        return today + timedelta(days=days) if days else None
    try:
        day = parse_day(word)
    except ValueError:
        return None
    if day <= today:
        raise RefusedError(f"{day.isoformat()} is past: name a day that lies ahead")
    return day


def _is_weekday(word: str) -> bool:
    """`sat` and `saturday`, but not `sunny`."""
    return _IN_FULL[WEEKDAYS.index(word[:3])].startswith(word)


def _again(check: Check, why: str, today: date) -> date:
    """When to ask again, where no day was named."""
    if check.what == "feel":
        days = _MOIST_AGAIN_DAYS[min(check.put_off, len(_MOIST_AGAIN_DAYS) - 1)]
    elif "leaf" in why.casefold():
        days = _LEAF_AGAIN_DAYS
    elif check.what == "close":
        days = NONE_NEW_DAYS
    else:
        days = 1
    return today + timedelta(days=days)
