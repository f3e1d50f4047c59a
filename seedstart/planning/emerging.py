"""A crop's figures of emergence in the form in which measured warmth is counted."""

from collections.abc import Iterable
from datetime import datetime
from functools import lru_cache
from math import sqrt

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.crop_times import at_station, rate_curve
from seedstart.planning.season_today import ExpectedUp
from seedstart.season.plan import Season
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Emerging, Progress, Warmth
from seedstart.units import steady


@lru_cache(maxsize=512)
def emerging_of(crop: Crop, factor: float = TRAYS_OVER_TABLE) -> Emerging:
    """When the first, half and nine in ten of a crop are up, as shares of its expected days."""
    spread = sqrt(crop.first_to_last.best)
    setting = steady(crop.tray_c.best)
    if crop.clock == "table" or crop.days_in_trays is None:
        return Emerging(rate_curve(crop), "table", factor, 1 / factor, spread, setting)
    printed = crop.days_in_trays
    low = min(printed.low / printed.best, 1 / spread)
    high = max(printed.high / printed.best, spread)
    return Emerging(rate_curve(crop), "trays", 1.0, low, high, setting)


def progress_of(
    standing: Standing, season: Season, records: Records, warmth: Warmth, now: datetime
) -> Progress | None:
    """How far one sowing has come by now; None for plants, seed in the cold, an unknown lot."""
    crop = crop_of(standing, season)
    if crop is None or not standing.from_seed:
        return None
    found = warmth.progress(standing.id, records, emerging_of(crop), now)
    if found is None or at_station(crop, steady(round(found.goes_on_c, 1))).expected is not None:
        return found
    # Whatever the curve says: too cold or too hot gets no date.
    return structs.replace(found, expected=None)


def crop_of(standing: Standing, season: Season) -> Crop | None:
    """The crop of a sowing's lot."""
    lot = next((lot for lot in season.lots if lot.name == standing.lot), None)
    return season.crops.crops.get(lot.crop) if lot else None


def expected_up(progress: Iterable[tuple[str, Progress | None]]) -> dict[str, ExpectedUp]:
    """What the calendar takes of progress: by sowing, when it is expected up, and why."""
    return {
        sowing: ExpectedUp(found.expected, found.assumed)
        for sowing, found in progress
        if found is not None and found.expected is not None
    }
