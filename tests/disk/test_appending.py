"""Lines put behind others: what was confirmed is there, whole and once, whoever is killed."""

import errno
import fcntl
import os
import subprocess
import sys
from pathlib import Path

import pytest

import appending
from failing import fails, names
from seedstart import disk
from seedstart.disk import durable


def writer(how: str, path: Path, name: str, most: int) -> "subprocess.Popen[bytes]":
    """Another process that writes so many lines."""
    command = [sys.executable, appending.__file__, how, str(path), name, str(most)]
    return subprocess.Popen(command, stdout=subprocess.PIPE)


def test_lines_are_put_behind_those_that_stand(tmp_path: Path) -> None:
    path = tmp_path / "journal" / "bench.jsonl"
    assert disk.append(path, b"one\n").remarks == ()
    assert disk.append(path, b"two\nthree\n").path == path
    assert path.read_bytes() == b"one\ntwo\nthree\n"


def test_what_another_left_torn_keeps_a_line_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "bench.jsonl"
    path.write_bytes(b"one\ntw")
    disk.append(path, b"three\n")
    assert path.read_bytes() == b"one\ntw\nthree\n"


def test_a_season_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(disk.NotRecorded, match="Not recorded: the folder is not there"):
        disk.append(tmp_path / "elsewhere" / "journal" / "bench.jsonl", b"one\n")
    assert names(tmp_path) == []


@pytest.mark.parametrize("how", ["append", "change"])
@pytest.mark.parametrize("writers", [2, 8])
def test_many_may_write_at_once(tmp_path: Path, how: str, writers: int) -> None:
    path = tmp_path / "shared"
    crowd = [writer(how, path, f"w{number}", 25) for number in range(writers)]
    for one in crowd:
        one.communicate()
        assert one.returncode == 0
    found = appending.whole_lines(path.read_bytes())
    expected = [(f"w{number}", line) for number in range(writers) for line in range(25)]
    assert sorted(found) == sorted(expected)
    assert path.read_bytes().count(b"\n") == len(expected)
    for number in range(writers):  # each writer's own lines stand in the order it wrote them
        assert [line for name, line in found if name == f"w{number}"] == list(range(25))


@pytest.mark.parametrize("how", ["append", "change"])
def test_a_writer_may_be_killed_at_any_instant(tmp_path: Path, how: str) -> None:
    path = tmp_path / "bench.jsonl"
    confirmed = []
    for kill in range(20):
        process = writer(how, path, f"w{kill}", 100_000)
        assert process.stdout is not None
        for _ in range(1 + kill % 7):
            process.stdout.readline()
        process.kill()
        seen, _ = process.communicate()
        # Of those read above, too: the last confirmed number says how many there were.
        last = int(seen.split()[-1]) if seen.split() else kill % 7
        confirmed += [(f"w{kill}", number) for number in range(last + 1)]
    disk.append(path, appending.line("after", 0))
    found = appending.whole_lines(path.read_bytes())
    assert set(confirmed) <= set(found)
    assert len(found) == len(set(found))
    unconfirmed = set(found) - set(confirmed) - {("after", 0)}
    assert len(unconfirmed) <= 20  # written, and killed before it could say so
    assert ("after", 0) in found


FULL = """
import resource, signal, sys
from pathlib import Path
import appending
from seedstart import disk

signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
for number in range(100):
    try:
        {act}
    except disk.NotRecorded as error:
        print(number, error)
        break
"""


@pytest.mark.parametrize(
    "act",
    [
        "appending.append(Path(sys.argv[1]), 'w', number)",
        "appending.change(Path(sys.argv[1]), 'w', number)",
        "disk.write_new(Path(sys.argv[1] + str(number)), appending.line('w', 0) * 2 ** number)",
    ],
)
def test_a_full_disk_leaves_what_was_confirmed_and_says_so(tmp_path: Path, act: str) -> None:
    # A file's size limit stands in for the full disk: the same call fails half-way.
    path = tmp_path / "bench.jsonl"
    done = subprocess.run(
        [sys.executable, "-c", FULL.format(act=act), str(path)],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONPATH": str(Path(appending.__file__).parent)},
    )
    number, said = done.stdout.split(" ", 1)
    assert said.strip().endswith("Not recorded: the file may not grow any larger.")
    if "write_new" in act:
        assert names(tmp_path) == [f"bench.jsonl{done}" for done in range(int(number))]
    else:
        assert 1 < int(number) < 10
        assert path.read_bytes() == b"".join(appending.line("w", n) for n in range(int(number)))
        assert names(tmp_path) == ["bench.jsonl"]


@pytest.mark.parametrize(
    ("number", "reason"),
    [
        (errno.EIO, "the drive reports a fault"),
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the drive can only be read"),
        (errno.ELOOP, os.strerror(errno.ELOOP)),
    ],
)
def test_what_the_drive_did_not_take_is_taken_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, reason: str
) -> None:
    path = tmp_path / "bench.jsonl"
    disk.append(path, b"one\n")
    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", fails(number))
        with pytest.raises(disk.NotRecorded) as refused:
            disk.append(path, b"two\n")
    assert str(refused.value) == f"{path}. Not recorded: {reason}."
    assert path.read_bytes() == b"one\n"


def test_an_interrupted_write_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bench.jsonl"
    disk.append(path, b"one\n")

    def interrupt(_: int) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as stopped:
        stopped.setattr(durable, "sync", interrupt)
        stopped.setattr("seedstart.disk.writing.sync", interrupt)
        with pytest.raises(KeyboardInterrupt):
            disk.append(path, b"two\n")
    assert path.read_bytes() == b"one\n"


@pytest.mark.parametrize("number", [errno.ENOLCK, errno.EOPNOTSUPP])
def test_a_drive_without_locks_is_written_to_and_that_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    monkeypatch.setattr(fcntl, "flock", fails(number))
    assert "no locks" in disk.append(tmp_path / "bench.jsonl", b"one\n").remarks[0]
    changed = disk.change_file(tmp_path / "bench.jsonl", lambda old: old + b"two\n")
    assert "no locks" in changed.remarks[0]
    assert (tmp_path / "bench.jsonl").read_bytes() == b"one\ntwo\n"


def test_a_file_that_another_program_holds_for_long_is_given_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bench.jsonl"
    disk.append(path, b"one\n")
    monkeypatch.setattr(durable, "_LONGEST_WAIT_S", 0.01)
    with path.open("rb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        with pytest.raises(disk.NotRecorded, match="another program holds the file"):
            disk.append(path, b"two\n")
    disk.append(path, b"three\n")
    assert path.read_bytes() == b"one\nthree\n"


def test_lines_go_to_the_file_that_bears_the_name_now(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bench.jsonl"
    path.write_bytes(b"old\n")
    flock = fcntl.flock

    def moved_over_while_it_waits(file: int, how: int) -> None:
        monkeypatch.setattr(fcntl, "flock", flock)
        (tmp_path / "new").write_bytes(b"new\n")
        (tmp_path / "new").replace(path)
        flock(file, how)

    monkeypatch.setattr(fcntl, "flock", moved_over_while_it_waits)
    disk.append(path, b"line\n")
    assert path.read_bytes() == b"new\nline\n"
