import json

import pytest

from runner import run
from seedstart import disk

SEASON = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-30"]


def test_the_sentence_comes_first_and_json_has_it_too() -> None:
    page = run("compare", "leek-giant", "onion-red", *SEASON).stdout
    says = "More of leek-giant came up than of onion-red: 84 against 11 in 100."
    assert page.split("\n")[1].startswith(says)
    found = json.loads(run("compare", "leek-giant", "onion-red", "--json", *SEASON).stdout)
    assert found["says"][0] == says
    assert found["pairs"][0]["p"] < 1e-6
    assert max(map(len, page.split("\n"))) <= 80


@pytest.mark.parametrize(
    ("args", "says"),
    [(["leek-giant"], "Two lots at least"), (["leek-gaint", "onion-red"], "Nearest: leek-giant")],
)
def test_lots_that_cannot_be_compared_are_named(args: list[str], says: str) -> None:
    result = run("compare", *args, *SEASON)
    assert result.exit_code == 2
    assert says in result.stderr


def test_in_warmth_the_page_says_what_one_is_and_json_in_what_time_is_counted() -> None:
    warm = ("compare", "leek-giant", "thyme", "--in-warmth")
    found = json.loads(run(*warm, "--json", *SEASON).stdout)
    assert found["time_in"] == "times the days in trays"
    assert 0.5 < found["sides"][0]["t50"]["best"] < 2  # of what is expected
    assert found["sides"][0]["warmth_measured_percent"] == 0  # no probe on that shelf
    page = " ".join(run(*warm, *SEASON).stdout.split())
    assert "1 is the days in trays that are printed for it" in page
