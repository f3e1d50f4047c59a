"""Whatever was counted: an answer or the reason why there is none, never a wrong number.

Warnings are errors here, so none of numpy's gets through.
"""

from datetime import datetime, timedelta
from math import isfinite
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from notebook import ZONE, Notebook
from seasons import lot, season
from seedstart.drawing.compare_sheet import compare_lines
from seedstart.drawing.germination_sheet import germination_lines
from seedstart.drawing.lines import as_text
from seedstart.drawing.picture import picture_of_comparison, picture_of_lot
from seedstart.drawing.seed_test_sheet import seed_test_lines, seed_test_sheet
from seedstart.growing.germination.time_curve import NoFit
from seedstart.planning.lots.comparing import compare
from seedstart.planning.lots.learning import crop_files, learn
from seedstart.planning.lots.lot_course import InWarmth, lot_course
from seedstart.planning.lots.rates import germination_of_lot
from seedstart.planning.lots.seed_tests import seed_tests
from seedstart.planning.prospects.to_come import warmth_of
from seedstart.season.journal.entries import Counted, Dug, Finished, Sown
from seedstart.tracking.records import Records

LOTS = "".join(
    lot(name, crop, station='"shelf"')
    for name, crop in (("a", "leek"), ("b", "leek"), ("c", "beet"))
)
PLAN = season(LOTS)
START = datetime(2027, 3, 1, 8, tzinfo=ZONE)
NOW = START + timedelta(days=90)

COUNT = st.fixed_dictionaries(
    {
        "hours": st.integers(0, 24 * 40),
        "standing": st.integers(0, 40),
        "cells": st.none() | st.integers(0, 40),
        "final": st.booleans(),
        "as_new": st.booleans(),
        "normal": st.none() | st.integers(0, 40),
        "dug": st.booleans(),
    }
)
SOWING = st.fixed_dictionaries(
    {
        "lot": st.sampled_from("abc"),
        "seeds": st.integers(1, 30),
        "about": st.booleans(),
        "purpose": st.sampled_from(["plants", "test"]),
        "counts": st.lists(COUNT, max_size=6),
        "finished": st.booleans(),
    }
)


def written(sowings: list[dict[str, Any]]) -> Records:
    """More up than sown, counts that fall, several of one moment, none: as they come."""
    book = Notebook()
    for number, one in enumerate(sowings):
        name = f"s{number}"
        amount = {"about" if one["about"] else "seeds": one["seeds"]}
        more: dict[str, Any] = {**amount, "purpose": one["purpose"], "station": "shelf"}
        book.write(Sown, START, sowing=name, lot=one["lot"], **more)
        for count in one["counts"]:
            at = START + timedelta(hours=count["hours"])
            if count["dug"]:
                book.write(Dug, at, sowing=name, sound=1, soft=count["standing"])
                continue
            how = "new" if count["as_new"] else "standing"
            said: dict[str, Any] = {how: count["standing"], "final": count["final"]}
            said |= {key: count[key] for key in ("cells", "normal") if count[key] is not None}
            book.write(Counted, at, sowing=name, **said)
        if one["finished"]:
            book.write(Finished, START + timedelta(days=60), sowing=name)
    return book.records(LOTS)


def fits(percent: float) -> bool:
    return isfinite(percent) and 0 <= percent <= 100


@given(st.lists(SOWING, max_size=5))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_every_lot_has_figures_that_can_be_or_a_reason(sowings: list[dict[str, Any]]) -> None:
    records = written(sowings)
    warm = InWarmth(warmth_of(PLAN, {}), NOW)
    for one in PLAN.lots:
        for in_warmth in (None, warm):
            course = lot_course(one, PLAN, records, in_warmth=in_warmth)
            for case in course.cases:
                assert 0 <= case.interval.low <= case.interval.high <= 1
                assert all(index.value is None or isfinite(index.value) for index in case.indices)
                assert bool(case.indices) != bool(case.case.why_no_course)
            ups = [step.up for step in course.steps]
            assert ups == sorted(ups)
            assert all(fits(100 * up) for up in [0.0, *(min(up, 1.0) for up in ups)])
            if isinstance(course.curves, NoFit):
                assert course.curves.why
            else:
                for curve in course.curves:
                    half = curve.time_to(0.5)
                    assert 0 < curve.share <= 1
                    assert 0 <= half.low <= half.best <= half.high
            assert all(as_text(line) is not None for line in germination_lines(course, 80))
            picture_of_lot(course)


@given(st.lists(SOWING, max_size=5))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_whatever_is_compared_learned_and_tested_can_be(sowings: list[dict[str, Any]]) -> None:
    records = written(sowings)
    for found in (
        compare(PLAN.lots, PLAN, records),
        *(compare([one], PLAN, records, "sowing") for one in PLAN.lots),
    ):
        for pair in found.pairs:
            assert 0 <= pair.how_many.p <= pair.how_many_p <= 1
            assert pair.speed_p is None or 0 <= pair.speed_p <= 1
        assert all(0 <= side.up <= side.seeds for side in found.sides)
        assert all(len(as_text(line)) <= 80 for line in compare_lines(found, 80))
        picture_of_comparison(found, "")
    tests = seed_tests(PLAN, records, NOW.date())
    seed_test_lines(tests, 80)
    for test in tests:
        assert test.interval is None or 0 <= test.interval.low <= test.interval.high <= 1
        seed_test_sheet(test, "", "metric", 80)
    learned = learn(PLAN, records, {}, NOW)
    assert all(0 <= lot_.up <= lot_.seeds for crop in learned.crops for lot_ in crop.lots)
    crop_files(learned, {})
    for one in PLAN.lots:
        known = germination_of_lot(one, PLAN, records, NOW.date())
        assert known is not None
        assert 0 < known.share < 1
