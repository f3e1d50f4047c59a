"""What a season teaches the next: own days, spread, lots, tests, and seed that is left."""

from datetime import date, datetime, timedelta
from math import exp, log
from typing import Any

import pytest
from msgspec.structs import replace

from notebook import ZONE, Notebook
from seasons import HEAD, lot, season
from seedstart.crop_table.load import load_crops
from seedstart.planning.lots.learning import Learned, crop_files, learn
from seedstart.planning.prospects.lot_germination import expected_germination
from seedstart.planning.prospects.own_record import OwnRecord
from seedstart.season.journal.entries import Counted, Read, Sown
from seedstart.season.plan.lot import LotTest, SeedAmount
from seedstart.season.plan.season_file import Season, read_season
from shipped import crop_files as shipped_files

LOTS = lot("leek", "leek", station='"shelf"', have='"200 seeds"') + lot(
    "tomato", "tomato", station='"mat"'
)
PLAN = season(LOTS)
NOW = datetime(2027, 6, 1, tzinfo=ZONE)


def sow(book: Notebook, name: str, of: str, station: str, ups: dict[int, int], **more: Any) -> None:
    """Sown on 1 March; up so far by day."""
    start = datetime(2027, 3, 1, 8, tzinfo=ZONE)
    book.write(Sown, start, sowing=name, lot=of, seeds=40, station=station, **more)
    for day, up in ups.items():
        at = start + timedelta(days=day)
        book.write(Counted, at, sowing=name, standing=up, final=day == list(ups)[-1])


def read_by_hand(book: Notebook, station: str, c: float, days: int = 40) -> None:
    """A thermometer read every two hours: measured warmth."""
    start = datetime(2027, 3, 1, 8, tzinfo=ZONE)
    for hours in range(0, 24 * days, 2):
        book.write(
            Read, start + timedelta(hours=hours), station=station, quantity="soil_c", value=c
        )


def learned(book: Notebook, plan: Season = PLAN, lots: str = LOTS) -> Learned:
    return learn(plan, book.records(lots), {}, NOW)


SLOW = {8: 0, 13: 4, 14: 12, 15: 22, 16: 28, 18: 33, 20: 34, 30: 34}


def test_days_on_measured_warmth_are_drawn_toward_the_handbook_by_how_few_they_are() -> None:
    found = {}
    for sowings in (1, 6):
        book = Notebook()
        read_by_hand(book, "shelf", 20.0)
        for number in range(sowings):
            sow(book, f"leek {number}", "leek", "shelf", SLOW)
        (leek,) = [one for one in learned(book).crops if one.crop.name == "leek"]
        assert leek.sowings == sowings
        assert leek.days is not None
        assert leek.days.basis == "own"
        assert f"from your own {sowings} sowing" in leek.days.note
        found[sowings] = leek.days.best
    crop = PLAN.crops.crops["leek"]
    assert crop.days_in_trays is not None
    # Half of 34 at day 14.5 at 20 °C; the days printed for trays (germination_temperature.csv) are
    # 10.8 at 19.7 °C.
    ratio = 14.5 / 10.8
    for sowings, days in found.items():
        weight = sowings / 0.25**2 / (sowings / 0.25**2 + 1 / 0.39**2)
        by_hand = 10.8 * exp(weight * log(ratio))
        assert days == pytest.approx(by_hand, rel=0.03)
    assert 10.8 < found[1] < found[6]


def test_what_rests_on_assumed_warmth_says_nothing_of_the_crop_but_of_the_station() -> None:
    book = Notebook()
    sow(book, "leek", "leek", "shelf", SLOW)
    found = learned(book)
    assert all(one.days is None for one in found.crops)
    (station,) = found.stations
    assert (station.station, station.sowings) == ("shelf", 1)
    assert station.ratio == pytest.approx(14.5 / 10.8, rel=0.05)


