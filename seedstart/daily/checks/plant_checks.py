"""Thinning, pricking out, potting on; what was left behind, and when the rest is to go out."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from msgspec import structs

from seedstart.daily.check import PRACTICE, Asked, Check, Doing, Why
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.row import Step, StepName, when_in_words
from seedstart.planning.calendar.season_today import STEP_DONE_BY
from seedstart.season.journal.entry import Entry
from seedstart.text import plural
from seedstart.tracking.meanings import Did
from seedstart.tracking.standing import Standing

# Seedlings show which is the strongest when they have stood for some days. Common practice, no
# source.
_THIN_AFTER_DAYS: Final = 10
# Plants that were left behind when others were pricked out or set out. Common practice, no source.
_REST_AFTER_DAYS: Final = 7
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
            **carrier.line_of(one, asked),
            due=due,
            typed=Doing("thin", ({"sowing": asked.name},)),
        )


def prick_out(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Seedlings get their own cells at the first true leaf; those that were left follow."""
    for one in carrier.alive:
        if not one.from_seed or not one.standing:
            continue
        divided = one.last_act(*STEP_DONE_BY["prick_out"])
        found = to_be_pricked_out(one, scene)
        if found is None or to_be_set_out(one, scene) is not None:
            continue
        (due, why), asked = found, leaving(one, scene)
        what = f"the rest of {asked.name}" if divided else asked.name
        if scene.expects_more(one):
            what = f"those of {asked.name} with a leaf"
        yield Check(
            key=f"prick out {asked.name} {one.times('pricked_out') + 1}",
            what="prick out",
            says=f"prick out {what} ({plural(one.standing, 'seedling')}): how many, and into what?",
            why=why,
            **carrier.line_of(one, asked),
            due=due,
            typed=Doing("prick out", ({"sowing": asked.name},)),
        )


Found = tuple[date, tuple[Why, ...]]


def to_be_pricked_out(one: Standing, scene: Scene) -> Found | None:
    """Since when, and why, plants of a sowing from seed are to get their own cells."""
    if not one.from_seed or not one.standing:
        return None
    if one.last_act(*STEP_DONE_BY["prick_out"]):
        return rest(one, "prick_out", scene)
    return _first_pricking(one, scene)


def waits_for_pricking(one: Standing, scene: Scene) -> bool:
    """Whether later steps wait for it: for a week; then it is taken that they stay as they are."""
    found = to_be_pricked_out(one, scene)
    return found is not None and (scene.today - found[0]).days < _REST_AFTER_DAYS


def leaving(one: Standing, scene: Scene, *, with_medium: bool = False) -> Asked:
    """A sowing that plants are to leave; the last of them ends its count where none will follow."""
    asked, lot = scene.asked(one), scene.lot(one)
    if lot is not None:
        asked = structs.replace(asked, want=lot.want, then=lot.then or "")
    if not one.from_seed or one.closed is not None:
        return asked
    with_medium = with_medium and one.last_act("pricked_out") is None
    none_follow = not scene.may_come(one) or scene.prospects.none_is_expected(one.id)
    ends = with_medium or none_follow
    return structs.replace(asked, closes=ends)


def _first_pricking(one: Standing, scene: Scene) -> Found | None:
    step = scene.step_due(one, "prick_out")
    if step is None or step.best_day is None:
        return None
    whys = (
        from_calendar("pricked out", step, one),
        Why("at the first true leaf: without one yet, put it off", PRACTICE),
    )
    if not scene.expects_more(one):
        return step.best_day, whys
    to_come = scene.prospects.to_come(one.id)
    if to_come.total is None or to_come.more is None:
        return step.best_day, whys
    if not scene.half_is_up(one):
        return None  # each pricking out disturbs those that follow
    follow = Why(f"about {to_come.more:.0f} more should come up: keep counting")
    return step.best_day, (*whys, follow)


