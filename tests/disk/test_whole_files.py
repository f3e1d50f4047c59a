"""Files and folders that are made or changed whole, or not at all."""

import errno
import os
from pathlib import Path

import pytest

from failing import fails, names
from seedstart import disk
from seedstart.disk.durable import NotRecorded
from seedstart.disk.writing import take_away
from seedstart.problems import BadInputError, Problem

# Whole files


def test_a_new_file_is_written_once_and_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "readings" / "march.csv"
    disk.write_new(path, b"one")
    with pytest.raises(BadInputError, match="It is there already, and nothing was written"):
        disk.write_new(path, b"two")
    assert path.read_bytes() == b"one"
    assert names(path.parent) == ["march.csv"]


def test_a_drive_without_links_takes_new_files_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "link", fails(errno.EPERM))
    path = tmp_path / "march.csv"
    disk.write_new(path, b"one")
    with pytest.raises(BadInputError, match="It is there already"):
        disk.write_new(path, b"two")
    assert path.read_bytes() == b"one"
    assert names(tmp_path) == ["march.csv"]


def test_a_file_is_changed_whole_and_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"# mine\n")
    path.chmod(0o640)
    assert disk.change_file(path, lambda old: old + b"[[lot]]\n").remarks == ()
    assert path.read_bytes() == b"# mine\n[[lot]]\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert names(tmp_path) == ["lots.toml"]


def test_a_file_that_is_not_there_is_changed_from_nothing(tmp_path: Path) -> None:
    disk.change_file(tmp_path / "lots.toml", lambda old: old + b"new")
    assert (tmp_path / "lots.toml").read_bytes() == b"new"


def test_a_link_to_a_file_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "lots.toml").write_bytes(b"a")
    (tmp_path / "lots.toml").symlink_to(tmp_path / "kept" / "lots.toml")
    disk.change_file(tmp_path / "lots.toml", lambda old: old + b"b")
    assert (tmp_path / "lots.toml").is_symlink()
    assert (tmp_path / "kept" / "lots.toml").read_bytes() == b"ab"


@pytest.mark.parametrize("is_there", [True, False])
def test_a_change_that_is_refused_changes_nothing(tmp_path: Path, is_there: bool) -> None:
    path = tmp_path / "lots.toml"
    if is_there:
        path.write_bytes(b"# mine\n")

    def refuse(_: bytes) -> bytes:
        raise BadInputError([Problem(file="lots.toml", hint="Twice the same name.")])

    with pytest.raises(BadInputError, match="Twice the same name"):
        disk.change_file(path, refuse)
    assert names(tmp_path) == (["lots.toml"] if is_there else [])
    assert not is_there or path.read_bytes() == b"# mine\n"


def test_a_change_that_cannot_be_written_leaves_the_old_text(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "lots.toml"
    path.write_bytes(b"# mine\n")
    monkeypatch.setattr(os, "fsync", fails(errno.ENOSPC))
    with pytest.raises(disk.NotRecorded, match="the disk is full"):
        disk.change_file(path, lambda old: old + b"new")
    assert path.read_bytes() == b"# mine\n"
    assert names(tmp_path) == ["lots.toml"]


def test_a_folder_is_made_whole(tmp_path: Path) -> None:
    disk.make_folder(tmp_path / "s", {"a.toml": b"a", "crops/b.toml": b"b"}, ["journal"])
    assert disk.read_tree(tmp_path / "s") == {"a.toml": b"a", "crops/b.toml": b"b"}
    assert names(tmp_path / "s") == ["a.toml", "crops", "journal"]
    assert names(tmp_path) == ["s"]


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "s").mkdir()
    (tmp_path / "s" / "mine").write_bytes(b"1")
    with pytest.raises(disk.NotRecorded, match="Not recorded: Directory not empty"):
        disk.make_folder(tmp_path / "s", {"a.toml": b"a"})
    assert disk.read_tree(tmp_path) == {"s/mine": b"1"}


# New folders


def test_every_folder_of_a_new_one_is_synced_and_those_above_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[str] = []

    def note(folder: Path) -> None:
        synced.append(str(folder.relative_to(tmp_path)).replace(str(os.getpid()), "PID"))

    monkeypatch.setattr("seedstart.disk.folders.sync_folder", note)
    monkeypatch.setattr("seedstart.disk.replacing.sync_folder", note)
    disk.make_folder(tmp_path / "a" / "b" / "s", {"a.toml": b"a", "c/d/b.toml": b"b"}, ["journal"])
    inside = "a/b/.s.PID.new"
    assert synced == [
        *(".", "a"),
        *(f"{inside}/journal", f"{inside}/c/d", f"{inside}/c", inside),
        "a/b",
    ]


@pytest.mark.parametrize("how", [OSError(errno.ENOSPC, "full"), KeyboardInterrupt()])
def test_a_new_folder_that_failed_leaves_nothing_not_even_those_above_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: BaseException
) -> None:
    def fail(*_: object) -> None:
        raise how

    monkeypatch.setattr("seedstart.disk.folders.put_in_place", fail)
    with pytest.raises((disk.NotRecorded, KeyboardInterrupt)):
        disk.make_folder(tmp_path / "a" / "b" / "s", {"a.toml": b"a"})
    assert names(tmp_path) == []


def test_a_file_is_taken_away_only_while_it_says_what_was_looked_at(tmp_path: Path) -> None:
    file = tmp_path / "spring.toml"
    file.write_bytes(b"saved meanwhile\n")
    with pytest.raises(NotRecorded, match="saved again meanwhile"):
        take_away(file, b"as it was\n")
    assert file.read_bytes() == b"saved meanwhile\n"
    take_away(file, b"saved meanwhile\n")
    assert list(tmp_path.iterdir()) == []
