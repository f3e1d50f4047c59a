from datetime import date
from typing import Any

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from season.crops_for_tests import CROPS
from seedstart.problems import BadInputError
from seedstart.season.plan.additions import check_lots
from seedstart.season.plan.lots import LOT_KEYS, Lot, LotTest, SeedAmount, add_lots, lot_block
from seedstart.season.plan.season_file import Season, read_season

SEASON = """\
timezone = "Europe/Vienna"
[[station]]
name = "heat mat"
kind = "mat"
[[station]]
name = "shelf 2"
kind = "shelf"
was = ["top shelf"]
"""
GOOD = """\
# All keys once.
[[lot]]
name = "pepper-long"
crop = "Capsicum"
variety = "Long red, own seed"
want = 12
sowings = 3
every = "2 weeks"
station = "Heat mat"
then = "top shelf"                  # as it was called last year
container = "Tray of 72"
ready = 2027-05-03
sow = ["2027-03-02", 2027-03-16]
soak = "1 day"
stratify = "4 weeks"
scarify = "yes"
depth = "0.5 in"
form = "pelleted"
germination = "85 %"
tests = [
  { on = 2027-01-10, seeds = 20, up = 17, where = "paper" },
  { on = "2027-01-20", seeds = 50, up = 50 },
]
harvested = "2019-2022"
have = "50 seeds"
from = "swap day"
was = ["pepper-l"]

[[lot]]
name = "leek"
crop = "leeks"
"""


def read(lots: str) -> Season:
    return read_season(SEASON.encode(), lots.encode(), CROPS)


def told(lots: str) -> list[str]:
    with pytest.raises(BadInputError, match=r"lots\.toml") as caught:
        read(lots)
    return [str(problem) for problem in caught.value.problems]


def test_lots_are_read_with_all_their_keys() -> None:
    assert read(GOOD).lots == (
        Lot(
            name="pepper-long",
            crop="pepper",
            variety="Long red, own seed",
            want=12,
            sowings=3,
            every_days=14,
            station="heat mat",
            then="shelf 2",
            container="tray of 72",
            ready=date(2027, 5, 3),
            sow=(date(2027, 3, 2), date(2027, 3, 16)),
            soak=24,
            stratify=28,
            scarify=True,
            depth_mm=12.7,
            form="pelleted",
            germination_percent=85,
            tests=(
                LotTest(date(2027, 1, 10), 20, 17, "paper"),
                LotTest(date(2027, 1, 20), 50, 50),
            ),
            harvested="2019-2022",
            have=SeedAmount(seeds=50),
            source="swap day",
            was=("pepper-l",),
        ),
        Lot(name="leek", crop="leek"),
    )


@pytest.mark.parametrize("said", ['"none"', '"no"', "0", "false"])
def test_a_treatment_that_the_grower_rules_out_is_not_the_same_as_one_left_to_the_crop(
    said: str,
) -> None:
    lot = read(f'[[lot]]\nname = "a"\ncrop = "leek"\nsoak = {said}\nstratify = {said}').lots[0]
    assert (lot.soak, lot.stratify, lot.scarify) == (0, 0, None)


@pytest.mark.parametrize(
    ("said", "seeds", "grams"),
    [
        ('"1 seed"', 1, None),
        ('"0 seeds"', 0, None),
        ('"2,5 g"', None, 2.5),
        ('"500 mg"', None, 0.5),
        ('"0.1 oz"', None, 2.8349523125),  # 1 oz = 28.349523125 g, agreement of 1959
    ],
)
def test_what_is_in_the_packet_is_counted_or_weighed(
    said: str, seeds: int | None, grams: float | None
) -> None:
    lot = read(f'[[lot]]\nname = "a"\ncrop = "leek"\nhave = {said}').lots[0]
    assert lot.have is not None
    assert lot.have.seeds == seeds
    assert lot.have.grams == (None if grams is None else pytest.approx(grams))


def test_days_of_its_own_are_as_many_sowings_as_there_are_days() -> None:
    lots = '[[lot]]\nname = "a"\ncrop = "leek"\nsow = [2027-03-02, 2027-03-09]'
    assert read(lots).lots[0].sowings == 2


