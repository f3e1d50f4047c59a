"""Ten invented lots of which the truth is known: what is said of them, and what comes of it."""

from datetime import datetime, timedelta
from random import Random
from statistics import fmean

from notebook import ZONE, Notebook
from seasons import lot, season
from seedstart.growing.germination.lot_tests import SpeedTested
from seedstart.planning.lots.comparing import compare
from seedstart.planning.lots.lot_course import lot_course
from seedstart.planning.lots.rates import germination_of_lot, rate
from seedstart.season.journal.entries import Counted, Sown
from seedstart.tracking.records import Records

# Name → share that comes, days until half of these are up. Log-logistic, slope 9; made up.
TRUTH = {
    "ash": (0.92, 9.0), "birch": (0.92, 9.0), "cedar": (0.90, 9.0), "dogwood": (0.90, 12.0),
    "elm": (0.75, 9.0), "fir": (0.75, 12.0), "gum": (0.55, 9.0), "hazel": (0.55, 10.0),
    "ivy": (0.40, 14.0), "juniper": (0.92, 14.0),
}  # fmt: skip
SEEDS, LAST_DAY = 80, 40
LOTS = "".join(lot(name, "leek", station='"shelf"', want="24") for name in TRUTH)
PLAN = season(LOTS)
START = datetime(2027, 3, 1, 8, tzinfo=ZONE)


def grown(seed: int) -> Records:
    """Each lot sown once and counted every day but Sundays."""
    rng, book = Random(seed), Notebook()
    for name, (share, half) in TRUTH.items():
        book.write(Sown, START, sowing=name, lot=name, seeds=SEEDS, station="shelf")
        days = []
        for _ in range(SEEDS):
            u = rng.random()
            if rng.random() < share:
                days.append(half * (u / (1 - u)) ** (1 / 9))
        for day in range(1, LAST_DAY + 1):
            if day % 7:
                up = sum(one <= day for one in days)
                at, last = START + timedelta(days=day), day == LAST_DAY
                book.write(Counted, at, sowing=name, standing=up, final=last)
    return book.records(LOTS)


def test_what_is_shown_of_ten_lots_is_true_and_large_differences_are_shown() -> None:
    found = compare(PLAN.lots, PLAN, grown(1))
    assert len(found.pairs) == 45
    for pair in found.pairs:
        (share_a, half_a), (share_b, half_b) = TRUTH[pair.first], TRUTH[pair.second]
        side = {one.name: one for one in found.sides}
        if pair.shown:
            assert share_a != share_b
            ahead = side[pair.first].share > side[pair.second].share
            assert ahead == (share_a > share_b)
        assert pair.shown or abs(share_a - share_b) < 0.3
        assert isinstance(pair.speed, SpeedTested)
        if pair.speed_shown:
            assert half_a != half_b
            assert (pair.speed.days > 0) == (half_b > half_a)
        assert pair.speed_shown or abs(half_a - half_b) < 3


def test_the_curve_of_each_lot_holds_its_truth() -> None:
    records, held = grown(2), 0
    for one in PLAN.lots:
        share, half = TRUTH[one.name]
        curve = lot_course(one, PLAN, records).curve
        assert curve is not None
        t50, ends = curve.time_to(0.5), curve.share_ends
        assert ends is not None
        held += t50.low <= half <= t50.high
        held += ends[0] <= share <= ends[1]
    assert held >= 17  # of 20 intervals of 95 %


def test_the_seeds_that_are_advised_give_the_plants_about_as_often_as_asked() -> None:
    rng, reached = Random(3), []
    for seed in range(4):
        records = grown(10 + seed)
        for one in PLAN.lots:
            known = germination_of_lot(one, PLAN, records, (START + timedelta(days=60)).date())
            assert known is not None
            seeds = rate(known, 24, chance=0.9).for_plants.seeds
            share = TRUTH[one.name][0] * (1 - known.lost)
            plants = [sum(rng.random() < share for _ in range(seeds)) for _ in range(40)]
            reached.append(fmean(float(number >= 24) for number in plants))
    # nine times in ten is asked; the lots are known from 80 seeds each and from one another
    assert 0.84 <= fmean(reached) <= 0.97
