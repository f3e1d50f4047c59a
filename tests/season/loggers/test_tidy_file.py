"""The tidy file: what is written is read again, and a garbled line costs itself alone."""

import subprocess
import sys
from array import array
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.sensor_faults import MARKS
from seedstart.season.loggers.series import QUANTITIES, Readings, Series, joined, marked, new_rows
from seedstart.season.loggers.tidy_file import HEADER, read_tidy, write_tidy
from seedstart.text import clean

GOOD = """\
time,station,quantity,value,mark
2027-03-20T06:00:00+01:00,heat mat,soil_c,24.1,
2027-03-20T06:10:00+01:00,heat mat,soil_c,85.0,power_on
2027-03-20T05:20:00Z,heat mat,soil_c,24.3,
2027-03-20T06:00:00+01:00,"shelf 2, left",rh_percent,61,
"""


def series(*readings: tuple[str, float], station: str = "heat mat") -> Readings:
    """Soil temperatures at one station, by times with an offset."""
    at = [datetime.fromisoformat(time).timestamp() for time, _ in readings]
    values = [value for _, value in readings]
    one = Series(station, "soil_c", array("d", at), array("d", values), bytes(len(readings)))
    return {(station, "soil_c"): one}


def test_a_tidy_file_is_read_by_station_and_quantity_in_order_of_time() -> None:
    readings, problems = read_tidy(GOOD.encode(), "readings/march.csv")
    assert problems == []
    assert list(readings) == [("heat mat", "soil_c"), ("shelf 2, left", "rh_percent")]
    mat = readings["heat mat", "soil_c"]
    assert [datetime.fromtimestamp(at, UTC).strftime("%H:%M") for at in mat.at_s] == [
        "05:00",
        "05:10",
        "05:20",
    ]
    assert mat.marks == ["", "power_on", ""]
    assert list(mat.good().value) == [24.1, 24.3]


# The shapes a power cut, a full disk or an editor may leave, and the line that is lost.
@pytest.mark.parametrize(
    ("line", "key", "found"),
    [
        ("2027-03-20T06:10:00+01:00,heat mat,soil_c,2", "", None),  # torn inside the value
        ("2027-03-20T06:10:00+01:00,heat m", "", None),
        ("2027-03-20T06:10:00,heat mat,soil_c,24.2,", "time", "T06:10:00"),
        ("2027-02-30T06:10:00Z,heat mat,soil_c,24.2,", "time", "2027-02-30"),
        ("2027-W11-6T06:10:00Z,heat mat,soil_c,24.2,", "time", "2027-W11-6"),
        ("2027-03-20T24:10:00Z,heat mat,soil_c,24.2,", "time", "T24:10:00Z"),
        ("2027-03-20T06:10:00+24:00,heat mat,soil_c,24.2,", "time", "T06:10:00+24:00"),
        ("2027-03-20T06:10:00Z,heat mat,soil_c,nan,", "value", "nan"),
        ("2027-03-20T06:10:00Z,heat mat,soil_c,1_0,", "value", "1_0"),
        ("2027-03-20T06:10:00Z,heat mat,soil_c,1e999,", "value", "1e999"),
        ("2027-03-20T06:10:00Z,heat mat,soil,24.2,", "quantity", "soil"),
        ("2027-03-20T06:10:00Z,heat mat,soil_c,24.2,good", "mark", "good"),
        ("2027-03-20T06:10:00Z, ,soil_c,24.2,", "station", " "),
        ('2027-03-20T06:10:00Z,"heat mat,soil_c,24.2,', "", None),
        ("\0\0\0\0\0\0", "", None),
    ],
)
def test_a_garbled_line_is_named_and_costs_itself_alone(
    line: str, key: str, found: str | None
) -> None:
    lines = GOOD.split("\n")
    text = "\n".join([*lines[:3], line, *lines[3:]])
    readings, problems = read_tidy(text.encode(), "readings/march.csv")
    assert readings == read_tidy(GOOD.encode(), "readings/march.csv")[0]
    assert [(problem.line, problem.key) for problem in problems] == [(4, key)]
    assert found is None or problems[0].found == found


def test_bytes_that_are_no_text_cost_their_line() -> None:
    lines = GOOD.encode().split(b"\n")
    lines.insert(2, b"2027-03-20T06:10:00Z,heat m\xff\xfet,soil_c,24.2,")
    readings, problems = read_tidy(b"\n".join(lines), "march.csv")
    assert readings == read_tidy(GOOD.encode(), "march.csv")[0]
    assert [problem.line for problem in problems] == [3]


def test_a_file_without_its_header_says_so_and_keeps_its_rows() -> None:
    rows = GOOD.split("\n", 1)[1].encode()
    readings, problems = read_tidy(rows, "march.csv")
    assert readings == read_tidy(GOOD.encode(), "march.csv")[0]
    assert [problem.key for problem in problems] == ["header"]
    assert read_tidy(b"", "march.csv")[1][0].allowed == (HEADER,)


def test_an_editor_that_saved_windows_line_ends_changes_nothing() -> None:
    changed = b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()
    assert read_tidy(changed, "march.csv") == read_tidy(GOOD.encode(), "march.csv")


def test_escapes_in_a_station_do_not_get_through() -> None:
    line = "2027-03-20T06:10:00Z,\x1b[31mheat\u202e mat,soil_c,24.2,"
    readings, _ = read_tidy(f"{HEADER}\n{line}\n".encode(), "march.csv")
    assert list(readings) == [("heat mat", "soil_c")]


