"""Today's weather for plants that are being hardened off, in sentences."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import BASIS_IN_WORDS
from seedstart.growing.hardening_rules import (
    GUSTS,
    Counts,
    DayWeather,
    Limit,
    Limits,
    Meets,
    Step,
    judge_day,
    night_against,
)
from seedstart.planning.hardening.hardening_days import Course, DayOut, step_number
from seedstart.season.journal.entries import Forecast
from seedstart.text import joined
from seedstart.units import Units, show_temperature

Today = Literal["out", "half", "held", "not judged"]
_MPH: Final = 0.44704  # m/s, exactly


class Said(Struct, frozen=True):
    """A reason: one sentence, and what the figure in it rests on.

    Attributes:
        text: As a grower would say it.
        basis: How far to trust the figure; empty where it has a good source or is what was seen.
        sources: Keys of the crop table's sources, or how a source is cited.
    """

    text: str
    basis: str = ""
    sources: tuple[str, ...] = ()


class Seen(Struct, frozen=True):
    """What today is for plants being hardened off.

    Attributes:
        today: Whether they go out.
        night: Whether they stay out for the night.
        why: The reasons, the first the shortest.
    """

    today: Today
    night: bool
    why: tuple[Said, ...]


def told(day: DayOut, step: Step) -> Seen:
    """What was written down of today."""
    if day.counts == "held":
        return Seen("held", night=False, why=(Said(f"Kept in: {day.why}."),))
    night = " and the night" if day.night else ""
    text = f"Out for {day.hours:g} h{night}."
    if day.counts == "half":
        asked = "the night" if step.night else f"{step.hours:g} h"
        text += f" The step asks for {asked}, so it counts half."
    return Seen("half" if day.counts == "half" else "out", day.night, (Said(text),))


def judged(
    today: date, forecasts: Mapping[date, Forecast], limits: Limits, step: Step, units: Units
) -> Seen:
    """What the forecast of today lets plants do.

    Args:
        today: The day it is.
        forecasts: By day.
        limits: What the crop bears.
        step: Today's step.
        units: For the sentences.
    """
    weather = _weather(forecasts.get(today))
    counts, met = judge_day(weather, limits)
    why = [_sentence(one, limits, units) for one in met]
    night = step.night and counts != "held"
    if night:
        night, counts, said = _night(today, forecasts, limits, counts, units)
        why += said
    if counts is None:
        why = [_not_judged(weather), _by_your_own_eyes(limits, units), *why]
    elif not why:
        why = [_fair(weather, units)]
    return Seen(counts or "not judged", night, tuple(why))


class Ahead(Struct, frozen=True):
    """The days to come.

    Attributes:
        ready: The first day after the last step.
        lost: Days that a forecast holds or halves, with the reason; today among them.
    """

    ready: date
    lost: tuple[DayOut, ...] = ()


def look_ahead(
    course: Course, today: date, forecasts: Mapping[date, Forecast], limits: Limits, units: Units
) -> Ahead:
    """When hardening off is done: days without a forecast are taken to count.

    Args:
        course: How far it has come.
        today: The day it is.
        forecasts: By day.
        limits: What the crop bears.
        units: For the sentences.
    """
    plan, done = course.plan, course.done
    if done >= len(plan):
        return Ahead(today)
    day = today + timedelta(days=1) if course.written else today
    lost: list[DayOut] = []
    while done < len(plan):
        one = DayOut(day, "out")
        if day in forecasts:
            seen = judged(day, forecasts, limits, plan[step_number(done, plan) - 1], units)
            counts: Counts = "out" if seen.today == "not judged" else seen.today
            one = DayOut(day, counts, why=seen.why[0].text if seen.why else "")
        lost += [one] if one.worth < 1 else []
        done += one.worth
        day += timedelta(days=1)
    return Ahead(day, tuple(lost))


def _weather(forecast: Forecast | None) -> DayWeather:
    if forecast is None:
        return DayWeather()
    return DayWeather(**{key: getattr(forecast, key) for key in DayWeather.__struct_fields__})


def _not_judged(weather: DayWeather) -> Said:
    if weather == DayWeather():
        return Said("No forecast for today.")
    return Said("The forecast for today does not say how warm the day gets.")


def _by_your_own_eyes(limits: Limits, units: Units) -> Said:
    """What the grower judges the day by."""
    whole, least, gusts = limits.day_counts, limits.day_held, _speed(GUSTS.value, units)
    windy = "on windy days" if limits.stays_in_on_windy_days else f"in gusts of {gusts}"
    text = (
        f"A day of {show_temperature(whole.value, units)} or more counts whole; below "
        f"{show_temperature(least.value, units)} and {windy} it stays in."
    )
    return Said(text, "", tuple(dict.fromkeys((*whole.sources, *least.sources))))


def _fair(weather: DayWeather, units: Units) -> Said:
    parts = [f"{show_temperature(weather.tmax_c, units)} by day"] if weather.tmax_c else []
    if weather.wind_ms is not None:
        parts.append(f"wind {_speed(weather.wind_ms, units)}")
    if weather.rain_mm is not None:
        parts.append(f"{weather.rain_mm:g} mm of rain")
    text = f"Forecast: {joined(parts)}; nothing speaks against it."
    if weather.wind_ms is None and weather.gust_ms is None:
        text += " Of wind it says nothing."
    return Said(text)


def _night(
    today: date,
    forecasts: Mapping[date, Forecast],
    limits: Limits,
    counts: Counts | None,
    units: Units,
) -> tuple[bool, Counts | None, list[Said]]:
    """Tonight, as the colder of today's and tomorrow's minimum: the coldest hour may lie in either.

    A night that is barred leaves half a step done.
    """
    days = (forecasts.get(day) for day in (today, today + timedelta(days=1)))
    lowest = [day.tmin_c for day in days if day is not None and day.tmin_c is not None]
    if not lowest:
        return True, counts, [Said("No forecast says how cold tonight gets.")]
    cold = min(lowest)
    limit = night_against(cold, limits)
    if limit is None:
        return True, counts, []
    tonight = f"Tonight {show_temperature(cold, units)}"
    if limit.basis == "source":
        text = f"{tonight}: in for nights below {show_temperature(limit.value, units)}."
        if cold <= 0:
            text = f"{tonight}: in for the night when freezing is expected."
        return False, "half" if counts == "out" else counts, [said_of(text, limit)]
    text = (
        f"{tonight}: nights below {show_temperature(limit.value, units)} are better spent in; "
        "that figure only advises."
    )
    return True, counts, [said_of(text, limit)]


def said_of(text: str, limit: Limit) -> Said:
    """A sentence with what its limit rests on."""
    return Said(text, BASIS_IN_WORDS[limit.basis], limit.sources)


def _sentence(met: Meets, limits: Limits, units: Units) -> Said:
    return said_of(_text(met, stays_in=limits.stays_in_on_windy_days, units=units), met.limit)


def _text(met: Meets, *, stays_in: bool, units: Units) -> str:
    if met.what in {"cold day", "cool day"}:
        value, limit = (show_temperature(one, units) for one in (met.value, met.limit.value))
        then = "it counts half"
        if met.what == "cold day":
            then = "tender plants stay in" if stays_in else "in when it freezes"
        return f"{value} by day: below {limit} {then}."
    if met.what == "gusts":
        value, limit = (_speed(one, units) for one in (met.value, met.limit.value))
        return f"Gusts of {value}: at {limit} new transplants were badly hurt."
    if met.what == "wind":
        then = "tender plants stay in" if stays_in else "it counts half"
        return f"Wind of {_speed(met.value, units)}: on a windy day {then}."
    then = "in from it" if met.what == "downpour" else "under shelter, it counts half"
    return f"{met.value:g} mm of rain, that is hard rain: {then}."


def _speed(metres_a_second: float, units: Units) -> str:
    if units == "us":
        return f"{metres_a_second / _MPH:.0f} mph"
    return f"{metres_a_second:g} m/s"
