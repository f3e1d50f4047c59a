"""What a season survives on its way from the tick to the disk and back."""

import os
import subprocess
import sys
from errno import EACCES, ENOSPC, EROFS
from pathlib import Path

import pytest

import ticking
from runner import run
from seasons import HEAD, lot
from seedstart import disk
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Noted, PrickedOut, Sown

SOWN = Sown(**BLANK, sowing="leek", lot="leek", seeds=24, station="shelf")
TICKING = str(ticking.__file__)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(lot("leek", "leek", station='"shelf"'), "utf-8")
    OpenSeason(tmp_path, "bench").record(SOWN)
    return tmp_path


def killed_after(folder: Path, writer: str, ticks: int) -> list[str]:
    """The ids that a program confirmed before it was killed, some time after so many ticks."""
    paths = os.pathsep.join(path for path in sys.path if path)
    process = subprocess.Popen(
        [sys.executable, TICKING, str(folder), writer],
        stdout=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": paths},
    )
    assert process.stdout is not None
    first = b"".join(process.stdout.readline() for _ in range(2 * ticks))
    process.kill()
    rest, _ = process.communicate()
    said = (first + rest).decode()
    return said[: said.rfind("\n") + 1].split()


def test_every_confirmed_tick_outlives_a_kill_and_no_act_is_half(folder: Path) -> None:
    steady = OpenSeason(folder, "bench")
    confirmed: list[str] = []
    for kill in range(6):
        confirmed += killed_after(folder, "bench" if kill % 2 else "phone", 1 + kill)
        confirmed += [one.id for one in steady.record(Noted(**BLANK, text=f"kill {kill}"))]
    season = OpenSeason(folder, "reader")
    assert len(confirmed) > 2 * 6
    assert len(confirmed) == len(set(confirmed))
    assert set(confirmed) <= set(season.journal.by_id)
    halves = [one for one in season.journal.by_id.values() if one.act == one.id]
    assert all(len(season.journal.act_of(one.id)) == 2 for one in halves)
    ids = [
        line.partition(b'"id":"')[2][:36]
        for path in (folder / "journal").iterdir()
        for line in path.read_bytes().splitlines()
    ]
    assert len(ids) == len(set(ids)), "none stands twice"
    steady.catch_up()
    assert steady.records() == season.records()


def test_a_file_cut_at_any_byte_of_its_last_line_costs_that_line_alone(folder: Path) -> None:
    season = OpenSeason(folder, "bench")
    season.record(Counted(**BLANK, sowing="leek", standing=9))
    path = folder / "journal" / "bench.jsonl"
    before = path.read_bytes()
    season.record(Counted(**BLANK, sowing="leek", standing=12))
    whole = path.read_bytes()
    for length in range(len(before), len(whole) - 1):
        path.write_bytes(whole[:length])
        again = OpenSeason(folder, "bench")
        assert standing(again) == 9
        again.record(Counted(**BLANK, sowing="leek", standing=11))
        assert standing(again) == standing(OpenSeason(folder, "phone")) == 11
        assert path.read_bytes().startswith(whole[:length])
    path.write_bytes(whole[:-1])  # all but the line end: it counts
    assert standing(OpenSeason(folder, "bench")) == 12


def standing(season: OpenSeason) -> int:
    (leek,) = season.records().standings.values()
    return leek.standing


@pytest.mark.parametrize(
    ("code", "says"),
    [(ENOSPC, "the disk is full"), (EROFS, "Not recorded"), (EACCES, "Not recorded")],
)
def test_what_the_disk_refuses_is_said_and_nothing_is_half_recorded(
    folder: Path, monkeypatch: pytest.MonkeyPatch, code: int, says: str
) -> None:
    def refuse(path: Path, _data: bytes) -> bool:
        raise disk.NotRecorded(path, OSError(code, os.strerror(code)))

    before = disk.read_tree(folder)
    monkeypatch.setattr(disk, "append", refuse)
    result = run("log", "counted", "leek", "5", "--season", str(folder))
    assert result.exit_code == 2
    assert says in result.stderr
    assert "Written:" not in result.stderr
    assert "Traceback" not in result.stderr
    assert disk.read_tree(folder) == before


def test_an_act_into_four_trays_is_refused_whole(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    season = OpenSeason(folder, "bench")
    season.record(Counted(**BLANK, sowing="leek", standing=20))
    before = season.records()

    def refuse(path: Path, _data: bytes) -> bool:
        raise disk.NotRecorded(path, OSError(ENOSPC, os.strerror(ENOSPC)))

    monkeypatch.setattr(disk, "append", refuse)
    drafts = [
        PrickedOut(**BLANK, sowing="leek", plants=5, into=f"leek.{number}") for number in range(4)
    ]
    with pytest.raises(disk.NotRecorded, match="the disk is full"):
        season.record(*drafts)
    assert season.records() == before
    assert OpenSeason(folder, "phone").records() == before
