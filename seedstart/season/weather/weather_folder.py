"""The files of a season's `weather/` folder: days that were measured, and forecasts."""

from collections.abc import Iterator
from datetime import tzinfo
from typing import Final

from msgspec import Struct

from seedstart.problems import BadInputError, Problem
from seedstart.season.weather.weather_columns import Known, answers_for
from seedstart.season.weather.weather_days import Days
from seedstart.season.weather.weather_file import ReadOptions, read_issues, read_weather

FORECAST_BEGINS: Final = "forecast"


class Issue(Struct, frozen=True):
    """What one forecast says, or what was measured.

    Attributes:
        days: The weather.
        issued: When the forecast was made, as ISO 8601 has it; None of what was measured.
    """

    days: Days
    issued: str | None = None


class WeatherFile(Struct, frozen=True):
    """One file as it was read.

    Attributes:
        name: Its path inside the season.
        issues: What it says; a forecast file may hold several forecasts.
        problems: What is wrong in it; where it could not be read at all, `issues` is empty.
    """

    name: str
    issues: tuple[Issue, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def is_forecast(self) -> bool:
        """Whether it looks ahead."""
        return is_forecast(self.name)

    @property
    def last_day(self) -> int | None:
        """The last day of which it says anything, as its ordinal number."""
        return max((max(issue.days.days) for issue in self.issues if issue.days.days), default=None)


def is_forecast(name: str) -> bool:
    """Whether a file is a forecast, by its name: `forecast`, `forecast-met.json`."""
    return name.rpartition("/")[2].casefold().startswith(FORECAST_BEGINS)


def read_weather_file(
    data: bytes, name: str, known: Known, written: str, zone: tzinfo | None = None
) -> WeatherFile:
    """A file of the weather folder; what is wrong with it is among its problems.

    Args:
        data: What stands in it.
        name: Its path inside the season.
        known: What was said of weather files, by header.
        written: When it was written, in the season's zone, as ISO 8601 has it: for a forecast that
            does not say when it is of.
        zone: Of the season, in whose days hours are folded.
    """
    try:
        issues = tuple(_issues(data, name, known, written, ReadOptions(zone=zone)))
    except BadInputError as error:
        return WeatherFile(name, (), error.problems)
    problems = tuple(problem for issue in issues for problem in issue.days.problems)
    return WeatherFile(name, issues, problems)


def _issues(
    data: bytes, name: str, known: Known, written: str, options: ReadOptions
) -> Iterator[Issue]:
    answers = answers_for(data, name, known)
    if not is_forecast(name):
        yield Issue(read_weather(data, name, answers, options))
        return
    for issued, days in read_issues(data, name, answers, options):
        yield Issue(days, issued or written)
