"""A season's lots → the rows of its calendar."""

from collections.abc import Mapping
from datetime import date
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.ask import Ask, Where, tray_setting
from seedstart.planning.calendar import plan
from seedstart.planning.crop_times import at_station
from seedstart.planning.frost_dates import FrostDates, frost_dates
from seedstart.planning.own_record import NOTHING_OWN, Own
from seedstart.planning.row import Row, by_sowing
from seedstart.planning.seeds import SeedsAdvice, seeds_to_sow
from seedstart.season.lot import Lot
from seedstart.season.plan import Season
from seedstart.season.stations import Station
from seedstart.tracking.own_factor import OwnFactor

# Nothing is sown to come up here.
_NO_PLACE_TO_COME_UP: Final = frozenset({"fridge", "outdoors"})
# A coat or a treatment would come off in water; primed seed has had its soak.
_NO_SOAK: Final = frozenset({"soak", "scarify"})


def frost_of(season: Season) -> FrostDates | None:
    """Average and trusted day of a season, if it has a frost date."""
    frost = season.frost
    if frost is None or frost.last is None:
        return None
    return frost_dates(frost.last, frost.risk_percent, frost.trust_percent)


def season_rows(season: Season, today: date) -> tuple[Row, ...]:
    """Every sowing of every lot as planned, by the day to sow; those without a date come last.

    Args:
        season: The plan.
        today: The day up to which seed ages and tests are known.
    """
    frost, places = frost_of(season), places_to_come_up(season)
    rows = [row for lot in season.lots for row in lot_rows(lot, season, frost, places, today)]
    return tuple(sorted(rows, key=by_sowing))


def places_to_come_up(season: Season) -> dict[str, Where]:
    """The stations whose temperature is known and where seed is brought up, in walking order."""
    return {
        station.name: Where(station.name, station.expected)
        for station in season.stations
        if station.expected is not None and station.kind not in _NO_PLACE_TO_COME_UP
    }


def lot_rows(
    lot: Lot, season: Season, frost: FrostDates | None, places: dict[str, Where], today: date
) -> list[Row]:
    """The sowings of one lot, each with how many seeds to sow."""
    first = first_ask(lot, season, frost, places)
    rows = [plan(ask) for ask in asks_of(lot, first)]
    advice = seeds_advice(lot, first, today, sowings=len(rows))
    return rows if advice is None else [with_seeds(row, advice) for row in rows]


def asks_of(lot: Lot, first: Ask) -> list[Ask]:
    """What is asked of the calendar for each sowing of a lot."""
    asks = []
    for number in range(1, max(lot.sowings, len(lot.sow), 1) + 1):
        own_day = lot.sow[number - 1] if number <= len(lot.sow) else None
        later = (lot.every_days or 0) * (number - 1)
        asks.append(structs.replace(first, number=number, sow_on=own_day, later_days=later))
    return asks


def seeds_advice(
    lot: Lot, ask: Ask, today: date, own: Own = NOTHING_OWN, sowings: int = 1
) -> SeedsAdvice | None:
    """How many seeds to sow for the plants that are wanted, at the lot's own station.

    Args:
        lot: It.
        ask: What is asked of the calendar for it.
        today: The day up to which seed ages and tests are known.
        own: What the records say.
        sowings: How many of it are still to be made from the packet.
    """
    if lot.want is None:
        return None
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    if found.expected is None:
        return None
    share = found.outlook.normal_share
    return seeds_to_sow(lot, ask.crop, share, today, own=own, sowings=sowings)


def with_seeds(row: Row, advice: SeedsAdvice) -> Row:
    """A row with the number of seeds to sow, and why so many."""
    return structs.replace(
        row,
        seeds=advice.seeds,
        few=advice.few,
        told=(*row.told, *advice.reasons),
        warnings=(*row.warnings, *advice.warnings),
    )


def first_ask(
    lot: Lot,
    season: Season,
    frost: FrostDates | None,
    places: dict[str, Where],
    own: OwnFactor | None = None,
    others: Mapping[str, Where] | None = None,
) -> Ask:
    """What is asked of the calendar for the first sowing of a lot.

    Args:
        lot: It.
        season: The plan.
        frost: Its average and trusted day.
        places: Where seed is brought up.
        own: The grower's own factor; None where no sowing of theirs speaks.
        others: Where it may go instead, as warm as it is there now; None for `places`.
    """
    others = places if others is None else others
    crop = season.crops.crops[lot.crop]
    where = _where(lot, crop, season, places)
    return Ask(
        crop=crop,
        where=where,
        frost=frost,
        lot=lot.name,
        variety=lot.variety,
        ready=lot.ready,
        work_days=season.work_days,
        away=season.away,
        untreated=_untreated(lot),
        soak_hours=lot.soak or None,
        stratify_days=lot.stratify or None,
        scarify=bool(lot.scarify),
        others=tuple(place for name, place in others.items() if name != where.name),
        factor=own.counted if own else TRAYS_OVER_TABLE,
        own_sowings=own.sowings if own else 0,
        units=season.units,
        sources=season.crops.sources,
        has_frost=season.frost is not None,
    )


def _where(lot: Lot, crop: Crop, season: Season, places: dict[str, Where]) -> Where:
    """The lot's own station; without one, or without its temperature, the mixed-tray setting."""
    if lot.station is None:
        return tray_setting(crop)
    if lot.station in places:
        return places[lot.station]
    station = station_named(season, lot.station)
    if station is not None and station.expected is not None:
        return Where(station.name, station.expected)
    return structs.replace(tray_setting(crop), name=lot.station)


def station_named(season: Season, name: str) -> Station | None:
    """A station by its present name."""
    return next((station for station in season.stations if station.name == name), None)


def _untreated(lot: Lot) -> frozenset[str]:
    """Treatments that the seed has had, cannot bear, or that the grower will not do."""
    never = {
        what
        for what, own in (("soak", lot.soak), ("stratify", lot.stratify), ("scarify", lot.scarify))
        if own is not None and not own
    }
    return frozenset(never | (_NO_SOAK if lot.form != "natural" else set()))
