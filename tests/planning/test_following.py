"""One more entry derives anew what it touches, and no more."""

from array import array
from datetime import timedelta
from typing import Any

import pytest

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.planning.calendar.season_today import row_for
from seedstart.planning.following import Changed, Following, Moment
from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Entry,
    Moved,
    PrickedOut,
    Read,
    Sown,
    Watered,
)
from seedstart.season.journal.journal import Journal
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Readings, Series
from seedstart.tracking.fold_journal import records, refold

LOTS = "".join(lot(f"leek {n}", "leek", station='"shelf"') for n in range(6))
PLAN = season(LOTS, f'{HEAD}[[station]]\nname = "bed"\nkind = "outdoors"\n')


READINGS: Readings = {}


class Followed:
    """Six lots in six trays on three stations, and what follows as more is written."""

    def __init__(self) -> None:
        self.book, self.journal = Notebook(), Journal()
        for n in range(6):
            fields: dict[str, Any] = {
                "tray": f"tray {n}",
                "station": ("mat", "shelf", "sill")[n % 3],
            }
            self.book.write(Sown, "3-01", sowing=f"leek {n}", lot=f"leek {n}", seeds=9, **fields)
        self.journal.take_in(self.book.entries)
        self.records = records(self.journal, PLAN)
        self.following = Following()
        self.follow()

    def follow(self, at: str = "3-10 08:00", readings: Readings = READINGS) -> Changed:
        now = moment(at)
        self.following.follow(Moment(PLAN, self.records, readings, {}, now.date(), now))
        return self.following.take_changed()

    def write(self, kind: type[Entry], **fields: Any) -> Changed:
        entry = self.book.write(kind, "3-10 07:00", **fields)
        touched = self.journal.take_in([entry])
        self.records = refold(self.records, touched, self.journal, PLAN)
        return self.follow()

    def id(self, name: str) -> str:
        found = self.records.by_name_in_line(name)
        assert found is not None
        return found.id


@pytest.fixture
def followed() -> Followed:
    return Followed()


def test_the_first_look_derives_everything(followed: Followed) -> None:
    followed.following = Following()
    assert followed.follow().everything
    assert followed.follow() == Changed()


@pytest.mark.parametrize(
    ("kind", "fields"),
    [(Counted, {"sowing": "leek 0", "standing": 4}), (Watered, {"tray": "tray 0"}),
     (Moved, {"tray": "tray 0", "station": "sill"}),
     (Moved, {"sowing": "leek 0", "station": "bed"})],
)  # fmt: skip
def test_an_act_on_one_touches_one_lot(
    followed: Followed, kind: type[Entry], fields: dict[str, object]
) -> None:
    changed = followed.write(kind, **fields)
    assert not changed.everything
    assert changed.sowings == {followed.id("leek 0")}
    assert changed.lots == {"leek 0"}


def test_one_more_sowing_leaves_the_others_alone(followed: Followed) -> None:
    followed.write(PrickedOut, sowing="leek 1", plants=3, into="leek 1.1", tray="tray 9")
    changed = followed.write(
        Sown, sowing="leek 0/2", lot="leek 0", seeds=9, tray="tray 7", station="sill"
    )
    assert changed.sowings == {followed.id("leek 0"), followed.id("leek 0/2")}


def test_a_reading_touches_what_stands_there_and_stood_there(followed: Followed) -> None:
    changed = followed.write(Read, station="mat", quantity="soil_c", value=20.0)
    assert changed.sowings == {followed.id("leek 0"), followed.id("leek 3")}
    followed.write(Moved, tray="tray 0", station="sill")
    changed = followed.write(Read, station="mat", quantity="soil_c", value=21.0)
    assert changed.sowings == {followed.id("leek 0"), followed.id("leek 3")}


def measured(station: str, quantity: Quantity, c: float) -> Readings:
    at_s = array("d", [moment("3-10 06:00").timestamp()])
    return {(station, quantity): Series(station, quantity, at_s, array("d", [c]), bytes(1))}


