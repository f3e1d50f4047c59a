"""One function an alert, all in one tuple for a station, for what is carried, and outdoors."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Final

from seedstart.crop_table.crop import Crop
from seedstart.daily.alerts.cold_alerts import too_cold_or_hot
from seedstart.daily.alerts.light_alerts import day_too_long, too_little_light
from seedstart.daily.alerts.station_alerts import no_longer_heats, readings_stopped
from seedstart.daily.alerts.weather_alerts import (
    close_tonight,
    cold_night,
    cold_over_set_out,
    wind_tomorrow,
)
from seedstart.daily.check import PRACTICE, Alert, AlertKind, Level, alone, degrees, names
from seedstart.daily.checks.emergence_checks import covered_on, to_be_lifted_since
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.crop_times import at_station, is_tender
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.prospects.own_record import last_loss
from seedstart.planning.prospects.prospect import Advice, Prospect, last_new_at, usual_end
from seedstart.planning.prospects.prospect_advice import LAST_DAYS, LATE_DAYS, lost_since_closed
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.stations import Station
from seedstart.text import plural
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.units import steady

# How long after setting out a frost still matters enough to be told. Common practice, no source.
_OUT_DAYS: Final = 14


def cover_still_on(carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """A cover that stays on days after half of what is under it came up."""
    covered = [one for one in carrier.alive if scene.records.is_covered(one.id) and one.from_seed]
    since = to_be_lifted_since(covered, scene)
    if since is None or since >= scene.today:
        return
    up = [scene.asked(one).name for one in covered if one.emerged]
    yield Alert(
        key=f"cover still on {carrier.in_key} {covered_on(covered, scene).isoformat()}",
        kind="cover still on",
        level="today",
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=tuple(up),
        brief=f"{carrier.name}: cover still on, {len(up)} of {len(covered)} up → lift it",
        text=f"the cover is still on, and {len(up)} of {len(covered)} are up "
        f"({names(up)}) since {short_day(since)}",
        since=datetime.combine(since, time(), scene.now.tzinfo),
        remedies=("lift it", "mist the sowings that are not up yet"),
        basis=f"counts; from half of the sowings up: {PRACTICE}",
    )


def out_too_early(scene: Scene) -> Iterator[Alert]:
    """What a frost kills, set out before the day that the grower trusts; all of it or some."""
    frost = frost_of(scene.season)
    if frost is None:
        return
    for one in scene.records.standings.values():
        act = one.last_act("set_out") if one.left.get("set_out") else None
        if act is not None:
            yield from _out_too_early(one, act, frost, scene)


def _out_too_early(one: Standing, act: Entry, frost: FrostDates, scene: Scene) -> Iterator[Alert]:
    crop, spot = scene.crop(one), scene.records.spot(one.id)
    if crop is None or not is_tender(crop):
        return
    safe = frost.trusted or frost.average
    day = act.at.date()
    if day >= safe or scene.today >= safe or (scene.today - day).days > _OUT_DAYS:
        return
    left = frost.risk_left_percent(scene.today)
    called = scene.asked(one).name
    yield Alert(
        key=f"too early to set out {called} {day.isoformat()}",
        kind="too early to set out",
        level="today",
        subject=("sowing", one.id),
        station=spot.station if spot else None,
        tray=spot.tray if spot else None,
        sowings=(called,),
        brief=f"{called} out early, frost risk {left:.0f} % → cover it on clear nights",
        text=f"{called} has been outside since {short_day(day)}; frost kills {crop.name}, and "
        f"there is still a {left:.0f} % chance of one",
        since=act.at,
        remedies=(f"cover it on clear nights till {short_day(safe)}", "keep some plants back"),
        basis=f"the season's frost date; its risk {frost.basis}",
        sources=crop.hardiness_from.sources,
    )


def hardening_missed(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """Days of hardening off that were missed or held, once they move setting out."""
    found = scene.hardening.get(one.id)
    if found is None or not found.moved_days or found.set_out is None or not found.missed:
        return
    if found.is_hardened or found.place == "outdoors":
        return  # what was missed is made up for
    called = scene.asked(one).name
    missed = found.missed
    yield Alert(
        key=f"hardening missed {called} {found.moved_days}",
        kind="hardening missed",
        level="today",
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=f"{called}: {plural(len(missed), 'day')} of hardening missed → out today",
        text=f"{called}: {plural(len(missed), 'day')} of hardening off missed; it goes out about "
        f"{short_day(found.set_out.best)}, {plural(found.moved_days, 'day')} later",
        since=datetime.combine(missed[0].day, time(), scene.now.tzinfo),
        costs_days=float(found.moved_days),
        remedies=(
            f"put it out today: step {found.step} of {found.of}, {found.hours:g} h, {found.light}",
        ),
        basis="; ".join(dict.fromkeys(said.basis for said in found.why if said.basis))
        or "the steps of hardening off",
    )


_LEVELS: Final[dict[str, Level]] = {
    "sow again": "today", "dig": "today", "look": "today", "too late": "know",
}  # fmt: skip


def late(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """A medium that is not too cold, and yet so cool that it comes up days later than planned."""
    if not scene.waits(one):
        return
    found, crop = scene.prospects[one.id], scene.crop(one)
    advice, usual, progress = found.advice, found.usual, found.progress
    if advice is None or advice.what not in {"warmer", "cooler"} or crop is None:
        return
    if progress is None or found.zero is None:
        return
    if usual is None:  # nothing comes up there: too cold or too hot is told of the station
        if _is_too_slow(crop, progress):
            yield _stands_still(one, found, advice, crop, carrier, scene)
        return
    called, units = scene.asked(one).name, scene.season.units
    days = found.late_days
    planned = usual.best - timedelta(days=days)
    to = f"the {advice.where}" if advice.where else f"a {advice.what} place"
    yield Alert(
        # Seen once, it comes again when it has got worse by as much again.
        key=f"late {called} {planned.isoformat()} {days // LATE_DAYS}",
        kind="late",
        level="know",
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=f"{called} comes up {days} days late → {to}",
        text=f"{called} comes up about {short_day(usual.best)}, {days} days later "
        f"than planned; its medium is at {degrees(progress.goes_on_c, units)}",
        since=found.zero,
        costs_days=float(days),
        remedies=(
            f"{to}: it is quickest at {degrees(crop.fastest_c.best, units)}",
            *alone(called, scene.up_beside(one)),
        ),
        basis=found.assumed,
        sources=crop.fastest_c.sources,
    )


def _is_too_slow(crop: Crop, progress: Progress) -> bool:
    """Whether it lies within the crop's limits, and so slow that no date can be given."""
    seen = at_station(crop, steady(round(progress.goes_on_c, 1))).outlook
    return seen.verdict == "too slow"


