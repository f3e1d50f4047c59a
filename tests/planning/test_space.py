from datetime import date, timedelta
from itertools import pairwise

import pytest
from msgspec import structs

from notebook import Notebook
from seasons import HEAD, lot, season
from seedstart.planning.clashes import clashes
from seedstart.planning.row import Row
from seedstart.planning.season_rows import season_rows
from seedstart.planning.season_today import as_set, rows_today
from seedstart.planning.space import SoFar, Stand, area_m2, loads, stands, used_m2
from seedstart.season.containers import SHIPPED
from seedstart.season.entries import Counted, Finished, Moved, PrickedOut, Sown
from seedstart.season.plan import Season

TODAY = date(2027, 1, 2)
LOTS = lot("leek", "leek", want="72", station='"shelf"', container='"tray of 72"')


def rows_of(plan: Season) -> list[Row]:
    """The rows of a season, one seed a plant, so that trays can be counted by hand."""
    return [structs.replace(row, seeds=None) for row in season_rows(plan, TODAY)]


TRAY = next(one for one in SHIPPED if one.name == "tray of 72")


def many(count: int, want: int = 72, **keys: str) -> Season:
    said = {"station": '"shelf"', "container": '"tray of 72"', **keys}
    return season("".join(lot(f"leek {n}", "leek", want=str(want), **said) for n in range(count)))


def test_a_lot_stands_from_sowing_to_setting_out_without_gap_or_overlap() -> None:
    one = season(lot("t", "tomato", want="10", station='"mat"', then='"shelf"'))
    (row,) = rows_of(one)
    found = stands([row], one)
    sow, out = row.window("sow"), row.window("set_out")
    assert sow is not None
    assert out is not None
    assert found[0].since == sow.best
    assert found[0].station == "mat"
    for left, right in pairwise(found):
        assert right.since == left.until
    assert {stand.stage for stand in found} <= {"seed", "seedlings", "pots", "hardening"}
    assert found[-1].until <= out.best


def test_one_tray_takes_its_footprint_and_lots_share_trays_by_the_cell() -> None:
    # 54 × 28 cm: the trade's standard tray, outer size from memory (containers.py).
    assert area_m2(TRAY) == pytest.approx(0.54 * 0.28)
    one, shared = many(1), many(3, want=24)
    for plan in (one, shared):
        week = loads(stands(rows_of(plan), plan), plan)[0]
        assert week.used_m2 == pytest.approx(0.54 * 0.28)


def test_a_share_is_of_the_stations_area_and_unknown_without_it() -> None:
    plan = season(LOTS + lot("p", "pea", want="20", station='"sill"', container='"tray of 38"'))
    by_station = {load.station: load for load in loads(stands(rows_of(plan), plan), plan)}
    assert by_station["shelf"].share == pytest.approx(0.54 * 0.28 / (1.2 * 0.6))
    assert by_station["sill"].share is None


def test_what_fits_is_no_clash() -> None:
    plan = many(4)
    rows = rows_of(plan)
    assert clashes(rows, stands(rows, plan), plan) == []


def one_too_many(container: str) -> Season:
    """Three full trays and 100 cells of another lot: two trays of 50, or one of 128."""
    full = "".join(
        lot(f"leek {n}", "leek", want="72", station='"shelf"', container='"tray of 72"')
        for n in range(3)
    )
    last = lot("onion", "leek", want="100", station='"shelf"', container=f'"{container}"')
    return season(full + last)


def test_what_does_not_fit_is_told_with_what_cures_it() -> None:
    plan = one_too_many("tray of 50")  # five trays of 0.15 m² on 0.72 m²
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.station == "shelf"
    assert clash.worst.used_m2 == pytest.approx(5 * 0.54 * 0.28)
    assert clash.first <= clash.worst.monday <= clash.last
    assert "raise onion in a tray of 128 instead of a tray of 50" in clash.cures


def test_a_cure_cures() -> None:
    plan = one_too_many("tray of 128")
    rows = rows_of(plan)
    assert clashes(rows, stands(rows, plan), plan) == []


