"""A season whose frost dates come from a record of minima."""

from collections.abc import Mapping
from datetime import date
from typing import Final

from msgspec import structs

from seedstart.growing.frost import FrostRisk, day_of
from seedstart.growing.frost_record import frost_record
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.season_file import SEASON_FILE, Frost, Season
from seedstart.season.weather.weather_columns import Known, answers_for
from seedstart.season.weather.weather_days import Days
from seedstart.season.weather.weather_file import SCREENED_BY, ReadOptions, read_files
from seedstart.text import joined, plural

# Spring frosts are over, and the next spring is meant: the season of a record turns here.
_NORTH_TURNS: Final = 8
_SOUTH_TURNS: Final = 2


def record_days(files: Mapping[str, bytes], known: Known) -> Days:
    """The days of a record's files, with their maxima for the screen.

    Raises:
        BadInputError: Everything wrong in them.
    """
    answers = {name: answers_for(data, name, known) for name, data in files.items()}
    return read_files(files, answers, ReadOptions(SCREENED_BY))


def with_record(season: Season, files: Mapping[str, bytes], known: Known, today: date) -> Season:
    """A season with its average and trusted day from its record.

    Args:
        season: As its files say it.
        files: The files of its record, by their paths inside the season.
        known: What was said of weather files, by header.
        today: Where the season does not say its year, the spring after this day is meant.

    Raises:
        BadInputError: The record cannot be read, or does not carry what is asked of it.
    """
    frost = season.said_frost
    if frost is None:
        return season
    days = record_days(files, known)
    maxima = {day: round(10 * value) for day, value in days.others.get("tmax_c", {}).items()}
    found = frost_record(days.minima, round(10 * frost.threshold_c), maxima)
    risk = _refuse_poor(found.risk, frost, joined(list(files)))
    average = risk.normal_day(50)
    year = frost.year if frost.year is not None else spring_after(today, south=risk.south)
    if average is None:
        raise BadInputError([_no_average(risk)])
    last = day_of(average, year, south=risk.south)
    return season.with_frost(structs.replace(frost, last=last, year=year, recorded=risk))


def _refuse_poor(risk: FrostRisk | None, frost: Frost, files: str) -> FrostRisk:
    """The spread of the record's frosts, where it says anything of what is asked.

    Raises:
        BadInputError: It does not.
    """
    if risk is None:
        hint = (
            "No spring lies wholly in it (January to July, in the south July to January) with "
            "fewer than ten days missing."
        )
        problem = Problem(file=SEASON_FILE, key="frost.record", found=files, hint=hint)
        raise BadInputError([problem])
    if risk.with_frost < 2:
        raise BadInputError([_no_average(risk)])
    wanted_percent = frost.tender_risk_percent
    if wanted_percent is not None and not risk.carries(wanted_percent):
        raise BadInputError(
            [not_carried(wanted_percent, risk, SEASON_FILE, "frost.tender_risk_percent")]
        )
    return risk


def not_carried(percent: float, risk: FrostRisk, file: str, key: str = "") -> Problem:
    """Why a risk is refused: the record is too short to say anything of it."""
    least = risk.least_risk_percent
    hint = (
        f"A record of {plural(risk.seasons, 'spring')} says nothing of a risk below {least:.2g} % "
        f"or above {100 - least:.3g} %."
    )
    return Problem(file=file, key=key, found=f"{percent:g}", hint=hint)


def _no_average(risk: FrostRisk) -> Problem:
    hint = (
        f"A frost came in {risk.with_frost} of its {plural(risk.seasons, 'spring')}: there is no "
        "average date to count weeks from. Name `last` instead."
    )
    return Problem(file=SEASON_FILE, key="frost.record", hint=hint)


def spring_after(today: date, *, south: bool) -> int:
    """The year of the season that a day lies in, or lies ahead of."""
    if south:
        return today.year - (today.month < _SOUTH_TURNS)
    return today.year + (today.month >= _NORTH_TURNS)
