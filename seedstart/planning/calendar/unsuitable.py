"""What speaks against a place or a date, in sentences: too cold, hot or slow, before the frost."""

from collections.abc import Iterator

from seedstart.days import short_day
from seedstart.growing.emergence import Expected
from seedstart.growing.outlook import FAIR_SHARE
from seedstart.planning.calendar.crop_times import (
    AtStation,
    at_station,
    basis_in_words,
    is_tender,
    limit_in_words,
)
from seedstart.planning.calendar.reasons import number_in_words, place_in_words
from seedstart.planning.calendar.sowing_request import Ask, Where, tray_setting
from seedstart.units import show_temperature, show_temperatures


def warnings_of(ask: Ask, found: AtStation) -> Iterator[str]:
    """What speaks against a date that is given."""
    yield from _ready_before_the_frost(ask)
    seen = found.outlook
    place, crop = place_in_words(ask.where, ask), ask.crop.name
    if seen.verdict == "slow" and found.expected is not None:
        days = number_in_words(found.expected.best)
        yield (
            f"{place} {crop} takes {days} days to come up, and seed rots in cold, wet soil; "
            f"{remedy(ask)}"
        )
    if seen.verdict != "badly":
        return
    if seen.limit_c is not None:
        limit = show_temperature(seen.limit_c, ask.units)
        cold = seen.limit_c < ask.crop.fastest_c.best
        side = "below" if cold else "above"
        which = "" if ask.where.medium.steady else " for part of the day"
        words = limit_in_words(ask.crop, cold=cold, sources=ask.sources)
        yield f"{place} {crop} is{which} {side} {limit}, {words}."
    if seen.normal_share is not None and seen.normal_share < FAIR_SHARE:
        share = f"{100 * seen.normal_share:.0f} %"
        yield (
            f"{place} {crop} germinates poorly: expect {share} of the sound seedlings it gives "
            f"at its best{_cooler_or_warmer(ask)}."
        )


def _ready_before_the_frost(ask: Ask) -> Iterator[str]:
    if ask.ready is None or ask.frost is None or not is_tender(ask.crop):
        return
    safe = ask.frost.trusted or ask.frost.average
    if ask.ready < safe:
        left = ask.frost.risk_left_percent(ask.ready)
        yield (
            f"Ready on {short_day(ask.ready)}, but a frost kills {ask.crop.name}, and one comes "
            f"later in about {left:.0f} % of years: keep it under cover till {short_day(safe)}."
        )


def _cooler_or_warmer(ask: Ask) -> str:
    table, shares = ask.crop.emergence, ask.crop.shares
    soil_c = table.soil_c if table else shares.soil_c if shares else ()
    percents = table.normal_percent if table else shares.percent if shares else ()
    known = [
        (float(percent), c)
        for c, percent in zip(soil_c, percents, strict=True)
        if not isinstance(percent, str)
    ]
    if not known:
        return ""
    _, best_c = max(known)
    return f", {show_temperature(best_c, ask.units)}"


def too_cold_or_hot(ask: Ask) -> str:
    """Why nothing comes up there, and where it would."""
    found = at_station(ask.crop, ask.where.medium, ask.factor)
    if found.outlook.verdict == "too slow":
        return _too_slow(ask)
    cold = found.outlook.verdict == "too cold"
    limit_c = found.outlook.limit_c
    if limit_c is None:
        limit_c = ask.crop.lowest_c.best if cold else ask.crop.highest_c.best
    side = "below" if cold else "above"
    limit = f"{show_temperature(limit_c, ask.units)}, {_which_limit(ask, limit_c, cold=cold)}"
    where = f"the {ask.where.name} at " if ask.where.name else ""
    here = f"{where}{show_temperatures(ask.where.medium, ask.units)}"
    text = f"{here} is {side} {limit}"
    return f"{text[:1].upper()}{text[1:]}; {remedy(ask)}"


def _too_slow(ask: Ask) -> str:
    """Why there is no date where seed would lie for weeks and no table says that it comes up."""
    where = f"on the {ask.where.name} at " if ask.where.name else "at "
    here = f"{where}{show_temperatures(ask.where.medium, ask.units)}"
    cold = ask.where.medium.mean_c < ask.crop.fastest_c.best
    find = "find a warmer place" if cold else "find a cooler place"
    return (
        f"{here[:1].upper()}{here[1:]} {ask.crop.name} would lie so long that its seed rots: "
        f"{find}; {remedy(ask)}"
    )


def _which_limit(ask: Ask, limit_c: float, *, cold: bool) -> str:
    """What a limit is, and who says so: the printed one, or the end of a handbook's table."""
    crop = ask.crop
    printed = crop.lowest_c if cold else crop.highest_c
    if limit_c == printed.best or crop.emergence is None:
        return limit_in_words(crop, cold=cold, sources=ask.sources)
    voices = basis_in_words(printed, ask.sources)
    known = (ask.sources[key].institution for key in crop.emergence.sources if key in ask.sources)
    who = next((f"the table of the {name}" for name in known), "a handbook's table")
    degrees = show_temperature(printed.best, ask.units)
    return (
        f"the {'coldest' if cold else 'hottest'} at which {crop.name} came up in {who}; its "
        f"printed {'lower' if cold else 'upper'} limit is {degrees} ({voices})"
    )


def remedy(ask: Ask) -> str:
    """The other place where it comes up well and soonest; else the mixed-tray setting."""
    here = [one for other in ask.others for one in _comes_up(ask, other)]
    found = min(here, key=lambda one: one[0].best, default=None)
    for expected, where in (found,) if found else _comes_up(ask, tray_setting(ask.crop)):
        low, high = round(expected.earliest), round(expected.latest)
        degrees = show_temperatures(where.medium, ask.units)
        place = f"on the {where.name} ({degrees})" if where.name else f"at {degrees}"
        return f"{place} it is up in {low} to {high} days."
    return "no other place here suits it."


def _comes_up(ask: Ask, where: Where) -> Iterator[tuple[Expected, Where]]:
    """A place with its days, if it comes up well there."""
    found = at_station(ask.crop, where.medium, ask.factor)
    if found.expected is not None and found.outlook.verdict == "comes up":
        yield found.expected, where
