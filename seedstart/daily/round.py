"""The round: checks in walking order, some forty lines for 500 lots."""

import operator
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import chain, groupby
from typing import Any, Final, NamedTuple

from msgspec import structs

from seedstart.daily.check import Alert, Check, Round, What, first_few
from seedstart.daily.check_status import Said
from seedstart.daily.round_context import Scene
from seedstart.daily.same import Same
from seedstart.text import natural, plural

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


def _after_said(check: Check, known: Said, scene: Scene) -> Check | None:
    """A check as it stands after what was said of it; None where it was put off."""
    if check.done:
        return check
    checked = known.checked
    if checked is not None:
        if checked.at.date() != scene.today:
            return None  # said once and for all: its key is this one occurrence
        return structs.replace(check, done_by=checked.by, done_at=checked.at)
    if known.hides_on(scene.today):
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
    """The checks of one station as they were told.

    Attributes:
        parts: What they were told from.
        today: On which day.
        keys: The keys of all of them.
        spoken: What had been said of some.
        told: Those to be done or done, in walking order.
        later: Those that were put off.
    """

    parts: Sequence[Sequence[Placed]]
    today: date
    keys: frozenset[str]
    spoken: Mapping[str, Said]
    told: Sequence[Check]
    later: Sequence[Check]


class Walk:
    """Few lines as they are; of many, those of one kind at one station as one.

    What is done keeps its place in its line: nothing closes up under a grower who ticks.
    A line whose checks are the same objects as before is the same object too. A station where
    nothing is new is not looked at again: a nursery has a thousand checks, and to fetch each of
    them from memory costs a tick more than all that it changes.
    """

    def __init__(self) -> None:
        """Nothing told yet."""
        self._here: dict[int, _Here] = {}
        self._lines: dict[int, tuple[Sequence[Check], Sequence[Check]]] = {}  # of what was told
        self._gathering = Gathering()
        self._said_of = Same()  # checks of which something was said, as they were handed out

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
        self._here = {
            number: self._told(self._here.get(number), stations[number], said, scene)
            for number in sorted(stations)
        }
        here = self._here.values()
        many = sum(len(one.told) for one in here) > MOST_LINES
        lines = (
            self._lines_of(number, one.told) if many else one.told
            for number, one in self._here.items()
        )
        return chain.from_iterable(lines), chain.from_iterable(one.later for one in here)

    def _told(
        self,
        before: _Here | None,
        parts: Sequence[Sequence[Placed]],
        said: Mapping[str, Said],
        scene: Scene,
    ) -> _Here:
        if before and before.today == scene.today and _same_parts(before.parts, parts):
            spoken = {key: said[key] for key in said.keys() & before.keys}
            if spoken == before.spoken:
                return before
        walk = sorted(chain.from_iterable(parts), key=_PLACE)
        keys = frozenset(check.key for _, check in walk)
        spoken = {key: said[key] for key in said.keys() & keys}
        told: list[Check] = []
        later: list[Check] = []
        for _, check in walk:
            known = spoken.get(check.key)
            one = check if known is None else _after_said(check, known, scene)
            if one is not None:
                told.append(check if one is check else self._said_of.of(check.key, one))
            elif known is not None and known.checked is None:
                later.append(check)
        return _Here(parts, scene.today, keys, spoken, told, later)

    def _lines_of(self, number: int, told: Sequence[Check]) -> Sequence[Check]:
        """The lines of what was told of a station; those that are not listed share a number."""
        before, lines = self._lines.get(number, ((), ()))
        if before is not told:
            by_station = groupby(told, key=_STATION)
            found = (self._gathering.lines(station, checks) for station, checks in by_station)
            lines = list(chain.from_iterable(found))
            self._lines[number] = told, lines
        return lines


def _by_station(part: Sequence[Placed]) -> Iterable[tuple[int, Sequence[Placed]]]:
    """Seed waits before the walk and at several stations; what is carried is at one."""
    first, last = part[0].place[0], part[-1].place[0]
    if first == last:
        return ((first, part),)
    return [(number, tuple(piece)) for number, piece in groupby(part, key=lambda one: one.place[0])]


def _same_parts(before: Sequence[Sequence[Placed]], now: Sequence[Sequence[Placed]]) -> bool:
    """Whether they hold the very same objects."""
    return len(before) == len(now) and all(
        was is is_ or same_objects(was, is_) for was, is_ in zip(before, now, strict=True)
    )
