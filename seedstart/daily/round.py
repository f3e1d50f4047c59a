"""The round: checks in walking order, some forty lines for 500 lots."""

import operator
import sys
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta, tzinfo
from itertools import chain, groupby
from typing import Any, Final, NamedTuple

from msgspec import structs

from seedstart.daily.check import Alert, Check, Round, What, first_few
from seedstart.daily.check_status import Said
from seedstart.daily.memo import Memo
from seedstart.daily.round_context import Scene
from seedstart.season.journal.entry import Entry
from seedstart.text import natural, plural

_FEWEST_GATHERED: Final = 3
_FEWEST_IN_ONE_GO: Final = 2
# Felt in one go along a bench, however short the round: from the second tray on one line.
_ALWAYS: Final[dict[What, int]] = {"water": 2}
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
    "water": "feel",
    "moisten": "keep moist the tests",
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


def _one_line(parts: tuple[Check, ...]) -> Check:
    """One line for several checks of one kind at one station; it says what is left of them."""
    left = tuple(part for part in parts if not part.done) or parts
    first, number, whose = left[0], len(left), _whose(left)
    which = plural(number, _of(left))
    says = _says(first.what, which, f": {whose}" if whose else "", all(one.done for one in parts))
    alike = ""
    if first.together is not None:
        least = min(left, key=_hours)
        says = (least.together or first.together).says.replace("{}", whose or which)
        alike = f" {first.together.alike}"
        parts = tuple(_as_long_as(least, part) for part in parts)
    return structs.replace(
        first,
        key=f"{first.what}{alike} at {first.station or 'no station'}",
        says=says,
        why=(),
        subject=("station", first.station or ""),
        tray=None,
        sowings=(),
        due=min(part.due for part in left),
        tick=None,
        typed=None,
        together=None,
        put_off=0,
        **_done_by(parts),
        parts=parts,
    )


def _of(left: Sequence[Check]) -> str:
    trays = {part.tray for part in left}
    if left[0].subject[0] == "lot":
        return "lot"
    return "tray" if None not in trays and len(trays) == len(left) else "sowing"


def _whose(left: Sequence[Check]) -> str:
    """The first few names; empty where one has none."""
    if left[0].subject[0] == "lot":
        return first_few(list(dict.fromkeys(part.subject[1] for part in left)))
    trays = _of(left) == "tray"
    carried = [
        (part.tray if trays else None)
        or (part.sowings[0].name if part.sowings else part.tray or "")
        for part in left
    ]
    return first_few(carried) if all(carried) else ""


def _hours(part: Check) -> float:
    return (part.together.hours if part.together else None) or 0.0


def _as_long_as(least: Check, part: Check) -> Check:
    """A part of a line that goes by the fewest hours: those are written of it."""
    if part.done or least.together is None or least.together.hours is None:
        return part
    if part.tick is None or least.tick is None:
        return structs.replace(part, tick=None)
    night = least.tick.of[0].get("night", "")
    of = tuple({**texts, "night": night} for texts in part.tick.of)
    return structs.replace(part, tick=structs.replace(part.tick, of=of, given=least.tick.given))


def _says(what: What, which: str, where: str, done: bool) -> str:
    if what == "water":
        return f"felt {which}{where}" if done else f"feel {which}; water what is dry{where}"
    return f"{_TOGETHER[what]} {which}{where}"


_AWAY_DAYS: Final = 3


def days_away(entries: Iterable[Entry], today: date, zone: tzinfo) -> tuple[date, date] | None:
    """The first and the last day before today on which nothing was written.

    Returns:
        None where they are fewer than three.
    """
    midnight = datetime.combine(today, time(), zone)
    last = max((entry.at for entry in entries if entry.at < midnight), default=None)
    if last is None:
        return None
    first, until = last.astimezone(zone).date() + timedelta(days=1), today - timedelta(days=1)
    return (first, until) if (until - first).days + 1 >= _AWAY_DAYS else None


# What cannot wait when nobody was there for days: water, then roots, then the days of sowing.
# Common practice, no source.
_FIRST_OF_ALL: Final[tuple[What, ...]] = ("water", "prick out", "sow")


