"""docs/formats_json.md against what the commands print."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from runner import run
from seedstart import disk

PAGE = (Path(__file__).resolve().parent.parent / "docs" / "formats_json.md").read_text("utf-8")
SEASON = ["--season", str(disk.shipped("sample_season"))]


# Documented, and there only where they say something.
NOT_ALWAYS = {
    "crops", "sowings", "split", "set_out", "given", "thinned", "counted", "finished", "mixed_up",
    "pricked_out", "because", "tmin_c", "low", "likely", "high", "f", "p",
    "mean", "points_apart", "allowed", "source",
}  # fmt: skip


def told(command: str) -> list[str]:
    """The keys that the page names for a command, in order."""
    (row,) = re.findall(rf"^\| `{command}` \| (.*) \|$", PAGE, re.MULTILINE)
    return re.findall(r"`([a-z_0-9]+)`", row)


def keys_in(document: Any) -> set[str]:
    """Every key of a document, at any depth but in free tables."""
    if isinstance(document, dict):
        return set(document).union(*(keys_in(value) for value in document.values()))
    if isinstance(document, list):
        return set().union(*(keys_in(value) for value in document))
    return set()


def printed(*args: str) -> Any:
    result = run(*args, "--json")
    assert result.stderr == ""
    return json.loads(result.stdout)


@pytest.mark.parametrize(
    ("command", "args"),
    [
        ("calendar", ["calendar", *SEASON, "--on", "2026-04-10"]),
        ("lots", ["lots", *SEASON, "--on", "2026-04-10"]),
        (
            "lots NAME --germination",
            ["lots", "onion-red", "--germination", *SEASON, "--on", "2026-04-10"],
        ),
        (
            "compare",
            ["compare", "leek-giant", "onion-red", *SEASON, "--on", "2026-04-10"],
        ),
        (
            "sowing-rate",
            ["sowing-rate", "pepper-long", "--in-cells", *SEASON, "--on", "2026-03-01"],
        ),
        ("learn", ["learn", *SEASON, "--on", "2026-05-10"]),
        ("alerts", ["alerts", *SEASON, "--on", "2026-04-10"]),
        ("harden", ["harden", *SEASON, "--on", "2026-04-10"]),
        ("space", ["space", *SEASON, "--on", "2026-04-10"]),
        ("readings", ["readings", *SEASON]),
        ("light", ["light", *SEASON, "--on", "2026-04-10"]),
        ("trial show NAME", ["trial", "show", "cabbage-light", *SEASON]),
        ("verify", ["verify", *SEASON]),
        ("frost", ["frost", str(disk.shipped("sample_season") / "weather" / "minima.csv")]),
        ("frost --season FOLDER", ["frost", *SEASON, "--on", "2026-03-01"]),
        ("weather", ["weather", *SEASON, "--on", "2026-04-10"]),
    ],
)
def test_the_page_names_what_a_command_prints(command: str, args: list[str]) -> None:
    found = keys_in(printed(*args))
    named = [key for key in told(command) if key not in NOT_ALWAYS or key in found]
    missing = [key for key in named if key not in found]
    assert missing in ([], ["file", "line", "key", "found", "allowed", "hint", "more"]), missing
    ends = {"earliest", "best", "latest", "is", "due"}
    free = {"flat", "spike", "step", "range", "power_on"}
    assert found - set(named) - ends - free == set()


def test_windows_say_what_they_are() -> None:
    rows = printed("calendar", *SEASON, "--on", "2026-04-10")
    states = {window["is"] for row in rows for window in row.values() if isinstance(window, dict)}
    assert states == {"planned", "expected", "happened"}
