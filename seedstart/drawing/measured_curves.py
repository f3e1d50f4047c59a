"""Readings as lines: the last of each series, and what was made of a logger's file."""

from collections.abc import Iterable, Iterator
from datetime import datetime, time, timedelta
from itertools import groupby
from math import inf, nan
from typing import Final

from seedstart.acts.act import IN_WORDS, show_value
from seedstart.days import WEEKDAYS, Window
from seedstart.drawing.curve import XY, Axis, Curves, Limit, Tick, curve_lines
from seedstart.drawing.lines import Line, Span, fitted, heading, plain, wrapped
from seedstart.drawing.lots_table import advice_lines
from seedstart.planning.prospects.prospect import Prospect, percent, seen
from seedstart.planning.space.stations_now import WEEK, ReadSeries, StationView, Warm
from seedstart.season.loggers.logger_file import Understood
from seedstart.season.loggers.series import Readings, Series
from seedstart.text import joined, plural
from seedstart.tracking.medium import runs
from seedstart.units import Temperatures, Units, f_from_c, show_temperature, show_temperatures

# Fewer looks than this say by when seedlings were up, but not when half of them were.
_FEWEST_LOOKS: Final = 3


def outlook_lines(found: Prospect, width: int) -> list[Line]:
    """The same in words: what to do, how many are expected by when, what is still to come."""
    lines: list[Line] = []
    if found.advice is not None:
        lines += [*advice_lines(found.advice, width), plain("")]
    if found.unknown and (found.advice is None or found.unknown not in found.advice.text):
        lines += wrapped(found.unknown, width, role="quiet")
    if found.half is not None:
        lines += wrapped(" ".join(_when(found, found.half)), width)
    if found.total is not None:
        lines += wrapped(_how_many(found), width)
    if found.assumed:
        lines += wrapped(found.assumed, width, role="quiet", hang="")
    if found.is_open and found.more is not None:
        lines += wrapped(_still(found), width)
    return lines


def _when(found: Prospect, half: Window) -> list[str]:
    """Days of one in ten, half and nine in ten; of half, how sure that is and what it rests on."""
    first, best, last = (found.days_to(one) for one in (found.first, half, found.nine_in_ten))
    if found.zero is None:
        return []
    low, high = ((day - found.zero.date()).days for day in (half.earliest, half.latest))
    today = (found.zero + timedelta(days=found.days_now)).date()
    said = [f"Day {(today - found.zero.date()).days} today."] if found.is_open else []
    is_ = "is" if found.is_open else "was"
    said.append(
        f"Of those that come up, one in ten {is_} expected by day {first}, half by day {best} "
        f"({low} to {high}), nine in ten by day {last}."
    )
    if 0 < found.days_looked < _FEWEST_LOOKS and found.up:
        looks = "one look" if found.days_looked == 1 else f"{found.days_looked} looks"
        said.append(f"It was counted at {looks} only.")
    return said


def _how_many(found: Prospect) -> str:
    total = found.total
    if total is None:
        return ""
    basis = f": {found.rests_on}" if found.rests_on else ""
    low, high = round(total.low), round(total.high)
    span = f" ({low} to {high}, 19 times in 20)" if high > low else ""
    return f"About {total.best:.0f} of {found.seeds} should come up{span}{basis}."


def _still(found: Prospect) -> str:
    more, one = found.more or 0.0, found.chance_of_more or 0.0
    are = "is" if round(more) == 1 else "are"
    some = f"about {more:.0f} more {are} likely" if more >= 1 else "hardly any more will come"
    return f"{seen(found)}; {some} ({percent(one)} chance of at least one)."


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
        return f"Nobody has measured here yet{said}." if view.kind else ""
    last = show_temperature(warm.last_c, units)
    parts = [f"{last} in the {warm.of} {_moment(warm.last_at, now)}"]
    if warm.c:
        low, high = (show_temperature(one, units) for one in (min(warm.c), max(warm.c)))
        parts.append(f"{low} to {high} in the last week")
    return f"{'; '.join([*parts, expected] if expected else parts)}."


# A reading older than this says nothing of now. Common practice, no source.
_OF_NOW: Final = timedelta(hours=24)


