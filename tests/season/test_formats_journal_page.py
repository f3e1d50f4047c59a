"""docs/formats_journal.md: every example loads; the tables name the kinds and keys there are."""

import re
from pathlib import Path
from typing import get_args

import msgspec
import pytest

from seedstart.season.entries import KINDS, Counted, Entry, Plant, Quantity
from seedstart.season.journal import Journal, Lines
from seedstart.season.journal_lines import encode

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


def test_the_table_names_what_is_measured_of_a_plant_and_every_quantity() -> None:
    assert all(f"`{field}`" in ROWS["measured"] for field in Plant.__struct_fields__)
    assert all(f"`{quantity}`" in ROWS["read"] for quantity in get_args(Quantity))


def test_the_first_example_is_explained_key_by_key() -> None:
    first = next(iter(examples().by_id.values()))
    assert isinstance(first, Counted)
    assert {"kind", "id", "at", "by", "act"} <= set(ROWS)
