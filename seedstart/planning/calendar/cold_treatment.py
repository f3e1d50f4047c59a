"""Cold that was asked for: how long seed lies in it, and when it comes out.

Seed is laid cold before it is sown (`stratified`), or sown into a tray that stands in a fridge. Its
days of emergence begin when it comes out.
"""

from datetime import date, timedelta

from seedstart.crop_table.crop import Crop
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.tracking.place import Treated
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing


def cold_days(crop: Crop, lot: Lot | None) -> int | None:
    """How many days seed is to lie in the cold: the grower's own, else the crop's.

    Returns:
        None where neither says.
    """
    if lot is not None and lot.stratify:
        return round(lot.stratify)
    printed = (treat.days for treat in crop.treat if treat.what == "stratify" and treat.days)
    return next((round(days.best) for days in printed), None)


def is_fridge(station: str | None, season: Season) -> bool:
    """Whether a station is a fridge: no bench, but cold treatment."""
    known = season.stations_by_name.get(station or "")
    return known is not None and known.kind == "fridge"


def seed_lies_cold(lot: Lot, records: Records) -> Treated | None:
    """The cold in which seed of a lot lies or lay that is still to be sown; None without one."""
    sown = [one.at for one in records.of_lot(lot.name) if one.from_seed]
    return next(
        (
            treated
            for treated in reversed(records.treatments.values())
            if treated.lot == lot.name
            and treated.what == "stratified"
            and not any(at >= treated.since for at in sown)
        ),
        None,
    )


def out_on(treated: Treated, crop: Crop, lot: Lot | None) -> date | None:
    """The day on which seed comes, or came, out of the cold; None where nobody says how long."""
    if treated.until is not None:
        return treated.until.date()
    if treated.hours is not None:
        return (treated.since + timedelta(hours=treated.hours)).date()
    days = cold_days(crop, lot)
    return None if days is None else treated.since.date() + timedelta(days=days)


def began_in_a_fridge(seed: Standing, records: Records) -> bool:
    """Whether a sowing was put into a fridge when it was sown."""
    spots = records.spots(seed.id)
    return bool(spots) and spots[0].station in records.fridges


def out_of_the_fridge_on(
    seed: Standing, crop: Crop, lot: Lot | None, records: Records
) -> date | None:
    """The day on which a tray sown into a fridge comes, or came, out; None where nobody says."""
    zero = records.day_zero(seed.id)
    if zero is not None:
        return zero.date()
    days = cold_days(crop, lot)
    return None if days is None else seed.at.date() + timedelta(days=days)
