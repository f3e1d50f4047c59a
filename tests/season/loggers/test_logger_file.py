"""Foreign logger files, written here as loggers write them, and what is made of them."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from season.loggers.foreign_files import MAT, MORNING, STATIONS, VIENNA, asked, kept, read
from seedstart.problems import BadInputError
from seedstart.season.loggers.logger_file import to_tidy
from seedstart.season.loggers.series import Readings, marked, new_rows
from seedstart.season.loggers.sources import Answers
from seedstart.season.loggers.tidy_file import read_tidy, write_tidy


# The same two readings, 06:00 and 06:10 in Vienna on 20 March 2027, 21.5 and 21.6 °C.
@pytest.mark.parametrize(
    "text",
    [
        # comma, ISO
        "time,heat mat soil °C\n2027-03-20 06:00,21.5\n2027-03-20 06:10,21.6\n",
        "time,heat mat soil °C\n2027-03-20T05:00:00Z,21.5\n2027-03-20T05:10:00Z,21.6\n",
        "time,heat mat soil °C\n2027-03-20T00:00:00-05:00,21.5\n2027-03-20T00:10:00-0500,21.6\n",
        # day first, decimal comma, semicolon, no seconds; Windows line ends
        "Datum/Zeit;Boden heat mat (°C)\r\n20.03.2027 06:00;21,5\r\n20.03.2027 06:10;21,6\r\n",
        "Zeit;Boden heat mat (°C)\n20.03.27 06:00:00;21,5\n20.3.27 6:10:00;21,6\n",
        # date and clock apart, a battery, a preamble
        (
            "Logger A7\nSerial: 1234\n\nDate\tTime\tBattery V\tsoil heat mat C\n"
            "20/03/2027\t06:00:00\t3.1\t21.5\n20/03/2027\t06:10:00\t3.1\t21.6\n"
        ),
        # month first, twelve hours, Fahrenheit, a counter, quotes, trailing comma
        (
            '"#","Date Time","Soil heat mat, °F",\n1,"03/20/2027 06:00:00 AM",70.7,\n'
            '2,"03/20/2027 06:10:00 AM",70.88,\n'
        ),
        # offset in the header
        (
            '"Date Time, GMT+02:00","soil heat mat °C"\n2027-03-20 07:00:00,21.5\n'
            "2027-03-20 07:10:00,21.6\n"
        ),
        # seconds and milliseconds since 1970
        "unix,heat mat soil_c °C\n1805518800,21.5\n1805519400,21.6\n",
        "ts,heat mat soil °C\n1805518800000,21.5\n1805519400000,21.6\n",
        # names and units on two lines
        (
            "TIMESTAMP,RECORD,heat mat soil\nTS,RN,Deg C\n2027-03-20 06:00:00,17,21.5\n"
            "2027-03-20 06:10:00,18,21.6\n"
        ),
        # newest first; month by name; the unit behind each number
        "time;heat mat soil\n20-Mar-2027 06:10;21.6 °C\n20-Mar-2027 06:00;21.5 °C\n",
        # a row twice
        (
            "time,heat mat soil °C\n2027-03-20 06:00,21.5\n2027-03-20 06:00,21.5\n"
            "2027-03-20 06:10,21.6\n"
        ),
    ],
)
def test_loggers_write_one_morning_in_many_ways(text: str) -> None:
    understood = read(text)
    assert asked(understood) == []
    assert understood.problems == ()
    assert kept(understood) == {MAT: MORNING}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_degree_sign_is_understood_in_every_encoding(encoding: str) -> None:
    text = "time;heat mat soil °F\n2027-03-20 06:00;70,7\n2027-03-20 06:10;70,88\n"
    assert kept(read(text.encode(encoding))) == {MAT: MORNING}


def test_twelve_hours_have_a_noon_and_a_midnight() -> None:
    stamps = ["12:00 AM", "1:30 am", "12:00 PM", "11:59 p.m."]
    rows = [f"2027-03-20 {stamp},21.5" for stamp in stamps]
    found = kept(read("\n".join(["time,heat mat soil °C", *rows]), zone="UTC"))[MAT]
    assert [time[11:16] for time, _ in found] == ["00:00", "01:30", "12:00", "23:59"]


def test_a_stamp_that_grows_longer_far_down_the_file_is_not_cut() -> None:
    rows = [f"2027-03-20 {h:02d}:{m:02d}:00,21.5" for h in range(10) for m in range(60)]
    rows.append("2027-03-20 10:00:00.250,21.5")
    found = to_tidy(read("\n".join(["time,heat mat soil °C", *rows]), zone="UTC"))
    assert found["heat mat", "soil_c"].at_s[-1] % 60 == 0.25


def test_several_sensors_may_be_columns() -> None:
    text = (
        "time,heat mat soil °C,shelf 1 air °C,shelf 1 RH %,shelf 1 PPFD,sill lux\n"
        "2027-03-20 06:00,21.5,19,55,210,14490\n"
    )
    found = kept(read(text))
    assert {key: rows[0][1] for key, rows in found.items()} == {
        ("heat mat", "soil_c"): 21.5,
        ("shelf 1", "air_c"): 19.0,
        ("shelf 1", "rh_percent"): 55.0,
        ("shelf 1", "ppfd_umol"): 210.0,
        ("sill", "lux"): 14490.0,
    }


def test_several_sensors_may_be_names_in_a_column_and_so_may_kinds() -> None:
    text = (
        "time,sensor,parameter,value\n"
        "2027-03-20T05:00:00Z,28-0315a,soil temperature °C,21.5\n"
        "2027-03-20T05:00:00Z,28-0316b,soil temperature °C,19.5\n"
        "2027-03-20T05:00:00Z,28-0316b,humidity,61\n"
    )
    understood = read(text)
    assert asked(understood) == [
        ("station", "28-0315a", STATIONS),
        ("station", "28-0316b", STATIONS),
    ]
    stations = {"28-0315a": "heat mat", "28-0316b": "shelf 1"}
    found = kept(read(text, answers=Answers(stations=stations)))
    assert {key: rows[0][1] for key, rows in found.items()} == {
        ("heat mat", "soil_c"): 21.5,
        ("shelf 1", "soil_c"): 19.5,
        ("shelf 1", "rh_percent"): 61.0,
    }


def test_a_tidy_file_is_understood_as_it_stands() -> None:
    text = (
        "time,station,quantity,value,mark\n2027-03-20T06:00:00+01:00,heat mat,soil_c,21.5,\n"
        "2027-03-20T06:10:00+01:00,heat mat,soil_c,21.6,\n"
    )
    assert kept(read(text, answers=Answers(unit="C"))) == {MAT: MORNING}


def test_probes_called_by_numbers_keep_their_names() -> None:
    text = "time,sensor,soil °C\n2027-03-20 06:00,007,21.5\n2027-03-20 06:00,7,19.5\n"
    understood = read(text)
    assert [one[:2] for one in asked(understood)] == [("station", "007"), ("station", "7")]
    answers = Answers(stations={"007": "heat mat", "7": "sill"})
    assert {key[0]: rows[0][1] for key, rows in kept(read(text, answers=answers)).items()} == {
        "heat mat": 21.5,
        "sill": 19.5,
    }


def test_of_two_values_at_one_time_the_first_holds_and_the_other_is_counted() -> None:
    text = "time,heat mat soil °C\n2027-03-20 06:00,21.5\n2027-03-20 06:00,30\n"
    understood = read(text)
    assert (understood.readings, understood.repeated) == (1, 1)
    assert kept(understood) == {MAT: MORNING[:1]}


def test_escapes_in_headers_and_garbled_rows_do_not_get_through() -> None:
    text = "time,\x1b[31mprobe\u202e x °C\n2027-03-20 06:00,21.5\n2027-03-20 06:10,\x1b[2Jx\n"
    understood = read(text)
    assert understood.columns[1].header == "probe x °C"
    assert [problem.found for problem in understood.problems] == ["x"]
    assert "\x1b" not in "".join(question.text for question in understood.questions)


def test_unit_quantity_and_station_are_asked_where_the_file_does_not_say_them() -> None:
    text = "time,Temperature\n2027-03-20 06:00,70.7\n2027-03-20 06:10,70.88\n"
    understood = read(text)
    assert asked(understood) == [
        ("quantity", "Temperature", ("soil_c", "air_c", "none")),
        ("unit", "", ("C", "F")),
        ("station", "Temperature", STATIONS),
    ]
    with pytest.raises(BadInputError) as caught:
        to_tidy(understood)
    assert [problem.key for problem in caught.value.problems] == ["quantity", "unit", "station"]
    answers = Answers(quantity="soil_c", unit="F", station="heat mat")
    assert kept(read(text, answers=answers)) == {MAT: MORNING}
    by_name = Answers(
        quantities={"Temperature": "soil_c"},
        units={"Temperature": "F"},
        stations={"Temperature": "heat mat"},
    )
    assert kept(read(text, answers=by_name)) == {MAT: MORNING}


def test_in_a_season_with_one_station_everything_is_there() -> None:
    text = "time,soil °C\n2027-03-20 06:00,21.5\n2027-03-20 06:10,21.6\n"
    assert kept(read(text, stations=["heat mat"])) == {MAT: MORNING}


def test_a_column_may_be_left_out() -> None:
    text = "time,heat mat soil °C,probe 2\n2027-03-20 06:00,21.5,3\n2027-03-20 06:10,21.6,4\n"
    assert [one[:2] for one in asked(read(text))] == [
        ("quantity", "probe 2"),
        ("station", "probe 2"),
    ]
    assert kept(read(text, answers=Answers(quantities={"probe 2": "none"}))) == {MAT: MORNING}


def test_two_columns_cannot_be_one_series() -> None:
    text = "time,heat mat soil 1 °C,heat mat soil 2 °C\n2027-03-20 06:00,21.5,23\n"
    with pytest.raises(BadInputError, match="heat mat soil 1 °C is it already"):
        read(text)


def test_salt_comes_in_two_units() -> None:
    text = "time,heat mat EC µS/cm\n2027-03-20 06:00,1250\n"
    assert kept(read(text)) == {("heat mat", "ec_ms_cm"): [("2027-03-20 05:00:00", 1.25)]}


def test_answers_that_name_what_there_is_not_are_refused_all_at_once() -> None:
    answers = Answers(
        order="myd",
        zone="Europe/Wien",
        unit="K",
        station="heat mta",
        quantities={"Temp": "soil"},
        stations={"probe": "sill"},
    )
    with pytest.raises(BadInputError) as caught:
        read("time,Temp\n2027-03-20 06:00,70.7\n", answers=answers)
    found = {(problem.file, problem.found, problem.nearest) for problem in caught.value.problems}
    assert found == {
        ("order", "myd", "ymd"),
        ("zone", "Europe/Wien", None),
        ("unit", "K", None),
        ("station", "heat mta", "heat mat"),
        ("quantity", "soil", "soil_c"),
        ("station", "probe", None),
    }


def test_rows_with_and_without_a_zone_are_refused_by_line() -> None:
    text = (
        "time,heat mat soil °C\n2027-03-20T06:00:00Z,21.5\n2027-03-20T06:10:00,21.6\n"
        "2027-03-20T06:20:00Z,21.7\n2027-03-20 06:30,21.8\n2027-03-20T06:40:00Z,21.8\n"
    )
    with pytest.raises(BadInputError) as caught:
        read(text)
    assert [problem.line for problem in caught.value.problems] == [3, 5]
    assert "an offset from UTC in every row, or in none" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "rows of a date with a clock time"),
        ("Dear diary,\nthe leeks are up.\n", "rows of a date with a clock time"),
        ("date,tmin\n2027-03-20,21.50,19.20\n2027-03-21,20.10,18.00\n", "clock time"),
        ("time,soil °C\n20.03.2027 06:00,21,5\n20.03.2027 06:10,21,6\n", "Export with semicolons"),
        ("time,battery V\n2027-03-20 06:00,3.1\n", "at least one reading"),
    ],
)
def test_a_file_without_readings_says_what_was_looked_for(text: str, said: str) -> None:
    with pytest.raises(BadInputError, match=said):
        read(text)


def test_what_was_made_of_a_file_can_be_shown_before_it_is_kept() -> None:
    text = "\n".join(
        [
            "Logger A7",
            "time;heat mat soil °C;battery",
            *(f"20.03.2027 {hour:02d}:00;{20 + hour / 10:.1f};3" for hour in range(24)),
        ]
    )
    understood = read(text)
    assert (understood.separator, understood.first_line) == ("semicolon", 3)
    assert [(one.header, one.role) for one in understood.columns] == [
        ("time", "time"),
        ("heat mat soil °C", "value"),
        ("battery", "left out"),
    ]
    assert (understood.rows, understood.readings, understood.missing) == (24, 24, 0)
    assert (understood.order, understood.zone) == ("ymd", VIENNA)
    assert understood.first == datetime(2027, 3, 20, 0, tzinfo=ZoneInfo(VIENNA))
    assert understood.last == datetime(2027, 3, 20, 23, tzinfo=ZoneInfo(VIENNA))
    assert [(one.line, one.value) for one in understood.shown] == [
        (3, 20.0),
        (4, 20.1),
        (5, 20.2),
        (24, 22.1),
        (25, 22.2),
        (26, 22.3),
    ]


def imported(text: str, existing: Readings) -> Readings:
    return new_rows(existing, marked(to_tidy(read(text))))


def test_importing_a_file_twice_adds_nothing_and_a_longer_one_adds_its_new_rows() -> None:
    text = "time,heat mat soil °F\n2027-03-20 06:00,70.7\n2027-03-20 06:10,185\n"
    first = imported(text, {})
    stored, problems = read_tidy(write_tidy(first, VIENNA), "readings/1.csv")
    assert problems == []
    assert stored["heat mat", "soil_c"].marks == ["", "power_on"]
    assert imported(text, stored) == {}
    longer = imported(text + "2027-03-20 06:20,71.06\n", stored)
    assert list(longer["heat mat", "soil_c"].value) == [21.7]