def test_where_no_single_change_helps_none_is_offered() -> None:
    plan = many(6)
    rows = rows_of(plan)
    (clash,) = clashes(rows, stands(rows, plan), plan)
    assert clash.cures == ()


def test_weeks_are_whole_iso_weeks() -> None:
    plan = many(1)
    found = loads(stands(rows_of(plan), plan), plan)
    assert all(load.monday.weekday() == 0 for load in found)
    shelf = [load.monday for load in found if load.station == "shelf"]
    assert shelf == [shelf[0] + timedelta(days=7 * n) for n in range(len(shelf))]


def test_nothing_takes_no_room() -> None:
    assert used_m2([]) == 0
    assert loads([], season("", HEAD)) == []


def sown_so_far(book: Notebook, plan: Season, lots: str, today: date) -> list[Stand]:
    """Where all of it stands, as expected on a day."""
    records = book.records(lots, HEAD)
    rows = rows_today(plan, records, {}, today)
    return stands(rows, as_set(plan, records, today), SoFar(records, today))


def on(found: list[Stand], day: date) -> list[tuple[str, str, int]]:
    """What stands on a day: where, at which stage, how many cells."""
    here = [stand for stand in found if stand.since <= day < stand.until]
    return [(stand.station, stand.stage, stand.cells) for stand in here]


TOMATO = lot("t", "tomato", want="10", station='"mat"', then='"shelf"')


def test_what_was_sown_stands_where_it_was_carried_with_the_seeds_that_it_has() -> None:
    book, plan = Notebook(), season(TOMATO)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="sill")
    book.write(Moved, "3-24", sowing="t", station="mat")
    found = sown_so_far(book, plan, TOMATO, date(2027, 3, 26))
    assert on(found, date(2027, 3, 19)) == []
    assert on(found, date(2027, 3, 22)) == [("sill", "seed", 24)]
    assert on(found, date(2027, 3, 25)) == [("mat", "seed", 24)]
    ahead = [stand for stand in found if stand.since > date(2027, 3, 26)]
    assert ahead[0].station == "shelf", "what has not begun stands where the plan has it"


def test_plants_that_were_pricked_out_stand_where_they_went_as_many_as_there_are() -> None:
    book, plan = Notebook(), season(TOMATO)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="mat")
    book.write(Counted, "3-28", sowing="t", standing=16, final=True)
    book.write(PrickedOut, "4-10", sowing="t", plants=16, into="t.1", station="sill")
    found = sown_so_far(book, plan, TOMATO, date(2027, 4, 12))
    assert on(found, date(2027, 4, 12)) == [("sill", "seedlings", 16)]


def test_what_is_over_takes_no_room_any_more() -> None:
    book, plan = Notebook(), season(TOMATO)
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="mat")
    book.write(Finished, "3-25", sowing="t")
    found = sown_so_far(book, plan, TOMATO, date(2027, 4, 2))
    assert on(found, date(2027, 3, 24)) == [("mat", "seed", 24)]
    assert all(stand.until <= date(2027, 3, 25) for stand in found if stand.row == "t")


def test_seed_that_has_no_day_to_come_up_takes_its_room_today() -> None:
    cold = lot("p", "pepper", want="4", station='"sill"')
    book, plan = Notebook(), season(cold)
    book.write(Sown, "3-20", sowing="p", lot="p", seeds=8, station="sill")
    found = sown_so_far(book, plan, cold, date(2027, 4, 2))
    assert on(found, date(2027, 4, 2)) == [("sill", "seed", 8)]


def test_a_lot_without_a_station_is_counted_where_it_was_sown() -> None:
    nowhere = lot("t", "tomato", want="10")
    book, plan = Notebook(), season(nowhere)
    assert sown_so_far(book, plan, nowhere, date(2027, 3, 21)) == []
    book.write(Sown, "3-20", sowing="t", lot="t", seeds=24, station="mat")
    found = sown_so_far(book, plan, nowhere, date(2027, 3, 21))
    assert on(found, date(2027, 3, 21)) == [("mat", "seed", 24)]
