"""What was measured, series by series: by loggers, and by hand."""

from array import array
from datetime import date, timedelta

from notebook import ZONE, Notebook, moment
from seedstart.growing.sensor_faults import MARKS
from seedstart.planning.space.stations_now import ReadSeries, read_series
from seedstart.season.journal.entries import Moved, Read, Sown
from seedstart.season.loggers.series import Readings, Series

STATIONS = ("mat", "shelf", "sill")
FIRST = moment("3-01 08:00")


def logger(station: str, *values: float, mark: str = "") -> Readings:
    """A reading an hour; the last one in doubt, where a mark is named."""
    at_s = array("d", [FIRST.timestamp() + 3600 * hour for hour in range(len(values))])
    marks = bytes([0] * (len(values) - bool(mark)) + [MARKS.index(mark)] * bool(mark))
    return {(station, "soil_c"): Series(station, "soil_c", at_s, array("d", values), marks)}


def listed(
    book: Notebook, readings: Readings | None = None, until: date | None = None
) -> tuple[ReadSeries, ...]:
    return read_series(STATIONS, readings or {}, book.records(until=until), ZONE)


def test_readings_by_hand_are_listed_by_place_and_quantity_with_number_last_and_range() -> None:
    book = Notebook()
    for day, value in (("3-01", 12.0), ("3-03", 9.5), ("3-02", 14.0)):
        book.write(Read, day, station="sill", quantity="soil_c", value=value)
    book.write(Read, "3-02", station="sill", quantity="lux", value=8000.0)
    soil, lux = listed(book)
    assert (soil.station, soil.tray, soil.by, soil.readings) == ("sill", None, "hand", 3)
    assert (soil.lowest, soil.highest) == (9.5, 14.0)
    assert (soil.last_value, soil.last_at) == (9.5, moment("3-03"))
    assert (lux.quantity, lux.readings, lux.marks) == ("lux", 1, {})
    (by_then, _) = listed(book, until=date(2027, 3, 2))
    assert (by_then.readings, by_then.last_value) == (2, 14.0)


def test_what_was_read_in_a_tray_stands_where_the_tray_does() -> None:
    book = Notebook()
    book.write(Sown, "3-01", sowing="leek", lot="leek", seeds=9, tray="tray 1", station="mat")
    book.write(Read, "3-02", tray="tray 1", quantity="soil_c", value=20.0)
    book.write(Moved, "3-03", tray="tray 1", station="shelf")
    book.write(Read, "3-03", tray="lost", quantity="soil_c", value=18.0)
    in_tray, lost = listed(book)
    assert (in_tray.station, in_tray.tray) == ("shelf", "tray 1")
    assert (lost.station, lost.tray) == (None, "lost")


def test_loggers_come_first_and_all_are_in_walking_order() -> None:
    book = Notebook()
    for station in ("sill", "attic", "mat"):
        book.write(Read, "3-01", station=station, quantity="soil_c", value=20.0)
    found = listed(book, logger("sill", 10.0) | logger("shelf", 11.0))
    assert [(one.by, one.station) for one in found] == [
        ("logger", "shelf"), ("logger", "sill"), ("hand", "mat"), ("hand", "sill"),
        ("hand", "attic"),
    ]  # fmt: skip


def test_what_is_in_doubt_is_counted_and_told_but_neither_last_nor_highest() -> None:
    (one,) = listed(Notebook(), logger("mat", 20.0, 22.0, 85.0, mark="power_on"))
    assert (one.readings, one.marks) == (3, {"power_on": 1})
    assert (one.lowest, one.highest, one.last_value) == (20.0, 22.0, 22.0)
    assert one.last_at == FIRST + timedelta(hours=1)
    (only,) = listed(Notebook(), logger("mat", 85.0, mark="power_on"))
    assert (only.lowest, only.highest, only.last_value) == (None, None, 85.0)


def test_what_a_logger_measured_after_the_day_asked_for_is_left_out() -> None:
    readings = logger("mat", 20.0, 22.0, 24.0)
    records = Notebook().records()
    (one,) = read_series(STATIONS, readings, records, ZONE, FIRST + timedelta(hours=1))
    assert (one.readings, one.highest, one.last_value) == (2, 22.0, 22.0)
    assert read_series(STATIONS, readings, records, ZONE, FIRST - timedelta(hours=1)) == ()
