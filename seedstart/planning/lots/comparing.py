"""Two or more lots, stations or treatments beside each other: how many came up, and how fast.

What is compared had a fair chance; the rest is named with the reason. A difference is shown where
chance alone would make one as large less than once in twenty times, over all pairs that are
compared at once. Where none is shown that is said, and never that they are the same.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import timedelta
from itertools import combinations
from typing import Final, Literal, NamedTuple

from msgspec import Struct, structs

from seedstart.growing.germination.intervals import Interval, wilson
from seedstart.growing.germination.lot_tests import (
    SpeedTested,
    Tested,
    fisher,
    holm,
    log_rank,
    more_than_chance,
    seeds_to_show,
    speed_test,
)
from seedstart.growing.germination.time_curve import NoFit, Time, TimeCurve, time_curve
from seedstart.growing.germination.tolerances import Tolerance, replicate_tolerance
from seedstart.growing.germination.tray_spread import TraySpread, lots_apart, tray_spread
from seedstart.planning.lots.lot_course import DAYS, InWarmth, along, unit_of
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.tracking.cases import Case, case_of, pooled
from seedstart.tracking.figures import APART_P, LEVEL, LeftOut
from seedstart.tracking.records import Records

By = Literal["lot", "sowing", "station", "treatment"]
UNTREATED: Final = "untreated"
NOWHERE: Final = "no station named"
# What time is counted in, in warmth, where crops are timed by tables of different kinds.
OF_EACH: Final = "times the days expected of each"
# Crops whose expected days come of different tables: one's warmth is not the other's.
_UNLIKE: Final = NoFit("their warmth is counted by different tables")


class Side(Struct, frozen=True, kw_only=True):
    """One of those that are compared.

    Attributes:
        name: A lot, a sowing, a station, a treatment.
        seed: Of a lot, the year and whence its seed came; empty where nobody wrote it down.
        cases: Its closed sowings, or its tests.
        up: What came up in them.
        seeds: Of so many.
        interval: 95 %, Wilson.
        curve: Of all its cases together, or why there is none.
        trays_p: How often chance alone would part its cases as far; None with one.
        tolerance: Of the replicates of a test, where a printed table applies.
        warmth_read: Share of the time until their last look in which the warmth of its cases was
            measured, 0 to 1; None where time is counted in days.
    """

    name: str
    cases: tuple[Case, ...]
    up: int
    seeds: int
    interval: Interval
    curve: TimeCurve | NoFit
    trays_p: float | None
    tolerance: Tolerance | None
    seed: str = ""
    warmth_read: float | None = None

    @property
    def share(self) -> float:
        """What came up, 0 to 1."""
        return self.up / self.seeds

    @property
    def half(self) -> Time | None:
        """When half of those that come are up, in the comparison's unit."""
        return self.curve.time_to(0.5) if isinstance(self.curve, TimeCurve) else None

    @property
    def nine_in_ten(self) -> Time | None:
        """When nine in ten of those that come are up, in the comparison's unit."""
        return self.curve.time_to(0.9) if isinstance(self.curve, TimeCurve) else None


class Pair(Struct, frozen=True, kw_only=True):
    """Two sides against each other.

    Attributes:
        first, second: Their names.
        how_many: The test of the final counts.
        how_many_by: Which: `Fisher`, or `beta-binomial` where trays differ more than coins do.
        how_many_p: Its p after Holm over all pairs.
        course: Log-rank over the whole course, how many and how fast together; None where they were
            not looked at on the same days, and where time is counted in warmth.
        speed: How fast those that come do; or why it is not tested.
        speed_p: Its p after Holm over all pairs; None where it is not tested.
        seeds_needed: Of each, to show a difference as large as the one seen; None where there is
            none.
    """

    first: str
    second: str
    how_many: Tested
    how_many_by: str
    how_many_p: float
    course: Tested | None
    speed: SpeedTested | NoFit
    speed_p: float | None
    seeds_needed: int | None

    @property
    def shown(self) -> bool:
        """Whether a difference in how many came up is shown."""
        return self.how_many_p < APART_P

    @property
    def speed_shown(self) -> bool:
        """Whether a difference in speed is shown."""
        return self.speed_p is not None and self.speed_p < APART_P


