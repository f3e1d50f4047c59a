"""A lot's germination figure, with what only its crop and its station can tell."""

from seedstart.crop_table.crop import Crop
from seedstart.planning.crop_times import at_station
from seedstart.season.lot import Lot
from seedstart.season.plan import Season
from seedstart.tracking.figures import LotFigure, lot_figure
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def figure_of(lot: Lot, season: Season, records: Records) -> LotFigure:
    """What came up of a lot; a sowing where nothing can come up had no fair chance."""
    crop = season.crops.crops[lot.crop]
    reasons = (
        (one.id, no_fair_chance(one, crop, season, records)) for one in records.of_lot(lot.name)
    )
    unfair = {sowing: why for sowing, why in reasons if why}
    several = crop.seedlings_per_seed is not None
    return lot_figure(lot.name, records, unfair, clusters=several)


def no_fair_chance(sowing: Standing, crop: Crop, season: Season, records: Records) -> str:
    """Why a sowing had no fair chance; empty where it had one.

    Nothing can come up where it was sown; or it was closed for being poor, with fewer than half up
    before the days were over in which the last usually come (half is common practice, no source).
    """
    name = records.station_of(sowing.id, sowing.at)
    station = season.stations_by_name.get(name or "")
    if station is None or station.expected is None:
        return ""
    expected = at_station(crop, station.expected).expected
    if expected is None:
        return f"the {station.name} is too cold or too hot for {crop.name}"
    return _closed_early(sowing, expected.latest, records)


def _closed_early(sowing: Standing, last_day: float, records: Records) -> str:
    zero, closed = records.day_zero(sowing.id), sowing.closed
    if zero is None or closed is None or closed.why not in {"final", "finished"}:
        return ""
    day = (closed.at - zero).total_seconds() / 86_400
    poor = sowing.seeds is not None and 2 * sowing.emerged < sowing.seeds
    if sowing.purpose == "test" or not poor or day >= last_day:
        return ""
    return (
        f"closed on day {day:.0f} with fewer than half up; the last usually come by day "
        f"{last_day:.0f}"
    )
