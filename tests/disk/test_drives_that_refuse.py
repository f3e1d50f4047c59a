"""Drives and files that hold or refuse what is asked: waited for, given up, or gone on."""

import errno
import fcntl
import os
import stat
from pathlib import Path

import pytest

from seedstart import disk
from seedstart.disk import durable, replacing
from seedstart.disk.season_folder import check_new_season
from seedstart.problems import BadInputError


def names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_a_file_that_is_moved_over_again_and_again_is_given_up_as_held(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(durable, "_LONGEST_WAIT_S", 0.0)
    monkeypatch.setattr(durable, "is_at", lambda *_: False)
    with pytest.raises(disk.NotRecorded, match="another program holds the file"):
        disk.append(tmp_path / "bench.jsonl", b"one\n")


def test_a_file_that_another_program_holds_for_a_moment_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    flock, tries = fcntl.flock, iter([errno.EAGAIN, errno.EWOULDBLOCK])

    def held_twice(file: int, how: int) -> None:
        number = next(tries, None)
        if number is not None:
            raise OSError(number, os.strerror(number))
        flock(file, how)

    monkeypatch.setattr(fcntl, "flock", held_twice)
    assert disk.append(tmp_path / "bench.jsonl", b"one\n").remarks == ()
    assert next(tries, None) is None


def folders_fail(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drive on which no folder can be synced."""
    fsync = os.fsync

    def fail(file: int) -> None:
        if stat.S_ISDIR(os.fstat(file).st_mode):
            raise OSError(number, os.strerror(number))
        fsync(file)

    monkeypatch.setattr(os, "fsync", fail)


def test_where_folders_cannot_be_synced_lines_are_written_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folders_fail(errno.EINVAL, monkeypatch)
    disk.append(tmp_path / "journal" / "bench.jsonl", b"one\n")
    assert (tmp_path / "journal" / "bench.jsonl").read_bytes() == b"one\n"


def test_a_new_journal_whose_name_may_not_last_is_not_written_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bench.jsonl"
    path.touch()
    with monkeypatch.context() as patched:
        folders_fail(errno.EIO, patched)
        with pytest.raises(disk.NotRecorded):
            disk.append(path, b"one\n")
        assert path.read_bytes() == b""
    disk.append(path, b"one\n")
    folders_fail(errno.EIO, monkeypatch)  # its name stands already
    disk.append(path, b"two\n")
    assert path.read_bytes() == b"one\ntwo\n"


@pytest.mark.parametrize("over_open_files", [True, False])
def test_a_drive_that_cannot_let_two_files_change_places_takes_the_new_text_without_a_word(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, over_open_files: bool
) -> None:
    # On Windows a file that is open is not moved over: there it is closed first.
    monkeypatch.setattr(replacing, "MOVES_OVER_OPEN_FILES", over_open_files)
    monkeypatch.setattr(replacing, "exchange", lambda *_: False)
    path = tmp_path / "lots.toml"
    path.write_bytes(b"# mine\n")
    assert disk.change_file(path, lambda old: old + b"[[lot]]\n").remarks == ()
    assert path.read_bytes() == b"# mine\n[[lot]]\n"
    assert names(tmp_path) == ["lots.toml"]


def test_a_season_cannot_be_made_where_a_file_bears_its_name(tmp_path: Path) -> None:
    (tmp_path / "spring").write_bytes(b"a list")
    with pytest.raises(BadInputError, match="It is there and not empty"):
        check_new_season(tmp_path / "spring")
    check_new_season(tmp_path / "autumn")
