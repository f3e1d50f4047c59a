"""Whatever call of the disk fails: what was said is so, and a retry doubles nothing."""

from collections.abc import Callable
from pathlib import Path

import pytest

from broken_disk import FAULTS, Act, Fault, walk
from seasons import HEAD, lot

ON = ("--season", "{}/s", "--on", "2027-03-20")


def lines_with(*words: bytes) -> Callable[[Path], int]:
    """How many whole lines of the writer's journal hold all of these."""

    def times(place: Path) -> int:
        path = place / "s" / "journal" / "bench.jsonl"
        text = path.read_bytes() if path.exists() else b""
        whole = [line for line in text.split(b"\n") if line.endswith(b"}")]
        return sum(all(word in line for word in words) for line in whole)

    return times


def blocks(file: str, text: bytes) -> Callable[[Path], int]:
    return lambda place: (place / "s" / file).read_bytes().count(text)


def is_there(name: str) -> Callable[[Path], int]:
    return lambda place: int((place / name).exists())


ACTS = {
    "noted": Act(("log", "noted", "mould", *ON), lines_with(b'"text":"mould"')),
    "counted": Act(("log", "counted", "leek", "18", *ON), lines_with(b'"standing":18')),
    "take-back": Act(("log", "take-back", *ON), lines_with(b'"kind":"struck"')),
    "ticked": Act(
        ("round", "--answer", "count leek", "12", *ON), lines_with(b'"counted"', b'"standing":12')
    ),
    "lot": Act(
        ("lot", "add", "basil", "--crop", "basil", "--season", "{}/s"),
        blocks("lots.toml", b'name = "basil"'),
    ),
    "station": Act(
        ("station", "add", "tent", "--kind", "shelf", "--season", "{}/s"),
        blocks("season.toml", b'name = "tent"'),
    ),
    "readings": Act(
        ("readings", "add", "{}/in.csv", "--station", "mat", "--quantity", "air_c", "--season",
         "{}/s", "--unit", "C"), is_there("s/readings/in.csv")
    ),
    "new": Act(
        ("new", "{}/a/b/new", "--last-frost", "2027-05-12", "--risk", "average", "--timezone",
         "Europe/Vienna"), is_there("a/b/new/season.toml")
    ),
    "sample": Act(("new", "--sample", "{}/play"), is_there("play/season.toml")),
}  # fmt: skip


@pytest.fixture
def season(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small season with a sowing and the count of another day."""
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path / "settings"))
    folder = tmp_path / "made" / "s"
    for name in ("journal", "readings", "crops"):
        (folder / name).mkdir(parents=True)
    (folder / "season.toml").write_text(HEAD, "utf-8")
    (folder / "lots.toml").write_text(lot("leek", "leek", station='"mat"'), "utf-8")
    (folder.parent / "in.csv").write_text(
        "time,air\n2027-03-20 08:00,21.5\n2027-03-20 09:00,22\n", "utf-8"
    )
    from runner import run

    on = [arg.replace("{}", str(folder.parent)) for arg in ON]
    assert run("log", "sown", "leek", "40", *on[:2], "--on", "2027-03-05").exit_code == 0
    assert run("log", "counted", "leek", "9", *on[:2], "--on", "2027-03-19").exit_code == 0
    assert run("log", "watered", "mat", *on).exit_code == 0
    return folder.parent


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("name", ACTS)
def test_a_fault_in_any_call_is_told_truly(
    season: Path, tmp_path: Path, name: str, fault: Fault
) -> None:
    assert walk(season, tmp_path / "place", ACTS[name], fault) > 0
