"""The trays of a trial: where each stands in its course, its plants, the light that it got."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct, structs

from seedstart.growing.light.dose import dli_mol
from seedstart.growing.light.over_shelf import ppfd_umol
from seedstart.growing.sturdiness import sturdiness_quotient
from seedstart.planning.light.station_light import Logged, scaled
from seedstart.season.journal.entries import Lost, Measured
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.trial_plan import TrialPlace, TrialPlan
from seedstart.text import folded
from seedstart.tracking.lamp_settings import dosers, lamps_between, lamps_since, shelf_of
from seedstart.tracking.light_readings import LIGHT, logged_light, ppfd_of, scale_by_readings
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

Measure = Literal["height_mm", "diameter_mm", "quotient"]
DoseBasis = Literal["read in the tray", "lamps as they were set", "as planned"]
DEAD: Final = "dead when measured"
_USUAL_AGE_DAYS: Final = 21  # where the plan says none: common practice, no source


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
    """One tray of a trial, and as it was measured.

    Attributes:
        place: As planned.
        sowing: What was sown in it, by name; empty where nothing was.
        standing: How many stand in it now.
        up_on: The day of half emergence; None before.
        on: The day it was measured; None where it was not.
        age_days: Days from half emergence till then.
        plants: Those that were measured.
        dead: How many were found dead then.
        dose_mol: Light a day that it really got; of another treatment its level.
        dose_basis: What that rests on.
    """

    place: TrialPlace
    sowing: str = ""
    standing: int = 0
    up_on: date | None = None
    on: date | None = None
    age_days: float | None = None
    plants: tuple[TrialPlant, ...] = ()
    dead: int = 0
    dose_mol: float | None = None
    dose_basis: DoseBasis = "as planned"


def trial_trays(
    trial: TrialPlan,
    season: Season,
    records: Records,
    age_days: int | None = None,
    logged: Logged = MappingProxyType({}),
) -> tuple[TrialTray, ...]:
    """Every tray of a trial, in the order of the plan.

    Args:
        trial: As planned.
        season: For stations and lamps.
        records: What happened.
        age_days: The age at which they are looked at; the first of the plan's.
        logged: What loggers measured.
    """
    wanted = age_days or (trial.measure_on[0] if trial.measure_on else _USUAL_AGE_DAYS)
    sown = _sown(trial, records)
    return tuple(
        _tray(place, sown.get(folded(place.tray)), wanted, trial, season, records, logged)
        for place in trial.places
    )


def _sown(trial: TrialPlan, records: Records) -> dict[str, Standing]:
    """What was sown for the trial, by the folded name of the tray that it first stood in."""
    found: dict[str, Standing] = {}
    for standing in records.standings.values():
        if standing.trial is not None and folded(standing.trial) == folded(trial.name):
            tray = next((spot.tray for spot in records.spots(standing.id) if spot.tray), None)
            if tray is not None:
                found[folded(tray)] = standing
    return found


def to_sow(trial: TrialPlan, records: Records, today: date) -> Iterator[TrialPlace]:
    """The trays of a trial that are to be sown by now, in the order of the plan.

    Once some of it was measured none is: it would never be compared at their age.
    """
    if trial.begin is not None and trial.begin > today:
        return
    sown = _sown(trial, records)
    if not any(standing.measured for standing in sown.values()):
        yield from (place for place in trial.places if folded(place.tray) not in sown)


def sown_so(place: TrialPlace, trial: TrialPlan) -> Mapping[str, str]:
    """How the act of sowing names a tray of a trial, by its fields."""
    texts = {
        "lot": place.lot, "seeds": f"{trial.seeds}", "tray": place.tray, "purpose": "trial",
        "station": place.station, "trial": trial.name,
    }  # fmt: skip
    on = {"lies_on": trial.lies_on} if trial.lies_on in {"paper", "sand", "agar"} else {}
    return texts | on


def half_up(standing: Standing) -> datetime | None:
    """When half of those that came up were up, by the counts; None before any was."""
    counts = zip(standing.counted, standing.emerged_by, strict=True)
    return next((entry.at for entry, up in counts if up and up * 2 >= standing.emerged), None)


def _tray(
    place: TrialPlace,
    standing: Standing | None,
    wanted: int,
    trial: TrialPlan,
    season: Season,
    records: Records,
    logged: Logged,
) -> TrialTray:
    planned = place.level if isinstance(place.level, float) else None
    if standing is None:
        return TrialTray(place, dose_mol=planned)
    up = half_up(standing)
    tray = TrialTray(
        place,
        standing.name,
        standing.standing or 0,
        None if up is None else up.date(),
        dose_mol=planned,
    )
    measured = _nearest(standing.measured, up, wanted)
    dead = sum(
        act.plants or 0
        for act in standing.acts
        if isinstance(act, Lost)
        and act.why == DEAD
        and (measured is None or act.at.date() == measured.at.date())
    )
    if measured is None or up is None:
        return structs.replace(tray, dead=dead)
    dose: float | None = planned
    basis: DoseBasis = "as planned"
    if trial.of_light:
        dose, basis = _dose(place, season, records, logged, up, measured.at)
    return structs.replace(
        tray,
        on=measured.at.date(),
        age_days=(measured.at - up).total_seconds() / 86_400,
        plants=tuple(TrialPlant(plant.height_mm, plant.diameter_mm) for plant in measured.plants),
        dead=dead,
        dose_mol=dose,
        dose_basis=basis,
    )


def _nearest(measured: Sequence[Measured], up: datetime | None, wanted: int) -> Measured | None:
    """The measuring at about the age wanted; None without any."""
    if up is None:
        return None
    ages = [
        (abs((entry.at - up).total_seconds() / 86_400 - wanted), entry.at, entry)
        for entry in measured
    ]
    return min(ages, key=lambda age: age[:2])[2] if ages else None


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
        reading
        for reading in records.place(("tray", place.tray)).readings
        if reading.quantity in LIGHT and since <= reading.at <= until
    ]
    read = [ppfd for reading in in_tray if (ppfd := ppfd_of(reading, station.lamps)) is not None]
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
