"""What a sowing's prospect says that is to be told: nothing up, too few up, not looked at, slow."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Final

from seedstart.daily.carriers import Carrier
from seedstart.daily.check import Alert, AlertKind, Level
from seedstart.daily.scene import Scene
from seedstart.daily.wording import degrees
from seedstart.days import short_day
from seedstart.planning.own_record import last_loss
from seedstart.planning.prospect import Advice, Prospect
from seedstart.planning.prospect_advice import (
    LAST_DAYS,
    LATE_DAYS,
    lost_since_closed,
    usual_end,
)
from seedstart.planning.quiet import last_new_at
from seedstart.tracking.standing import Standing

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
    if usual is None or progress is None or found.zero is None:
        return  # nothing comes up there at all: too cold or too hot is told of the station
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
        remedies=(f"{to}: it is quickest at {degrees(crop.fastest_c.best, units)}",),
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
        "look": ("look, and write down how many are up; none is a count too",),
        "dig": ("dig a few seeds up and write down how many were sound, soft or gone",),
        "sow again": (f"sow again{until} in its place{again[0]}", again[1]),
        "too late": (keep if stand else "finish it",),
    }[advice.what]
