"""Plants that got another label, or were mixed up, go on: pricked out, hardened off, set out."""

from datetime import date, timedelta

from notebook import moment
from seasons import lot
from seedstart.season.journal.entries import Counted, MixedUp, PrickedOut, Relabelled, Sown, Struck
from walk import MakeWalk, Walk

LOTS = (
    lot("cabbage", "cabbage", station='"shelf"')
    + lot("red", "cabbage", station='"shelf"')
    + lot("tomato", "tomato", station='"shelf"')
)


def raised(walk: MakeWalk, *names: str) -> Walk:
    """Sown, up and counted; each in a tray of its own."""
    found = walk(LOTS)
    for name in names:
        found.write(Sown, "3-20", sowing=name, lot=name, seeds=24, tray=name, station="shelf")
        found.write(Counted, "3-30", sowing=name, standing=20, final=True)
    return found


def pricked_out(walk: MakeWalk, *names: str) -> Walk:
    """The same, and all pricked out into one tray each."""
    found = raised(walk, *names)
    for name in names:
        tray = f"{name} 2"
        found.write(PrickedOut, "4-06", sowing=name, plants=20, into=f"{name}.1", tray=tray)
    return found


def first_day(found: Walk, what: str, name: str) -> date | None:
    """The first day on which a kind of check names a sowing, if everything is put out each day."""
    for number in range(100):
        at = moment("3-30 18:00") + timedelta(days=number)
        for check in found.checks(at):
            if check.what == what and name in {one.name for one in check.sowings}:
                return at.date()
            if check.what == "harden":
                found.tick(check, at)
    return None


def out(found: Walk, name: str) -> date:
    """The day from which it is to be set out."""
    day = first_day(found, "set out", name)
    assert day is not None, f"{name} is never set out"
    return day


def test_plants_relabelled_as_another_lot_are_hardened_off_and_set_out(walk: MakeWalk) -> None:
    found = pricked_out(walk, "cabbage")
    found.write(Relabelled, "4-08", sowing="cabbage.1", lot="red")
    assert first_day(found, "harden", "cabbage.1")
    out(found, "cabbage.1")


def test_relabelled_plants_go_by_the_crop_that_they_are_of(walk: MakeWalk) -> None:
    """Cabbage stands frost and goes out weeks before tomatoes do."""
    found = pricked_out(walk, "cabbage", "red")
    found.write(Relabelled, "4-08", sowing="red.1", lot="tomato")
    assert out(found, "red.1") > out(found, "cabbage.1") + timedelta(days=7)


def test_the_calendar_has_a_row_for_plants_that_turned_out_to_be_of_a_lot(walk: MakeWalk) -> None:
    found = pricked_out(walk, "cabbage")
    found.write(Relabelled, "4-08", sowing="cabbage.1", lot="tomato")
    found.round("4-09")
    rows = found.opened.calendar()
    (row,) = [row for row in rows if row.sowing == "cabbage.1"]
    assert (row.lot, row.crop, row.sow_day) == ("tomato", "tomato", date(2027, 3, 20))
    pricked = row.window("prick_out")
    assert pricked is not None
    assert pricked.best == date(2027, 4, 6)
    assert [row.number for row in rows if row.lot == "tomato" and row.sowing is None] == [1]


def test_seedlings_relabelled_before_pricking_out_are_pricked_out(walk: MakeWalk) -> None:
    found = raised(walk, "cabbage")
    found.write(Relabelled, "3-31", sowing="cabbage", lot="red", name="red")
    assert first_day(found, "prick out", "red")


def test_plants_of_two_lots_that_were_mixed_up_are_hardened_off_and_set_out(
    walk: MakeWalk,
) -> None:
    found = pricked_out(walk, "cabbage", "red")
    found.write(MixedUp, "4-08", sowings=("cabbage.1", "red.1"), into="heap")
    assert first_day(found, "harden", "heap")
    out(found, "heap")


def test_plants_mixed_up_into_one_of_them_go_on_in_it(walk: MakeWalk) -> None:
    found = pricked_out(walk, "cabbage", "red")
    found.write(MixedUp, "4-08", sowings=("cabbage.1", "red.1"), into="red.1")
    out(found, "red.1")


def test_mixed_up_plants_go_by_the_lot_that_was_named_first(walk: MakeWalk) -> None:
    found = pricked_out(walk, "cabbage", "tomato", "red")
    found.write(MixedUp, "4-08", sowings=("cabbage.1", "tomato.1"), into="heap")
    assert out(found, "heap") == out(found, "red.1")


def test_mixed_up_plants_go_by_the_lot_that_a_relabelling_gives_them(walk: MakeWalk) -> None:
    found = pricked_out(walk, "cabbage", "tomato", "red")
    found.write(MixedUp, "4-08", sowings=("cabbage.1", "tomato.1"), into="heap")
    found.write(Relabelled, "4-09", sowing="heap", lot="tomato")
    assert out(found, "heap") > out(found, "red.1") + timedelta(days=7)


def test_a_daughter_whose_mother_was_struck_is_asked_for_no_more(walk: MakeWalk) -> None:
    found = walk(LOTS)
    sown = found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage", standing=20, final=True)
    found.write(PrickedOut, "4-06", sowing="cabbage", plants=20, into="cabbage.1", tray="blue")
    day = first_day(found, "harden", "cabbage.1")
    assert day is not None
    found.write(Struck, moment(f"{day:%m-%d} 18:00"), entry=sown.id)
    assert found.checks(moment(f"{day:%m-%d} 18:00"), "harden") == []


def test_what_came_up_of_a_sowing_that_was_sown_again_goes_on_too(walk: MakeWalk) -> None:
    found = raised(walk, "cabbage")
    more = {"lot": "cabbage", "seeds": 24, "station": "shelf"}
    found.write(Sown, "4-01", sowing="cabbage/2", instead_of="cabbage", **more)
    found.write(Sown, "4-01", sowing="cabbage/3", onto="cabbage/2", **more)
    found.write(Counted, "4-08", sowing="cabbage/3", standing=5)
    for name in ("cabbage", "cabbage/3"):
        assert first_day(found, "prick out", name)
    found.round("4-09")
    rows = {row.sowing: row.number for row in found.opened.calendar() if row.lot == "cabbage"}
    assert rows == {"cabbage/2": 1, "cabbage": 2, "cabbage/3": 3}


def test_what_was_relabelled_and_struck_says_nothing_of_seed_sown_later_by_its_name(
    walk: MakeWalk,
) -> None:
    found = walk(LOTS)
    first = found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Relabelled, "3-21", sowing="cabbage", lot="tomato")
    found.write(Struck, "3-22", entry=first.id)
    found.write(Sown, "3-25", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.round("3-25 18:00")
    (sown,) = found.opened.records().standings.values()
    assert sown.lot == "cabbage"
