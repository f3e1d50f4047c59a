"""What the parser of the command line refuses is said as everything else is."""

import json

import pytest

from runner import run


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("lots a b", "seedstart lots: found 'b'. Nothing more is expected there."),
        ("lots --frm 2", "seedstart lots: found '--frm', allowed: --season, "),
        ("calendar --last-fros 2027-05-12", "Nearest: --last-frost"),
        ("calendar --on", "--on. A value goes after it."),
        ("rename lot leek", "seedstart rename lot, NEW. It is missing."),
        ("trial shwo", "found 'shwo', allowed: new, show. Nearest: show."),
        ("round --done x", "--done is now --tick, --later --put-off, --until --till."),
        ("calender", "Nearest: calendar"),
    ],
)
def test_a_command_typed_wrongly_is_told_what_was_found_and_what_may_stand_there(
    typed: str, says: str
) -> None:
    result = run(*typed.split())
    assert result.exit_code == 2
    assert says in " ".join(result.stderr.split())
    assert "Usage:" not in result.stderr
    assert "Error:" not in result.stderr


def test_the_same_in_json_has_the_allowed_words() -> None:
    result = run("lots", "--frm", "2", "--json")
    [problem] = json.loads(result.stderr)["errors"]
    assert problem["found"] == "--frm"
    assert "--curve" in problem["allowed"]


def test_a_group_without_a_command_shows_its_help() -> None:
    result = run("drop")
    assert result.exit_code == 2
    assert "seedstart drop lot" in result.stderr
