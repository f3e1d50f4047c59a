"""Thinning, pricking out, potting on, hardening off, setting out."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby
from typing import Final

from seedstart.daily.care_checks import place_of
from seedstart.daily.carriers import Carrier
from seedstart.daily.check import PRACTICE, Check, Why
from seedstart.daily.scene import Scene
from seedstart.daily.wording import names, window_in_words
from seedstart.days import Window
from seedstart.planning.hardening import Hardening
from seedstart.planning.row import StepName
from seedstart.season.entries import BLANK, Hardened, PottedOn, PrickedOut, Split, Thinned
from seedstart.tracking.standing import Standing

# Seedlings show which is the strongest when they have stood for some days. Common practice, no
# source.
_THIN_AFTER_DAYS: Final = 10


def thin(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Where each plant has its own cell from the start, one is left in each."""
    for one in carrier.alive:
        crop = scene.crop(one)
        if crop is None or crop.raising != "own pot" or one.cells is None or not one.up_since:
            continue
        due = one.up_since.date() + timedelta(days=_THIN_AFTER_DAYS)
        if one.standing <= one.cells or due > scene.today:
            continue
        asked = scene.asked(one)
        done = sum(isinstance(act, Thinned) for act in one.acts)
        text = f"{one.standing} plants stand in {one.cells} cells"
        yield Check(
            key=f"thin {asked.name} {done + 1}",
            what="thin",
            says=f"thin {asked.name} to one a cell",
            why=(Why(text, "counted"), Why("ten days after emergence", PRACTICE)),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=due,
            asks="left",
        )


def prick_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Seedlings get their own cells at the first true leaf."""
    for one in carrier.alive:
        found = scene.step_due(one, "prick_out")
        divided = any(isinstance(act, PrickedOut | Split) for act in one.acts)
        if found is None or not one.from_seed or not one.standing or divided:
            continue
        due, window = found
        asked = scene.asked(one)
        yield Check(
            key=f"prick out {asked.name} 1",
            what="prick out",
            says=f"prick out {asked.name}: {one.standing} stand; how many, where to?",
            why=(
                _from_calendar("pricked out", window._replace(best=due), one),
                Why("at the first true leaf: without one yet, put it off", PRACTICE),
            ),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=due,
            asks="plants into",
        )


def _from_calendar(done: str, window: Window, one: Standing, sources: tuple[str, ...] = ()) -> Why:
    """When the calendar had it: a best day that is past stands as it was."""
    return Why(f"{one.name}: to be {done} {window_in_words(window)}", "the calendar", sources)


def _sources(step: StepName, one: Standing, scene: Scene) -> tuple[str, ...]:
    """What the calendar's reasons for a step rest on; pricking and potting on rest on practice."""
    row = scene.row(one)
    reasons = [reason for reason in row.reasons if reason.step == step] if row else []
    return tuple(dict.fromkeys(key for reason in reasons for key in reason.sources))


def pot_on(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Plants that stay long get a bigger pot."""
    for one in carrier.alive:
        found = scene.step_due(one, "pot_on")
        potted = any(isinstance(act, PottedOn) for act in one.acts)
        if found is None or potted or not one.standing:
            continue
        due, window = found
        asked = scene.asked(one)
        yield Check(
            key=f"pot on {asked.name} 1",
            what="pot on",
            says=f"pot on {asked.name} ({one.standing})",
            why=(_from_calendar("potted on", window._replace(best=due), one),),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=due,
            asks="container",
            writes=(PottedOn(**BLANK, sowing=asked.name),),
        )


def harden(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Today's step of hardening off; what is carried in one tray goes out as one."""
    found = [
        (hardening, one)
        for one in carrier.alive
        for hardening in (scene.hardening.get(one.id),)
        if hardening is not None and _asks_today(hardening, scene.today)
    ]
    whole = carrier.tray is not None and len(found) == len(carrier.alive)
    for _, group in groupby(found, key=lambda pair: _today_alike(pair[0]) if whole else pair[1].id):
        pairs = list(group)
        yield _harden_check(carrier, scene, pairs, whole=whole and len(pairs) == len(found))


def _asks_today(hardening: Hardening, today: date) -> bool:
    return hardening.due <= today and not hardening.written


def _today_alike(hardening: Hardening) -> tuple[float, bool, str]:
    return hardening.hours, hardening.night, hardening.today


def _harden_check(
    carrier: Carrier, scene: Scene, pairs: list[tuple[Hardening, Standing]], *, whole: bool
) -> Check:
    hardening = pairs[0][0]
    asked = tuple(scene.asked(one) for _, one in pairs)
    called = names([one.name for one in asked])
    place = [place_of(carrier)] if whole else [{"sowing": one.name} for one in asked]
    night = hardening.night
    hours = (
        f"{hardening.hours:g} h in {_LIGHT[hardening.light]}{', the night too' if night else ''}"
    )
    says = {
        "held": f"keep {called} in today",
        "half": f"put {called} out: {hours}; it counts half",
    }.get(hardening.today, f"put {called} out: {hours}")
    who = carrier.in_key if whole else asked[0].name
    return Check(
        key=f"harden {who} {hardening.step}",
        what="harden",
        says=f"{says} (step {hardening.step} of {hardening.of})",
        why=tuple(Why(said.text, said.basis, said.sources) for said in hardening.why),
        subject=carrier.subject if whole else ("sowing", pairs[0][1].id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=asked,
        due=scene.today,
        asks="hours",
        writes=()
        if hardening.today == "held"
        else tuple(Hardened(**BLANK, hours=hardening.hours, night=night, **one) for one in place),
    )


_LIGHT: Final = {"shade": "the shade", "half sun": "half sun", "sun": "the sun"}


def set_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """The plants go to their final place once the window is open and nothing speaks against it."""
    for one in carrier.alive:
        hardening = scene.hardening.get(one.id)
        found = scene.step_due(one, "set_out")
        if found is None or not one.standing:
            continue
        window = hardening.set_out if hardening and hardening.set_out else found[1]
        if window.best > scene.today:
            continue
        asked = scene.asked(one)
        yield Check(
            key=f"set out {asked.name} 1",
            what="set out",
            says=f"set out {asked.name} ({one.standing})",
            why=(
                _from_calendar("set out", window, one, _sources("set_out", one, scene)),
                *(Why(f"against it: {one.text}", one.basis) for one in _against(hardening)),
            ),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=min(found[0], window.best),
            asks="plants",
        )


def _against(hardening: Hardening | None) -> list[Why]:
    if hardening is None:
        return []
    return [Why(one.said.text, one.said.basis, one.said.sources) for one in hardening.against]