def test_of_thousands_of_garbled_lines_the_first_five_are_named_and_the_rest_counted() -> None:
    text = HEADER + "\n" + "rubbish\n" * 5000
    _, problems = read_tidy(text.encode(), "march.csv")
    assert [problem.line for problem in problems] == [2, 3, 4, 5, 6]
    assert str(problems[4]).endswith("And 4995 more of this kind.")


@pytest.mark.parametrize("value", ["1e308", "-1e15", "nan", "inf", "9" * 300])
def test_a_number_that_no_sensor_shows_is_no_reading(value: str) -> None:
    row = f"2027-03-20T06:00:00+01:00,heat mat,lux,{value},\n"
    readings, (problem,) = read_tidy(f"{HEADER}\n{row}".encode(), "march.csv")
    assert readings == {}
    assert (problem.line, problem.key) == (2, "value")


@settings(derandomize=True, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_give_readings_and_problems_and_no_error(data: bytes) -> None:
    read_tidy(data, "march.csv")
    readings, _ = read_tidy(GOOD.encode() + data, "march.csv")
    # Whatever follows, at most the last line of a file may be run into.
    assert {("heat mat", "soil_c"), ("shelf 2, left", "rh_percent")} <= set(readings)


NAMES = st.text(max_size=12).map(lambda name: clean(name).strip()).filter(bool)
WRITTEN = st.dictionaries(
    st.tuples(NAMES, st.sampled_from(QUANTITIES)),
    st.dictionaries(
        st.integers(-2_000_000_000_000, 7_000_000_000_000),  # ms of the epoch: 1906 to 2191
        st.tuples(
            st.floats(-9e14, 9e14),
            st.integers(0, len(MARKS) - 1),
        ),
        min_size=1,
        max_size=6,
    ),
    max_size=4,
)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(WRITTEN, st.sampled_from(["Europe/Vienna", "America/St_Johns", "UTC", "+05:30"]))
def test_what_is_written_is_read_again(
    written: dict[tuple[str, str], dict[int, tuple[float, int]]], zone: str
) -> None:
    readings: Readings = {}
    for (station, quantity), rows in written.items():
        known = next(other for other in QUANTITIES if other == quantity)
        times = sorted(rows)
        readings[station, known] = Series(
            station,
            known,
            array("d", [ms / 1000 for ms in times]),
            array("d", [rows[ms][0] for ms in times]),
            bytes(rows[ms][1] for ms in times),
        )
    back, problems = read_tidy(write_tidy(readings, zone), "march.csv")
    assert problems == []
    assert set(back) == set(readings)
    for key, one in readings.items():
        assert [round(at * 1000) for at in back[key].at_s] == sorted(written[key])
        assert (back[key].value, back[key].mark) == (one.value, one.mark)


@pytest.mark.parametrize("zone", ["Europe/Vienna", "America/New_York", "Australia/Sydney"])
def test_times_are_written_as_zoneinfo_has_them_through_a_year(zone: str) -> None:
    start = datetime(2027, 1, 1, tzinfo=UTC).timestamp()
    at = [start + 1800 * step for step in range(2 * 24 * 365)]
    readings: Readings = {
        ("mat", "soil_c"): Series(
            "mat", "soil_c", array("d", at), array("d", [20.5] * len(at)), bytes(len(at))
        )
    }
    lines = write_tidy(readings, zone).decode().splitlines()[1:]
    assert [line.split(",")[0] for line in lines] == [
        datetime.fromtimestamp(moment, ZoneInfo(zone)).isoformat() for moment in at
    ]


def test_a_second_import_of_the_same_rows_adds_nothing() -> None:
    first = series(("2027-03-20T06:00:00+01:00", 24.1), ("2027-03-20T06:10:00+01:00", 24.2))
    # Written in another zone, and one row later.
    again = series(("2027-03-20T05:00:00+00:00", 24.1), ("2027-03-20T05:10:00+00:00", 24.2))
    more = series(("2027-03-20T05:10:00+00:00", 24.2), ("2027-03-20T05:20:00+00:00", 24.3))
    assert new_rows({}, first) == first
    assert new_rows(first, again) == {}
    assert list(new_rows(first, more)["heat mat", "soil_c"].value) == [24.3]
    other = series(("2027-03-20T06:00:00+01:00", 24.1), station="shelf 1")
    assert new_rows(first, other) == other


def test_files_that_overlap_are_joined_and_the_earlier_file_holds() -> None:
    late = series(("2027-03-20T07:00:00+01:00", 25.0), ("2027-03-20T08:00:00+01:00", 26.0))
    early = series(("2027-03-20T06:00:00+01:00", 24.0), ("2027-03-20T07:00:00+01:00", 9.0))
    (first,), (second,) = late.values(), early.values()
    both = joined("heat mat", (first, second))
    assert list(both.value) == [24.0, 25.0, 26.0]
    assert list(both.at_s) == sorted(both.at_s)


def test_marking_drops_nothing_and_marks_each_series_by_itself() -> None:
    warm = series(*[(f"2027-03-20T06:{m:02d}:00+01:00", v) for m, v in enumerate((24, 85, 24))])
    cold = series(
        *[(f"2027-03-20T06:{m:02d}:00+01:00", v) for m, v in enumerate((8, 8, 60))],
        station="sill",
    )
    found = marked(warm | cold)
    assert [list(one.value) for one in found.values()] == [[24, 85, 24], [8, 8, 60]]
    assert [one.marks for one in found.values()] == [["", "power_on", ""], ["", "", "range"]]
    assert marked({}) == {}


def test_reading_needs_neither_numpy_nor_pandas() -> None:
    program = (
        "import sys; from seedstart.season.loggers.tidy_file import read_tidy; "
        f"read_tidy({GOOD.encode()!r}, 'march.csv'); "
        "print([name for name in ('numpy', 'pandas') if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"
