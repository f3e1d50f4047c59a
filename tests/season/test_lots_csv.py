from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from season.crops_for_tests import CROPS
from seedstart.problems import BadInputError
from seedstart.season.plan.lot import SeedAmount
from seedstart.season.plan.lots import add_lots
from seedstart.season.plan.lots_csv import LotsFromCsv, read_lots_csv
from seedstart.season.plan.season_file import read_season

SEASON_TOML = b'timezone = "Europe/Vienna"\n[[station]]\nname = "heat mat"\nkind = "mat"\n'
OLD_LOTS = b'# mine\n[[lot]]\nname = "old leek"\ncrop = "leek"\nwas = ["older leek"]\n'
SEASON = read_season(SEASON_TOML, OLD_LOTS, CROPS)


def read(text: str, mapping: dict[str, str] | None = None) -> LotsFromCsv:
    return read_lots_csv(text.encode(), SEASON, mapping)


def told(text: str, mapping: dict[str, str] | None = None) -> list[str]:
    with pytest.raises(BadInputError, match=r"lots\.csv") as caught:
        read(text, mapping)
    return [str(problem) for problem in caught.value.problems]


LIST = '''\
Label;Vegetable;Varity;Plants;Supplier;Germination %;Sow on;Ready by;Seeds;Notes
P1;peppers;"Long; red ""own""";12;=SUM(A1);85;2027-03-02, 2027-03-20;;50;@home

P2;leeks;Grün;;;;;3 May 2027;;
'''


def test_a_list_is_read_as_a_spreadsheet_saves_it() -> None:
    found = read(LIST)
    assert found.keys == (
        {
            "name": "P1",
            "crop": "peppers",
            "variety": 'Long; red "own"',
            "want": 12,
            "from": "=SUM(A1)",
            "germination": "85%",
            "sow": [date(2027, 3, 2), date(2027, 3, 20)],
            "have": "50 seeds",
        },
        {"name": "P2", "crop": "leeks", "variety": "Grün", "ready": date(2027, 5, 3)},
    )
    assert [(lot.name, lot.crop) for lot in found.lots] == [("P1", "pepper"), ("P2", "leek")]
    assert found.lots[0].have == SeedAmount(seeds=50)
    assert found.unmapped == ("Notes",)
    assert {column.head: (column.key, column.by) for column in found.columns} == {
        "Label": ("name", "other word"),
        "Vegetable": ("crop", "other word"),
        "Varity": ("variety", "near"),
        "Plants": ("want", "other word"),
        "Supplier": ("from", "other word"),
        "Germination %": ("germination", "other word"),
        "Sow on": ("sow", "other word"),
        "Ready by": ("ready", "other word"),
        "Seeds": ("have", "other word"),
    }


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1", "cp1252", "utf-16"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_encoding_and_line_ends_make_no_difference(encoding: str, line_end: str) -> None:
    data = LIST.replace("\n", line_end).encode(encoding)
    assert read_lots_csv(data, SEASON) == read(LIST)


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_commas_semicolons_and_tabs_part_the_cells(sign: str) -> None:
    rows = [["name", "crop", "want"], ["a", "leek", "3"]]
    found = read("\n".join(sign.join(row) for row in rows))
    assert found.keys == ({"name": "a", "crop": "leek", "want": 3},)


def test_a_first_line_that_names_the_sign_is_heard_and_is_no_row() -> None:
    assert told("sep=,\nname,crop\na,leak\n")[0].startswith("lots.csv, row 2, crop (a): found")


def test_what_the_grower_maps_goes_before_what_the_heads_say() -> None:
    text = "name,crop,Packet,Seeds,Year\nmine,leek,P7,12,2024\n"
    found = read(text, {"Packet": "name", "Seeds": "want", "year": ""})
    assert found.keys == ({"crop": "leek", "name": "P7", "want": 12},)
    assert found.unmapped == ("name", "Year")


def test_all_faults_of_all_rows_are_told_at_once() -> None:
    text = (
        "name,crop,station,want,germination\n"
        "older leek,leek,heat matt,,\n"
        "b,leke,heat mat,many,0.85\n"
        "\n"
        "B,,,,,too much\n"
        ",leek,,,\n"
    )
    assert told(text) == [
        (
            "lots.csv, row 5: found '6 cells', allowed: 5 cells, as there are heads. Put "
            "a cell that contains the separator in quotes."
        ),
        (
            "lots.csv, row 2, station (older leek): found 'heat matt', allowed: heat mat. Nearest:"
            " heat mat."
        ),
        (
            "lots.csv, row 2, name (older leek): found 'older leek'. old leek in lots.toml has "
            "or had this name too: give each its own."
        ),
        (
            "lots.csv, row 3, crop (b): found 'leke', allowed: pepper, capsicum, leek, lettuce,"
            " tomato, snap bean, french bean, runner bean. Nearest: leek."
        ),
        "lots.csv, row 3, want (b): found 'many', allowed: a whole number from 1 to 1000000.",
        (
            "lots.csv, row 3, germination (b): found '0.85', allowed: a percentage from 0% to 100%,"
            " with its sign."
        ),
        "lots.csv, row 5, crop (B). It is missing: a crop of the crop table.",
        (
            "lots.csv, row 5, name (B): found 'B'. row 3 has or had this name too: give each its"
            " own."
        ),
        "lots.csv, row 6, name. It is missing: as on the label.",
    ]


