"""Wall clock and world time: whole columns of local times placed in a zone, and back.

Times are seconds of the epoch; a wall time is the same count read off a wall clock, as if the
wall stood in UTC. Zones come as `zoneinfo` has them; a fixed offset is a zone too. When clocks
change pandas knows; the order of rows decides which row of a doubled hour is which.
"""

import re
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from typing import TYPE_CHECKING, Final, NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]
    Indices = NDArray[np.intp]

_DAY_S: Final = 86400


class Placed(NamedTuple):
    """Wall times placed in a zone.

    Attributes:
        at_s: Seconds of the epoch, in the order given; for a skipped wall time the moment that
            the old offset gives.
        skipped: Rows whose wall time the zone leaves out in spring.
        unturned: For each change back to winter time over which the wall times run on evenly,
            as if the clock had never been put back, a moment shortly before it.
    """

    at_s: "Floats"
    skipped: "Indices"
    unturned: tuple[float, ...]


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
        raise ValueError("a zone, e.g. Europe/Vienna, or an offset, e.g. +01:00") from None


def offset_s(at_s: float, zone: tzinfo) -> int:
    """The zone's offset from UTC at a moment, in whole seconds."""
    offset = datetime.fromtimestamp(at_s, zone).utcoffset() or timedelta()
    return round(offset.total_seconds())


def offset_text(seconds: int) -> str:
    """An offset as `+01:00`, its seconds left out: RFC 3339 cannot write them."""
    hours, minutes = divmod(abs(seconds) // 60, 60)
    return f"{'-' if seconds < 0 else '+'}{hours:02d}:{minutes:02d}"


def offsets_s(at_ms: "Ints", zone: tzinfo) -> "Ints":
    """The zone's offset from UTC at each of many moments, in whole seconds.

    Args:
        at_ms: Milliseconds of the epoch, shape (n,).
        zone: As `find_zone` gives it.
    """
    import pandas as pd

    at = pd.DatetimeIndex(at_ms.astype("M8[ms]")).tz_localize("UTC")
    wall = at.tz_convert(zone).tz_localize(None)
    return (wall.asi8 - at.asi8) // 1000


def place(wall_s: "Floats", sensor: "Indices", zone: tzinfo) -> Placed:
    """World times of wall times, the doubled autumn hour settled by the order of rows.

    Within one sensor's rows time goes on: where the wall time falls back inside a doubled hour,
    or stands still, the second pass begins. Where it does neither, the pass that spaces the
    rows most evenly is taken.

    Args:
        wall_s: Wall times in the order of the rows, oldest first, shape (n,).
        sensor: Number of the sensor of each row, from 0, shape (n,).
        zone: Where the clock hung.
    """
    import numpy as np
    import pandas as pd

    wall = pd.DatetimeIndex(np.round(wall_s * 1000).astype("M8[ms]"))
    first = _epoch_s(wall.tz_localize(zone, ambiguous="NaT", nonexistent="NaT"))
    second, doubtful = first.copy(), np.flatnonzero(np.isnan(first))
    for passed, dst in ((first, True), (second, False)):
        each = np.full(len(doubtful), dst)
        placed = wall[doubtful].tz_localize(zone, ambiguous=each, nonexistent="NaT")
        passed[doubtful] = _epoch_s(placed)
    skipped = np.flatnonzero(np.isnan(first))
    first[skipped] = [_by_old_offset_s(float(wall_s[row]), zone) for row in skipped]
    at, unturned = first.copy(), []
    for rows in _doubled_hours(first, second):
        hour_s = float(second[rows[0]] - first[rows[0]])
        later, ran_on = _second_passes(wall_s, sensor, rows, hour_s)
        at[later] = second[later]
        unturned += [float(first[rows[0]])] if ran_on else []
    return Placed(at, skipped, tuple(unturned))


def _epoch_s(times: "pd.DatetimeIndex") -> "Floats":
    import numpy as np

    return np.where(times.isna(), np.nan, times.asi8 / 1000)


def _by_old_offset_s(wall_s: float, zone: tzinfo) -> float:
    """The moment of a skipped wall time by the offset until then: so the standard library."""
    return datetime.fromtimestamp(wall_s, UTC).replace(tzinfo=zone).timestamp()


def _doubled_hours(first: "Floats", second: "Floats") -> "list[Indices]":
    """The rows of each doubled hour, in the order of the rows."""
    import numpy as np

    doubled = np.flatnonzero(second > first)
    in_time = doubled[np.argsort(first[doubled])]
    ends = np.flatnonzero(np.diff(first[in_time]) > _DAY_S) + 1
    return [np.sort(rows) for rows in np.split(in_time, ends) if len(rows)]


def _second_passes(
    wall_s: "Floats", sensor: "Indices", rows: "Indices", hour_s: float
) -> tuple["Indices", bool]:
    """The rows of a doubled hour that are in its second pass; whether some clock ran on."""
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
    wall_s: "Floats", inside: "Indices", hour_s: float
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