LOT = '[[lot]]\nname = "a"\ncrop = "leek"\n'
FAULTS = {
    "[[lot]]\n": [
        "lots.toml, line 1, lot[1].name. It is missing: as on the label.",
        "lots.toml, line 1, lot[1].crop. It is missing: a crop of the crop table.",
    ],
    '[[lot]]\nname = "a"\ncrop = "peper"': [
        (
            "lots.toml, line 3, lot[1].crop (a): found 'peper', allowed: pepper, capsicum, leek,"
            " lettuce, tomato, snap bean, french bean, runner bean. Nearest: pepper."
        )
    ],
    LOT + '[[lot]]\nname = "b"\ncrop = "bean"': [
        (
            "lots.toml, line 6, lot[2].crop (b): found 'bean', allowed: runner bean, snap bean."
            " Nearest: snap bean. The name fits more than one crop."
        )
    ],
    LOT + 'station = "heat matt"': [
        (
            "lots.toml, line 4, lot[1].station (a): found 'heat matt', allowed: heat mat, shelf 2."
            " Nearest: heat mat."
        )
    ],
    LOT + 'then = "shelf2"': [
        (
            "lots.toml, line 4, lot[1].then (a): found 'shelf2', allowed: heat mat, shelf 2."
            " Nearest: shelf 2."
        )
    ],
    LOT + 'container = "tray of 73"': [
        (
            "lots.toml, line 4, lot[1].container (a): found 'tray of 73', allowed: tray"
            " of 24, tray of"
            " 38, tray of 50, tray of 72, tray of 128, tray of 200, tray of 288, 9 cm"
            " pot, seed tray,"
            " half seed tray. Nearest: tray of 72."
        )
    ],
    LOT + 'statoin = "heat mat"': [
        (
            "lots.toml, line 4, lot[1].statoin (a): found 'statoin'. Nearest: station, stratify"
            " (of 22)."
        )
    ],
    LOT + "sowings = 3": [
        (
            "lots.toml, line 4, lot[1].sowings (a): found '3'. Say the time between them, every ="
            ' "14 days", or give a day in sow for each.'
        )
    ],
    LOT + 'every = "14 days"': [
        "lots.toml, line 4, lot[1].every (a). Say how many with sowings = 3, or leave every out."
    ],
    LOT + 'sowings = 3\nevery = "a fortnight"': [
        (
            "lots.toml, line 5, lot[1].every (a): found 'a fortnight', allowed: a "
            "time, e.g. 14 days or"
            " 2 weeks."
        )
    ],
    LOT + "sowings = 1\nsow = [2027-03-02, 2027-03-09]": [
        "lots.toml, line 5, lot[1].sow (a). sow holds 2 days for 1 sowing."
    ],
    LOT + "sow = [\n  2027-03-09,\n  2027-03-02,\n]": [
        (
            "lots.toml, line 6, lot[1].sow[2] (a): found '2027-03-02'. It is not later"
            " than the sowing"
            " before it, 2027-03-09."
        )
    ],
    LOT + 'sow = "2027-03-09"': [
        "lots.toml, line 4, lot[1].sow (a): found '2027-03-09', allowed: a list in [ ]."
    ],
    LOT + "ready = 2027-13-01": [
        (
            "lots.toml, line 4, lot[1].ready (a): found '2027-13-01'. There is no month 13: write"
            " year-month-day, 2027-05-12."
        )
    ],
    LOT + "tests = [{ on = 2027-02-30, seeds = 20, up = 27 }]": [
        "lots.toml, line 4, lot[1].tests[1].on (a): found '2027-02-30'. February 2027 has 28 days.",
        "lots.toml, line 4, lot[1].tests[1].up (a): found '27'. More came up than the 20 tested.",
    ],
    LOT + "tests = [{ on = 2027-02-20, up = 7 }]": [
        "lots.toml, line 4, lot[1].tests[1].seeds (a). It is missing: how many seeds were tested."
    ],
    LOT + "want = true": [
        (
            "lots.toml, line 4, lot[1].want (a): found 'true', allowed: a whole number from 1 to"
            " 1000000."
        )
    ],
    LOT + 'soak = "a while"': [
        (
            "lots.toml, line 4, lot[1].soak (a): found 'a while', allowed: none, or a time up to "
            "10 days, e.g. 12 h."
        )
    ],
    LOT + "stratify = 28": [
        (
            "lots.toml, line 4, lot[1].stratify (a): found '28', allowed: none, or a time up to "
            "400 days, e.g. 4 weeks."
        )
    ],
    LOT + 'scarify = "a bit"': [
        "lots.toml, line 4, lot[1].scarify (a): found 'a bit', allowed: yes, none."
    ],
    LOT + 'depth = "12 cm"': [
        (
            "lots.toml, line 4, lot[1].depth (a): found '12 cm', allowed: a depth up to 10 "
            "cm, e.g. 12 mm or 0.5 in."
        )
    ],
    LOT + 'form = "pelletted"': [
        (
            "lots.toml, line 4, lot[1].form (a): found 'pelletted', allowed: natural, pelleted,"
            " primed, coated, treated. Nearest: pelleted."
        )
    ],
    LOT + "germination = 0.85": [
        (
            "lots.toml, line 4, lot[1].germination (a): found '0.85', allowed: a"
            " percentage from 0% to"
            " 100%, with its sign."
        )
    ],
    LOT + 'harvested = "2022-2019"': [
        (
            "lots.toml, line 4, lot[1].harvested (a): found '2022-2019', allowed: a"
            " year, a range of"
            ' years or unknown, e.g. "2024", "2019-2022".'
        )
    ],
    LOT + "have = 50": [
        (
            "lots.toml, line 4, lot[1].have (a): found '50', allowed: seeds or "
            "a mass, e.g. 50 seeds or"
            " 2.5 g."
        )
    ],
    '[[lot]]\nname = "leek/2"\ncrop = "leek"': [
        (
            "lots.toml, line 2, lot[1].name: found 'leek/2'. A lot's name does not end like /2:"
            " sowings are named so."
        )
    ],
    '[[lot]]\nname = "leek.1"\ncrop = "leek"': [
        (
            "lots.toml, line 2, lot[1].name: found 'leek.1'. A lot's name does not end like .1:"
            " sowings are named so."
        )
    ],
    '[[lot]]\nname = "leek #3"\ncrop = "leek"': [
        (
            "lots.toml, line 2, lot[1].name: found 'leek #3'. A lot's name holds no #:"
            " it sets off the"
            " id of a sowing."
        )
    ],
    # One name in capitals, and the two ways to write é.
    '[[lot]]\nname = "Caf\u00e9"\ncrop = "leek"\n[[lot]]\nname = "CAFE\u0301"\ncrop = "leek"': [
        (
            "lots.toml, line 5, lot[2].name (CAF\u00c9): found 'CAF\u00c9'. lot[1] has "
            "or had this name too: give each its own."
        )
    ],
    LOT + '[[lot]]\nname = "b"\ncrop = "leek"\nwas = ["c", "A"]': [
        (
            "lots.toml, line 7, lot[2].was (b): found 'A'. lot[1] has or had this name too: give"
            " each its own."
        )
    ],
    '[[lot]]\nname = "b"\ncrop = "leek"\nwas = ["a"]\n' + LOT: [
        (
            "lots.toml, line 6, lot[2].name (a): found 'a'. lot[1] has "
            "or had this name too: give"
            " each its own."
        )
    ],
    "lots = 3": ["lots.toml, line 1, lots: found 'lots', allowed: lot. Nearest: lot."],
    "lot = 3": ["lots.toml, line 1, lot: found '3', allowed: [[lot]]."],
    LOT + "every = 14 days": [
        (
            "lots.toml, line 4: found 'every = 14 days'. Put text in quotes, and each key on a"
            " line of its own (column 12)."
        )
    ],
    LOT + 'variety = "Long red': [
        "lots.toml, line 4: found 'variety = \"Long red'. The quote is not closed (column 20)."
    ],
    "x = " + "[" * 1000: [
        (
            "lots.toml. The file is not TOML as seedstart reads it: TOML inline arrays/tables are"
            " nested more than the allowed 400 levels."
        )
    ],
}


