"""`new station`: a place comes into season.toml, or what is wrong with it is told."""

from pathlib import Path

import pytest

from runner import refused, run
from seasons import HEAD
from seedstart.disk.plan_files import read_plan
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Watered


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(f"# mine\n{HEAD}", "utf-8")
    return tmp_path


def test_a_station_comes_last_and_comments_stay(folder: Path) -> None:
    args = ("--kind", "shelf", "--expected", "70F", "--lamps", "2", "--watts", "20")
    done = run("new", "station", "tent", *args, "--season", str(folder))
    assert done.exit_code == 0, done.stderr
    assert "tent (shelf) added to" in done.stderr
    text = (folder / "season.toml").read_text("utf-8")
    assert text == (
        f'# mine\n{HEAD}\n[[station]]\nname = "tent"\nkind = "shelf"\nexpected = "70F"\n'
        "lamps = [{ count = 2, watts = 20 }]\n"
    )
    assert [one.name for one in read_plan(folder).stations] == ["mat", "shelf", "sill", "tent"]


def test_a_dry_run_checks_and_writes_nothing(folder: Path) -> None:
    before = (folder / "season.toml").read_bytes()
    done = run("new", "station", "tent", "--kind", "shelf", "--preview", "--season", str(folder))
    assert "nothing is written" in done.stderr
    assert (folder / "season.toml").read_bytes() == before


def test_all_that_is_wrong_is_told_and_nothing_is_written(folder: Path) -> None:
    before = (folder / "season.toml").read_bytes()
    args = ("--kind", "sil", "--hours", "25", "--season", str(folder))
    told = refused("new", "station", "Mat", *args)
    assert "new station, kind: found 'sil'" in told
    assert "Nearest: sill." in told
    assert "new station, lamps[1].hours: found '25'" in told
    assert "mat in season.toml has or had this name too" in told
    assert (folder / "season.toml").read_bytes() == before


def test_a_name_that_a_tray_bears_is_refused(folder: Path) -> None:
    OpenSeason(folder, "bench").record(Watered(**BLANK, tray="Tent"))
    told = refused("new", "station", "tent", "--kind", "shelf", "--season", str(folder))
    assert "A tray has or had this name too" in told


# Technical Safety BC 2018, 2019 (strips); the rest is from memory and says so.
def test_a_new_mat_and_lamps_come_with_what_to_mind(folder: Path) -> None:
    args = ("--season", str(folder), "--preview")
    mat = run("new", "station", "warm", "--kind", "mat", "--expected", "24C", *args).stdout
    assert "never folded" in mat
    assert "probe belongs in the medium" in " ".join(mat.split())
    assert "Your local code and the maker's sheet go before this." in mat
    lit = run("new", "station", "tent", "--kind", "shelf", "--lamps", "2", *args).stdout
    assert "no strip on another strip" in " ".join(lit.split())
    assert run("new", "station", "sill2", "--kind", "sill", *args).stdout == ""
