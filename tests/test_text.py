import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.text import clean, folded, for_spreadsheet, joined


@pytest.mark.parametrize(
    ("dirty", "plain"),
    [
        ("\x1b[31mred\x1b[0m", "red"),
        ("a\x1b]0;title\x07b", "ab"),
        ("a\x1b]8;;http://x\x1b\\b", "ab"),
        ("\x9b31mred", "red"),
        ("bell\x07 nul\x00", "bell nul"),
        ("txt\u202eexe", "txtexe"),
        ("two\r\nlines\tand", "two lines and"),
        ("e\u0301", "\u00e9"),
        ("[bold]Basil[/]", "[bold]Basil[/]"),
        ("\ufeffname", "name"),
        ("\ud800half", "half"),
    ],
)
def test_text_from_outside_is_plain_afterwards(dirty: str, plain: str) -> None:
    assert clean(dirty) == plain


@given(st.text())
def test_nothing_dangerous_gets_through_and_cleaning_ends(text: str) -> None:
    once = clean(text)
    assert not any(unicodedata.category(c) in {"Cc", "Cs"} for c in once)
    assert not set(once) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")
    assert clean(once) == once


def test_names_are_compared_without_case_and_form() -> None:
    assert folded("  Caf\u00c9  noir") == folded("cafe\u0301 noir")


@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_a_spreadsheet_takes_no_cell_for_a_formula(start: str) -> None:
    assert for_spreadsheet(f"{start}1+1") == f"'{start}1+1"
    assert for_spreadsheet("basil") == "basil"


def test_words_are_joined_as_people_do() -> None:
    assert joined(["a", "b", "c"]) == "a, b and c"
    assert joined(["a"]) == "a"
