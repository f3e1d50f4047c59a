"""Checks of one kind at one station, gathered into one line."""

import operator
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from msgspec import structs

from seedstart.daily.check import Check, What
from seedstart.daily.wording import first_few
from seedstart.text import plural

_FEWEST_GATHERED: Final = 3
# Each act, and how a line begins that stands for several of it. In this order at a station: a tray
# is carried elsewhere when all else is done to it.
_TOGETHER: Final[dict[What, str]] = {
    "take out": "take out the seed of",
    "treat": "treat the seed of",
    "sow": "sow",
    "look": "look for seedlings in",
    "count": "count",
    "settle": "settle the counts of",
    "close": "close the counts of",
    "uncover": "lift the covers of",
    "water": "feel, and water what is dry:",
    "thin": "thin",
    "prick out": "prick out",
    "pot on": "pot on",
    "feed": "feed",
    "measure": "measure",
    "harden": "harden off",
    "set out": "set out",
    "move to light": "move to the light:",
    "lamp on": "lamps on over",
    "raise lamps": "look how near the leaves are to the lamps of",
}
_WHATS: Final = tuple(_TOGETHER)
ACT: Final = {what: number for number, what in enumerate(_WHATS)}


class Gathering:
    """Of several checks of one kind at one station one line.

    A line whose checks are the same objects as before is the same object too.
    """

    def __init__(self) -> None:
        """Nothing gathered yet."""
        self._kept: dict[tuple[str | None, What], Check] = {}

    def lines(self, station: str | None, here: Iterable[Check]) -> Iterator[Check]:
        """The lines of a station's checks, which come in walking order."""
        alike: dict[int, list[Check]] = {}
        for check in here:
            alike.setdefault(ACT[check.what], []).append(check)
        for act, parts in sorted(alike.items()):
            if len(parts) < _FEWEST_GATHERED:
                yield from parts
            else:
                yield self._line(station, _WHATS[act], parts)

    def _line(self, station: str | None, what: What, parts: Sequence[Check]) -> Check:
        kept = self._kept.get((station, what))
        if kept is None or not same_objects(kept.parts, parts):
            kept = self._kept[station, what] = _one_line(parts)
        return kept


def same_objects(before: Sequence[object], now: Sequence[object]) -> bool:
    """Whether they are the very same objects."""
    return len(before) == len(now) and all(map(operator.is_, before, now))


def _one_line(parts: Sequence[Check]) -> Check:
    """One line for several checks of one kind at one station; it says what is left of them."""
    left = [part for part in parts if not part.done] or parts
    first, number = left[0], len(left)
    trays = {part.tray for part in left}
    of = "tray" if None not in trays and len(trays) == number else "sowing"
    if first.subject[0] == "lot":
        of = "lot"
    carried = [
        (part.tray if of == "tray" else None)
        or (part.sowings[0].name if part.sowings else part.tray or "")
        for part in left
    ]
    where = f": {first_few(carried)}" if all(carried) else ""
    return structs.replace(
        first,
        key=f"{first.what} at {first.station or 'no station'}",
        says=f"{_TOGETHER[first.what]} {plural(number, of)}{where}",
        why=(),
        subject=("station", first.station or ""),
        tray=None,
        sowings=(),
        due=min(part.due for part in left),
        tick=None,
        typed=None,
        put_off=0,
        **_done_by(parts),
        parts=tuple(parts),
    )


def _done_by(parts: Sequence[Check]) -> dict[str, Any]:
    """Who did all of them, and when the last; nobody while one of them is to be done."""
    who = [part.done_by for part in parts if part.done_by is not None]
    if len(who) < len(parts):
        return {"done_by": None, "done_at": None}
    when = max((part.done_at for part in parts if part.done_at), default=None)
    return {"done_by": ", ".join(dict.fromkeys(filter(None, who))), "done_at": when}
