"""Stretches of measured temperature beyond a limit, and the days that warmth falling short costs.

Plain Python over the last days of one series; nothing here knows a sowing.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from typing import Final, NamedTuple

from seedstart.growing.emergence import RateCurve
from seedstart.tracking.medium import LONGEST_GAP_S, is_near

# Dips of one night are one event. Common practice, no source.
APART_HOURS: Final = 6.0
LOOK_BACK_DAYS: Final = 7
# A stretch below the planned warmth begins at most so long before it falls below the limit, and
# ends so long after: what lies outside is weather, and no event. Common practice, no source.
_AROUND_HOURS: Final = 24.0
_HOUR_S: Final = 3600.0


class Trace(NamedTuple):
    """Temperatures of one medium in order of time; times in seconds of the epoch.

    Attributes:
        at_s: Times.
        c: Temperatures, °C.
        by_hand: Times of those read by hand: they hold till the next reading.
    """

    at_s: Sequence[float]
    c: Sequence[float]
    by_hand: frozenset[float] = frozenset()

    def between(self, from_s: float, until_s: float) -> "Trace":
        """Those from one moment to another, ends included."""
        first, end = bisect_left(self.at_s, from_s), bisect_right(self.at_s, until_s)
        return Trace(self.at_s[first:end], self.c[first:end], self.by_hand)

    def mirrored(self) -> "Trace":
        """Upside down: what lay above lies below."""
        return Trace(self.at_s, [-c for c in self.c], self.by_hand)

    def mean_c(self) -> float | None:
        """The plain mean of the readings; None of none."""
        return sum(self.c) / len(self.c) if self.c else None


class Spell(NamedTuple):
    """One event below a limit (or above it, where that was asked).

    Attributes:
        since_s: When it began, where the line crossed the limit.
        until_s: When it ended; the last reading while it goes on.
        hours: How long the line lay beyond the limit in between.
        worst_c: The lowest (or highest) reading.
        worst_at_s: When that was.
        now_c: The last reading of all.
        now_at_s: When that was.
        goes_on: Whether the last reading lies beyond the limit.
        alone: Whether it rests on single readings, with nothing known between them.
        by_hand: Whether the last reading was made by hand.
    """

    since_s: float
    until_s: float
    hours: float
    worst_c: float
    worst_at_s: float
    now_c: float
    now_at_s: float
    goes_on: bool
    alone: bool
    by_hand: bool = False


def spell_below(
    trace: Trace, limit_c: float, now_s: float, days: float = LOOK_BACK_DAYS
) -> Spell | None:
    """The latest event below a limit in the days before; on the limit is not below.

    Dips less than six hours apart are one event; between readings more than three hours apart
    nothing is known, and no hours are counted.
    """
    seen = trace.between(now_s - days * 24 * _HOUR_S, now_s)
    if not seen.c or min(seen.c) >= limit_c:
        return None
    dips = _dips(seen, limit_c)
    first = len(dips) - 1
    while first and dips[first].since_s - dips[first - 1].until_s < APART_HOURS * _HOUR_S:
        first -= 1
    event = dips[first:]
    worst = min(event, key=lambda dip: dip.worst_c)
    hours = sum(dip.until_s - dip.since_s for dip in event) / _HOUR_S
    return Spell(
        event[0].since_s,
        event[-1].until_s,
        hours,
        worst.worst_c,
        worst.worst_at_s,
        seen.c[-1],
        seen.at_s[-1],
        seen.c[-1] < limit_c,
        hours == 0,
        seen.at_s[-1] in seen.by_hand,
    )


def spell_above(
    trace: Trace, limit_c: float, now_s: float, days: float = LOOK_BACK_DAYS
) -> Spell | None:
    """The latest event above a limit: the mirror of `spell_below`."""
    found = spell_below(trace.mirrored(), -limit_c, now_s, days)
    if found is None:
        return None
    return found._replace(worst_c=-found.worst_c, now_c=-found.now_c)


class _Dip(NamedTuple):
    since_s: float
    until_s: float
    worst_c: float
    worst_at_s: float


def _dips(trace: Trace, limit_c: float) -> list[_Dip]:
    """Each unbroken stretch below the limit, its ends where straight lines cross it."""
    dips: list[_Dip] = []
    place, count = 0, len(trace.c)
    while place < count:
        if trace.c[place] >= limit_c:
            place += 1
            continue
        first = place
        while place + 1 < count and trace.c[place + 1] < limit_c and _near(trace, place):
            place += 1
        worst = min(range(first, place + 1), key=trace.c.__getitem__)
        dips.append(
            _Dip(
                _crossing(trace, first - 1, first, limit_c),
                _crossing(trace, place + 1, place, limit_c),
                trace.c[worst],
                trace.at_s[worst],
            )
        )
        place += 1
    return dips


def _near(trace: Trace, place: int) -> bool:
    return is_near(trace.at_s[place], trace.at_s[place + 1], trace.by_hand)


def _holds(trace: Trace, place: int) -> bool:
    """Whether a reading by hand holds up to the next one, which is far."""
    return trace.at_s[place + 1] - trace.at_s[place] > LONGEST_GAP_S and _near(trace, place)


def _crossing(trace: Trace, outside: int, inside: int, limit_c: float) -> float:
    """Where the line between a reading above the limit and one below crosses it."""
    at_s = trace.at_s[inside]
    if not 0 <= outside < len(trace.c):
        return at_s
    if outside > inside and _holds(trace, inside):
        return trace.at_s[outside]
    if trace.c[outside] < limit_c or abs(trace.at_s[outside] - at_s) > LONGEST_GAP_S:
        return at_s
    share = (limit_c - trace.c[inside]) / (trace.c[outside] - trace.c[inside])
    return at_s + share * (trace.at_s[outside] - at_s)


def days_lost(trace: Trace, curve: RateCurve, planned_c: float, spell: Spell) -> float | None:
    """Days by which emergence comes later for an event, against the planned temperature.

    One day at a rate of half the planned one loses half a day: the integral of
    1 - rate(measured)/rate(planned) over the stretch in which the medium was below the planned
    temperature, the event inside it. The clock of the curve falls out of the ratio.

    Returns:
        None where nothing comes up at the planned temperature either.
    """
    planned = curve.rate(planned_c)
    if planned <= 0:
        return None
    around_s = _AROUND_HOURS * _HOUR_S
    before = trace.between(spell.since_s - around_s, spell.since_s)
    after = trace.between(spell.until_s, spell.until_s + around_s)
    start_s = next(
        (
            s
            for s, c in zip(reversed(before.at_s), reversed(before.c), strict=True)
            if c >= planned_c
        ),
        before.at_s[0] if before.at_s else spell.since_s,
    )
    end_s = next(
        (s for s, c in zip(after.at_s, after.c, strict=True) if c >= planned_c),
        after.at_s[-1] if after.at_s else spell.until_s,
    )
    return lost_between(trace.between(start_s, end_s), curve, planned)


def lost_between(trace: Trace, curve: RateCurve, planned_per_day: float) -> float:
    """Days lost over all readings of a trace, against a planned rate; never below nought.

    Trapezoids between readings; gaps of more than three hours are left out, but for those after a
    reading by hand.
    """
    lost = 0.0
    shares = [1 - curve.rate(c) / planned_per_day for c in trace.c]
    for place in range(len(shares) - 1):
        apart_s = trace.at_s[place + 1] - trace.at_s[place]
        if _holds(trace, place):
            lost += apart_s / 86400 * shares[place]
        elif _near(trace, place):
            lost += apart_s / 86400 * (shares[place] + shares[place + 1]) / 2
    return max(lost, 0.0)
