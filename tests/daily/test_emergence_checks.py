"""Looking for seedlings, counting, lifting the cover, moving to the light."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.check import PRACTICE, Why
from seedstart.drawing.lines import as_text
from seedstart.drawing.round_lines import state
from seedstart.drawing.round_rows import check_row
from seedstart.season.journal.entries import (
    Counted,
    Covered,
    Finished,
    Moved,
    PrickedOut,
    Sown,
    Uncovered,
)
from tables import emergence_tables
from walk import MakeWalk, Walk

# Sown on the 2nd of March onto a mat of 25 °C, a temperature that the handbook's table has.
MAT_25 = HEAD.replace('expected = "24C"', 'expected = "25C"')
PEPPER = lot("pepper", "pepper", station='"mat"', then='"shelf"')
MIXED = PEPPER + lot("leek", "leek", station='"mat"') + lot("parsley", "parsley")


def pepper(walk: MakeWalk, **fields: object) -> Walk:
    found = walk(PEPPER, MAT_25)
    sown = {"sowing": "pepper", "lot": "pepper", "seeds": 24, "station": "mat"} | fields
    found.write(Sown, "3-02", **sown)
    return found


def mixed(walk: MakeWalk) -> Walk:
    """Three sowings in one tray under a cover."""
    found = walk(MIXED, MAT_25)
    for name in ("leek", "parsley", "pepper"):
        found.write(Sown, "3-02", sowing=name, lot=name, seeds=24, station="mat", tray="tray 5")
    found.write(Covered, "3-02 09:00", tray="tray 5")
    return found


def counted(found: Walk, at: str, standing: int, sowing: str = "pepper", **more: object) -> Counted:
    return found.write(Counted, at, sowing=sowing, standing=standing, **more)


def whys(found: Walk, at: str, what: str) -> str:
    return "; ".join(why.text for why in found.check(at, what).why)


def test_seedlings_are_looked_for_from_the_day_that_the_handbook_has_them_up(
    walk: MakeWalk,
) -> None:
    temperatures, days = emergence_tables()["Pepper"]
    table_days = float(days[temperatures.index(25.0)])  # Harrington & Minges 1954: 8.4
    first = moment("3-02") + timedelta(days=table_days)
    found = pepper(walk)
    assert found.checks(first - timedelta(days=1), "look") == []
    look = found.check(first, "look")
    assert look.due == first.date()
    assert look.says == "look for seedlings of pepper"


def test_what_was_measured_too_cold_to_come_up_is_looked_for_on_the_calendars_day(
    walk: MakeWalk,
) -> None:
    # Harrington & Minges 1954, emergence_days.csv: no pepper comes up at 5 °C.
    found = pepper(walk)
    hours = (moment("3-02 08:00") + timedelta(hours=hour) for hour in range(24 * 24))
    found.log("mat", "soil_c", ((at, 5.0) for at in hours))
    assert found.alerts("3-25 12:00", "too cold")
    (row,) = found.opened.calendar()
    planned = row.step("emerge")
    assert planned is not None
    assert planned.missed is not None
    assert found.check("3-25 12:00", "look").due == planned.missed.earliest


def test_a_look_with_nothing_up_writes_a_count_of_nought(walk: MakeWalk) -> None:
    found = pepper(walk)
    (count,) = found.tick(found.check("3-11", "look"), "3-11 09:00")
    assert isinstance(count, Counted)
    assert (count.sowing, count.standing) == ("pepper", 0)
    assert found.checks("3-11 10:00", "look") == []
    assert [one.says for one in found.done("3-11 10:00", "look")] == ["counted: pepper 0"]


def test_while_it_is_awaited_it_is_looked_for_every_day(walk: MakeWalk) -> None:
    found = pepper(walk)
    for day in (10, 11, 12, 13):
        look = found.check(f"3-{day}", "look")
        assert look.due == date(2027, 3, day)
        found.tick(look, f"3-{day} 09:00")


def test_a_look_that_was_missed_on_the_last_day_is_still_to_be_done(walk: MakeWalk) -> None:
    found = pepper(walk)
    found.round("3-02 10:00")
    (row,) = [row for row in found.opened.calendar() if row.sowing]
    window = row.window("emerge")
    assert window is not None
    day = window.earliest
    while day < window.latest:
        found.tick(found.check(f"{day:%m-%d}", "look"), f"{day:%m-%d} 09:00")
        day += timedelta(days=1)
    keys = {found.check(f"{day + timedelta(days=n):%m-%d}", "look").key for n in range(9)}
    assert len(keys) == 1


def test_a_count_in_full_of_all_seeds_ends_the_counting(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 23)
    assert found.checks("3-13", "count") != []
    counted(found, "3-13", 24)
    assert found.checks("3-30", "count") == []


def test_clusters_give_more_seedlings_than_seeds_and_are_counted_on(walk: MakeWalk) -> None:
    found = walk(lot("beet", "chard"))
    found.write(Sown, "3-02", sowing="beet", lot="beet", seeds=24, station="mat")
    counted(found, "3-12", 30, "beet")
    assert found.checks("3-13", "count") != []


def test_a_final_count_ends_the_counting(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 9)
    found.tick(found.check("3-13", "count"), "3-13", "9 final")
    assert found.checks("3-30", "count") == []


@pytest.mark.parametrize(("alike", "again"), [(1, 1), (2, 2), (3, 2), (4, 2)])
def test_what_is_expected_is_counted_every_other_day_at_least(
    walk: MakeWalk, alike: int, again: int
) -> None:
    # docs/round.md: 1 day, after two counts alike 2 days (common practice).
    found = pepper(walk)
    for day in range(alike):
        counted(found, f"3-{day + 12}", 9)
    last = moment(f"3-{alike + 11}")
    assert found.checks(last + timedelta(days=again - 1), "count") == []
    check = found.check(last + timedelta(days=again), "count")
    assert check.due == (last + timedelta(days=again)).date()


@pytest.mark.parametrize(("alike", "again"), [(1, 1), (2, 2), (3, 3), (4, 7), (6, 7)])
def test_where_nobody_knows_when_it_comes_counts_thin_out_while_nothing_changes(
    walk: MakeWalk, alike: int, again: int
) -> None:
    # docs/round.md: 1 day, after two counts alike 2 days, then 3, then 7 (common practice).
    found = walk("", MAT_25)
    found.write(Sown, "3-02", sowing="found", lot="gone", seeds=24, station="mat")
    for day in range(alike):
        counted(found, f"4-{day + 1:02}", 9, "found")
    last = moment(f"4-{alike:02}")
    assert found.checks(last + timedelta(days=again - 1), "count") == []
    check = found.check(last + timedelta(days=again), "count")
    assert check.due == (last + timedelta(days=again)).date()


def test_one_more_up_and_it_is_counted_the_next_day_again(walk: MakeWalk) -> None:
    found = pepper(walk)
    for day in (1, 2, 3, 4):
        counted(found, f"4-{day:02}", 9)
    counted(found, "4-11", 10)
    assert found.check("4-12", "count").due == date(2027, 4, 12)


def test_two_counts_of_one_day_are_one_word_on_that_day(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "4-01 08:00", 9)
    counted(found, "4-01 18:00", 9)
    assert found.check("4-02", "count").due == date(2027, 4, 2)


def test_after_days_away_there_is_one_look_and_its_due_day_stays(walk: MakeWalk) -> None:
    found = pepper(walk)
    first, later = found.check("3-12", "look"), found.check("3-25", "look")
    assert (first.key, first.due) == (later.key, later.due)
    assert [
        entry for entry in found.opened.journal.by_id.values() if isinstance(entry, Counted)
    ] == []


def test_a_count_that_is_late_keeps_its_key_when_another_of_its_tray_goes(walk: MakeWalk) -> None:
    found = mixed(walk)
    for day in (14, 15):
        counted(found, f"3-{day}", 3)
    counted(found, "3-15", 5, "leek")
    found.write(Finished, "3-20", sowing="pepper")
    today, tomorrow = found.check("3-20 20:00", "count"), found.check("3-21", "count")
    assert today.key == tomorrow.key


def test_a_tray_is_counted_in_one_go(walk: MakeWalk) -> None:
    found = mixed(walk)
    counted(found, "3-16", 3)
    counted(found, "3-16", 5, "leek")
    counted(found, "3-16", 0, "parsley")
    check = found.check("3-17", "count")
    assert [(one.name, one.last) for one in check.sowings] == [
        ("leek", 5), ("parsley", 0), ("pepper", 3),
    ]  # fmt: skip
    entries = found.tick(check, "3-17 09:00", "6, 0, 4")
    assert [(one.sowing, one.standing) for one in entries if isinstance(one, Counted)] == [
        ("leek", 6), ("parsley", 0), ("pepper", 4),
    ]  # fmt: skip
    assert found.done("3-17 10:00", "count")[0].key == check.key


def test_what_was_pricked_out_whole_is_no_longer_counted(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 9)
    found.write(PrickedOut, "3-25", sowing="pepper", plants=9, into="pepper.1", station="shelf")
    assert found.checks("4-05", "count") == []


def test_plants_from_elsewhere_are_not_counted_for_emergence(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 24)
    found.write(PrickedOut, "3-25", sowing="pepper", plants=9, into="pepper.1", station="shelf")
    assert found.checks("4-05", "count") == []


def test_seed_in_a_fridge_is_not_looked_for(walk: MakeWalk) -> None:
    head = f'{MAT_25}[[station]]\nname = "fridge"\nkind = "fridge"\nexpected = "4C"\n'
    found = walk(PEPPER, head)
    found.write(Sown, "3-02", sowing="pepper", lot="pepper", seeds=9, station="fridge")
    assert found.checks("4-20", "look") == []
    assert found.checks("4-20", "water") == []
    found.write(Moved, "4-20 09:00", sowing="pepper", station="mat")
    assert found.check("5-01", "look").due > date(2027, 4, 20)


def test_the_cover_stays_until_half_of_the_tray_is_up(walk: MakeWalk) -> None:
    found = mixed(walk)
    counted(found, "3-12", 3)
    assert found.checks("3-12 10:00", "uncover") == []
    counted(found, "3-14", 5, "leek")
    check = found.check("3-14 10:00", "uncover")
    assert check.due == date(2027, 3, 14)
    assert check.says == "lift the cover; keep parsley damp"
    assert "2 of 3 are up" in check.why[0].text
    (entry,) = found.tick(check, "3-14 11:00")
    assert isinstance(entry, Uncovered)
    assert entry.tray == "tray 5"
    assert found.checks("3-14 12:00", "uncover") == []
    assert [one.says for one in found.done("3-14 12:00", "uncover")] == ["cover lifted"]


def test_a_cover_put_on_again_is_late_from_that_day_on(walk: MakeWalk) -> None:
    found = mixed(walk)
    for name in ("leek", "pepper"):
        counted(found, "3-14", 5, name)
    found.write(Uncovered, "3-14 10:00", tray="tray 5")
    found.write(Covered, "3-20", tray="tray 5")
    assert found.check("3-21", "uncover").due == date(2027, 3, 20)


def test_without_a_cover_none_is_lifted(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 3)
    assert found.checks("3-13", "uncover") == []


def test_half_of_what_is_expected_brings_the_move_that_the_plan_names(walk: MakeWalk) -> None:
    found = pepper(walk)
    assert found.checks("3-12 07:00", "move to light") == []
    counted(found, "3-12", 13)
    check = found.check("3-12 10:00", "move to light")
    assert check.says == "move pepper to the shelf, lamp on"
    (moved,) = found.tick(check, "3-12 11:00")
    assert isinstance(moved, Moved)
    assert (moved.sowing, moved.station) == ("pepper", "shelf")
    assert found.checks("3-12 12:00", "move to light") == []
    assert found.checks("3-12 12:00", "lamp on") == []
    assert [one.says for one in found.done("3-12 12:00", "move to light")] == [
        "pepper: moved to the shelf"
    ]


def test_a_tick_of_the_same_moment_as_the_count_has_moved_it(walk: MakeWalk) -> None:
    """All that is recorded for another day is of one moment: its noon."""
    found = pepper(walk)
    counted(found, "3-12 12:00", 13)
    found.tick(found.check("3-12 13:00", "move to light"), "3-12 12:00")
    kinds = {one.what for one in found.checks("3-12 13:00")}
    assert not kinds & {"move to light", "lamp on"}


def test_a_tray_goes_to_the_light_with_what_comes_up_there_as_soon(walk: MakeWalk) -> None:
    # At 25 °C leek and parsley are a day or two quicker than at 20 (Harrington & Minges 1954).
    found = mixed(walk)
    counted(found, "3-12", 13)
    check = found.check("3-12 10:00", "move to light")
    assert check.says == "move to the shelf, lamp on"
    assert "leek, parsley not up yet: they come up there" in whys(
        found, "3-12 10:00", "move to light"
    )
    (moved,) = found.tick(check, "3-12 11:00")
    assert isinstance(moved, Moved)
    assert (moved.tray, moved.sowing) == ("tray 5", None)


def test_a_tray_goes_where_any_of_its_sowings_is_planned_to_go(walk: MakeWalk) -> None:
    found = mixed(walk)
    for name in ("leek", "pepper"):  # of leek the plan does not say where it goes
        counted(found, "3-12", 13, name)
    assert found.check("3-12 10:00", "move to light").says == "move to the shelf, lamp on"


def test_under_lamps_with_nowhere_to_go_the_lamp_goes_on(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek"))
    found.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24, station="shelf")
    counted(found, "3-16", 3, "leek")
    check = found.check("3-16 10:00", "lamp on")
    assert check.says == "lamp on over leek, 16 h a day"
    found.tick(check, "3-16 11:00")
    assert found.checks("3-16 12:00", "lamp on") == []
    assert len(found.done("3-16 12:00", "lamp on")) == 1
    assert found.done("3-17", "lamp on") + found.checks("3-17", "lamp on") == []


def test_a_germination_test_stays_where_it_is(walk: MakeWalk) -> None:
    found = pepper(walk, purpose="test", on="paper")
    counted(found, "3-12", 3)
    kinds = {one.what for one in found.checks("3-13")}
    assert "count" in kinds
    assert not kinds & {"move to light", "lamp on"}


def test_no_lamp_is_lit_for_a_germination_test(walk: MakeWalk) -> None:
    found = pepper(walk, purpose="test", station="shelf")
    counted(found, "3-16", 3)
    assert found.checks("3-17", "lamp on") == []


def test_a_tray_goes_to_the_light_for_its_plants_and_not_for_a_test_in_it(walk: MakeWalk) -> None:
    found = pepper(walk, tray="tray 5")
    test = {"sowing": "trial", "lot": "pepper", "seeds": 20, "tray": "tray 5", "purpose": "test"}
    found.write(Sown, "3-02 09:00", **test)
    counted(found, "3-12", 3, "trial")
    assert found.checks("3-13", "move to light") == []
    counted(found, "3-14", 14)
    assert found.check("3-15", "move to light").due == date(2027, 3, 14)


def test_on_a_dark_place_the_station_is_asked_for(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek"))
    found.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24, station="mat")
    counted(found, "3-16", 20, "leek")
    check = found.check("3-16 10:00", "move to light")
    assert check.tick is None
    assert Why("without light seedlings stretch within days", PRACTICE) in check.why
    assert "mat, shelf, sill" in found.refused(check, "")
    (moved,) = found.tick(check, "3-16 11:00", "Shelf")
    assert isinstance(moved, Moved)
    assert moved.station == "shelf"


def test_on_a_sill_seedlings_stand_in_the_light_already(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek"))
    found.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24, station="sill")
    counted(found, "3-25", 3, "leek")
    assert not {one.what for one in found.checks("3-25 10:00")} & {"move to light", "lamp on"}


def test_a_tray_that_came_today_and_is_up_today_has_one_line_of_a_key(walk: MakeWalk) -> None:
    head = f'{HEAD}[[station]]\nname = "bench"\nkind = "bench"\n'
    found = walk(lot("leek", "leek"), head)
    found.write(Sown, "3-02", sowing="leek", lot="leek", seeds=24, station="mat")
    found.write(Moved, "3-16 08:00", sowing="leek", station="bench")
    counted(found, "3-16 09:00", 3, "leek")
    keys = [one.key for one in found.round("3-16 10:00").checks]
    assert len(keys) == len(set(keys))


def test_a_line_that_looks_or_counts_says_what_is_to_be_done(walk: MakeWalk) -> None:
    found = walk(lot("pepper", "pepper", want="20", station='"mat"'), MAT_25)
    found.write(Sown, "3-02", sowing="pepper", lot="pepper", seeds=40, station="mat")
    counted(found, "3-11", 0)
    for at, what in (("3-12", "look"), ("3-14", "count")):
        check = found.check(at, what)
        (one,) = found.opened.records().of_lot("pepper")
        advice = found.opened.prospects()[one.id].advice
        assert advice is not None
        assert any(why.text == advice.in_words for why in check.why)
        counted(found, "3-13", 3)


def test_a_count_is_never_late_but_was_made_last_on_a_day(walk: MakeWalk) -> None:
    found = pepper(walk)
    counted(found, "3-12", 3)
    check = found.check("3-18", "count")
    assert check.due < date(2027, 3, 18)
    assert state(check, date(2027, 3, 18)) == "  (last Fri 12)"
    assert state(check, date(2027, 4, 2)) == "  (last Fri 12 Mar)"
    assert check.days_past(date(2027, 3, 18)) == 0
    line = as_text(check_row(check, "tray 1", date(2027, 3, 18), 80))
    assert line.endswith("last 3, Fri 12")
    assert found.check("3-18", "lamp on").days_past(date(2027, 3, 18)) == 6
