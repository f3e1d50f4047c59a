"""The round: checks in walking order, some forty lines for 500 lots."""

import operator
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain, groupby
from typing import Any, Final, NamedTuple

from msgspec import structs

from seedstart.daily.carriers import natural
from seedstart.daily.check import Alert, Check, Round, What
from seedstart.daily.said import Said
from seedstart.daily.same import Same
from seedstart.daily.scene import Scene
from seedstart.daily.wording import first_few
from seedstart.text import plural

# More lines than this, and those of one kind at one station are gathered into one.
MOST_LINES: Final = 40
_FEWEST_GATHERED: Final = 3
# A tray is carried elsewhere when all else is done to it.
_WHATS: Final[tuple[What, ...]] = (
    "take out", "treat", "sow", "look", "count", "uncover", "feel", "thin", "prick out", "pot on",
    "feed", "measure", "harden", "set out", "move to light", "lamp on",
)  # fmt: skip

_ACT: Final = {what: number for number, what in enumerate(_WHATS)}
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
    gathering: "Gathering",
) -> Round:
    """The round of a day.

    Args:
        scene: The moment.
        parts: All that is to be done or was done today, each part in walking order.
        alerts: What goes wrong.
        said: What was said of checks and alerts, by their keys.
        gathering: Keeps the lines that gather several.
    """
    # Part after part they are all but in order already: sorting them costs next to nothing.
    in_turn = sorted(filter(None, parts), key=lambda part: part[0].place)
    walk = sorted(chain.from_iterable(in_turn), key=_PLACE)
    told: list[Check] = []
    later: list[Check] = []
    for _, check in walk:
        known = said.get(check.key)
        one = check if known is None else _after_said(check, known, scene)
        if one is not None:
            told.append(check if one is check else gathering.same.of(check.key, one))
        elif known is not None and known.checked is None:
            later.append(check)
    frost = scene.season.frost
    days = (frost.last - scene.today).days if frost and frost.last else None
    return Round(
        day=scene.today,
        days_to_frost=days,
        alerts=tuple(alerts),
        checks=tuple(gathering.lines(told)),
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
        return number, station, seed, not check.tray, tray, _ACT[check.what], check.says

    return place


class Gathering:
    """Few lines as they are; of many, those of one kind at one station as one.

    What is done keeps its place in its line: nothing closes up under a grower who ticks.
    A line whose checks are the same objects as before is the same object too.

    Attributes:
        same: The checks of which something was said, as they were handed out.
    """

    def __init__(self) -> None:
        """Nothing gathered yet."""
        self._kept: dict[tuple[str | None, What], Check] = {}
        # By station, its checks and the lines that they make.
        self._at: dict[str | None, tuple[list[Check], list[Check]]] = {}
        self.same = Same()

    def lines(self, checks: Sequence[Check]) -> Iterable[Check]:
        """The lines of checks in walking order."""
        if len(checks) <= MOST_LINES:
            return checks
        lines: list[Check] = []
        for station, group in groupby(checks, key=_STATION):
            here = list(group)
            before, kept = self._at.get(station, ([], []))
            if not _same(before, here):
                kept = list(self._gathered(station, here))
                self._at[station] = here, kept
            lines += kept
        return lines

    def _gathered(self, station: str | None, here: Iterable[Check]) -> Iterator[Check]:
        alike: dict[int, list[Check]] = {}
        for check in here:
            alike.setdefault(_ACT[check.what], []).append(check)
        for act, parts in sorted(alike.items()):
            if len(parts) < _FEWEST_GATHERED:
                yield from parts
            else:
                yield self._line(station, _WHATS[act], parts)

    def _line(self, station: str | None, what: What, parts: Sequence[Check]) -> Check:
        kept = self._kept.get((station, what))
        if kept is None or not _same(kept.parts, parts):
            kept = self._kept[station, what] = _one_line(parts)
        return kept


def _same(before: Sequence[Check], now: Sequence[Check]) -> bool:
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
        asks="tick",
        writes=(),
        to_sow=None,
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


_TOGETHER: Final[dict[What, str]] = {
    "take out": "take out the seed of",
    "treat": "treat the seed of",
    "sow": "sow",
    "look": "look for seedlings in",
    "count": "count",
    "uncover": "lift the covers of",
    "move to light": "move to the light:",
    "lamp on": "lamps on over",
    "feel": "feel, and water what is dry:",
    "thin": "thin",
    "prick out": "prick out",
    "pot on": "pot on",
    "feed": "feed",
    "measure": "measure",
    "harden": "harden off",
    "set out": "set out",
}