class Comparison(Struct, frozen=True, kw_only=True):
    """What is compared, and what came of it.

    Attributes:
        by: What the sides are.
        sides: In the order that was asked for.
        pairs: Each two of them.
        left_out: Sowings that are in no side, and why.
        spread: Trays of all sides, where one has two; None else.
        of_tests: Whether tests are compared (normal seedlings), else trays.
        unit: What time is counted in: days, or times the days that are expected in its warmth.
    """

    by: By
    sides: tuple[Side, ...]
    pairs: tuple[Pair, ...]
    left_out: tuple[LeftOut, ...]
    spread: TraySpread | None
    of_tests: bool
    unit: str = DAYS

    @property
    def trays_differ(self) -> bool:
        """Whether trays differ more than coins do."""
        return self.spread is not None and self.spread.p < APART_P


def compare(
    lots: Sequence[Lot],
    season: Season,
    records: Records,
    by: By = "lot",
    in_warmth: InWarmth | None = None,
) -> Comparison:
    """Lots beside each other, or what was sown of them by sowing, station or treatment.

    Tests are compared with tests, where each of the lots has one; else trays with trays.

    Args:
        lots: Which lots' sowings count.
        season: The plan.
        records: What happened.
        by: What the sides are.
        in_warmth: Count time as progress by each crop's curve; None for days.
    """
    gathered = [_gathered(lot, season, records) for lot in lots]
    tests = all(any(case.is_test for case in of_lot.cases) for of_lot in gathered)
    left_out = [left for of_lot in gathered for left in of_lot.left_out]
    cases: list[Case] = []
    for case in (case for of_lot in gathered for case in of_lot.cases):
        if case.is_test == tests:
            cases.append(case)
        else:
            why = "a tray, and tests are compared" if tests else "a test, and trays are compared"
            left_out.append(LeftOut(case.sowing, why))
    units = {DAYS} if in_warmth is None else {unit_of(lot, season) for lot in lots}
    by_name = {lot.name: lot for lot in lots}
    seed = {name: _seed(lot) for name, lot in by_name.items()} if by == "lot" else {}
    sides = tuple(_side(name, of, seed.get(name, "")) for name, of in _by(cases, lots, by).items())
    if in_warmth is not None:
        sides = tuple(_warm(side, by_name, season, records, in_warmth) for side in sides)
    return Comparison(
        by=by,
        sides=sides,
        pairs=_pairs(sides, units),
        left_out=tuple(left_out),
        spread=_spread(sides),
        of_tests=tests,
        unit=units.pop() if len(units) == 1 else OF_EACH,
    )


def _seed(lot: Lot) -> str:
    return ", ".join(one for one in (lot.harvested, lot.source) if one)


def _warm(
    side: Side, lots: Mapping[str, Lot], season: Season, records: Records, in_warmth: InWarmth
) -> Side:
    """A side with its looks along the warmth that each case had."""
    gone = [along(case, lots[case.lot], season, records, in_warmth) for case in side.cases]
    read, whole = 0.0, 0.0
    for case in side.cases:
        if case.found:
            days = case.found[-1].day
            until = case.zero + timedelta(days=days)
            share = in_warmth.warmth.measured_share(
                case.id, records, case.zero, until, in_warmth.now
            )
            read, whole = read + share * days, whole + days
    return structs.replace(
        _side(side.name, gone, side.seed), warmth_read=read / whole if whole else 0.0
    )


class _Gathered(NamedTuple):
    cases: list[Case]
    left_out: list[LeftOut]


def _gathered(lot: Lot, season: Season, records: Records) -> _Gathered:
    """The closed cases of a lot, tests and trays alike, and what is none."""
    figure = figure_of(lot, season, records)
    # A lot's figure leaves its trays out once tests speak; trays are compared all the same.
    left_out = [one for one in figure.left_out if not one.why.startswith("a tray, and tests")]
    out = {one.sowing for one in left_out}
    cases = [
        case
        for sowing in figure.sowings
        if records.name_in_line(sowing.id) not in out
        if (case := case_of(sowing, records, clusters=figure.clusters)) is not None
    ]
    return _Gathered(cases, left_out)


