"""Short words for checks and alerts: names in a row, days, degrees."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from seedstart.days import short_day
from seedstart.text import plural
from seedstart.units import Units, show_temperature

_FEW = 3


def names(found: Sequence[str], of: str = "sowing") -> str:
    """Up to three names, else how many: `leek, parsley`, `6 sowings`."""
    return ", ".join(found) if len(found) <= _FEW else plural(len(found), of)


def first_few(found: Sequence[str]) -> str:
    """Up to three names, and how many more."""
    more = len(found) - _FEW
    return ", ".join(found) if more <= 0 else f"{', '.join(found[:_FEW])} and {more} more"


def moment(at: datetime, today: date) -> str:
    """`04:50` today, `yesterday 18:00`, else `Thu 9 Apr 22:00`."""
    clock = f"{at:%H:%M}"
    days = (today - at.date()).days
    if days == 0:
        return clock
    return f"yesterday {clock}" if days == 1 else f"{at:%a} {short_day(at.date())} {clock}"


def degrees(c: float, units: Units) -> str:
    """A temperature with one decimal at most, in the season's units."""
    return show_temperature(c, units)


def degrees_apart(c: float, units: Units) -> str:
    """A difference of temperatures, in the season's units."""
    return f"{c * 9 / 5:.1f} °F" if units == "us" else f"{c:.1f} °C"


def alone(called: str, beside: Sequence[str]) -> Iterator[str]:
    """That seed which is sent elsewhere goes without those that are up in its tray."""
    if beside:
        are, want = ("is", "wants") if len(beside) == 1 else ("are", "want")
        yield f"carry {called} alone: {first_few(beside)} in its tray {are} up and {want} the light"