def _stands_still(
    one: Standing, found: Prospect, advice: Advice, crop: Crop, carrier: Carrier, scene: Scene
) -> Alert:
    """Seed that nobody need look for, since at that warmth it will not come up in time."""
    called, units = scene.asked(one).name, scene.season.units
    here = degrees(found.progress.goes_on_c, units) if found.progress else "that warmth"
    to = f"the {advice.where}" if advice.where else f"a {advice.what} place"
    return Alert(
        key=f"late {called} {carrier.station} no date",
        kind="late",
        level="today",
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=f"{called} is too slow at {here} → {to}",
        text=f"{called} comes up so slowly at {here} that no date can be given",
        since=found.zero or one.at,
        remedies=(
            f"{to}: it is quickest at {degrees(crop.fastest_c.best, units)}",
            *alone(called, scene.up_beside(one)),
        ),
        basis=found.assumed,
        sources=crop.fastest_c.sources,
    )


def too_few_up(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """Nothing up, or too few, and what is to be done; or nobody looked since it was due."""
    closed = one.closed is not None and lost_since_closed(one, scene.records)
    if not (scene.may_come(one) or closed) or not scene.prospects.may_be_short(one.id):
        return
    found, crop = scene.prospects[one.id], scene.crop(one)
    advice = found.advice
    if crop is None or advice is None or advice.what not in _LEVELS:
        return
    end = usual_end(found, crop)
    if end is None or (advice.what == "look" and not _is_urgent(found, advice, end, scene.today)):
        return  # to look is a check of the round; an alert once it is overdue
    called = scene.asked(one).name
    kind = _kind(found, advice)
    yield Alert(
        key=f"{kind} {called}",
        kind=kind,
        level=_LEVELS[advice.what],
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=_brief(called, found, advice),
        text=f"{called}, sown {short_day(one.at.date())}: {advice.text}",
        since=_since(one, advice, end, scene),
        remedies=_remedies(found, advice),
        basis=found.assumed or "the plan's temperature",
        sources=crop.days_in_trays.sources if crop.days_in_trays else (),
    )


def _is_urgent(found: Prospect, advice: Advice, end: date, today: date) -> bool:
    """Whether what nobody looked at is overdue: with nothing up, or while sowing again helps."""
    return today > end and (not found.up or advice.until is not None)


def _since(one: Standing, advice: Advice, end: date, scene: Scene) -> datetime:
    """Since when it goes wrong: no day that moves while nothing happens.

    Of too few: since the last came, or was lost. Of none: since it was overdue, the last week to
    sow again began, or seeds were dug up, whichever was first.
    """
    if one.emerged and advice.what != "look":
        came = last_new_at(one)
        return max(came, last_loss(one, scene.records) or came)
    days = [end + timedelta(days=1)]
    if advice.what != "look" and advice.until is not None:
        days.append(advice.until - LAST_DAYS)
    begun = (datetime.combine(day, time(), scene.now.tzinfo) for day in days)
    return min((*begun, *(entry.at for entry in one.dug[:1]), scene.now))


def _kind(found: Prospect, advice: Advice) -> AlertKind:
    if advice.what == "look":
        return "not looked at"
    return "too few up" if found.up else "overdue"


def _brief(called: str, found: Prospect, advice: Advice) -> str:
    up = "nothing up" if not found.up else f"{found.up} of {found.wanted} up"
    if found.lost:
        up = f"{found.up - found.lost} of {found.wanted} left"
    until = f" by {short_day(advice.until)}" if advice.until else ""
    if advice.what == "look":
        unseen = advice.text.partition(".")[0]
        return f"{called}: {unseen[0].lower()}{unseen[1:]} → look"
    act = {
        "sow again": f"sow again{until}",
        "dig": "dig a few seeds up",
        "too late": "too late to sow again",
    }
    return f"{called}: {up} → {act[advice.what]}"


def _remedies(found: Prospect, advice: Advice) -> tuple[str, ...]:
    """What to do; what stands is not given up for what is missing."""
    stand = found.up - found.lost
    them = "the one there is" if stand == 1 else f"the {stand} there are"
    keep = f"go on with {them}, and close the count"
    until = f" by {short_day(advice.until)}" if advice.until else ""
    again = (f", for the {found.short} short", f"or {keep}") if stand else ("", "or finish it")
    return {
        "look": ("write down how many are up; 0 is a count too",),
        "dig": ("dig a few seeds up and write down how many were sound, soft or gone",),
        "sow again": (f"sow again{until} in its place{again[0]}", again[1]),
        "too late": (keep if stand else "finish it",),
    }[advice.what]


_OF_SOWING = (late, too_few_up, hardening_missed)
_OF_CARRIER = (cover_still_on, cold_night, wind_tomorrow)


def station_alerts(station: Station, scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong at a station."""
    standings = scene.records.standings
    here = (standings[one] for one in scene.records.sowings_in(("station", station.name)))
    waiting = [one for one in here if scene.waits(one)]
    return (
        *no_longer_heats(station, scene),
        *too_cold_or_hot(station, waiting, scene),
        *readings_stopped(station, scene),
        *close_tonight(station, scene),
        *too_little_light(station, scene),
        *day_too_long(station, scene),
    )


def carrier_alerts(carrier: Carrier, scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong with what is carried as one."""
    found = [
        alert for one in carrier.sowings for of in _OF_SOWING for alert in of(one, carrier, scene)
    ]
    return (*(alert for of in _OF_CARRIER for alert in of(carrier, scene)), *found)


def alerts_outdoors(scene: Scene) -> tuple[Alert, ...]:
    """What goes wrong with plants that were set out: they are carried no more."""
    return (*out_too_early(scene), *cold_over_set_out(scene))
