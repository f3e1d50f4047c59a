"""`verify`: what is wrong or in doubt in the files of a season."""

import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest

from runner import refused, run
from seasons import HEAD, lot
from seedstart import disk
from seedstart.disk import plan_files

LINE = (
    '{{"kind":"{kind}","id":"0195{number:04x}-1c00-7000-8000-{number:012x}",'
    '"at":"2026-03-{day:02}T08:00:00+01:00","by":"{by}",{rest}}}\n'
)


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(lot("leek", "leek", want="48"), "utf-8")
    (tmp_path / "journal").mkdir()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SEEDSTART_WRITER", "reader")
    write(tmp_path, "bench", "sown", 1, '"sowing":"leek","lot":"leek","seeds":24,"station":"mat"')
    return tmp_path


def write(folder: Path, by: str, kind: str, number: int, rest: str, day: int = 1) -> None:
    with (folder / "journal" / f"{by}.jsonl").open("a", encoding="utf-8") as file:
        file.write(LINE.format(kind=kind, number=number, day=day, by=by, rest=rest))


def told() -> list[dict[str, Any]]:
    result = run("verify", "--json")
    assert (result.exit_code, result.stderr) == (1, "")
    problems: list[dict[str, Any]] = json.loads(result.stdout)["problems"]
    return problems


def test_a_season_in_order_is_said_to_be() -> None:
    result = run("verify")
    assert (result.exit_code, result.stdout) == (0, "1 journal file, 1 entry: no faults.\n")
    assert json.loads(run("verify", "--json").stdout) == {"files": 1, "entries": 1, "problems": []}


def test_a_doubt_is_named_by_the_file_and_line_of_its_entry(bench: Path) -> None:
    write(bench, "phone", "counted", 2, '"sowing":"leek","standing":9', 10)
    write(bench, "phone", "counted", 3, '"sowing":"leak","standing":9', 11)
    phone = (bench / "journal" / "phone.jsonl").read_bytes()
    (bench / "journal" / "a copy of phone.jsonl").write_bytes(phone)
    (problem,) = told()
    assert (problem["file"], problem["line"], problem["found"], problem["hint"]) == (
        "journal/phone.jsonl", 2, "leak", "1 entry about it, kept and passed over.",
    )  # fmt: skip
    assert "Nearest: leek" in " ".join(run("verify").stdout.split())


def test_lines_plans_and_readings_are_named_together(bench: Path) -> None:
    rest = '"lot":"leek","set":{"want":80},"from":{"want":12}'
    write(bench, "bench", "planned", 4, rest)
    with (bench / "journal" / "bench.jsonl").open("ab") as file:
        file.write(b'{"kind":"counted","id":"01')
    (bench / "readings").mkdir()
    (bench / "readings" / "logger.csv").write_text(
        "time,station,quantity,value,mark\n2026-03-01T08:00:00+01:00,mat,soil_c,warm,\n"
        "2026-03-01T08:00:00+01:00,mta,soil_c,20.5,\n",
        "utf-8",
    )
    found = [(one["file"], one["line"], one["key"]) for one in told()]
    assert found == [
        ("journal/bench.jsonl", 3, ""),
        ("readings/logger.csv", 2, "value"),
        ("lots.toml", None, "leek.want"),
        ("readings", None, "station"),
    ]


def test_faults_of_plan_and_crops_do_not_hide_those_of_the_journal(bench: Path) -> None:
    (bench / "crops").mkdir()
    (bench / "crops" / "leek.toml").write_text('name = "leek"\ndepth_mm = 9000\n', "utf-8")
    with (bench / "journal" / "bench.jsonl").open("ab") as file:
        file.write(b"<<<<<<< HEAD\n")
    found = [(one["file"], one["line"]) for one in told()]
    assert found == [("the season's crops/leek.toml", None), ("journal/bench.jsonl", 2)]
    (bench / "crops" / "leek.toml").unlink()
    (bench / "season.toml").write_text(HEAD.replace('"24C"', '"240C"'), "utf-8")
    (bench / "lots.toml").write_text(lot("leek", "leak"), "utf-8")
    found = [(one["file"], one["key"]) for one in told()]
    assert [file for file, _ in found] == ["season.toml", "lots.toml", "journal/bench.jsonl"]


def test_without_a_season_it_is_wrong_input(tmp_path: Path) -> None:
    assert "There is no season.toml" in refused("verify", "--season", str(tmp_path / "journal"))


def test_it_changes_nothing(bench: Path) -> None:
    write(bench, "phone", "counted", 3, '"sowing":"leak","standing":9')
    before = disk.read_tree(bench)
    run("verify")
    assert disk.read_tree(bench) == before


def test_hostile_text_in_a_line_reaches_the_terminal_as_text(bench: Path) -> None:
    with (bench / "journal" / "bench.jsonl").open("ab") as file:
        file.write(b"\x1b]0;owned\x07\x1b[31mred\xe2\x80\xae [bold]x[/]\n")
    write(bench, "bench", "counted", 5, '"sowing":"\\u001b[31mle\\u202eak","standing":9', 10)
    said = run("verify").stdout
    assert "\x1b" not in said
    assert "\u202e" not in said
    assert "[bold]x[/]" in said


def test_files_that_cannot_be_read_are_all_named_and_the_others_are_read(bench: Path) -> None:
    os.mkfifo(bench / "journal" / "pipe.jsonl")
    (bench / "journal" / "away.jsonl").symlink_to("nowhere")
    (bench / "readings").mkdir()
    (bench / "readings" / "gone.csv").symlink_to("nowhere")
    (bench / "readings" / "bad.csv").write_text("no header\n", "utf-8")
    (bench / "journal" / "phone.jsonl").write_text("garbled\n", "utf-8")
    found = [(one["file"], one["hint"]) for one in told()]
    assert ("journal/pipe.jsonl", "It is a pipe and no file.") in found
    assert ("journal/away.jsonl", "No such file or directory.") in found
    assert ("readings/gone.csv", "No such file or directory.") in found
    assert {"journal/phone.jsonl", "readings/bad.csv"} <= {file for file, _ in found}
    assert len(found) == len(set(found))


def test_readings_alone_that_cannot_be_read_are_named_beside_what_is_in_doubt(bench: Path) -> None:
    (bench / "readings").mkdir()
    (bench / "readings" / "gone.csv").symlink_to("nowhere")
    write(bench, "bench", "counted", 2, '"sowing":"nobody","standing":3', day=9)
    assert {one["file"] for one in told()} == {"readings/gone.csv", "journal/bench.jsonl"}


def test_a_shipped_crop_that_is_damaged_is_named_though_the_season_grows_none(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    crops = bench / "crops as they ship"
    shutil.copytree(disk.shipped("crops"), crops)
    (crops / "kale.toml").write_text('name = "kale"\nlight = 3\n', "utf-8")
    monkeypatch.setattr(plan_files, "shipped", lambda _: crops)
    problems = told()
    assert {"crops/kale.toml"} == {problem["file"] for problem in problems}
    assert any(problem["key"] == "light" for problem in problems)
    assert run("lots").exit_code == 0