def test_a_loggers_reading_touches_what_stands_there_and_no_more(followed: Followed) -> None:
    changed = followed.follow(readings=READINGS | measured("mat", "soil_c", 31.0))
    assert not changed.everything
    assert changed.sowings == {followed.id("leek 0"), followed.id("leek 3")}
    assert changed.places == {("station", "mat")}
    fresh = Following()
    now = moment("3-10 08:00")
    readings = READINGS | measured("mat", "soil_c", 31.0)
    fresh.follow(Moment(PLAN, followed.records, readings, {}, now.date(), now))
    assert followed.following.rows == fresh.rows
    assert dict(followed.following.progress) == dict(fresh.progress)


def test_the_air_of_a_room_is_that_of_every_station_in_it(followed: Followed) -> None:
    changed = followed.follow(readings=READINGS | measured("mat", "air_c", 12.0))
    assert not changed.everything
    assert {("station", one.name) for one in PLAN.stations} <= changed.places


def test_ground_measured_by_a_logger_is_everybodys(followed: Followed) -> None:
    assert followed.follow(readings=READINGS | measured("bed", "soil_c", 6.0)).everything


def test_a_daughter_is_touched_with_her_mother(followed: Followed) -> None:
    followed.write(Counted, sowing="leek 0", standing=4)
    followed.write(PrickedOut, sowing="leek 0", plants=3, into="leek 0.1", tray="tray 9")
    changed = followed.write(Counted, sowing="leek 0", standing=2)
    assert changed.sowings == {followed.id("leek 0"), followed.id("leek 0.1")}


def test_a_station_set_to_another_temperature_moves_everything(followed: Followed) -> None:
    assert followed.write(Adjusted, station="mat", expected="18C").everything
    assert not followed.write(Adjusted, station="mat", lamp_hours=12.0).everything


def test_ground_measured_out_of_doors_is_everybodys(followed: Followed) -> None:
    assert followed.write(Read, station="bed", quantity="soil_c", value=6.0).everything


def test_a_new_hour_and_a_new_day_derive_everything(followed: Followed) -> None:
    assert not followed.follow().everything
    assert followed.follow("3-10 09:00").everything
    assert followed.follow("3-11 09:00").everything


def test_what_nobody_asked_for_meanwhile_adds_up(followed: Followed) -> None:
    followed.book.write(Counted, "3-10 07:00", sowing="leek 0", standing=1)
    entry = followed.book.entries[-1]
    followed.records = refold(
        followed.records, followed.journal.take_in([entry]), followed.journal, PLAN
    )
    now = moment("3-10 08:00")
    followed.following.follow(Moment(PLAN, followed.records, READINGS, {}, now.date(), now))
    changed = followed.write(Counted, sowing="leek 1", standing=1)
    assert changed.lots == {"leek 0", "leek 1"}


def test_a_daughters_row_is_her_mothers(followed: Followed) -> None:
    followed.write(Counted, sowing="leek 0", standing=4)
    followed.write(PrickedOut, sowing="leek 0", plants=3, into="leek 0.1", tray="tray 9")
    daughter = followed.records.standings[followed.id("leek 0.1")]
    row = row_for(daughter.id, followed.following.rows, followed.records)
    assert row is not None
    assert row.sowing_id == followed.id("leek 0")
    assert row.sow_day == (moment("3-10") - timedelta(days=9)).date()


def test_a_better_place_is_found_anew_when_it_is_measured_there() -> None:
    lots = lot("pepper", "pepper", want="12", station='"sill"')
    plan, book, now = season(lots, HEAD), Notebook(), moment("3-10 08:00")
    book.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=20, station="sill")
    pepper = book.entries[0].id
    happened = book.records(lots, HEAD)
    following, fresh = Following(), Following()
    following.follow(Moment(plan, happened, READINGS, {}, now.date(), now))
    before = following.prospects[pepper].advice
    assert before is not None
    assert before.where == "mat"
    following.take_changed()
    cold = Moment(plan, happened, measured("mat", "soil_c", 15.0), {}, now.date(), now)
    following.follow(cold)
    fresh.follow(cold)
    assert following.prospects[pepper].advice == fresh.prospects[pepper].advice != before
    assert pepper in following.take_changed().sowings
