"""Foreign logger files, written here as loggers write them, and what is made of them."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.problems import BadInputError
from seedstart.season.loggers.logger_file import Understood, to_tidy, understand
from seedstart.season.loggers.questions import Answers
from seedstart.season.loggers.series import Readings, marked, new_rows
from seedstart.season.loggers.tidy_file import read_tidy, write_tidy

STATIONS = ("heat mat", "shelf 1", "sill")
VIENNA = "Europe/Vienna"


def read(
    text: str | bytes,
    *,
    zone: str = VIENNA,
    stations: Sequence[str] = STATIONS,
    answers: Answers | None = None,
) -> Understood:
    """What is made of a file."""
    data = text if isinstance(text, bytes) else text.encode()
    return understand(data, "probe.csv", zone, answers, stations)


def kept(understood: Understood) -> dict[tuple[str, str], list[tuple[str, float]]]:
    """The readings of a file without open questions, their times in UTC."""
    return {
        key: [
            (datetime.fromtimestamp(at, UTC).strftime("%Y-%m-%d %H:%M:%S"), value)
            for at, value in zip(one.at_s, one.value, strict=True)
        ]
        for key, one in to_tidy(understood).items()
    }


def asked(understood: Understood) -> list[tuple[str, str, tuple[str, ...]]]:
    """The open questions."""
    return [(one.key, one.about, one.allowed) for one in understood.questions]


MORNING = [("2027-03-20 05:00:00", 21.5), ("2027-03-20 05:10:00", 21.6)]
MAT = ("heat mat", "soil_c")


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


# Where the file leaves a doubt it is asked, and each answer gives its own reading.
AMBIGUOUS = "Date,heat mat soil °C\n03/04/2027 06:00,21.5\n03/04/2027 06:10,21.6\n"


@pytest.mark.parametrize(("order", "day"), [("dmy", "2027-04-03 04"), ("mdy", "2027-03-04 05")])
def test_the_order_of_day_and_month_is_asked_where_the_file_does_not_decide_it(
    order: str, day: str
) -> None:
    understood = read(AMBIGUOUS)
    assert asked(understood) == [("order", "", ("dmy", "mdy"))]
    assert "2027-04-03 or 2027-03-04" in understood.questions[0].text
    with pytest.raises(BadInputError, match="In which order are day"):
        to_tidy(understood)
    assert kept(read(AMBIGUOUS, answers=Answers(order=order)))[MAT][0][0] == f"{day}:00:00"


@pytest.mark.parametrize(
    ("days", "order"),
    [
        (["03/04/2027", "13/04/2027"], "dmy"),  # there is no thirteenth month
        (["03/04/2027", "03/13/2027"], "mdy"),
        (["03/04/2027", "04/04/2027", "05/04/2027"], "dmy"),  # three days, not three months
        (["03/04/2027", "03/05/2027", "03/06/2027"], "mdy"),
        (["11/12/28", "11/12/29", "11/12/30"], "ymd"),
    ],
)
def test_the_order_is_read_off_numbers_above_twelve_and_days_that_follow(
    days: list[str], order: str
) -> None:
    rows = [f"{day} {hour:02d}:00,21.5" for day in days for hour in (0, 6, 12, 18)]
    understood = read("\n".join(["time,heat mat soil °C", *rows]))
    assert (understood.order, asked(understood)) == (order, [])


def test_one_reading_a_month_does_not_decide_the_order() -> None:
    rows = [f"0{month}/04/2027 06:00,21.5" for month in (1, 2, 3)]
    assert asked(read("\n".join(["time,heat mat soil °C", *rows]))) == [
        ("order", "", ("dmy", "mdy"))
    ]


def test_dates_that_contradict_each_other_are_refused() -> None:
    rows = ["13/04/2027 06:00,21.5", "04/13/2027 06:00,21.5"]
    with pytest.raises(BadInputError, match="dates in one order of day and month"):
        read("\n".join(["time,heat mat soil °C", *rows]))


def test_an_order_that_the_dates_contradict_is_refused() -> None:
    text = "time,heat mat soil °C\n13/04/2027 06:00,21.5\n14/04/2027 06:00,21.5\n"
    with pytest.raises(BadInputError, match="order: found 'mdy', allowed: dmy"):
        read(text, answers=Answers(order="mdy"))


def test_a_last_row_torn_before_its_offset_costs_itself_alone() -> None:
    text = (
        "time,heat mat soil °C\n2027-03-20T05:00:00Z,21.5\n2027-03-20T05:10:00Z,21.6\n"
        "2027-03-20T05:20:00"
    )
    understood = read(text)
    assert [problem.line for problem in understood.problems] == [4]
    assert kept(understood) == {MAT: MORNING}


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


# Every half hour through the change of the clocks, as a logger that follows them writes it.
CHANGES = [
    (VIENNA, datetime(2027, 3, 28, tzinfo=UTC)),
    (VIENNA, datetime(2027, 10, 31, tzinfo=UTC)),
    ("America/New_York", datetime(2027, 3, 14, 6, tzinfo=UTC)),
    ("America/New_York", datetime(2027, 11, 7, 4, tzinfo=UTC)),
    ("Australia/Sydney", datetime(2027, 4, 3, 13, tzinfo=UTC)),
    ("Australia/Sydney", datetime(2027, 10, 2, 14, tzinfo=UTC)),
    ("Australia/Lord_Howe", datetime(2027, 4, 3, 13, tzinfo=UTC)),  # half an hour
]


@pytest.mark.parametrize(
    ("zone", "start", "minutes"),
    [
        (zone, start, minutes)
        for zone, start in CHANGES
        for minutes in ((5, 10, 30) if zone.endswith("Howe") else (5, 10, 30, 60, 180))
    ],
)
@pytest.mark.parametrize("newest_first", [False, True])
def test_wall_times_through_a_change_of_clocks_come_out_as_zoneinfo_made_them(
    zone: str, start: datetime, minutes: int, newest_first: bool
) -> None:
    moments = [start + timedelta(minutes=minutes * step) for step in range(-60, 60)]
    rows = [
        f"{moment.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M},{20 + place / 100:.2f}"
        for place, moment in enumerate(moments)
    ]
    rows = rows[::-1] if newest_first else rows
    understood = read("\n".join(["time,heat mat soil °C", *rows]), zone=zone)
    assert asked(understood) == []
    assert understood.problems == ()
    assert understood.newest_first is newest_first
    found = to_tidy(understood)["heat mat", "soil_c"]
    assert list(found.at_s) == [moment.timestamp() for moment in moments]


def test_the_doubled_hour_is_told_apart_for_each_sensor_by_itself() -> None:
    start = datetime(2027, 10, 30, 22, tzinfo=UTC)
    moments = [start + timedelta(minutes=20 * step) for step in range(18)]
    local = [f"{moment.astimezone(ZoneInfo(VIENNA)):%Y-%m-%d %H:%M}" for moment in moments]
    # One sensor after the other, and row by row in turn.
    apart = [f"{time},{name},21.5" for name in ("heat mat", "sill") for time in local]
    in_turn = [f"{time},{name},21.5" for time in local for name in ("heat mat", "sill")]
    for rows in (apart, in_turn):
        found = to_tidy(read("\n".join(["time,sensor,soil °C", *rows])))
        for name in ("heat mat", "sill"):
            assert list(found[name, "soil_c"].at_s) == [m.timestamp() for m in moments]


def clock_that_never_changes(day: str) -> str:
    rows = [f"{day} {h:02d}:{m:02d},21.5" for h in range(6) for m in (0, 20, 40)]
    return "\n".join(["time,heat mat soil °C", *rows])


def test_a_clock_that_was_not_put_forward_is_asked_about() -> None:
    text = clock_that_never_changes("2027-03-28")
    understood = read(text)
    assert asked(understood) == [("zone", "", ("+01:00", VIENNA))]
    assert "Line 8 and 2 more" in understood.questions[0].text
    winter = to_tidy(read(text, answers=Answers(zone="+01:00")))[MAT[0], "soil_c"]
    steps = {b - a for a, b in zip(winter.at_s, winter.at_s[1:], strict=False)}
    assert (len(winter), steps) == (18, {1200.0})
    # Held to the season's zone, the rows that no clock there can show are named and set aside.
    held = read(text, answers=Answers(zone=VIENNA))
    assert [problem.line for problem in held.problems] == [8, 9, 10]
    assert len(to_tidy(held)[MAT[0], "soil_c"]) == 15


def test_a_clock_that_was_not_put_back_is_asked_about() -> None:
    text = clock_that_never_changes("2027-10-31")
    assert asked(read(text)) == [("zone", "", ("+02:00", VIENNA))]
    summer = to_tidy(read(text, answers=Answers(zone="+02:00")))[MAT[0], "soil_c"]
    assert summer.at_s[-1] - summer.at_s[0] == 17 * 1200
    held = to_tidy(read(text, answers=Answers(zone=VIENNA)))[MAT[0], "soil_c"]
    assert held.at_s[-1] - held.at_s[0] == 17 * 1200 + 3600


def test_garbled_rows_are_named_and_cost_themselves_alone() -> None:
    text = (
        "time,heat mat soil °C,shelf 1 air °C\n"
        "2027-03-20 06:00,21.5,19\n"
        "2027-02-30 06:00,21.5,19\n"  # no such day
        "2000-01-01 00:00,21.5,19\n"  # the clock lost its time
        "Button pressed\n"
        "2027-03-20 06:05,2l.5,19.1\n"
        "2027-03-20 06:10,21.6,,,,7\n"  # too many fields
        "\n"
        "2027-03-20 06:10,21.6,--\n"
        "2027-03-2"
    )
    understood = read(text)
    assert sorted(problem.line or 0 for problem in understood.problems) == [3, 4, 5, 6, 7, 10]
    assert kept(understood) == {
        MAT: MORNING,
        ("shelf 1", "air_c"): [("2027-03-20 05:00:00", 19.0), ("2027-03-20 05:05:00", 19.1)],
    }


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


def long_file(rows: int, *, every: int = 1) -> str:
    start = datetime(2027, 1, 1, tzinfo=UTC)
    lines = [
        f"{start + timedelta(seconds=20 * place):%Y-%m-%d %H:%M:%S},{20 + place % 400 / 100:.2f}"
        for place in range(0, rows, every)
    ]
    return "\n".join(["time,heat mat soil °C", *lines])


def test_a_long_file_tells_how_far_it_is_and_loses_no_row_between_blocks() -> None:
    told: list[int] = []
    text = long_file(400_000)
    understood = understand(text.encode(), "long.csv", "UTC", None, STATIONS, told.append)
    assert len(told) > 2
    assert told == sorted(told)
    assert told[-1] == understood.rows == understood.readings == 400_000


def test_one_flaw_in_a_long_file_changes_no_other_reading() -> None:
    lines = long_file(200_000).split("\n")
    lines[150_000] = "2027-02-04 17:19:40,oops"
    understood = read("\n".join(lines), zone="UTC")
    assert [problem.line for problem in understood.problems] == [150_001]
    whole = to_tidy(read(long_file(200_000), zone="UTC"))["heat mat", "soil_c"]
    rest = to_tidy(understood)["heat mat", "soil_c"]
    assert list(rest.at_s) == [*whole.at_s[:149_999], *whole.at_s[150_000:]]
    assert list(rest.value) == [*whole.value[:149_999], *whole.value[150_000:]]


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


@settings(derandomize=True, deadline=None, max_examples=150)
@given(st.binary(max_size=400))
def test_any_bytes_are_refused_as_bad_input_or_understood(data: bytes) -> None:
    head = b"time,heat mat soil \xc2\xb0C\n2027-03-20 06:00,21.5\n"
    for whole in (data, head + data, data + b"\n" + head):
        try:
            understood = read(whole)
            if not understood.questions:
                write_tidy(marked(to_tidy(understood)), VIENNA)
        except BadInputError as error:
            assert error.problems


WRITTEN = st.sampled_from(
    [
        "time,heat mat soil °C\n2027-03-20T05:00:00Z,21.5\n2027-03-20T05:10:00Z,21.6\n",
        "Datum;Zeit;Boden heat mat (°C)\n20.03.2027;06:00;21,5\n20.03.2027;06:10;21,6\n",
        "time,sensor,type,value\n1805518800,heat mat,soil °F,70.7\n1805518800,sill,lux,900\n",
        '"#","Date","Soil heat mat, °F",\n1,"03/20/2027 06:00 AM",70.7,\n2,"x",70.88,\n',
    ]
)
DAMAGE = st.lists(
    st.tuples(
        st.integers(0, 120),
        st.integers(0, 12),
        st.sampled_from([b"", b",", b";", b"\n", b'"', b"\0", b"\xff", b"9", b"-", b"e99", b"Z"]),
    ),
    max_size=4,
)


@settings(derandomize=True, deadline=None, max_examples=250)
@given(WRITTEN, st.sampled_from(["utf-8", "utf-16", "cp1252"]), DAMAGE)
def test_a_damaged_file_is_refused_as_bad_input_or_what_is_left_survives_being_written(
    text: str, encoding: str, damage: list[tuple[int, int, bytes]]
) -> None:
    data = text.encode(encoding)
    for start, length, instead in damage:
        data = data[:start] + instead + data[start + length :]
    try:
        understood = read(data, answers=Answers(order="mdy"))
        readings = {} if understood.questions else marked(to_tidy(understood))
    except BadInputError as error:
        assert error.problems
    else:
        assert read_tidy(write_tidy(readings, VIENNA), "1.csv") == (readings, [])


FIELDS = st.one_of(
    st.sampled_from(
        ["2027-03-20 06:00", "03/04/27 6:00 PM", "20.03.2027", "06:00", "1805518800", "21,5"]
    ),
    st.sampled_from(["21.5", "-3", "°F", "", "NaN", "1e400", '"', "sensor", "soil °C", "68 °F"]),
    st.text(max_size=6),
)
TABLES = st.lists(st.lists(FIELDS, min_size=1, max_size=4), max_size=8)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(TABLES, st.sampled_from([",", ";", "\t"]), st.sampled_from([None, "dmy", "C"]))
def test_any_table_is_refused_as_bad_input_or_understood(
    rows: list[list[str]], separator: str, answer: str | None
) -> None:
    text = "\n".join(separator.join(row) for row in rows)
    answers = Answers(
        order="dmy" if answer == "dmy" else None,
        unit="C" if answer else None,
        station="sill" if answer else None,
        quantity="air_c" if answer else None,
    )
    try:
        understood = read(text, answers=answers)
        if not understood.questions:
            write_tidy(marked(to_tidy(understood)), VIENNA)
    except BadInputError as error:
        assert error.problems


CLEAN = st.lists(
    st.tuples(st.integers(0, 10**8), st.one_of(st.none(), st.integers(-4000, 9000)), st.booleans()),
    min_size=1,
    max_size=20,
)


@settings(derandomize=True, deadline=None)
@given(CLEAN)
def test_blocks_read_by_pandas_and_by_hand_are_alike(
    rows: list[tuple[int, int | None, bool]],
) -> None:
    start = datetime(2027, 1, 1, tzinfo=UTC)
    lines = ["time,heat mat soil °C,sill air °C", "2027-01-01 00:00:00,20.00,10.00"]
    for seconds, value, second in rows:
        stamp = f"{start + timedelta(seconds=seconds):%Y-%m-%d %H:%M:%S}"
        number = "" if value is None else f"{value / 100:.2f}"
        lines.append(f"{stamp},{number},{number if second else '--'}")
    by_pandas = read("\n".join(lines), zone="UTC")
    by_hand = read("\n".join([*lines, "", "2027-01-01 00:00:01,oops,oops"]), zone="UTC")
    assert len(by_hand.problems) == 1
    assert to_tidy(by_pandas) == to_tidy(by_hand)


def test_a_control_character_in_a_counting_column_ends_nothing() -> None:
    rows = "".join(f"2027-03-14 {hour:02d}:00,21.5,\x1d{hour}\n" for hour in range(5))
    found = read(f"Time,Soil temperature (°C),zz\n{rows}")
    assert found.rows == 5


@pytest.mark.parametrize("line", [2, 4, 7])  # the first row is no heading for it
@pytest.mark.parametrize("value", ["1e308", "9" * 39, "1e15"])
def test_a_number_that_no_sensor_shows_costs_its_row_alone(value: str, line: int) -> None:
    rows = [f"2027-03-14 {hour:02d}:00,{hour * 7}" for hour in range(6)]
    rows[line - 2] = f"{rows[line - 2].partition(',')[0]},{value}"
    found = read("\n".join(["Time,light (lux)", *rows, ""]))
    assert found.readings == 5
    assert [problem.line for problem in found.problems] == [line]
