"""How warm a station was in the last week: a curve, and the limits of what is to come up there."""

from collections.abc import Iterator
from datetime import datetime, time, timedelta
from math import inf, nan
from typing import Final

from seedstart.days import WEEKDAYS
from seedstart.drawing.axis import Axis, Tick
from seedstart.drawing.curve import XY, Curves, Limit, curve_lines
from seedstart.drawing.lines import Line, plain, wrapped
from seedstart.planning.stations import WEEK, StationView
from seedstart.text import joined
from seedstart.tracking.medium import runs
from seedstart.units import Units, f_from_c, show_temperature, show_temperatures

# A limit farther than this from all that was measured would only press the curve flat, °C.
_NEAR_C: Final = 8.0
_NO_READING: Final = "No reading in the last week."


def warmth_curve_lines(
    view: StationView, now: datetime, units: Units = "metric", width: int = 80, height: int = 12
) -> list[Line]:
    """The last week's readings as a curve in `height` lines; single ones are points.

    Args:
        view: The station.
        now: The moment at the right end, in the season's zone.
        units: For the figures.
        width: Columns.
        height: Lines.

    Returns:
        One line that says so where nothing was measured in that week, none where nothing ever was.
    """
    if not view.warm.at_s:
        return [plain(_NO_READING)] if view.warm.last_at else []
    curve, points = _curve_and_points(view, units)
    limits = list(_limits(view, units))
    shown = [_in_units(c, units) for c in view.warm.c] + [limit.at for limit in limits]
    curves = Curves(
        across=_days(now),
        up=Axis.over(f"{view.warm.of}, °{'F' if units == 'us' else 'C'}", shown),
        curve=curve,
        points=points,
        limits=limits,
    )
    return curve_lines(curves, width, height)


def _curve_and_points(view: StationView, units: Units) -> tuple[list[XY], list[XY]]:
    """Runs of readings as a line with gaps between them; what stands alone as points."""
    curve: list[XY] = []
    points: list[XY] = []
    at_s, c = view.warm.at_s, [_in_units(one, units) for one in view.warm.c]
    for first, last in runs(at_s):
        if first == last:
            points.append((at_s[first], c[first]))
            continue
        curve += [(at_s[place], c[place]) for place in range(first, last + 1)]
        curve.append((at_s[last], nan))
    return curve, points


def _limits(view: StationView, units: Units) -> Iterator[Limit]:
    """The limits that matter: of the crop that needs it warmest, of the one that bears least."""
    low, high = min(view.warm.c), max(view.warm.c)
    warmest = max((one.lowest_c for one in view.limits), default=-inf)
    coolest = min((one.highest_c for one in view.limits), default=inf)
    if low - _NEAR_C <= warmest < inf:
        crops = [one.crop for one in view.limits if one.lowest_c == warmest]
        said = f"{joined(crops)} from {show_temperature(warmest, units)}"
        yield Limit(_in_units(warmest, units), said)
    if -inf < coolest <= high + _NEAR_C:
        crops = [one.crop for one in view.limits if one.highest_c == coolest]
        said = f"{joined(crops)} up to {show_temperature(coolest, units)}"
        yield Limit(_in_units(coolest, units), said)


def _in_units(c: float, units: Units) -> float:
    return f_from_c(c) if units == "us" else c


def _days(now: datetime) -> Axis:
    """The last week across, a tick at each midnight; wall days, also over a change of clocks."""
    ticks = []
    for back in range(WEEK.days, -1, -1):
        day = now.date() - timedelta(days=back)
        midnight = datetime.combine(day, time(), now.tzinfo).timestamp()
        if (now - WEEK).timestamp() <= midnight:
            ticks.append(Tick(midnight, f"{WEEKDAYS[day.weekday()].title()} {day.day}"))
    return Axis(
        "the last week", (now - WEEK).timestamp(), now.timestamp(), whole=True, ticks=tuple(ticks)
    )


def warmth_in_words(
    view: StationView, now: datetime, units: Units = "metric", width: int = 80
) -> list[Line]:
    """Now, the week, what is expected, and between which limits things come up there."""
    return [
        line
        for text in (_now(view, now, units), _between(view, units))
        if text
        for line in wrapped(text, width, hang="")
    ]


def _now(view: StationView, now: datetime, units: Units) -> str:
    expected = f"{show_temperatures(view.expected, units)} expected" if view.expected else ""
    warm = view.warm
    if warm.last_at is None or warm.last_c is None:
        said = f"; {expected}" if expected else ""
        return f"Nobody has measured here{said}." if view.kind else ""
    last = show_temperature(warm.last_c, units)
    parts = [f"{last} in the {warm.of} {_when(warm.last_at, now)}"]
    if warm.c:
        low, high = (show_temperature(one, units) for one in (min(warm.c), max(warm.c)))
        parts.append(f"{low} to {high} in the last week")
    return f"{'; '.join([*parts, expected] if expected else parts)}."


def _when(at: datetime, now: datetime) -> str:
    days = (now.date() - at.date()).days
    if days == 0:
        return f"at {at:%H:%M}"
    return f"at {at:%H:%M} yesterday" if days == 1 else f"{days} days ago"


def _between(view: StationView, units: Units) -> str:
    """Crops with the same limits are named together."""
    together: dict[str, list[str]] = {}
    for one in view.limits:
        low, high = (show_temperature(c, units) for c in (one.lowest_c, one.highest_c))
        marks = dict.fromkeys((one.lowest_basis, one.highest_basis))
        together.setdefault(f"{low} to {high} ({', '.join(marks)})", []).append(one.crop)
    parts = [f"{joined(crops)}, {limits}" for limits, crops in together.items()]
    return f"Not up yet: {'; '.join(parts)}." if parts else ""