@pytest.mark.parametrize("written", FAULTS)
def test_a_fault_of_a_lot_is_told_to_the_letter(written: str) -> None:
    assert told(written) == FAULTS[written]


def test_a_station_cannot_be_named_where_the_season_lists_none() -> None:
    with pytest.raises(BadInputError, match=r"season\.toml lists no station") as caught:
        read_season(b'timezone = "Europe/Vienna"', (LOT + 'station = "mat"').encode(), CROPS)
    assert len(caught.value.problems) == 1


@settings(deadline=None, derandomize=True)
@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_no_bytes_of_lots_raise_anything_but_bad_input(lots: bytes) -> None:
    try:
        read_season(SEASON.encode(), lots, CROPS)
    except BadInputError as error:
        assert all(problem.file == "lots.toml" for problem in error.problems)


SCALARS = (
    st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=12)
    | st.dates()
    | st.datetimes()
    | st.sampled_from(["leek", "heat mat", "2027-03-12", "12/3/2027", "14 days", "50%", "9 seeds"])
)
TEST_KEYS = st.sampled_from(["on", "seeds", "up", "where", "other"])
VALUES = SCALARS | st.lists(
    SCALARS | st.dictionaries(TEST_KEYS, SCALARS, max_size=4) | st.lists(SCALARS, max_size=2),
    max_size=3,
)


