"""A heated station that no longer heats: fallen against its own week or plan, and the room."""

from typing import Final, NamedTuple

from seedstart.daily.spells import Trace
from seedstart.tracking.station_warmth import NO_LONGER_HEATS_C

_HOUR_S: Final = 3600.0
_DAY_S: Final = 24 * _HOUR_S
# All of these are common practice without a source: a mat is said to hold a medium some 6 to 11 °C
# above the room; one that holds less than 3 °C can't be told from none, and one that fell by half
# of what it held is not merely drifting.
_LEAST_RISE_C: Final = 3.0
_FALLEN_SHARE: Final = 0.5
_NOW_HOURS: Final = 1.0
_WEEK_DAYS: Final = 7.0
_LEAST_KNOWN_DAYS: Final = 2.0
_WEEKS_BACK: Final = 4  # what fell long ago still is
_GIVEN_UP_DAYS: Final = 10  # of readings that stopped nothing is said any more
_NO_DIP_HOURS: Final = 3.0  # against its plan alone it is judged by more than an hour
_BY_HAND_HOURS: Final = 6.0  # two readings of one morning are one
# Water from the can is colder than the medium.
AFTER_WATERING_HOURS: Final = 3.0


class Fallen(NamedTuple):
    """A station that fell.

    Attributes:
        since_s: Since when it has been as cold as this.
        now_c: The mean over the last hour; of readings by hand the last.
        held_c: The mean of its medium over a week before; None where it is held against its plan.
        rise_c: How far it was, or is to be, above the room; None where nobody measured the room.
        now_rise_c: How far it is now.
    """

    since_s: float
    now_c: float
    held_c: float | None
    rise_c: float | None = None
    now_rise_c: float | None = None


def fallen(
    medium: Trace,
    room: Trace,
    now_s: float,
    *,
    since_s: float,
    watered_s: float | None,
    expected_c: float | None = None,
) -> Fallen | None:
    """Whether a heated medium has fallen, and since when; it stands until that warms again.

    By half of its rise over the room, against a week before in which it heated; where it was not
    measured so long, against what is expected of it. Of readings by hand, or where nobody measured
    the room, it takes two.

    Args:
        medium: The medium at the station.
        room: The air there, or what stands in for it.
        now_s: The moment.
        since_s: The settings of the station last changed then: nothing before it is compared.
        watered_s: When it was last watered: what is read in the three hours after that is no sign.
        expected_c: What is expected of it as it is set now.

    Returns:
        None while it heats, or where that cannot be judged.
    """
    if watered_s is not None and medium.at_s:
        last_s = medium.at_s[-1]
        if 0 <= last_s - watered_s < AFTER_WATERING_HOURS * _HOUR_S:
            medium = medium.between(0.0, watered_s - 1)
    medium = medium.between(since_s, now_s)
    if not medium.at_s or now_s - medium.at_s[-1] > _GIVEN_UP_DAYS * _DAY_S:
        return None
    last_s = medium.at_s[-1]
    for weeks in range(_WEEKS_BACK):
        found = _against_a_week(medium, room, last_s - _DAY_S - weeks * _WEEK_DAYS * _DAY_S)
        if found is not None:
            return found
    return _against_its_plan(medium, room, expected_c) if expected_c is not None else None


def _against_a_week(medium: Trace, room: Trace, ends_s: float) -> Fallen | None:
    """Against a week that ended a day ago or longer: a fall must not lower its own measure."""
    last_s = medium.at_s[-1]
    begins_s = ends_s - (_WEEK_DAYS - 1) * _DAY_S
    known = medium.between(begins_s, last_s)
    if not known.at_s or last_s - known.at_s[0] < _LEAST_KNOWN_DAYS * _DAY_S:
        return None
    week = _means(medium, room, begins_s, ends_s)
    now = _means(medium, room, last_s - _NOW_HOURS * _HOUR_S, last_s)
    if week is None or now is None:
        return None
    (week_c, room_c), (now_c, room_now_c) = week, now
    rise_c, now_rise_c = week_c - room_c, now_c - room_now_c
    low_c = week_c - _FALLEN_SHARE * rise_c
    if rise_c < _LEAST_RISE_C or now_c > low_c or now_rise_c > _FALLEN_SHARE * rise_c:
        return None
    if not _is_sure(medium, low_c, 0.0):
        return None
    return Fallen(_low_since(medium, low_c), now_c, week_c, rise_c, now_rise_c)


def _against_its_plan(medium: Trace, room: Trace, expected_c: float) -> Fallen | None:
    """Against what is expected of it: it is no warmer than the room, or far colder than that."""
    last_s = medium.at_s[-1]
    now = _means(medium, room, last_s - _NOW_HOURS * _HOUR_S, last_s)
    now_c = medium.between(last_s - _NOW_HOURS * _HOUR_S, last_s).mean_c()
    low_c = expected_c - NO_LONGER_HEATS_C
    if now_c is None or now_c > low_c or not _is_sure(medium, low_c, _NO_DIP_HOURS):
        return None
    since_s = _low_since(medium, low_c)
    if now is None:
        return Fallen(since_s, now_c, None)
    rise_c, now_rise_c = expected_c - now[1], now[0] - now[1]
    if now_rise_c >= _LEAST_RISE_C:
        return None  # it heats, though by less than is expected of it
    return Fallen(since_s, now_c, None, rise_c, now_rise_c)


def _is_sure(medium: Trace, low_c: float, hours: float) -> bool:
    """Whether it was read so low twice, for so long that it is no passing dip."""
    last_s, since_s = medium.at_s[-1], _low_since(medium, low_c)
    apart_h = (last_s - since_s) / _HOUR_S
    if last_s in medium.by_hand:
        return apart_h >= _BY_HAND_HOURS
    return apart_h > 0 and apart_h >= hours


def _means(medium: Trace, room: Trace, from_s: float, until_s: float) -> tuple[float, float] | None:
    medium_c = medium.between(from_s, until_s).mean_c()
    # The room may be read less often than the medium.
    room_c = room.between(from_s - _NOW_HOURS * _HOUR_S, until_s).mean_c()
    return None if medium_c is None or room_c is None else (medium_c, room_c)


def _low_since(trace: Trace, low_c: float) -> float:
    """Since when every reading has been at or below a temperature."""
    since_s = trace.at_s[-1]
    for at_s, c in zip(reversed(trace.at_s), reversed(trace.c), strict=True):
        if c > low_c:
            break
        since_s = at_s
    return since_s