def rest(one: Standing, name: StepName, scene: Scene) -> Found | None:
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
        Why(f"{done}, {one.standing} are still there: {ways}"),
        Why("those too small then are asked for again after a week", PRACTICE),
    )


def from_calendar(done: str, step: Step, one: Standing, sources: tuple[str, ...] = ()) -> Why:
    """When the calendar has it, in the calendar's own words."""
    if step.is_ == "happened":
        text = f"{one.name}: not {done} yet; others were {done} on {when_in_words(step)}"
    else:
        text = f"{one.name}: should be {done} {when_in_words(step)}"
    return Why(text, "the calendar", sources)


def sources_of(step: StepName, one: Standing, scene: Scene) -> tuple[str, ...]:
    """What the calendar's reasons for a step rest on; pricking and potting on rest on practice."""
    row = scene.row(one)
    reasons = [reason for reason in row.reasons if reason.step == step] if row else []
    return tuple(dict.fromkeys(key for reason in reasons for key in reason.sources))


def to_be_potted_on(one: Standing, scene: Scene) -> Step | None:
    """The step of plants that are to get a bigger pot now; pricking out comes first."""
    step = scene.step_due(one, "pot_on")
    if step is None or step.best_day is None or one.potted_since is not None or not one.standing:
        return None
    return None if pricking_comes_first(one, scene) else step


def pricking_comes_first(one: Standing, scene: Scene) -> bool:
    """Whether it is to be pricked out, or was today."""
    return waits_for_pricking(one, scene) or on_day(one.last_act("pricked_out"), scene.today)


def pots_come_first(one: Standing, scene: Scene) -> bool:
    """Whether it is to be potted on, for a week, or was today."""
    step = to_be_potted_on(one, scene)
    if step is not None and step.best_day is not None:
        return (scene.today - step.best_day).days < _REST_AFTER_DAYS
    return on_day(one.last_act("potted_on"), scene.today)


def fed_today(one: Standing, scene: Scene) -> bool:
    """Whether it was fed today: plants that go out, or begin to, are not fed."""
    return on_day(scene.records.last(one.id, "fed"), scene.today)


def to_be_set_out(one: Standing, scene: Scene) -> Found | None:
    """Since when plants are to be set out, and why; None while something bars it.

    What was carried out, pricked out, potted on or fed today is set out tomorrow at the soonest.
    """
    if not one.standing or pricking_comes_first(one, scene) or pots_come_first(one, scene):
        return None
    if fed_today(one, scene):
        return None
    hardening = scene.hardening.get(one.id)
    if hardening is not None and (hardening.written or not hardening.may_set_out):
        return None
    if one.last_act("set_out"):
        return rest(one, "set_out", scene)
    return _first_out(one, scene)


def _first_out(one: Standing, scene: Scene) -> Found | None:
    step, hardening = scene.step_due(one, "set_out"), scene.hardening.get(one.id)
    if step is None or step.best_day is None:
        return None
    if hardening and hardening.set_out and hardening.set_out.best > scene.today:
        return None  # others of its row may be farther than it is
    why = from_calendar("set out", step, one, sources_of("set_out", one, scene))
    return step.best_day, (why,)


def on_day(act: Entry | None, day: date) -> bool:
    """Whether something was done on a day."""
    return act is not None and act.at.date() == day


def pot_on(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Plants that stay long get a bigger pot."""
    for one in carrier.alive:
        step = to_be_potted_on(one, scene)
        if step is None or step.best_day is None or to_be_set_out(one, scene) is not None:
            continue
        asked = scene.asked(one)
        yield Check(
            key=f"pot on {asked.name} 1",
            what="pot on",
            says=f"pot on {asked.name} ({one.standing})",
            why=(from_calendar("potted on", step, one),),
            **carrier.line_of(one, asked),
            due=step.best_day,
            tick=Doing("pot on", ({"sowing": asked.name},)),
            typed=Doing("pot on", ({"sowing": asked.name},)),
        )
