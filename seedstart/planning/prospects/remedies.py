"""Until when seed of a lot may be sown again: it is still set out within the window of the plan."""

from datetime import date, timedelta
from typing import Final

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.planning.calendar.crop_times import at_station, growing
from seedstart.planning.calendar.season_rows import asks_of, first_ask, frost_of, places_to_come_up
from seedstart.planning.calendar.season_today import as_set, by_number
from seedstart.planning.calendar.sowing_request import Ask, Where, set_out_window
from seedstart.planning.prospects.prospect import Known
from seedstart.season.plan.lot import Lot
from seedstart.tracking.standing import Standing
from seedstart.units import steady

# A place that is by so much colder than planned is no help. Common practice, no source.
_NO_LONGER_HEATS_C: Final = 4.0
_AS_PLANNED_C: Final = 1.0  # no further from its plan than this, it is taken as planned


def better_places(crop: Crop, here: str | None, known: Known) -> tuple[Where, ...]:
    """The other stations at which a crop comes up well, the quickest first.

    Each is as warm as was read there within a day, else as it goes on. A mat that no longer heats
    is left out, whatever the plan says of it. The calendar's warnings name the first of them too.

    Args:
        crop: What lies there.
        here: Where it lies now, which is left out too.
        known: The season, and what is known by now.
    """
    at_best: list[tuple[float, Where]] = []
    for name, place in places_now(known).items():
        found = at_station(crop, place.medium)
        if name != here and found.expected and found.outlook.verdict == "comes up":
            at_best.append((found.expected.best, place))
    return tuple(place for _, place in sorted(at_best, key=lambda one: one[0]))


def places_now(known: Known) -> dict[str, Where]:
    """The stations where seed is brought up, as warm as they are now; none that no longer heats."""
    season, records, warmth, now, _ = known
    found = {}
    for name, place in places_to_come_up(as_set(season, records, now.date())).items():
        c = warmth.now_c(name, records, place.medium, now)
        if place.medium.mean_c - c >= _NO_LONGER_HEATS_C:
            continue
        as_planned = abs(place.medium.mean_c - c) < _AS_PLANNED_C
        found[name] = place if as_planned else Where(name, steady(round(c, 1)))
    return found


def last_day_to_sow(lot: Lot, standing: Standing, known: Known) -> date | None:
    """The last day on which a lot can be sown again and set out in the window of its plan.

    That window stands: it is counted from the frost or the ready date, never from what happened.

    Returns:
        None where nothing ends it: a crop without weeks indoors, a season without a frost.
    """
    ask = ask_again(lot, standing, known)
    allowed, grows = set_out_window(ask), growing(ask.crop, ask.factor)
    expected = at_station(ask.crop, ask.where.medium, ask.factor).expected
    if allowed is None or grows is None or expected is None:
        return None
    grown = grows.growing_on if ask.ready is None else grows.growing_on_at_least
    return allowed.latest - timedelta(days=round(expected.best) + round(grown))


def ask_again(lot: Lot, standing: Standing, known: Known) -> Ask:
    """What the calendar was asked for this sowing of the lot, its own day apart."""
    season = as_set(known.season, known.records, known.now.date())
    first = first_ask(lot, season, frost_of(season), places_to_come_up(season), known.own)
    made = by_number(known.records.of_lot(lot.name), known.records)
    number = next((place for place, one in enumerate(made) if one.id == standing.id), 0)
    asks = asks_of(lot, first)
    return structs.replace(asks[min(number, len(asks) - 1)], sow_on=None)
