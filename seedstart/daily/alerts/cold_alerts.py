"""Too cold, too hot: hours that the medium was beyond a crop's limit while seed lay in it."""

from collections.abc import Callable, Iterable, Iterator, Sequence
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
from seedstart.daily.check import Alert, Level, alone, degrees, first_few, moment
from seedstart.daily.round_context import Scene
from seedstart.days import short_day
from seedstart.growing.emergence import RateCurve
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
from seedstart.tracking.medium import HOLDS_S, LAST_HOLDS_S
from seedstart.tracking.standing import Standing
from seedstart.units import Temperatures, steady

# Shorter than this is a draught, and no event. Common practice, no source.
_LEAST_HOURS: Final = 1.0
# An event is told until the evening after it.
_EVENING_HOUR: Final = 18
# A reading older than this does not say what is now; one by hand holds for a day.
_STILL_HOURS: Final = 6.0
# For so long the last reading is the last word on it. Common practice, no source.
_LAST_WORD_HOURS: Final = 72.0
_HOURS_TOLD: Final = 72.0  # longer is told in days
# Of a spell that cost so much of its length no day counted, or hardly any.
_NEARLY_ALL: Final = 0.95
_HARDLY_ANY: Final = 0.75
_OR_MOVE: Final = "or move the seed: "
_IF_AGAIN: Final = "if it comes again: "
# Seed that has lain in wet cold for longer has mostly rotted. Common practice, no source.
_ROTS_AFTER_DAYS: Final = 21
_NO_SOURCE: Final = frozenset({"memory", "practice", "guess"})
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
    trace, now_s = scene.medium(station.name), scene.now.timestamp()
    week = trace.between(now_s - LOOK_BACK_DAYS * 86_400, now_s).c
    for side in ("too cold", "too hot"):
        # Read once for all that lies there: of a week there may be fifty thousand readings.
        worst_c = (min if side == "too cold" else max)(week, default=None)
        at_risk = (one for one in waiting if _is_beyond(worst_c, side, scene.crop(one)))
        met = [found for one in at_risk for found in _met(one, side, station, trace, scene)]
        if met:
            worst = max(met, key=lambda one: (one.lost or 0.0, one.spell.hours))
            whole = _whole(worst, side, station, trace, scene)
            yield _measured_alert(station, side, met, whole, scene)
    if not trace.at_s or now_s - trace.at_s[-1] > 3 * 86_400:
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
    begins_s, of = max(since_s, now_s - (days + 1) * 86_400), (one.id, side, days)
    find = spell_below if side == "too cold" else spell_above
    within = begins_s, now_s
    # Of another station's readings nothing here is new, but the remedy may be.
    spell = scene.memo.of(_in_part, of, trace, within, find, limit.best, days)
    if spell is None or not _told(spell, scene):
        return
    planned = _would_come_up_at(crop, station)
    lost = None
    if not spell.alone:
        lost = scene.memo.of(_lost, of, trace, within, rate_curve(crop), planned, spell)
    yield _Met(one, crop, limit, since_s, spell, lost)


def _in_part(
    trace: Trace,
    within: tuple[float, float],
    find: Callable[[Trace, float, float, float], Spell | None],
    limit_c: float,
    days: float,
) -> Spell | None:
    return find(trace.between(*within), limit_c, within[1], days)


def _lost(
    trace: Trace, within: tuple[float, float], curve: RateCurve, planned_c: float, spell: Spell
) -> float | None:
    return days_lost(trace.between(*within), curve, planned_c, spell)


def _is_beyond(c: float | None, side: Side, crop: Crop | None) -> bool:
    if c is None or crop is None:
        return False
    limit_c = _limit(side, crop).best
    return c < limit_c if side == "too cold" else c > limit_c


def _limit(side: Side, crop: Crop) -> Figure:
    """What it must not be colder or hotter than; hot is also where half of the best share fails."""
    return crop.lowest_c if side == "too cold" else hottest_for_seed(crop)


