"""The days of hardening off ahead, across: their weather, and the hours out under it."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import Final

from seedstart.days import WEEKDAYS, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, joined_spans, plain
from seedstart.growing.hardening_rules import GUSTS, HARD_RAIN
from seedstart.planning.hardening.hardening_days import DayAhead, days_to_come
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.planning.known_weather import KnownDay, Weather, tonight
from seedstart.units import Units, f_from_c, speed_of

_LABEL, _CELL, _SET_OUT = 18, 6, 12
_MOST_DAYS: Final = 10  # no forecast of use reaches farther
_HEIGHTS: Final = "▁▂▃▄▅▆▇█"
_FULL_HOURS: Final = 12.0  # a whole day out is the tallest
LEGEND: Final = "hours out; ~ counts half; in: kept in; ! too much wind or rain; r rain"
_NO_FORECAST: Final = "no forecast: n, then “forecast”; hours as the steps have them"


def days_across(
    one: Hardening, weather: Weather, today: date, units: Units, width: int
) -> list[Line]:
    """A row each of days, temperatures, gusts and rain, and the hours out as a stair.

    Args:
        one: The sowing.
        weather: As it is known, by day.
        today: The day.
        units: Of temperatures and speeds.
        width: Columns: so many days fit.

    Returns:
        Nothing where no day ahead is known, or none is left.
    """
    ahead = days_to_come(one.course, one.ahead, today)[: (width - _LABEL) // _CELL]
    days = [each.day for each in ahead]
    if not any(day in weather for day in days):
        return []
    return [
        *_weather_rows(days, weather, today, units),
        _row("hours out", [_hours(each) for each in ahead], "name"),
    ]


def heads_across(weather: Weather, today: date, units: Units, width: int) -> list[Line]:
    """What stands over the lines of all sowings: the days, and their weather once.

    Args:
        weather: As it is known, by day.
        today: The day.
        units: Of temperatures and speeds.
        width: Columns.
    """
    days = _days(today, width)
    names, *rows = _weather_rows(days, weather, today, units)
    if not any(day in weather for day in days):
        rows = [plain(_NO_FORECAST)]
    space = " " * (_LABEL + _CELL * len(days) - sum(len(span.text) for span in names))
    return [(*names, Span(f"{space}set out", "quiet")), *rows]


def line_across(one: Hardening, today: date, width: int) -> Line:
    """One sowing in a line: what each of the days ahead is for it, and when it is set out.

    Args:
        one: The sowing.
        today: The day.
        width: Columns.
    """
    ahead = {each.day: each for each in days_to_come(one.course, one.ahead, today)}
    cells = [_cell(one, ahead.get(day), day, today) for day in _days(today, width)]
    mark = "✓ " if one.written else "! " if one.today == "held" else "  "
    moved = f" +{one.moved_days} d" if one.moved_days else ""
    out = short_day(one.set_out.best) if one.set_out else "no date"
    name = f"{one.name}, sash" if one.place == "frame" else one.name
    name = name if len(name) < _LABEL - 2 else one.name
    return (
        Span(mark, "warn" if one.today == "held" else "good"),
        Span(f"{fitted(name, _LABEL - 3)} ", "name"),
        Span("".join(f"{cell:<{_CELL}}" for cell in cells)),
        Span(f"{out}{moved}", "expected" if one.moved_days else "plain"),
    )


def _days(today: date, width: int) -> list[date]:
    """The days that fit."""
    count = min(max((width - _LABEL - _SET_OUT) // _CELL, 1), _MOST_DAYS)
    return [today + timedelta(days=step) for step in range(count)]


def _cell(one: Hardening, ahead: DayAhead | None, day: date, today: date) -> str:
    """What a day is for a sowing: hours, kept in, out day and night till it is set out."""
    if day == today and one.today == "held":
        return "in"
    if ahead is not None:
        return _hours(ahead)
    if day == today and one.course.written is not None:
        return f"✓ {one.course.written.hours:g}"
    till = one.set_out.best if one.set_out else None
    return "out" if till is not None and day < till else ""


def _weather_rows(days: Sequence[date], weather: Weather, today: date, units: Units) -> list[Line]:
    """Days, and what is known of each: the night is the one that follows it."""
    known = [weather.get(day, KnownDay()) for day in days]
    speed, degree = ("mph", "°F") if units == "us" else ("m/s", "°C")
    return [
        _row(_made(known, today), [_name(day, today) for day in days], "quiet"),
        _row(f"day {degree}", [_degrees(day.tmax_c, units) for day in known]),
        _nights([tonight(weather, day) for day in days], f"night after {degree}", units),
        _row(f"gusts {speed}, rain", [_gusts(day, units) for day in known]),
    ]


def _made(known: Sequence[KnownDay], today: date) -> str:
    """Of when the latest forecast is."""
    issued = max((day.issued for day in known), default="")
    if not issued:
        return ""
    if issued[:10] == today.isoformat():
        return f"forecast {issued[11:16]}".rstrip()
    return f"forecast {short_day(date.fromisoformat(issued[:10]))}"


def _row(label: str, cells: list[str], role: Role = "plain") -> Line:
    return (
        Span(f"{label:<{_LABEL}}", "quiet"),
        Span("".join(f"{cell:<{_CELL}}" for cell in cells).rstrip(), role),
    )


def _nights(lowest: Sequence[float | None], label: str, units: Units) -> Line:
    """The nights, those with a frost as such."""
    cells = [f"{_degrees(one, units):<{_CELL}}" for one in lowest]
    roles: list[Role] = ["plain" if one is None or one > 0 else "frost" for one in lowest]
    spans = map(Span, [f"{label:<{_LABEL}}", *cells], ["quiet", *roles])
    return joined_spans(spans)


def _name(day: date, today: date) -> str:
    return "today" if day == today else f"{WEEKDAYS[day.weekday()].title()}{day.day}"


def _shown(value: float | None, change: Callable[[float], float]) -> str:
    if value is None:
        return "–"
    return f"{round(change(value)) + 0}"


def _degrees(celsius: float | None, units: Units) -> str:
    return _shown(celsius, f_from_c if units == "us" else float)


def _gusts(day: KnownDay, units: Units) -> str:
    """`14 !` where it is too windy, `3 r` with rain, `3 r!` with hard rain."""
    marks = "!" if day.gust_ms is not None and day.gust_ms >= GUSTS.value else ""
    if day.rain_mm:
        marks += "r!" if day.rain_mm >= HARD_RAIN.value else "r"
    return f"{_shown(day.gust_ms, lambda speed: speed_of(speed, units))} {marks}".rstrip()


def _hours(ahead: DayAhead) -> str:
    """`▃ 4` where it is out for four hours, `in` where the weather keeps it in."""
    if ahead.counts == "held":
        return "in"
    height = min(round(ahead.step.hours / _FULL_HOURS * len(_HEIGHTS)), len(_HEIGHTS)) or 1
    half = "~" if ahead.counts == "half" else ""
    return f"{_HEIGHTS[height - 1]} {ahead.step.hours:g}{half}"
