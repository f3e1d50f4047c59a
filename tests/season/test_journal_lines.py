"""Lines ⇄ entries: what is no entry costs itself alone, and says so."""

import gc
import json
from dataclasses import dataclass
from datetime import datetime
from types import FrameType
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from season.entries_for_tests import KNOWN_ENTRIES, an_id, at, line
from seedstart.problems import BadInputError
from seedstart.season.journal import journal_lines
from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Entry,
    Measured,
    Noted,
    Planned,
    Plant,
    Stamp,
    Watered,
)
from seedstart.season.journal.journal_lines import encode, read_blocks, stamped
from seedstart.text import clean

FILE = "journal/bench.jsonl"
ONE, TWO, THREE = (line("noted", number, text=f"note {number}") for number in (1, 2, 3))


@dataclass
class Found:
    """What a file holds: the numbers of the ids, and problems as they are shown."""

    numbers: list[int]
    problems: list[str]


def read(data: bytes, first_line: int = 1) -> tuple[list[Entry], list[str]]:
    blocks = list(read_blocks(data, FILE, first_line))
    problems = [str(problem) for block in blocks for problem in block.set_aside]
    return [entry for block in blocks for entry in block.entries], problems


def found(data: bytes) -> Found:
    entries, problems = read(data)
    return Found([int(entry.id[-12:], 16) for entry in entries], problems)


@pytest.mark.parametrize(
    ("data", "numbers"),
    [
        (b"", []),
        (b"\n\n", []),
        (ONE + TWO, [1, 2]),
        (ONE + b"\n  \n" + TWO, [1, 2]),
        (ONE + TWO.rstrip(), [1, 2]),
        (b"\xef\xbb\xbf" + ONE + TWO, [1, 2]),
        (ONE + b"\xef\xbb\xbf" + TWO, [1, 2]),
        ((ONE + TWO).replace(b"\n", b"\r\n"), [1, 2]),
        (ONE.rstrip() + TWO, [1, 2]),
        (ONE + b"\0" * 512 + TWO, [1, 2]),
        (ONE.replace(b"note", "no\u2028te".encode()) + TWO, [1, 2]),
    ],
)
def test_what_does_no_harm_is_passed_over(data: bytes, numbers: list[int]) -> None:
    assert found(data) == Found(numbers, [])


@pytest.mark.parametrize("year", [1900, 2200])
def test_the_first_and_the_last_year_that_a_day_may_have_are_read(year: int) -> None:
    assert found(line("noted", 1, text="old", at=f"{year}-06-01T08:00:00Z")) == Found([1], [])


@pytest.mark.parametrize("year", [1899, 2201])
def test_a_year_before_or_after_those_is_set_aside(year: int) -> None:
    garbled = found(line("noted", 1, text="x", at=f"{year}-06-01T08:00:00Z"))
    assert garbled.numbers == []
    assert "1900 to 2200" in garbled.problems[0]


TORN = "It is torn or garbled and counts for nothing; the other lines do."


@pytest.mark.parametrize(
    ("garbled", "said"),
    [
        (b'{"kind":"coun', f"""found '{{"kind":"coun'. {TORN}"""),
        (b'{"kind":"noted","id":7,"te', f"""found '{{"kind":"noted","id":7,"te'. {TORN}"""),
        (b"\xff\xfe", f"found '��'. {TORN}"),
        (b"[" * 9999, f"found '{'[' * 59}…'. {TORN}"),
        (b'{"kind":"read","value":1e999}', f"""found '{{"kind":"read","value":1e999}}'. {TORN}"""),
        (b"7", "found '7', allowed: an object in braces."),
        (b"\0\0\0", "A power cut left 3 empty bytes here; the other lines count."),
        (
            b"<<<<<<< HEAD",
            (
                "found '<<<<<<< HEAD'. A merge left this mark: delete the line; the lines "
                "around it count."
            ),
        ),
        (
            b"=======",
            "found '======='. A merge left this mark: delete the line; the lines around it count.",
        ),
        (b"{}", "kind. It is missing."),
    ],
)
def test_a_garbled_line_is_named_and_costs_itself_alone(garbled: bytes, said: str) -> None:
    (problem,) = found(ONE + garbled + b"\n" + TWO).problems
    assert problem.removeprefix(f"{FILE}, line 2").lstrip(":., ") == said
    assert found(ONE + garbled + b"\n" + TWO).numbers == [1, 2]