def _speaks_against(crop: Crop, expected: Temperatures, side: Side) -> bool:
    """Whether a place as planned is too cold or too hot for a crop's seed."""
    if side == "too hot" and expected.mean_c > hottest_for_seed(crop).best:
        return hottest_for_seed(crop).basis != "guess"
    if side == "too cold" and crop.lowest_c.basis == "guess":
        return expected.mean_c < crop.lowest_c.best
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
        # What was read by hand holds till the next reading, so the one before may be far.
        apart_s = HOLDS_S if met.spell.by_hand else APART_HOURS * 3600
        if met.spell.since_s - begins_s >= apart_s:
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
    still_s = LAST_HOLDS_S if spell.by_hand else _STILL_HOURS * 3600
    return spell.goes_on and scene.now.timestamp() - spell.now_at_s <= still_s


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
    against = f"; the delay is measured against {planned}"
    level: Level = "act_now" if goes_on else "today"
    if all(one.limit.basis in _NO_SOURCE for one in met):
        # Seed that lies too cold rots meanwhile, and a guess is enough to look at it.
        level = "today" if side == "too cold" else "know"
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
        costs=_none_counted(worst),
        remedies=(
            *_dug_first(
                worst,
                _remedies(
                    station, side, crop, steady(round(spell.now_c, 1)), scene, goes_on=spell.goes_on
                ),
                side,
                station,
                scene,
            ),
            *_alone((one.one for one in met), scene),
        ),
        basis=f"{measured}; {_rests_on(side, crop, scene)}{against if worst.lost else ''}",
        sources=limit.sources,
    )


def _none_counted(met: _Met) -> str:
    """What days cost in which nothing moved: that none of them counted says more than their sum."""
    hours = met.spell.hours
    if met.lost is None or hours < _HOURS_TOLD or met.lost * 24 < _HARDLY_ANY * hours:
        return ""
    which = "none" if met.lost * 24 >= _NEARLY_ALL * hours else "hardly any"
    return f"{which} of these {_long(hours, decimals=0)} counted"


def _dug_first(
    met: _Met, remedies: tuple[str, ...], side: Side, station: Station, scene: Scene
) -> Iterator[str]:
    """Seed that has lain in wet cold for weeks has mostly rotted: look before it is carried."""
    if side != "too cold" or met.spell.hours < 24 * _ROTS_AFTER_DAYS:
        yield from remedies
        return
    yield f"dig a few up: after {_long(met.spell.hours, decimals=0)} in wet cold most seed rots"
    better = next(iter(scene.prospects.better_places(met.crop, station.name)), None)
    last = scene.prospects.last_day_to_sow(met.one.id, better)
    there = f" on the {better.name}" if better else ""
    useful = last is not None and last >= scene.today
    yield f"soft: sow again{there} by {short_day(last)}" if last and useful else "soft: finish it"
    yield f"firm: {remedies[-1].removeprefix(_OR_MOVE).removeprefix(_IF_AGAIN)}"


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
        return f"{now} ({read}), {of}"
    word = "lowest" if side == "too cold" else "highest"
    worst = degrees(spell.worst_c, units)
    when = moment(_at(spell.worst_at_s, scene), scene.today)
    long = _long(spell.hours, decimals=spell.hours < 10)
    return f"{long} {of}; {word} {worst} ({when}), last {now} ({read})"


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
    """Sources; and where the calendar goes by the end of a table instead, that too."""
    cold = side == "too cold"
    limit = _limit(side, crop)
    which = f"{crop.name}'s {'lower' if cold else 'upper'} limit"
    text = f"{which}: {basis_in_words(limit, scene.season.crops.sources)}"
    if crop.emergence is None:
        return text
    coldest, hottest = rate_curve(crop).inside
    end = coldest if cold else hottest
    if (end < limit.best) if cold else (end > limit.best):
        there, most = degrees(end, scene.season.units), "down to" if cold else "up to"
        text += f"; its table shows it emerging {most} {there}"
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
        return (f"move it off the {station.name}: {elsewhere}",)
    if side == "too cold" and station.kind in HEATED:
        return f"check that the {station.name} has power and is heating", f"{_OR_MOVE}{elsewhere}"
    return (elsewhere if goes_on else f"{_IF_AGAIN}{elsewhere}",)


def _alone(sowings: Iterable[Standing], scene: Scene) -> Iterator[str]:
    for one in sowings:
        yield from alone(scene.asked(one).name, scene.up_beside(one))


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
            f"{_which(side, crop)} ({first_few(names)}); nothing measured lately",
            since=max(one.at for one, _ in met),
            remedies=(
                *_remedies(station, side, crop, expected_now, scene, goes_on=True),
                *_alone((one for one, _ in met), scene),
            ),
            basis=f"the plan; {_rests_on(side, crop, scene)}",
            sources=limit.sources,
        )
