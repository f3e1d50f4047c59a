"""What a grower wants to be reminded of: every step of the calendar that is still to be done."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Final, Literal, get_args

from msgspec import Struct

from seedstart.days import short_day
from seedstart.planning.calendar.row import Row, Step, StepName, row_key
from seedstart.planning.hardening.hardening_days import days_to_come
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.season.plan.season_file import Season
from seedstart.text import plural

ReminderKind = Literal["treat", "sow", "prick-out", "pot-on", "hardening", "set-out"]
REMINDER_KINDS: Final[tuple[ReminderKind, ...]] = get_args(ReminderKind)
_OF_STEP: Final[dict[StepName, ReminderKind]] = {
    "treat": "treat", "sow": "sow", "prick_out": "prick-out", "pot_on": "pot-on",
    "harden": "hardening", "set_out": "set-out",
}  # fmt: skip


class Reminder(Struct, frozen=True):
    """One day on which something is to be done.

    Attributes:
        key: The same at every export, whatever day it moves to.
        kind: What is to be done.
        day: When.
        says: It, in a few words.
        more: Beside it: the days that will do, the reason.
    """

    key: str
    kind: ReminderKind
    day: date
    says: str
    more: str = ""


def reminders(
    season: Season,
    rows: Iterable[Row],
    hardening: Iterable[Hardening],
    today: date,
    only: Iterable[ReminderKind] = REMINDER_KINDS,
) -> tuple[Reminder, ...]:
    """What is still to be done, by day and name; a step whose day passed is for today.

    Args:
        season: The plan.
        rows: Its calendar as it is expected today.
        hardening: Who is being hardened off.
        today: The day.
        only: Which kinds.
    """
    wanted = frozenset(only)
    under_way = tuple(hardening)
    begun = {one.name for one in under_way}
    found = [
        *(reminder for row in rows for reminder in _of_row(row, season, begun, today)),
        *(reminder for each in under_way for reminder in _of_hardening(each, today)),
    ]
    kept = (reminder for reminder in found if reminder.kind in wanted)
    return tuple(sorted(kept, key=lambda reminder: (reminder.day, reminder.says, reminder.key)))


def _of_row(row: Row, season: Season, begun: set[str], today: date) -> Iterator[Reminder]:
    lot = season.lots_by_name.get(row.lot or "")
    first_name = lot.was[0] if lot is not None and lot.was else row.lot or row.crop
    for step in row.steps:
        kind = _OF_STEP.get(step.name)
        if kind is None or step.is_ == "happened" or step.window is None:
            continue
        if step.name == "harden" and _is_under_way(row, begun):
            continue  # its days stand one by one
        yield Reminder(
            key=f"{first_name}/{row.number}/{step.name}",
            kind=kind,
            day=max(step.window.best, today),
            says=_task(row, step),
            more=_more(row, step),
        )


def _is_under_way(row: Row, begun: set[str]) -> bool:
    """Whether it, or a part that was pricked out of it, is being hardened off."""
    name = row.sowing
    return name is not None and any(one == name or one.startswith(f"{name}.") for one in begun)


def _task(row: Row, step: Step) -> str:
    name = row_key(row)
    if step.name == "treat":
        return f"{name}: {step.says}" if step.says else f"treat the seed of {name}"
    if step.name == "sow":
        where = "outdoors " if step.says else ""
        return f"sow {where}{plural(row.seeds, f'{name} seed')}" if row.seeds else f"sow {name}"
    word = {"prick_out": "prick out", "pot_on": "pot on", "set_out": "set out"}.get(step.name)
    return f"{word} {name}" if word else f"begin to harden off {name}"


def _more(row: Row, step: Step) -> str:
    window = step.window
    parts = []
    if window is not None and window.earliest != window.latest:
        parts.append(
            f"Any day from {short_day(window.earliest)} to {short_day(window.latest)} will do."
        )
    if step.due is not None:
        parts.append(f"It was to be done on {short_day(step.due)}.")
    if row.stations:
        parts.append(f"At: {', '.join(row.stations)}.")
    if step.name in {"treat", "sow"} and row.warnings:
        parts.append(f"Mind: {row.warnings[0]}")
    return " ".join(parts)


def _of_hardening(plants: Hardening, today: date) -> Iterator[Reminder]:
    """Each day of hardening off that is left, with its hours, or with what keeps plants in."""
    for ahead in days_to_come(plants.course, plants.ahead, today):
        step = ahead.step
        night = ", the night too" if step.night else ""
        task = f"put {plants.name} out: {step.hours:g} h in {_LIGHT[step.light]}{night}"
        if ahead.counts == "held":
            task = f"keep {plants.name} in"
        yield Reminder(
            key=f"{plants.id}/hardening/{ahead.day.isoformat()}",
            kind="hardening",
            day=ahead.day,
            says=task,
            more=" ".join(filter(None, (f"Step {ahead.number} of {plants.of}.", ahead.why))),
        )


_LIGHT: Final = {"shade": "the shade", "half sun": "half sun", "sun": "the sun"}
