"""Sowings and places joined by time."""

from notebook import Notebook, moment
from seasons import HEAD, lot
from seedstart.season.journal.entries import (
    Covered,
    Finished,
    Hardened,
    Moved,
    Noted,
    PottedOn,
    PrickedOut,
    Sown,
    Split,
    Stratified,
    TakenOut,
    Uncovered,
    Watered,
)
from seedstart.tracking.place import Spot
from seedstart.tracking.records import Records

FRIDGE = HEAD + '[[station]]\nname = "cold box"\nkind = "fridge"\n'


def in_tray(tray: str | None = "blue", station: str | None = "mat") -> tuple[Notebook, str]:
    book = Notebook()
    one = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray=tray, station=station)
    return book, one.id


def spots(happened: Records, sowing: str) -> list[tuple[str | None, str | None, str]]:
    return [(one.tray, one.station, f"{one.since:%-m-%d}") for one in happened.spots(sowing)]


def test_a_sowing_stands_where_its_tray_is_carried() -> None:
    book, leek = in_tray()
    book.write(Moved, "3-12", tray="blue", station="shelf")
    happened = book.records()
    assert happened.station_of(leek, moment("3-11")) == "mat"
    assert happened.station_of(leek, moment("3-12")) == "shelf"
    assert happened.station_of(leek) == "shelf"
    assert happened.station_of(leek, moment("2-28")) is None
    assert spots(happened, leek) == [("blue", "mat", "3-01"), ("blue", "shelf", "3-12")]


def test_where_it_is_now_is_told_with_the_day_since_when() -> None:
    book = Notebook()
    leek = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="mat").id
    book.write(Moved, "3-12", sowing="leek", station="shelf")
    now = book.records().spot(leek)
    assert now == Spot(moment("3-12"), None, None, "shelf")


def test_what_was_carried_before_the_sowing_came_is_no_stay_of_it() -> None:
    book = Notebook()
    book.write(Moved, "2-01", tray="blue", station="sill")
    book.write(Moved, "2-20", tray="blue", station="mat")
    one = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, tray="blue")
    assert spots(book.records(), one.id) == [("blue", "mat", "3-01")]


def test_one_sowing_tells_where_the_tray_of_another_stands() -> None:
    book, _ = in_tray()
    other = book.write(Sown, "3-03", sowing="onion", lot="onion", seeds=24, tray="blue")
    happened = book.records()
    assert happened.station_of(other.id) == "mat"
    assert happened.places["tray", "blue"].station_at() == "mat"


def test_a_sowing_taken_out_of_its_tray_stays_behind() -> None:
    book, leek = in_tray()
    book.write(PottedOn, "4-01", sowing="leek", container="9 cm pot", station="sill")
    book.write(Moved, "4-10", tray="blue", station="shelf")
    happened = book.records()
    assert happened.spot(leek) is not None
    assert (happened.station_of(leek), spots(happened, leek)[-1][0]) == ("sill", None)
    assert happened.sowings_in(("tray", "blue")) == ()


def test_a_daughter_of_which_no_place_was_said_is_where_her_mother_was() -> None:
    book, _ = in_tray()
    split = book.write(Split, "3-20", sowing="leek", plants=5, into="leek.1")
    book.write(Moved, "3-25", tray="blue", station="shelf")
    book.write(Moved, "3-28", sowing="leek.1", station="sill")
    assert spots(book.records(), split.id) == [
        ("blue", "mat", "3-20"), ("blue", "shelf", "3-25"), (None, "sill", "3-28"),
    ]  # fmt: skip


def test_who_is_in_a_place_now_and_then() -> None:
    book, leek = in_tray()
    onion = book.write(Sown, "3-03", sowing="onion", lot="onion", seeds=9, station="mat").id
    book.write(Moved, "3-12", tray="blue", station="shelf")
    book.write(Finished, "3-20", sowing="onion")
    happened = book.records()
    assert happened.sowings_in(("station", "mat")) == ()
    assert happened.sowings_in(("station", "mat"), moment("3-05")) == (leek, onion)
    assert happened.sowings_in(("tray", "blue")) == (leek,)
    assert happened.sowings_in(("station", "shelf")) == (leek,)
    assert happened.trays_at("shelf") == ("blue",)
    assert happened.trays_at("mat", moment("3-05")) == ("blue",)


