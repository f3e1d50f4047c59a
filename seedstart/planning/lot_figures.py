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
    """Why nothing can come up where a sowing was sown; empty where something can."""
    name = records.station_of(sowing.id, sowing.at)
    station = season.stations_by_name.get(name or "")
    if station is None or station.expected is None:
        return ""
    if at_station(crop, station.expected).expected is not None:
        return ""
    return f"the {station.name} is too cold or too hot for {crop.name}"