@pytest.mark.parametrize(
    ("text", "mapping", "faults"),
    [
        ("", {}, ["lots.csv. The file is empty."]),
        (
            "a,b\n1,2\n",
            {},
            [
                "lots.csv, row 1. No column is taken for name: say which of these holds it: a, b.",
                "lots.csv, row 1. No column is taken for crop: say which of these holds it: a, b.",
            ],
        ),
        (
            "name,label,crop\na,b,leek\n",
            {},
            ["lots.csv, row 1: found 'label'. 'name' is taken for name too: say which it is."],
        ),
        (
            "name,crop\na,leek\n",
            {"Nme": "variety", "crop": "varity"},
            [
                "lots.csv, row 1: found 'Nme', allowed: name, crop. Nearest: name.",
                ("lots.csv, row 1, crop: found 'varity'. Nearest: variety, scarify (of 21)."),
            ],
        ),
        (
            'name,crop\n"a,leek\n',
            {},
            ["lots.csv, row 2. The row cannot be taken apart: unexpected end of data."],
        ),
    ],
)
def test_a_fault_of_the_heads_is_told_to_the_letter(
    text: str, mapping: dict[str, str], faults: list[str]
) -> None:
    assert told(text, mapping) == faults


def test_escapes_in_a_cell_do_not_reach_a_screen() -> None:
    found = read("name,crop,variety\n\x1b[31ma\u202e,leek,=cmd|' /C calc'!A0\n")
    assert found.keys == ({"name": "a", "crop": "leek", "variety": "=cmd|' /C calc'!A0"},)


def test_a_list_is_added_in_one_go_and_read_again() -> None:
    found = read(LIST)
    lots = read_season(SEASON_TOML, add_lots(OLD_LOTS, found.keys), CROPS).lots
    assert lots == (*SEASON.lots, *found.lots)


def test_of_500_rows_with_one_kind_of_fault_five_are_told_and_the_others_counted() -> None:
    rows = "".join(f"lot {number},leak{number},12\n" for number in range(500))
    said = told("name,crop,want\n" + rows + "one more,leek,a lot\n")
    assert len(said) == 6
    assert said[4].endswith("And 495 more of this kind.")
    assert said[5].startswith("lots.csv, row 502, want (one more): found 'a lot'")


@settings(deadline=None, derandomize=True)
@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda x: f"name,crop\n{x}".encode()))
def test_no_bytes_raise_anything_but_bad_input(data: bytes) -> None:
    try:
        found = read_lots_csv(data, SEASON)
    except BadInputError as error:
        assert error.problems
    else:
        assert len(found.keys) == len(found.lots)


def test_heads_as_seed_libraries_write_them_and_dates_with_full_stops_are_read() -> None:
    text = (
        "Label No.,Crop name,Germ. %,Supplier / Donor,Weight (g),Sow\n"
        'A1,leek,"87,5",Anna,"6,90",2.3.2027\n'
    )
    (one,) = read(text).lots
    assert (one.name, one.crop, one.source) == ("A1", "leek", "Anna")
    assert one.germination_percent == 87.5
    assert one.have == SeedAmount(grams=6.9)
    assert one.sow == (date(2027, 3, 2),)


def test_the_unit_of_a_head_stays_where_the_grower_maps_it() -> None:
    (one,) = read('name,crop,Weight (g)\na,leek,"6,90"\n', {"Weight (g)": "have"}).lots
    assert one.have == SeedAmount(grams=6.9)


def test_a_date_that_may_be_read_in_two_ways_goes_by_the_order_that_is_told() -> None:
    text = "name,crop,sow\na,leek,2/3/2027\n"
    (one,) = read_lots_csv(text.encode(), SEASON, order="mdy").lots
    assert one.sow == (date(2027, 2, 3),)
    assert any("two ways" in one for one in told(text))


def test_a_spreadsheets_own_file_is_refused_as_what_it_is() -> None:
    with pytest.raises(BadInputError, match="save the sheet as CSV"):
        read_lots_csv(b"PK\x03\x04\x14\0\x06\0", SEASON)