def test_lots_tests_and_seed_left_are_taken_over_with_their_counts() -> None:
    book = Notebook()
    sow(book, "leek", "leek", "shelf", SLOW)
    more = {"purpose": "test", "on": "paper"}
    book.write(Sown, "2-01", sowing="t", lot="leek", seeds=50, **more)
    ended: dict[str, Any] = {"normal": 40, "abnormal": 2, "hard": 0, "fresh": 0, "dead": 8}
    book.write(Counted, "2-14", sowing="t", standing=42, final=True, **ended)
    found = learned(book)
    (leek,) = found.crops
    assert [(one.lot, one.up, one.seeds) for one in leek.lots] == [("leek", 34, 40)]
    (test,) = found.tests["leek"]
    assert (test.seeds, test.up, test.where) == (50, 40, "paper")
    assert found.left == {"leek": SeedAmount(seeds=110)}


def next_season(found: Learned, own: dict[str, bytes] | None = None) -> Season:
    files = crop_files(found, own or {})
    return read_season(HEAD.encode(), LOTS.encode(), load_crops(shipped_files(), files))


def test_the_next_season_reads_what_was_learned_and_counts_with_it() -> None:
    book = Notebook()
    read_by_hand(book, "shelf", 20.0)
    for number in range(6):
        sow(book, f"leek {number}", "leek", "shelf", SLOW)
    found = learned(book)
    crop = next_season(found).crops.crops["leek"]
    (leek,) = found.crops
    assert crop.days_in_trays == leek.days
    assert crop.first_to_last == leek.spread
    record = OwnRecord(next_season(found), Notebook().records(LOTS))
    own = record.of(PLAN.lots_by_name["leek"], next_season(found))
    assert {(one.up, one.seeds) for one in own.of.trays} == {(34, 40)}
    assert len(own.of.trays) == 6
    # of another lot it is one lot of 240 seeds, as it was
    others = record.of(PLAN.lots_by_name["tomato"], next_season(found)).other_lots
    assert others == ((204, 240),)


def test_a_crop_with_a_handbooks_table_keeps_its_shape_and_gets_own_days() -> None:
    book = Notebook()
    read_by_hand(book, "mat", 24.0)
    for number in range(6):
        sow(book, f"tomato {number}", "tomato", "mat", {4: 0, 7: 6, 8: 20, 9: 30, 11: 34, 20: 34})
    found = learned(book)
    crop = next_season(found).crops.crops["tomato"]
    before = PLAN.crops.crops["tomato"]
    assert (before.clock, crop.clock) == ("table", "trays")
    assert crop.emergence == before.emergence
    (tomato,) = [one for one in found.crops if one.crop.name == "tomato"]
    assert crop.days_in_trays == tomato.days
    assert crop.days_in_trays is not None
    assert "drawn toward the handbook's" in crop.days_in_trays.note


def test_what_was_learned_goes_into_an_own_file_of_the_crop() -> None:
    book = Notebook()
    sow(book, "leek", "leek", "shelf", SLOW)
    own = {"my leek.toml": b'name = "leek"\ndepth_mm = 9\n', "moon.toml": b'name = "x"\n'}
    files = crop_files(learned(book), own)
    assert files.keys() == own.keys()
    assert files["moon.toml"] == own["moon.toml"]
    crop = load_crops(shipped_files(), {"my leek.toml": files["my leek.toml"]}).crops["leek"]
    assert crop.depth_mm is not None
    assert crop.depth_mm.best == 9
    assert crop.own_lots


def test_a_lot_whose_test_is_unlike_the_others_is_not_drawn_toward_them() -> None:
    tested = season(LOTS).lots_by_name["leek"]
    crop = PLAN.crops.crops["leek"]
    others = ((34, 40), (50, 60), (41, 50), (36, 40))

    def share(up: int) -> float:
        test = LotTest(date(2027, 2, 1), 200, up, "paper")
        lot_ = replace(tested, tests=(test,))
        return expected_germination(lot_, crop, None, date(2027, 3, 1), others).belief.mean

    assert share(70) == pytest.approx(71 / 202)  # the even start and the test alone
    assert 0.8 < share(160) < 0.85  # drawn a little toward the others' 85 %
