"""What is still against setting out: hardening off, frost, cold nights, cold ground."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from math import inf
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import long_day, short_day
from seedstart.growing.frost import days_after_average
from seedstart.growing.hardening_rules import FREEZING, Limits
from seedstart.planning.calendar.crop_times import basis_in_words, is_tender
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.hardening.hardening_weather import Said, said_of
from seedstart.planning.known_weather import Weather
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.season_file import Season
from seedstart.text import joined, plural
from seedstart.tracking.medium import measured
from seedstart.tracking.records import Records
from seedstart.units import Units, show_temperature

# Below this a risk of frost is not worth a sentence, as in the calendar's reasons.
NO_RISK_PERCENT: Final = 2.0
# What most growers call safe: a frost comes later in one year of ten.
_SAFER_PERCENT: Final = 10.0
# Nights farther ahead are no forecast to plant by: common practice, no source.
_NIGHTS_AHEAD: Final = 7
# No source of a figure was found for what a cover buys.
COVERS: Final = "fleece or a cloche helps through a light frost: common practice, no source"
# Soil out of doors changes with the weather; an older reading says nothing of today.
_GROUND_FOR: Final = timedelta(days=3)


class Against(Struct, frozen=True):
    """One thing against setting out today.

    Attributes:
        what: Which.
        bars: Whether it bars; otherwise it only advises.
        said: The sentence.
        brief: The same for a line.
        until: The day on which it is over, where that can be told.
    """

    what: Literal["hardening", "frost", "too early", "night", "soil"]
    bars: bool
    said: Said
    brief: str = ""
    until: date | None = None


class Verdict(Struct, frozen=True):
    """Whether plants may be set out today.

    Attributes:
        says: Ready; wait; or that nothing bars it, and something speaks against it.
        waits_for: What bars it, or speaks against it, in words.
        till: About when all of that is over; None where that of one cannot be told.
    """

    says: Literal["ready", "wait", "at your own risk"]
    waits_for: tuple[str, ...] = ()
    till: date | None = None

    def sentence(self) -> str:
        """As a grower would say it."""
        if self.says == "ready":
            return "Ready to set out: nothing is against it today."
        what = joined(list(self.waits_for))
        till = f", till about {short_day(self.till)}" if self.till else ""
        if self.says == "wait":
            return f"Wait for {what}{till}."
        return f"At your own risk: {what} would be worth waiting for{till}."


def verdict_of(against: Sequence[Against]) -> Verdict:
    """What all that is against setting out comes to: what bars decides where anything does."""
    barring = [one for one in against if one.bars]
    found = barring or list(against)
    if not found:
        return Verdict("ready")
    days = [one.until for one in found]
    known = [day for day in days if day is not None]
    return Verdict(
        "wait" if barring else "at your own risk",
        tuple(dict.fromkeys(_AWAITED[one.what] for one in found)),
        max(known) if len(known) == len(days) else None,
    )


_AWAITED: Final = {
    "hardening": "the end of hardening off",
    "frost": "the frost to be over",
    "too early": "its time to begin",
    "night": "warmer nights",
    "soil": "warmer soil",
}


class Gate(Struct, frozen=True, kw_only=True):
    """What the gate to setting out is asked of one sowing.

    Attributes:
        crop: Its crop.
        limits: What it bears.
        frost: The season's frost date, if it has one.
        printed_from: The first day of its set-out window.
        best: Its best day.
        days_left: Days of hardening off still to be done.
        ready: The first day after them.
        units: For the sentences.
    """

    crop: Crop
    limits: Limits
    frost: FrostDates | None
    printed_from: date | None
    best: date | None
    days_left: int
    ready: date
    units: Units


def against_setting_out(
    gate: Gate, forecasts: Weather, today: date, ground_c: float | None
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
        yield Against("hardening", bars=True, said=Said(text), brief=left, until=gate.ready)


def _frost(gate: Gate, today: date) -> Iterator[Against]:
    """The risk of frost that is left: it bars what a frost kills until the trusted day."""
    frost = gate.frost
    risk = frost.risk_left_percent(today) if frost else 0.0
    if frost is not None and is_tender(gate.crop) and risk >= NO_RISK_PERCENT:
        text = f"There is still a {risk:.0f} % chance of frost after today."
        waits = frost.trusted is not None and today < frost.trusted
        if frost.trusted is not None and waits:
            text += f" You wait for {long_day(frost.trusted)} ({frost.tender_risk_percent:g} %)."
        safer = frost.average + timedelta(days=round(days_after_average(_SAFER_PERCENT)))
        wait = f", in {_SAFER_PERCENT:.0f} % after {short_day(safer)}" if today < safer else ""
        yield Against(
            "frost",
            bars=waits,
            said=Said(text, frost.basis),
            brief=f"cover it if frost is due; one still comes in {risk:.0f} % of years{wait}",
            until=frost.trusted if waits else safer if today < safer else None,
        )
        if waits:
            return
    if gate.printed_from is not None and today < gate.printed_from:
        weeks = gate.crop.set_out_weeks
        text = f"Its time to be set out begins on {short_day(gate.printed_from)}."
        said = Said(text, basis_in_words(weeks), weeks.sources) if weeks else Said(text)
        brief = f"its time begins on {short_day(gate.printed_from)}"
        yield Against("too early", bars=False, said=said, brief=brief, until=gate.printed_from)


def _nights(gate: Gate, forecasts: Weather, today: date) -> Iterator[Against]:
    """The coldest night ahead: a frost bars what it kills; other plants can be covered.

    Nights that are merely cool bar until the best day; from then on it grows on under cover: a
    plant held longer outgrows its pot. Common practice, no source.
    """
    nights = [
        (one.tmin_c, day)
        for day in (today + timedelta(days=ahead) for ahead in range(_NIGHTS_AHEAD + 1))
        if (one := forecasts.get(day)) is not None and one.tmin_c is not None
        if day > today or not one.measured  # measured today: the night that is over
    ]
    if not nights:
        return
    cold, day = min(nights)
    limit = gate.limits.night if gate.days_left else gate.limits.hardened_night
    what = f"{show_temperature(cold, gate.units)} is forecast for {short_day(day)}"
    if cold <= FREEZING.value and is_tender(gate.crop):
        said = Said(f"{what}: a frost would kill it.")
        yield Against("night", bars=True, said=said, brief=what, until=_over(nights, limit.value))
    elif cold < limit.value:
        text = f"{what}, too cold for it: {_both_nights(gate)}."
        cool = cold > FREEZING.value and gate.best is not None and today >= gate.best
        bars = limit.basis == "source" and not cool
        yield Against(
            "night",
            bars=bars,
            said=said_of(text, limit),
            brief=f"{what}: too cold for it" if bars else f"under cover, since {what}",
            until=_over(nights, limit.value),
        )
    elif cold <= FREEZING.value:
        text = f"{what}: have covers at hand ({COVERS}); {_both_nights(gate)}."
        brief = f"{what}: have covers at hand"
        yield Against("night", bars=False, said=said_of(text, limit), brief=brief)
    yield from _cold_spell(gate, nights)


def _over(nights: list[tuple[float, date]], limit_c: float) -> date | None:
    """The first day after the last night too cold for it; None where the forecast ends before."""
    last = max((day for cold, day in nights if cold < limit_c or cold <= FREEZING.value))
    return last + timedelta(days=1) if last < max(day for _, day in nights) else None


def _both_nights(gate: Gate) -> str:
    """What it stands unhardened and hardened, by the more cautious of the printed figures."""
    before, after = gate.limits.night.value, gate.limits.hardened_night.value
    if before == after:
        return f"it wants nights of {show_temperature(before, gate.units)} or more"
    hardened = stands_in_words(after, gate.units)
    return f"hardened it stands {hardened}, before that {show_temperature(before, gate.units)}"


def stands_in_words(night_c: float, units: Units) -> str:
    """The coldest night that plants stand, after `stands`: `-2.2 °C`, `no frost`."""
    return show_temperature(night_c, units) if night_c != FREEZING.value else "no frost"


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
        f"of {plural(round(after.best), 'day')} that cold makes it bolt."
    )
    said = Said(text, basis_in_words(below), below.sources)
    brief = f"nights below {show_temperature(below.best, gate.units)} ahead: it may bolt"
    yield Against("night", bars=False, said=said, brief=brief)


def _soil(gate: Gate, ground_c: float | None) -> Iterator[Against]:
    wants = gate.crop.set_out_soil_c
    if wants is None or ground_c is None or ground_c >= wants.low:
        return
    text = (
        f"The soil outside is at {show_temperature(ground_c, gate.units)}; "
        f"it wants {show_temperature(wants.low, gate.units)}."
    )
    said = Said(text, basis_in_words(wants), wants.sources)
    # Cold ground stops what is tender; hardy plants wait in it.
    bars = wants.basis == "source" and is_tender(gate.crop)
    has = show_temperature(ground_c, gate.units)
    brief = f"the soil has {has}, it wants {show_temperature(wants.low, gate.units)}"
    yield Against("soil", bars=bars, said=said, brief=brief)


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