@pytest.mark.parametrize("number", [1, 2])
def test_a_last_line_torn_at_any_byte_costs_itself_alone(number: int) -> None:
    last = (
        line("noted", 2, text="leggy – turn it")
        if number == 2
        else encode(
            [Counted(id=an_id(2), at=at("08:00+01:00"), by="bench", sowing="Möhre", standing=18)]
        )
    )
    for cut in range(1, len(last) - 1):
        assert found(ONE + last[:cut]).numbers == [1]
        assert len(found(ONE + last[:cut]).problems) == 1
        # The next writer begins with a line end.
        later = found(ONE + last[:cut] + b"\n" + THREE)
        assert later.numbers == [1, 3]
        assert later.problems[0].startswith(f"{FILE}, line 2")
        # One that does not know of it writes on.
        assert found(ONE + last[:cut] + THREE).numbers == [1, 3]


JUNK = st.binary(max_size=60) | st.builds(
    lambda good, at, byte: good[:at] + byte + good[at + 1 :],
    st.sampled_from([TWO, line("counted", 2, sowing="leek", standing=3)]),
    st.integers(0, 150),
    st.binary(max_size=2),
)


@settings(derandomize=True, deadline=None)
@given(JUNK)
def test_no_junk_costs_the_lines_around_it(junk: bytes) -> None:
    entries, _ = read(ONE + junk.replace(b"\n", b"") + b"\n" + THREE)
    assert (entries[0].id, entries[-1].id) == (an_id(1), an_id(3))


@pytest.mark.parametrize(
    "spread", [TWO.replace(b", ", b",\n"), ONE.rstrip() + THREE + TWO.replace(b", ", b",\n", 1)]
)
def test_an_object_on_several_lines_is_no_entry(spread: bytes) -> None:
    assert 2 not in found(ONE + spread).numbers


@pytest.mark.parametrize("block_bytes", [1, 400, 1 << 20])
def test_lines_are_counted_through_blocks_of_any_size(
    block_bytes: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_lines, "_BLOCK_BYTES", block_bytes)
    data = b"".join(b"torn\n" if n % 10 == 9 else line("noted", n, text="x") for n in range(30))
    entries, problems = read(data, first_line=101)
    assert len(entries) == 27
    assert [problem.split(":")[0] for problem in problems] == [
        f"{FILE}, line {number}" for number in (110, 120, 130)
    ]


# Text as other tools write it: with escapes or without.
@settings(derandomize=True, deadline=None)
@given(st.text(min_size=1).filter(clean), st.booleans())
def test_all_text_is_clean_once_it_is_read(text: str, ascii_only: bool) -> None:
    values = json.loads(ONE) | {"text": text}
    written = json.dumps(values, ensure_ascii=ascii_only).encode("utf-8", "surrogatepass")
    entries, _ = read(ONE + written + b"\n" + THREE)
    assert [entry.text for entry in entries if isinstance(entry, Noted)] in (
        ["note 1", clean(text), "note 3"],
        ["note 1", "note 3"] if any("\ud800" <= sign <= "\udfff" for sign in text) else None,
    )


@pytest.mark.parametrize(
    "text",
    [
        "\x1b[31mred",
        "a\u202eb",
        "tab\there",
        "e\u0301",
        "\x7f",
        "\u1112\u1161\u11ab",
        "\x9b1m",
        '\\"\\\\\n',
    ],
)
@pytest.mark.parametrize("ascii_only", [True, False])
def test_what_a_terminal_would_obey_does_not_get_through(text: str, ascii_only: bool) -> None:
    values = json.loads(ONE) | {"text": f"x{text}", "sowing": f"leek{text}"}
    (entry,), _ = read(json.dumps(values, ensure_ascii=ascii_only).encode() + b"\n")
    assert isinstance(entry, Noted)
    assert (entry.text, entry.sowing) == (clean(f"x{text}"), clean(f"leek{text}"))
    assert entry.text != f"x{text}"


def test_a_name_of_which_nothing_is_left_is_no_name() -> None:
    assert found(ONE + line("noted", 2, text="x", tray="\x1b[0m")) == Found(
        [1], [f"{FILE}, line 2, tray: found '', allowed: text in quotes, 1 or more characters."]
    )


@settings(derandomize=True, deadline=None)
@given(st.lists(KNOWN_ENTRIES))
def test_entries_are_read_as_they_were_written(entries: list[Entry]) -> None:
    again, problems = read(encode(entries))
    assert problems == []
    assert [repr(entry) for entry in again] == [repr(entry) for entry in entries]


def test_a_line_is_short_and_its_fields_stand_in_order() -> None:
    counted = Counted(id=an_id(1), at=at("08:00+01:00"), by="bench", sowing="leek", standing=18)
    assert encode([counted]) == (
        b'{"kind":"counted","id":"019596d8-1c00-7000-8000-000000000001",'
        b'"at":"2027-03-14T08:00:00+01:00","by":"bench","sowing":"leek","standing":18}\n'
    )


