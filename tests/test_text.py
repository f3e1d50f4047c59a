import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.text import clean, folded, for_spreadsheet, joined, natural, plural


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


@pytest.mark.parametrize(
    "unseen",
    ["\u200b", "\u00ad", "\u2060", "\U000e0041", "\u180e", "\u2063", "\u200d", "\u200c", "\ufe0f",
     "\u034f", "\u115f", "\u3164", "\U000e0101"],
)  # fmt: skip
def test_names_that_look_alike_are_one_name(unseen: str) -> None:
    assert folded(f"zw{unseen}sp") == folded("zwsp")
    assert folded(unseen) == ""


@pytest.mark.parametrize("unseen", ["\u200b", "\u00ad", "\u2060", "\U000e0041", "\u180e", "\u2063"])
def test_what_shows_nothing_is_cleaned_away(unseen: str) -> None:
    assert clean(f"zw{unseen}sp") == "zwsp"


@pytest.mark.parametrize(
    "text", ["\u0645\u06cc\u200c\u062e", "\u0915\u094d\u200d\u0937", "\u2764\ufe0f"]
)
def test_joiners_that_scripts_need_stay(text: str) -> None:
    assert clean(text) == text


def test_bytes_that_the_locale_could_not_read_are_read_as_utf_8() -> None:
    assert clean("möhre".encode().decode("ascii", "surrogateescape")) == "möhre"
    assert clean(b"\xc2\x9b31mred\xff".decode("ascii", "surrogateescape")) == "red"


def test_names_are_put_in_the_order_in_which_people_count() -> None:
    names = ["D10", "d2", "D1", "D11", "E", "", "D" + "9" * 5000]
    assert sorted(names, key=natural) == ["", "D1", "d2", "D10", "D11", "D" + "9" * 5000, "E"]


def test_a_great_number_is_counted_in_full() -> None:
    assert plural(8_569_500, "reading") == "8569500 readings"
    assert plural(1, "day") == "1 day"
    assert plural(2.5, "day") == "2.5 days"
