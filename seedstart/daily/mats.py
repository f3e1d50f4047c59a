"""A heated station that no longer heats: fallen against its own week and against the room."""

from typing import Final, NamedTuple

from seedstart.daily.spells import Trace

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
# Water from the can is colder than the medium.
AFTER_WATERING_HOURS: Final = 3.0


class Fallen(NamedTuple):
    """A station that fell.

    Attributes:
        since_s: Since when it has been lower than half its rise over the room.
        week_c: The mean of its medium over the week before.
        now_c: The mean over the last hour.
        rise_c: How far it was above the room over that week.
        now_rise_c: How far it is now.
    """

    since_s: float
    week_c: float
    now_c: float
    rise_c: float
    now_rise_c: float


def fallen(
    medium: Trace, room: Trace, now_s: float, *, since_s: float, watered_s: float | None
) -> Fallen | None:
    """Whether a heated medium has fallen by half of its rise over the room, and since when.

    Args:
        medium: The medium at the station.
        room: The air there, or what stands in for it.
        now_s: The moment.
        since_s: The settings of the station last changed then: nothing before it is compared.
        watered_s: When it was last watered: for three hours after that nothing is said.

    Returns:
        None while it heats, or where that cannot be judged: less than two days of readings of
        medium and room under these settings, or none of the last hour.
    """
    last_s = medium.at_s[-1] if medium.at_s else 0.0
    if now_s - last_s > AFTER_WATERING_HOURS * _HOUR_S:
        return None
    if watered_s is not None and 0 <= last_s - watered_s < AFTER_WATERING_HOURS * _HOUR_S:
        return None
    now = _means(medium, room, last_s - _NOW_HOURS * _HOUR_S, last_s)
    begins_s = max(last_s - _WEEK_DAYS * _DAY_S, since_s)
    before = medium.between(begins_s, last_s)
    if now is None or not before.at_s or last_s - before.at_s[0] < _LEAST_KNOWN_DAYS * _DAY_S:
        return None
    week = _while_it_heated(medium, room, begins_s, last_s)
    if week is None:
        return None
    (week_c, room_c), (now_c, room_now_c) = week, now
    rise_c, now_rise_c = week_c - room_c, now_c - room_now_c
    low_c = week_c - _FALLEN_SHARE * rise_c
    if rise_c < _LEAST_RISE_C or now_c > low_c or now_rise_c > _FALLEN_SHARE * rise_c:
        return None
    return Fallen(_low_since(before, low_c), week_c, now_c, rise_c, now_rise_c)


def _while_it_heated(
    medium: Trace, room: Trace, begins_s: float, last_s: float
) -> tuple[float, float] | None:
    """Means of the week but its last day: a fall of some hours must not lower its own measure."""
    return _means(medium, room, begins_s, last_s - _DAY_S)


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
