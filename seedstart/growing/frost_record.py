"""A record of daily minima, screened and answered: last and first frosts, risks, season length."""

from collections.abc import Mapping
from functools import cached_property
from typing import Final

from msgspec import Struct

from seedstart.growing.frost import FrostRisk, FrostYear, Trend, frost_risk, frost_years, trend_of
from seedstart.growing.minima_screen import Aside, Minima, is_southern, screened

# Climate normals rest on thirty years (WMO-No. 1203).
NORMAL_YEARS: Final = 30


class FrostRecord(Struct, frozen=True, dict=True):
    """What a record says of the frosts of its place.

    Attributes:
        threshold_tenths: A day at or below it has a frost, tenths of a degree Celsius.
        south: Whether spring frosts come in the second half of the year.
        springs: The last frost of each season wholly inside the record.
        autumns: The first frost of each.
        aside: Minima that are not believed.
        days: How many minima it rests on.
    """

    threshold_tenths: int
    south: bool
    springs: tuple[FrostYear, ...]
    autumns: tuple[FrostYear, ...]
    aside: tuple[Aside, ...]
    days: int

    @cached_property
    def risk(self) -> FrostRisk | None:
        """How the last frost is spread over the years; None where no season counts."""
        return frost_risk(self.springs, south=self.south)

    @cached_property
    def autumn_risk(self) -> FrostRisk | None:
        """The risk of the first frost of autumn."""
        return frost_risk(self.autumns, south=self.south)

    @property
    def trend(self) -> Trend | None:
        """Whether last frosts come earlier or later over the years."""
        return trend_of(self.springs, south=self.south)

    @property
    def left_out(self) -> tuple[FrostYear, ...]:
        """Seasons of which too much is missing."""
        return tuple(spring for spring in self.springs if not spring.counts)

    @property
    def season_days(self) -> tuple[int, ...]:
        """Days from the last spring frost to the first of the autumn after it, in order."""
        # In the south the autumn after the spring of 2030 begins in February 2031.
        later = 1 if self.south else 0
        first = {one.year - later: one.day for one in self.autumns if one.counts}
        return tuple(sorted(
            (autumn - spring.day).days
            for spring in self.springs
            if spring.counts and spring.day and (autumn := first.get(spring.year))
        ))  # fmt: skip


def frost_record(
    minima: Minima,
    threshold_tenths: int = 0,
    maxima_tenths: Mapping[int, int] | None = None,
    years: tuple[int, int] | None = None,
) -> FrostRecord:
    """Screen a record and find its frosts.

    Args:
        minima: As they were read.
        threshold_tenths: A day at or below it has a frost, tenths of a degree Celsius.
        maxima_tenths: Maxima of the same days, tenths of a degree Celsius.
        years: First and last year of the seasons to answer from; the screen sees them all.
    """
    kept, aside = screened(minima, maxima_tenths)
    south = bool(kept) and is_southern(kept)
    springs = frost_years(kept, threshold_tenths, "spring", south=south)
    autumns = frost_years(kept, threshold_tenths, "autumn", south=south)
    if years is not None:
        low, high = years
        springs = tuple(spring for spring in springs if low <= spring.year <= high)
        autumns = tuple(autumn for autumn in autumns if low <= autumn.year <= high)
    days = len(kept.tenths) + len(kept.below_zero) + len(kept.above_zero)
    return FrostRecord(threshold_tenths, south, springs, autumns, aside, days)
