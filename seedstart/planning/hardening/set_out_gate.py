"""What is still against setting out: hardening off, frost, cold nights, cold ground."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from math import inf
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import long_day, short_day
from seedstart.growing.frost import STATION_SPREAD_DAYS
from seedstart.growing.hardening_rules import FREEZING, Limits
from seedstart.planning.calendar.crop_times import basis_in_words, is_tender
from seedstart.planning.calendar.sowing_request import FrostDates
from seedstart.planning.hardening.hardening_weather import Said, said_of
from seedstart.season.journal.entries import Forecast
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.season_file import Season
from seedstart.text import plural
from seedstart.tracking.medium import measured
from seedstart.tracking.records import Records
from seedstart.units import Units, show_temperature

# Below this a risk of frost is not worth a sentence, as in the calendar's reasons.
_NO_RISK_PERCENT: Final = 2.0
# Nights farther ahead are no forecast to plant by: common practice, no source.
_NIGHTS_AHEAD: Final = 7
# Soil out of doors changes with the weather; an older reading says nothing of today.
_GROUND_FOR: Final = timedelta(days=3)


class Against(Struct, frozen=True):
    """One thing against setting out today.

    Attributes:
        what: Which.
        bars: Whether it bars; otherwise it only advises.
        said: The sentence.
    """

    what: Literal["hardening", "frost", "too early", "night", "soil"]
    bars: bool
    said: Said


class Gate(Struct, frozen=True, kw_only=True):
    """What the gate to setting out is asked of one sowing.

    Attributes:
        crop: Its crop.
        limits: What it bears.
        frost: The season's frost date, if it has one.
        printed_from: The first day of its set-out window.
        days_left: Days of hardening off still to be done.
        ready: The first day after them.
        units: For the sentences.
    """

    crop: Crop
    limits: Limits
    frost: FrostDates | None
    printed_from: date | None
    days_left: int
    ready: date
    units: Units


def against_setting_out(
    gate: Gate, forecasts: Mapping[date, Forecast], today: date, ground_c: float | None
) -> tuple[Against, ...]:
    """Everything that speaks against setting out today; what bars comes first.

    Night and soil are judged only where they were measured or forecast.

    Args:
        gate: What is asked.
        forecasts: By day.
        today: The day it is.
        ground_c: Soil temperature out of doors, °C; None where nobody measured.
    """
    found = [
        *_hardening(gate),
        *_frost(gate, today),
        *_nights(gate, forecasts, today),
        *_soil(gate, ground_c),
    ]
    return tuple(sorted(found, key=lambda one: not one.bars))


def _hardening(gate: Gate) -> Iterator[Against]:
    if gate.days_left:
        left = plural(gate.days_left, "more day")
        text = f"{left} of hardening off; done on {short_day(gate.ready)} at the soonest."
        yield Against("hardening", bars=True, said=Said(text))


def _frost(gate: Gate, today: date) -> Iterator[Against]:
    """The risk of frost that is left: it bars what a frost kills until the trusted day."""
    frost = gate.frost
    risk = frost.risk_left_percent(today) if frost else 0.0
    if frost is not None and is_tender(gate.crop) and risk >= _NO_RISK_PERCENT:
        text = f"A frost still comes after today in {risk:.0f} % of years."
        basis = f"estimated from a spread of {STATION_SPREAD_DAYS:g} days at published stations"
        waits = frost.trusted is not None and today < frost.trusted
        if frost.trusted is not None and waits:
            text += f" You wait for {long_day(frost.trusted)} ({frost.trust_percent:g} %)."
        yield Against("frost", bars=waits, said=Said(text, basis))
        if waits:
            return
    if gate.printed_from is not None and today < gate.printed_from:
        weeks = gate.crop.set_out_weeks
        text = f"Its time to set out begins on {short_day(gate.printed_from)}."
        said = Said(text, basis_in_words(weeks), weeks.sources) if weeks else Said(text)
        yield Against("too early", bars=False, said=said)


def _nights(gate: Gate, forecasts: Mapping[date, Forecast], today: date) -> Iterator[Against]:
    """The coldest night ahead: a frost bars what it kills; other plants can be covered."""
    nights = [
        (one.tmin_c, day)
        for day in (today + timedelta(days=ahead) for ahead in range(_NIGHTS_AHEAD + 1))
        if (one := forecasts.get(day)) is not None and one.tmin_c is not None
    ]
    if not nights:
        return
    cold, day = min(nights)
    limit = gate.limits.night if gate.days_left else gate.limits.hardened_night
    what = f"{show_temperature(cold, gate.units)} is forecast for {short_day(day)}"
    if cold <= FREEZING.value and is_tender(gate.crop):
        yield Against("night", bars=True, said=Said(f"{what}: a frost would kill it."))
    elif cold < limit.value:
        text = f"{what}, too cold for it: {_both_nights(gate)}."
        yield Against("night", bars=limit.basis == "source", said=said_of(text, limit))
    elif cold <= FREEZING.value:
        text = f"{what}: have covers at hand; {_both_nights(gate)}."
        yield Against("night", bars=False, said=said_of(text, limit))
    yield from _cold_spell(gate, nights)


def _both_nights(gate: Gate) -> str:
    """What it stands unhardened and hardened, by the more cautious of the printed figures."""
    before, after = gate.limits.night.value, gate.limits.hardened_night.value
    if before == after:
        return f"it wants nights of {show_temperature(before, gate.units)} and more"
    return (
        f"hardened it stands {show_temperature(after, gate.units)}, before that "
        f"{show_temperature(before, gate.units)}"
    )


def _cold_spell(gate: Gate, nights: list[tuple[float, date]]) -> Iterator[Against]:
    """Young celery that stands cold for a week or two bolts: one cold night does it no harm."""
    below, after = gate.crop.bolts_below_c, gate.crop.bolts_after_days
    if below is None or after is None:
        return
    cold = sum(night < below.best for night, _ in nights)
    if 2 * cold <= len(nights):
        return
    text = (
        f"Most of the nights ahead are below {show_temperature(below.best, gate.units)}: a spell "
        f"of {plural(round(after.best), 'day')} so cold makes it bolt."
    )
    said = Said(text, basis_in_words(below), below.sources)
    yield Against("night", bars=False, said=said)


def _soil(gate: Gate, ground_c: float | None) -> Iterator[Against]:
    wants = gate.crop.set_out_soil_c
    if wants is None or ground_c is None or ground_c >= wants.low:
        return
    text = (
        f"The soil outside has {show_temperature(ground_c, gate.units)}; "
        f"it wants {show_temperature(wants.low, gate.units)}."
    )
    said = Said(text, basis_in_words(wants), wants.sources)
    # Cold ground stops what is tender; hardy plants wait in it.
    bars = wants.basis == "source" and is_tender(gate.crop)
    yield Against("soil", bars=bars, said=said)


def ground_now(season: Season, records: Records, readings: Readings, now: datetime) -> float | None:
    """The last soil temperature measured out of doors, °C; None where none is younger than 3 days.

    Args:
        season: The plan: which stations are outdoors.
        records: Readings by hand.
        readings: Readings of loggers.
        now: The moment.
    """
    oldest_s, now_s = (now - _GROUND_FOR).timestamp(), now.timestamp()
    found: list[tuple[float, float]] = []
    for station in season.stations:
        if station.kind == "outdoors":
            by_hand = records.place(("station", station.name)).readings
            ground = measured(readings.get((station.name, "soil_c")), by_hand, now_s)
            found += zip(ground.at_s[-1:], ground.c[-1:], strict=True)
    last_s, ground_c = max(found, default=(-inf, 0.0))
    return ground_c if last_s >= oldest_s else None
