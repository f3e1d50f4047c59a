from datetime import date
from zoneinfo import available_timezones

import pytest
import tomli
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from season.crops_for_tests import CROPS
from seedstart.problems import BadInputError
from seedstart.season.plan.season_file import Frost, Lamp, Season, Station, Tray, read_season
from seedstart.units import Temperatures

GOOD = """\
title = "Back room of the hut, spring 2027"
timezone = "Europe/Vienna"
units = "metric"
work_days = ["Sunday", "wed", "sat"]
away = [["2027-03-20", "2027-03-30"], [2027-04-02, 2027-04-02]]

[frost]
last = 2027-05-12
trust_percent = 10

[[station]]
name = "heat mat"
kind = "mat"
expected = 24
area = "1.2 x 0.5 m"
was = ["the mat"]
lamps = [
  { name = "LED", count = 2, watts = 20, ppf_umol_s = 54, length = "4 ft", height = 30, hours = 9 },
  { watts = 9.5 },
]

[[station]]
name = "shelf 2"
kind = "Shelf"
expected = "21C day, 14C night"

[[tray]]
name = "blue tray"
was = ["tray 1"]

[[container]]
name = "Tray of 72"
cells = 72
footprint = "50 x 30 cm"
"""


def read(season: str, lots: str = "") -> Season:
    return read_season(season.encode(), lots.encode(), CROPS)


def told(season: str | bytes, lots: str = "") -> list[str]:
    with pytest.raises(BadInputError, match=r"season\.toml|lots\.toml") as caught:
        read_season(season if isinstance(season, bytes) else season.encode(), lots.encode(), CROPS)
    return [str(problem) for problem in caught.value.problems]


def test_a_season_is_read_with_all_its_keys() -> None:
    season = read(GOOD)
    strip = Lamp("LED", 20, 54, 1.2192, 300, 9)
    assert season.title == "Back room of the hut, spring 2027"
    assert (season.zone, season.units) == ("Europe/Vienna", "metric")
    assert season.work_days == ("wed", "sat", "sun")
    assert season.away == (
        (date(2027, 3, 20), date(2027, 3, 30)),
        (date(2027, 4, 2), date(2027, 4, 2)),
    )
    assert season.frost == Frost(date(2027, 5, 12), risk_percent=50, tender_risk_percent=10)
    assert season.stations == (
        Station(
            "heat mat",
            "mat",
            Temperatures(24, 24),
            (1.2, 0.5),
            (strip, strip, Lamp(watts=9.5)),
            ("the mat",),
        ),
        Station("shelf 2", "shelf", Temperatures(21, 14)),
    )
    assert season.trays == (Tray("blue tray", ("tray 1",)),)


def test_a_container_of_the_season_takes_the_place_of_the_shipped_one() -> None:
    named = [one for one in read(GOOD).containers if one.name.casefold() == "tray of 72"]
    assert [(one.name, one.cells, one.footprint_m) for one in named] == [
        ("Tray of 72", 72, (0.5, 0.3))
    ]


def test_a_season_needs_no_more_than_its_time_zone() -> None:
    season = read('timezone = "Europe/Vienna"')
    assert (season.frost, season.stations, season.lots, season.work_days) == (None, (), (), ())


def test_bare_numbers_follow_the_units_of_the_season() -> None:
    season = read(
        'timezone = "America/Chicago"\nunits = "us"\n[frost]\nlast = 2027-05-12\nthreshold = 32\n'
        '[[station]]\nname = "mat"\nkind = "mat"\nexpected = 68\nlamps = [{ height = 12 }]\n'
    )
    assert season.frost is not None
    assert season.frost.threshold_c == 0.0
    assert season.stations[0].expected == Temperatures(20, 20)
    assert season.stations[0].lamps[0].height_mm == pytest.approx(304.8)  # 12 × 25.4 mm


def test_text_is_cleaned_where_it_enters() -> None:
    season = read('timezone = "Europe/Vienna"\ntitle = "a\\u001b[31mred\\u202e"')
    assert season.title == "ared"


