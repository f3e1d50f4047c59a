"""Putting a check off: what was typed → until when, and why."""

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import chain
from typing import Final

from msgspec import Struct

from seedstart.acts.act import Values
from seedstart.acts.known import Known
from seedstart.acts.notes_and_plan import MOIST, PUT_OFF
from seedstart.acts.read import read
from seedstart.daily.check import FELT, Alert, Check, Round
from seedstart.days import SOON_DAYS, Window, day_ahead, nearest_work_day
from seedstart.problems import Problem
from seedstart.season.journal.entries import Checked, PutOff
from seedstart.season.journal.entry import Entry
from seedstart.season.journal.journal import Journal
from seedstart.text import clean, folded


class Said(Struct, frozen=True):
    """What was said of one key.

    Attributes:
        checked: The latest `checked`.
        put_off: Every `put_off`, in order.
    """

    checked: Checked | None = None
    put_off: tuple[PutOff, ...] = ()

    def hides_on(self, today: date) -> bool:
        """Whether the check is put off on that day; without a day named it is till tomorrow."""
        if not self.put_off:
            return False
        last = self.put_off[-1]
        return today < (last.until or last.at.date() + timedelta(days=1))


NOTHING_SAID = Said()
# Keys begin otherwise than they once did; journals keep the old ones.
_FORMERLY: Final = {"water ": "feel "}


def keys_of(key: str) -> tuple[str, ...]:
    """The key by which a check is called now, and those by which journals may call it.

    Args:
        key: A present or a former key.
    """
    for now, before in _FORMERLY.items():
        if key.startswith((now, before)):
            rest = key.removeprefix(now).removeprefix(before)
            return f"{now}{rest}", f"{before}{rest}"
    return (key,)


def said_of(entries: Iterable[Entry]) -> Said:
    """What was said of one key, from its entries in force in order of (at, id)."""
    checked, off = None, []
    for entry in entries:
        if isinstance(entry, Checked):
            checked = entry
        elif isinstance(entry, PutOff):
            off.append(entry)
    return Said(checked, tuple(off)) if checked or off else NOTHING_SAID


def hear(said: dict[str, Said], keys: Iterable[str], journal: Journal, until: date | None) -> None:
    """Bring what was said up to date for some checks and alerts; what was struck is not said.

    Args:
        said: What was said, by the first of a line's keys; brought up to date.
        keys: Keys under which something new may stand.
        journal: What was written.
        until: As of the end of that day.
    """
    for names in {keys_of(key) for key in keys}:
        every = chain.from_iterable(journal.in_force(("check", key)) for key in names)
        found = said_of(
            one
            for one in sorted(every, key=lambda one: (one.at, one.id))
            if until is None or one.at.date() <= until
        )
        said.pop(names[0], None)
        if found is not NOTHING_SAID:
            said[names[0]] = found


def key_named(found: Round, typed: str) -> str | Problem:
    """The key of a check or an alert of the day, from it or as much of it as fits no other."""
    one = find(found, typed, option="check")
    return one if isinstance(one, Problem) else one.key


def find(found: Round, typed: str, *, option: str) -> Check | Alert | Problem:
    """What a key means: whole, or its beginning where that fits one alone.

    Args:
        found: The round; what was put off is found too, and may be answered all the same.
        typed: The key as it was typed.
        option: Where, for the problem.
    """
    wanted = folded(clean(typed).strip())
    every: list[Check | Alert] = [
        *lines_and_parts(found.checks), *found.alerts, *found.later,
    ]  # fmt: skip
    exact = [one for one in every if folded(one.key) == wanted]
    begun = [one for one in every if wanted and folded(one.key).startswith(wanted)]
    # Whole words go first: `count T` is tray T before it is any `count tray …`.
    whole = [one for one in begun if folded(one.key).startswith(f"{wanted} ")]
    fits = exact or _to_be_done(whole) or _to_be_done(begun)
    if len(fits) == 1:
        return fits[0]
    keys = tuple(one.key for one in fits or every)
    hint = "Several match: type more of it." if fits else _where(every)
    return Problem(
        file=option,
        found=typed,
        allowed=keys,
        hint=hint,
        listed_by="checks",
    )


def _to_be_done(found: list[Check | Alert]) -> list[Check | Alert]:
    """Those still to be done, where any is; what was done already is seldom meant."""
    return [one for one in found if isinstance(one, Alert) or not one.done] or found


def _where(every: Sequence[Check | Alert]) -> str:
    return "" if every else "Nothing to do today."


def lines_and_parts(checks: Iterable[Check]) -> Iterator[Check]:
    """Every line, and after a line that gathers several those too."""
    for check in checks:
        yield check
        yield from check.parts


def single_checks(checks: Iterable[Check]) -> Iterator[Check]:
    """Every check by itself, in the order of the walk."""
    for check in checks:
        yield from check.parts or (check,)


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
    if match is None and not (check.what in FELT and MOIST.fullmatch(typed)):
        return None
    said = match[1].strip() if match else typed
    parts: Sequence[Check] = [part for part in check.parts if not part.done] or (check,)
    return tuple(entry for part in parts for entry in _one(part, said, known))


def _one(check: Check, said: str, known: Known) -> tuple[Entry, ...]:
    today = known.now.date()
    first, _, rest = (part.strip() for part in said.partition(":"))
    until, why = day_ahead(first, today), rest
    if until is None:
        until, why = _again(check, said, known), said
    given: dict[str, Values] = {"check": {"check": check.key}, "till": {"until": until}}
    return read(PUT_OFF, known, {"why": why}, given).entries


def _next_work_day(today: date, known: Known) -> date:
    """The first day after today on which somebody sows; tomorrow where none is near."""
    first = today + timedelta(days=1)
    soon = Window(first, first, today + timedelta(days=SOON_DAYS))
    return nearest_work_day(soon, known.plan.work_days, known.plan.away) or first


def _again(check: Check, why: str, known: Known) -> date:
    """When to ask again, where no day was named."""
    today = known.now.date()
    if check.what == "sow":
        return _next_work_day(today, known)
    if check.what in FELT:
        days = _MOIST_AGAIN_DAYS[min(check.put_off, len(_MOIST_AGAIN_DAYS) - 1)]
    elif "leaf" in why.casefold():
        days = _LEAF_AGAIN_DAYS
    elif check.what == "close":
        from seedstart.planning.prospects.prospect import NONE_NEW_DAYS  # 3 ms for `log` elsewhere

        days = NONE_NEW_DAYS
    else:
        days = 1
    return today + timedelta(days=days)
