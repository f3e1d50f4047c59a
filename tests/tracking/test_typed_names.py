"""Names that were typed for a sowing, a tray, a station: which is meant."""

from notebook import Notebook
from seasons import season
from seedstart.season.entries import Moved, Soaked, Sown, TakenOut
from seedstart.tracking.records import Records
from seedstart.tracking.typed_names import (
    TypedNames,
    daughter_names,
    ended_treatments,
    open_treatments,
    tray_named,
)


def records() -> Records:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="Tray 5")
    book.write(Moved, "3-01", tray="Tray 5", station="shelf")
    book.write(Sown, "3-02", sowing="mat", lot="pea", seeds=9, station="mat")
    return book.records()


def names() -> TypedNames:
    happened = records()
    return TypedNames(season, lambda: happened)


def test_one_name_means_whatever_bears_it_case_aside() -> None:
    typed = names()
    assert typed.what("LEEK") == {"sowing": "leek"}
    assert typed.what(" tray  5") == {"tray": "Tray 5"}
    assert typed.what("Shelf") == {"station": "shelf"}
    assert not typed.problems


def test_a_name_that_two_things_bear_is_refused_with_the_choices() -> None:
    typed = names()
    typed.what("mat", "what")
    (problem,) = typed.problems
    assert problem.file == "what"
    assert problem.allowed == ("station:mat", "sowing:mat")


def test_a_name_that_nothing_bears_lists_what_is_alive() -> None:
    typed = names()
    assert typed.what("leak") == {"sowing": ""}
    assert typed.problems[0].nearest == "leek"


def test_a_tray_is_known_by_the_name_it_was_written_with_and_a_new_one_taken() -> None:
    assert tray_named(records(), "TRAY 5") == "Tray 5"
    assert tray_named(records(), "tray 6") is None
    assert names().tray("tray 5") == "Tray 5"
    assert names().tray(" tray 6 ") == "tray 6"
    assert names().tray(None) is None


def test_daughters_get_free_names_of_their_mother() -> None:
    assert daughter_names(records(), "leek", 2) == ["leek.1", "leek.2"]


def test_treatments_are_open_till_taken_out_then_wait_for_their_sowing() -> None:
    book = Notebook()
    soaked = book.write(Soaked, "3-01 20:00", lot="pea", hours=12)
    assert [one.id for one in open_treatments(book.records(), "pea")] == [soaked.id]
    assert ended_treatments(book.records(), "pea") == []
    book.write(TakenOut, "3-02 08:00", entry=soaked.id)
    assert open_treatments(book.records(), "pea") == []
    assert [one.id for one in ended_treatments(book.records(), "pea")] == [soaked.id]
    book.write(Sown, "3-02 09:00", sowing="pea", lot="pea", seeds=9, after=(soaked.id,))
    assert ended_treatments(book.records(), "pea") == []


def test_a_new_trays_name_has_an_end_and_an_old_one_is_known_whatever_its_length() -> None:
    typed = names()
    typed.tray("t" * 101)
    (problem,) = typed.problems
    assert str(problem).endswith("A name has up to 100 characters; this one has 101.")
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=60, tray="t" * 101)
    happened = book.records()
    old = TypedNames(season, lambda: happened)
    assert old.tray("T" * 101) == "t" * 101
    assert not old.problems
