"""The plants of a trial as a tidy table: one in a row, units in the heads."""

from collections.abc import Iterator
from typing import Final

from seedstart.planning.trials.trial_result import TrialResult

TRIAL_HEAD: Final = (
    "trial", "lot", "level", "tray", "sowing", "date", "age_days", "dose_mol_m2_d", "dose_basis",
    "plant", "height_mm", "diameter_mm", "quotient_cm_per_mm",
)  # fmt: skip


def trial_rows(found: TrialResult) -> Iterator[tuple[object, ...]]:
    """Every measured plant."""
    for tray in found.trays:
        for number, plant in enumerate(tray.plants, 1):
            yield (
                found.trial.name, tray.place.lot, tray.place.level, tray.place.tray, tray.sowing,
                tray.on, None if tray.age_days is None else round(tray.age_days, 2),
                None if tray.dose_mol is None else round(tray.dose_mol, 3), tray.dose_basis,
                number, plant.height_mm, plant.diameter_mm, round(plant.quotient, 4),
            )  # fmt: skip
