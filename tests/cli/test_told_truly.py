"""What a command says of what it has written is so, whatever fails while it says it."""

import errno
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from runner import refused, run
from seasons import HEAD, lot
from seedstart import disk
from seedstart.open_season import OpenSeason

LEEK = lot("leek", "leek", want="48", station='"shelf"')
ON = ("--on", "2027-03-20")


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "s" / "journal").mkdir(parents=True)
    (tmp_path / "s" / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "s" / "lots.toml").write_text(LEEK, "utf-8")
    monkeypatch.chdir(tmp_path / "s")
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path / "settings"))
    return tmp_path / "s"


def journal(folder: Path) -> list[dict[str, object]]:
    path = folder / "journal" / "bench.jsonl"
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def log(*args: str, on: str = "2027-03-20") -> str:
    result = run("log", *args, "--on", on)
    assert result.exit_code == 0, result.stderr
    return result.stderr


def broken(number: int) -> Callable[..., None]:
    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail


# Before and after it stands


def test_nothing_is_said_to_be_taken_back_that_was_not(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log("noted", "mould")
    before = (bench / "journal" / "bench.jsonl").read_bytes()
    monkeypatch.setattr(os, "fsync", broken(errno.EFBIG))
    said = refused("log", "struck", *ON)
    assert "Taken back" not in said
    assert "Not recorded: the file may not grow any larger." in said
    assert (bench / "journal" / "bench.jsonl").read_bytes() == before


def test_what_cannot_be_read_back_is_recorded_and_said_to_be(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken = OpenSeason._take_own

    def cannot_be_read(season: OpenSeason, path: Path) -> None:
        monkeypatch.setattr(os, "lseek", broken(errno.EIO))
        taken(season, path)
        monkeypatch.undo()
        monkeypatch.chdir(bench)

    monkeypatch.setattr(OpenSeason, "_take_own", cannot_be_read)
    said = log("watered", "mat")
    assert "Written: watered mat" in said
    assert "It is recorded, so do not enter it again; but it cannot be read back now" in said
    assert len(journal(bench)) == 1


def test_ctrl_c_after_it_stands_says_that_it_is_recorded(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(OpenSeason, "_take_own", stopped)
    result = run("log", "watered", "mat", *ON)
    assert result.exit_code == 0
    assert "Stopped. It is recorded, so do not enter it again: it is in" in result.stderr
    assert len(journal(bench)) == 1


def test_ctrl_c_before_says_that_nothing_is(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stopped)
    assert "Stopped; nothing was written." in refused("log", "watered", "mat", *ON)
    assert (bench / "journal" / "bench.jsonl").read_bytes() == b""


def test_of_two_ticks_the_one_that_was_recorded_is_said_before_the_one_that_was_not(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log("sown", "leek", "40", "--tray", "tray 1", on="2027-03-06")
    log("sown", "leek", "40", "--tray", "tray 2", on="2027-03-06")
    append = disk.append
    done: list[Path] = []

    def full_after_one(path: Path, data: bytes) -> disk.Written:
        if done:
            raise disk.NotRecorded(path, OSError(errno.ENOSPC, "full"))
        done.append(path)
        return append(path, data)

    monkeypatch.setattr(disk, "append", full_after_one)
    ticks = ("--answer", "count tray 1", "3", "--answer", "count tray 2", "4")
    result = run("round", *ticks, *ON)
    assert result.exit_code == 2
    assert result.stderr.index("Written: counted 3 leek") < result.stderr.index("the disk is full")
    assert [line["kind"] for line in journal(bench)] == ["sown", "sown", "counted"]


@pytest.mark.parametrize("stopped_at", ["second", "third", "third, recorded"])
def test_ctrl_c_between_answers_is_no_success_and_names_those_that_are_not_recorded(
    bench: Path, monkeypatch: pytest.MonkeyPatch, stopped_at: str
) -> None:
    for tray in ("tray 1", "tray 2", "tray 3"):
        log("sown", "leek", "40", "--tray", tray, on="2027-03-06")
    append = disk.append
    left = 1 if stopped_at == "second" else 2

    def stopped_after_some(path: Path, data: bytes) -> disk.Written:
        nonlocal left
        left -= 1
        if left < 0 and stopped_at != "third, recorded":
            raise KeyboardInterrupt
        written = append(path, data)
        if left < 0:
            raise KeyboardInterrupt
        return written

    monkeypatch.setattr(disk, "append", stopped_after_some)
    answers = [("--answer", f"count tray {number}", str(number)) for number in (1, 2, 3)]
    result = run("round", *(part for one in answers for part in one), *ON)
    counted = [line for line in journal(bench) if line["kind"] == "counted"]
    not_recorded = {"second": (2, 3), "third": (3,), "third, recorded": ()}[stopped_at]
    assert len(counted) == 3 - len(not_recorded)
    assert result.exit_code == (2 if not_recorded else 0)
    for number in (2, 3):
        said = f"'count tray {number}'. Not recorded: you stopped before that."
        assert (said in result.stderr) == (number in not_recorded)


# Taking back


def test_a_second_take_back_in_a_row_first_says_what_it_would_take(bench: Path) -> None:
    log("noted", "first")
    log("noted", "second")
    assert "Taken back: noted: second" in log("take-back")
    said = refused("log", "take-back", *ON)
    assert "noted: first" in said
    assert "Nothing was taken back yet" in said
    ids = said.split("seedstart log take-back ")[1].split()
    assert "Taken back: noted: first" in log("take-back", *ids)
    assert len(journal(bench)) == 4


def test_an_act_of_another_day_is_said_first(bench: Path) -> None:
    log("noted", "yesterday", on="2027-03-19")
    said = refused("log", "take-back", *ON)
    assert "It is of another day" in said
    assert "Taken back: noted: yesterday" in log("take-back", said.split()[-1])
    assert len(journal(bench)) == 2


def test_what_was_taken_back_is_restored_by_the_id_that_is_shown(bench: Path) -> None:
    log("noted", "mould")
    said = log("take-back")
    restored = log("take-back", said.split()[-1])
    assert restored.startswith("Restored: noted: mould")
    assert "Taken back: noted: mould" in log("take-back", restored.split()[-1])
    assert len(OpenSeason(bench, "bench").journal.struck) == 2


def test_a_lots_page_tells_its_treatments_and_what_was_taken_back_with_the_way_to_restore_it() -> (
    None
):
    log("sown", "leek", "24")
    log("counted", "leek", "5")
    log("take-back")
    page = " ".join(run("lots", "leek", *ON).stdout.split())
    assert "Taken back: counted leek: 5 standing" in page
    command = page.split("To restore it: seedstart ")[1].split()[:3]
    assert "Restored: counted leek: 5 standing" in log(*command[1:])
    assert "Taken back" not in run("lots", "leek", *ON).stdout
    log("stratified", "leek", "--days", "28")
    assert "  stratified leek: 28 days (" in run("lots", "leek", *ON).stdout


def test_what_leads_on_is_named_where_a_grower_stands_still(bench: Path, tmp_path: Path) -> None:
    log("sown", "leek", "24")
    assert "who gave it: --donor" in " ".join(
        refused("new", "lot", "q", "--crop", "pea", "--from", "swap day").split()
    )
    (bench / "lots.toml").write_text("", "utf-8")
    assert "No lot is in the plan, and 1 sowing in the journal" in run("lots", *ON).stdout
    made = run("new", "season", str(tmp_path / "n"), "--last-frost", "2027-05-12",
               "--risk", "safe", "--timezone", "Europe/Rome")  # fmt: skip
    assert "seedstart new station NAME" in made.stderr
    assert "has passed" in made.stderr


def test_the_act_of_a_time_is_taken_back_and_two_of_one_time_are_said() -> None:
    log("noted", "early", "--at", "7:00")
    log("noted", "late", "--at", "8:00")
    log("noted", "late too", "--at", "8:00")
    assert "Taken back: noted: early" in log("take-back", "--at", "7:00")
    said = refused("log", "take-back", "--at", "8:00", *ON)
    assert "noted: late " in said
    assert "noted: late too" in said
    assert "wrote nothing at" in refused("log", "take-back", "--at", "7:00", *ON)


# A fault in lots.toml


def test_a_fault_in_lots_toml_does_not_stop_what_is_written_at_the_bench(bench: Path) -> None:
    log("sown", "leek", "40", "--tray", "tray 2", on="2027-03-06")
    log("planned", "leek", "want=60")
    with (bench / "lots.toml").open("a") as file:
        file.write("[[lot]\nname = ")
    for args in (
        ("watered", "tray 2"),
        ("counted", "leek", "18"),
        ("sown", "  leek-new ", "12"),
        ("noted", "white fluff", "--lot", "leek-old"),
    ):
        said = log(*args)
        assert said.count("Until that is corrected, names are written as you type them") == 1
        assert "lots.toml, line 6" in said
        assert "Written: " in said
    assert [line["kind"] for line in journal(bench)[2:]] == ["watered", "counted", "sown", "noted"]
    assert journal(bench)[4]["lot"] == "leek-new"
    assert "Written" not in refused("log", "planned", "leek", "want=7", *ON)
    assert "Nearest: mat" in refused("log", "read", "mut", "20C", *ON)  # stations are known


# Streams


def as_typed(command: str) -> "subprocess.CompletedProcess[str]":
    """A command in a shell, with its streams as they are there."""
    script = command.replace("seedstart", f"{sys.executable} -m seedstart")
    return subprocess.run(
        ["bash", "-c", script], check=False, capture_output=True, text=True, timeout=60
    )


@pytest.mark.parametrize(
    ("command", "code", "said"),
    [
        ("seedstart log watered mat --json >/dev/full", 0, "It is recorded, so do not enter it"),
        ("seedstart log watered mat --json >&-", 0, "It is recorded, so do not enter it"),
        ("seedstart log watered mat 2>/dev/full", 0, ""),
        ("seedstart log watered mat 2>&-", 0, ""),
        ("seedstart log watered mat <&- >&-", 0, "Written: watered mat"),
        ("seedstart round >/dev/full", 2, "standard output. It takes nothing: the disk is full."),
        ("seedstart round >&-", 2, "standard output. It takes nothing: it is closed."),
        ("seedstart calendar --csv | head -1", 0, ""),
        ("seedstart <&-", 0, ""),
        ("mkdir g; cd g; rmdir ../g; seedstart round", 2, "no longer there: cd to another one"),
        (
            "seedstart new season ../n --last-frost 2027-05-12 --risk safe <&-",
            0,
            "The season is in",
        ),
    ],
)
def test_streams_and_folders_that_fail_are_plain_words(
    bench: Path, command: str, code: int, said: str
) -> None:
    done = as_typed(command)
    assert (done.returncode, said in done.stderr) == (code, True), done.stderr
    assert "Traceback" not in done.stderr
    assert "itself failed" not in done.stderr
    if "log" in command:
        assert len(journal(bench)) == 1


@pytest.mark.parametrize("number", [errno.EIO, errno.EACCES])
def test_a_folder_that_cannot_be_looked_at_is_named(
    bench: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    stat = os.stat

    def fails(path: object, *args: object, **named: object) -> os.stat_result:
        if str(path).endswith("season.toml"):
            raise OSError(number, os.strerror(number), str(path))
        return stat(path, *args, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "stat", fails)
    said = refused("round", "--season", str(bench))
    assert f"season.toml. {os.strerror(number)}." in said


# What lies in the folder


def test_an_editors_lock_file_stops_nothing(bench: Path) -> None:
    log("watered", "mat")
    for folder, name in (
        ("journal", ".#bench.jsonl"),
        ("readings", ".#logger.csv"),
        ("crops", ".#pepper.toml"),
    ):
        (bench / folder).mkdir(exist_ok=True)
        (bench / folder / name).symlink_to("grower@hut.4711")
    (bench / "crops" / "._pepper.toml").write_bytes(b"\0\5\x16\7")
    for args in (("round",), ("verify",), ("readings",), ("calendar",)):
        result = run(*args)
        assert result.exit_code in {0, 1}, result.stderr
        assert "#" not in result.stderr


@pytest.mark.parametrize("text", ["x = " + "[" * 5000, "x = " + "1" * 5000])
def test_a_file_that_is_toml_for_no_one_is_named(bench: Path, tmp_path: Path, text: str) -> None:
    (tmp_path / "settings").mkdir()
    (tmp_path / "settings" / "settings.toml").write_text(text, "utf-8")
    assert "settings.toml. The file is not TOML" in refused("log", "watered", "mat")
    (tmp_path / "settings" / "settings.toml").unlink()
    (bench / "crops").mkdir()
    (bench / "crops" / "mine.toml").write_text(text, "utf-8")
    assert "mine.toml. Not TOML as a crop is written" in refused("calendar")


def test_what_a_killed_run_left_is_named_by_verify(bench: Path) -> None:
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    left = bench / f".lots.toml.{ended.pid}.new"
    left.write_bytes(b"half")
    result = run("verify")
    assert result.exit_code == 1
    assert left.name in result.stdout.replace("\n    ", "")
    log("watered", "mat")
    assert not left.exists()


def test_the_folder_that_one_is_in_is_not_moved_away_from_under_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path / "empty")
    assert "go to the folder above it" in refused("new", "season", ".", "--last-frost", "none")
