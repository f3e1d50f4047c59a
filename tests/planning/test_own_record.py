"""What a season's own records say of how lots come up, and of losses."""

from datetime import date
from typing import Any

import pytest

from notebook import Notebook
from seasons import lot, season
from seedstart.planning.calendar.season_today import rows_today
from seedstart.planning.prospects.lot_germination import Expectation, expected_germination
from seedstart.planning.prospects.own_record import USUAL_LOSS, Losses, OwnRecord
from seedstart.season.journal.entries import Counted, Finished, Lost, PrickedOut, SetOut, Sown
from seedstart.season.plan.lot import LotTest

LOTS = "".join(lot(name, "leek", want="24", station='"shelf"') for name in "abcdef") + lot(
    "beet", "beet", want="12", station='"shelf"'
)
PLAN = season(LOTS)


def tray(book: Notebook, name: str, up: int, of: int, **more: Any) -> None:
    book.write(Sown, "1-02", sowing=name, lot=name, seeds=of, station="shelf", **more)
    book.write(Counted, "1-30", sowing=name, standing=up, final=True)


def judged(book: Notebook, name: str, normal: int, of: int) -> None:
    fields: dict[str, Any] = {"lot": name, "seeds": of, "purpose": "test", "on": "paper"}
    book.write(Sown, "1-02", sowing=f"test {name}", **fields)
    ended: dict[str, Any] = {
        "normal": normal,
        "abnormal": 0,
        "hard": 0,
        "fresh": 0,
        "dead": of - normal,
    }
    end: dict[str, Any] = {"sowing": f"test {name}", "standing": normal, "final": True}
    book.write(Counted, "1-16 10:00", **end, **ended)


def of_lot(book: Notebook, name: str) -> Any:
    record = OwnRecord(PLAN, book.records(LOTS))
    return record.of(PLAN.lots_by_name[name], PLAN)


def seeds_of(book: Notebook, name: str, lots: str = LOTS) -> tuple[int | None, str]:
    rows = rows_today(season(lots), book.records(lots), {}, date(2027, 2, 1))
    row = next(row for row in rows if row.lot == name)
    return row.seeds, " ".join(reason.text for reason in row.reasons if reason.step == "sow")


def test_a_recorded_test_counts_as_one_that_stands_in_the_plan() -> None:
    book = Notebook()
    judged(book, "a", 19, 20)
    assert of_lot(book, "a").of.tests == (LotTest(date(2027, 1, 16), 20, 19, "paper"),)
    listed = lot(
        "a",
        "leek",
        want="24",
        station='"shelf"',
        tests='[{ on = 2027-01-16, seeds = 20, up = 19, where = "paper" }]',
    )
    recorded = seeds_of(book, "a")
    assert recorded == seeds_of(Notebook(), "a", listed)
    assert "19 of 20 came up in your test of 16 Jan" in recorded[1]
    assert recorded[0] != seeds_of(Notebook(), "a")[0]


def test_a_test_that_is_still_open_says_nothing() -> None:
    book = Notebook()
    fields: dict[str, Any] = {"lot": "a", "seeds": 20, "purpose": "test", "on": "paper"}
    book.write(Sown, "1-02", sowing="test", **fields)
    book.write(Counted, "1-16", sowing="test", standing=2)
    assert seeds_of(book, "a") == seeds_of(Notebook(), "a")


def test_a_lots_own_trays_say_how_it_comes_up_and_are_not_added_to_its_test() -> None:
    book = Notebook()
    tray(book, "a", 17, 160)
    succession = LOTS.replace('name = "a"', 'name = "a"\nsowings = 2\nevery = "10 days"', 1)
    rows = rows_today(season(succession), book.records(succession), {}, date(2027, 2, 1))
    (row,) = [row for row in rows if row.lot == "a" and row.sowing is None]
    told = " ".join(reason.text for reason in row.reasons)
    assert "17 of 160 came up in your tray of 30 Jan" in told
    judged(book, "a", 19, 20)
    assert of_lot(book, "a").of.figure == (19, 20)


def test_four_other_lots_speak_for_one_of_which_nothing_is_known() -> None:
    book = Notebook()
    for name, up in (("a", 20), ("b", 22), ("c", 15)):
        tray(book, name, up, 24)
    assert "threshold" in seeds_of(book, "f")[1]
    judged(book, "d", 18, 20)
    assert of_lot(book, "f").other_lots == ((20, 24), (22, 24), (15, 24), (18, 20))
    assert "your 4 other lots came up to" in seeds_of(book, "f")[1]


