"""What a sowing is still expected to give: whether it is counted on, and what half of it is."""

from datetime import date, datetime, timedelta
from math import log
from typing import Final

from msgspec import Struct

from seedstart.growing.still_to_come import still_to_come
from seedstart.planning.crop_times import at_station
from seedstart.planning.emerging import crop_of
from seedstart.planning.lot_germination import expected_germination
from seedstart.planning.sowing_outlook import TimeCurve
from seedstart.season.plan import Season
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.units import steady

_DAY: Final = timedelta(days=1)
# Less than half a seedling is none.
_ONE_MORE: Final = 0.5


class MoreToCome(Struct, frozen=True):
    """What a sowing is still expected to give, as of the last look at it; frozen.

    Attributes:
        up: Seedlings up so far, all told.
        still: How many are still to come, on the mean; None where no number is expected.
        looked_on: The day of the last look: of a count, or when plants were last taken from it.
        last_day: By then nine in ten of those that come should be up; None where nobody can say.
    """

    up: int
    still: float | None
    looked_on: date
    last_day: date | None

    @property
    def more(self) -> bool:
        """Whether one more at least is to be expected.

        Where no number is expected: until its last day.
        """
        if self.still is not None:
            return self.still >= _ONE_MORE
        return self.last_day is not None and self.looked_on <= self.last_day

    @property
    def in_all(self) -> float | None:
        """How many are expected in all, never fewer than are up; None where no number is."""
        return None if self.still is None else self.up + self.still


def more_to_come(
    sowing: Standing, season: Season, records: Records, progress: Progress | None
) -> MoreToCome:
    """What one sowing from seed is still expected to give.

    Args:
        sowing: It.
        season: The plan.
        records: What happened.
        progress: How far it has come; None where it is not reckoned.
    """
    looked = _last_looked(sowing)
    expected = progress.expected if progress else None
    last_day = expected.latest if expected else None
    full = sowing.seeds is not None and sowing.emerged >= sowing.seeds
    crop, zero = crop_of(sowing, season), records.day_zero(sowing.id)
    if crop is not None and crop.seedlings_per_seed is not None:
        return MoreToCome(sowing.emerged, None, looked.date(), last_day)
    if full or sowing.closed is not None:
        return MoreToCome(sowing.emerged, 0.0, looked.date(), last_day)
    lot = season.lots_by_name.get(sowing.lot or "")
    if sowing.seeds is None or not (crop and lot and zero and progress and expected):
        return MoreToCome(sowing.emerged, None, looked.date(), last_day)
    share = at_station(crop, steady(round(progress.goes_on_c, 1))).outlook.normal_share
    belief = expected_germination(lot, crop, share or None, zero.date()).belief
    half = max((expected.best - zero.date()).days, 1)
    early = min(max((expected.earliest - zero.date()).days, 0.5), half)
    slow = half * half / early  # a tray may be as much slower than usual as others are quicker
    curve = TimeCurve(slow, 2 * log(9) / log(crop.first_to_last.best), early, slow)
    by_now = curve.share((looked - zero) / _DAY)
    found = still_to_come(sowing.seeds, sowing.emerged, by_now, belief)
    return MoreToCome(sowing.emerged, found.expected(), looked.date(), last_day)


def _last_looked(sowing: Standing) -> datetime:
    """When it was last seen: counted, or plants taken from it."""
    seen = (*sowing.counted[-1:], *sowing.acts[-1:])
    return max((entry.at for entry in seen), default=sowing.at)