# As a grower would write it, and what the grower is told, to the letter.
ZONE = 'timezone = "Europe/Vienna"\n'
MAT = ZONE + '[[station]]\nname = "mat"\n'
FAULTS = {
    'title = "x"': "season.toml, timezone. It is missing: an IANA time zone, e.g. Europe/Vienna.",
    'timezone = "Europe/Wien"': (
        "season.toml, line 1, timezone: found 'Europe/Wien', allowed: an IANA time zone, e.g."
        " Europe/Vienna. Nearest: Europe/Vienna."
    ),
    'timezone = "vienna"': (
        "season.toml, line 1, timezone: found 'vienna', allowed: an IANA time zone, e.g."
        " Europe/Vienna. Nearest: Europe/Vienna."
    ),
    'timezone = "../etc/passwd"': (
        "season.toml, line 1, timezone: found '../etc/passwd', allowed: an IANA time zone, e.g."
        " Europe/Vienna."
    ),
    ZONE + 'units = "metrik"': (
        "season.toml, line 2, units: found 'metrik', allowed: metric, us. Nearest: metric."
    ),
    ZONE + "farme = 1": (
        "season.toml, line 2, farme: found 'farme', allowed: title, timezone, units, work_days,"
        " away, frost, container, latitude, price_per_kwh, currency, station, tray."
    ),
    ZONE + "title = 12": "season.toml, line 2, title: found '12', allowed: text in quotes.",
    ZONE + 'work_days = ["wed", "wensday"]': (
        "season.toml, line 2, work_days[2]: found 'wensday', allowed: mon, tue, wed, thu, fri,"
        " sat, sun. Nearest: wed."
    ),
    ZONE + 'work_days = "wed"': (
        "season.toml, line 2, work_days: found 'wed', allowed: a list in [ ]."
    ),
    ZONE + 'away = [["2027-03-30", "2027-03-20"]]': (
        "season.toml, line 2, away[1]: found '[2027-03-30, 2027-03-20]'. The last day, 2027-03-20,"
        " lies before the first, 2027-03-30."
    ),
    ZONE + 'away = ["2027-03-30"]': (
        "season.toml, line 2, away[1]: found '2027-03-30', allowed: the first and the last day"
        ' away, e.g. ["2027-03-20", "2027-03-30"].'
    ),
    ZONE + "[frost]\nlast = 2027-02-30": (
        "season.toml, line 3, frost.last: found '2027-02-30'. February 2027 has 28 days."
    ),
    ZONE + "[frost]\nlast = 2027-5-2": (
        "season.toml, line 3: found '2027-5-2'. Write the day as 2027-05-02."
    ),
    ZONE + '[frost]\nlast = "5/12/2027"': (
        "season.toml, line 3, frost.last: found '5/12/2027'. It may be read in two ways: write"
        " 2027-12-05 or 2027-05-12."
    ),
    ZONE + "[frost]\nlast = 2027-05-12T06:00:00": (
        "season.toml, line 3, frost.last: found '2027-05-12 06:00:00'. Write the day without a"
        " time: 2027-05-12."
    ),
    ZONE + "[frost]\nlast = 0027-05-12": (
        "season.toml, line 3, frost.last: found '0027-05-12'. The year lies outside 1900 to 2200."
    ),
    ZONE + "[frost]\nrisk_percent = 20": (
        "season.toml, line 2, frost. Give the date of the last frost, last, or a record of daily"
        " minima."
    ),
    ZONE + '[frost]\nlast = 2027-05-12\nrecord = "weather/minima.csv"': (
        "season.toml, line 4, frost.record. Give last or record, not both: each says the date."
    ),
    ZONE + "[frost]\nlast = 2027-05-12\nrisk_percent = 150": (
        "season.toml, line 4, frost.risk_percent: found '150', allowed: a share of years in"
        " percent from 1 to 99."
    ),
    ZONE + "[frost]\nlast = 2027-05-12\ntrust_percent = nan": (
        "season.toml, line 4, frost.trust_percent: found 'nan', allowed: a share of years in"
        " percent from 1 to 99."
    ),
    ZONE + "[frost]\nlast = 2027-05-12\nthreshold = 32": (
        "season.toml, line 4, frost.threshold: found '32', allowed: a temperature from "
        "-10C to 10C, e.g. 0C."
    ),
    ZONE + "frost = 2027-05-12": (
        "season.toml, line 2, frost: found '2027-05-12', allowed: [frost]."
    ),
    ZONE + '[station]\nname = "mat"\nkind = "mat"': (
        "season.toml, line 2, station: found 'one table'. Write it as [[station]]."
    ),
    ZONE + '[[station]]\nkind = "mat"': (
        "season.toml, line 2, station[1].name. It is missing: what you call this place."
    ),
    MAT + 'kind = "shelv"': (
        "season.toml, line 4, station[1].kind (mat): found 'shelv', allowed: shelf, bench, mat,"
        " sill, propagator, cabinet, fridge, greenhouse, tunnel, frame, outdoors. Nearest: shelf."
    ),
    MAT + 'kind = "mat"\nexpected = "240C"': (
        "season.toml, line 5, station[1].expected (mat): found '240C', allowed: a temperature from"
        " -40C to 60C (24C?)."
    ),
    MAT + 'kind = "mat"\narea = "1.2 x 0.5"': (
        "season.toml, line 5, station[1].area (mat): found '1.2 x 0.5', allowed: length and width"
        " with a unit (mm, cm, m, in, ft), e.g. 1.2 x 0.5 m."
    ),
    MAT + 'kind = "mat"\nlamps = [\n  { watts = 20 },\n  { wats = 20 },\n]': (
        "season.toml, line 7, station[1].lamps[2].wats (mat): found 'wats'. Nearest: watts (of"
        " 17; `docs/formats.md` has them)."
    ),
    MAT + 'kind = "mat"\nlamps = [{ hours = 25 }]': (
        "season.toml, line 5, station[1].lamps[1].hours (mat): found '25', allowed: hours a day"
        " from 0 to 24."
    ),
    MAT + 'kind = "mat"\n[[station]]\nname = " MAT"\nkind = "mat"': (
        "season.toml, line 6, station[2].name (MAT): found 'MAT'. station[1] has "
        "or had this name too: give each its own."
    ),
    MAT + 'kind = "mat"\n[[tray]]\nname = "A"\nwas = ["mat"]': (
        "season.toml, line 7, tray[1].was (A): found 'mat'. station[1] has or had this name"
        " too: give each its own."
    ),
    ZONE + '[[container]]\nname = "p"\ncells = 2.5\nfootprint = "5 x 5 cm"': (
        "season.toml, line 4, container[1].cells (p): found '2.5', allowed: a whole number from 0"
        " to 2000."
    ),
    ZONE + '[[container]]\nname = "p"\ncells = 6\nfootprint = "54 x 28 m"': (
        "season.toml, line 5, container[1].footprint (p): found '54 x 28 m', allowed: length and"
        " width from 1 cm to 3 m."
    ),
    ZONE + "title = hut": (
        "season.toml, line 2: found 'title = hut'. Put text in quotes, a list in [ ] (column 9)."
    ),
    ZONE + "title = “hut”": (
        "season.toml, line 2: found 'title = “hut”'. TOML needs straight quotes:"
        ' write " (column 9).'
    ),
    ZONE + ZONE: (
        "season.toml, line 2: found 'timezone = \"Europe/Vienna\"'. The key is here twice"
        " (column 27)."
    ),
}


