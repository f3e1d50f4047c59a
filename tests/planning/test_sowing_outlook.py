"""What is expected of one sowing, what is still to come, and whether to sow again."""

from typing import Any

import pytest
from scipy import stats

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.growing.emergence import days_for_share
from seedstart.growing.germination_belief import Belief
from seedstart.planning.emerging import progress_of, warmth_of
from seedstart.planning.season_today import rows_today
from seedstart.planning.sowing_outlook import (
    SowingOutlook,
    TimeCurve,
    _totals,
    sowing_outlook,
)
from seedstart.season.entries import Counted, Finished, Moved, Sown

PEPPER = lot("pepper", "pepper", want="12", station='"mat"', germination='"85%"')
BEET = lot("beet", "beet", station='"mat"')


def outlook(
    book: Notebook, at: str, lots: str = PEPPER, name: str = "pepper", head: str = HEAD
) -> SowingOutlook:
    plan, records, now = season(lots, head), book.records(lots, head), moment(at)
    standing = records.by_name_in_line(name)
    assert standing is not None
    progress = progress_of(standing, plan, records, warmth_of(plan, {}), now)
    rows = rows_today(plan, records, {}, now.date())
    return sowing_outlook(standing, plan, records, progress, now, rows)


def sown(seeds: int | None = 24, at: str = "3-10", **more: float) -> Notebook:
    book = Notebook()
    fields: dict[str, Any] = {"seeds": seeds, **more}
    book.write(Sown, at, sowing="pepper", lot="pepper", station="mat", **fields)
    return book


def test_half_of_those_that_come_are_up_on_the_expected_day_and_the_rest_around_it() -> None:
    time = TimeCurve(half_days=10, slope=11.0, early=8, late=12.5)
    assert time.share(0) == 0
    assert time.share(10) == pytest.approx(0.5)
    assert time.share(time.days_for(0.9)) == pytest.approx(0.9)
    found = outlook(sown(), "3-12")
    assert found.time is not None
    # the crop table's own rule, from the day of 10 % to that of 90 %
    spread = season(PEPPER).crops.crops["pepper"].first_to_last.best
    for share in (0.1, 0.9):
        expected = days_for_share(share, found.time.half_days, spread)
        assert found.time.days_for(share) == pytest.approx(expected)


# Quantiles of the beta-binomial, by scipy.
@pytest.mark.parametrize(
    ("seeds", "a", "b"), [(24, 18, 4), (1, 1, 1), (60, 43.5, 8.5), (200, 3, 9)]
)
def test_the_totals_hold_nine_sowings_in_ten(seeds: int, a: float, b: float) -> None:
    found, by_scipy = _totals(seeds, Belief(a, b)), stats.betabinom(seeds, a, b)
    assert found.mean == pytest.approx(by_scipy.mean())
    assert by_scipy.sf(found.low - 1) >= 0.95 > by_scipy.sf(found.low)
    assert by_scipy.sf(found.high - 1) >= 0.05
    assert found.high == seeds or by_scipy.sf(found.high) < 0.05


def test_counts_stand_at_their_days_since_sowing() -> None:
    book = sown()
    book.write(Counted, "3-20 20:00", sowing="pepper", standing=3)
    found = outlook(book, "3-21")
    assert found.counts == ((10.5, 3),)
    assert found.up == 3
    assert found.days_now == 11


def test_a_sowing_without_a_count_may_still_give_all_that_is_believed_of_it() -> None:
    found = outlook(sown(), "3-12")
    assert found.still is not None
    assert found.totals is not None
    assert found.still.expected() == pytest.approx(found.totals.mean)


def test_a_silent_sowing_is_sown_again_while_there_is_time_and_not_after() -> None:
    book = sown(at="2-20")
    book.write(Counted, "3-30", sowing="pepper", standing=0)
    found = outlook(book, "3-30")
    assert found.advice is not None
    assert found.advice.what == "sow again"
    assert "12 plants wanted with a chance of under 1 %" in found.advice.text
    late = outlook(book, "6-20")
    assert late.advice is not None
    assert late.advice.what == "too late"


def test_one_waits_while_the_days_tell_nothing_yet() -> None:
    book = sown(seeds=14)  # few for 12 plants from the beginning, which is no news
    book.write(Counted, "3-14", sowing="pepper", standing=0)
    found = outlook(book, "3-14")
    assert found.advice is not None
    assert found.advice.what == "wait"
    assert "when it was sown" in found.advice.text


def test_enough_is_enough() -> None:
    book = sown()
    book.write(Counted, "3-30", sowing="pepper", standing=13)
    found = outlook(book, "3-30")
    assert found.advice is not None
    assert found.advice.what == "enough"


def test_a_closed_sowing_has_a_curve_and_nothing_to_come() -> None:
    book = sown()
    book.write(Counted, "3-30", sowing="pepper", standing=13, final=True)
    book.write(Finished, "4-02", sowing="pepper")
    found = outlook(book, "4-03")
    assert found.time is not None
    assert found.still is None
    assert found.advice is None


def test_no_number_is_expected_of_seeds_that_nobody_counted() -> None:
    found = outlook(sown(seeds=None, grams=1.5), "3-14")
    assert found.time is not None
    assert found.totals is None
    assert "not counted" in found.unknown


def test_no_number_is_expected_where_a_seed_gives_several() -> None:
    book = Notebook()
    book.write(Sown, "3-10", sowing="beet", lot="beet", seeds=20, station="mat")
    found = outlook(book, "3-14", BEET, "beet")
    assert found.totals is None
    assert "several seedlings" in found.unknown


def test_seed_in_the_fridge_has_no_days_yet() -> None:
    head = f'{HEAD}\n[[station]]\nname = "fridge"\nkind = "fridge"\nexpected = "4C"\n'
    book = Notebook()
    book.write(Sown, "3-02", sowing="pepper", lot="pepper", seeds=24, station="fridge")
    found = outlook(book, "3-14", head=head)
    assert found.zero is None
    assert found.time is None
    assert "in the cold" in found.unknown
    book.write(Moved, "3-12", sowing="pepper", station="mat")
    out = outlook(book, "3-14", head=head)
    assert out.zero == moment("3-12")
    assert out.chilled
    assert out.days_now == 2


def test_nothing_is_expected_where_it_is_too_cold() -> None:
    cold = lot("pepper", "pepper", want="12", station='"sill"')
    book = Notebook()
    book.write(Sown, "3-10", sowing="pepper", lot="pepper", seeds=24, station="sill")
    found = outlook(book, "3-14", cold)
    assert found.time is None
    assert "Nothing of it is expected up at that warmth" in found.unknown
