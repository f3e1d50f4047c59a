"""What one row of the calendar is asked for: a crop, a place, a day to count from."""

from datetime import date

from msgspec import Struct

from seedstart.crop_table.crop import Crop, Source
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.frost_dates import FrostDates
from seedstart.units import Temperatures, Units, steady


class Where(Struct, frozen=True):
    """A place to come up in.

    Attributes:
        name: As the grower calls it; empty for a bare temperature.
        medium: Temperature of the medium.
        said: Whether the grower named the temperature; otherwise it is the crop's tray setting.
    """

    name: str
    medium: Temperatures
    said: bool = True


class Ask(Struct, frozen=True, kw_only=True):
    """One sowing to be dated.

    Attributes:
        crop: What is sown.
        where: Where it comes up.
        frost: What to count from; None where the grower has no frost.
        ready: Count back from this day instead.
        sow_on: The grower's own day overrules the calendar's.
        later_days: How long after the lot's first sowing, for successions.
        work_days: Weekdays on which the grower sows, pricks out, sets out; none means all.
        away: First and last days of absences.
        untreated: Treatments that are not to be done: `soak`, `stratify`, `scarify`.
        soak_hours: The grower's own time to soak.
        stratify_days: The grower's own time of cold.
        scarify: The grower nicks the coat, whatever the crop says.
        fridge: The fridge that it is sown into; empty for none.
        fridge_days: How long it lies there before its days begin; None where nobody says.
        unknown_weather: The place out of doors or under glass of which nobody says how warm it is.
        has_frost: Whether the season counts from a frost at all; a seed library does not.
        others: Other places, to go to where nothing comes up.
        factor: Days in this grower's trays over days of the handbook's table.
        own_sowings: From how many of the grower's own sowings that is; none: it is the usual one.
        units: For the reasons.
        sources: The crop table's sources by key, to count institutions.
    """

    crop: Crop
    where: Where
    frost: FrostDates | None = None
    lot: str | None = None
    variety: str = ""
    number: int = 1
    ready: date | None = None
    sow_on: date | None = None
    later_days: int = 0
    work_days: tuple[str, ...] = ()
    away: tuple[tuple[date, date], ...] = ()
    untreated: frozenset[str] = frozenset()
    soak_hours: float | None = None
    stratify_days: float | None = None
    scarify: bool = False
    fridge: str = ""
    fridge_days: int | None = 0
    unknown_weather: str = ""
    has_frost: bool = True
    others: tuple[Where, ...] = ()
    factor: float = TRAYS_OVER_TABLE
    own_sowings: int = 0
    units: Units = "metric"
    seeds: int | None = None
    sources: dict[str, Source] = {}


def tray_setting(crop: Crop) -> Where:
    """The mixed tray that the printed weeks were counted in."""
    return Where("", steady(crop.tray_c.best), said=False)