def test_old_seed_says_nothing_of_other_lots() -> None:
    # Leek: 2 years in the crop table (Knott's handbook 1997).
    old = LOTS.replace('name = "a"', 'name = "a"\nharvested = "2023"', 1)
    book = Notebook()
    for name in ("a", "b"):
        tray(book, name, 2, 24)
    record = OwnRecord(season(old), book.records(old))
    plan = season(old)
    assert record.of(plan.lots_by_name["f"], plan).other_lots == ((2, 24),)
    assert record.of(plan.lots_by_name["a"], plan).of.trays != ()


def test_a_tray_that_had_no_fair_chance_says_nothing() -> None:
    book = Notebook()
    book.write(Sown, "1-02", sowing="a", lot="a", about=100, station="shelf")
    book.write(Counted, "1-30", sowing="a", standing=10, final=True)
    assert of_lot(book, "b").other_lots == ()
    assert of_lot(book, "a").of.figure is None


def raised(book: Notebook, name: str, up: int, died: int) -> None:
    """A sowing whose plants were pricked out, of which some died, and the others set out."""
    tray(book, name, up, 24)
    into = {"into": f"{name}.1", "station": "shelf"}
    book.write(PrickedOut, "2-02", sowing=name, plants=up, **into)
    if died:
        book.write(Lost, "2-10", sowing=f"{name}.1", plants=died)
    book.write(SetOut, "2-20", sowing=f"{name}.1", left=0)


def test_losses_are_those_of_sowings_that_are_over_with_all_their_daughters() -> None:
    book = Notebook()
    for name, died in (("a", 2), ("b", 0), ("c", 5)):
        raised(book, name, 20, died)
    tray(book, "d", 20, 24)  # still stands
    assert of_lot(book, "f").losses == Losses(3, 60, 7)
    assert of_lot(book, "f").losses.share == USUAL_LOSS
    book.write(Finished, "2-21", sowing="d")  # thrown away, not lost
    losses = of_lot(book, "f").losses
    assert losses == Losses(4, 80, 7)
    assert losses.share == pytest.approx(8 / 82, abs=0.005)
    assert "of 80 in your 4 finished sowings 7 were lost" in seeds_of(book, "f")[1]


def test_neither_a_test_nor_clusters_of_several_seedlings_speak_of_losses() -> None:
    book = Notebook()
    judged(book, "a", 19, 20)
    book.write(Finished, "2-01", sowing="test a")
    tray(book, "beet", 30, 24)
    book.write(Finished, "2-01", sowing="beet")
    assert of_lot(book, "f").losses == Losses()


def test_what_was_taken_from_the_packet_is_not_asked_for_again() -> None:
    lots = lot("a", "leek", want="24", station='"shelf"', have='"60 seeds"', sowings="2",
               every='"10 days"')  # fmt: skip
    book = Notebook()
    book.write(Sown, "1-20", sowing="a", lot="a", seeds=45, station="shelf")
    rows = rows_today(season(lots), book.records(lots), {}, date(2027, 2, 1))
    (row,) = [row for row in rows if row.sowing is None]
    assert row.seeds == 15
    assert row.few is not None
    assert row.warnings[-1] == f"The packet has 15 seeds: {row.few.in_words}."


def test_a_sowing_closed_early_for_being_poor_does_not_decide_its_lots_figure() -> None:
    # leek at 20 C: the last come by day 14 to 17 in trays, so day 8 is early
    for day, counts in (("1-10", False), ("1-30", True)):
        book = Notebook()
        book.write(Sown, "1-02", sowing="a", lot="a", seeds=24, station="shelf")
        book.write(Counted, day, sowing="a", standing=5, final=True)
        told = of_lot(book, "a").of.trays
        assert bool(told) == counts
    book = Notebook()
    book.write(Sown, "1-02", sowing="a", lot="a", seeds=24, station="shelf")
    book.write(Counted, "1-10", sowing="a", standing=20, final=True)
    assert [one.up for one in of_lot(book, "a").of.trays] == [20]


def test_trays_that_lie_apart_make_nobody_as_sure_as_their_seeds_would() -> None:
    known = PLAN.lots_by_name["a"]

    def expects(*ups: int) -> Expectation:
        trays = [LotTest(date(2027, 1, 20 + number), 100, up) for number, up in enumerate(ups)]
        crop = PLAN.crops.crops["leek"]
        return expected_germination(known, crop, None, date(2027, 2, 1), trays=trays)

    alike, apart = expects(27, 28), expects(11, 44)
    assert alike.belief.mean == pytest.approx(apart.belief.mean, abs=0.04)
    assert alike.belief.strength == pytest.approx(202)
    assert apart.belief.strength < 40
    assert not alike.reasons
    assert "11 of 100 and 44 of 100" in apart.reasons[0].text
    assert "4 × 50" in apart.reasons[0].text
