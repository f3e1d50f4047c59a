"""A trial as it came out: plants, doses by what the lamps did, groups, where stretching stops."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct

from seedstart.growing.light.dose import dli_mol
from seedstart.growing.light.over_shelf import ppfd_umol
from seedstart.growing.plateau import Apart, Response, response, varieties_apart
from seedstart.growing.sturdiness import (
    GroupMean,
    group_mean,
    pooled_means,
    sturdiness_quotient,
)
from seedstart.planning.light.station_light import Logged, scaled
from seedstart.season.journal.entries import Lost, Measured
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.trial_plan import TrialPlace, TrialPlan
from seedstart.text import folded
from seedstart.tracking.lamp_settings import (
    dosers,
    lamps_between,
    lamps_since,
    shelf_of,
)
from seedstart.tracking.light_readings import LIGHT, logged_light, ppfd_of, scale_by_readings
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

Measure = Literal["height_mm", "diameter_mm", "quotient"]
MEASURES: Final[tuple[Measure, ...]] = ("height_mm", "diameter_mm", "quotient")
DoseBasis = Literal["read in the tray", "lamps as they were set", "as planned"]
DEAD: Final = "dead when measured"
# Trays measured at ages farther apart than this are not compared without a word: common practice.
_SAME_AGE_DAYS: Final = 1.0


class TrialPlant(Struct, frozen=True):
    """One measured plant."""

    height_mm: float
    diameter_mm: float

    @property
    def quotient(self) -> float:
        """Height in cm over stem in mm."""
        return sturdiness_quotient(self.height_mm, self.diameter_mm)

    def value(self, of: Measure) -> float:
        """One of its measures."""
        return self.quotient if of == "quotient" else float(getattr(self, of))


class TrialTray(Struct, frozen=True):
    """One tray of a trial, as it was measured.

    Attributes:
        place: As planned.
        sowing: What was sown in it, by name; empty where nothing was.
        on: The day it was measured; None where it was not.
        age_days: Days from half emergence till then.
        plants: Those that were measured.
        dead: How many were found dead then.
        dose_mol: Light a day that it really got; of another treatment its level.
        dose_basis: What that rests on.
    """

    place: TrialPlace
    sowing: str = ""
    on: date | None = None
    age_days: float | None = None
    plants: tuple[TrialPlant, ...] = ()
    dead: int = 0
    dose_mol: float | None = None
    dose_basis: DoseBasis = "as planned"


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
    wanted = age_days or (trial.measure_on[0] if trial.measure_on else 21)
    sown = _sown(trial, records)
    trays = tuple(
        _tray(place, sown.get(folded(place.tray)), wanted, trial, season, records, logged)
        for place in trial.places
    )
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


def _sown(trial: TrialPlan, records: Records) -> dict[str, Standing]:
    """What was sown for the trial, by the folded name of the tray that it first stood in."""
    found: dict[str, Standing] = {}
    for one in records.standings.values():
        if one.trial is not None and folded(one.trial) == folded(trial.name):
            tray = next((spot.tray for spot in records.spots(one.id) if spot.tray), None)
            if tray is not None:
                found[folded(tray)] = one
    return found


def half_up(one: Standing) -> datetime | None:
    """When half of those that came up were up, by the counts; None before any was."""
    counts = zip(one.counted, one.emerged_by, strict=True)
    return next((entry.at for entry, up in counts if up and up * 2 >= one.emerged), None)


def _tray(
    place: TrialPlace,
    one: Standing | None,
    wanted: int,
    trial: TrialPlan,
    season: Season,
    records: Records,
    logged: Logged,
) -> TrialTray:
    planned = place.level if isinstance(place.level, float) else None
    if one is None:
        return TrialTray(place, dose_mol=planned)
    up = half_up(one)
    measured = _nearest(one.measured, up, wanted)
    dead = sum(
        act.plants or 0
        for act in one.acts
        if isinstance(act, Lost)
        and act.why == DEAD
        and (measured is None or act.at.date() == measured.at.date())
    )
    if measured is None or up is None:
        return TrialTray(place, one.name, dead=dead, dose_mol=planned)
    dose: float | None = planned
    basis: DoseBasis = "as planned"
    if trial.of_light:
        dose, basis = _dose(place, season, records, logged, up, measured.at)
    return TrialTray(
        place,
        one.name,
        measured.at.date(),
        (measured.at - up).total_seconds() / 86_400,
        tuple(TrialPlant(plant.height_mm, plant.diameter_mm) for plant in measured.plants),
        dead,
        dose,
        basis,
    )


def _nearest(measured: Sequence[Measured], up: datetime | None, wanted: int) -> Measured | None:
    """The measuring at about the age wanted; None without any."""
    if up is None:
        return None
    ages = [(abs((one.at - up).total_seconds() / 86_400 - wanted), one.at, one) for one in measured]
    return min(ages, key=lambda one: one[:2])[2] if ages else None


def _dose(
    place: TrialPlace,
    season: Season,
    records: Records,
    logged: Logged,
    since: datetime,
    until: datetime,
) -> tuple[float | None, DoseBasis]:
    """The light a day that a tray got between two moments, by the best that is known of it."""
    planned = place.level if isinstance(place.level, float) else None
    station = season.stations_by_name.get(place.station)
    if station is None or not station.lamps:
        return planned, "as planned"
    at_station = records.place(("station", station.name))
    found = lamps_since(station, at_station.settings)
    stretches = list(lamps_between(found, since, until))
    days = sum(long for long, _ in stretches)
    in_tray = [
        one
        for one in records.place(("tray", place.tray)).readings
        if one.quantity in LIGHT and since <= one.at <= until
    ]
    read = [ppfd for one in in_tray if (ppfd := ppfd_of(one, station.lamps)) is not None]
    shelf = shelf_of(station)
    if read and days:
        mean = sum(value for value, _ in read) / len(read)
        hours = sum(long * (held.lamps[0].hours or 0) for long, held in stretches) / days
        return dli_mol(mean, hours), "read in the tray"
    spot = place.from_left_mm, place.from_front_mm
    missing = any(lamp.missing() for lamp in found[-1].lamps)
    if shelf is None or missing or not days or place.height_mm is None or None in spot:
        return planned, "as planned"
    by_loggers = logged_light(station, found, logged, until)
    scale = scale_by_readings(station, found, at_station.readings, by_loggers)
    total = 0.0
    for long, held in stretches:
        hanging = scaled(dosers(held.lamps, shelf, height_mm=place.height_mm), scale.factor)
        total += long * ppfd_umol(hanging, (spot[0] or 0) / 1000, (spot[1] or 0) / 1000)
    return total / days, "lamps as they were set"


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
        values = [tray_mean(tray, of)] if of_trays else [one.value(of) for one in tray.plants]
        x += [tray.dose_mol] * len(values)
        y += values
    return x, y


def _groups(
    trial: TrialPlan, trays: Sequence[TrialTray], *, of_trays: bool
) -> Iterable[TrialGroup]:
    for lot in trial.lots:
        by_level = {
            level: [one for one in trays if (one.place.lot, one.place.level) == (lot, level)]
            for level in trial.levels
        }
        means = _means(by_level, of_trays=of_trays)
        for level, those in by_level.items():
            measured = [one for one in those if one.plants]
            doses = [one.dose_mol for one in measured or those if one.dose_mol is not None]
            yield TrialGroup(
                lot=lot,
                level=level,
                dose_mol=sum(doses) / len(doses) if doses else None,
                trays=len(measured),
                plants=sum(len(one.plants) for one in measured),
                dead=sum(one.dead for one in those),
                of=means.get(level, {}),
            )


def _means(
    by_level: Mapping[float | str, Sequence[TrialTray]], *, of_trays: bool
) -> dict[float | str, dict[Measure, GroupMean]]:
    """Mean and interval of each level that was measured; trays of all levels share one spread."""
    there = {
        level: measured
        for level, those in by_level.items()
        if (measured := [one for one in those if one.plants])
    }
    found: dict[float | str, dict[Measure, GroupMean]] = {level: {} for level in there}
    for of in MEASURES:
        if of_trays:
            values = [[tray_mean(one, of) for one in those] for those in there.values()]
            means = pooled_means(values)
        else:
            plants = [[one for tray in those for one in tray.plants] for those in there.values()]
            means = [group_mean([one.value(of) for one in those]) for those in plants]
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
        those = [one for one in measured if one.place.lot == lot]
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
            sum((one.place.lot, one.place.level) == key for one in measured)
            for key in {(one.place.lot, one.place.level) for one in measured}
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
