"""What is said to be written after a failure is so, and what a killed run left goes."""

import errno
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from failing import fails, names
from seedstart import disk
from seedstart.disk import replacing

# What is true after a failure


@pytest.mark.parametrize(
    ("how", "fails_then"),
    [("append", "close"), ("change", "the folder"), ("new", "the folder")],
)
def test_what_fails_once_it_stands_is_a_remark_and_no_refusal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str, fails_then: str
) -> None:
    path = tmp_path / "bench.jsonl"
    if how != "new":
        path.write_bytes(b"one\n")
    close = os.close

    def close_and_fail(file: int) -> None:
        is_it = os.fstat(file).st_size > 0 and os.path.samestat(os.fstat(file), path.stat())
        close(file)
        if is_it:
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as broken:
        if fails_then == "close":
            broken.setattr(os, "close", close_and_fail)
        else:
            broken.setattr("seedstart.disk.replacing.sync_folder", fails(errno.EIO))
        written = {
            "append": lambda: disk.append(path, b"two\n"),
            "change": lambda: disk.change_file(path, lambda old: old + b"two\n"),
            "new": lambda: disk.write_new(path, b"one\ntwo\n"),
        }[how]()
    assert path.read_bytes() == b"one\ntwo\n"
    assert "It is recorded, so do not enter it again" in written.remarks[0]
    assert written.remarks[0].endswith("the drive reports a fault.")


def test_a_line_that_could_not_be_taken_out_again_is_said_to_stand_perhaps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bench.jsonl"
    disk.append(path, b"one\n")
    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", fails(errno.EIO))
        broken.setattr(os, "ftruncate", fails(errno.EIO))
        with pytest.raises(disk.PerhapsRecorded, match="It may be recorded all the same"):
            disk.append(path, b"two\n")
    assert path.read_bytes() == b"one\ntwo\n"


def test_a_move_that_was_done_and_failed_behind_that_is_recorded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"a")
    replace = os.replace

    def replace_and_fail(one: Path, other: Path) -> None:
        replace(one, other)
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr("seedstart.disk.replacing.exchange", lambda *_: False)
    monkeypatch.setattr(os, "replace", replace_and_fail)
    written = disk.change_file(path, lambda old: old + b"b")
    assert path.read_bytes() == b"ab"
    assert "do not enter it again" in written.remarks[0]


@pytest.mark.parametrize("how", ["append", "change", "new"])
def test_ctrl_c_waits_until_it_is_known_what_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    path = tmp_path / "bench.toml"
    before, fsync = signal.signal(signal.SIGINT, signal.default_int_handler), os.fsync

    def pressed_meanwhile(file: int) -> None:
        os.kill(os.getpid(), signal.SIGINT)
        fsync(file)

    monkeypatch.setattr(os, "fsync", pressed_meanwhile)
    write: Callable[[], object] = {
        "append": lambda: disk.append(path, b"one\n"),
        "change": lambda: disk.change_file(path, lambda _: b"one\n"),
        "new": lambda: disk.write_new(path, b"one\n"),
    }[how]
    disk.begin_run()
    try:
        with pytest.raises(KeyboardInterrupt):
            write()
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)
    assert path.read_bytes() == b"one\n"
    assert names(tmp_path) == ["bench.toml"]
    assert [one.path for one in disk.written()] == [path]


@pytest.mark.parametrize("how", ["in place", "by renaming", "in place, caught empty"])
@pytest.mark.parametrize("swaps", [True, False])
def test_what_an_editor_saves_meanwhile_is_looked_at_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str, swaps: bool
) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"mine\n")
    if not swaps:
        monkeypatch.setattr("seedstart.disk.replacing.exchange", lambda *_: False)
    seen: list[bytes] = []

    def change(old: bytes) -> bytes:
        seen.append(old)
        if len(seen) == 1:
            if how == "by renaming":
                (tmp_path / "saved").write_bytes(b"mine, edited\n")
                (tmp_path / "saved").replace(path)
            else:
                path.write_bytes(b"mine, edited\n")
        return old + b"added\n"

    if how.endswith("empty"):
        with path.open("wb") as editor:  # it has emptied the file and not written yet
            timer = threading.Timer(0.05, lambda: os.write(editor.fileno(), b"mine\n"))
            timer.start()
            disk.change_file(path, change)
            timer.join()
    else:
        disk.change_file(path, change)
    assert path.read_bytes() == b"mine, edited\nadded\n"
    assert seen == [b"mine\n", b"mine, edited\n"]
    assert names(tmp_path) == ["lots.toml"]


def test_what_an_editor_saves_in_the_very_moment_goes_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"mine\n")
    if not replacing.exchange(path, path):
        pytest.fail("these tests run where two files change places in one call")
    saves = [b"edited\n"]

    def saved_just_before(one: Path, other: Path) -> bool:
        if saves:
            (tmp_path / "saved").write_bytes(saves.pop())
            (tmp_path / "saved").replace(path)
        return replacing.exchange(one, other)

    monkeypatch.setattr("seedstart.disk.replacing.exchange", saved_just_before)
    disk.change_file(path, lambda old: old + b"added\n")
    assert path.read_bytes() == b"edited\nadded\n"
    assert names(tmp_path) == ["lots.toml"]


def test_a_file_that_is_saved_again_and_again_is_given_up(tmp_path: Path) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"0")

    def change(old: bytes) -> bytes:
        (tmp_path / "saved").write_bytes(b"%d" % (int(old) + 1))
        (tmp_path / "saved").replace(path)
        return b"ours"

    with pytest.raises(disk.NotRecorded, match="saves it again and again"):
        disk.change_file(path, change)
    assert path.read_bytes() == b"50"
    assert names(tmp_path) == ["lots.toml"]


# What a killed run leaves


def gone() -> int:
    """The number of a process that has ended."""
    done = subprocess.Popen([sys.executable, "-c", ""])
    done.wait()
    return done.pid


def test_what_a_killed_run_left_is_named_and_taken_away_with_the_next_write(
    tmp_path: Path,
) -> None:
    mine, other = gone(), os.getppid()
    left = [tmp_path / f".lots.toml.{mine}.new", tmp_path / f".spring.{mine}.new"]
    left[0].write_bytes(b"half")
    left[1].mkdir()
    (left[1] / "season.toml").write_bytes(b"half")
    kept = [f".lots.toml.{other}.new", f".photos.{mine}.new", ".gitignore"]
    (tmp_path / kept[0]).write_bytes(b"being written just now")
    (tmp_path / kept[1]).mkdir()
    (tmp_path / kept[1] / "not ours").write_bytes(b"1")
    (tmp_path / kept[2]).write_bytes(b"")
    assert disk.left_in(tmp_path) == tuple(left)
    disk.change_file(tmp_path / "lots.toml", lambda old: old + b"new")
    assert names(tmp_path) == sorted([*kept, "lots.toml"])
