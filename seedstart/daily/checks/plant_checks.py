"""Thinning, pricking out, potting on, hardening off, setting out."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby
from typing import Final

from msgspec import structs

from seedstart.acts.act import Texts
from seedstart.daily.check import PRACTICE, Asked, Check, Doing, Why, names
from seedstart.daily.checks.care_checks import place_of
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.row import Step, StepName, when_in_words
from seedstart.planning.calendar.season_today import STEP_DONE_BY
from seedstart.planning.hardening.hardening_status import Hardening
from seedstart.tracking.meanings import Did
from seedstart.tracking.standing import Standing

# Seedlings show which is the strongest when they have stood for some days. Common practice, no
# source.
_THIN_AFTER_DAYS: Final = 10
# Plants that were left behind when others were pricked out or set out. Common practice, no source.
_REST_AFTER_DAYS: Final = 7
# Of those that are expected in all, so many are up before any is pricked out. Common practice, no
# source.
_SHARE_UP: Final = 0.5
_DONE_AFTER: Final[dict[StepName, tuple[Did, ...]]] = {
    "prick_out": ("potted_on", "set_out"), "set_out": (),
}  # fmt: skip
_DONE: Final[dict[StepName, str]] = {"prick_out": "taken out", "set_out": "set out"}


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
        done = len(one.acts_of("thinned"))
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
            typed=Doing("thin", ({"sowing": asked.name},)),
        )


def prick_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Seedlings get their own cells at the first true leaf; those that were left follow."""
    for one in carrier.alive:
        if not one.from_seed or not one.standing:
            continue
        divided = one.last_act(*STEP_DONE_BY["prick_out"])
        found = _rest(one, "prick_out", scene) if divided else _first_pricking(one, scene)
        if found is None:
            continue
        (due, why), asked = found, _leaving(one, scene)
        what = f"the rest of {asked.name}" if divided else asked.name
        if scene.expects_more(one):
            what = f"those of {asked.name} with a leaf"
        yield Check(
            key=f"prick out {asked.name} {one.times('pricked_out') + 1}",
            what="prick out",
            says=f"prick out {what}: {one.standing} stand; how many, where to?",
            why=why,
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=due,
            typed=Doing("prick out", ({"sowing": asked.name},)),
        )


_Found = tuple[date, tuple[Why, ...]]


def _leaving(one: Standing, scene: Scene, *, with_medium: bool = False) -> Asked:
    """A sowing that plants are to leave; the last of them ends its count where none will follow."""
    asked = scene.asked(one)
    if not one.from_seed or one.closed is not None:
        return asked
    with_medium = with_medium and one.last_act("pricked_out") is None
    none_follow = not scene.may_come(one) or scene.prospects.none_is_expected(one.id)
    ends = with_medium or none_follow
    return structs.replace(asked, closes=ends)


def _first_pricking(one: Standing, scene: Scene) -> _Found | None:
    step = scene.step_due(one, "prick_out")
    if step is None or step.best_day is None:
        return None
    whys = (
        _from_calendar("pricked out", step, one),
        Why("at the first true leaf: without one yet, put it off", PRACTICE),
    )
    if not scene.expects_more(one):
        return step.best_day, whys
    to_come = scene.prospects.to_come(one.id)
    if to_come.total is None or to_come.more is None:
        return step.best_day, whys
    if one.emerged < _SHARE_UP * to_come.total.best:
        return None  # each pricking out disturbs those that follow
    follow = Why(f"some {to_come.more:.0f} more are to be expected: count on")
    return step.best_day, (*whys, follow)


def _rest(one: Standing, name: StepName, scene: Scene) -> _Found | None:
    """When the plants that were left behind are asked for again, and why.

    Not once a later step was taken with them, nor where the calendar has no such step.
    """
    row = scene.row(one)
    last = one.last_act(*STEP_DONE_BY[name])
    later = one.last_act(*_DONE_AFTER[name])
    if row is None or row.step(name) is None or last is None or later:
        return None
    due = last.at.date() + timedelta(days=_REST_AFTER_DAYS)
    if due > scene.today:
        return None
    done = f"some of {scene.asked(one).name} were {_DONE[name]} on {short_day(last.at.date())}"
    ways = "`keep` if they stay, `0` if they were thrown away"
    return due, (
        Why(f"{done}, {one.standing} still stand there: {ways}"),
        Why("what was too small then is asked for again after a week", PRACTICE),
    )


