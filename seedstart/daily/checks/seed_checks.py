"""Seed: taken out of soak or cold, treated before sowing, sown."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from msgspec import structs

from seedstart.acts.act import Values
from seedstart.crop_table.crop import BASIS_IN_WORDS, label_words
from seedstart.daily.check import PRACTICE, Check, Doing, Why, moment
from seedstart.daily.round_context import Scene
from seedstart.days import short_day
from seedstart.planning.calendar.row import (
    SOW_OUTDOORS,
    Row,
    Step,
    StepName,
    row_key,
    when_in_words,
)
from seedstart.planning.calendar.seed_treatments import Treatment
from seedstart.planning.seed_tests import to_begin
from seedstart.season.planned_test import PlannedTest
from seedstart.text import plural
from seedstart.tracking.place import Treated
from seedstart.units import show_temperatures

# Seed soaked longer can drown: where nobody named the hours, a night. Common practice, no source.
_OVERNIGHT_HOURS: Final = 12.0
_IN_WORDS: Final = {"soaked": "soaked", "stratified": "in the cold", "scarified": "scarified"}
# A treatment that began so long before its day is not the one that is asked for.
_AHEAD_DAYS: Final = 14


def take_out(scene: Scene) -> Iterator[Check]:
    """Seed that has lain long enough in water or in the cold."""
    for treated, key in treatment_keys(scene):
        if treated.until is not None or treated.what == "scarified" or _sown_since(treated, scene):
            continue
        if treated.hours is None and treated.what != "soaked":
            continue  # nobody said how long: nothing to count from
        hours = treated.hours or _OVERNIGHT_HOURS
        due = treated.since + timedelta(hours=hours)
        if due.date() > scene.today:
            continue
        said = "" if treated.hours else PRACTICE
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
        for treatment in step.treatments:
            if due <= scene.today and not _begun(row.lot, treatment.what, due, scene):
                yield structs.replace(
                    _of_row(row, "treat", scene),
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


def sow(scene: Scene) -> Iterator[Check]:
    """What is to be sown today, or was to be before."""
    for row in scene.to_sow:
        step = row.step("sow")
        if row.lot is None or step is None or step.window is None:
            continue
        if step.window.best > scene.today:
            continue
        every = "all " if row.few and row.few.all_there_are else ""
        seeds = f"{every}{plural(row.seeds, 'seed')} of " if row.seeds else ""
        station = f", {row.station}" if row.station else ""
        chance = f": {row.few.in_words}" if row.few else ""
        known = {"seeds": str(row.seeds or ""), "station": row.station or ""}
        texts = {"lot": row.lot} | {key: text for key, text in known.items() if text}
        sowing = Doing("sow", (texts,))
        yield structs.replace(
            _of_row(row, "sow", scene),
            what="sow",
            says=(
                f"sow {seeds}{row_key(row)}{station}{_outdoors(step)}{chance}"
                f"{_on_the_label(row, scene)}"
            ),
            due=step.best_day or scene.today,
            tick=sowing if row.seeds else None,
            typed=sowing,
        )


def begin_tests(scene: Scene) -> Iterator[Check]:
    """Planned germination tests of which nothing was sown yet: all their replicates at once."""
    for test, lot in to_begin(scene.season, scene.records):
        due = test.begin or scene.today
        if due > scene.today:
            continue
        fridge = next((one.name for one in scene.season.stations if one.kind == "fridge"), None)
        station = fridge if test.prechill_days and fridge else test.station
        texts = {
            "lot": lot, "seeds": str(test.seeds), "lies_on": test.lies_on, "purpose": "test",
            "trial": test.name, **({"station": station} if station else {}),
        }  # fmt: skip
        every = tuple(
            {**texts, "replicate": str(number), "name": test.sowing(lot, number)}
            for number in range(1, test.replicates + 1)
        )
        yield Check(
            key=f"test {test.name} {lot}",
            what="sow",
            says=f"begin the test {test.name}: {test.replicates} × {plural(test.seeds, 'seed')} of "
            f"{lot} on {test.lies_on}{f', {station}' if station else ''}",
            why=_why_of_test(test, fridge, scene),
            subject=("lot", lot),
            station=station,
            due=due,
            tick=Doing("sow", every),
        )


def _why_of_test(test: PlannedTest, fridge: str | None, scene: Scene) -> tuple[Why, ...]:
    whys = [Why("planned", f"trials/{test.name}.toml")]
    if test.temperature is not None:
        whys.append(Why(f"at {show_temperatures(test.temperature, scene.season.units)}"))
    if test.prechill_days:
        where = f"in the {fridge}" if fridge else "in the cold (season.toml lists no fridge)"
        text = f"first {plural(test.prechill_days, 'day')} {where}; days count from its end"
        whys.append(Why(text))
    whys.append(Why(f"counted on day {test.first_count} and, for the last time, {test.last_count}"))
    return tuple(whys)


def _on_the_label(row: Row, scene: Scene) -> str:
    """What can hurt of a crop, or is taken for another, in the words of its label."""
    words = label_words(scene.season.crops.crops[row.crop])
    return f"; caution: {words}" if words else ""


def _outdoors(step: Step) -> str:
    """Where what is sown in place is sown, and since when."""
    if step.says != SOW_OUTDOORS or step.window is None:
        return ""
    earliest = (step.missed or step.window).earliest
    return f" outdoors, from {short_day(earliest)}"


def _of_row(row: Row, step: StepName, scene: Scene) -> Check:
    """What every check about seed to sow says of its row."""
    planned = row.step(step)
    reasons = [reason for reason in row.reasons if reason.step == step]
    whys = [Why(f"to {step} {when_in_words(planned)}", "the calendar")] if planned else []
    whys += [Why(reason.text, "", reason.sources) for reason in reasons]
    whys += [Why(text, "the calendar") for text in row.warnings]
    if step == "sow":
        cautions = scene.season.crops.crops[row.crop].cautions
        whys += [Why(one.text, BASIS_IN_WORDS[one.basis], one.sources) for one in cautions]
    return Check(
        key=f"{step} {row_key(row)}",
        what="sow",
        says="",
        why=tuple(whys),
        subject=("lot", row.lot or ""),
        station=row.station if step == "sow" else None,
        due=scene.today,
    )
