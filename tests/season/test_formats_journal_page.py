"""docs/formats_journal.md: every example loads; the tables name the kinds and keys there are."""

import re
from pathlib import Path
from typing import get_args

import msgspec
import pytest

from seedstart.season.journal.entries import KINDS, Counted, Entry, Plant, Quantity, journal_schema
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.journal.journal_lines import encode

PAGE = (Path(__file__).parents[2] / "docs" / "formats_journal.md").read_text(encoding="utf-8")
EXAMPLES = "".join(re.findall(r"^```json\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL))
ROWS = {
    kind: keys
    for kinds, keys in re.findall(r"^\| (`[a-z_`, ]+`) \| (.*) \|$", PAGE, re.MULTILINE)
    for kind in re.findall(r"`(\w+)`", kinds)
}
SUBJECT = {"sowing", "tray", "station"}


def examples() -> Journal:
    journal = Journal()
    journal.read(Lines("docs/formats_journal.md", EXAMPLES.encode()))
    return journal


def keys_of(kind: type[Entry]) -> set[str]:
    """The keys of a kind as they stand in a line, without those that every line has."""
    return {field.encode_name for field in msgspec.structs.fields(kind)} - {
        field.encode_name for field in msgspec.structs.fields(Entry)
    }


def test_every_example_loads_and_every_kind_has_one() -> None:
    journal = examples()
    assert journal.set_aside == []
    assert journal.disputed == []
    assert len(journal.by_id) == EXAMPLES.count("\n")
    assert {type(entry) for entry in journal.by_id.values()} == set(KINDS.values())


def test_the_examples_are_what_the_program_writes() -> None:
    assert encode(examples().by_id[line["id"]] for line in lines()).decode() == EXAMPLES


def lines() -> list[dict[str, str]]:
    return [msgspec.json.decode(line) for line in EXAMPLES.splitlines()]


def test_what_the_examples_name_is_among_them() -> None:
    journal = examples()
    (struck,) = journal.struck
    assert struck in journal.by_id
    acts = [entry.act for entry in journal.by_id.values() if entry.act]
    assert len(acts) == 2
    assert acts[0] in journal.by_id
    assert [type(entry).__name__ for entry in journal.of["lot", "pea"]] == ["Soaked", "TakenOut"]


def test_the_tables_name_every_kind() -> None:
    assert set(KINDS) <= set(ROWS)


@pytest.mark.parametrize("kind", KINDS)
def test_the_table_names_every_key_of_a_kind(kind: str) -> None:
    named = set(re.findall(r"`(\w+)`", ROWS[kind]))
    if "subject" in ROWS[kind]:
        named |= SUBJECT
    assert keys_of(KINDS[kind]) <= named


def in_brackets(kind: str) -> set[str]:
    """The keys that a row says may be left out."""
    return set(re.findall(r"`(\w+)`", " ".join(re.findall(r"\[([^\]:]*)", ROWS[kind]))))


def groups(kind: str, words: str) -> list[set[str]]:
    """The keys of which a row says that exactly, or at least, one is there."""
    key = r"\[?`\w+`\]?(?: \([^)]*\))?"
    found = re.findall(rf"{words} one of ((?:{key}, )*{key} and {key})", ROWS[kind])
    return [set(re.findall(r"`(\w+)`", group)) for group in found]


# Either is carried, and where both stand the tray is what the sowing comes into.
_SAID_OTHERWISE = {("moved", "sowing"), ("moved", "tray")}


@pytest.mark.parametrize("kind", KINDS)
def test_the_table_says_what_may_be_left_out_and_which_words_there_are(kind: str) -> None:
    together = set().union(*groups(kind, "exactly"), *groups(kind, "at least"))
    together |= SUBJECT if "subject" in ROWS[kind] else set()
    stamp = {one.encode_name for one in msgspec.structs.fields(Entry)}
    for one in msgspec.structs.fields(KINDS[kind]):
        if one.encode_name in {*stamp, *together} or (kind, one.encode_name) in _SAID_OTHERWISE:
            continue
        assert (one.encode_name in in_brackets(kind)) == (not one.required), one.encode_name
        words = [word for word in _words(one.type) if one.encode_name != "quantity"]
        assert all(f"`{word}`" in ROWS[kind] for word in words), one.encode_name


def _words(hint: object) -> tuple[str, ...]:
    args = get_args(hint)
    return args if args and all(isinstance(one, str) for one in args) else ()


@pytest.mark.parametrize("kind", KINDS)
def test_a_line_needs_one_of_what_the_table_says(kind: str) -> None:
    line = next(one for one in lines() if one["kind"] == kind)
    for words in ("exactly", "at least"):
        for group in groups(kind, words):
            without = {key: value for key, value in line.items() if key not in group}
            assert not taken(without), group
    for group in groups(kind, "exactly"):
        here = next(key for key in group if key in line)
        other = next(key for key in sorted(group) if key != here)
        assert not taken({**line, other: line[here]}), group


def taken(line: dict[str, str]) -> bool:
    journal = Journal()
    journal.read(Lines("journal/bench.jsonl", msgspec.json.encode(line) + b"\n"))
    return not journal.set_aside


def test_the_schema_has_every_kind_and_every_key() -> None:
    found = journal_schema()["$defs"]
    by_kind = {
        one["properties"]["kind"]["enum"][0]: one
        for one in found.values()
        if "kind" in one["properties"]
    }
    assert set(by_kind) == set(KINDS)
    for name, kind in KINDS.items():
        assert keys_of(kind) <= set(by_kind[name]["properties"])


def test_the_table_names_what_is_measured_of_a_plant_and_every_quantity() -> None:
    assert all(f"`{field}`" in ROWS["measured"] for field in Plant.__struct_fields__)
    assert all(f"`{quantity}`" in ROWS["read"] for quantity in get_args(Quantity))


def test_the_first_example_is_explained_key_by_key() -> None:
    first = next(iter(examples().by_id.values()))
    assert isinstance(first, Counted)
    assert {"kind", "id", "at", "by", "act"} <= set(ROWS)