NAN = float("nan")
STAMPED: Stamp = {"id": an_id(1), "at": at("08:00+01:00"), "by": "bench"}


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (Watered(**STAMPED, tray="1", ml=NAN), "a number; NaN and infinity are none"),
        (Watered(**STAMPED, tray="1", ml=float("inf")), "a number; NaN and infinity are none"),
        (
            Measured(**STAMPED, sowing="leek", plants=(Plant(height_mm=NAN, diameter_mm=1),)),
            "a number; NaN and infinity are none",
        ),
        (Planned(**STAMPED, lot="leek", to={"x": NAN}, said={}), "a number; NaN and infinity"),
        (Counted(**STAMPED, sowing="leek", standing=-1), "standing: found '-1'"),
        (Counted(**BLANK, sowing="leek", standing=1), "id: found ''"),
        (Noted(**STAMPED, text="\x1b[0m"), "text: found"),
    ],
)
def test_what_could_not_be_read_again_is_not_written(entry: Entry, said: str) -> None:
    with pytest.raises(BadInputError) as refused:
        encode([entry])
    assert said in str(refused.value)


def test_the_lines_of_an_act_bear_the_id_of_the_first() -> None:
    drafts = [Counted(**BLANK, sowing=name, standing=1) for name in ("leek", "onion")]
    first, second = stamped(drafts, [an_id(1), an_id(2)], at("08:00+01:00"), "bench")
    assert (first.id, second.id) == (an_id(1), an_id(2))
    assert first.act == second.act == an_id(1)
    (alone,) = stamped(drafts[:1], [an_id(1)], at("08:00+01:00"), "bench")
    assert alone.act is None


def test_a_draft_keeps_the_time_that_was_typed() -> None:
    typed = Counted(id="", at=at("06:00+01:00"), by="", sowing="leek", standing=1)
    (entry,) = stamped([typed], [an_id(1)], at("08:00+01:00"), "bench")
    assert entry.at == at("06:00+01:00")


# Clocks go back at 03:00 CEST on 31 October 2027: 02:30 comes twice (EU directive 2000/84/EC).
@pytest.mark.parametrize(("fold", "offset"), [(0, "+02:00"), (1, "+01:00")])
def test_an_entry_is_the_same_in_memory_and_in_the_file_in_the_hour_that_comes_twice(
    fold: int, offset: str
) -> None:
    now = datetime(2027, 10, 31, 2, 30, fold=fold, tzinfo=ZoneInfo("Europe/Vienna"))
    entries = stamped([Noted(**BLANK, text="a\tb")], [an_id(1)], now, "bench")
    assert entries[0].at.isoformat() == f"2027-10-31T02:30:00{offset}"
    again, _ = read(encode(entries))
    assert [repr(entry) for entry in again] == [repr(entry) for entry in entries]


@pytest.mark.parametrize(
    "key",
    [rb"\u0000about", "\u200eabout".encode(), rb"about\u200b", "ab\u00adout".encode()],
)
def test_a_wrong_value_under_a_key_that_is_cleaned_costs_its_line_alone(key: bytes) -> None:
    wrong = ONE.replace(b'"text"', b'"' + key + b'":5,"text"')
    numbers = found(wrong + TWO).numbers
    assert numbers == [2]
    (problem,) = found(wrong + TWO).problems
    assert problem.startswith(f"{FILE}, line 1, about: found '5', allowed: ")


def test_keys_that_are_alike_once_cleaned_cost_their_line_alone() -> None:
    wrong = ONE.replace(b'"by": "bench"', b'"by": "bench", "b\\u0000y": 7')
    assert found(wrong + TWO).numbers == [2]


def test_a_million_lines_of_garbage_are_told_in_a_few() -> None:
    entries, problems = read(b"rubbish\n" * 20_000 + ONE)
    assert len(entries) == 1
    assert len(problems) == 5
    assert problems[4].endswith("And 19995 more of this kind.")


@pytest.mark.parametrize("value", [b"1e308", b"2000000000", b"1e999", b"9" * 400])
def test_a_figure_that_could_not_be_reckoned_with_costs_its_line_alone(value: bytes) -> None:
    wrong = line("watered", 1, tray="tray 4", ml=300).replace(b"300", value)
    assert found(wrong + TWO).numbers == [2]


@pytest.mark.parametrize(
    "line",
    [
        b'{"kind":"dreamt"}',
        b'{"kind":"counted","standing":-1}',
        b'{"kind":"noted"}{"kind":"noted"}',
        b'{"kind":"noted"',
        b"<<<<<<< {",
    ],
)
def test_lines_that_are_set_aside_leave_nothing_behind_while_nothing_is_collected(
    line: bytes,
) -> None:
    gc.collect()
    gc.disable()
    try:
        list(read_blocks((line + b"\n") * 300, "journal/x.jsonl"))
        left = [one for one in gc.get_objects() if isinstance(one, Exception | FrameType)]
    finally:
        gc.enable()
    assert len(left) < 100
