"""A season's lots → the rows of its calendar."""

from collections.abc import Mapping
from datetime import date
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.calendar.cold_treatment import cold_days, is_fridge
from seedstart.planning.calendar.crop_times import at_station
from seedstart.planning.calendar.frost_dates import FrostDates, frost_dates, recorded_dates
from seedstart.planning.calendar.row import Row, by_sowing
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.seeds_to_sow import SeedsAdvice, seeds_to_sow
from seedstart.planning.calendar.sowing_request import Ask, Where, tray_setting
from seedstart.planning.prospects.own_record import NOTHING_OWN, Own
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import OUTSIDE, Station
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
    if frost.recorded is not None and frost.year is not None:
        risk = frost.tender_risk_percent
        return recorded_dates(frost.recorded, frost.record, frost.year, risk)
    return frost_dates(frost.last, frost.risk_percent, frost.tender_risk_percent)


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
    cold = is_fridge(lot.station, season)
    where = _where(lot.then if cold else lot.station, crop, season, places)
    return Ask(
        crop=crop,
        where=where,
        frost=frost,
        lot=lot.name,
        variety=lot.variety,
        ready=lot.ready,
        work_days=season.work_days,
        away=season.away,
        # In the fridge it has its cold in the tray.
        untreated=_untreated(lot) | ({"stratify"} if cold else set()),
        soak_hours=lot.soak or None,
        stratify_days=None if cold else lot.stratify or None,
        unknown_weather=unknown_weather(lot.then if cold else lot.station, season),
        fridge=lot.station or "" if cold else "",
        fridge_days=cold_days(crop, lot) if cold else 0,
        scarify=bool(lot.scarify),
        others=tuple(place for name, place in others.items() if name != where.name),
        factor=own.counted if own else TRAYS_OVER_TABLE,
        own_sowings=own.sowings if own else 0,
        units=season.units,
        sources=season.crops.sources,
        has_frost=season.frost is not None,
    )


def unknown_weather(name: str | None, season: Season) -> str:
    """A place, if it is outdoors or under glass and nobody says how warm; else empty."""
    station = season.stations_by_name.get(name or "")
    unknown = station is not None and station.kind in OUTSIDE and station.expected is None
    return name or "" if unknown else ""


def _where(name: str | None, crop: Crop, season: Season, places: dict[str, Where]) -> Where:
    """A lot's station; without one, or without its temperature, the mixed-tray setting."""
    if name is None:
        return tray_setting(crop)
    if name in places:
        return places[name]
    station = station_named(season, name)
    if station is not None and station.expected is not None:
        return Where(station.name, station.expected)
    return structs.replace(tray_setting(crop), name=name)


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
