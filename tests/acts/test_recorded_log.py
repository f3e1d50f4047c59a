"""Recorded `log` commands: the lines that each writes, and why where it once wrote others.

recorded_log.json has a command a line: what was `typed`, the lines that it `writes` on the bench of
recorded_bench.jsonl, and where it writes none, `at` which argument or option it is refused. Where
the commands that had a validation of their own wrote other lines, these stand under `before`, and
`why` says what is meant by the difference.
"""

import json
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from msgspec.structs import fields

from runner import run
from seasons import HEAD, lot
from seedstart import clock
from seedstart.season.journal.entries import KINDS, Entry

_HERE = Path(__file__).parent
RECORDED: list[dict[str, Any]] = json.loads((_HERE / "recorded_log.json").read_text("utf-8"))
BENCH = (_HERE / "recorded_bench.jsonl").read_text("utf-8")
LOTS = (
    lot("leek", "leek", want="48", station='"shelf"')
    + lot("pepper-long", "pepper", station='"mat"', then='"shelf"')
    + lot("sweet-pea", "sweet pea", station='"sill"', soak='"12 h"')
)
# Keys that no command fills, and why.
UNFILLED = {
    ("scarified", "hours"): "nicking has no length",
    ("scarified", "days"): "nicking has no length",
    ("sown", "after"): "the seed's treatments, found in the journal",
    ("lost", "to"): "only who gives plants away says to whom",
    ("thinned", "to"): "only who gives plants away says to whom",
}


def lines_of(folder: Path) -> list[dict[str, Any]]:
    """What was written, without the stamps."""
    path = folder / "journal" / "bench.jsonl"
    lines = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
    for line in lines[BENCH.count("\n") :]:
        for key in ("id", "at", "by", "act"):
            line.pop(key, None)
        if "entry" in line:
            line["entry"] = line["entry"][-4:]
    return lines[BENCH.count("\n") :]


@pytest.mark.parametrize("one", RECORDED, ids=lambda one: " ".join(one["typed"]))
def test_a_recorded_command_writes_its_lines(
    one: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    (tmp_path / "journal").mkdir()
    (tmp_path / "journal" / "bench.jsonl").write_text(BENCH, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    monkeypatch.setattr(clock, "now", lambda zone: datetime(2027, 12, 31, tzinfo=ZoneInfo(zone)))
    result = run("log", *one["typed"], "--on", "2027-03-20")
    assert lines_of(tmp_path) == one["writes"], result.stderr
    if not one["writes"]:
        assert result.exit_code == 2
        assert result.stderr.startswith(one["at"])


def test_each_difference_to_what_was_written_before_is_meant() -> None:
    assert all(bool(one.get("why")) == ("before" in one) for one in RECORDED)
    assert all(one.get("before") != one["writes"] for one in RECORDED)


def test_every_key_of_every_kind_is_filled_by_a_command_or_left_out_for_a_reason() -> None:
    stamp = {one.encode_name for one in fields(Entry)}
    filled = {(line["kind"], key) for one in RECORDED for line in one["writes"] for key in line}
    keys = {
        (name, one.encode_name)
        for name, kind in KINDS.items()
        for one in fields(kind)
        if one.encode_name not in stamp
    }
    assert keys - filled == set(UNFILLED)
