"""Today's weather for plants that are being hardened off, in sentences."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct

from seedstart.crop_table.crop import BASIS_IN_WORDS
from seedstart.days import short_day
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
from seedstart.planning.hardening.hardening_days import (
    NOTHING_AROUND,
    Course,
    DayOut,
    Sheltered,
    step_number,
)
from seedstart.planning.known_weather import KnownDay, Weather, tonight
from seedstart.text import joined
from seedstart.units import Units, show_speed, show_temperature

Today = Literal["out", "half", "held", "not judged"]


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
        asks_frost: Whether nobody knows if a frost is due in the night that they spend out.
        in_for: Why the night that the step asks for is spent in; empty where it is not.
        cold_tonight: Whether that is for what is forecast, and not for the season.
    """

    today: Today
    night: bool
    why: tuple[Said, ...]
    asks_frost: bool = False
    in_for: str = ""
    cold_tonight: bool = False


def told(day: DayOut, step: Step) -> Seen:
    """What was written down of today."""
    if day.counts == "held":
        return Seen("held", night=False, why=(Said(f"Kept in: {day.why}."),))
    night = " and the night" if day.night else ""
    text = f"Out for {day.hours:g} h{night}."
    if day.counts == "half":
        asked = "the night" if step.night else f"{step.hours:g} h"
        text += f" {day.why}" if day.why else f" The step asks for {asked}, so it counts half."
    return Seen("half" if day.counts == "half" else "out", day.night, (Said(text),))


def poor_days(
    days: Iterable[date], forecasts: Weather, limits: Limits, units: Units
) -> dict[date, str]:
    """Days whose weather lets hours out count half, and why.

    Whoever put plants out on a day that was to be held saw it himself.

    Args:
        days: On which they were out.
        forecasts: By day, what was measured before what was forecast.
        limits: What the crop bears.
        units: For the sentences.
    """
    found: dict[date, str] = {}
    for day in days:
        counts, met = judge_day(_weather(forecasts.get(day)), limits)
        if counts == "half":
            found[day] = _sentence(met[0], limits, units).text
    return found


def judged(
    today: date,
    forecasts: Weather,
    limits: Limits,
    step: Step,
    units: Units,
    around: Sheltered = NOTHING_AROUND,
    *,
    hardened: bool = False,
) -> Seen:
    """What the forecast of today lets plants do.

    Args:
        today: The day it is.
        forecasts: By day.
        limits: What the crop bears.
        step: Today's step.
        units: For the sentences.
        around: From when on nights are spent out.
        hardened: Whether every step is done: the plants stand more cold then.
    """
    weather = _weather(forecasts.get(today))
    counts, met = judge_day(weather, limits)
    why = [_sentence(one, limits, units) for one in met]
    night, asks, in_for, cold = step.night and counts != "held", False, "", False
    if night and not around.asked(step, today).night and around.nights_from is not None:
        night, in_for = False, f"last frost {short_day(around.nights_from)}"
        why.append(Said(f"In for the night before the {in_for}: a frost kills it."))
    elif night:
        lowest = tonight(forecasts, today)
        night, counts, said = _night(lowest, limits, counts, units, hardened=hardened)
        asks, cold = lowest is None, not night
        in_for = f"{show_temperature(lowest, units)} tonight" if cold and lowest is not None else ""
        why += said
    if counts is None:
        why = [_not_judged(weather), _by_your_own_eyes(limits, units), *why]
    elif not why:
        why = [_fair(weather, units)]
    return Seen(counts or "not judged", night, tuple(why), asks, in_for, cold)


class Ahead(Struct, frozen=True):
    """The days to come.

    Attributes:
        ready: The first day after the last step.
        lost: Days that a forecast holds or halves, with the reason; today among them.
    """

    ready: date
    lost: tuple[DayOut, ...] = ()


