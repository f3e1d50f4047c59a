"""A lot's germination figure, with what only its crop and its station can tell."""

from seedstart.planning.crop_times import at_station
from seedstart.season.lot import Lot
from seedstart.season.plan import Season
from seedstart.tracking.figures import LotFigure, lot_figure
from seedstart.tracking.records import Records


def figure_of(lot: Lot, season: Season, records: Records) -> LotFigure:
    """What came up of a lot; a sowing where nothing can come up had no fair chance."""
    crop = season.crops.crops[lot.crop]
    planned = {one.name: one.expected for one in season.stations if one.expected is not None}
    unfair = {}
    for one in records.of_lot(lot.name):
        station = records.station_of(one.id, one.at)
        medium = planned.get(station or "")
        if medium is not None and at_station(crop, medium).expected is None:
            unfair[one.id] = f"the {station} is too cold or too hot for {crop.name}"
    several = crop.seedlings_per_seed is not None
    return lot_figure(lot.name, records, unfair, clusters=several)