def warm_in_words(
    warm: Warm, expected: Temperatures | None, now: datetime, units: Units = "metric"
) -> str:
    """`17.1 °C in the medium, planned 24 °C`, for the heading of a station."""
    planned = ""
    if expected is not None:
        planned = f"planned {show_temperature(expected.day_c, units)}"
        if not expected.steady:
            planned += f", {show_temperature(expected.night_c, units).partition(' ')[0]} by night"
    if warm.last_at is None or warm.last_c is None:
        return f"no reading; {planned}" if planned else "no reading"
    last = f"{show_temperature(warm.last_c, units)} in the {warm.of}"
    if now - warm.last_at > _OF_NOW:
        last = f"no reading since {warm.last_at:%a} {warm.last_at.day}"
        return f"{last}; {planned}" if planned else last
    return f"{last}, {planned}" if planned else last


def _moment(at: datetime, now: datetime) -> str:
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


_PLACE, _QUANTITY, _VALUE, _WHEN, _NUMBER = 14, 8, 13, 16, 6
_BY: Final = {"logger": "By logger", "hand": "By hand"}


def readings_lines(
    found: Iterable[ReadSeries], units: Units = "metric", width: int = 80
) -> list[Line]:
    """A line a series: its last good reading, when, how many there are, from where to where."""
    lines: list[Line] = []
    for by, series in groupby(found, key=lambda one: one.by):
        lines += [plain("")] if lines else []
        lines += [heading(_BY[by]), _head()]
        for one in series:
            lines += _of_series(one, units, width)
    return lines


def _head() -> Line:
    cells = ("where", _PLACE), ("what", _QUANTITY), ("last", _VALUE), ("when", _WHEN)
    text = " ".join(fitted(word, wide) for word, wide in cells)
    return (Span(f"  {text} {'number':>{_NUMBER}}  range", "quiet"),)


def _of_series(one: ReadSeries, units: Units, width: int) -> Iterator[Line]:
    cells = (
        fitted(one.tray or one.station or "", _PLACE),
        fitted(IN_WORDS[one.quantity], _QUANTITY),
        fitted(show_value(one.quantity, one.last_value, units), _VALUE),
        f"{one.last_at:%Y-%m-%d %H:%M}",
    )
    yield plain(f"  {' '.join(cells)} {one.readings:>{_NUMBER}}  {_span(one, units)}".rstrip())
    if one.marks:
        why = ", ".join(f"{count} {mark.replace('_', ' ')}" for mark, count in one.marks.items())
        yield from wrapped(f"in doubt, and not used: {why}", width, "    ", "quiet")


def _span(one: ReadSeries, units: Units) -> str:
    """`12.1–25.3 °C`: the unit of both stands at the end."""
    if one.lowest is None or one.highest is None:
        return ""
    low, high = (show_value(one.quantity, value, units) for value in (one.lowest, one.highest))
    return high if low == high else f"{low.partition(' ')[0]}–{high}"


def understood_lines(
    found: Understood, fresh: Readings, units: Units = "metric", width: int = 80
) -> list[Line]:
    """What was made of a file, to be looked at before it is kept."""
    lines = [heading(found.file)]
    span = ""
    if found.first and found.last:
        span = f", {found.first:%Y-%m-%d %H:%M} to {found.last:%Y-%m-%d %H:%M}"
    order = f", dates are {found.order}" if found.order else ""
    zone = f", clock in {found.zone}" if found.zone else ", times with their offset"
    text = f"{plural(found.rows, 'row')} separated by {found.separator}{span}{order}{zone}."
    lines += wrapped(text, width, indent="  ")
    for column in found.columns:
        lines.append(plain(f"  column {column.header!r}: {column.role}"))
    for one in found.shown:
        value = show_value(one.quantity or "", one.value, units)
        where = one.station or "?"
        lines.append(plain(f"  line {one.line:>7}  {one.at:%Y-%m-%d %H:%M %z}  {where}  {value}"))
    for problem in found.problems:
        lines += wrapped(f"! {problem}", width, indent="  ", role="warn")
    lines += [_series_line(series) for series in fresh.values()]
    return lines


def _series_line(series: Series) -> Line:
    counts: dict[str, int] = {}
    for mark in series.marks:
        if mark:
            counts[mark] = counts.get(mark, 0) + 1
    marks = ", ".join(f"{count} {mark.replace('_', ' ')}" for mark, count in counts.items())
    doubt = f"; marked: {marks}" if marks else ""
    return plain(f"  {series.station}, {series.quantity}: {len(series)} new readings{doubt}")