def look_ahead(
    course: Course,
    today: date,
    forecasts: Weather,
    limits: Limits,
    units: Units,
    around: Sheltered = NOTHING_AROUND,
) -> Ahead:
    """When hardening off is done: days without a forecast are taken to count.

    On days on which nobody is there no step is done.

    Args:
        course: How far it has come.
        today: The day it is.
        forecasts: By day.
        limits: What the crop bears.
        units: For the sentences.
        around: Who is there when, and from when on nights are spent out.
    """
    plan, done = course.plan, course.done
    if done >= len(plan):
        return Ahead(today)
    day = today + timedelta(days=1) if course.written else today
    lost: list[DayOut] = []
    while done < len(plan):
        one = around.of_itself(day) or DayOut(day, "out")
        if not around.is_attended(day):
            done += one.worth if one.why else 0
            day += timedelta(days=1)
            continue
        one = DayOut(day, "out")
        if day in forecasts:
            step = plan[step_number(done, plan) - 1]
            seen = judged(day, forecasts, limits, step, units, around)
            counts: Counts = "out" if seen.today == "not judged" else seen.today
            one = DayOut(day, counts, why=seen.why[0].text if seen.why else "")
        lost += [one] if one.worth < 1 else []
        done += one.worth
        day += timedelta(days=1)
    return Ahead(day, tuple(lost))


def _weather(forecast: KnownDay | None) -> DayWeather:
    if forecast is None:
        return DayWeather()
    return DayWeather(**{key: getattr(forecast, key) for key in DayWeather.__struct_fields__})


def _not_judged(weather: DayWeather) -> Said:
    if weather == DayWeather():
        return Said("No forecast for today.")
    return Said("The forecast for today does not say how warm it gets.")


def _by_your_own_eyes(limits: Limits, units: Units) -> Said:
    """What the grower judges the day by."""
    whole, least, gusts = limits.day_counts, limits.day_held, show_speed(GUSTS.value, units)
    windy = "on windy days" if limits.stays_in_on_windy_days else f"in gusts of {gusts}"
    text = (
        f"{show_temperature(whole.value, units)} or warmer counts as a full day; below "
        f"{show_temperature(least.value, units)}, or {windy}, keep it in."
    )
    return Said(text, "", tuple(dict.fromkeys((*whole.sources, *least.sources))))


def _fair(weather: DayWeather, units: Units) -> Said:
    parts = [f"{show_temperature(weather.tmax_c, units)} by day"] if weather.tmax_c else []
    if weather.wind_ms is not None:
        parts.append(f"wind {show_speed(weather.wind_ms, units)}")
    if weather.rain_mm is not None:
        parts.append(f"{weather.rain_mm:g} mm of rain" if weather.rain_mm else "no rain")
    text = f"Forecast: {joined(parts)}; nothing against it."
    if weather.wind_ms is None and weather.gust_ms is None:
        text += " It does not mention wind."
    return Said(text)


def _night(
    cold: float | None, limits: Limits, counts: Counts | None, units: Units, *, hardened: bool
) -> tuple[bool, Counts | None, list[Said]]:
    """Tonight, as the colder of today's and tomorrow's minimum: the coldest hour may lie in either.

    A night that is barred leaves half a step done, of what nights harden. Hardened plants are
    brought in below what they are said to stand, whoever says it: that costs nothing.
    """
    if cold is None:
        return True, counts, [Said("No forecast says how cold tonight gets: in if frost is due.")]
    limit = night_against(cold, limits)
    if hardened:
        limit = limits.hardened_night if cold < limits.hardened_night.value else None
    if limit is None:
        return True, counts, []
    night = f"Tonight {show_temperature(cold, units)}"
    if limit.basis == "source" or hardened:
        text = f"{night}: in for nights below {show_temperature(limit.value, units)}."
        if cold <= 0 and not hardened:
            text = f"{night}: in for the night when freezing is expected."
        # Nights out teach nothing to what stands no more cold once it is hardened.
        if counts == "out" and limits.nights_harden:
            counts = "half"
        return False, counts, [said_of(text, limit)]
    text = (
        f"{night}: nights below {show_temperature(limit.value, units)} are better spent in; "
        "that figure is only advice."
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
            then = "tender plants stay in" if stays_in else "keep it in when it freezes"
        return f"{value} by day: below {limit} {then}."
    if met.what == "gusts":
        value, limit = (show_speed(one, units) for one in (met.value, met.limit.value))
        return f"Gusts of {value}: at {limit} new transplants were badly hurt."
    if met.what == "wind":
        then = "tender plants stay in" if stays_in else "it counts half"
        return f"Wind of {show_speed(met.value, units)}: on a windy day {then}."
    then = "in from it" if met.what == "downpour" else "under shelter, it counts half"
    return f"{met.value:g} mm of rain, that is hard rain: {then}."
