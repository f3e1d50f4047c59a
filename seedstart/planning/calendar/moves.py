"""What another plan moves: sowings to other days, and by how much."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import groupby
from typing import Final

from msgspec import Struct

from seedstart.planning.calendar.row import Row, Step, StepName
from seedstart.text import natural, plural

_NAMED: Final = 4
_GROUPS: Final = 3


class Move(Struct, frozen=True):
    """One sowing whose day is another.

    Attributes:
        name: The lot, and which of its sowings where it has several.
        is_sown: It is sown already, and its day to set out moves; else its day to sow does.
        was: The day before; None where it had none.
        now: The day then; None where it has none.
        too_late: Its time to sow would be over.
    """

    name: str
    is_sown: bool
    was: date | None
    now: date | None
    too_late: bool = False

    @property
    def days(self) -> int:
        """Days that it moves, later positive; 0 where one of the days is missing."""
        return (self.now - self.was).days if self.was and self.now else 0


def moves(before: Iterable[Row], after: Iterable[Row], today: date) -> tuple[Move, ...]:
    """The sowings that both calendars have and whose day differs.

    Args:
        before: The calendar as it is.
        after: As it would be.
        today: What ended before it can no longer be sown in time.
    """
    old = {_key(row): row for row in before}
    pairs = ((old[_key(row)], row) for row in after if _key(row) in old)
    found = (_move(was, now, today) for was, now in pairs)
    return tuple(sorted((one for one in found if one), key=lambda one: (one.days, one.name)))


def _key(row: Row) -> tuple[str, int]:
    return (row.sowing_id, 0) if row.sowing_id else (row.lot or row.crop, row.number)


def _move(before: Row, after: Row, today: date) -> Move | None:
    is_sown = after.sowing_id is not None
    step: StepName = "set_out" if is_sown else "sow"
    was, now = before.step(step), after.step(step)
    if is_sown and any(one is not None and one.is_ == "happened" for one in (was, now)):
        return None
    too_late = not is_sown and _ended(now, today) and not _ended(was, today)
    found = Move(_called(after), is_sown, _planned(was), _planned(now), too_late)
    return found if found.was != found.now else None


def _planned(step: Step | None) -> date | None:
    """The day that was reckoned, also where it has passed undone."""
    window = (step.missed or step.window) if step else None
    return window.best if window else None


def _ended(step: Step | None, today: date) -> bool:
    window = (step.missed or step.window) if step else None
    return window is not None and window.latest < today


def _called(row: Row) -> str:
    name = row.sowing or row.lot or row.crop
    return f"{name}/{row.number}" if row.number > 1 and not row.sowing else name


def moves_in_words(found: Sequence[Move], *, done: bool = False) -> list[str]:
    """What moves, a sentence each: how many, by how much, which; what could not be sown in time.

    Args:
        found: What moves.
        done: The change is made; else it is one that might be.
    """
    be, have, get = ("is", "has", "gets") if done else ("would be", "would have", "would get")
    if not found:
        return ["No sowing moves."]
    said: list[str] = []
    for is_sown, act in ((False, "sown"), (True, "set out")):
        those = [one for one in found if one.is_sown == is_sown and one.days]
        said += _by_days(those, f"{be} {act}")
        no_day = [one for one in found if one.is_sown == is_sown and not one.now]
        if no_day:
            said.append(f"{_those(no_day, have)} no day to be {act}: "
                        f"{_names(no_day)}.")  # fmt: skip
        new = [one for one in found if one.is_sown == is_sown and not one.was]
        if new:
            said.append(f"{_those(new, get)} a day to be {act}: {_names(new)}.")
    late = [one for one in found if one.too_late]
    if late:
        said.append(f"Too late to sow {plural(len(late), 'sowing')}: {_names(late)}.")
    return said


def _by_days(those: Sequence[Move], act: str) -> list[str]:
    groups = [list(group) for _, group in groupby(those, key=lambda one: one.days)]
    if len(groups) <= _GROUPS:
        return [f"{_those(group, act)} {_by(group[0].days)}: {_names(group)}." for group in groups]
    said = []
    for word, side in (
        ("earlier", [one for one in those if one.days < 0]),
        ("later", [one for one in those if one.days > 0]),
    ):
        if side:
            amounts = sorted(abs(one.days) for one in side)
            low, high = amounts[0], amounts[-1]
            span = plural(low, "day") if low == high else f"{low} to {high} days"
            said.append(f"{_those(side, act)} {span} {word}: {_names(side)}.")
    return said


def _those(found: Sequence[Move], verb: str) -> str:
    """`1 sowing is sown`, `2 sowings are sown`."""
    many = {"is": "are", "has": "have", "gets": "get"}
    first, _, rest = verb.partition(" ")
    said = f"{many.get(first, first) if len(found) != 1 else first} {rest}".rstrip()
    return f"{plural(len(found), 'sowing')} {said}"


def _by(days: int) -> str:
    return f"{plural(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


def _names(those: Sequence[Move]) -> str:
    names = sorted((one.name for one in those), key=natural)
    return ", ".join(names[:_NAMED]) + (" …" if names[_NAMED:] else "")


def in_short(found: Sequence[Move]) -> str:
    """The same in one line for a table: `7 sowings 17 days earlier, 2 sown too late`."""
    counts: Mapping[int, int] = {
        days: len(list(group)) for days, group in groupby(found, key=lambda one: one.days) if days
    }
    if not counts:
        return "nothing moves"
    total, least, most = sum(counts.values()), min(counts), max(counts)
    if least == most:
        span = _by(least)
    elif least * most > 0:
        low, high = sorted((abs(least), abs(most)))
        span = f"{low} to {high} days {'later' if least > 0 else 'earlier'}"
    else:
        span = f"by up to {max(-least, most)} days"
    late = sum(one.too_late for one in found)
    return f"{plural(total, 'sowing')} {span}{f', {late} too late to sow' if late else ''}"
