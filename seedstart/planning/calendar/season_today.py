"""A season's calendar as it is expected today: the plan, and what has happened of it."""

from collections.abc import Collection, Iterator, Mapping, Sequence, Set
from datetime import date
from typing import Final

from msgspec import Struct, structs

from seedstart.days import Window
from seedstart.planning.calendar.cold_treatment import (
    began_in_a_fridge,
    out_of_the_fridge_on,
    out_on,
    seed_lies_cold,
)
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.reschedule import Happened, row_today
from seedstart.planning.calendar.row import Row, StepName, by_sowing
from seedstart.planning.calendar.season_rows import (
    asks_of,
    first_ask,
    frost_of,
    places_to_come_up,
    seeds_advice,
    with_seeds,
)
from seedstart.planning.calendar.sowing_request import Ask, Where
from seedstart.planning.prospects.own_record import NOTHING_OWN, Own, OwnRecord
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import OUTSIDE, Station
from seedstart.tracking.meanings import Did, meaning
from seedstart.tracking.medium import expectations, thermostat_holds_medium
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

# The calendar's steps that are done with plants, and the acts that do each.
STEP_DONE_BY: Final[dict[StepName, tuple[Did, ...]]] = {
    "prick_out": ("pricked_out", "split"), "pot_on": ("potted_on",), "set_out": ("set_out",),
}  # fmt: skip


class ExpectedUp(Struct, frozen=True):
    """When a sowing is expected up by the warmth it had, and what that rests on."""

    window: Window
    rests_on: str = ""


def rows_today(
    season: Season,
    records: Records,
    expected: Mapping[str, ExpectedUp],
    today: date,
    own: OwnFactor | None = None,
) -> tuple[Row, ...]:
    """Every sowing of every lot, planned or made, by the day to sow.

    Args:
        season: The plan.
        records: What has happened.
        expected: By sowing, when it is expected up; where none is said the plan's days hold.
        today: The day it is.
        own: The grower's own factor; None where no sowing of theirs speaks.
    """
    season = as_set(season, records, today)
    frost, places = frost_of(season), places_to_come_up(season)
    record = OwnRecord(season, records)
    rows = [
        row
        for lot in season.lots
        for row in lot_rows_today(
            lot, season, records, expected, today, frost, places, own, record.of(lot, season)
        )
    ]
    return tuple(sorted(rows, key=by_sowing))


def as_set(season: Season, records: Records, today: date) -> Season:
    """The season with each station's temperature as it was set since: `expected`, the thermostat.

    A mat that is switched off is counted with as it is with its heat on: what is still to be sown
    is sown onto a warm one.
    """
    stations = tuple(_as_set(station, season, records, today) for station in season.stations)
    return season if stations == season.stations else structs.replace(season, stations=stations)


def _as_set(station: Station, season: Season, records: Records, today: date) -> Station:
    settings = records.place(("station", station.name)).settings
    set_by_now = [one for one in settings if one.at.date() <= today]
    if not set_by_now:
        return station
    now = expectations(
        station.expected,
        set_by_now,
        thermostat_holds_it=thermostat_holds_medium(station),
        units=season.units,
    )[-1]
    return structs.replace(station, expected=now.medium or now.with_heat)


def lot_rows_today(
    lot: Lot,
    season: Season,
    records: Records,
    expected: Mapping[str, ExpectedUp],
    today: date,
    frost: FrostDates | None,
    places: dict[str, Where],
    own: OwnFactor | None = None,
    record: Own = NOTHING_OWN,
    others: Mapping[str, Where] | None = None,
) -> Iterator[Row]:
    """The sowings of one lot: those that were made, those still to be made, then plants that count
    as none of these and go on all the same.
    """  # noqa: D205
    first = first_ask(lot, season, frost, places, own, others)
    outside = {one.name for one in season.stations if one.kind in OUTSIDE}
    asks = asks_of(lot, first)
    of_lot = records.of_lot(lot.name)
    made = by_number(of_lot, records)
    to_make = len(asks) - len(made)
    cold = seed_lies_cold(lot, records) if to_make > 0 else None
    advice = seeds_advice(lot, first, today, record, to_make) if to_make > 0 else None
    for number in range(1, max(len(asks), len(made)) + 1):
        sowing = made[number - 1] if number <= len(made) else None
        ask = asks[number - 1] if number <= len(asks) else structs.replace(first, number=number)
        if sowing is not None:
            yield _as_it_went(ask, lot, sowing, records, expected, places, today, outside)
        else:
            cold_till = out_on(cold, first.crop, lot) if cold and number == len(made) + 1 else None
            row = row_today(ask, None, today, cold_till)
            yield row if advice is None else with_seeds(row, advice)
    numbered = {one.id for one in made}
    unnumbered = (one for one in of_lot if one.id not in numbered)
    more = (one for one in unnumbered if _goes_on_unnumbered(one, records))
    for number, one in enumerate(more, max(len(asks), len(made)) + 1):
        ask = structs.replace(first, number=number)
        yield _as_it_went(ask, lot, one, records, expected, places, today, outside)


