"""Files that others write to: what is new in them is read once."""

import os
from pathlib import Path

import pytest

from seedstart import disk
from seedstart.problems import BadInputError


def test_what_is_new_in_a_growing_file_is_read_once_in_whole_lines(tmp_path: Path) -> None:
    path = tmp_path / "bench.jsonl"
    path.write_bytes(b"one\ntwo\nthr")
    first = disk.read_new(path)
    assert (first.data, first.first_line, first.tail) == (b"one\ntwo\n", 1, b"thr")
    with path.open("ab") as file:
        file.write(b"ee\nfour\n")
    then = disk.read_new(path, first.mark)
    assert (then.data, then.first_line, then.tail) == (b"three\nfour\n", 3, b"")
    last = disk.read_new(path, then.mark)
    assert (last.data, last.first_line, last.tail) == (b"", 5, b"")
    assert [one.all_over for one in (first, then, last)] == [False] * 3


@pytest.mark.parametrize(
    "now",
    [
        b"one\n",  # shorter
        b"one\nTWO\n",  # of the same length
        b"one\nand a half\ntwo\nthree\n",  # longer, in an editor that writes in place
        b"",
    ],
)
@pytest.mark.parametrize("moved_over", [True, False])
def test_a_file_that_did_not_merely_grow_is_read_all_over(
    tmp_path: Path, now: bytes, moved_over: bool
) -> None:
    path = tmp_path / "bench.jsonl"
    path.write_bytes(b"one\ntwo\n")
    mark = disk.read_new(path).mark
    if moved_over:
        (tmp_path / "other").write_bytes(now)
        (tmp_path / "other").replace(path)
    else:
        path.write_bytes(now)
    again = disk.read_new(path, mark)
    assert again.all_over
    assert (again.data, again.first_line) == (now, 1)


def test_an_edit_in_place_that_keeps_the_length_is_read_all_over(tmp_path: Path) -> None:
    path = tmp_path / "bench.jsonl"
    lines = b"".join(b"line %02d\n" % number for number in range(40))  # more than is remembered
    path.write_bytes(lines)
    first = disk.read_new(path)
    assert not disk.read_new(path, first.mark).all_over
    with path.open("r+b") as file:
        file.write(b"LINE")
    os.utime(path, ns=(0, path.stat().st_mtime_ns + 1_000_000))  # as a coarse clock would show it
    again = disk.read_new(path, first.mark)
    assert again.all_over
    assert again.data == b"LINE" + lines[4:]
    with path.open("ab") as file:
        file.write(b"more\n")
    assert disk.read_new(path, again.mark).data == b"more\n"


def test_a_file_moved_over_by_one_that_is_alike_is_read_all_over(tmp_path: Path) -> None:
    path = tmp_path / "bench.jsonl"
    path.write_bytes(b"one\n")
    mark = disk.read_new(path).mark
    (tmp_path / "other").write_bytes(b"one\ntwo\n")
    (tmp_path / "other").replace(path)
    assert disk.read_new(path, mark).all_over


def test_a_file_that_is_gone_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"bench\.jsonl\. No such file or directory"):
        disk.read_new(tmp_path / "bench.jsonl")