def first_of_all(checks: Iterable[Check]) -> tuple[tuple[Check, ...], tuple[Check, ...]]:
    """After days away: what cannot wait, a line an act whatever the station; and the rest.

    Args:
        checks: The lines of a round.
    """
    lines = tuple(checks)
    every = {what: [one for line in lines for one in line.parts or (line,) if one.what == what]
             for what in _FIRST_OF_ALL}  # fmt: skip
    several = {
        what: parts
        for what, parts in every.items()
        if len(parts) > 1 and not all(part.done for part in parts)
    }
    first = tuple(
        structs.replace(_one_line(tuple(parts)), key=f"{what} first")
        if len(parts) > 1
        else parts[0]
        for what, parts in several.items()
    )
    return first, tuple(line for line in lines if line.what not in several)


def _done_by(parts: Sequence[Check]) -> dict[str, Any]:
    """Who did all of them, and when the last; nobody while one of them is to be done."""
    who = [part.done_by for part in parts if part.done_by is not None]
    if len(who) < len(parts):
        return {"done_by": None, "done_at": None}
    when = max((part.done_at for part in parts if part.done_at), default=None)
    return {"done_by": ", ".join(dict.fromkeys(filter(None, who))), "done_at": when}


# More lines than this, and those of one kind at one station are gathered into one.
MOST_LINES: Final = 40
_PLACE: Final = operator.attrgetter("place")
_STATION: Final = operator.attrgetter("station")


class Placed(NamedTuple):
    """A check, and its place in the walk."""

    place: tuple[Any, ...]
    check: Check


def placed(checks: Iterable[Check], scene: Scene) -> tuple[Placed, ...]:
    """Checks in walking order."""
    place = _walking(scene)
    return tuple(sorted((Placed(place(one), one) for one in checks), key=_PLACE))


def round_of(
    scene: Scene,
    parts: Iterable[Sequence[Placed]],
    alerts: Iterable[Alert],
    said: Mapping[str, Said],
    walk: "Walk",
) -> Round:
    """The round of a day.

    Args:
        scene: The moment.
        parts: All that is to be done or was done today, each part in walking order.
        alerts: What goes wrong.
        said: What was said of checks and alerts, by their keys.
        walk: Keeps what a station's checks and lines were.
    """
    lines, later = walk.past(parts, said, scene)
    frost = scene.season.frost
    days = (frost.last - scene.today).days if frost and frost.last else None
    return Round(
        day=scene.today,
        days_to_frost=days,
        alerts=tuple(alerts),
        checks=tuple(lines),
        later=tuple(later),
    )


def _after_said(check: Check, known: Said, today: date) -> Check | None:
    """A check as it stands after what was said of it; None where it was put off."""
    if check.done:
        return check
    checked = known.checked
    if checked is not None:
        if checked.at.date() != today:
            return None  # said once and for all: its key is this one occurrence
        return structs.replace(check, done_by=checked.by, done_at=checked.at)
    if known.hides_on(today):
        return None
    return structs.replace(check, put_off=len(known.put_off))


def _walking(scene: Scene) -> Callable[[Check], tuple[Any, ...]]:
    """Before the walk what is in no place; then station by station, tray by tray."""
    order = {station.name: number for number, station in enumerate(scene.season.stations)}

    def place(check: Check) -> tuple[Any, ...]:
        number = -1 if check.station is None else order.get(check.station, len(order))
        tray = natural(check.tray or "")
        # Seed is sown when what stands there is done.
        seed = check.subject[0] == "lot"
        station = check.station or ""
        return number, station, seed, not check.tray, tray, ACT[check.what], natural(check.says)

    return place


class _Here(NamedTuple):
    """All checks of one station in walking order, and their keys."""

    checks: tuple[Check, ...]
    keys: frozenset[str]


class _Told(NamedTuple):
    """What of a station's checks is to be done or done, and what was put off."""

    now: tuple[Check, ...]
    later: tuple[Check, ...]


