"""Too cold, too hot: hours that the medium was beyond a crop's limit while seed lay in it."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import Final, Literal, NamedTuple

from seedstart.crop_table.crop import BASIS_IN_WORDS, Crop, Figure
from seedstart.daily.alerts.spells import (
    APART_HOURS,
    LOOK_BACK_DAYS,
    Spell,
    Trace,
    days_lost,
    spell_above,
    spell_below,
)
from seedstart.daily.check import Alert, Level, degrees, first_few, moment
from seedstart.daily.round_context import Scene
from seedstart.planning.calendar.crop_times import (
    HALF_FAILS,
    at_station,
    basis_in_words,
    hottest_for_seed,
    limit_in_words,
    rate_curve,
)
from seedstart.planning.calendar.sowing_request import Ask, Where
from seedstart.planning.calendar.unsuitable import remedy
from seedstart.season.plan.stations import HEATED, Station
from seedstart.text import plural
from seedstart.tracking.standing import Standing
from seedstart.units import Temperatures, steady

# Shorter than this is a draught, and no event. Common practice, no source.
_LEAST_HOURS: Final = 1.0
# An event is told until the evening after it.
_EVENING_HOUR: Final = 18
# A reading older than this does not say what is now.
_STILL_HOURS: Final = 6.0
# For so long the last reading is the last word on it. Common practice, no source.
_LAST_WORD_HOURS: Final = 72.0
_HOURS_TOLD: Final = 72.0  # longer is told in days
Side = Literal["too cold", "too hot"]


class _Met(NamedTuple):
    one: Standing
    crop: Crop
    limit: Figure
    since_s: float  # it was there since then
    spell: Spell
    lost: float | None


def too_cold_or_hot(station: Station, waiting: Sequence[Standing], scene: Scene) -> Iterator[Alert]:
    """What a medium that was too cold or too hot did to the seed in it.

    Args:
        station: Where.
        waiting: The sowings there of which nothing is up yet.
        scene: The moment.
    """
    if station.kind == "fridge" or not waiting:
        return
    trace = scene.medium(station.name)
    for side in ("too cold", "too hot"):
        met = [found for one in waiting for found in _met(one, side, station, trace, scene)]
        if met:
            worst = max(met, key=lambda one: (one.lost or 0.0, one.spell.hours))
            whole = _whole(worst, side, station, trace, scene)
            yield _measured_alert(station, side, met, whole, scene)
    if not trace.at_s or scene.now.timestamp() - trace.at_s[-1] > 3 * 86_400:
        yield from _planned(station, waiting, scene)


def _met(
    one: Standing,
    side: Side,
    station: Station,
    trace: Trace,
    scene: Scene,
    days: int = LOOK_BACK_DAYS,
) -> Iterator[_Met]:
    crop, zero = scene.crop(one), scene.records.day_zero(one.id)
    spots = scene.records.spots(one.id)
    if crop is None or zero is None or not spots:
        return
    limit = _limit(side, crop)
    since_s = max(zero, spots[-1].since).timestamp()
    now_s = scene.now.timestamp()
    here = trace.between(max(since_s, now_s - (days + 1) * 86_400), now_s)
    find = spell_below if side == "too cold" else spell_above
    spell = find(here, limit.best, now_s, days)
    if spell is None or not _told(spell, scene):
        return
    planned = _would_come_up_at(crop, station)
    lost = None if spell.alone else days_lost(here, rate_curve(crop), planned, spell)
    yield _Met(one, crop, limit, since_s, spell, lost)


def _limit(side: Side, crop: Crop) -> Figure:
    """What it must not be colder or hotter than; hot is also where half of the best share fails."""
    return crop.lowest_c if side == "too cold" else hottest_for_seed(crop)


def _speaks_against(crop: Crop, expected: Temperatures, side: Side) -> bool:
    """Whether a place as planned is too cold or too hot for a crop's seed."""
    if side == "too hot" and expected.mean_c > hottest_for_seed(crop).best:
        return hottest_for_seed(crop).basis != "guess"
    return at_station(crop, expected).outlook.verdict == side


def _would_come_up_at(crop: Crop, station: Station) -> float:
    """The temperature that a cost is counted against, °C: as planned, else the mixed-tray setting.

    Where nothing would come up as planned either, the plan is no measure.
    """
    planned = station.expected
    if planned is None or at_station(crop, planned).expected is None:
        return crop.tray_c.best
    return planned.mean_c


