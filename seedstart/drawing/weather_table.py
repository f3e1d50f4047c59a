"""What is known of the weather, as lines: the files, and the days around today."""

from collections.abc import Iterable
from datetime import date, timedelta

from seedstart.days import WEEKDAYS, short_day
from seedstart.drawing.lines import Line, Span, heading, plain, wrapped
from seedstart.planning.known_weather import WRITTEN_DOWN, KnownDay, Weather
from seedstart.season.weather.weather_folder import WeatherFile
from seedstart.units import Units, f_from_c, show_speed

_BEFORE, _AHEAD = 3, 10


def weather_lines(
    weather: Weather, files: Iterable[WeatherFile], today: date, units: Units, width: int
) -> list[Line]:
    """The days around today, then each file with what it holds and what was left out of it.

    Args:
        weather: By day.
        files: Those of the season's weather folder.
        today: The day.
        units: Of temperatures and speeds.
        width: Columns.
    """
    days = [today + timedelta(days=step) for step in range(-_BEFORE, _AHEAD + 1)]
    known = [(day, weather[day]) for day in days if day in weather]
    lines = [
        plain(f"{'':<12}{'low':>6}{'high':>6}{'wind':>9}{'gusts':>9}{'rain':>7}{'sun':>6}  from")
    ]
    lines += [_day_line(day, one, today, units) for day, one in known]
    if not known:
        lines = [plain("Nothing is known of the days around today.")]
    for file in files:
        lines += _file_lines(file, today, width)
    return lines


def _day_line(day: date, one: KnownDay, today: date, units: Units) -> Line:
    name = "today" if day == today else f"{WEEKDAYS[day.weekday()].title()} {short_day(day)}"
    rain = "" if one.rain_mm is None else f"{one.rain_mm:g} mm"
    sun = "" if one.sun_h is None else f"{one.sun_h:g} h"
    source = "measured" if one.measured else _forecast(one)
    text = (
        f"{name:<12}{_degrees(one.tmin_c, units):>6}{_degrees(one.tmax_c, units):>6}"
        f"{show_speed(one.wind_ms, units) if one.wind_ms is not None else '':>9}"
        f"{show_speed(one.gust_ms, units) if one.gust_ms is not None else '':>9}"
        f"{rain:>7}{sun:>6}  {source}"
    )
    return (Span(text, "today" if day == today else "plain"),)


def _forecast(one: KnownDay) -> str:
    if one.source == WRITTEN_DOWN:
        return WRITTEN_DOWN
    return (
        f"forecast of {short_day(date.fromisoformat(one.issued[:10]))} {one.issued[11:]}".rstrip()
    )


def _degrees(celsius: float | None, units: Units) -> str:
    if celsius is None:
        return ""
    value = f_from_c(celsius) if units == "us" else celsius
    return f"{round(value, 1) + 0.0:g}"


def _file_lines(file: WeatherFile, today: date, width: int) -> list[Line]:
    kind = "forecast" if file.is_forecast else "measured days"
    lines = [heading(f"{file.name}: {kind}")]
    if len(file.issues) > 1:
        lines += [plain(f"  {len(file.issues)} forecasts; the latest:")]
    for issue in file.issues[-1:]:
        days = issue.days.days
        span = f"{_iso(min(days))} to {_iso(max(days))}" if days else "no days"
        made = f", made {issue.issued.replace('T', ' ')}" if issue.issued else ""
        text = f"{issue.days.layout}: {len(days)} days, {span}{made}"
        lines += wrapped("; ".join([text, *issue.days.sentences()]) + ".", width, indent="  ")
    if file.is_forecast and (last := file.last_day) is not None and last < today.toordinal():
        text = "All its days are past: it says nothing of what is to come."
        lines += wrapped(text, width, indent="  ", role="warn")
    for problem in file.problems:
        lines += wrapped(str(problem), width, indent="  ", role="warn")
    return lines


def _iso(ordinal: int) -> str:
    return date.fromordinal(ordinal).isoformat()