@settings(deadline=None, derandomize=True)
@given(
    st.lists(st.dictionaries(st.sampled_from([*LOT_KEYS, "other"]), VALUES, max_size=9), max_size=3)
)
def test_no_values_of_lots_raise_anything_but_bad_input(lots: list[dict[str, object]]) -> None:
    written = "".join(lot_block(lot).decode() for lot in lots)
    assert len(tomli.loads(written).get("lot", [])) == len(lots)
    try:
        assert len(read(written).lots) == len(lots)
    except BadInputError as error:
        assert all(str(problem).startswith("lots.toml, line") for problem in error.problems)


def new_lot(number: int) -> dict[str, Any]:
    return {
        "name": f"new {number}",
        "crop": "leek",
        "variety": 'A "quoted" name, with \\ and é',
        "sow": [date(2027, 3, 2)],
        "sowings": 1,
        "tests": [{"on": date(2027, 1, 10), "seeds": 20, "up": 17, "where": "paper " * 30}],
        "then": None,
    }


def test_a_block_holds_no_table_of_its_own() -> None:
    written = lot_block(new_lot(1)).decode()
    assert [line for line in written.splitlines() if line.startswith("[")] == ["[[lot]]"]
    assert tomli.loads(written * 2)["lot"][1]["tests"][0]["up"] == 17


def test_what_is_written_is_read_as_it_was_meant() -> None:
    lots = read_season(SEASON.encode(), add_lots(b"", [new_lot(1)]), CROPS).lots
    assert (lots[0].variety, lots[0].tests[0].up) == ('A "quoted" name, with \\ and é', 17)


OLD_FILES = {
    "empty": b"",
    "comments": b"# my lots\n\n# end",
    "no last line end": GOOD.rstrip("\n").encode(),
    "windows": GOOD.replace("\n", "\r\n").encode(),
    "byte order mark": b"\xef\xbb\xbf" + GOOD.encode(),
    "only a byte order mark": b"\xef\xbb\xbf",
}


@pytest.mark.parametrize("old", OLD_FILES.values(), ids=OLD_FILES.keys())
def test_adding_keeps_every_old_byte_and_lot(old: bytes) -> None:
    before = read_season(SEASON.encode(), old, CROPS).lots
    once = add_lots(old, [new_lot(1)])
    twice = add_lots(once, [new_lot(2), new_lot(3)])
    assert once.startswith(old)
    assert twice.startswith(once)
    lots = read_season(SEASON.encode(), twice, CROPS).lots
    assert lots[: len(before)] == before
    assert [lot.name for lot in lots[len(before) :]] == ["new 1", "new 2", "new 3"]


def test_a_file_with_windows_line_ends_keeps_to_them() -> None:
    new = add_lots(OLD_FILES["windows"], [new_lot(1)])
    assert new.count(b"\n") == new.count(b"\r\n")


def test_nothing_to_add_changes_nothing() -> None:
    assert add_lots(b"# mine", []) == b"# mine"


