"""Feeling the medium, feeding, measuring."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Final

from seedstart.acts.act import Texts
from seedstart.daily.check import PRACTICE, Check, Doing, Why, moment
from seedstart.daily.checks.plant_checks import waits_for_pricking
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.lots.seed_tests import planned_of
from seedstart.planning.trials.trial_trays import half_up
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.stations import HEATED
from seedstart.text import folded
from seedstart.tracking.standing import Standing

# Seed must not dry out, and a heated medium dries fast: felt every day; plants that stand, every
# other day. Common practice, no source.
_FEEL_AGAIN_DAYS: Final = {True: 1, False: 2}
# Common practice, no source: the first feed two weeks after emergence, then once a week. How much:
# docs/round.md gives the source.
_FIRST_FEED_DAYS: Final = 14
_FEED_AGAIN_DAYS: Final = 7
# Disturbed roots take up none, and salt hurts them. Common practice, no source. While plants are
# hardened off they get none: Growing Gardens, Guide to Hardening-off (weak).
_NOT_FED_AFTER_PRICKING_DAYS: Final = 7
_FEED_BASIS: Final = "University of Massachusetts Extension: none at first, then about 50 ppm N"
# Common practice, no source.
_MEASURE_AGAIN_DAYS: Final = 7


def feel(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Water is a question: the medium is felt, and watered where it is dry."""
    station = scene.station(carrier.station)
    if all(one.on != "medium" for one in carrier.alive):
        return  # a test on paper has a line of its own
    if not carrier.alive or (station is not None and station.kind == "fridge"):
        return
    waiting = [one for one in carrier.alive if scene.waits(one)]
    heated = station is not None and station.kind in HEATED
    watered = watered_last(carrier, scene)
    since = watered.at if watered else max(one.at for one in carrier.alive)
    due = since.date() + timedelta(days=_FEEL_AGAIN_DAYS[bool(waiting) or heated])
    if due > scene.today:
        return
    of = "the tray" if carrier.tray else carrier.name
    when = moment(since, scene.today)
    last = f"watered {when}" if watered else f"no watering recorded since {when}"
    how_often = "felt every day" if waiting or heated else "felt every other day"
    need = " while seed is germinating in it" if waiting else " on a heated place" if heated else ""
    yield Check(
        key=f"water {carrier.in_key} {since.date().isoformat()}",
        what="water",
        says=f"feel {of}: water if it is dry",
        why=(Why(last), Why(f"{how_often}{need}", PRACTICE)),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=tuple(scene.asked(one) for one in carrier.alive),
        due=scene.today,  # a question is never late
        tick=Doing("water", (place_of(carrier),)),
        typed=Doing("weigh", (place_of(carrier),)),
    )


# What a test lies on, and how it is kept moist; agar holds its own water.
_WETTED: Final = {
    "paper": "wet the paper where it is drying",
    "sand": "wet the sand where it is drying",
}


def keep_moist(scene: Scene) -> Iterator[Check]:
    """A germination test on paper or in sand is kept moist: one line a test and lot."""
    tests: dict[tuple[str | None, ...], list[Standing]] = {}
    for one in scene.records.standings.values():
        if one.on not in _WETTED or not scene.wants_care(one):
            continue
        station = scene.records.station_of(one.id)
        if station not in scene.records.fridges:
            tests.setdefault((one.trial or one.id, one.lot, station), []).append(one)
    for (_, _, station), replicates in tests.items():
        wetted = [scene.records.last(one.id, "watered") for one in replicates]
        since = min(one.at if last is None else last.at
                    for one, last in zip(replicates, wetted, strict=True))  # fmt: skip
        if since.date() >= scene.today:
            continue
        first = replicates[0]
        name = _test_called(first, scene)
        yield Check(
            key=f"moisten {name} {since.date().isoformat()}",
            what="moisten",
            says=f"{name}: {_WETTED[first.on]}",
            why=(
                Why(f"{'wetted' if all(wetted) else 'laid down'} {moment(since, scene.today)}"),
                Why("moist from first to last, and never in a film of water", PRACTICE),
            ),
            subject=("lot", first.lot or ""),
            station=station,
            sowings=tuple(scene.asked(one) for one in replicates),
            due=scene.today,  # a question is never late
            tick=Doing("water", tuple({"what": f"sowing:{scene.asked(one).name}"}
                                      for one in replicates)),
        )  # fmt: skip


def _test_called(one: Standing, scene: Scene) -> str:
    """`spring onion-red`: the test, with its lot where it has several."""
    plan = planned_of(one, scene.season)
    if plan is None:
        return scene.asked(one).name
    return plan.name if len(plan.lots) == 1 else f"{plan.name} {one.lot}"


