"""Cold that was asked for: it moves sowing, it has an end, and that is a line of the round."""

from datetime import date, timedelta

from notebook import moment
from seasons import HEAD, lot
from seedstart.planning.calendar.row import Row
from seedstart.season.journal.entries import Moved, Sown, Stratified, TakenOut
from shipped import crop
from walk import MakeWalk, Walk

FRIDGE = f'{HEAD}[[station]]\nname = "fridge"\nkind = "fridge"\nexpected = "4C"\n'
# Four weeks of the grower's own; crops/lavender.toml prints 60 to 180 days, best 120.
OWN = lot("lavender", "lavender", station='"shelf"', stratify='"28 days"', want="12")
IN_THE_FRIDGE = lot("lavender", "lavender", station='"fridge"', then='"shelf"', want="12")


def row_of(found: Walk, at: str) -> Row:
    found.round(at)
    (row,) = found.opened.calendar()
    return row


def best(row: Row, step: str) -> date:
    window = row.window(step)  # type: ignore[arg-type]
    assert window is not None, (step, row.problem)
    return window.best


def day(text: str) -> date:
    return moment(text).date()


# Seed laid cold before it is sown.


def test_cold_that_has_not_begun_moves_sowing_every_day_that_it_is_put_off(walk: MakeWalk) -> None:
    found = walk(OWN.replace("28 days", "7 days"))
    planned = best(row_of(found, "1-02"), "sow")
    for late in (planned - timedelta(days=5), planned, planned + timedelta(days=2)):
        at = f"{late:%m-%d} 08:00"
        assert best(row_of(found, at), "sow") == late + timedelta(days=7)
        assert found.checks(at, "sow") == [], "it has had no cold"
        (check,) = found.checks(at, "treat")
        assert check.says == "stratify 7 days: lavender"


def test_seed_that_lies_in_the_cold_is_sown_when_it_comes_out(walk: MakeWalk) -> None:
    found = walk(OWN)
    planned = best(row_of(found, "1-02"), "sow")
    begun = planned - timedelta(days=20)
    found.write(Stratified, f"{begun:%m-%d} 10:00", lot="lavender", days=28.0)
    out = begun + timedelta(days=28)
    assert best(row_of(found, f"{planned:%m-%d} 09:00"), "sow") == out
    for ahead in range(20, 28):
        at = f"{begun + timedelta(days=ahead):%m-%d} 11:00"
        assert found.checks(at, "sow") + found.checks(at, "take out") == []
    (sow,) = found.checks(f"{out:%m-%d} 11:00", "sow")
    assert sow.days_past(out) == 0
    assert len(found.checks(f"{out:%m-%d} 11:00", "take out")) == 1
    assert any(
        "lies in the cold till" in why.text for why in row_of(found, f"{planned:%m-%d}").reasons
    )


def test_cold_without_a_length_ends_by_the_lots_own_or_the_crops(walk: MakeWalk) -> None:
    found = walk(OWN)
    found.write(Stratified, "1-10 10:00", lot="lavender")
    assert found.checks("2-06 11:00", "take out") == []
    (check,) = found.checks("2-07 11:00", "take out")
    assert (check.due, check.why[0].basis) == (day("2-07"), "your plan")


def test_cold_for_which_no_time_is_left_is_dropped_with_a_word(walk: MakeWalk) -> None:
    found = walk(OWN)
    row = row_of(found, "4-20")
    assert row.step("treat") is None
    assert "No time is left for 28 days in the cold: sow it without." in row.warnings
    assert found.checks("4-20", "treat") == []
    assert len(found.checks("4-20", "sow")) == 1


def test_cold_that_a_crop_needs_is_never_dropped(walk: MakeWalk) -> None:
    # crops/larkspur.toml: it needs cold, 14 days at 2 to 4 °C.
    need = next(one for one in crop("larkspur").treat if one.what == "stratify")
    assert need.need == "needed"
    found = walk(lot("larkspur", "larkspur", station='"sill"'))
    row = row_of(found, "5-20")
    assert row.step("treat") is not None
    assert any("after its cold it is set out about" in text for text in row.warnings)


def test_a_soak_is_never_overdue_and_lasts_a_night_whenever_it_is_sown(walk: MakeWalk) -> None:
    found = walk(lot("sweet-pea", "sweet pea", station='"sill"', sow="[2027-03-20]"))
    (check,) = found.checks("3-24", "treat")
    assert check.days_past(day("3-24")) == 0


# A tray in the fridge.


def test_a_fridge_is_no_bench_its_days_are_added_to_those_at_the_next_place(walk: MakeWalk) -> None:
    found = walk(IN_THE_FRIDGE + lot("twin", "lavender", station='"shelf"'), FRIDGE)
    found.round("1-02")
    cold, warm = (
        next(r for r in found.opened.calendar() if r.lot == n) for n in ("lavender", "twin")
    )
    days = next(one.days for one in crop("lavender").treat if one.what == "stratify")
    assert days is not None
    up = best(cold, "emerge") - best(cold, "sow")
    assert up == best(warm, "emerge") - best(warm, "sow") + timedelta(days=round(days.best))
    step = cold.step("sow")
    assert step is not None
    assert step.says == "sow into the fridge for 120 days"


