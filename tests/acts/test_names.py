"""Names that were typed for a sowing, a tray, a station, a lot: which is meant, and when."""

import pytest

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.acts.act import Texts
from seedstart.acts.known import Known
from seedstart.acts.read import NAMED, Filled, read
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    Counted,
    Finished,
    Lost,
    MixedUp,
    Moved,
    Relabelled,
    Sown,
)

LOTS = (
    lot("leek", "leek")
    + lot("pea", "pea")
    + lot("sage", "sage", was='["salvia"]')
    + lot("mat", "pepper")
)


def book() -> Notebook:
    notes = Notebook()
    notes.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="Tray 5")
    notes.write(Moved, "3-01", tray="Tray 5", station="shelf")
    notes.write(Sown, "3-02", sowing="mat", lot="pea", seeds=9, station="mat")
    return notes


def done(act: str, notes: Notebook, now: str = "4-01", **texts: str) -> Filled:
    known = Known(season(LOTS), notes.records(LOTS), moment(now), by="bench")
    return read(NAMED[act], known, texts)


def named(act: str, what: str) -> Filled:
    return done(act, book(), what=what)


def subject(filled: Filled) -> dict[str, str]:
    (entry,) = filled.entries
    keys = ("sowing", "tray", "station", "lot")
    return {key: getattr(entry, key) for key in keys if getattr(entry, key, None)}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("LEEK", {"sowing": "leek"}),
        (" tray  5", {"tray": "Tray 5"}),
        ("Shelf", {"station": "shelf"}),
        ("station:mat", {"station": "mat"}),
        ("sowing: mat", {"sowing": "mat"}),
        ("tray: tray 9", {"tray": "tray 9"}),
    ],
)
def test_one_name_means_whatever_bears_it_case_aside(typed: str, meant: dict[str, str]) -> None:
    assert subject(named("water", typed)) == meant


def test_a_name_that_two_things_bear_is_refused_with_words_that_will_do() -> None:
    problem = named("water", "mat").problems["what"]
    assert problem.allowed == ("station:mat", "sowing:mat")
    for choice in problem.allowed:
        assert named("water", choice).entries


def test_a_name_means_what_an_act_can_be_done_to() -> None:
    moved = done("move", book(), what="mat", station="sill")
    assert subject(moved) == {"sowing": "mat", "station": "sill"}
    read_ = done("read", book(), what="mat", value="20C")
    assert subject(read_) == {"station": "mat"}
    shelf = done("move", book(), what="shelf", station="sill").problems["what"]
    assert shelf.hint == "That is a station; give a sowing or a tray."


def test_a_name_that_nothing_bears_lists_what_would_do() -> None:
    problem = named("water", "leak").problems["what"]
    assert problem.nearest == "leek"
    assert "Name a station, a tray or a sowing." in problem.hint
    assert "mat" in problem.allowed


def test_words_go_to_a_lot_only_where_nothing_that_grows_bears_its_name() -> None:
    on_lot = done("note", book(), text="old seed", what="Salvia")
    assert subject(on_lot) == {"lot": "sage"}
    assert subject(done("note", book(), text="x", what="leek")) == {"sowing": "leek"}
    assert subject(done("note", book(), text="x", what="lot:leek")) == {"lot": "leek"}
    assert subject(done("note", book(), text="x")) == {}


# A past time


@pytest.fixture
def story() -> Notebook:
    """Leek counted twice, some lost between; renamed, and finished in the end."""
    notes = book()
    notes.write(Counted, "3-10", sowing="leek", standing=30)
    notes.write(Lost, "3-12", sowing="leek", plants=10, why="slugs")
    notes.write(Relabelled, "3-14", sowing="leek", name="leek-late")
    notes.write(Counted, "3-16", sowing="leek-late", standing=40)
    notes.write(Finished, "3-20", sowing="leek-late")
    return notes


