"""A trial as it is planned: varieties × levels of light, or of any one treatment."""

from datetime import date
from typing import Final

from msgspec import Struct

TRIALS_FOLDER: Final = "trials"
LIGHT: Final = "light"
# Some do not come up: so many times the plants wanted are sown. Common practice, no source.
_SPARE: Final = 1.5


class TrialPlace(Struct, frozen=True):
    """One tray of a trial.

    Attributes:
        tray: Its name.
        level: As the plan's list of levels has it.
        lot: What is sown in it.
        station: Where it stands.
        height_mm: From lamp to leaf there: the tray stands on blocks so high.
        from_left_mm, from_front_mm: Its middle on the station.
    """

    tray: str
    level: float | str
    lot: str
    station: str
    height_mm: float | None = None
    from_left_mm: float | None = None
    from_front_mm: float | None = None


class TrialPlan(Struct, frozen=True):
    """A trial as it is planned.

    Attributes:
        name: Of its file.
        kind: `light`, or the treatment in a word.
        lots: The varieties.
        levels: Of light, mol m⁻² d⁻¹; of another treatment, numbers or words.
        trays: A level and lot; one tray is one replicate.
        plants: A tray.
        measure_on: Days after half emergence.
        seed: Of the draw.
        places: Every tray, in the order of the walk.
        lies_on: What the seed is laid on.
        begin: The day it is to be sown; None at once.
        title: What it is to find out, in the grower's words; empty where nothing was said.
    """

    name: str
    kind: str
    lots: tuple[str, ...]
    levels: tuple[float | str, ...]
    trays: int
    plants: int
    measure_on: tuple[int, ...]
    seed: int
    places: tuple[TrialPlace, ...] = ()
    lies_on: str = "medium"
    begin: date | None = None
    title: str = ""

    @property
    def seeds(self) -> int:
        """Seeds to sow in a tray, so that its plants are there to be measured."""
        return round(self.plants * _SPARE)

    @property
    def of_light(self) -> bool:
        """Whether its levels are doses of light."""
        return self.kind == LIGHT

    @property
    def by_dose(self) -> bool:
        """Whether its levels are numbers, which a response can be drawn over."""
        return all(isinstance(level, float) for level in self.levels)
