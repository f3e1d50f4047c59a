"""A grower's own factor: days in their trays over days of the handbook's table."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import exp, hypot, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.emergence import TRAYS_OVER_TABLE, TRAYS_SD
from seedstart.tracking.figures import half_that_was_seen, newly_up
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Emerging, Warmth

# Of one sowing about the grower's own factor: the table errs by 10 % in the median between its
# temperatures, and half of a few dozen seedlings between two looks is known to a day or so. The
# figure is common practice, no source.
ONE_SOWING_SD: Final = 0.25
# Of the next sowing of a grower of whom nothing is known. The printed days of trays are middles of
# ranges: how they lie apart says nothing of how far a sowing comes from its middle.
UNKNOWN_SD: Final = hypot(TRAYS_SD, ONE_SOWING_SD)
# What a sowing needs to speak. Common practice, no source.
_FEWEST_UP: Final = 5
_MEASURED_SHARE: Final = 0.8
_TWO_SIDED_95: Final = 1.959964


class OwnFactor(NamedTuple):
    """Days in this grower's trays over days of the table.

    Attributes:
        factor: The best guess.
        low, high: It lies between these with 95 %.
        sowings: How many sowings moved it.
        next_sd: Of the next sowing about it, on the logarithm.
    """

    factor: float
    low: float
    high: float
    sowings: int
    next_sd: float = UNKNOWN_SD

    @property
    def counted(self) -> float:
        """The factor to count with: two decimals, so that the sums shown come out."""
        return round(self.factor, 2)


def own_factor(seen: Sequence[float], first: float = TRAYS_OVER_TABLE) -> OwnFactor:
    """The factor after what was seen: normal on the logarithm, before and after.

    Args:
        seen: Of each sowing, its days over days of the table at the warmth it had.
        first: What it is before any.
    """
    weight, one = 1 / TRAYS_SD**2, 1 / ONE_SOWING_SD**2
    total = weight + one * len(seen)
    mean = (weight * log(first) + one * sum(map(log, seen))) / total
    half = _TWO_SIDED_95 / sqrt(total)
    next_sd = sqrt(1 / total + ONE_SOWING_SD**2)
    return OwnFactor(exp(mean), exp(mean - half), exp(mean + half), len(seen), next_sd)


def seen_factor(
    sowing: Standing, records: Records, warmth: Warmth, emerging: Emerging, now: datetime
) -> float | None:
    """What one sowing says of the factor: the table's way that it had gone when half were up.

    Args:
        sowing: It.
        records: What happened.
        warmth: The season's.
        emerging: Its crop's figures.
        now: Readings up to now count.

    Returns:
        None where it says nothing: not closed, no fair chance, a test, a crop without a table,
        fewer than five up, no look within three days before half were up, or under four fifths of
        that time measured.
    """
    if emerging.clock != "table":
        return None
    return seen_ratio(sowing, records, warmth, emerging, now)


def seen_ratio(
    sowing: Standing,
    records: Records,
    warmth: Warmth,
    emerging: Emerging,
    now: datetime,
    least_measured: float = _MEASURED_SHARE,
) -> float | None:
    """The ratio on whatever clock a crop has: its days over those expected at the warmth it had.

    Args:
        sowing, records, warmth, emerging, now: As for `seen_factor`.
        least_measured: Share of the time that has to be measured, 0 to 1.
    """
    zero = records.day_zero(sowing.id)
    if zero is None or not _speaks(sowing):
        return None
    half = half_that_was_seen(newly_up(sowing, records))
    if half is None:
        return None
    at = zero + timedelta(days=half)
    if warmth.measured_share(sowing.id, records, zero, at, now) < least_measured:
        return None
    way = warmth.way(sowing.id, records, emerging, now)
    return way.at(at) or None if way else None


def _speaks(sowing: Standing) -> bool:
    unfair = sowing.topped_up or sowing.mixed_up or sowing.onto is not None or not sowing.lot_sure
    in_tray = sowing.from_seed and sowing.purpose != "test" and sowing.on == "medium"
    return in_tray and not unfair and sowing.closed is not None and sowing.emerged >= _FEWEST_UP