@pytest.mark.parametrize(
    ("old", "text"),
    [
        (b"[[lot]\n", r"lots\.toml, line 1"),
        (b'lot = [{ name = "a" }]\n', "each lot must be under a \\[\\[lot\\]\\] of its own"),
        (b'[lot]\nname = "a"\n', "each lot must be under a \\[\\[lot\\]\\] of its own"),
        (b"[[lot]]\nready = 2027-02-30\n", "February 2027 has 28 days"),
        (b"# \xff\n", "not UTF-8"),
    ],
)
def test_nothing_is_added_to_a_file_that_would_not_hold_it(old: bytes, text: str) -> None:
    with pytest.raises(BadInputError, match=text):
        add_lots(old, [new_lot(1)])


TEXTS = st.text(max_size=30)


@settings(deadline=None, derandomize=True)
@given(
    st.lists(st.fixed_dictionaries({"name": TEXTS, "variety": TEXTS, "from": TEXTS}), max_size=3),
    st.sampled_from(sorted(OLD_FILES)),
)
def test_whatever_text_is_added_the_old_bytes_stay(new: list[dict[str, str]], old: str) -> None:
    added = add_lots(OLD_FILES[old], new)
    assert added.startswith(OLD_FILES[old])
    lots = tomli.loads(added.decode("utf-8-sig")).get("lot", [])
    assert len(lots) == GOOD.encode().count(b"[[lot]]") * (b"[[lot]]" in OLD_FILES[old]) + len(new)


def test_a_new_lot_is_checked_against_the_lots_there_are() -> None:
    season = read(GOOD)
    with pytest.raises(BadInputError, match="leek in") as caught:
        check_lots([{"name": "LEEK", "crop": "leak", "want": "some"}], season)
    assert [str(problem) for problem in caught.value.problems] == [
        (
            "new lot, crop: found 'leak', allowed: pepper, capsicum, leek, lettuce,"
            " tomato, snap bean,"
            " french bean, runner bean. Nearest: leek."
        ),
        "new lot, want: found 'some', allowed: a whole number from 1 to 1000000.",
        (
            "new lot, name: found 'LEEK'. leek in lots.toml has or had this name too: give each"
            " its own."
        ),
    ]


def test_a_new_lot_may_give_its_values_as_text() -> None:
    typed = {"name": "x", "crop": "leek", "want": "12", "ready": "3 May 2027", "station": None}
    (lot,) = check_lots([typed], read(GOOD))
    assert (lot.want, lot.ready) == (12, date(2027, 5, 3))


def test_every_key_of_a_lot_is_known_to_those_who_write_one() -> None:
    assert set(tomli.loads(GOOD)["lot"][0]) == set(LOT_KEYS)


def test_thousands_of_misspelt_crops_and_of_unknown_keys_are_told_in_a_few() -> None:
    lots = "".join(f'[[lot]]\nname = "n {n}"\ncrop = "leak{n}"\n' for n in range(3000))
    keys = "".join(f"odd_{number} = 1\n" for number in range(5000))
    with pytest.raises(BadInputError) as caught:
        read_season(SEASON.encode(), f"{keys}{lots}".encode(), CROPS)
    told = [str(problem) for problem in caught.value.problems]
    assert len(told) == 10
    assert told[4].endswith("And 4995 more of this kind.")
    assert told[9].endswith("Nearest: leek. And 2995 more of this kind.")


def test_a_hexadecimal_number_without_end_is_a_plain_problem() -> None:
    with pytest.raises(BadInputError, match="very many digits"):
        read_season(SEASON.encode(), f"[[lot]]\nname = 0x{'f' * 9000}".encode(), CROPS)


def test_names_that_look_alike_are_one_and_none_is_endless() -> None:
    names = ["zwsp", "zw\u200bsp", "zw\u00adsp", "zw\U000e0041sp", "x" * 70_000]
    lots = "".join(f'[[lot]]\nname = "{name}"\ncrop = "leek"\n' for name in names)
    with pytest.raises(BadInputError) as caught:
        read_season(SEASON.encode(), lots.encode(), CROPS)
    told = [str(problem) for problem in caught.value.problems]
    assert [text.split(",")[1] for text in told] == [" line 5", " line 8", " line 11", " line 14"]
    assert "A name has up to 100 characters" in told[3]
