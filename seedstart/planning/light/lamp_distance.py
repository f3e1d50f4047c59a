"""How near the leaves have come to the lamps, and when they will be too near."""

from datetime import date, datetime, timedelta
from typing import Final, NamedTuple

from seedstart.growing.light.needs import CLOSEST_MM
from seedstart.season.journal.entries import Measured
from seedstart.season.plan.stations import Station
from seedstart.tracking.lamp_settings import lamps_since
from seedstart.tracking.records import Records

_DAY_S: Final = 86_400
_FAR_DAYS: Final = 365.0


class Growth(NamedTuple):
    """How fast the tallest plants at a station grow, by the grower's own measuring.

    Attributes:
        mm_a_day: Millimetres a day.
        sowing: Of which sowing.
        measured_on: The day it was last measured.
    """

    mm_a_day: float
    sowing: str
    measured_on: date


class Distance(NamedTuple):
    """From lamp to leaf.

    Attributes:
        now_mm: Now, as the plants have grown since the height was said; as said, where nobody
            measured them.
        said_on: When the height was last said; None for the plan's.
        growth: How fast they grow; None where nobody measured twice.
        too_close_on: When they come nearer than 8 cm; None where nobody knows.
    """

    now_mm: float
    said_on: datetime | None = None
    growth: Growth | None = None
    too_close_on: date | None = None


def growth_at(station: str, records: Records) -> Growth | None:
    """The fastest of the sowings there that were measured on two days; None without any."""
    found = []
    for sowing in records.sowings_in(("station", station)):
        one = records.standings[sowing]
        days = _by_day(one.measured)
        if len(days) > 1 and one.standing:
            (first, low), (last, high) = days[-2:]
            rate = (high - low) / ((last - first).total_seconds() / _DAY_S)
            found.append(Growth(rate, one.name, last.date()))
    return max(found, default=None)


def _by_day(measured: tuple[Measured, ...]) -> list[tuple[datetime, float]]:
    """Mean height of each measuring, mm."""
    means = {
        one.at.date(): (one.at, sum(plant.height_mm for plant in one.plants) / len(one.plants))
        for one in measured
        if one.plants
    }
    return [means[day] for day in sorted(means)]


def distance_at(station: Station, records: Records, now: datetime) -> Distance | None:
    """How near the leaves are to the lamps; None where nobody has said their height.

    Args:
        station: With its lamps as planned; what was adjusted counts.
        records: What happened.
        now: The moment.
    """
    place = records.place(("station", station.name))
    set_now = lamps_since(station, place.settings)[-1]
    said = min((lamp.height_mm for lamp in set_now.lamps if lamp.height_mm), default=None)
    if said is None:
        return None
    growth, since = growth_at(station.name, records), set_now.height_set
    if growth is None or growth.mm_a_day <= 0 or since is None:
        return Distance(said, since, growth)
    left = said - growth.mm_a_day * (now - since).total_seconds() / _DAY_S
    days = max((left - CLOSEST_MM) / growth.mm_a_day, 0.0)
    close = now + timedelta(days=min(days, _FAR_DAYS))
    return Distance(left, since, growth, close.date() if days < _FAR_DAYS else None)
