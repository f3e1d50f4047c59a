"""Late, overdue, still under a cover, out too early, hardening missed."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.daily.carriers import Carrier
from seedstart.daily.check import PRACTICE, Alert
from seedstart.daily.emergence_checks import covered_on, to_be_lifted_since
from seedstart.daily.scene import Scene
from seedstart.daily.wording import degrees, names
from seedstart.days import Window, short_day
from seedstart.planning.calendar import plan
from seedstart.planning.crop_times import at_station, is_tender
from seedstart.planning.frost_dates import FrostDates
from seedstart.planning.season_rows import first_ask, frost_of, places_to_come_up
from seedstart.season.entries import Entry
from seedstart.text import plural
from seedstart.tracking.standing import Standing
from seedstart.units import steady

# Below the optimum is no alert until it costs so many days.
_LATE_DAYS: Final = 3
# How long after setting out a frost still matters enough to be told. Common practice, no source.
_OUT_DAYS: Final = 14


def late(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """A medium that is not too cold, and yet so cool that it comes up days later than planned."""
    if not scene.waits(one):
        return
    progress, crop = scene.progress.get(one.id), scene.crop(one)
    zero = scene.records.day_zero(one.id)
    if progress is None or progress.expected is None or progress.measured_until is None:
        return
    planned = planned_up(one, crop, carrier, scene)
    if crop is None or zero is None or planned is None:
        return
    days = (progress.expected.best - planned.best).days
    if days < _LATE_DAYS:
        return
    called = scene.asked(one).name
    units = scene.season.units
    cool = progress.goes_on_c < crop.fastest_c.best
    yield Alert(
        # Seen once, it comes again when it has got worse by as much again.
        key=f"late {called} {planned.best.isoformat()} {days // _LATE_DAYS}",
        kind="late",
        level="know",
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=f"{called} comes up {days} days late → a {'warmer' if cool else 'cooler'} place",
        text=f"{called} comes up about {short_day(progress.expected.best)}, {days} days later "
        f"than planned; its medium is at {degrees(progress.goes_on_c, units)}",
        since=zero,
        costs_days=float(days),
        cure=f"a {'warmer' if cool else 'cooler'} place: it is quickest at "
        f"{degrees(crop.fastest_c.best, units)}",
        basis=progress.assumed,
        sources=crop.fastest_c.sources,
    )


def planned_up(one: Standing, crop: Crop | None, carrier: Carrier, scene: Scene) -> Window | None:
    """When the plan had a sowing up, from the day that it was sown and its station as planned."""
    zero = scene.records.day_zero(one.id)
    station = scene.station(scene.records.station_of(one.id, one.at) or carrier.station)
    if crop is None or zero is None:
        return None
    medium = station.expected if station and station.expected else steady(crop.tray_c.best)
    expected = at_station(crop, medium, scene.factor).expected
    if expected is None:
        return None
    days = (timedelta(round(n)) for n in (expected.earliest, expected.best, expected.latest))
    return Window(*(zero.date() + after for after in days))


def overdue(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """Nothing up past the last day on which nine in ten should be, by warmth and by the plan."""
    crop = scene.crop(one)
    if crop is None or not scene.waits(one):
        return
    progress = scene.progress.get(one.id)
    windows = [planned_up(one, crop, carrier, scene), progress.expected if progress else None]
    usual = _usual_days_end(one, crop, scene)
    latest = max((*(window.latest for window in windows if window), *usual), default=None)
    if latest is None or scene.today <= latest:
        return
    called = scene.asked(one).name
    sown = short_day(one.at.date())
    yield Alert(
        key=f"overdue {called}",
        kind="overdue",
        level="today",
        subject=("sowing", one.id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=(called,),
        brief=f"{called}: nothing up, expected by {short_day(latest)} → dig a few seeds up",
        text=f"{called}, sown {sown}: nothing is up, and nine in ten were to be by "
        f"{short_day(latest)}",
        since=datetime.combine(latest + timedelta(days=1), time(), scene.now.tzinfo),
        costs_days=float((scene.today - latest).days),
        cure=f"dig a few seeds up: firm ones may still come, soft ones have rotted; "
        f"{_again(one, scene)}",
        basis=progress.assumed if progress and progress.expected else "the plan's temperature",
        sources=(crop.days_in_trays.sources if crop.days_in_trays else ()),
    )


def _usual_days_end(one: Standing, crop: Crop, scene: Scene) -> Iterator[date]:
    """The last of the days that are printed for it in a mixed tray."""
    zero, usual = scene.records.day_zero(one.id), crop.days_in_trays
    if zero is not None and usual is not None:
        yield zero.date() + timedelta(days=round(usual.high))


def _again(one: Standing, scene: Scene) -> str:
    """Whether sowing again still makes the window."""
    lot = scene.lot(one)
    if lot is None:
        return "sow again if there is time"
    season = scene.season
    ask = first_ask(lot, season, frost_of(season), places_to_come_up(season), scene.own)
    window = plan(structs.replace(ask, sow_on=None)).window("sow")
    if window is None:
        return "sow again if there is time"
    if window.latest >= scene.today:
        return f"sown again by {short_day(window.latest)} it still makes its time to set out"
    return f"its time to sow again ended on {short_day(window.latest)}"


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
        cure="lift it; keep what is not up yet damp by other means",
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
        text=f"{called} stands out since {short_day(day)}; a frost kills {crop.name}, and one "
        f"comes after today in about {left:.0f} % of years",
        since=act.at,
        cure=f"cover it on clear nights till {short_day(safe)}, and keep some plants back",
        basis="the season's frost date, its risk by the normal curve of published stations",
        sources=crop.hardiness_from.sources,
    )


def hardening_missed(one: Standing, carrier: Carrier, scene: Scene) -> Iterator[Alert]:
    """Days of hardening off that were missed or held, once they move setting out."""
    found = scene.hardening.get(one.id)
    if found is None or not found.moved_days or found.set_out is None or not found.missed:
        return
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
        cure=f"out today: step {found.step} of {found.of}, {found.hours:g} h, {found.light}",
        basis="; ".join(dict.fromkeys(said.basis for said in found.why if said.basis))
        or "the steps of hardening off",
    )
