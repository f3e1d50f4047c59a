"""Acts of a journal, the latest first: which belong together, which were taken back, whose lot."""

from datetime import date
from pathlib import Path

import pytest

from form_host import season_in, write
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Moved,
    Noted,
    PrickedOut,
    Struck,
    Watered,
)
from seedstart.tracking.history import acts_of, is_taken_back, names_it, strikes_in_force


@pytest.fixture
def season(tmp_path: Path) -> OpenSeason:
    return season_in(tmp_path)


def kinds(season: OpenSeason, lot: str | None = None, most: int | None = None) -> list[str]:
    """The kinds in each act; a taken-back one in brackets."""
    acts = acts_of(season.records(), season.journal, lot, most)
    said = ["+".join(type(entry).__name__ for entry in act.entries) for act in acts]
    return [f"({one})" if act.taken_back else one for one, act in zip(said, acts, strict=True)]


def test_what_was_written_last_comes_first_whenever_it_happened(season: OpenSeason) -> None:
    write(season, "03-02 08:00", Noted(**BLANK, text="late"))
    assert kinds(season) == ["Noted", "Counted", "Sown", "Moved", "Sown"]
    assert kinds(season, most=2) == ["Noted", "Counted"]


def test_an_act_stands_together_and_its_strikes_stand_in_no_list(season: OpenSeason) -> None:
    (count,) = write(season, "03-16 08:00", Counted(**BLANK, sowing="leek", standing=50))
    better = Counted(**BLANK, sowing="leek", standing=38)
    write(season, "03-17 08:00", Struck(**BLANK, entry=count.id), better)
    write(season, "03-17 09:00", Watered(**BLANK, tray="tray 5"), Noted(**BLANK, text="dry"))
    assert kinds(season)[:3] == ["Watered+Noted", "Counted", "(Counted)"]


def test_an_act_is_headed_by_what_was_written_first_in_it(season: OpenSeason) -> None:
    water, note = write(
        season, "03-17 09:00", Watered(**BLANK, tray="tray 5"), Noted(**BLANK, text="dry")
    )
    both, count = acts_of(season.records(), season.journal)[:2]
    assert (both.entries, both.first) == ((water, note), water)
    assert isinstance(count.first, Counted)


def test_an_act_struck_in_part_is_not_taken_back(season: OpenSeason) -> None:
    act = write(season, "03-17 09:00", Watered(**BLANK, tray="tray 5"), Noted(**BLANK, text="x"))
    first = season.record(Struck(**BLANK, entry=act[0].id))
    assert not is_taken_back(season.journal, act)
    second = season.record(Struck(**BLANK, entry=act[1].id))
    assert is_taken_back(season.journal, act)
    assert set(strikes_in_force(season.journal, act)) == {first[0].id, second[0].id}
    season.record(Struck(**BLANK, entry=first[0].id))
    assert strikes_in_force(season.journal, act) == (second[0].id,)


def test_the_journal_of_a_lot_is_of_its_sowings_their_daughters_and_where_they_stood(
    season: OpenSeason,
) -> None:
    pricked = PrickedOut(
        **BLANK, sowing="leek", into="leek.1", plants=20, tray="tray 6", station="shelf"
    )
    write(season, "03-18 08:00", pricked)
    write(season, "03-18 09:00", Counted(**BLANK, sowing="leek.1", standing=19))
    write(season, "03-18 10:00", Noted(**BLANK, lot="leek", text="sweet"))
    (wrong,) = write(season, "03-18 11:00", Counted(**BLANK, sowing="leek", standing=99))
    season.record(Struck(**BLANK, entry=wrong.id))
    write(season, "03-19 11:00", Counted(**BLANK, sowing="pepper-long", standing=0))
    assert kinds(season, "leek") == [
        "(Counted)", "Noted", "Counted", "PrickedOut", "Counted", "Moved", "Sown",
    ]  # fmt: skip


def test_a_sowing_that_was_taken_back_stays_in_the_journal_of_its_lot(season: OpenSeason) -> None:
    sown = season.journal.of["sowing", "pepper-long"][0]
    season.record(Struck(**BLANK, entry=sown.id))
    assert kinds(season, "pepper-long") == ["(Sown)"]


def test_on_an_earlier_day_what_came_later_is_left_out(tmp_path: Path) -> None:
    season_in(tmp_path)
    assert kinds(OpenSeason(tmp_path, "bench", date(2027, 3, 2))) == ["Sown", "Moved", "Sown"]


def test_what_names_a_station_or_a_lot_is_found_unless_it_was_struck(season: OpenSeason) -> None:
    assert names_it(season.journal, "station", "sill") is None
    (moved,) = season.record(Moved(**BLANK, tray="tray 5", station="Sill"))
    assert names_it(season.journal, "station", "sill") == moved
    season.record(Struck(**BLANK, entry=moved.id))
    assert names_it(season.journal, "station", "sill") is None
    assert names_it(season.journal, "lot", "leek") is not None
    assert names_it(season.journal, "lot", "sweet-pea") is None
