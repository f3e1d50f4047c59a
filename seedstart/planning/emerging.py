"""A crop's figures of emergence in the form in which measured warmth is counted."""

from datetime import datetime
from functools import lru_cache
from math import sqrt
from zoneinfo import ZoneInfo

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.crop_times import at_station, rate_curve
from seedstart.planning.lot_figures import no_fair_chance
from seedstart.season.loggers.series import Readings
from seedstart.season.plan import Season
from seedstart.season.stations import OUTSIDE
from seedstart.tracking.expected_medium import thermostat_holds_medium
from seedstart.tracking.own_factor import OwnFactor, own_factor, seen_factor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Emerging, Progress, Warmth, Way
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


def warmth_of(season: Season, readings: Readings) -> Warmth:
    """The warmth of a season's stations, from its plan and its loggers' readings."""
    planned = {one.name: one.expected for one in season.stations if one.expected}
    heated = frozenset(one.name for one in season.stations if thermostat_holds_medium(one))
    zone = ZoneInfo(season.zone)
    outside = frozenset(one.name for one in season.stations if one.kind in OUTSIDE)
    return Warmth(readings, planned, zone, heated=heated, outside=outside, units=season.units)


def own_factor_of(
    season: Season, records: Records, warmth: Warmth, now: datetime
) -> OwnFactor | None:
    """The grower's own factor, from their closed sowings on measured warmth; None without any."""
    seen = []
    for standing in records.standings.values():
        crop = crop_of(standing, season) if standing.closed is not None else None
        if crop is None or no_fair_chance(standing, crop, season, records):
            continue
        factor = seen_factor(standing, records, warmth, emerging_of(crop), now)
        if factor is not None:
            seen.append(factor)
    return own_factor(seen) if seen else None


def progress_of(
    standing: Standing,
    season: Season,
    records: Records,
    warmth: Warmth,
    now: datetime,
    own: OwnFactor | None = None,
) -> Progress | None:
    """How far one sowing has come by now; None for plants, seed in the cold, an unknown lot.

    Args:
        standing: It.
        season: The plan.
        records: What happened.
        warmth: The season's.
        now: The moment.
        own: The grower's own factor; None where no sowing of theirs speaks.
    """
    crop = crop_of(standing, season)
    way = way_of(standing, crop, records, warmth, now) if crop else None
    return progress_along(way, crop, warmth, now, own) if way and crop else None


def way_of(
    standing: Standing, crop: Crop, records: Records, warmth: Warmth, now: datetime
) -> Way | None:
    """The way of one sowing by its crop's curve; None for plants, and for seed in the cold."""
    return warmth.way(standing.id, records, emerging_of(crop), now)


def progress_along(
    way: Way, crop: Crop, warmth: Warmth, now: datetime, own: OwnFactor | None = None
) -> Progress:
    """How far a sowing has come by now on its way."""
    emerging = emerging_of(crop, own.counted) if own else emerging_of(crop)
    found = warmth.progress_along(way, emerging, now)
    if at_station(crop, steady(round(found.goes_on_c, 1))).expected is not None:
        return found
    # Whatever the curve says: too cold or too hot gets no date.
    return structs.replace(found, expected=None)


def crop_of(standing: Standing, season: Season) -> Crop | None:
    """The crop of a sowing's own lot."""
    return season.crop_of(standing.lot)
