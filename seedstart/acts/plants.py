"""How many plants go, against how many stood: what does not fit is a question, never a refusal."""

from datetime import datetime
from typing import Final

from seedstart.acts.sheet import Sheet
from seedstart.days import long_day, short_day
from seedstart.planning.crop_times import is_tender
from seedstart.planning.hardening import was_out
from seedstart.planning.season_rows import frost_of
from seedstart.season.entries import Counted
from seedstart.text import plural
from seedstart.tracking.standing import Standing

# A count is taken for what stands for so long; after that more may have come up that nobody
# counted. Common practice, no source.
COUNT_HOLDS_DAYS: Final = 3


def plants_leave(sheet: Sheet, key: str, plants: int) -> None:
    """Ask where more plants go than stood at a fresh count, or than were sown.

    What was never counted, or long ago, is taken as come up uncounted.

    Args:
        sheet: The act; its sowing is read.
        key: The field of the number.
        plants: How many go, all told.
    """
    one = sheet.standing()
    if one is None or plants <= one.standing:
        return
    fresh = _counted_lately(one, sheet.moment)
    if not one.from_seed:
        sheet.ask(key, f"{one.standing} stand, not {plants}.")
    elif fresh is not None:
        day = long_day(fresh.date())
        sheet.ask(key, f"{one.standing} stood on {day}, not {plants}; count them first if more do.")
    elif one.seeds is not None and not _clusters(sheet, one):
        gone = sum(one.left.values())
        if gone + plants > one.seeds:
            before = f", and {gone} went before" if gone else ""
            sheet.ask(key, f"{plural(one.seeds, 'seed')} were sown{before}; {plants} plants now?")


def plants_left(sheet: Sheet, key: str, left: int) -> None:
    """Ask where as many or more are said to be left than stood at a fresh count: none would go."""
    one = sheet.standing()
    if one is None or left < one.standing:
        return
    if left == one.standing or not one.from_seed or _counted_lately(one, sheet.moment):
        sheet.ask(key, f"{one.standing} stand, so none would go.")


def _counted_lately(one: Standing, moment: datetime) -> datetime | None:
    """When it was last said how many stand, if that was lately."""
    counts = [entry.at for entry in one.counted if entry.standing is not None]
    said = [act.at for act in one.acts if getattr(act, "left", None) is not None]
    last = max([*counts, *said], default=None)
    if last is None or (moment.date() - last.date()).days > COUNT_HOLDS_DAYS:
        return None
    return last


def _clusters(sheet: Sheet, one: Standing) -> bool:
    """Whether one seed of its crop gives several seedlings."""
    lot = sheet.known.plan.lots_by_name.get(one.lot or "")
    crop = sheet.known.plan.crops.crops.get(lot.crop) if lot else None
    return crop is not None and crop.seedlings_per_seed is not None


def counted_by_another_today(one: Standing, by: str, moment: datetime) -> Counted | None:
    """Another writer's count of the same day, the latest: a lower one disagrees with it."""
    last = one.counted[-1] if one.counted else None
    same_day = last is not None and last.at.date() == moment.date()
    return last if last is not None and same_day and by and last.by != by else None


def out_before_the_frost(sheet: Sheet) -> None:
    """Ask where what a frost kills is set out before its date, and was never hardened off."""
    one, season, records = sheet.standing(), sheet.known.plan, sheet.known.records
    crop = season.crop_of(records.lot_of(one.id)) if one is not None else None
    frost = frost_of(season)
    if one is None or crop is None or frost is None or not is_tender(crop):
        return
    day = sheet.moment.date()
    if day >= (frost.trusted or frost.average) or was_out(one, season, records):
        return
    risk = frost.risk_left_percent(day)
    text = (
        f"{one.name} was not hardened off, a frost kills it, and one comes after {short_day(day)}"
    )
    sheet.ask("plants", f"{text} in {risk:.0f} % of years.")