def _as_it_went(
    ask: Ask,
    lot: Lot,
    head: Standing,
    records: Records,
    expected: Mapping[str, ExpectedUp],
    places: dict[str, Where],
    today: date,
    outside: Set[str],
) -> Row:
    happened = _happened(head, records, expected.get(head.id), outside)
    asked = _where_it_stood(ask, head, records, places, outside - places.keys())
    return row_today(_as_cold_as_it_was(asked, lot, head, records, today), happened, today)


def _as_cold_as_it_was(ask: Ask, lot: Lot, head: Standing, records: Records, today: date) -> Ask:
    """What is asked of it with the days in the fridge that it had, or has still to have."""
    seed = records.lineage(head.id)[-1]
    if not began_in_a_fridge(seed, records):
        return structs.replace(ask, fridge="", fridge_days=0)
    out = out_of_the_fridge_on(seed, ask.crop, lot, records)
    if out is None:
        days = None
    else:  # past its day it comes out today at the soonest
        out = out if records.day_zero(seed.id) is not None else max(out, today)
        days = (out - seed.at.date()).days
    return structs.replace(ask, fridge=records.spots(seed.id)[0].station or "", fridge_days=days)


def _goes_on_unnumbered(one: Standing, records: Records) -> bool:
    """Whether plants head a row that are of no numbered sowing of their lot.

    They came up in one that was sown again, or was added to another sowing; or they were
    pricked out or split off before it was known of which lot they are.
    """
    if one.from_seed:
        family = records.family(one.id)
        return one.purpose != "test" and any(each.standing for each in family)
    return records.head_of(one.id) == one.id and records.lineage(one.id)[-1].from_seed


def by_number(sowings: Sequence[Standing], records: Records) -> list[Standing]:
    """The sowings of a lot that count as its first, second …: one sown instead of another has
    that one's number; tests, and seed added to another sowing sowing, have none.
    """  # noqa: D205
    numbered: list[Standing] = []
    for one in sowings:
        if not one.from_seed or one.purpose == "test" or one.onto is not None:
            continue
        replaced = records.by_name_in_line(one.instead_of) if one.instead_of else None
        places = [place for place, other in enumerate(numbered) if replaced and other == replaced]
        if places:
            numbered[places[0]] = one
        else:
            numbered.append(one)
    return numbered


def _where_it_stood(
    ask: Ask,
    sowing: Standing,
    records: Records,
    places: dict[str, Where],
    unknown_weather: Collection[str],
) -> Ask:
    """Emergence is reckoned at the station where it was sown, not where the plan had it."""
    seed = records.lineage(sowing.id)[-1]
    station = records.station_of(seed.id, seed.at)
    unknown = station if station in unknown_weather else ""
    ask = structs.replace(ask, unknown_weather=unknown or "") if station is not None else ask
    return structs.replace(ask, where=places[station]) if station in places else ask


def _happened(
    head: Standing,
    records: Records,
    expected: ExpectedUp | None,
    harden_by_themselves: Collection[str] = (),
) -> Happened:
    whole, seed = records.family(head.id), records.lineage(head.id)[-1]
    days: dict[StepName, date] = {"sow": seed.at.date()}
    begun = [records.treatments[one].since for one in seed.after if one in records.treatments]
    if begun:
        days["treat"] = min(begun).date()
    if seed.up_since is not None:
        days["emerge"] = seed.up_since.date()
    acts = [act for one in whole for act in one.acts] + list(_before(head, records))
    for step, by in STEP_DONE_BY.items():
        done = [act.at for act in acts if meaning(act).did in by]
        if done:
            days[step] = min(done).date()
    out = [day for one in whole for day, entry in records.hours_out(one.id).items() if entry.hours]
    if out:
        days["harden"] = min(out)
    alive = [one for one in whole if one.alive]
    spots = [spot for one in alive if (spot := records.spot(one.id)) is not None]
    outside = [spot.since.date() for spot in spots if spot.station in harden_by_themselves]
    return Happened(
        sowing=head.name,
        sowing_id=head.id,
        stations=records.stations_of([one for one in alive if one.lives] or whole[-1:]),
        days=days,
        expected_up=expected.window if expected else None,
        rests_on=expected.rests_on if expected else "",
        over=not alive,
        stands_out_since=min(outside, default=None),
    )


def _before(head: Standing, records: Records) -> Iterator[Entry]:
    """What was done to those that it came from, till it was made; setting out is of others."""
    for one in records.lineage(head.id)[1:]:
        for act in one.acts:
            if act.at <= head.at and meaning(act).did != "set_out":
                yield act


def row_for(sowing: str, rows: Mapping[str, Sequence[Row]], records: Records) -> Row | None:
    """The row of a sowing, or of the one that heads its family; None where it has none.

    Args:
        sowing: Its id.
        rows: By lot, its rows of the calendar.
        records: What happened.
    """
    head = records.head_of(sowing)
    of_lot = rows.get(records.lot_of(sowing) or "", ())
    return next((row for row in of_lot if row.sowing_id == head), None)