def test_watered_last_is_the_latest_of_its_own_its_trays_and_its_stations_since_it_came() -> None:
    book, leek = in_tray()
    assert book.records().last(leek, "watered") is None
    own = book.write(Watered, "3-04", sowing="leek")
    assert book.records().last(leek, "watered") == own
    tray = book.write(Watered, "3-05", tray="blue")
    assert book.records().last(leek, "watered") == tray
    station = book.write(Watered, "3-06", station="mat")
    assert book.records().last(leek, "watered") == station
    book.write(Watered, "3-10", station="shelf")  # before it came there
    book.write(Moved, "3-12", tray="blue", station="shelf")
    book.write(Watered, "3-14", station="mat")  # after it had left
    assert book.records().last(leek, "watered") == station
    there = book.write(Watered, "3-15", station="shelf")
    assert book.records().last(leek, "watered") == there
    before = book.write(Watered, "3-13", sowing="leek")  # entered later, happened before
    assert book.records().last(leek, "watered") == there
    assert book.records().standings[leek].watered == (own, before)


def test_the_latest_word_on_a_cover_holds() -> None:
    book, leek = in_tray()
    assert not book.records().is_covered(leek)
    book.write(Covered, "3-01 08:05", tray="blue")
    assert book.records().is_covered(leek)
    book.write(Uncovered, "3-12", station="mat")
    assert not book.records().is_covered(leek)
    book.write(Covered, "3-13", sowing="leek")
    assert book.records().is_covered(leek)


def test_a_cover_laid_on_before_it_came_covers_others() -> None:
    book = Notebook()
    book.write(Covered, "2-20", station="mat")
    one = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="mat")
    assert not book.records().is_covered(one.id)


def test_a_tray_is_covered_as_one_also_for_what_is_sown_into_it_later() -> None:
    book = Notebook()
    book.write(Sown, "2-18", sowing="kale", lot="kale", seeds=8, station="mat", tray="blue")
    book.write(Covered, "2-20", tray="blue")
    one = book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="mat", tray="blue")
    assert book.records().is_covered(one.id)
    book.write(Moved, "3-02", sowing="leek", tray="red", station="mat")
    assert not book.records().is_covered(one.id)


def test_hours_outdoors_by_day_the_latest_word_on_a_day_holds() -> None:
    book, leek = in_tray()
    book.write(Hardened, "5-04 18:00", tray="blue", hours=3)
    book.write(Hardened, "5-05 12:00", tray="blue", hours=2)
    book.write(Hardened, "5-05 19:00", sowing="leek", hours=5)
    found = book.records().hours_out(leek)
    assert {f"{day:%-m-%d}": entry.hours for day, entry in found.items()} == {"5-04": 3, "5-05": 5}


def test_notes_of_tray_and_station_are_of_what_stood_there() -> None:
    book, leek = in_tray()
    early = book.write(Noted, "2-01", station="mat", text="gnats")
    mould = book.write(Noted, "3-04", tray="blue", text="mould")
    assert book.records().last(leek, "noted") == mould
    assert book.records().places["station", "mat"].noted == (early,)


def test_days_count_from_sowing_or_from_taking_out_of_the_cold() -> None:
    book = Notebook()
    cold = book.write(Stratified, "2-01", lot="sage", days=21)
    sage = book.write(
        Sown, "2-20", sowing="sage", lot="sage", seeds=9, station="mat", after=(cold.id,)
    )
    assert book.records().day_zero(sage.id) == moment("2-20")
    out = book.write(TakenOut, "2-22", entry=cold.id)
    assert book.records().day_zero(sage.id) == out.at
    happened = book.records()
    assert (happened.treatments[cold.id].until, happened.treatments[cold.id].hours) == (out.at, 504)


def test_in_a_fridge_no_day_counts() -> None:
    book = Notebook()
    sage = book.write(Sown, "2-20", sowing="sage", lot="s", seeds=9, tray="t", station="cold box")
    assert book.records(head=FRIDGE).day_zero(sage.id) is None
    book.write(Moved, "3-20", tray="t", station="mat")
    assert book.records(head=FRIDGE).day_zero(sage.id) == moment("3-20")
    book.write(Moved, "4-20", tray="t", station="cold box")  # kept back: it had begun
    assert book.records(head=FRIDGE).day_zero(sage.id) == moment("3-20")


def test_a_daughter_is_of_her_mothers_lot_and_trial() -> None:
    book = Notebook()
    book.write(
        Sown, "3-01", sowing="leek", lot="poree", seeds=24, purpose="trial", trial="light",
        replicate=2,
    )  # fmt: skip
    one = book.write(PrickedOut, "3-20", sowing="leek", plants=5, into="leek.1", tray="red")
    two = book.write(Split, "4-20", sowing="leek.1", plants=2, into="leek.1.1", station="sill")
    happened = book.records(lot("leek", "leek", was='["poree"]'))
    for sowing in (one.id, two.id):
        found = happened.standings[sowing]
        assert (found.lot, found.trial, found.replicate) == ("leek", "light", 2)
    assert happened.standings[two.id].made_from == one.id
    assert [found.id for found in happened.daughters(one.id)] == [two.id]


def test_a_tray_that_only_a_sowing_names_is_a_place() -> None:
    book, _ = in_tray()
    assert ("tray", "blue") in book.records().places
