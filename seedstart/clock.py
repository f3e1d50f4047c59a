"""The only module that reads the time."""

from datetime import date, datetime
from zoneinfo import ZoneInfo


def now(zone: str) -> datetime:
    """The moment, in a zone by its IANA name."""
    return datetime.now(ZoneInfo(zone))  # noqa: TID251


def today(zone: str | None = None) -> date:
    """The day it is now in a zone, or where the machine stands."""
    return datetime.now(ZoneInfo(zone) if zone else None).date()  # noqa: TID251


def local_zone() -> str:
    """The IANA name of the machine's own time zone; `UTC` where it tells none."""
    import pendulum

    name = pendulum.local_timezone().name
    return name if "/" in name else "UTC"
