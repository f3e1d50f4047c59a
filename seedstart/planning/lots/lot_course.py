"""How a lot came up: each of its cases with every index, and the curves of all together."""

from datetime import datetime, timedelta
from typing import Final

from msgspec import Struct, structs

from seedstart.growing.germination.curve_fit import Between
from seedstart.growing.germination.indices import Index, Newly, indices_of
from seedstart.growing.germination.intervals import (
    Interval,
    clopper_pearson,
    jeffreys,
    wilson,
)
from seedstart.growing.germination.step_curve import Step, step_curve
from seedstart.growing.germination.time_curve import NoFit, TimeCurve, time_curve
from seedstart.planning.prospects.own_record import figure_of
from seedstart.planning.prospects.to_come import emerging_of, warmth_of
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.tracking.cases import Case, case_of, pooled
from seedstart.tracking.figures import LEVEL, LotFigure
from seedstart.tracking.records import Records
from seedstart.tracking.warmth import Warmth

METHODS: Final = {"wilson": wilson, "exact": clopper_pearson, "jeffreys": jeffreys}
IN_WORDS: Final = {"wilson": "Wilson", "exact": "Clopper-Pearson", "jeffreys": "Jeffreys"}
DAYS: Final = "days"
# What time is counted in where the warmth that was measured stands in place of days.
OF_TABLE: Final = "times the table's days"
OF_TRAYS: Final = "times the days in trays"


class OfCase(Struct, frozen=True):
    """One case with its figures.

    Attributes:
        case: It.
        interval: Of its percentage, 95 %.
        indices: Every index of its looks; none where these give no course.
    """

    case: Case
    interval: Interval
    indices: tuple[Index, ...]


class LotCourse(Struct, frozen=True, kw_only=True):
    """How a lot came up.

    Attributes:
        lot: Its name.
        figure: What came up of it.
        method: Of the intervals: `wilson`, `exact`, `jeffreys`.
        unit: What time is counted in.
        cases: Its closed sowings that count; those still open where none does.
        seen: The seeds of all cases by their looks.
        curves: In each shape, the best first; or why there is none.
        steps: The curve of no shape; none where nobody looked.
    """

    lot: str
    figure: LotFigure
    method: str
    unit: str
    cases: tuple[OfCase, ...]
    seen: tuple[Between, ...]
    curves: tuple[TimeCurve, ...] | NoFit
    steps: tuple[Step, ...]

    @property
    def curve(self) -> TimeCurve | None:
        """The best curve; None where there is none."""
        return None if isinstance(self.curves, NoFit) else self.curves[0]


class InWarmth(Struct, frozen=True):
    """What counts time as the warmth that was gone through.

    Attributes:
        warmth: The season's.
        now: Readings up to now count.
    """

    warmth: Warmth
    now: datetime


def in_warmth_now(season: Season, readings: Readings, now: datetime) -> InWarmth:
    """The warmth of a season's stations, as it was read and planned until now."""
    return InWarmth(warmth_of(season, readings), now)


def cases_of(lot: Lot, season: Season, records: Records) -> tuple[LotFigure, tuple[Case, ...]]:
    """A lot's figure and its cases: closed ones that count, those still open where none does."""
    figure = figure_of(lot, season, records)
    counting = figure.counting or tuple(sowing for sowing in figure.grown if sowing.counts)
    cases = (case_of(sowing, records, clusters=figure.clusters) for sowing in counting)
    return figure, tuple(case for case in cases if case is not None)


def lot_course(
    lot: Lot,
    season: Season,
    records: Records,
    *,
    method: str = "wilson",
    in_warmth: InWarmth | None = None,
) -> LotCourse:
    """How a lot came up.

    Args:
        lot: The lot.
        season: The plan.
        records: What happened.
        method: A key of `METHODS`.
        in_warmth: Count time as progress by the crop's curve; None for days.
    """
    figure, cases = cases_of(lot, season, records)
    unit = DAYS
    if in_warmth is not None:
        unit = unit_of(lot, season)
        cases = tuple(along(case, lot, season, records, in_warmth) for case in cases)
    seen = tuple(pooled(cases))
    return LotCourse(
        lot=lot.name,
        figure=figure,
        method=method,
        unit=unit,
        cases=tuple(_of_case(case, method) for case in cases),
        seen=seen,
        curves=_curves(cases, seen),
        steps=step_curve(seen) if seen else (),
    )


def _of_case(case: Case, method: str) -> OfCase:
    up = min(case.up, case.seeds)
    indices = () if case.why_no_course else indices_of(case.found, case.seeds)
    return OfCase(case, METHODS[method](up, case.seeds, LEVEL), indices)


def _curves(cases: tuple[Case, ...], seen: tuple[Between, ...]) -> tuple[TimeCurve, ...] | NoFit:
    if not cases:
        return NoFit("nothing of it was counted yet")
    if not seen:
        return NoFit(cases[0].why_no_course)
    return time_curve(seen)


def unit_of(lot: Lot, season: Season) -> str:
    """What the warmth that a lot went through is counted in."""
    by_table = emerging_of(season.crops.crops[lot.crop]).clock == "table"
    return OF_TABLE if by_table else OF_TRAYS


def along(case: Case, lot: Lot, season: Season, records: Records, in_warmth: InWarmth) -> Case:
    """Looks with the way gone by the crop's curve in place of days."""
    emerging = emerging_of(season.crops.crops[lot.crop])
    way = in_warmth.warmth.way(case.id, records, emerging, in_warmth.now)
    if way is None:
        return structs.replace(case, found=(), no_warmth=True)
    found: list[Newly] = []
    for look in case.found:
        gone = way.at(case.zero + timedelta(days=look.day))
        if found and gone <= found[-1].day:  # too cold in between: one look, as far as it goes
            found[-1] = Newly(found[-1].day, found[-1].up + look.up)
        elif gone > 0:
            found.append(Newly(gone, look.up))
    return structs.replace(case, found=tuple(found))
