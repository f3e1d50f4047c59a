"""Weather files as services hand them out, against the minima that a reader must return."""

import io
import zipfile
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest

from seedstart.problems import BadInputError
from seedstart.season.weather.weather_days import Days
from seedstart.season.weather.weather_file import Answers, read_files, read_weather
from tables import REFERENCE, rows

SAMPLES = REFERENCE / "weather_format_samples"
# The order form alone leaves its unit open.
SAID = {"order_form_degF.csv": Answers(unit="F")}
FILES = sorted({row["file"] for row in rows("weather_format_samples/expected_tmin.csv")})


def sample(name: str) -> bytes:
    return (SAMPLES / name).read_bytes()


def days_of(name: str) -> Days:
    return read_weather(sample(name), name, SAID.get(name))


def lines(rows: Iterable[str], header: str = "date,tmin_c") -> bytes:
    return "\n".join([header, *rows, ""]).encode()


def year_of(value: str, header: str = "date,tmin_c") -> bytes:
    first = date(2031, 1, 1).toordinal()
    rows = (f"{date.fromordinal(first + day).isoformat()},{value}" for day in range(365))
    return lines(rows, header)


# tests/reference/weather_format_samples/expected_tmin.csv: 240 days of eight daily layouts.
@pytest.mark.parametrize("name", FILES)
def test_every_minimum_is_that_of_the_published_layout(name: str) -> None:
    found = days_of(name).tmin_tenths
    for row in rows("weather_format_samples/expected_tmin.csv"):
        if row["file"] == name:
            expected = round(10 * float(row["tmin_c"])) if row["tmin_c"] else None
            assert found.get(date.fromisoformat(row["date"]).toordinal()) == expected, row


# notes beside the samples: the last day at or below 0 °C is 10 April in each, and in the two of
# Environment Canada 12 April, of which only the sign is known.
@pytest.mark.parametrize("name", FILES)
def test_a_day_known_to_be_below_zero_is_a_frost_without_a_figure(name: str) -> None:
    minima = days_of(name).minima
    frosts = [day for day in range(minima.first, minima.last + 1) if minima.is_frost(day, 0)]
    last = date(2031, 4, 12 if name.startswith("eccc") else 10)
    assert date.fromordinal(frosts[-1]) == last
    assert minima.is_frost(date(2031, 4, 12).toordinal(), -22) is None


@pytest.mark.parametrize("name", FILES)
def test_reading_again_or_joining_a_file_to_itself_changes_nothing(name: str) -> None:
    once = days_of(name)
    assert days_of(name) == once
    both = read_files({name: sample(name), f"copy of {name}": sample(name)}, {
        one: SAID.get(name, Answers()) for one in (name, f"copy of {name}")
    })  # fmt: skip
    assert both.tmin_tenths == once.tmin_tenths
    assert both.twice == 0


def test_a_file_is_known_by_what_stands_in_it_not_by_its_name() -> None:
    assert (
        read_weather(sample("ghcn_daily.dly"), "download.txt").layout == "GHCN-Daily, fixed width"
    )


def test_gusts_rain_and_sun_come_in_the_units_of_their_names() -> None:
    found = days_of("produkt_klima_tag_20310401_20310430_00001.txt")
    day = date(2031, 4, 1).toordinal()
    assert {element: values[day] for element, values in found.others.items()} == {
        "tmax_c": 8.3, "wind_ms": 2.5, "gust_ms": 8.0, "rain_mm": 0.0, "sun_h": 0.0,
    }  # fmt: skip


def test_a_monthly_file_is_refused_with_the_reason() -> None:
    with pytest.raises(BadInputError, match="one row a month: means of months cannot say"):
        read_weather(sample("metoffice_exampledata.txt"), "metoffice.txt")
    months = lines(f"2031-{month:02}-01,3.0" for month in range(1, 13))
    with pytest.raises(BadInputError, match="one row a month"):
        read_weather(months, "months.csv")


def test_a_unit_that_the_file_does_not_say_is_asked_for() -> None:
    with pytest.raises(BadInputError, match=r"unit: allowed: C, F.*Its first minima are 27, 27"):
        read_weather(sample("order_form_degF.csv"), "order.csv")


def test_two_stations_in_a_file_are_refused_until_one_is_named() -> None:
    two = sample("order_form_degF.csv") + b'"ZZ000000002","OTHER","2031-04-01","47","20"\n'
    with pytest.raises(BadInputError, match="2 stations \\(ZZ000000001 and ZZ000000002\\)"):
        read_weather(two, "two.csv", Answers(unit="C"))
    one = read_weather(two, "two.csv", Answers(unit="C", station="ZZ000000002"))
    assert list(one.tmin_tenths.values()) == [200]


def test_files_of_two_stations_are_not_joined() -> None:
    other = sample("ghcn_daily.dly").replace(b"ZZ000000001", b"ZZ000000002")
    with pytest.raises(BadInputError, match="2 stations"):
        read_files({"one.dly": sample("ghcn_daily.dly"), "two.dly": other})


def test_years_in_files_of_their_own_make_one_record() -> None:
    first, second = sample("meteostat_daily.csv"), sample("meteostat_daily.csv")
    later = second.replace(b"\n2031,", b"\n2032,")
    assert len(read_files({"2031.csv": first, "2032.csv": later}).tmin_tenths) == 56