def _by(cases: Iterable[Case], lots: Sequence[Lot], by: By) -> dict[str, list[Case]]:
    found: dict[str, list[Case]] = {lot.name: [] for lot in lots} if by == "lot" else {}
    for case in cases:
        name = {
            "lot": case.lot,
            "sowing": case.sowing,
            "station": case.station or NOWHERE,
            "treatment": case.treated or UNTREATED,
        }[by]
        found.setdefault(name, []).append(case)
    return {name: of for name, of in found.items() if of}


def _side(name: str, cases: Sequence[Case], seed: str) -> Side:
    up, seeds = sum(case.up for case in cases), sum(case.seeds for case in cases)
    trays = [(case.up, case.seeds) for case in cases]
    seen = pooled(cases)
    curves = time_curve(seen) if seen else NoFit(cases[0].why_no_course)
    alike = {case.seeds for case in cases} if all(case.is_test for case in cases) else set()
    percents = [100 * case.up / case.seeds for case in cases]
    return Side(
        name=name,
        seed=seed,
        cases=tuple(cases),
        up=up,
        seeds=seeds,
        interval=wilson(up, seeds, LEVEL),
        curve=curves if isinstance(curves, NoFit) else curves[0],
        trays_p=more_than_chance(trays) if len(trays) > 1 else None,
        tolerance=replicate_tolerance(percents, alike.pop()) if len(alike) == 1 else None,
    )


def _spread(sides: Sequence[Side]) -> TraySpread | None:
    if all(len(side.cases) < 2 for side in sides):
        return None
    return tray_spread([[(case.up, case.seeds) for case in side.cases] for side in sides])


def _pairs(sides: Sequence[Side], units: Collection[str]) -> tuple[Pair, ...]:
    pairs = [_pair(first, second, units) for first, second in combinations(sides, 2)]
    how_many = holm([pair.how_many.p for pair in pairs])
    tested = [pair for pair in pairs if isinstance(pair.speed, SpeedTested)]
    speeds = holm([pair.speed.p for pair in tested if isinstance(pair.speed, SpeedTested)])
    by_pair = {(pair.first, pair.second): p for pair, p in zip(tested, speeds, strict=True)}
    return tuple(
        structs.replace(pair, how_many_p=p, speed_p=by_pair.get((pair.first, pair.second)))
        for pair, p in zip(pairs, how_many, strict=True)
    )


def _pair(first: Side, second: Side, units: Collection[str]) -> Pair:
    trays = [[(case.up, case.seeds) for case in side.cases] for side in (first, second)]
    several = any(len(tray) > 1 for tray in trays)
    differ = several and tray_spread(trays).p < APART_P
    how_many = (
        lots_apart(trays) if differ else fisher((first.up, first.seeds), (second.up, second.seeds))
    )
    seen = [pooled(side.cases) for side in (first, second)]
    return Pair(
        first=first.name,
        second=second.name,
        how_many=how_many,
        how_many_by="beta-binomial" if differ else "Fisher",
        how_many_p=how_many.p,
        course=log_rank(seen) if DAYS in units and _looked_at_alike(first, second) else None,
        speed=_speed(first, second, units),
        speed_p=None,
        seeds_needed=seeds_to_show(first.share, second.share),
    )


def _speed(first: Side, second: Side, units: Collection[str]) -> SpeedTested | NoFit:
    if len(units) > 1:
        return _UNLIKE
    seen = [pooled(side.cases) for side in (first, second)]
    if all(seen):
        return speed_test(seen[0], seen[1])
    blind = first if not seen[0] else second
    why = "nobody looked in time"
    return NoFit("nobody knows how warm it stood" if blind.cases[0].no_warmth else why)


def _looked_at_alike(first: Side, second: Side) -> bool:
    """Whether every tray was looked at on the same days since sowing."""
    days = {tuple(round(look.day) for look in case.found) for case in (*first.cases, *second.cases)}
    return len(days) == 1 and days != {()}
