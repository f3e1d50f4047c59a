"""Links, pipes and hidden names in a folder are told apart from its files."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from failing import names
from seedstart import disk
from seedstart.problems import BadInputError


def test_a_link_out_of_the_folder_is_replaced_and_not_followed(tmp_path: Path) -> None:
    (tmp_path / "s").mkdir()
    (tmp_path / "elsewhere").write_bytes(b"a")
    path = tmp_path / "s" / "lots.toml"
    path.symlink_to(tmp_path / "elsewhere")
    written = disk.change_file(path, lambda old: old + b"b")
    assert "was a link out of its folder" in written.remarks[0]
    assert (tmp_path / "elsewhere").read_bytes() == b"a"
    assert not path.is_symlink()
    assert path.read_bytes() == b"ab"


def test_lines_are_not_put_behind_a_file_out_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "journal").mkdir()
    (tmp_path / "elsewhere").write_bytes(b"a\n")
    path = tmp_path / "journal" / "bench.jsonl"
    path.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(disk.NotRecorded, match="a link out of its folder"):
        disk.append(path, b"one\n")
    (tmp_path / "elsewhere").unlink()
    with pytest.raises(disk.NotRecorded, match="a link to nothing"):
        disk.append(path, b"one\n")
    assert names(tmp_path) == ["journal"]


@pytest.mark.parametrize(
    ("make", "kind"),
    [
        (os.mkfifo, "a pipe"),
        (lambda path: path.mkdir(), "a folder"),
        (lambda path: path.symlink_to("/dev/zero"), "a device"),
    ],
)
def test_what_is_no_file_is_refused_by_name_and_not_waited_for(
    tmp_path: Path, make: Callable[[Path], None], kind: str
) -> None:
    path = tmp_path / "x.jsonl"
    make(path)
    for read in (disk.read, disk.read_new):
        with pytest.raises(BadInputError, match=rf"x\.jsonl\. It is {kind} and no file"):
            read(path)
    says = r"x\.jsonl\. Not recorded: it is a"
    with pytest.raises(disk.NotRecorded, match=says):
        disk.append(path, b"one\n")
    with pytest.raises(disk.NotRecorded, match=says):
        disk.change_file(path, lambda old: old)


def test_names_that_begin_with_a_dot_are_passed_over(tmp_path: Path) -> None:
    (tmp_path / ".#bench.jsonl").symlink_to("grower@hut.4711")
    (tmp_path / "._bench.jsonl").write_bytes(b"\0")
    (tmp_path / "bench.jsonl").write_bytes(b"one\n")
    assert disk.names_in(tmp_path, ".jsonl") == ("bench.jsonl",)
    assert disk.read_folder(tmp_path, ".jsonl") == {"bench.jsonl": b"one\n"}
