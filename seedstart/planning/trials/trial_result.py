"""A trial as it came out: groups, the response to the dose, where stretching stops."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct

from seedstart.growing.plateau import Apart, Response, response, varieties_apart
from seedstart.growing.sturdiness import GroupMean, group_mean, pooled_means
from seedstart.planning.light.station_light import Logged
from seedstart.planning.trials.trial_trays import Measure, TrialTray, trial_trays
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.trial_plan import TrialPlan
from seedstart.tracking.records import Records

MEASURES: Final[tuple[Measure, ...]] = ("height_mm", "diameter_mm", "quotient")
# Trays measured at ages farther apart than this are not compared without a word: common practice.
_SAME_AGE_DAYS: Final = 1.0


class TrialGroup(Struct, frozen=True):
    """The trays of one level and variety.

    Attributes:
        lot: The variety.
        level: As planned.
        dose_mol: The mean of what its trays got; None where levels are words.
        trays: How many were measured.
        plants: How many plants.
        dead: How many were found dead.
        of: Mean and interval of each measure; none where no plant is left.
    """

    lot: str
    level: float | str
    dose_mol: float | None
    trays: int
    plants: int
    dead: int
    of: dict[Measure, GroupMean]


class TrialResult(Struct, frozen=True):
    """A trial as it came out.

    Attributes:
        trial: As planned.
        trays: Every tray, in the order of the plan.
        groups: By variety, then level.
        unit: What counts as one: the tray where a level has several, else the plant.
        responses: By variety (empty for all of them), each measure's response to the dose.
        apart: Whether varieties differ in where height levels off; None with one of them.
        remarks: What limits it.
    """

    trial: TrialPlan
    trays: tuple[TrialTray, ...]
    groups: tuple[TrialGroup, ...]
    unit: Literal["tray", "plant"]
    responses: dict[str, dict[Measure, Response]]
    apart: Apart | None
    remarks: tuple[str, ...]


def trial_result(
    trial: TrialPlan,
    season: Season,
    records: Records,
    age_days: int | None = None,
    logged: Logged = MappingProxyType({}),
) -> TrialResult:
    """What came out of a trial so far.

    Args:
        trial: As planned.
        season: For stations and lamps.
        records: What happened.
        age_days: The age at which trays are compared; the first of the plan's.
        logged: What loggers measured.
    """
    trays = trial_trays(trial, season, records, age_days, logged)
    measured = [tray for tray in trays if tray.plants]
    of_trays = _several_trays(measured)
    responses = {}
    if trial.by_dose:
        for lot in ("", *(trial.lots if len(trial.lots) > 1 else ())):
            those = [tray for tray in measured if lot in {"", tray.place.lot}]
            responses[lot] = {
                of: response(*_points(those, of, of_trays=of_trays)) for of in MEASURES if those
            }
    return TrialResult(
        trial=trial,
        trays=trays,
        groups=tuple(_groups(trial, trays, of_trays=of_trays)),
        unit="tray" if of_trays else "plant",
        responses=responses,
        apart=_apart(trial, measured, responses, of_trays=of_trays),
        remarks=tuple(_remarks(trial, trays, of_trays=of_trays)),
    )


def _several_trays(trays: Iterable[TrialTray]) -> bool:
    """Whether every level and variety was measured in two trays or more."""
    numbers: defaultdict[tuple[str, float | str], int] = defaultdict(int)
    for tray in trays:
        numbers[tray.place.lot, tray.place.level] += 1
    return bool(numbers) and min(numbers.values()) > 1


def tray_mean(tray: TrialTray, of: Measure) -> float:
    """The mean of a tray's plants."""
    return sum(plant.value(of) for plant in tray.plants) / len(tray.plants)


def _points(
    trays: Iterable[TrialTray], of: Measure, *, of_trays: bool
) -> tuple[list[float], list[float]]:
    """Doses and responses: a tray a point, or a plant."""
    x, y = list[float](), list[float]()
    for tray in trays:
        if tray.dose_mol is None:
            continue
        values = [tray_mean(tray, of)] if of_trays else [plant.value(of) for plant in tray.plants]
        x += [tray.dose_mol] * len(values)
        y += values
    return x, y


