"""`seedstart trial`: planned into a file, shown, drawn, given away as a table."""

import csv
import io
import json
import shutil
from pathlib import Path

import pytest

from runner import run
from seedstart import disk

SAMPLE = ["--season", str(disk.shipped("sample_season"))]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))


def test_the_sample_trial_ends_in_a_sentence() -> None:
    said = run("trial", "show", "cabbage-light", *SAMPLE).stdout
    assert "mol a day more light keeps them shorter; above, no further." in said
    assert "2 trays a level are 2 replicates, not 16 plants" in said


def test_which_trials_there_are_is_listed() -> None:
    said = run("trial", "show", *SAMPLE).stdout
    assert said == "Trial cabbage-light: 5 levels × 2 trays × 8 plants of cabbage-early\n"


def test_before_it_was_measured_its_places_are_shown() -> None:
    said = run("trial", "show", "cabbage-light", *SAMPLE, "--on", "2026-04-10").stdout
    assert "10.4 mol" in said
    assert "No plant of it has been measured yet." in said


def test_the_table_has_every_plant_and_units_in_its_heads() -> None:
    text = run("trial", "show", "cabbage-light", *SAMPLE, "--csv").stdout
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == 80
    for row in rows:
        quotient = float(row["height_mm"]) / 10 / float(row["diameter_mm"])
        assert float(row["quotient_cm_per_mm"]) == pytest.approx(quotient, abs=1e-4)
    assert {row["dose_basis"] for row in rows} == {"lamps as they were set"}


def test_the_json_has_groups_and_fits() -> None:
    found = json.loads(run("trial", "show", "cabbage-light", *SAMPLE, "--json").stdout)
    assert found["unit"] == "tray"
    assert [one["plants"] for one in found["groups"]] == [16] * 5
    height = next(one for one in found["responses"] if one["measure"] == "height_mm")
    assert height["why_none"] is None
    assert len(height["fits"]) == 4


def test_a_trial_is_planned_drawn_by_lot_and_written_once(folder: Path) -> None:
    args = [
        "trial", "new", "kale-light", "--lot", "kale-autumn", "--levels", "4, 5, 6.5, 8, 10",
        "--station", "trial shelf", "--season", str(folder),
    ]  # fmt: skip
    shown = run(*args, "--preview")
    assert not (folder / "trials" / "kale-light.toml").exists()
    done = run(*args)
    assert done.exit_code == 0, done.stderr
    assert done.stdout == shown.stdout
    assert "Written: trials/kale-light.toml." in done.stderr
    told = done.stderr
    assert "From today `seedstart round` asks to sow 10 trays, 12 seeds each." in told
    assert "seedstart log sown kale-autumn 12 --tray T1 --station 'trial shelf'" in told
    assert "And 9 trays more." in told
    key = "sow trial kale-light at trial shelf"
    assert f"seedstart round --tick '{key}'" in told
    assert run("round", "--tick", key, "--season", str(folder)).exit_code == 0
    assert "No plant of it has been measured yet." in run(*_shown("kale-light", folder)).stdout
    assert "T10" in (folder / "trials" / "kale-light.toml").read_text("utf-8")
    again = run(*args)
    assert again.exit_code == 2
    assert "There is a trial of this name." in again.stderr


def test_a_trial_is_changed_in_its_own_file_and_shown_first(folder: Path) -> None:
    file, season = folder / "trials" / "cabbage-light.toml", ("--season", str(folder))
    before = file.read_text("utf-8")
    change = ("change", "trial", "Cabbage-light", "--measure-on", "21, 28", "--without", "begin",
              "--title", "Where does it stop?", *season)  # fmt: skip
    shown = run(*change, "--preview")
    assert "  now  measure_on = [21, 28]" in shown.stdout
    assert file.read_text("utf-8") == before
    done = run(*change)
    assert done.exit_code == 0, done.stderr
    now = file.read_text("utf-8")
    assert "measure_on = [21, 28]  # days after half emergence" in now
    assert "begin" not in now
    assert "Where does it stop?" in run("trial", "show", *season).stdout
    assert "says that already" in run("change", "trial", "cabbage-light", "--plants", "8",
                                      *season).stderr  # fmt: skip


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["cabbage-light"], "Say what is to change: --title, --measure-on"),
        (["cabage-light", "--plants", "9"], "Nearest: cabbage-light"),
        (["cabbage-light", "--plants", "0", "--measure-on", "soon"], "--measure-on"),
        (["cabbage-light", "--begin", "someday"], "--begin"),
        (["cabbage-light", "--without", "levels"], "allowed: title"),
    ],
)
def test_a_wrong_change_of_a_trial_is_refused_and_nothing_written(
    folder: Path, args: list[str], says: str
) -> None:
    file = folder / "trials" / "cabbage-light.toml"
    before = file.read_bytes()
    done = run("change", "trial", *args, "--season", str(folder))
    assert done.exit_code == 2
    assert says in done.stderr
    assert file.read_bytes() == before


def test_a_dropped_trial_keeps_what_was_sown_for_it(folder: Path) -> None:
    file, season = folder / "trials" / "cabbage-light.toml", ("--season", str(folder))
    refused = run("drop", "trial", "cabbage-light", *season)
    assert refused.exit_code == 2
    assert "10 trays were sown on 11 Apr: that stays" in refused.stderr
    assert run("drop", "trial", "cabbage-light", "--preview", *season).exit_code == 0
    assert file.exists()
    assert run("drop", "trial", "cabbage-light", "--sure", *season).exit_code == 0
    assert not file.exists()
    assert run("trial", "show", *season).stdout == "No trial is planned.\n"


def _shown(name: str, folder: Path) -> tuple[str, ...]:
    return "trial", "show", name, "--season", str(folder)


def test_everything_wrong_with_a_trial_is_said_at_once(folder: Path) -> None:
    done = run(
        "trial", "new", "a/b", "--lot", "kail-autumn", "--levels", "900, 3", "--trays", "0",
        "--season", str(folder),
    )  # fmt: skip
    assert done.exit_code == 2
    for said in ("A name that a file can have", "Nearest: kale-autumn", "--levels", "--trays",
                 "--station. It is missing: a station."):  # fmt: skip
        assert said in done.stderr
    assert run("trial", "show", "cabage-light", "--season", str(folder)).stderr.count(
        "cabbage-light"
    )


def test_a_picture_is_a_file_of_its_kind(folder: Path, tmp_path: Path) -> None:
    args = ["trial", "show", "cabbage-light", "--season", str(folder), "--picture"]
    assert run(*args, str(tmp_path / "t.svg")).exit_code == 0
    assert (tmp_path / "t.svg").read_bytes().startswith(b"<?xml")
    assert "allowed: a .png, a .svg" in run(*args, str(tmp_path / "t.bmp")).stderr


def test_a_garbled_trial_is_named_with_its_line(folder: Path) -> None:
    (folder / "trials" / "cabbage-light.toml").write_text('kind = "light"\nlots = [7]\n', "utf-8")
    done = run("trial", "show", "cabbage-light", "--season", str(folder))
    assert done.exit_code == 2
    assert "trials/cabbage-light.toml, line 2" in done.stderr
