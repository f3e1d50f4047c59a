"""What the round lists: alerts, stations, checks, and the parts of a line that gathers several."""

from collections.abc import Iterator
from datetime import date
from itertools import groupby
from operator import is_
from typing import Final

from msgspec import Struct

from seedstart.daily.answers import seen_in_words, what_answers
from seedstart.daily.check import FELT, Alert, Check, Round
from seedstart.daily.check_status import single_checks
from seedstart.drawing.lines import Line, wrapped
from seedstart.drawing.round_lines import (
    BEFORE_THE_WALK,
    Group,
    More,
    alert_line,
    check_line,
    group_line,
    more_line,
    said_of_alert,
    said_of_check,
)

_FEW_ALERTS: Final = 3
_OPENS: Final = "Enter"


class Part(Struct, frozen=True):
    """One check of a line that gathers several, shown under it."""

    check: Check


Item = Alert | Check | Part | Group | More


class Listed:
    """A round as a list; what says the same is the same object as before.

    Attributes:
        all_alerts: Whether all alerts are listed, or the most urgent ones.
        unfolded: Keys of the lines whose parts are listed under them.
    """

    def __init__(self) -> None:
        """Few alerts, and nothing unfolded."""
        self.all_alerts = False
        self.unfolded: set[str] = set()
        self._groups: dict[str, tuple[list[Check], Group]] = {}
        self._more: More | None = None
        self._parts: dict[int, Part] = {}  # by the `id` of the check, which the part keeps

    def items(self, found: Round) -> tuple[Item, ...]:
        """The items of a round, in the order of the walk."""
        items = tuple(self._items(found))
        self._parts = {id(item.check): item for item in items if isinstance(item, Part)}
        return items

    def _items(self, found: Round) -> Iterator[Item]:
        yield from found.alerts if self.all_alerts else found.alerts[:_FEW_ALERTS]
        if len(found.alerts) > _FEW_ALERTS:
            more = More(len(found.alerts) - _FEW_ALERTS, shown=self.all_alerts)
            self._more = self._more if self._more == more else more
            yield self._more
        for station, checks in groupby(found.checks, key=lambda check: check.station):
            here = list(checks)
            yield self._group(station or BEFORE_THE_WALK, here)
            for check in here:
                yield check
                if check.key in self.unfolded:
                    yield from (self._parts.get(id(part)) or Part(part) for part in check.parts)

    def _group(self, name: str, checks: list[Check]) -> Group:
        """The heading of a station."""
        before, group = self._groups.get(name, ([], None))
        if group is None or len(before) != len(checks) or not all(map(is_, before, checks)):
            single = list(single_checks(checks))
            found = Group(name, sum(check.done for check in single), len(single))
            group = group if group == found else found
            self._groups[name] = checks, group
        return group


def line_of(item: Item, today: date, width: int) -> Line:
    """The line of an item, for a width in cells."""
    if isinstance(item, Group):
        return group_line(item, width)
    if isinstance(item, More):
        return more_line(item, _OPENS)
    if isinstance(item, Alert):
        return alert_line(item)
    return check_line(check_of(item), today, width, part=isinstance(item, Part), opens=_OPENS)


def check_of(item: Item) -> Check:
    """The check that an item shows.

    Raises:
        TypeError: It shows none.
    """
    if isinstance(item, Part):
        return item.check
    if not isinstance(item, Check):
        raise TypeError(f"{item} is no check")
    return item


def is_open(item: Item) -> bool:
    """Whether it is a check that is to be done."""
    return isinstance(item, Check | Part) and not check_of(item).done


def may_choose(item: Item) -> bool:
    """Whether the cursor may stand there."""
    return not isinstance(item, Group)


def key_of(item: Item) -> object:
    """What makes two objects the same item."""
    if isinstance(item, Group):
        return "group", item.name
    if isinstance(item, More):
        return "more"
    if isinstance(item, Alert):
        return "alert", item.key
    return "check", check_of(item).key  # where few are left, a part becomes a line of its own


def said_of(item: Alert | Check | Part, width: int) -> list[Line]:
    """What stands beside the line under the cursor: what its keys do, and why it is there."""
    if isinstance(item, Alert):
        seen = f"Space: {seen_in_words(item)}"
        return [*said_of_alert(item, width), *wrapped(seen, width, "", "quiet")]
    check = check_of(item)
    return said_of_check(check, "" if check.done else how_to_answer(check), width)


def how_to_answer(check: Check) -> str:
    """What a key does at a check, and what may be typed there, as one sentence."""
    if check.parts:
        together = all(part.done or part.tick is not None for part in check.parts)
        tick = "Space ticks all of them" if together else "Each needs its own answer"
        return f"{tick}; {_OPENS} shows them."
    tick = "Space ticks it" if check.tick is not None else ""
    if check.what in FELT:
        tick = "Space: watered"
    if check.what == "close" and check.tick is not None:
        tick = "Space closes the count"
    answers = what_answers(check)
    typed = f"{_OPENS}, and type {answers}" if answers else ""
    text = "; or ".join(part for part in (tick, typed) if part)
    return f"{text[:1].upper()}{text[1:]}."
