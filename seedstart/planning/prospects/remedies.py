"""Until when seed of a lot may be sown again: it is still set out within the window of the plan."""

from datetime import date, timedelta
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.planning.calendar.crop_times import at_station, growing, is_tender
from seedstart.planning.calendar.season_rows import asks_of, first_ask, frost_of, places_to_come_up
from seedstart.planning.calendar.season_today import as_set, by_number
from seedstart.planning.calendar.sowing_request import Ask, Where, set_out_window
from seedstart.planning.prospects.prospect import Known
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.stations import HEATED, UNDER_GLASS, Station
from seedstart.tracking.standing import Standing
from seedstart.tracking.station_warmth import NO_LONGER_HEATS_C
from seedstart.units import Temperatures, steady

_AS_PLANNED_C: Final = 1.0  # no further from its plan than this, it is taken as planned


def better_places(crop: Crop, here: str | None, known: Known) -> tuple[Where, ...]:
    """The other stations at which a crop comes up well, the quickest first.

    Each is as warm as was read there within a day, else as it goes on. A mat that no longer heats,
    heats far too much or is switched off is left out, whatever the plan says of it; so is a frame
    or tunnel before the last frost, for what that kills. The calendar's warnings name the first.

    Args:
        crop: What lies there.
        here: Where it lies now, which is left out too.
        known: The season, and what is known by now.
    """
    at_best: list[tuple[float, Where]] = []
    for name, place in places_now(known).items():
        if name == here or _may_freeze(known.season.stations_by_name[name], crop, known):
            continue
        found = at_station(crop, place.medium)
        if found.expected and found.outlook.verdict == "comes up":
            at_best.append((found.expected.best, place))
    return tuple(place for _, place in sorted(at_best, key=lambda one: one[0]))


def places_now(known: Known) -> dict[str, Where]:
    """The stations where seed is brought up, as warm as they are now; no mat that fails."""
    season = as_set(known.season, known.records, known.now.date())
    found = {}
    for name, place in places_to_come_up(season).items():
        medium = _as_it_is(place, known)
        off_c = medium.mean_c - place.medium.mean_c
        runs_away = off_c >= NO_LONGER_HEATS_C and season.stations_by_name[name].kind in HEATED
        if off_c > -NO_LONGER_HEATS_C and not runs_away and not _is_off(name, known):
            found[name] = Where(name, medium)
    return found


def days_at(crop: Crop, station: str, known: Known) -> float | None:
    """Days to come up at a station, as warm as it really is; None where it does not, or who knows.

    Args:
        crop: What lies there.
        station: By its present name.
        known: The season, and what is known by now.
    """
    season = as_set(known.season, known.records, known.now.date())
    place = places_to_come_up(season).get(station)
    expected = at_station(crop, _as_it_is(place, known)).expected if place else None
    return expected.best if expected else None


def _as_it_is(place: Where, known: Known) -> Temperatures:
    """The medium of a place: as planned where that is near, else as it was read."""
    c = known.warmth.now_c(place.name, known.records, place.medium, known.now)
    return place.medium if abs(place.medium.mean_c - c) < _AS_PLANNED_C else steady(round(c, 1))


def _is_off(station: str, known: Known) -> bool:
    """Whether its heat is switched off: nobody knows how warm it is."""
    mats = [one.mat for one in known.records.place(("station", station)).settings if one.mat]
    return bool(mats) and mats[-1] == "off"


def _may_freeze(station: Station, crop: Crop, known: Known) -> bool:
    """Whether a frost could reach there what it kills: under glass, before the average last one."""
    frost = frost_of(known.season)
    if station.kind not in UNDER_GLASS or not is_tender(crop) or frost is None:
        return False
    return known.now.date() < frost.average


def last_day_to_sow(
    lot: Lot, standing: Standing, known: Known, where: Where | None = None
) -> date | None:
    """The last day on which a lot can be sown again and set out in the window of its plan.

    That window stands: it is counted from the frost or the ready date, never from what happened.

    Args:
        lot: It.
        standing: The sowing that would be replaced.
        known: The season, and what is known by now.
        where: Another place than the lot's own to sow it at.

    Returns:
        None where nothing ends it: a crop without weeks indoors, a season without a frost.
    """
    ask = ask_again(lot, standing, known)
    ask = structs.replace(ask, where=where) if where is not None else ask
    allowed, grows = set_out_window(ask), growing(ask.crop, ask.factor)
    expected = at_station(ask.crop, ask.where.medium, ask.factor).expected
    if allowed is None or grows is None or expected is None:
        return None
    grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
    cold = ask.fridge_days or 0
    return allowed.latest - timedelta(days=round(expected.best) + round(grown) + cold)


def ask_again(lot: Lot, standing: Standing, known: Known) -> Ask:
    """What the calendar was asked for this sowing of the lot, its own day apart."""
    season = as_set(known.season, known.records, known.now.date())
    first = first_ask(lot, season, frost_of(season), places_to_come_up(season), known.own)
    made = by_number(known.records.of_lot(lot.name), known.records)
    number = next((place for place, one in enumerate(made) if one.id == standing.id), 0)
    asks = asks_of(lot, first)
    return structs.replace(asks[min(number, len(asks) - 1)], sow_on=None)
