"""Seed to be sown."""

from collections.abc import Iterator
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import BASIS_IN_WORDS, label_words
from seedstart.daily.check import PRACTICE, Check, Doing, Together, Why
from seedstart.daily.round_context import Scene
from seedstart.days import Window, nearest_work_day, short_day
from seedstart.planning.calendar.row import (
    SOW_OUTDOORS,
    Row,
    Step,
    StepName,
    row_key,
    when_in_words,
)
from seedstart.planning.lots.seed_tests import to_begin
from seedstart.planning.trials.trial_trays import sown_so, to_sow
from seedstart.season.trials.planned_test import PlannedTest
from seedstart.season.trials.trial_plan import TrialPlace
from seedstart.text import plural
from seedstart.units import show_length, show_temperatures

# What is raised for fewer weeks than this indoors comes on in time sown in place. Common practice,
# no source.
_IN_PLACE_UNDER_WEEKS: Final = 6.0
_SPARE: Final = "half as many again as are measured, for some do not come up"


def sow(scene: Scene) -> Iterator[Check]:
    """What is to be sown today, or was to be before."""
    for row in scene.to_sow:
        step = row.step("sow")
        if row.lot is None or step is None or step.window is None:
            continue
        if step.window.best > scene.today and not _is_overdue(row, step, scene):
            continue
        every = "all " if row.few and row.few.all_there_are else ""
        seeds = f"{every}{plural(row.seeds, 'seed')} of " if row.seeds else ""
        station = f", {row.station}" if row.station else ""
        chance = f": {row.few.in_words}" if row.few else ""
        known = {"seeds": str(row.seeds or ""), "station": row.station or ""}
        texts = {"lot": row.lot} | {key: text for key, text in known.items() if text}
        sowing = Doing("sow", (texts,))
        yield structs.replace(
            check_of_row(row, "sow", scene),
            what="sow",
            says=(
                f"sow {seeds}{row_key(row)}{station}{_outdoors(step)}{chance}"
                f"{_too_late(row, step, scene)}{_on_the_label(row, scene)}"
            ),
            due=step.best_day or scene.today,
            tick=sowing if row.seeds else None,
            typed=sowing,
        )


def _too_late(row: Row, step: Step, scene: Scene) -> str:
    """What still makes sense once its last useful day has passed."""
    if step.missed is None or scene.today <= step.missed.latest or step.says == SOW_OUTDOORS:
        return ""
    crop = scene.season.crops.crops[row.crop]
    weeks = crop.weeks_before_last_frost
    short = weeks is not None and weeks.best < _IN_PLACE_UNDER_WEEKS
    in_place = short or crop.sow_outdoors_weeks is not None
    instead = "sow it outdoors instead, or " if in_place else ""
    ended = short_day(step.missed.latest)
    return f"; its time ended on {ended}: {instead}take it out of the plan"


def _is_overdue(row: Row, step: Step, scene: Scene) -> bool:
    """Whether its day passed undone, and it waits for nothing but the next day of work.

    It stays in sight on the days between, else a week may pass without a word of it.
    """
    season, today = scene.season, scene.today
    if step.missed is None or step.missed.best >= today or row.step("treat") is not None:
        return False
    is_away = nearest_work_day(Window.on(today), (), season.away) is None
    return not is_away and nearest_work_day(Window.on(today), season.work_days) is None


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


def sow_trials(scene: Scene) -> Iterator[Check]:
    """Trays of a trial that were not sown yet: those of a station in one line."""
    for trial in scene.season.trials:
        for place in to_sow(trial, scene.records, scene.today):
            sowing = Doing("sow", (sown_so(place, trial),))
            yield Check(
                key=f"sow trial {trial.name} {place.tray}",
                what="sow",
                says=f"sow {plural(trial.seeds, 'seed')} of {place.lot} in {place.tray} for the "
                f"trial {trial.name}{_under_lamps(place, scene)}",
                why=(Why("planned", f"trials/{trial.name}.toml"), Why(_SPARE, PRACTICE)),
                subject=("tray", place.tray),
                station=place.station,
                tray=place.tray,
                due=trial.begin or scene.today,
                tick=sowing,
                typed=sowing,
                together=Together(f"trial {trial.name}", f"sow the trial {trial.name}: {{}}"),
            )


def _under_lamps(place: TrialPlace, scene: Scene) -> str:
    if place.height_mm is None:
        return ""
    return f", {show_length(place.height_mm / 1000, scene.season.units)} under the lamps"


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


def check_of_row(row: Row, step: StepName, scene: Scene) -> Check:
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