def _whole(met: _Met, side: Side, station: Station, trace: Trace, scene: Scene) -> _Met:
    """All of an event that was under way before the week that is looked at first."""
    days, now_s = LOOK_BACK_DAYS, scene.now.timestamp()
    while met.since_s < (begins_s := now_s - days * 86_400):
        if met.spell.since_s - begins_s >= APART_HOURS * 3600:
            break
        days *= 2
        met = next(_met(met.one, side, station, trace, scene, days), met)
    return met


def _told(spell: Spell, scene: Scene) -> bool:
    """Long enough to be an event, and not yet past the evening after it."""
    if spell.alone:
        return _goes_on(spell, scene)
    if spell.hours < _LEAST_HOURS:
        return False
    if spell.goes_on and scene.now.timestamp() - spell.now_at_s <= _LAST_WORD_HOURS * 3600:
        return True  # nobody measured since: the last word is that it is beyond the limit
    return scene.today <= _seen_by(_at(spell.until_s, scene))


def _goes_on(spell: Spell, scene: Scene) -> bool:
    return spell.goes_on and scene.now.timestamp() - spell.now_at_s <= _STILL_HOURS * 3600


def _seen_by(ended: datetime) -> date:
    """The day of the evening after the end."""
    return ended.date() + timedelta(days=ended.hour >= _EVENING_HOUR)


def _at(seconds: float, scene: Scene) -> datetime:
    return datetime.fromtimestamp(seconds, scene.now.tzinfo)


def _measured_alert(
    station: Station, side: Side, met: Sequence[_Met], worst: _Met, scene: Scene
) -> Alert:
    spell, crop, limit = worst.spell, worst.crop, worst.limit
    since = _at(spell.since_s, scene)
    goes_on = _goes_on(spell, scene)
    names = [scene.asked(one.one).name for one in met]
    measured = f"measured until {moment(_at(spell.now_at_s, scene), scene.today)}"
    planned = degrees(_would_come_up_at(crop, station), scene.season.units)
    against = f"; days are counted against {planned}"
    level: Level = "act_now" if goes_on else "today"
    if all(one.limit.basis in {"memory", "practice", "guess"} for one in met):
        level = "know"  # a limit that no source gives
    elif all(one.limit.note == HALF_FAILS for one in met):
        level = "today"  # what fails is a share of it, and the rest comes up
    return Alert(
        key=f"{side} {station.name} {since.date().isoformat()}",
        kind=side,
        level=level,
        subject=("station", station.name),
        station=station.name,
        sowings=tuple(names),
        brief=_brief(worst, side, station, scene),
        text=f"{_text(spell, side, crop, limit, scene)} ({first_few(names)})",
        since=since,
        costs_days=round(worst.lost, 1) if worst.lost else None,
        remedies=_remedies(
            station, side, crop, steady(round(spell.now_c, 1)), scene, goes_on=spell.goes_on
        ),
        basis=f"{measured}; {_rests_on(side, crop, scene)}{against if worst.lost else ''}",
        sources=limit.sources,
    )


def _brief(met: _Met, side: Side, station: Station, scene: Scene) -> str:
    units, spell = scene.season.units, met.spell
    than = degrees(met.limit.best, units)
    beyond = "below" if side == "too cold" else "above"
    now = f", now {degrees(spell.now_c, units)}"
    # So short that a line of the round has room for the remedy too.
    long = _long(spell.hours, decimals=0).replace(" days", " d")
    hours = "" if spell.alone else f"{long} "
    return f"{hours}{beyond} {met.crop.name}'s {than}{now}{_to(station, met.crop, scene)}"


def _to(station: Station, crop: Crop, scene: Scene) -> str:
    """Where it would come up well and soonest, as an arrow to it."""
    better = scene.prospects.better_places(crop, station.name)
    return f" → {better[0].name}" if better else ""


