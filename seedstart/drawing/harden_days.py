"""The days of hardening off ahead, across: their weather, and the hours out under it."""

from collections.abc import Callable
from datetime import date
from typing import Final

from seedstart.days import WEEKDAYS
from seedstart.drawing.lines import Line, Role, Span
from seedstart.growing.hardening_rules import GUSTS, HARD_RAIN
from seedstart.planning.hardening.hardening_days import DayAhead, days_to_come
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.planning.known_weather import KnownDay, Weather
from seedstart.units import Units, f_from_c, speed_of

_LABEL, _CELL = 15, 6
_HEIGHTS: Final = "▁▂▃▄▅▆▇█"
_FULL_HOURS: Final = 12.0  # a whole day out is the tallest


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
    days = days_to_come(one.course, one.ahead, today)[: (width - _LABEL) // _CELL]
    if not any(ahead.day in weather for ahead in days):
        return []
    known = [weather.get(ahead.day, KnownDay()) for ahead in days]
    speed, degree = ("mph", "°F") if units == "us" else ("m/s", "°C")
    return [
        _row("", [_name(ahead.day, today) for ahead in days], "quiet"),
        _row(f"day {degree}", [_degrees(day.tmax_c, units) for day in known]),
        _row(f"night {degree}", [_degrees(day.tmin_c, units) for day in known]),
        _row(f"gusts {speed}", [_gusts(day, units) for day in known]),
        _row("rain mm", [_rain(day) for day in known]),
        _row("hours out", [_hours(ahead) for ahead in days], "name"),
    ]


def _row(label: str, cells: list[str], role: Role = "plain") -> Line:
    return (
        Span(f"{label:<{_LABEL}}", "quiet"),
        Span("".join(f"{cell:<{_CELL}}" for cell in cells).rstrip(), role),
    )


def _name(day: date, today: date) -> str:
    return "today" if day == today else f"{WEEKDAYS[day.weekday()].title()}{day.day}"


def _shown(value: float | None, change: Callable[[float], float]) -> str:
    if value is None:
        return "–"
    return f"{round(change(value)) + 0}".replace("-", "−")


def _degrees(celsius: float | None, units: Units) -> str:
    return _shown(celsius, f_from_c if units == "us" else float)


def _gusts(day: KnownDay, units: Units) -> str:
    mark = " !" if day.gust_ms is not None and day.gust_ms >= GUSTS.value else ""
    return _shown(day.gust_ms, lambda speed: speed_of(speed, units)) + mark


def _rain(day: KnownDay) -> str:
    mark = " !" if day.rain_mm is not None and day.rain_mm >= HARD_RAIN.value else ""
    return _shown(day.rain_mm, float) + mark


def _hours(ahead: DayAhead) -> str:
    """`▃ 4` where it is out for four hours, `in` where the weather keeps it in."""
    if ahead.counts == "held":
        return "in"
    height = min(round(ahead.step.hours / _FULL_HOURS * len(_HEIGHTS)), len(_HEIGHTS)) or 1
    return f"{_HEIGHTS[height - 1]} {ahead.step.hours:g}"