def test_what_is_planned_in_a_fridge_is_sown_into_it_and_carried_to_its_next_place(
    walk: MakeWalk,
) -> None:
    found = walk(IN_THE_FRIDGE.replace("want", 'stratify = "28 days"\nwant'), FRIDGE)
    sow = best(row_of(found, "1-02"), "sow")
    (check,) = found.checks(f"{sow:%m-%d} 08:00", "sow")
    (entry,) = found.tick(check, f"{sow:%m-%d} 09:00")
    assert isinstance(entry, Sown)
    assert entry.station == "fridge"
    out = sow + timedelta(days=28)
    (take,) = found.checks(f"{out:%m-%d} 08:00", "take out")
    assert take.says == "take lavender out of the fridge to the shelf"
    assert best(row_of(found, f"{out:%m-%d} 08:00"), "emerge") > out + timedelta(days=13)


def test_a_fridge_for_which_nobody_says_how_long_gets_no_date(walk: MakeWalk) -> None:
    found = walk(lot("lettuce", "lettuce", station='"fridge"'), FRIDGE)
    row = row_of(found, "1-02")
    assert row.steps == ()
    assert "say so under stratify" in (row.problem or "")


def in_the_fridge(walk: MakeWalk, lots: str = OWN) -> Walk:
    found = walk(lots, FRIDGE)
    found.write(
        Sown, "2-02 09:00", sowing="lavender", lot="lavender", seeds=30, station="fridge",
        tray="tray L",
    )  # fmt: skip
    return found


def test_a_tray_in_the_fridge_is_to_be_taken_out_on_its_day_to_where_it_comes_up(
    walk: MakeWalk,
) -> None:
    found = in_the_fridge(walk)
    assert found.checks("3-01", "take out") == []
    (check,) = found.checks("3-02", "take out")
    assert check.says == "take it out of the fridge to the shelf"
    assert (check.due, check.tray) == (day("3-02"), "tray L")
    assert "for 28 days" in check.why[0].text
    (later,) = found.checks("3-12", "take out")
    assert (later.key, later.days_past(day("3-12"))) == (check.key, 10)
    (entry,) = found.tick(later, "3-12 09:00")
    assert isinstance(entry, Moved)
    assert (entry.tray, entry.station) == ("tray L", "shelf")
    assert found.checks("3-12 10:00", "take out") == []


def test_calendar_and_prospect_of_a_tray_in_the_fridge_count_from_its_day_out(
    walk: MakeWalk,
) -> None:
    found = in_the_fridge(walk)
    row = row_of(found, "2-20")
    shelf_days = best(row, "emerge") - day("3-02")
    assert timedelta(days=14) <= shelf_days <= timedelta(days=28)  # days_in_trays, from memory
    (prospect,) = found.opened.prospects().values()
    assert prospect.unknown == "Its seed is in the cold till 2 Mar: its days have not begun."
    # Two weeks past its day it still has none of them behind it.
    later = row_of(found, "3-16")
    assert best(later, "emerge") == day("3-16") + shelf_days
    assert not any("was expected up" in text for text in later.warnings)
    assert found.alerts("4-16") == []


def test_once_out_its_days_count_from_then(walk: MakeWalk) -> None:
    found = in_the_fridge(walk)
    found.write(Moved, "3-02 09:00", tray="tray L", station="shelf")
    shelf_days = best(row_of(found, "3-05"), "emerge") - day("3-02")
    assert timedelta(days=14) <= shelf_days <= timedelta(days=28)
    assert found.checks("3-05", "take out") == []


def test_where_nobody_says_how_long_the_line_asks(walk: MakeWalk) -> None:
    found = walk(lot("leek", "leek", station='"shelf"'), FRIDGE)
    found.write(Sown, "2-02 09:00", sowing="leek", lot="leek", seeds=30, station="fridge")
    (check,) = found.checks("2-03", "take out")
    assert check.says.startswith("how long does leek lie cold? take leek out of the fridge")
    found.tick(check, "2-03 09:00", "put off: 2027-03-01")
    assert found.checks("2-20", "take out") == []
    assert len(found.checks("3-01", "take out")) == 1


def test_of_a_tray_only_what_is_due_is_taken_out(walk: MakeWalk) -> None:
    longer = lot("larkspur", "larkspur", station='"sill"', stratify='"42 days"')
    found = in_the_fridge(walk, OWN + longer)
    found.write(
        Sown, "2-02 09:05", sowing="larkspur", lot="larkspur", seeds=9, station="fridge",
        tray="tray L",
    )  # fmt: skip
    (check,) = found.checks("3-02", "take out")
    assert check.says == "take lavender out of the fridge to the shelf"
    (entry,) = found.tick(check, "3-02 09:00")
    assert isinstance(entry, Moved)
    assert entry.sowing == "lavender"


def test_seed_taken_out_of_the_cold_by_hand_is_late_from_then(walk: MakeWalk) -> None:
    found = walk(OWN)
    planned = best(row_of(found, "1-02"), "sow")
    begun = planned - timedelta(days=20)
    cold = found.write(Stratified, f"{begun:%m-%d} 10:00", lot="lavender", days=28.0)
    out = begun + timedelta(days=25)
    found.write(TakenOut, f"{out:%m-%d} 10:00", entry=cold.id)
    after = out + timedelta(days=3)
    (sow,) = found.checks(f"{after:%m-%d} 11:00", "sow")
    assert sow.days_past(after) == 3