@pytest.mark.parametrize(
    ("at", "plants", "asks"),
    [
        ("2027-03-11", "30", False),
        ("2027-03-11", "31", True),
        ("2027-03-13", "20", False),
        ("2027-03-13", "21", True),
        ("2027-03-17", "40", False),
        ("2027-03-17", "41", True),
    ],
)
def test_plants_that_leave_are_held_against_what_stood_then(
    story: Notebook, at: str, plants: str, asks: bool
) -> None:
    filled = done("lose", story, sowing="leek", plants=plants, at=at)
    assert (filled.questions == {"plants"}) is asks
    assert bool(filled.entries) is not asks


def test_a_line_of_a_past_time_bears_the_name_that_is_borne_now(story: Notebook) -> None:
    filled = done("lose", story, sowing="leek", plants="3", at="2027-03-11")
    assert subject(filled) == {"sowing": "leek-late"}


def test_what_was_over_then_or_not_there_yet_is_asked_about(story: Notebook) -> None:
    over = done("lose", story, sowing="leek", plants="3")
    assert "It has been over since Sat 20 Mar 2027" in over.problems["sowing"].hint
    before: Texts = {"what": "sowing:leek", "at": "2027-02-20"}
    early = done("water", story, **before)
    assert "It was not there before Mon 1 Mar 2027" in early.problems["what"].hint
    assert early.only_asks
    same_day = done("water", story, what="leek", at="2027-03-01 00:10")
    assert same_day.entries
    assert done("water", story, **before, sure="yes").entries
    counted = done("count", story, sowing="leek", standing="3", at="2027-02-20", sure="yes")
    assert "it cannot have been counted before" in counted.problems["at"].hint


def test_a_lots_name_means_the_sowing_that_was_alive_then(story: Notebook) -> None:
    story.write(Sown, "3-25", sowing="leek/2", lot="leek", seeds=9)
    now = done("count", story, sowing="leek/2", standing="3")
    assert subject(now) == {"sowing": "leek/2"}
    story.write(Relabelled, "3-26", sowing="leek-late", name="first")
    then = done("count", story, sowing="leek-late", standing="30", at="2027-03-17", gone="eaten")
    assert subject(then) == {"sowing": "first"}


def test_plants_that_were_mixed_up_are_counted_where_they_went_on() -> None:
    notes = book()
    notes.write(Counted, "3-10", sowing="leek", standing=30)
    notes.write(Counted, "3-10", sowing="mat", standing=5)
    notes.write(MixedUp, "3-12", sowings=("leek", "mat"), into="both")
    filled = done("lose", notes, sowing="both", plants="36", at="2027-03-13")
    assert filled.problems["plants"].hint == "35 stand there, not 36."
    assert done("lose", notes, sowing="both", plants="35", at="2027-03-13").entries


def test_a_new_trays_name_has_an_end_and_an_old_one_is_known_whatever_its_length() -> None:
    new = done("sow", Notebook(), lot="leek", seeds="60", tray="t" * 101)
    assert "A name has up to 100 characters; this one has 101." in str(new.problems["tray"])
    notes = Notebook()
    notes.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="t" * 101)
    assert subject(done("water", notes, what="T" * 101)) == {"tray": "t" * 101}


def test_where_the_lots_cannot_be_read_their_names_are_written_as_typed() -> None:
    notes, fault = book(), (Problem(file="lots.toml", line=3, hint="Not TOML."),)
    known = Known(season(LOTS), notes.records(LOTS), moment("4-01"), lots_wrong=fault)
    sown = read(NAMED["sow"], known, {"lot": "garlic chives", "seeds": "30"})
    assert [getattr(one, "lot", None) for one in sown.entries] == ["garlic chives"]
    counted = read(NAMED["count"], known, {"sowing": "dill", "standing": "8"})
    assert [getattr(one, "sowing", None) for one in counted.entries] == ["dill"]


def test_trays_are_completed_as_people_count_them() -> None:
    notes = Notebook()
    for number in (10, 9, 2):
        notes.write(Sown, "3-01", sowing=f"leek/{number}", lot="leek", seeds=9, tray=f"D{number}")
    known = Known(season(LOTS), notes.records(LOTS), moment("3-20"))
    assert known.trays() == ["D2", "D9", "D10"]
