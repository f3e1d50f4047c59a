"""Until when seed of a lot may be sown again: it is still set out within the window of the plan."""

from datetime import date, timedelta

from msgspec import structs

from seedstart.planning.anchor import set_out_window
from seedstart.planning.ask import Ask, Where
from seedstart.planning.crop_times import at_station, growing
from seedstart.planning.prospect import Known
from seedstart.planning.season_rows import asks_of, first_ask, frost_of, places_to_come_up
from seedstart.planning.season_today import as_set, by_number
from seedstart.season.lot import Lot
from seedstart.tracking.standing import Standing


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