def _from_calendar(done: str, step: Step, one: Standing, sources: tuple[str, ...] = ()) -> Why:
    """When the calendar has it, in the calendar's own words."""
    if step.is_ == "happened":
        text = f"{one.name}: not {done} yet; others of it were {done} on {when_in_words(step)}"
    else:
        text = f"{one.name}: to be {done} {when_in_words(step)}"
    return Why(text, "the calendar", sources)


def _sources(step: StepName, one: Standing, scene: Scene) -> tuple[str, ...]:
    """What the calendar's reasons for a step rest on; pricking and potting on rest on practice."""
    row = scene.row(one)
    reasons = [reason for reason in row.reasons if reason.step == step] if row else []
    return tuple(dict.fromkeys(key for reason in reasons for key in reason.sources))


def pot_on(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Plants that stay long get a bigger pot."""
    for one in carrier.alive:
        step = scene.step_due(one, "pot_on")
        potted = one.potted_since is not None
        if step is None or step.best_day is None or potted or not one.standing:
            continue
        asked = scene.asked(one)
        yield Check(
            key=f"pot on {asked.name} 1",
            what="pot on",
            says=f"pot on {asked.name} ({one.standing})",
            why=(_from_calendar("potted on", step, one),),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=step.best_day,
            tick=Doing("pot on", ({"sowing": asked.name},)),
            typed=Doing("pot on", ({"sowing": asked.name},)),
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
    of: tuple[Texts, ...] = tuple({"what": f"sowing:{one.name}"} for one in asked)
    of = (place_of(carrier),) if whole else of
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
        why=(
            *(Why(said.text, said.basis, said.sources) for said in hardening.why),
            *_to_begin(pairs, scene),
        ),
        subject=carrier.subject if whole else ("sowing", pairs[0][1].id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=asked,
        due=scene.today if hardening.begun else hardening.due,
        tick=None
        if hardening.today == "held"
        else Doing(
            "harden off",
            tuple({**one, "night": "yes" if night else ""} for one in of),
            {"hours": {"hours": hardening.hours}},
        ),
        typed=Doing("harden off", of),
    )


def _to_begin(pairs: list[tuple[Hardening, Standing]], scene: Scene) -> Iterator[Why]:
    """When the calendar has it begin, of those that were not out yet."""
    for hardening, one in pairs:
        row = scene.row(one)
        step = row.step("harden") if row and hardening.begun is None else None
        if step is not None and step.is_ != "happened":
            name = scene.asked(one).name
            yield Why(f"{name}: hardening off to begin {when_in_words(step)}", "the calendar")


_LIGHT: Final = {"shade": "the shade", "half sun": "half sun", "sun": "the sun"}


def set_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """The plants go to their final place once the window is open and nothing speaks against it."""
    for one in carrier.alive:
        if not one.standing:
            continue
        out = one.last_act("set_out")
        found = _rest(one, "set_out", scene) if out else _first_out(one, scene)
        if found is None:
            continue
        (due, why), asked = found, _leaving(one, scene, with_medium=True)
        what = f"the rest of {asked.name}" if out else asked.name
        hardening = scene.hardening.get(one.id)
        yield Check(
            key=f"set out {asked.name} {one.times('set_out') + 1}",
            what="set out",
            says=f"set out {what} ({one.standing})",
            why=(*why, *(Why(f"against it: {one.text}", one.basis) for one in _against(hardening))),
            subject=("sowing", one.id),
            station=carrier.station,
            tray=carrier.tray,
            sowings=(asked,),
            due=due,
            tick=Doing("set out", ({"sowing": asked.name, "plants": "all"},)),
            typed=Doing("set out", ({"sowing": asked.name},)),
        )


def _first_out(one: Standing, scene: Scene) -> _Found | None:
    step, hardening = scene.step_due(one, "set_out"), scene.hardening.get(one.id)
    if step is None or step.best_day is None:
        return None
    if hardening and hardening.set_out and hardening.set_out.best > scene.today:
        return None  # others of its row may be farther than it is
    why = _from_calendar("set out", step, one, _sources("set_out", one, scene))
    return step.best_day, (why,)


def _against(hardening: Hardening | None) -> list[Why]:
    if hardening is None:
        return []
    return [Why(one.said.text, one.said.basis, one.said.sources) for one in hardening.against]