def _text(spell: Spell, side: Side, crop: Crop, limit: Figure, scene: Scene) -> str:
    units = scene.season.units
    beyond = "below" if side == "too cold" else "above"
    now = degrees(spell.now_c, units)
    of = f"{beyond} {degrees(limit.best, units)}, {_which(side, crop)}"
    read = moment(_at(spell.now_at_s, scene), scene.today)
    if spell.alone:
        return f"{now} read {read}, {of}"
    word = "lowest" if side == "too cold" else "highest"
    worst = degrees(spell.worst_c, units)
    when = moment(_at(spell.worst_at_s, scene), scene.today)
    long = _long(spell.hours, decimals=spell.hours < 10)
    return f"{long} {of}; {word} {worst} at {when}, last {now} at {read}"


def _which(side: Side, crop: Crop) -> str:
    """What the limit is, and whether anybody prints it: `pepper's printed lower limit`."""
    limit = _limit(side, crop)
    word = "lower" if side == "too cold" else "upper"
    if limit.note == HALF_FAILS:
        return f"where half of {crop.name}'s seedlings fail"
    if limit.basis == "guess":
        return limit_in_words(crop, cold=side == "too cold")
    marked = BASIS_IN_WORDS[limit.basis]
    printed = "" if marked else "printed "
    return f"{crop.name}'s {printed}{word} limit{f' ({marked})' if marked else ''}"


def _rests_on(side: Side, crop: Crop, scene: Scene) -> str:
    """Who says so; and where the calendar goes by the end of a table instead, that too."""
    cold = side == "too cold"
    limit = _limit(side, crop)
    which = f"{crop.name}'s {'lower' if cold else 'upper'} limit"
    text = f"{which}: {basis_in_words(limit, scene.season.crops.sources)}"
    if crop.emergence is None:
        return text
    coldest, hottest = rate_curve(crop).inside
    end = coldest if cold else hottest
    if (end < limit.best) if cold else (end > limit.best):
        there, most = degrees(end, scene.season.units), "coldest" if cold else "hottest"
        text += f"; the calendar still dates it at {there}, the {most} at which its table has it up"
    return text


def _long(hours: float, *, decimals: int) -> str:
    return f"{hours:.{decimals:d}f} h" if hours < _HOURS_TOLD else plural(round(hours / 24), "day")


def _remedies(
    station: Station,
    side: Side,
    crop: Crop,
    now: Temperatures,
    scene: Scene,
    *,
    goes_on: bool,
) -> tuple[str, ...]:
    ask = Ask(
        crop=crop,
        where=Where(station.name, now),
        others=scene.prospects.better_places(crop, station.name),
        factor=scene.factor,
        units=scene.season.units,
    )
    elsewhere = remedy(ask).rstrip(".")
    if side == "too hot" and goes_on:
        return (f"off the {station.name}: {elsewhere}",)
    if side == "too cold" and station.kind in HEATED:
        return f"see that the {station.name} has power and warms", f"or move the seed: {elsewhere}"
    return (elsewhere if goes_on else f"if it comes again: {elsewhere}",)


def _planned(station: Station, waiting: Sequence[Standing], scene: Scene) -> Iterator[Alert]:
    """Nothing was measured of late: what is expected of the place, as it is set now."""
    expected_now = scene.expected_at(station.name)
    if expected_now is None:
        return
    for side in ("too cold", "too hot"):
        met = [
            (one, crop)
            for one in waiting
            for crop in (scene.crop(one),)
            if crop and _speaks_against(crop, expected_now, side)
        ]
        if not met:
            continue
        crop = met[0][1]
        limit = _limit(side, crop)
        units = scene.season.units
        beyond = "below" if side == "too cold" else "above"
        expected = degrees(expected_now.mean_c, units)
        names = [scene.asked(one).name for one, _ in met]
        yield Alert(
            key=f"{side} {station.name} planned {names[0]}",
            kind=side,
            level="know",
            subject=("station", station.name),
            station=station.name,
            sowings=tuple(names),
            brief=f"planned at {expected}, {beyond} {crop.name}'s "
            f"{degrees(limit.best, units)}{_to(station, crop, scene)}",
            text=f"planned at {expected}, {beyond} {degrees(limit.best, units)}, "
            f"{_which(side, crop)} ({first_few(names)}); nothing was measured of late",
            since=max(one.at for one, _ in met),
            remedies=_remedies(station, side, crop, expected_now, scene, goes_on=True),
            basis=f"the plan; {_rests_on(side, crop, scene)}",
            sources=limit.sources,
        )
