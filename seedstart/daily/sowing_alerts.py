"""Still under a cover, out too early, hardening missed."""

from collections.abc import Iterator
from datetime import datetime, time
from typing import Final

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import PRACTICE, Alert
from seedstart.daily.emergence_checks import covered_on, to_be_lifted_since
from seedstart.daily.scene import Scene
from seedstart.daily.wording import names
from seedstart.days import short_day
from seedstart.planning.crop_times import is_tender
from seedstart.planning.frost_dates import FrostDates
from seedstart.planning.season_rows import frost_of
from seedstart.season.entries import Entry
from seedstart.text import plural
from seedstart.tracking.standing import Standing

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
        remedies=("lift it", "mist what is not up yet"),
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
        remedies=(f"cover it on clear nights till {short_day(safe)}", "keep some plants back"),
        basis="the season's frost date, its risk by the normal curve of published stations",
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
        remedies=(f"out today: step {found.step} of {found.of}, {found.hours:g} h, {found.light}",),
        basis="; ".join(dict.fromkeys(said.basis for said in found.why if said.basis))
        or "the steps of hardening off",
    )