def _zip() -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("minima.csv", "date,tmin_c\n2031-04-01,-3\n")
    return packed.getvalue()


SWAPPED = lines((f"2031-04-{day:02},12.5,-1.5" for day in range(1, 29)), "date,tmin_c,tmax_c")


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (_zip(), "It is a zip .or a workbook.: unpack it"),
        (b"<!DOCTYPE html><html><body>no data</body></html>", "It is a web page"),
        (b"\x1f\x8b\x08rest", "packed with gzip"),
        (b"", "It is empty"),
        (b"a,b\n1,2\n", "No daily weather was found in it"),
        (year_of("281.4"), "kelvins"),
        (SWAPPED, "the columns are the wrong way about"),
        (b"{" + b" " * 64_000_000 + b"}", "64 MB: a hundred years of one station take less"),
        (b'{"days": []}', "No days were found in it"),
        (year_of("-9999"), "Not one of its 365 days has a minimum"),
        (b'{"days": [', "It is no whole JSON"),
    ],
)  # fmt: skip
def test_what_is_no_record_is_refused_by_name(data: bytes, said: str) -> None:
    with pytest.raises(BadInputError, match=said):
        read_weather(data, "record")


@pytest.mark.parametrize("code", ["-9999", "-999", "-99.9", "999", "", "NA", "M"])
def test_a_code_for_a_missing_value_is_no_temperature_and_no_nought(code: str) -> None:
    found = read_weather(lines([f"2031-04-01,{code}", "2031-04-02,0.0"]), "minima.csv")
    assert found.tmin_tenths == {date(2031, 4, 2).toordinal(): 0}
    assert found.empty == 1


def test_a_day_that_stands_there_twice_counts_once_and_is_told() -> None:
    found = read_weather(lines(["2031-04-01,-3.0", "2031-04-01,2.0", "2031-04-02,1"]), "m.csv")
    assert found.tmin_tenths[date(2031, 4, 1).toordinal()] == -30
    assert "1 day there again with another minimum: the first holds" in found.sentences()


def test_a_line_that_cannot_be_read_costs_itself_and_is_named() -> None:
    found = read_weather(lines(["2031-02-30,1", "", "2031-04-01,cold", "2031-04-02,1.5"]), "m.csv")
    assert list(found.tmin_tenths.values()) == [15]
    assert [str(one) for one in found.problems] == [
        "m.csv, line 2: found '2031-02-30,1'. No day of the calendar: this line was left out.",
        "m.csv, line 4: found 'cold'. No temperature: this day counts as missing.",
    ]


def test_a_decimal_comma_and_a_day_written_with_dots_are_read() -> None:
    data = "Datum;Tmin (°C)\n13.04.2031;-2,5\n".encode()
    assert read_weather(data, "m.csv").tmin_tenths == {date(2031, 4, 13).toordinal(): -25}


def test_a_day_that_may_be_read_in_two_ways_is_asked_for() -> None:
    data = b"date,low (F)\n4/5/2031,30\n4/6/2031,31\n"
    with pytest.raises(BadInputError, match="4/5/2031 may be read in two ways: say dmy"):
        read_weather(data, "m.csv")
    found = read_weather(data, "m.csv", Answers(order="mdy"))
    assert found.tmin_tenths == {
        date(2031, 4, 5).toordinal(): -11, date(2031, 4, 6).toordinal(): -6,
    }  # fmt: skip


def test_a_forecast_in_json_is_read_by_its_headers_and_units() -> None:
    data = b"""{"latitude": 1, "daily_units": {"time": "iso8601", "temperature_2m_min": "\\u00b0C",
        "temperature_2m_max": "\\u00b0C", "wind_gusts_10m_max": "km/h",
        "precipitation_sum": "mm"},
        "daily": {"time": ["2031-04-11", "2031-04-12"], "temperature_2m_min": [5.1, -1.2],
        "temperature_2m_max": [14.0, 6.0], "wind_gusts_10m_max": [18, 54],
        "precipitation_sum": [0, null]}}"""
    found = read_weather(data, "forecast.json")
    day = date(2031, 4, 12).toordinal()
    assert found.tmin_tenths[day] == -12
    assert found.others["gust_ms"][day] == 15.0
    assert found.others["rain_mm"] == {day - 1: 0.0}


def test_a_column_that_the_grower_names_is_read_as_it_was_named() -> None:
    data = b"when,coldest,blow\n2031-04-11,30,36\n"
    said = Answers(columns={"tmin_c": "coldest|F", "gust_ms": "blow|km/h"})
    found = read_weather(data, "m.csv", said)
    day = date(2031, 4, 11).toordinal()
    assert (found.tmin_tenths[day], found.others["gust_ms"][day]) == (-11, 10.0)
    with pytest.raises(BadInputError, match="tmin_c: found 'colder', allowed: when, coldest, blow"):
        read_weather(data, "m.csv", Answers(columns={"tmin_c": "colder|F"}))


def test_the_samples_are_all_of_them() -> None:
    there = {path.name for path in Path(SAMPLES).iterdir()}
    assert there == {*FILES, "expected_tmin.csv", "metoffice_exampledata.txt"}
