"""What one row of the calendar is asked for: a crop, a place, a day to count from."""

from datetime import date, timedelta

from msgspec import Struct

from seedstart.crop_table.crop import Crop, Figure, Source
from seedstart.days import Window
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.calendar.crop_times import growing, is_tender
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.units import Temperatures, Units, steady


class Where(Struct, frozen=True):
    """A place to come up in.

    Attributes:
        name: As the grower calls it; empty for a bare temperature.
        medium: Temperature of the medium.
        said: Whether the grower named the temperature; otherwise it is the crop's tray setting.
    """

    name: str
    medium: Temperatures
    said: bool = True


class Ask(Struct, frozen=True, kw_only=True):
    """One sowing to be dated.

    Attributes:
        crop: What is sown.
        where: Where it comes up.
        frost: What to count from; None where the grower has no frost.
        ready: Count back from this day instead.
        sow_on: The grower's own day overrules the calendar's.
        later_days: How long after the lot's first sowing, for successions.
        work_days: Weekdays on which the grower sows, pricks out, sets out; none means all.
        away: First and last days of absences.
        untreated: Treatments that are not to be done: `soak`, `stratify`, `scarify`.
        soak_hours: The grower's own time to soak.
        stratify_days: The grower's own time of cold.
        scarify: The grower nicks the coat, whatever the crop says.
        fridge: The fridge that it is sown into; empty for none.
        fridge_days: How long it lies there before its days begin; None where nobody says.
        unknown_weather: The place out of doors or under glass of which nobody says how warm it is.
        has_frost: Whether the season counts from a frost at all; a seed library does not.
        others: Other places, to go to where nothing comes up.
        factor: Days in this grower's trays over days of the handbook's table.
        own_sowings: From how many of the grower's own sowings that is; none: it is the usual one.
        units: For the reasons.
        sources: The crop table's sources by key, to count institutions.
    """

    crop: Crop
    where: Where
    frost: FrostDates | None = None
    lot: str | None = None
    variety: str = ""
    number: int = 1
    ready: date | None = None
    sow_on: date | None = None
    later_days: int = 0
    work_days: tuple[str, ...] = ()
    away: tuple[tuple[date, date], ...] = ()
    untreated: frozenset[str] = frozenset()
    soak_hours: float | None = None
    stratify_days: float | None = None
    scarify: bool = False
    fridge: str = ""
    fridge_days: int | None = 0
    unknown_weather: str = ""
    has_frost: bool = True
    others: tuple[Where, ...] = ()
    factor: float = TRAYS_OVER_TABLE
    own_sowings: int = 0
    units: Units = "metric"
    seeds: int | None = None
    sources: dict[str, Source] = {}


def tray_setting(crop: Crop) -> Where:
    """The mixed tray that the printed weeks were counted in."""
    return Where("", steady(crop.tray_c.best), said=False)


# However late the trusted day, the window keeps the fortnight that "on or after" means.
_FORTNIGHT = timedelta(days=14)


def set_out_window(ask: Ask) -> Window | None:
    """When to set out: from the ready date, or from the frost date and the crop's weeks.

    Handbook weeks count from the average date. What a frost kills waits for the date that the
    grower trusts, if one was named; nothing is added twice. Hardy crops never wait for it.

    Returns:
        None where there is neither a frost date nor a ready date, or the crop has no weeks.
    """
    if ask.ready is not None:
        return Window.on(ask.ready + timedelta(days=ask.later_days))
    weeks, grows = ask.crop.set_out_weeks, growing(ask.crop, ask.factor)
    if weeks is None or ask.frost is None or grows is None:
        return None
    return _from_the_frost(ask, ask.frost, weeks, grows.wait)


def outdoors_window(ask: Ask) -> Window | None:
    """When to sow in place, of a crop that nobody raises indoors.

    Returns:
        None where there is no frost date, or where the crop is raised indoors.
    """
    weeks = ask.crop.sow_outdoors_weeks
    if weeks is None or ask.frost is None:
        return None
    return _from_the_frost(ask, ask.frost, weeks, 0.0)


def _from_the_frost(ask: Ask, frost: FrostDates, weeks: Figure, wait_days: float) -> Window:
    earliest, best, latest = (
        frost.average + timedelta(days=round(days))
        for days in (7 * weeks.low, 7 * weeks.best + wait_days, 7 * weeks.high)
    )
    latest = max(best, latest)
    if is_tender(ask.crop) and frost.trusted is not None:
        earliest, best = max(earliest, frost.trusted), max(best, frost.trusted)
        latest = max(latest, earliest + _FORTNIGHT)
    return Window(earliest, best, latest).shifted(ask.later_days)


def set_out_after(forward: date, allowed: Window | None) -> Window:
    """When plants that are ready on a day may go out.

    Args:
        forward: The day on which they are big enough.
        allowed: The set-out window of the crop; None where nothing bars it.

    Returns:
        Never before the allowed window; past its end the plants wait for nothing but their size.
    """
    week = timedelta(days=7)
    if allowed is None:
        return Window(forward - week, forward, forward + 2 * week)
    best = max(forward, allowed.earliest)
    if best <= allowed.latest:
        return allowed._replace(best=best)
    return Window(max(allowed.earliest, best - week), best, best + week)
