"""Foreign logger files that are torn, garbled or long: what can be read is kept."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from season.loggers.foreign_files import MAT, MORNING, STATIONS, VIENNA, kept, read
from seedstart.problems import BadInputError
from seedstart.season.loggers.logger_file import to_tidy, understand
from seedstart.season.loggers.series import marked
from seedstart.season.loggers.sources import Answers
from seedstart.season.loggers.tidy_file import read_tidy, write_tidy


def test_a_last_row_torn_before_its_offset_costs_itself_alone() -> None:
    text = (
        "time,heat mat soil °C\n2027-03-20T05:00:00Z,21.5\n2027-03-20T05:10:00Z,21.6\n"
        "2027-03-20T05:20:00"
    )
    understood = read(text)
    assert [problem.line for problem in understood.problems] == [4]
    assert kept(understood) == {MAT: MORNING}


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


@pytest.mark.parametrize("value", ["1e308", "9" * 39, "1e15"])
def test_a_number_that_no_sensor_shows_costs_its_row_alone(value: str) -> None:
    rows = "".join(f"2027-03-14 {hour:02d}:00,{hour * 7}\n" for hour in range(5))
    found = read(f"Time,light (lux)\n{rows}2027-03-14 05:00,{value}\n")
    assert found.readings == 5
    assert [problem.line for problem in found.problems] == [7]