def _groups(
    trial: TrialPlan, trays: Sequence[TrialTray], *, of_trays: bool
) -> Iterable[TrialGroup]:
    for lot in trial.lots:
        by_level = {
            level: [tray for tray in trays if (tray.place.lot, tray.place.level) == (lot, level)]
            for level in trial.levels
        }
        means = _means(by_level, of_trays=of_trays)
        for level, those in by_level.items():
            measured = [tray for tray in those if tray.plants]
            doses = [one.dose_mol for one in measured or those if one.dose_mol is not None]
            yield TrialGroup(
                lot=lot,
                level=level,
                dose_mol=sum(doses) / len(doses) if doses else None,
                trays=len(measured),
                plants=sum(len(tray.plants) for tray in measured),
                dead=sum(tray.dead for tray in those),
                of=means.get(level, {}),
            )


def _means(
    by_level: Mapping[float | str, Sequence[TrialTray]], *, of_trays: bool
) -> dict[float | str, dict[Measure, GroupMean]]:
    """Mean and interval of each level that was measured; trays of all levels share one spread."""
    there = {
        level: measured
        for level, those in by_level.items()
        if (measured := [tray for tray in those if tray.plants])
    }
    found: dict[float | str, dict[Measure, GroupMean]] = {level: {} for level in there}
    for of in MEASURES:
        if of_trays:
            values = [[tray_mean(tray, of) for tray in those] for those in there.values()]
            means = pooled_means(values)
        else:
            plants = [
                [plant for tray in those for plant in tray.plants] for those in there.values()
            ]
            means = [group_mean([plant.value(of) for plant in those]) for those in plants]
        for level, mean in zip(there, means, strict=True):
            found[level][of] = mean
    return found


def _apart(
    trial: TrialPlan,
    measured: Sequence[TrialTray],
    responses: dict[str, dict[Measure, Response]],
    *,
    of_trays: bool,
) -> Apart | None:
    """Whether varieties level off at different doses, by height."""
    pooled = responses.get("", {}).get("height_mm")
    if len(trial.lots) < 2 or pooled is None or pooled.plateau is None:
        return None
    groups = {}
    for lot in trial.lots:
        those = [tray for tray in measured if tray.place.lot == lot]
        groups[lot] = _points(those, "height_mm", of_trays=of_trays)
    return varieties_apart(groups, pooled.plateau.model, join_only=True)


def _remarks(trial: TrialPlan, trays: Sequence[TrialTray], *, of_trays: bool) -> Iterable[str]:
    measured = [tray for tray in trays if tray.plants]
    if not measured:
        yield "No plant of it has been measured yet."
        return
    missing = [tray.place.tray for tray in trays if not tray.plants and not tray.dead]
    if missing:
        yield f"Not measured: {', '.join(missing)}."
    for tray in trays:
        if tray.dead and not tray.plants:
            yield f"All plants of {tray.place.tray} were dead: it says nothing of height."
    ages = [tray.age_days for tray in measured if tray.age_days is not None]
    if ages and max(ages) - min(ages) > _SAME_AGE_DAYS:
        yield (
            f"The trays were {min(ages):.0f} to {max(ages):.0f} days old when they were measured: "
            "an older tray is a taller one."
        )
    if len({tray.place.level for tray in measured}) < 2:
        yield "Only one level was measured: nothing can be said of its effect."
    if of_trays:
        number = min(
            sum((tray.place.lot, tray.place.level) == key for tray in measured)
            for key in {(tray.place.lot, tray.place.level) for tray in measured}
        )
        yield (
            f"{number} trays a level are {number} replicates, not "
            f"{number * trial.plants} plants: the tray is the unit."
        )
    else:
        yield "One tray a level is one replicate: the intervals cover its plants only."
    bases = {tray.dose_basis for tray in measured} if trial.of_light else set()
    if "as planned" in bases:
        yield "Some doses are as planned, not as the lamps gave them: read light in the trays."
