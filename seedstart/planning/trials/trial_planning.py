"""A trial planned: which tray gets which level, where it stands, how near to the lamps."""

from collections.abc import Sequence
from datetime import date
from itertools import product

from msgspec import Struct, structs

from seedstart.growing.light.over_shelf import ppfd_umol
from seedstart.growing.trial_design import (
    PLANTS_VARY,
    TRAYS_VARY,
    Shown,
    difference_shown,
    drawn,
    trays_needed,
)
from seedstart.planning.light.station_light import (
    EDGE_TRAY_M,
    Logged,
    StationLight,
    light_at,
    scaled,
)
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.trial_plan import TrialPlace, TrialPlan
from seedstart.season.trials.trial_request import TrialRequest
from seedstart.tracking.lamp_settings import dosers
from seedstart.tracking.records import Records

# Plants are to grow under the lamps for weeks: no nearer than this to begin with. Common practice.
_NEAREST_MM = 100.0


class Planned(Struct, frozen=True):
    """A trial, and what speaks against it.

    Attributes:
        trial: With its places.
        shown: The difference in height between two levels that it can show, as a share of their
            height.
        enough_trays: How many trays a level show the difference wanted; None where none was.
        remarks: What it cannot give or show.
    """

    trial: TrialPlan
    shown: Shown
    enough_trays: int | None
    remarks: tuple[str, ...]


def plan_trial(
    trial: TrialPlan, at: Sequence[StationLight], wanted_percent: float | None = None
) -> Planned:
    """Draw the places of a trial, and say what it can show.

    Each block holds every level of every lot once; within it the order is drawn by lot.

    Args:
        trial: Without places.
        at: The stations that its trays stand at, with their light.
        wanted_percent: The difference in height between two levels that is to be shown, in percent.
    """
    levels = len(trial.levels)
    spread = (100 * PLANTS_VARY, 100 * TRAYS_VARY)
    needed = None
    if wanted_percent is not None:
        needed = trays_needed(levels, trial.plants, wanted_percent, *spread)
    shown = difference_shown(levels, trial.trays, trial.plants, *spread)
    order = drawn(list(product(trial.levels, trial.lots)), trial.trays, trial.seed)
    spots = _spots(at, len(order))
    places, remarks = [], list[str]()
    for number, ((level, lot), (light, spot)) in enumerate(zip(order, spots, strict=True), 1):
        place = TrialPlace(f"T{number}", level, lot, light.station.name)
        if trial.of_light and isinstance(level, float):
            found = _under_lamps(place, level, light, spot)
            if isinstance(found, str):
                remarks.append(found)
            else:
                place = found
        places.append(place)
    if trial.trays == 1:
        remarks.append("One tray a level is one replicate: it will speak of these trays alone.")
    if levels < 5 and trial.by_dose:
        remarks.append("A plateau needs five levels or more: two below the join, two above it.")
    if wanted_percent is not None and needed is None:
        remarks.append(f"No 24 trays a level would show {wanted_percent:g} %.")
    planned = structs.replace(trial, places=tuple(places))
    return Planned(planned, shown, needed.trays if needed else None, tuple(dict.fromkeys(remarks)))


def plan_request(
    request: TrialRequest, plan: Season, records: Records, today: date, logged: Logged
) -> Planned:
    """Plan a trial as requested, under the lamps of the season as they are set now."""
    lights = [
        light_at(plan.stations_by_name[station], plan, records, today, logged=logged)
        for station in request.stations
    ]
    return plan_trial(request.trial, lights, request.wanted_percent)


def _spots(
    at: Sequence[StationLight], number: int
) -> list[tuple[StationLight, tuple[float, float]]]:
    """Where the trays stand, side by side in as few rows as a station's length allows, metres."""
    found: list[tuple[StationLight, tuple[float, float]]] = []
    for index, light in enumerate(at):
        here = number // len(at) + (index < number % len(at))
        shelf = light.shelf
        in_row = max(int(shelf.length_m / EDGE_TRAY_M[0] + 0.01), 1)
        rows = min(-(-here // in_row), max(int(shelf.width_m / EDGE_TRAY_M[1]), 1))
        in_row = -(-here // rows) if here else 1
        for place in range(here):
            row, column = divmod(place, in_row)
            x = shelf.length_m * (column + 0.5) / in_row
            found.append((light, (x, shelf.width_m * (row + 0.5) / rows)))
    return found


def _under_lamps(
    place: TrialPlace, level: float, light: StationLight, spot_m: tuple[float, float]
) -> TrialPlace | str:
    """How far under the lamps the leaf gets its level; a sentence where it cannot."""
    if light.missing:
        return (
            f"The light of {light.station.name} is not known ({'; '.join(light.missing)}): set "
            "each tray by a light meter."
        )

    def dose(height_mm: float) -> float:
        dosing = dosers(light.lamps, light.shelf, height_mm=height_mm)
        return ppfd_umol(scaled(dosing, light.scale.factor), *spot_m)

    low, high = _NEAREST_MM, max(light.height_mm or 0.0, _NEAREST_MM)  # it stands on the shelf
    if not dose(high) <= level <= dose(low):
        side, gets = ("at most", dose(low)) if level > dose(low) else ("at least", dose(high))
        return (
            f"{place.tray} at {light.station.name} gets {side} {gets:.1f} mol where it stands, "
            f"not {level:g}: other hours, another spot, lamps that are stronger or hang higher."
        )
    while high - low > 1:
        half = (low + high) / 2
        low, high = (half, high) if dose(half) > level else (low, half)
    return structs.replace(
        place,
        height_mm=round(high / 5) * 5.0,
        from_left_mm=float(round(spot_m[0] * 1000)),
        from_front_mm=float(round(spot_m[1] * 1000)),
    )
