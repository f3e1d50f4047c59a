"""One function a check, in one tuple: what is carried, and the scene → checks."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime
from typing import Final

from msgspec import structs

from seedstart.daily.check import Check, CountedToday, Together, What
from seedstart.daily.checks.care_checks import (
    feed,
    feel,
    keep_moist,
    measure,
    watered_last,
)
from seedstart.daily.checks.emergence_checks import close, count_key, look_or_count, settle, uncover
from seedstart.daily.checks.lamp_checks import lamps_done, raise_lamps
from seedstart.daily.checks.light_checks import to_the_light
from seedstart.daily.checks.outdoor_checks import harden, set_out
from seedstart.daily.checks.plant_checks import pot_on, prick_out, thin
from seedstart.daily.checks.seed_checks import begin_tests, sow, sow_trials
from seedstart.daily.checks.treatment_checks import (
    out_of_the_fridge,
    take_out,
    treat,
    treatment_keys,
)
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.season.journal.entries import Entry
from seedstart.season.journal.entry import Subject
from seedstart.tracking.meanings import Did
from seedstart.tracking.standing import Standing

_ACTS: dict[Did, tuple[What, str, str]] = {
    "thinned": ("thin", "thin", "thinned"),
    "pricked_out": ("prick out", "prick out", "pricked out"),
    "split": ("prick out", "split", "split"),
    "potted_on": ("pot on", "pot on", "potted on"),
    "set_out": ("set out", "set out", "set out"),
}


def carrier_done(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """What was done today with what stands in one place."""
    today = scene.today
    counted = [one for one in carrier.sowings if one.counted and _on(one.counted[-1], today)]
    if counted:
        last = max((one.counted[-1] for one in counted), key=_order)
        numbers = ", ".join(f"{scene.asked(one).name} {_counted(one)}" for one in counted)
        up = any(one.emerged for one in counted)
        stays = sum(one in counted for one in carrier.alive)
        key = count_key(carrier, stays) if stays else f"count {carrier.in_key} done"
        done = _done(carrier, scene, key, "count" if up else "look", f"counted: {numbers}", last)
        each = tuple(_counted_today(one, scene) for one in counted)
        yield structs.replace(done, counted=each)
    watered = watered_last(carrier, scene)
    if watered and _on(watered, today):
        yield _done(carrier, scene, f"water {carrier.in_key} done", "water", "watered", watered)
    yield from _cared(carrier, scene)
    yield from _acts(carrier, scene)
    yield from _arrived(carrier, scene)


def _counted(one: Standing) -> int | str:
    last = one.counted[-1]
    return last.standing if last.standing is not None else f"{last.new} new"


def _counted_today(one: Standing, scene: Scene) -> CountedToday:
    last = one.counted[-1]
    return CountedToday(scene.asked(one), str(_counted(one)), last.id, last.at)


def _cared(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    of = carrier.alive or carrier.sowings
    fed = _latest([scene.records.last(one.id, "fed") for one in of], scene.today)
    if fed:
        yield _done(carrier, scene, f"feed {carrier.in_key} done", "feed", "fed", fed)
    bare = [one.id for one in of if not scene.records.is_covered(one.id)]
    lifted = _latest([scene.records.cover(one) for one in bare], scene.today)
    if lifted:
        key = f"uncover {carrier.in_key} done"
        yield _done(carrier, scene, key, "uncover", "cover lifted", lifted)
    yield from _hardened(carrier, scene, [one.id for one in of])
    measured = [one for one in of if one.measured and _on(one.measured[-1], scene.today)]
    for one in measured:
        called = scene.asked(one).name
        key = f"measure {called} {len(one.measured)}"
        says = f"measured {len(one.measured[-1].plants)} of {called}"
        yield _done(carrier, scene, key, "measure", says, one.measured[-1])


def _hardened(carrier: Carrier, scene: Scene, sowings: Sequence[str]) -> Iterator[Check]:
    """Hours out, or that it was kept in; both may have been said of one day."""
    records, key = scene.records, f"harden {carrier.in_key} done"
    out = _latest([records.last(one, "hardened") for one in sowings], scene.today)
    held = _latest([records.last(one, "held") for one in sowings], scene.today)
    if out is not None:
        hours = (records.hours_out(one).get(scene.today) for one in sowings)
        said = max((day for day in hours if day is not None), key=lambda day: day.at)
        says = f"out {said.hours:g} h{', the night too' if said.night else ''}"
        done = _done(carrier, scene, key, "harden", says, out)
        yield structs.replace(done, together=Together(f"done, {says}", f"{says}: {{}}"))
    elif held is not None:
        days = (records.held_in(one).get(scene.today) for one in sowings)
        kept = max((day for day in days if day is not None), key=lambda day: day.at)
        yield _done(carrier, scene, key, "harden", f"kept in: {kept.why}", held)


def _acts(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    for one in carrier.sowings:
        for did, (what, key, says) in _ACTS.items():
            act = one.last_act(did)
            if act is not None and _on(act, scene.today):
                called = scene.asked(one).name
                said = f"{called} {says}"
                number = one.times(did)
                yield _done(carrier, scene, f"{key} {called} {number}", what, said, act)


def _arrived(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """A tray, or a sowing that was there before, carried here today."""
    place = scene.records.place(carrier.subject) if carrier.tray else None
    stays = place.stays if place else carrier.sowings[0].stays
    if len(stays) > 1 and stays[-1].since.date() == scene.today and carrier.station:
        yield Check(
            key=f"move to light {carrier.in_key} {carrier.station} done",
            what="move to light",
            says=f"{'' if carrier.tray else f'{carrier.name}: '}moved to the {carrier.station}",
            why=(),
            subject=carrier.subject,
            station=carrier.station,
            tray=carrier.tray,
            due=scene.today,
            done_by="",
            done_at=stays[-1].since,
        )


def _done(carrier: Carrier, scene: Scene, key: str, what: What, says: str, entry: Entry) -> Check:
    return Check(
        key=key,
        what=what,
        says=says if carrier.tray or carrier.name in says else f"{carrier.name}: {says}",
        why=(),
        subject=carrier.subject,
        station=carrier.station,
        tray=carrier.tray,
        due=scene.today,
        done_by=entry.by,
        done_at=entry.at,
    )


def seed_done(scene: Scene) -> Iterator[Check]:
    """What was done today with seed: sown, laid in water or cold, taken out."""
    records = scene.records
    for one in map(records.standings.__getitem__, records.links.made_on.get(scene.today, ())):
        if one.from_seed and one.lot:
            seeds = f"{one.seeds} seeds of " if one.seeds else ""
            called, station = scene.asked(one).name, records.station_of(one.id)
            says = f"sowed {seeds}{called}"
            yield _seed(f"sow {called} done", "sow", says, one.lot, station, (one.at, one.by))
    for treated, key in treatment_keys(scene):
        if treated.since.date() == scene.today:
            begun = (treated.since, treated.by)
            yield _seed(
                f"{treated.what} {key}",
                "treat",
                f"{treated.lot}: {treated.what}",
                treated.lot,
                None,
                begun,
            )
        if treated.until is not None and treated.until.date() == scene.today:
            ended = (treated.until, treated.ended_by)
            says = f"{treated.lot} taken out"
            yield _seed(f"take out {key}", "take out", says, treated.lot, None, ended)


def _seed(
    key: str, what: What, says: str, lot: str, station: str | None, done: tuple[datetime, str]
) -> Check:
    subject: Subject = ("lot", lot)
    at, by = done
    return Check(
        key=key,
        what=what,
        says=says,
        why=(),
        subject=subject,
        station=station,
        due=at.date(),
        done_by=by,
        done_at=at,
    )


def _latest(found: Sequence[Entry | None], today: date) -> Entry | None:
    """The latest of what was done, if that was today."""
    last = max((one for one in found if one), key=_order, default=None)
    return last if last and _on(last, today) else None


def _on(entry: Entry, day: date) -> bool:
    return entry.at.date() == day


def _order(entry: Entry) -> tuple[datetime, str]:
    return entry.at, entry.id


# In the order in which they are done at one tray.
OF_CARRIER: Final[tuple[Callable[[Carrier, Scene], Iterator[Check]], ...]] = (
    out_of_the_fridge,
    look_or_count,
    settle,
    close,
    uncover,
    to_the_light,
    feel,
    thin,
    prick_out,
    pot_on,
    feed,
    measure,
    harden,
    set_out,
)
# On no tray: seed before it is sown, and lamps; they see the whole scene, and are asked anew each
# time.
OF_NO_TRAY: Final[tuple[Callable[[Scene], Iterator[Check]], ...]] = (
    take_out,
    treat,
    sow,
    raise_lamps,
    begin_tests,
    sow_trials,
    keep_moist,
)


def checks_of(carrier: Carrier, scene: Scene) -> tuple[Check, ...]:
    """What is to be done at one tray today, and what was."""
    found = [check for one in OF_CARRIER for check in one(carrier, scene)]
    return (*found, *carrier_done(carrier, scene))


def trayless_checks(scene: Scene) -> tuple[Check, ...]:
    """What is to be done today on no tray, and what was."""
    return (
        *(check for one in OF_NO_TRAY for check in one(scene)),
        *seed_done(scene),
        *lamps_done(scene),
    )