class Walk:
    """Few lines as they are; of many, those of one kind at one station as one.

    What is done keeps its place in its line: nothing closes up under a grower who ticks.
    A station where nothing is new is not looked at again: a nursery has a thousand checks, and to
    fetch each of them from memory costs a tick more than all that it changes.
    """

    def __init__(self, memo: Memo) -> None:
        """Nothing told yet."""
        self._memo = memo

    def past(
        self, parts: Iterable[Sequence[Placed]], said: Mapping[str, Said], scene: Scene
    ) -> tuple[Iterable[Check], Iterable[Check]]:
        """The lines of a round, and what was put off.

        Args:
            parts: Each in walking order.
            said: What was said of checks, by their keys.
            scene: The moment.
        """
        stations: defaultdict[int, list[Sequence[Placed]]] = defaultdict(list)
        for part in filter(None, parts):
            for number, piece in _by_station(part):
                stations[number].append(piece)
        told = {
            number: self._told(number, tuple(stations[number]), said, scene.today)
            for number in sorted(stations)
        }
        many = sum(len(one.now) for one in told.values()) > MOST_LINES
        lines = (self._memo.of(self._lines, number, one.now, many) for number, one in told.items())
        return chain.from_iterable(lines), chain.from_iterable(one.later for one in told.values())

    def _told(
        self,
        number: int,
        parts: tuple[Sequence[Placed], ...],
        said: Mapping[str, Said],
        today: date,
    ) -> _Told:
        here = self._memo.of(_here, number, parts)
        spoken = {key: said[key] for key in said.keys() & here.keys}
        return self._memo.of(self._after_all, number, here, spoken, today)

    def _after_all(self, here: _Here, spoken: Mapping[str, Said], today: date) -> _Told:
        now: list[Check] = []
        later: list[Check] = []
        for check in here.checks:
            known = spoken.get(check.key)
            one = (
                check
                if known is None
                else self._memo.of(_after_said, check.key, check, known, today)
            )
            if one is not None:
                now.append(one)
            elif known is not None and known.checked is None:
                later.append(check)
        return _Told(tuple(now), tuple(later))

    def _lines(self, told: tuple[Check, ...], many: bool) -> tuple[Check, ...]:
        """The lines of what was told of a station; those that are not listed share a number."""
        by_station = groupby(told, key=_STATION)
        every = (self._gathered(station, tuple(checks), many) for station, checks in by_station)
        return tuple(chain.from_iterable(every))

    def _gathered(
        self, station: str | None, here: tuple[Check, ...], many: bool
    ) -> Iterator[Check]:
        """Of several checks of one kind at one station one line, where the last of them stood."""
        alike: defaultdict[tuple[What, str], list[Check]] = defaultdict(list)
        for check in here:
            alike[_kind(check)].append(check)
        together = {kind for kind, parts in alike.items() if len(parts) >= _fewest(kind, many)}
        if many:
            here = tuple(sorted(here, key=lambda check: ACT[check.what]))
        for check in here:
            kind = _kind(check)
            parts = alike[kind]
            if kind not in together:
                yield check
            elif check is parts[-1]:
                yield self._memo.of(_one_line, (station, kind), tuple(parts))


def _kind(check: Check) -> tuple[What, str]:
    return check.what, check.together.alike if check.together is not None else ""


def _fewest(kind: tuple[What, str], many: bool) -> int:
    """How many of a kind share a line."""
    what, alike = kind
    if alike:
        return _FEWEST_IN_ONE_GO
    return _ALWAYS.get(what, _FEWEST_GATHERED if many else sys.maxsize)


def _here(parts: tuple[Sequence[Placed], ...]) -> _Here:
    checks = tuple(check for _, check in sorted(chain.from_iterable(parts), key=_PLACE))
    return _Here(checks, frozenset(check.key for check in checks))


def _by_station(part: Sequence[Placed]) -> Iterable[tuple[int, Sequence[Placed]]]:
    """Seed waits before the walk and at several stations; what is carried is at one."""
    first, last = part[0].place[0], part[-1].place[0]
    if first == last:
        return ((first, part),)
    return [(number, tuple(piece)) for number, piece in groupby(part, key=lambda one: one.place[0])]