def watered_last(carrier: Carrier, scene: Scene) -> Entry | None:
    """The latest watering of what is carried, its station's among them."""
    found = [scene.records.last(one.id, "watered") for one in carrier.alive or carrier.sowings]
    return max((one for one in found if one), key=lambda one: (one.at, one.id), default=None)


def place_of(carrier: Carrier) -> Texts:
    """How an act names what is carried."""
    return {"what": f"tray:{carrier.tray}" if carrier.tray else f"sowing:{carrier.name}"}


def feed(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Seedlings get their first feed two weeks after emergence, then one a week."""
    # Seedlings of a germination test are judged and thrown away.
    raised = [one for one in carrier.alive if one.purpose != "test"]
    growing = [one for one in raised if one.standing and one.up_since is not None]
    if not growing or len(growing) < len(raised):
        return
    if any(one.id in scene.hardening or _gets_fresh_medium(one, scene) for one in growing):
        return
    fed = [scene.records.last(one.id, "fed") for one in growing]
    last = max((one.at for one in fed if one), default=None)
    up = min(_up(one, scene) for one in growing).date()
    due = (
        up + timedelta(days=_FIRST_FEED_DAYS)
        if last is None
        else last.date() + timedelta(days=_FEED_AGAIN_DAYS)
    )
    due = max((due, *_fed_by_fresh_medium_till(growing)))
    if due > scene.today:
        return
    since = f"fed {short_day(last.date())}" if last else f"up since {short_day(up)}, not fed yet"
    of = "" if carrier.tray else f" {carrier.name}"
    yield Check(
        key=f"feed {carrier.in_key} {(last.date() if last else up).isoformat()}",
        what="feed",
        says=f"feed{of}: weakly, about 50 ppm N" if last is None else f"feed{of}",
        why=(
            Why(since),
            Why("a first feed two weeks after emergence, then one a week", PRACTICE),
            Why("how strong", _FEED_BASIS),
        ),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        sowings=tuple(scene.asked(one) for one in growing),
        due=due,
        tick=Doing("feed", (place_of(carrier),)),
    )


def _gets_fresh_medium(one: Standing, scene: Scene) -> bool:
    """Whether its plants are to be pricked out or potted on now, or some were in the last week."""
    divided = one.last_act("pricked_out")
    if divided and (scene.today - divided.at.date()).days < _NOT_FED_AFTER_PRICKING_DAYS:
        return True
    if one.potted_since is None and scene.step_due(one, "pot_on") is not None:
        return True  # the fresh medium feeds it
    first = divided is None and one.from_seed and scene.step_due(one, "prick_out") is not None
    return first or waits_for_pricking(one, scene)


def _up(one: Standing, scene: Scene) -> datetime:
    """When the plants of a sowing came up: a daughter's, when its mother did."""
    first = scene.records.lineage(one.id)[-1]
    return first.up_since or first.at


def _fed_by_fresh_medium_till(growing: list[Standing]) -> Iterator[date]:
    """Fresh medium feeds them by itself for a while: as long as a first feed is waited for."""
    for one in growing:
        potted = one.last_act("potted_on")
        fresh = potted.at if potted else None if one.from_seed else one.at
        if fresh is not None:
            yield fresh.date() + timedelta(days=_FIRST_FEED_DAYS)


def measure(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """Plants of a trial on its days; others that were measured before, once a week."""
    for one in carrier.alive:
        if not one.standing or not (one.purpose == "trial" or one.measured):
            continue
        found = _measure_due(one, scene)
        if found is None or found[0] > scene.today:
            continue
        due, why = found
        asked = scene.asked(one)
        yield Check(
            key=f"measure {asked.name} {len(one.measured) + 1}",
            what="measure",
            says=f"measure {asked.name}: height and stem of each plant",
            why=why,
            **carrier.line_of(one, asked),
            due=due,
            typed=Doing("measure", ({"sowing": asked.name},)),
        )


def _measure_due(one: Standing, scene: Scene) -> tuple[date, tuple[Why, ...]] | None:
    """The day on which it is to be measured next, and why then; None for not yet, or no more."""
    trial = next((each for each in scene.season.trials if _is_of(one, each.name)), None)
    if trial is not None and trial.measure_on:
        up = half_up(one)
        days = trial.measure_on[len(one.measured) :]
        if up is None or not days:
            return None
        since = f"{days[0]} days after half were up, {short_day(up.date())}"
        return up.date() + timedelta(days=days[0]), (Why(since, f"trials/{trial.name}.toml"),)
    measured_at = one.measured[-1].at if one.measured else one.up_since
    if measured_at is None:
        return None
    last = f"measured {short_day(measured_at.date())}" if one.measured else "not measured yet"
    due = measured_at.date() + timedelta(days=_MEASURE_AGAIN_DAYS)
    return due, (Why(last), Why("once a week", PRACTICE))


def _is_of(one: Standing, trial: str) -> bool:
    return one.trial is not None and folded(one.trial) == folded(trial)
