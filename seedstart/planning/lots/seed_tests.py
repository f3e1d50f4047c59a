"""Germination tests: where each stands, what it says of its lot, and what to do with that seed."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import Final, Literal

from msgspec import Struct

from seedstart.crop_table.crop import Crop
from seedstart.days import short_day
from seedstart.growing.germination.ageing import Ageing, ageing
from seedstart.growing.germination.intervals import Interval, wilson
from seedstart.growing.germination.lot_tests import more_than_chance
from seedstart.growing.germination.tolerances import Tolerance, replicate_tolerance
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.lot import LotTest
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.planned_test import PlannedTest
from seedstart.season.trials.planned_tests import AS_SOWN
from seedstart.text import folded, plural
from seedstart.tracking.figures import APART_P, LEVEL
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing

State = Literal["planned", "in the cold", "being counted", "closed"]
Verdict = Literal["good", "test again", "grow out for fresh seed"]
# A lot without a mark or a legal minimum: nothing to hold it against.
NO_MARK: Final = "no mark of yours and no legal minimum to hold it against"


class SeedTest(Struct, frozen=True, kw_only=True):
    """One test of one lot: its replicates together.

    Attributes:
        name: The planned test, or the sowing where it was just sown.
        lot: Which lot.
        planned: Its plan; None where it was just sown.
        replicates: Those that were sown, in order.
        state: How far it is.
        day: Days since the cold ended or it was sown; None before.
        up: Normal seedlings; until it is closed those counted so far.
        seeds: Of so many.
        interval: 95 %, Wilson; None before anything was sown, and where more came up than that.
        apart_p: How often chance alone would part the replicates as far; None with one, and while
            some are counted of a day and others are not yet.
        tolerance: By the printed table, where one applies; None else.
        legal_minimum: Percent; None where the crop has none.
        legal_sources: Whose, by their titles.
        mark: The grower's own, percent; None where there is none.
        wrong: Why it gives no figure.
        closed_on: The day of its last count; None while it goes on.
    """

    name: str
    lot: str
    planned: PlannedTest | None
    replicates: tuple[Standing, ...]
    state: State
    day: int | None
    up: int
    seeds: int
    interval: Interval | None
    apart_p: float | None
    tolerance: Tolerance | None
    legal_minimum: float | None
    legal_sources: tuple[str, ...]
    mark: float | None
    wrong: tuple[str, ...] = ()
    closed_on: date | None = None

    @property
    def percent(self) -> float | None:
        """Percentage of the seeds tested; None before any, and where more came up than sown."""
        return 100 * self.up / self.seeds if self.seeds and self.interval else None

    @property
    def replicates_apart(self) -> bool:
        """Whether its replicates differ more than they should: then it is made again."""
        if self.tolerance is not None:
            return not self.tolerance.within
        return self.apart_p is not None and self.apart_p < APART_P

    @property
    def verdict(self) -> tuple[Verdict, str] | None:
        """What to do with the seed, and why; None while the test goes on, or without a mark."""
        if self.state != "closed" or self.interval is None or self.wrong:
            return None
        if self.replicates_apart:
            return "test again", "its replicates lie too far apart"
        low, high = 100 * self.interval.low, 100 * self.interval.high
        marks = [mark for mark in (self.mark, self.legal_minimum) if mark is not None]
        if not marks:
            return None
        if high < min(marks):
            return "grow out for fresh seed", f"surely below {min(marks):g}"
        if low >= max(marks):
            return "good", f"surely {max(marks):g} or more"
        if self.mark is not None and (self.percent or 0) < self.mark:
            return "grow out for fresh seed", f"below your mark, {self.mark:g}, as far as it shows"
        return "test again", f"so few seeds do not tell it from {_nearest(marks, self.percent):g}"


def _nearest(marks: Sequence[float], percent: float | None) -> float:
    return min(marks, key=lambda mark: abs(mark - (percent or 0)))


def seed_tests(season: Season, records: Records, today: date) -> tuple[SeedTest, ...]:
    """Every test of the season: planned ones in their order, then those that were just sown."""
    sown = [
        standing
        for standing in records.standings.values()
        if standing.purpose == "test" and standing.from_seed
    ]
    planned = [
        _test(test.name, lot, test, _replicates(test, lot, sown), season, records, today)
        for test in season.tests
        for lot in test.lots
    ]
    known = {replicate.id for test in planned for replicate in test.replicates}
    others: dict[tuple[str, str], list[Standing]] = {}
    for sowing in sown:
        if sowing.id not in known and sowing.lot is not None:
            name = sowing.trial or records.name_in_line(sowing.id)
            others.setdefault((name, sowing.lot), []).append(sowing)
    rest = [
        _test(name, lot, None, tuple(found), season, records, today)
        for (name, lot), found in others.items()
    ]
    return (*planned, *rest)


def _replicates(test: PlannedTest, lot: str, sown: Sequence[Standing]) -> tuple[Standing, ...]:
    found = [sowing for sowing in sown if sowing.trial == test.name and sowing.lot == lot]
    return tuple(sorted(found, key=lambda sowing: (sowing.replicate or 0, sowing.at)))


def _test(
    name: str,
    lot: str,
    planned: PlannedTest | None,
    found: tuple[Standing, ...],
    season: Season,
    records: Records,
    today: date,
) -> SeedTest:
    crop = season.crop_of(lot)
    closed = bool(found) and all(replicate.closed is not None for replicate in found)
    zeros = [records.day_zero(replicate.id) for replicate in found]
    zero = min((moment.date() for moment in zeros if moment is not None), default=None)
    counted = [(_up(replicate), replicate.seeds or 0) for replicate in found if replicate.seeds]
    up, seeds = sum(came for came, _ in counted), sum(of for _, of in counted)
    sound = all(normal <= of for normal, of in counted)
    interval = wilson(up, seeds, LEVEL) if seeds and sound else None
    least = crop.minimum_germination_percent if crop else None
    return SeedTest(
        name=name,
        lot=lot,
        planned=planned,
        replicates=found,
        state=_state(found, zero, closed=closed),
        day=(today - zero).days if zero else None,
        up=up,
        seeds=seeds,
        interval=interval,
        apart_p=more_than_chance(counted) if len(counted) > 1 and sound and _alike(found) else None,
        tolerance=_tolerance(counted) if sound and _alike(found) else None,
        legal_minimum=least.best if least else None,
        legal_sources=tuple(
            season.crops.sources[key].text for key in least.sources if key in season.crops.sources
        )
        if least
        else (),
        mark=planned.grow_out_below if planned else None,
        wrong=tuple(_wrong(found, closed=closed)),
        closed_on=max(replicate.closed.at.date() for replicate in found if replicate.closed)
        if closed
        else None,
    )


def _state(found: Sequence[Standing], zero: date | None, *, closed: bool) -> State:
    if not found:
        return "planned"
    if closed:
        return "closed"
    return "in the cold" if zero is None else "being counted"


def _alike(found: Sequence[Standing]) -> bool:
    """Whether all replicates were counted last on one day: else some are behind the others."""
    return (
        len({replicate.counted[-1].at.date() if replicate.counted else None for replicate in found})
        == 1
    )


def _wrong(found: Sequence[Standing], *, closed: bool) -> Iterator[str]:
    """What cannot be of its replicates; how they ended is judged once it is closed."""
    for replicate in found:
        if replicate.seeds is not None and _up(replicate) > replicate.seeds:
            normal = f"{_up(replicate)} normal of {plural(replicate.seeds, 'seed')}"
            yield f"{replicate.name}: {normal} cannot be; take the wrong count back."
        elif closed:
            yield from map(str, replicate.problems)


def _up(standing: Standing) -> int:
    return standing.ended.normal if standing.ended is not None else standing.emerged


def _tolerance(counted: Sequence[tuple[int, int]]) -> Tolerance | None:
    sizes = {of for _, of in counted}
    if len(sizes) != 1:
        return None
    return replicate_tolerance([100 * up / of for up, of in counted], sizes.pop())


def count_days(test: PlannedTest) -> tuple[int, ...]:
    """The days on which a planned test is counted, after the cold."""
    return tuple(dict.fromkeys((test.first_count, test.last_count)))


def planned_of(standing: Standing, season: Season) -> PlannedTest | None:
    """The plan of a sowing that is a replicate of a planned test."""
    if standing.purpose != "test" or standing.trial is None:
        return None
    return next((test for test in season.tests if test.name == standing.trial), None)


def next_count(standing: Standing, test: PlannedTest, zero: date) -> date | None:
    """The next planned day of counting a replicate; None after the last was counted.

    Args:
        standing: The replicate.
        test: Its plan.
        zero: The day its days count from.
    """
    last = standing.counted[-1].at.date() if standing.counted else date.min
    days = (zero + timedelta(days=day) for day in count_days(test))
    return next((day for day in days if day > last), None)


def to_begin(season: Season, records: Records) -> Iterator[tuple[PlannedTest, str]]:
    """Planned tests of which nothing was sown yet, lot by lot."""
    begun = {
        (standing.trial, standing.lot)
        for standing in records.standings.values()
        if standing.purpose == "test"
    }
    return (
        (test, lot) for test in season.tests for lot in test.lots if (test.name, lot) not in begun
    )


def begun_in_words(name: str, records: Records, kind: Literal["test", "trial"] = "test") -> str:
    """`2 replicates were sown on 1 Mar`, of a trial its trays; empty where nothing was sown yet."""
    sown = [
        standing
        for standing in records.standings.values()
        if standing.purpose == kind
        and standing.from_seed
        and folded(standing.trial or "") == folded(name)
    ]
    if not sown:
        return ""
    day = short_day(min(sowing.at for sowing in sown).date())
    were = "was" if len(sown) == 1 else "were"
    of = "tray" if kind == "trial" else "replicate"
    return f"{plural(len(sown), of)} {were} sown on {day}"


def check_begun(name: str, keys: Iterable[str], records: Records, *, file: str) -> None:
    """Check that what is to change of a planned test was not sown already.

    Raises:
        BadInputError: It was; with each key that stands as it was sown.
    """
    begun = begun_in_words(name, records)
    sown = [key for key in keys if key in AS_SOWN] if begun else []
    if sown:
        hint = f"{begun[:1].upper()}{begun[1:]}, so it stays as it is; plan another test instead."
        raise BadInputError([Problem(file=file, key=key, hint=hint) for key in sown])


def aged_in_words(tests: Sequence[LotTest], crop: Crop, today: date) -> str:
    """How a lot ages: by two of its own tests; else how long such seed keeps, as a caution."""
    line = ageing_of(tests)
    if line is not None:
        gone = (today - line.from_day).days
        half = line.half_life_days
        when = "is past" if half <= gone else f"some {half / 365.25:.1f} years after the first"
        return (
            f"By your two tests it loses germination: some {100 * line.share_on(today):.0f} in 100 "
            f"today, half {when}, if it is kept as it was (Ellis & Roberts 1980)."
        )
    life = crop.seed_life_years
    if life is None:
        return ""
    return (
        f"Such seed keeps some {plural(life.best, 'year')}, and far shorter or longer as it is "
        "stored: "
        "only two tests of the lot tell how fast it ages."
    )


def ageing_of(tests: Sequence[LotTest]) -> Ageing | None:
    """The line through the first and the last test; None where they show no ageing.

    Less in the second is ageing only where chance would seldom make it so.
    """
    ordered = sorted(tests, key=lambda test: test.on)
    if len(ordered) < 2 or ordered[0].on == ordered[-1].on:
        return None
    first, last = (_of_day(ordered, ordered[at].on) for at in (0, -1))
    if more_than_chance([(first.up, first.seeds), (last.up, last.seeds)]) >= APART_P:
        return None
    return ageing((first.on, first.up, first.seeds), (last.on, last.up, last.seeds))


def _of_day(tests: Sequence[LotTest], on: date) -> LotTest:
    """The tests of a day together: replicates of one."""
    same = [test for test in tests if test.on == on]
    return LotTest(on, sum(test.seeds for test in same), sum(test.up for test in same))
