"""Seed that is treated before its days begin: soaked, nicked, laid cold, and taken out again."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby
from typing import Final

from msgspec import structs

from seedstart.acts.act import Texts, Values
from seedstart.daily.check import PRACTICE, Check, Doing, Why, moment, names
from seedstart.daily.checks.care_checks import place_of
from seedstart.daily.checks.seed_checks import check_of_row
from seedstart.daily.round_context import Scene
from seedstart.daily.tray_groups import Carrier
from seedstart.days import short_day
from seedstart.planning.calendar.cold_treatment import cold_days, out_of_the_fridge_on
from seedstart.planning.calendar.row import row_key
from seedstart.planning.calendar.seed_treatments import Treatment
from seedstart.text import plural
from seedstart.tracking.place import Treated
from seedstart.tracking.standing import Standing

# Seed soaked longer can drown: where nobody named the hours, a night. Common practice, no source.
_OVERNIGHT_HOURS: Final = 12.0
_NIGHTS: Final = 2
_IN_WORDS: Final = {"soaked": "soaked", "stratified": "in the cold", "scarified": "scarified"}
# A treatment that began so long before its day is not the one that is asked for.
_AHEAD_DAYS: Final = 14


def take_out(scene: Scene) -> Iterator[Check]:
    """Seed that has lain long enough in water or in the cold."""
    for treated, key in treatment_keys(scene):
        if treated.until is not None or treated.what == "scarified" or _sown_since(treated, scene):
            continue
        hours = _hours_of(treated, scene)
        if hours is None:
            continue  # nobody says how long: nothing to count from
        due = treated.since + timedelta(hours=hours)
        if due.date() > scene.today:
            continue
        said = "" if treated.hours else _who_says(treated, scene)
        since = moment(treated.since, scene.today)
        yield Check(
            key=f"take out {key}",
            what="take out",
            says=f"take {treated.lot} out of the {_PLACE[treated.what]}, at {due:%H:%M}"
            if due.date() == scene.today
            else f"take {treated.lot} out of the {_PLACE[treated.what]}",
            why=(Why(f"{_IN_WORDS[treated.what]} since {since}, for {_long(hours)}", said),),
            subject=("lot", treated.lot),
            due=due.date(),
            tick=Doing("take out", ({},), {"lot": {"lot": treated.lot, "entry": treated.id}}),
        )


def _hours_of(treated: Treated, scene: Scene) -> float | None:
    """How long it is to last, hours: as was said when it began, else as is planned or usual."""
    if treated.hours is not None:
        return treated.hours
    if treated.what == "soaked":
        return _OVERNIGHT_HOURS
    crop = scene.season.crop_of(treated.lot)
    days = cold_days(crop, scene.season.lots_by_name.get(treated.lot)) if crop else None
    return None if days is None else 24.0 * days


def _who_says(treated: Treated, scene: Scene) -> str:
    lot = scene.season.lots_by_name.get(treated.lot)
    if treated.what == "soaked":
        return PRACTICE
    return "your plan" if lot is not None and lot.stratify else "the crop's own days"


def treatment_keys(scene: Scene) -> Iterator[tuple[Treated, str]]:
    """Every treatment, and what tells it from others: its lot, its day, its number on that day."""
    numbers: dict[str, int] = {}
    for treated in scene.records.treatments.values():
        key = f"{treated.lot} {treated.since.date().isoformat()}"
        number = numbers[key] = numbers.get(key, 0) + 1
        yield treated, key if number == 1 else f"{key} {number}"


_PLACE: Final = {"soaked": "water", "stratified": "cold"}


def _long(hours: float) -> str:
    return f"{hours:g} h" if hours < 72 else plural(round(hours / 24), "day")


def _sown_since(treated: Treated, scene: Scene) -> bool:
    """Whether its lot was sown after it began: nobody sows seed that still lies in water."""
    made = (one for one in scene.records.of_lot(treated.lot) if one.from_seed)
    return any(treated.id in one.after or one.at >= treated.since for one in made)


def _is_sown(treated: Treated, scene: Scene) -> bool:
    return any(treated.id in one.after for one in scene.records.of_lot(treated.lot))


def treat(scene: Scene) -> Iterator[Check]:
    """Seed that is to be soaked, nicked or laid cold, so that it is ready on its day to sow."""
    for row in scene.to_sow:
        step = row.step("treat")
        if row.lot is None or step is None or step.window is None:
            continue
        due = step.best_day or scene.today
        if due < scene.today and all(one.days <= _NIGHTS for one in step.treatments):
            due = scene.today  # a night's soak is begun whenever it is sown, and never overdue
        for treatment in step.treatments:
            if due <= scene.today and not _begun(row.lot, treatment.what, due, scene):
                yield structs.replace(
                    check_of_row(row, "treat", scene),
                    key=f"{treatment.what} {row_key(row)}",
                    what="treat",
                    says=f"{treatment.says}: {row_key(row)}",
                    due=due,
                    tick=_begins(treatment, row.lot),
                )
                break  # one after the other
            due += timedelta(days=treatment.days)


def _begun(lot: str, what: str, due: date, scene: Scene) -> bool:
    """Whether the seed for this sowing was treated so already, and not sown yet."""
    return any(
        one.lot == lot
        and _BEGINS[what] == one.what
        and not _is_sown(one, scene)
        and one.since.date() >= due - timedelta(days=_AHEAD_DAYS)
        for one in scene.records.treatments.values()
    )


_BEGINS: Final = {"soak": "soaked", "stratify": "stratified", "scarify": "scarified"}


def _begins(treatment: Treatment, lot: str) -> Doing:
    """The act that begins a treatment, for as long and as warm as it is planned."""
    given: dict[str, Values] = {}
    if treatment.what == "soak":
        given["lasts"] = {"hours": treatment.hours}
    elif treatment.what == "stratify":
        given["lasts"] = {"days": treatment.hours / 24 if treatment.hours else None}
        given["c"] = {"c": treatment.c}
    return Doing(treatment.what, ({"lot": lot},), given)


def out_of_the_fridge(carrier: Carrier, scene: Scene) -> Iterator[Check]:
    """A tray that lies cold in a fridge comes out on its day; where nobody says which, it is asked.

    A tray of which all are due is carried as one; else each by itself.
    """
    lie_cold = [
        (out, one)
        for one in carrier.alive
        if one.from_seed and scene.records.day_zero(one.id) is None
        for out in (_out_on(one, scene),)
    ]
    due = [(out, one) for out, one in lie_cold if out <= scene.today]
    whole = carrier.tray is not None and len(due) == len(carrier.alive)
    for _, group in groupby(due, key=lambda pair: None if whole else pair[1].id):
        yield _to_be_carried_out(carrier, list(group), scene, whole=whole)


def _out_on(one: Standing, scene: Scene) -> date:
    """Its day; where nobody says how long it lies cold, the day after it was put in."""
    crop = scene.crop(one)
    out = out_of_the_fridge_on(one, crop, scene.lot(one), scene.records) if crop else None
    return out or one.at.date() + timedelta(days=1)


def _to_be_carried_out(
    carrier: Carrier, due: list[tuple[date, Standing]], scene: Scene, *, whole: bool
) -> Check:
    asked = tuple(scene.asked(one) for _, one in due)
    fridge, to = carrier.station or "fridge", _place_to_come_up(due[0][1], scene)
    called = "" if whole else f" {names([one.name for one in asked])}"
    of: Texts = (
        place_of(carrier) if whole or not carrier.tray else {"what": f"sowing:{asked[0].name}"}
    )
    says = f"take{called or ' it'} out of the {fridge}{f' to the {to}' if to else ''}"
    whys = tuple(why for _, one in due for why in _why_out(one, scene))
    if any(_is_asked(one, scene) for _, one in due):
        says = f"how long does{called or ' it'} lie cold? {says}, or put it off till its day"
    return Check(
        key=f"take out {carrier.in_key if whole else asked[0].name} {fridge}",
        what="take out",
        says=says,
        why=whys,
        subject=carrier.subject if whole else ("sowing", due[0][1].id),
        station=carrier.station,
        tray=carrier.tray,
        sowings=asked,
        due=max(out for out, _ in due),
        tick=Doing("move", ({**of, "station": to},)) if to else None,
        typed=Doing("move", (of,)),
    )


def _is_asked(one: Standing, scene: Scene) -> bool:
    crop = scene.crop(one)
    return crop is None or cold_days(crop, scene.lot(one)) is None


def _why_out(one: Standing, scene: Scene) -> Iterator[Why]:
    crop, lot = scene.crop(one), scene.lot(one)
    days = cold_days(crop, lot) if crop else None
    since = f"{one.name}: in the cold since {short_day(one.at.date())}"
    if days is None:
        yield Why(f"{since}; nobody says how long it is to lie there")
        return
    yield Why(f"{since}, for {plural(days, 'day')}", "your plan" if lot and lot.stratify else "")
    yield Why("its days to come up begin when it is out")


def _place_to_come_up(one: Standing, scene: Scene) -> str:
    """Where it goes from the fridge: as is planned, else where it comes up soonest."""
    lot, crop = scene.lot(one), scene.crop(one)
    planned = (lot.station, lot.then) if lot is not None else ()
    known = (scene.station(name) for name in planned)
    place = next((each.name for each in known if each and each.kind != "fridge"), "")
    if place or crop is None:
        return place
    here = scene.records.station_of(one.id) or ""
    return next((each.name for each in scene.prospects.better_places(crop, here)), "")
