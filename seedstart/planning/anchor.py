"""The days that a row counts from: the set-out window, or the one to sow outdoors in."""

from datetime import date, timedelta

from seedstart.crop_table.crop import Figure
from seedstart.days import Window
from seedstart.planning.ask import Ask
from seedstart.planning.crop_times import growing, is_tender
from seedstart.planning.frost_dates import FrostDates

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
