"""How near the leaves have come to the lamps, and when they will be too near."""

from datetime import date, datetime, timedelta
from typing import NamedTuple

from seedstart.growing.light.needs import CLOSEST_MM
from seedstart.planning.station_light import StationLight
from seedstart.season.entries import Measured
from seedstart.tracking.records import Records

_DAY_S = 86_400


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
        growth: How fast they grow; None where nobody measured twice.
        too_close_on: When they come nearer than 8 cm; None where nobody knows.
    """

    now_mm: float
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


def distance_at(light: StationLight, records: Records, now: datetime) -> Distance | None:
    """How near the leaves are to the lamps; None where nobody has said their height."""
    said = light.height_mm
    if said is None:
        return None
    growth = growth_at(light.station.name, records)
    if growth is None or growth.mm_a_day <= 0 or light.since is None:
        return Distance(said, growth)
    days = (now - light.since).total_seconds() / _DAY_S
    left = said - growth.mm_a_day * days
    until = timedelta(days=max((left - CLOSEST_MM) / growth.mm_a_day, 0.0))
    return Distance(left, growth, (now + until).date())