@pytest.mark.parametrize("written", FAULTS)
def test_a_fault_of_the_season_is_told_to_the_letter(written: str) -> None:
    assert told(written) == [FAULTS[written]]


def test_all_faults_of_both_files_are_told_at_once() -> None:
    season = 'timezone = "Europe/Wien"\n[frost]\nlast = 2027-02-30\n[[station]]\nname = "m"\n'
    lots = '[[lot]]\nname = "a"\ncrop = "leek"\nstation = "n"\nwant = 0\n'
    places = [text.split(":")[0].split(".toml, ")[1] for text in told(season, lots)]
    assert places == [
        "line 1, timezone",
        "line 3, frost.last",
        "line 4, station[1].kind (m). It is missing",
        "line 4, lot[1].station (a)",
        "line 5, lot[1].want (a)",
    ]


def test_a_broken_season_file_does_not_hide_the_faults_of_the_lots() -> None:
    lots = '[[lot]]\nname = "a"\ncrop = "leek"\nstation = "anywhere"\nwant = 0\n'
    assert told("title = ", lots)[1:] == [
        "lots.toml, line 5, lot[1].want (a): found '0', allowed: a whole number from 1 to 1000000."
    ]


@pytest.mark.parametrize(
    ("data", "text"),
    [
        (
            b'a = 1\nb = "\xe4"',
            (
                "season.toml, line 2: found 'byte E4'. The file is not UTF-8: save "
                "it again as UTF-8."
            ),
        ),
        (
            'title = "x"'.encode("utf-16"),
            (
                "season.toml, line 1: found 'byte FF'. The file is not UTF-8: save "
                "it again as UTF-8."
            ),
        ),
    ],
)
def test_a_file_in_another_encoding_is_named_with_its_line(data: bytes, text: str) -> None:
    assert told(data) == [text]


def test_a_byte_order_mark_and_windows_line_ends_change_nothing() -> None:
    marked = b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()
    assert read_season(marked, b"", CROPS) == read(GOOD)


def test_every_zone_of_the_iana_list_is_taken() -> None:
    assert {read(f'timezone = "{zone}"').zone for zone in available_timezones()} == (
        available_timezones()
    )


@settings(deadline=None, derandomize=True)
@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode), st.binary(max_size=60))
def test_no_bytes_raise_anything_but_bad_input(season: bytes, lots: bytes) -> None:
    try:
        read_season(season, lots, CROPS)
    except BadInputError as error:
        assert error.problems


SCALARS = (
    st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=12)
    | st.dates()
    | st.datetimes()
    | st.times()
    | st.sampled_from(["24C", "2027-03-12", "12/3", "1 x 2 m", "14 days", "50%", "mat"])
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)
WORDS = st.sampled_from(
    [
        "title",
        "timezone",
        "units",
        "work_days",
        "away",
        "frost",
        "station",
        "container",
        "tray",
        "name",
        "kind",
        "expected",
        "area",
        "lamps",
        "was",
        "last",
        "risk_percent",
        "tender_risk_percent",
        "record",
        "threshold",
        "cells",
        "footprint",
        "cell_ml",
    ]
)
TABLES = st.dictionaries(WORDS, VALUES | st.lists(st.dictionaries(WORDS, VALUES)), max_size=6)


@settings(deadline=None, derandomize=True)
@given(TABLES, st.dictionaries(WORDS, VALUES, max_size=4))
def test_no_values_raise_anything_but_bad_input(
    values: dict[str, object], frost: dict[str, object]
) -> None:
    written = tomli_w.dumps(values | ({"frost": frost} if "frost" in values else {}))
    tomli.loads(written)
    try:
        read_season(written.encode(), b"", CROPS)
    except BadInputError as error:
        assert all(str(problem).startswith("season.toml") for problem in error.problems)
