"""Every station as it is now: how warm, what stands there, how full it gets."""

from array import array
from datetime import datetime, timedelta

import pytest

from notebook import Notebook, moment
from seasons import lot, season
from seedstart.planning.calendar.season_rows import season_rows
from seedstart.planning.space.room_by_week import loads, stands
from seedstart.planning.space.stations_now import NOWHERE, StationView, station_views
from seedstart.season.journal.entries import Adjusted, Counted, Finished, Read, Sown
from seedstart.season.loggers.series import Readings, Series

LOTS = lot("pepper", "pepper", station='"mat"') + lot("lettuce", "lettuce", station='"shelf"')
NOW = moment("03-20 12:00")


def hourly(station: str, values: list[float], last: datetime, marks: bytes = b"") -> Readings:
    """One value an hour, the last of them at a moment."""
    at_s = [last.timestamp() - 3600 * back for back in range(len(values) - 1, -1, -1)]
    marked = marks or bytes(len(values))
    series = Series(station, "soil_c", array("d", at_s), array("d", values), marked)
    return {(station, "soil_c"): series}


def seen(book: Notebook, readings: Readings | None = None) -> dict[str, StationView]:
    plan = season(LOTS)
    rows = season_rows(plan, NOW.date())
    views = station_views(plan, book.records(LOTS), readings or {}, rows, NOW)
    return {view.name: view for view in views}


def sown(name: str, station: str, tray: str | None = None, at: str = "03-10") -> Notebook:
    book = Notebook()
    book.write(Sown, at, sowing=name, lot=name, seeds=20, station=station, tray=tray)
    return book


def test_stations_come_in_walking_order() -> None:
    assert list(seen(Notebook())) == ["mat", "shelf", "sill"]


def test_readings_of_the_last_week_are_shown_and_older_ones_are_not() -> None:
    values = [20.0] * 24 + [21.0] * (7 * 24 + 1)
    warm = seen(Notebook(), hourly("mat", values, NOW))["mat"].warm
    assert warm.of == "medium"
    assert set(warm.c) == {21.0}
    assert len(warm.c) == 7 * 24 + 1
    assert (warm.last_c, warm.last_at) == (21.0, NOW)


def test_a_reading_in_doubt_is_not_the_warmth_of_now() -> None:
    # A mark of 1: the reading is set aside, as `readings` says.
    warm = seen(Notebook(), hourly("mat", [21.0, 85.0], NOW, bytes([0, 1])))["mat"].warm
    assert warm.last_c == 21.0


def test_a_reading_by_hand_counts_like_a_loggers() -> None:
    book = Notebook()
    book.write(Read, "03-20 08:00", station="sill", quantity="soil_c", value=13.0)
    assert seen(book)["sill"].warm.last_c == 13.0


def test_limits_are_those_of_crops_that_are_not_up_yet() -> None:
    book = sown("pepper", "mat")
    (limits,) = seen(book)["mat"].limits
    # Harrington, as Oregon State prints it: 60 to 95 °F (germination_temperature.csv).
    assert limits.crop == "pepper"
    assert limits.lowest_c == pytest.approx((60 - 32) * 5 / 9, abs=0.06)
    assert limits.highest_c == pytest.approx((95 - 32) * 5 / 9, abs=0.06)
    book.write(Counted, "03-19", sowing="pepper", standing=2)
    assert seen(book)["mat"].limits == ()


def test_the_last_reading_says_for_which_crop_it_is_too_cold() -> None:
    # Oregon State prints 60 °F, 15.6 °C, as pepper's lowest (germination_temperature.csv).
    book = sown("pepper", "mat")
    assert [one.crop for one in seen(book, hourly("mat", [15.0], NOW))["mat"].outside] == ["pepper"]
    assert seen(book, hourly("mat", [24.0], NOW))["mat"].outside == ()
    assert seen(book)["mat"].outside == ()


def test_the_thermostat_says_what_is_expected_from_then_on() -> None:
    book = Notebook()
    book.write(Adjusted, "03-12", station="mat", thermostat_c=27.0)
    expected = seen(book)["mat"].expected
    assert expected is not None
    assert expected.mean_c == 27.0
    book.write(Adjusted, "03-13", station="mat", mat="off")
    assert seen(book)["mat"].expected is None


def test_trays_stand_in_the_order_in_which_people_count() -> None:
    book = sown("pepper", "mat", "tray 10")
    book.write(
        Sown, "03-11", sowing="lettuce", lot="lettuce", seeds=9, station="mat", tray="tray 2"
    )
    view = seen(book)["mat"]
    assert [one.tray for one in view.stands] == ["tray 2", "tray 10"]
    assert view.trays == 2


def test_what_is_over_stands_nowhere() -> None:
    book = sown("pepper", "mat")
    book.write(Finished, "03-15", sowing="pepper")
    assert seen(book)["mat"].stands == ()


def test_what_stands_where_the_plan_has_no_station_stays_in_sight() -> None:
    book = sown("pepper", "attic")
    book.write(Sown, "03-11", sowing="lettuce", lot="lettuce", seeds=9)
    views = seen(book)
    assert [one.name for one in views["attic"].stands] == ["pepper"]
    assert [one.name for one in views[NOWHERE].stands] == ["lettuce"]
    assert views["attic"].kind == ""


def test_space_is_what_the_plan_says_from_this_week_on() -> None:
    plan = season(LOTS)
    planned = loads(stands(season_rows(plan, NOW.date()), plan), plan)
    monday = NOW.date() - timedelta(days=NOW.weekday())
    for name, view in seen(Notebook()).items():
        ahead = [load for load in planned if load.station == name and load.monday >= monday]
        assert list(view.loads) == ahead
    assert any(view.loads for view in seen(Notebook()).values())
