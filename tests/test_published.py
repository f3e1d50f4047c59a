"""The count of tests with a published source: the rule itself, and that it does not fall."""

from pathlib import Path

import pytest

from published import ROOMS, all_tests, of_file, report, share

HARRINGTON = "    # Harrington & Minges 1954: 8 days.\n"
LEAST = 0.28


@pytest.mark.parametrize(
    ("text", "sourced"),
    [
        (f"def test_a():\n{HARRINGTON}    assert days() == 8\n", True),
        ("# emergence_days.csv\ndef test_a():\n    assert days() == 8\n", True),
        ("DAYS = rows('emergence_days.csv')\n\n\ndef test_a():\n    assert DAYS\n", True),
        ("# sow_weeks_*.csv\nLEEK = 9\n\n\ndef test_a():\n    assert LEEK\n", True),
        ("def test_a():\n    assert found.sources == ('us-7-cfr-201-31',)\n", True),
        ("def test_a():\n    assert days() == 8\n", False),
        ("def test_a():\n    # Harrington 1954, from memory: 8 days.\n    assert days()\n", False),
        ("def test_a():\n    # Nobody 1954: 8 days.\n    assert days() == 8\n", False),
        ("def test_a():\n    # On 12 May 1954 it was warm.\n    assert days() == 8\n", False),
        ("# ista_germination_tests.csv\ndef test_a():\n    assert days() == 8\n", False),
        ("# emergence_days.csv\nDAYS = 8\n\n\ndef test_a():\n    assert days()\n", False),
    ],
)
def test_a_source_is_one_that_a_reference_table_or_page_has(
    tmp_path: Path, text: str, sourced: bool
) -> None:
    path = tmp_path / "test_a.py"
    path.write_text(text, "utf-8")
    (found,) = of_file(path)
    assert found.sourced is sourced


def test_no_fewer_tests_of_the_calculations_have_a_published_source() -> None:
    tests = all_tests()
    assert {test.room for test in tests} == {*ROOMS}
    assert share(tests) >= LEAST, report(tests)
