"""Hardening off and setting out: one line of what is to be done with the plants today."""

from collections.abc import Iterator
from datetime import date
from itertools import groupby
from typing import Final

from seedstart.acts.act import Texts
from seedstart.daily.check import Asked, Check, Doing, Together, Why, degrees, names
from seedstart.daily.checks.care_checks import place_of
from seedstart.daily.checks.plant_checks import (
    fed_today,
    leaving,
    pots_come_first,
    pricking_comes_first,
    to_be_set_out,
)
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import is_away, short_day
from seedstart.growing.hardening_rules import FREEZING
from seedstart.planning.calendar.crop_times import is_tender
from seedstart.planning.calendar.row import when_in_words
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.hardening.hardening_days import limits_for
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.planning.hardening.set_out_gate import NO_RISK_PERCENT
from seedstart.planning.known_weather import tonight
from seedstart.tracking.standing import Standing

_LIGHT: Final = {"shade": "the shade", "half sun": "half sun", "sun": "the sun"}
_Pair = tuple[Hardening, Standing]


def harden(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Today's step of hardening off; what is carried in one tray goes out as one.

    What is asked to be set out today is not asked to be hardened off too.
    """
    due = [
        (hardening, one)
        for one in carrier.alive
        for hardening in (scene.hardening.get(one.id),)
        if hardening is not None and _asks_today(hardening, one, scene)
    ]
    stays_out = [pair for pair in due if _is_done(pair[0])]
    found = [pair for pair in due if not _is_done(pair[0])]
    whole = carrier.tray is not None and len(found) == len(carrier.alive)
    for _, group in groupby(found, key=lambda pair: _today_alike(pair[0]) if whole else pair[1].id):
        pairs = list(group)
        yield _harden_check(carrier, scene, pairs, whole=whole and len(pairs) == len(found))
    for hardening, one in stays_out:
        yield _stays_out(carrier, scene, hardening, one)


def _asks_today(hardening: Hardening, one: Standing, scene: Scene) -> bool:
    if hardening.due > scene.today or hardening.written or hardening.place == "outdoors":
        return False
    if pricking_comes_first(one, scene) or pots_come_first(one, scene):
        return False
    if fed_today(one, scene) and (hardening.begun is None or _is_done(hardening)):
        return False
    if to_be_set_out(one, scene) is not None:
        return False
    return not is_away(scene.today, scene.season.away)


def _is_done(hardening: Hardening) -> bool:
    """Whether every step is done, and nothing is forecast that brings the plants in."""
    return hardening.is_hardened and hardening.today != "held" and not hardening.cold_tonight


def _today_alike(hardening: Hardening) -> tuple[float, bool, str]:
    return hardening.hours, hardening.night, hardening.today


def _harden_check(carrier: Carrier, scene: Scene, pairs: list[_Pair], *, whole: bool) -> Check:
    hardening = pairs[0][0]
    asked = tuple(scene.asked(one) for _, one in pairs)
    of: tuple[Texts, ...] = tuple({"what": f"sowing:{one.name}"} for one in asked)
    of = (place_of(carrier),) if whole else of
    who = carrier.in_key if whole else asked[0].name
    called = names([one.name for one in asked])
    return Check(
        key=f"harden {who} {hardening.step}",
        what="harden",
        says=f"{_step_in_words(hardening, called)} (step {hardening.step} of {hardening.of})",
        why=(
            *(Why(said.text, said.basis, said.sources) for said in hardening.why),
            *_to_begin(pairs, scene),
        ),
        subject=carrier.subject if whole else ("sowing", pairs[0][1].id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=asked,
        due=scene.today if hardening.begun else hardening.due,
        tick=None if hardening.today == "held" else _hours_out(hardening, of),
        typed=Doing("harden off", of),
        together=_together(hardening),
    )


def _together(hardening: Hardening) -> Together:
    """Those at one step go out in one go; a frame has one sash, and the youngest go before."""
    step = _step_in_words(hardening, "{}")
    if hardening.place == "frame":
        hours = 0.0 if hardening.today == "held" else hardening.hours
        return Together("sash", step, hours + 24 * hardening.night)
    number = f"step {hardening.step} of {hardening.of}"
    return Together(f"{hardening.today} {number}", f"{step} ({number})")


def _hours_out(hardening: Hardening, of: tuple[Texts, ...]) -> Doing:
    """Today's step, done."""
    night = "yes" if hardening.night else ""
    hours = {"hours": {"hours": hardening.hours}}
    return Doing("harden off", tuple({**one, "night": night} for one in of), hours)


def _step_in_words(hardening: Hardening, called: str) -> str:
    """Today's step as it is done where the plants stand: carried out, or the sash opened."""
    if hardening.today == "held":
        in_a_frame = hardening.place == "frame"
        return (
            f"keep the sash shut over {called} today" if in_a_frame else f"keep {called} in today"
        )
    hours, night = f"{hardening.hours:g} h", hardening.night
    unless = " unless frost is due" if night and hardening.asks_frost else ""
    if hardening.place == "frame":
        off = f", and leave it off for the night{unless}" if night else ""
        says = f"open the sash over {called}: {hours}{off}"
    else:
        out = f", the night too{unless}" if night else ""
        says = f"put {called} out: {hours} in {_LIGHT[hardening.light]}{out}"
    if hardening.in_for:
        says = f"{says}, in for the night ({hardening.in_for})"
    return f"{says}; it counts half" if hardening.today == "half" else says


def _stays_out(carrier: Carrier, scene: Scene, hardening: Hardening, one: Standing) -> Check:
    """Hardened off, and not to be set out yet: said once, till when, and what else may be done."""
    asked = scene.asked(one)
    bars = next((one for one in hardening.against if one.bars), None)
    until = bars.until if bars else hardening.set_out.best if hardening.set_out else None
    till = f" till {short_day(until)}" if until else " till it is set out"
    why = f" ({bars.brief})" if bars and bars.brief else ""
    stays = f"out{', in for the night' if hardening.in_for else ' day and night'}"
    if hardening.place == "frame":
        stays = "it stays in the frame, the sash off"
    key = f"hardened {asked.name} {until.isoformat() if until else 'stays out'}"
    return Check(
        key=key,
        what="harden",
        says=f"{asked.name} is hardened off: {stays}{till}{why}, or set it out under cover",
        why=(
            *(Why(said.text, said.basis, said.sources) for said in hardening.why),
            *_against(hardening),
            Why("a number types how many were set out under cover", ""),
        ),
        **carrier.line_of(one, asked),
        due=scene.today,
        tick=Doing("check", ({},), {"check": {"check": key}}),
        typed=Doing("set out", ({"sowing": asked.name},)),
    )


def _to_begin(pairs: list[_Pair], scene: Scene) -> Iterator[Why]:
    """When the calendar has it begin, of those that were not out yet."""
    for hardening, one in pairs:
        row = scene.row(one)
        step = row.step("harden") if row and hardening.begun is None else None
        if step is not None and step.is_ != "happened":
            name = scene.asked(one).name
            yield Why(f"{name}: hardening off should begin {when_in_words(step)}", "the calendar")


def set_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """The plants go to their final place once the window is open and nothing bars it."""
    for one in carrier.alive:
        found = to_be_set_out(one, scene)
        if found is None:
            continue
        (due, why), asked = found, leaving(one, scene, with_medium=True)
        hardening = scene.hardening.get(one.id)
        what = f"the rest of {asked.name}" if one.last_act("set_out") else asked.name
        yield Check(
            key=f"set out {asked.name} {one.times('set_out') + 1}",
            what="set out",
            says=f"set out {what} ({one.standing}){_risk(one, scene)}{_or_out(hardening, scene)}",
            why=(*why, *_verdict(hardening), *_against(hardening)),
            **carrier.line_of(one, asked),
            due=due,
            tick=Doing("set out", ({"sowing": asked.name, "plants": "all"},)),
            typed=Doing("set out", ({"sowing": asked.name},)),
            instead=_instead(hardening, asked, scene),
        )


def _risk(one: Standing, scene: Scene) -> str:
    """What is still to be minded of what bars nothing: the risk of frost left, a cold night."""
    hardening = scene.hardening.get(one.id)
    against = hardening.against if hardening is not None else ()
    briefs = [one.brief for one in against if one.brief and not one.bars]
    return f": {briefs[0]}" if briefs else _if_colder(one, scene)


def _if_colder(one: Standing, scene: Scene) -> str:
    """From where on what stands a light frost is to be covered, where no forecast says."""
    crop, frost = scene.crop(one), frost_of(scene.season)
    if crop is None or frost is None or tonight(scene.weather, scene.today) is not None:
        return ""
    if is_tender(crop) or frost.risk_left_percent(scene.today) < NO_RISK_PERCENT:
        return ""
    stands = limits_for(crop).hardened_night.value
    cold = f"less than {degrees(stands, scene.season.units)}"
    return f"; cover it if {cold if stands != FREEZING.value else 'frost'} is due"


def _more_out(hardening: Hardening | None, today: date) -> bool:
    """Whether the plants may as well stay out one more day on their bench."""
    if hardening is None or hardening.written or hardening.place != "bench":
        return False
    return hardening.due <= today and hardening.today != "held" and hardening.begun is not None


def _or_out(hardening: Hardening | None, scene: Scene) -> str:
    return "; or out for one more day" if _more_out(hardening, scene.today) else ""


def _instead(hardening: Hardening | None, asked: Asked, scene: Scene) -> dict[str, Doing]:
    """`out`: one more day of hardening off, in place of setting out."""
    if hardening is None or not _more_out(hardening, scene.today):
        return {}
    return {"out": _hours_out(hardening, ({"what": f"sowing:{asked.name}"},))}


def _verdict(hardening: Hardening | None) -> tuple[Why, ...]:
    """Ready, wait, or at your own risk; nothing of what was never hardened off."""
    return () if hardening is None else (Why(hardening.verdict.sentence()),)


def _against(hardening: Hardening | None) -> tuple[Why, ...]:
    if hardening is None:
        return ()
    said = (one.said for one in hardening.against)
    return tuple(Why(f"against it: {one.text}", one.basis, one.sources) for one in said)
