"""Wall clock and world time: whole columns of local times placed in a zone, and back.

Times are seconds of the epoch; a wall time is the same count read off a wall clock, as if the
wall stood in UTC. Zones come as `zoneinfo` has them; a fixed offset is a zone too.
"""

import re
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from typing import TYPE_CHECKING, Final, NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Indices = NDArray[np.intp]

_DAY_S: Final = 86400


class Change(NamedTuple):
    """A moment at which a zone's clocks are put forward or back."""

    at_s: int
    before_s: int  # offset from UTC until then
    after_s: int  # and from then on


class Placed(NamedTuple):
    """Wall times placed in a zone.

    Attributes:
        at_s: Seconds of the epoch, in the order given; for a skipped wall time the moment that
            the old offset gives.
        skipped: Rows whose wall time the zone leaves out in spring.
        unturned: Changes back to winter time over which the wall times run on evenly, as if
            the clock had never been put back.
    """

    at_s: "Floats"
    skipped: "Indices"
    unturned: tuple[Change, ...]


def find_zone(name: str) -> tzinfo:
    """A zone by IANA name, `UTC`, or a fixed offset as `+01:00`.

    Raises:
        ValueError: No such zone.
    """
    if offset := re.fullmatch(r"(?:UTC|GMT)?\s*([+-])(\d{1,2})(?::?([0-5]\d))?", name.strip()):
        minutes = int(offset[2]) * 60 + int(offset[3] or 0)
        if minutes < _DAY_S / 60:
            return timezone(timedelta(minutes=-minutes if offset[1] == "-" else minutes))
    try:
        return UTC if name.strip() in ("UTC", "GMT", "Z") else ZoneInfo(name.strip())
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ValueError("a zone as Europe/Vienna, or an offset as +01:00") from None


def offset_s(at_s: float, zone: tzinfo) -> int:
    """The zone's offset from UTC at a moment, in whole seconds."""
    offset = datetime.fromtimestamp(at_s, zone).utcoffset() or timedelta()
    return round(offset.total_seconds())


def offset_text(seconds: int) -> str:
    """An offset as `+01:00`, its seconds left out: RFC 3339 cannot write them."""
    hours, minutes = divmod(abs(seconds) // 60, 60)
    return f"{'-' if seconds < 0 else '+'}{hours:02d}:{minutes:02d}"


def changes(first_s: float, last_s: float, zone: tzinfo) -> list[Change]:
    """The changes of a zone's offset between two moments, ends included.

    Offsets are compared day by day, so two changes within one day would be missed; no zone has
    had such since 1900.
    """
    found = []
    start = int(first_s // _DAY_S) * _DAY_S
    before = offset_s(start, zone)
    for day in range(start, int(last_s) + _DAY_S, _DAY_S):
        after = offset_s(day + _DAY_S, zone)
        if after != before:
            found.append(Change(_moment(zone, day, day + _DAY_S), before, after))
        before = after
    return found


def _moment(zone: tzinfo, low: int, high: int) -> int:
    """The first second on which the offset is what it is at `high`."""
    new = offset_s(high, zone)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if offset_s(middle, zone) == new else (middle, high)
    return high


def place(wall_s: "Floats", sensor: "Indices", zone: tzinfo) -> Placed:
    """World times of wall times, the doubled autumn hour told apart by the order of rows.

    Within one sensor's rows time goes on: where the wall time falls back inside a doubled hour,
    or stands still, the second pass begins. Where it does neither, the pass that spaces the
    rows most evenly is taken.

    Args:
        wall_s: Wall times in the order of the rows, oldest first, shape (n,).
        sensor: Number of the sensor of each row, from 0, shape (n,).
        zone: Where the clock hung.
    """
    import numpy as np

    if not len(wall_s):
        return Placed(wall_s, np.zeros(0, np.intp), ())
    turns = changes(float(wall_s.min()) - 2 * _DAY_S, float(wall_s.max()) + 2 * _DAY_S, zone)
    if not turns:
        return Placed(wall_s - offset_s(float(wall_s[0]), zone), np.zeros(0, np.intp), ())
    known = np.array([turns[0].before_s, *(turn.after_s for turn in turns)], float)
    walls = np.array([turn.at_s + turn.before_s for turn in turns], float)
    at = wall_s - known[np.searchsorted(walls, wall_s, side="right")]
    skipped = [np.zeros(0, np.intp)]
    unturned = []
    for turn in turns:
        low, high = sorted((turn.at_s + turn.before_s, turn.at_s + turn.after_s))
        rows = np.flatnonzero((wall_s >= low) & (wall_s < high))
        if turn.after_s > turn.before_s:
            skipped.append(rows)
            at[rows] = wall_s[rows] - turn.before_s
        elif len(rows):
            later, ran_on = _second_passes(wall_s, sensor, rows, high - low)
            at[later] += high - low
            unturned += [turn] if ran_on else []
    return Placed(at, np.sort(np.concatenate(skipped)), tuple(unturned))


def _second_passes(
    wall_s: "Floats", sensor: "Indices", rows: "Indices", hour_s: int
) -> tuple["Indices", bool]:
    """Of the rows in a doubled hour those in its second pass; whether some clock ran on."""
    import numpy as np

    later, unturned = [np.zeros(0, np.intp)], False
    for number in np.unique(sensor[rows]):
        mine = np.flatnonzero(sensor == number)
        inside = np.searchsorted(mine, rows[sensor[rows] == number])
        second, ran_on = _second_pass(wall_s[mine], inside, hour_s)
        later.append(mine[inside[second]])
        unturned = unturned or ran_on
    return np.concatenate(later), unturned


def _second_pass(
    wall_s: "Floats", inside: "Indices", hour_s: int
) -> tuple["NDArray[np.bool_]", bool]:
    """Which rows of a doubled hour lie in its second pass, and whether the clock ran on.

    Args:
        wall_s: Wall times of one sensor, in order of rows.
        inside: Its rows inside the doubled hour.
        hour_s: Length of the doubled hour.
    """
    import numpy as np

    moves = np.diff(wall_s[inside])
    back = np.flatnonzero(moves < 0) if (moves < 0).any() else np.flatnonzero(moves == 0)
    if len(back):
        return np.arange(len(inside)) > back[-1], False
    before = wall_s[inside[0]] - wall_s[inside[0] - 1] if inside[0] else np.nan
    after = wall_s[inside[-1] + 1] - wall_s[inside[-1]] if inside[-1] + 1 < len(wall_s) else np.nan
    step = float(np.median(np.diff(wall_s))) if len(wall_s) > 1 else np.nan
    if np.isnan(before) and np.isnan(after):
        return np.zeros(len(inside), bool), False
    # In the first pass the hour is missing after these rows, in the second before them.
    first = np.nanmax(np.abs(np.array([before, after + hour_s]) - step))
    second = np.nanmax(np.abs(np.array([before + hour_s, after]) - step))
    off = np.abs(np.array([before, after]) - step)  # NaN at an end of the file: nothing is shown
    return np.full(len(inside), second < first), bool((off < min(step, hour_s) / 2).all())
