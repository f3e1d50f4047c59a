"""The round: checks in walking order, some forty lines for 500 lots."""

import operator
from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import Any, Final

from msgspec import structs

from seedstart.daily.carriers import natural
from seedstart.daily.check import Alert, Check, Round, What
from seedstart.daily.said import NOTHING_SAID, Said
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


def round_of(
    scene: Scene,
    checks: Iterable[Check],
    alerts: Iterable[Alert],
    said: Callable[[str], Said],
    gathering: "Gathering",
) -> Round:
    """The round of a day.

    Args:
        scene: The moment.
        checks: All that is to be done or was done today, in any order.
        alerts: What goes wrong.
        said: A check's key → what was said of it.
        gathering: Keeps the lines that gather several.
    """
    told = [one for check in checks if (one := _after_said(check, said, scene)) is not None]
    frost = scene.season.frost
    days = (frost.last - scene.today).days if frost and frost.last else None
    return Round(
        day=scene.today,
        days_to_frost=days,
        alerts=tuple(alerts),
        checks=tuple(gathering.lines(sorted(told, key=_walking(scene)))),
    )


def _after_said(check: Check, said: Callable[[str], Said], scene: Scene) -> Check | None:
    """A check as it stands after what was said of it; None where it was put off."""
    known = said(check.key)
    if known is NOTHING_SAID or check.done:
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

    A line whose checks are the same objects as before is the same object too.
    """

    def __init__(self) -> None:
        """Nothing gathered yet."""
        self._kept: dict[tuple[str | None, What, bool], Check] = {}

    def lines(self, checks: Sequence[Check]) -> Iterable[Check]:
        """The lines of checks in walking order."""
        if len(checks) <= MOST_LINES:
            return checks
        lines: list[Check] = []
        for station, here in groupby(checks, key=lambda check: check.station):
            alike: dict[tuple[int, bool], list[Check]] = {}
            for check in here:
                alike.setdefault((_ACT[check.what], check.done), []).append(check)
            for (act, done), parts in sorted(alike.items(), key=lambda pair: pair[0]):
                if len(parts) < _FEWEST_GATHERED:
                    lines += parts
                else:
                    lines.append(self._line((station, _WHATS[act], done), parts))
        return lines

    def _line(self, key: tuple[str | None, What, bool], parts: Sequence[Check]) -> Check:
        kept = self._kept.get(key)
        same = kept is not None and len(kept.parts) == len(parts)
        if kept is None or not (same and all(map(operator.is_, kept.parts, parts))):
            kept = self._kept[key] = _one_line(parts)
        return kept


def _one_line(parts: Sequence[Check]) -> Check:
    """One line for several checks of one kind at one station."""
    first, number = parts[0], len(parts)
    of = "tray" if all(part.tray for part in parts) else "place"
    if first.subject[0] == "lot":
        of = "lot"
    carried = [part.tray or (part.sowings[0].name if part.sowings else "") for part in parts]
    where = f": {first_few(carried)}" if all(carried) else ""
    done = all(part.done for part in parts)
    says = f"{_TOGETHER[first.what]} {plural(number, of)}{where}"
    return structs.replace(
        first,
        key=f"{first.what} at {first.station or 'no station'}{' done' if done else ''}",
        says=says,
        why=(),
        subject=("station", first.station or ""),
        tray=None,
        sowings=(),
        due=min(part.due for part in parts),
        asks="tick",
        writes=(),
        to_sow=None,
        parts=tuple(parts),
    )


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
