"""Names of trays, daughters and treatments."""

from notebook import Notebook
from seedstart.season.journal.entries import Moved, Soaked, Sown, TakenOut
from seedstart.tracking.records import Records
from seedstart.tracking.typed_names import (
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


def test_a_tray_is_known_by_the_name_it_was_written_with() -> None:
    assert tray_named(records(), "TRAY 5") == "Tray 5"
    assert tray_named(records(), "tray 6") is None


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
