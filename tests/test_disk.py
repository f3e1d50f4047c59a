"""Files: what was confirmed is there, whole and once, whatever happens to who wrote it."""

import errno
import fcntl
import os
import signal
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

import appending
from seedstart import disk
from seedstart.disk import durable, placing, replacing
from seedstart.disk.season_folder import check_new_season
from seedstart.problems import BadInputError, Problem


def writer(how: str, path: Path, name: str, most: int) -> "subprocess.Popen[bytes]":
    """Another process that writes so many lines."""
    command = [sys.executable, appending.__file__, how, str(path), name, str(most)]
    return subprocess.Popen(command, stdout=subprocess.PIPE)


def fails(number: int) -> Callable[..., None]:
    """A call of the system that fails."""

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# Appending


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
    assert said.strip().endswith("Not recorded: the file may not grow any further.")
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


@pytest.mark.parametrize("over_open_files", [True, False])
def test_a_drive_that_cannot_let_two_files_change_places_takes_the_new_text_without_a_word(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, over_open_files: bool
) -> None:
    # On Windows a file that is open is not moved over: there it is closed first.
    monkeypatch.setattr(replacing, "_MOVES_OVER_OPEN_FILES", over_open_files)
    monkeypatch.setattr(replacing, "exchange", lambda *_: False)
    path = tmp_path / "lots.toml"
    path.write_bytes(b"# mine\n")
    assert disk.change_file(path, lambda old: old + b"[[lot]]\n").remarks == ()
    assert path.read_bytes() == b"# mine\n[[lot]]\n"
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
    files = {"a.toml": b"a", "crops/own/b.toml": b"b", "crops/own/c.toml": b"c"}
    disk.make_folder(tmp_path / "s", files, ["journal"])
    assert disk.read_tree(tmp_path / "s") == files
    assert names(tmp_path / "s") == ["a.toml", "crops", "journal"]
    assert names(tmp_path) == ["s"]


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "s").mkdir()
    (tmp_path / "s" / "mine").write_bytes(b"1")
    with pytest.raises(disk.NotRecorded, match="Not recorded: Directory not empty"):
        disk.make_folder(tmp_path / "s", {"a.toml": b"a"})
    assert disk.read_tree(tmp_path) == {"s/mine": b"1"}


def test_a_season_cannot_be_made_where_a_file_bears_its_name(tmp_path: Path) -> None:
    (tmp_path / "spring").write_bytes(b"a list")
    with pytest.raises(BadInputError, match="It is there and not empty"):
        check_new_season(tmp_path / "spring")
    check_new_season(tmp_path / "autumn")


# Growing files


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
            broken.setattr("seedstart.disk.placing.sync_folder", fails(errno.EIO))
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
    if not placing.exchange(path, path):
        pytest.fail("these tests run where two files change places in one call")
    saves = [b"edited\n"]

    def saved_just_before(one: Path, other: Path) -> bool:
        if saves:
            (tmp_path / "saved").write_bytes(saves.pop())
            (tmp_path / "saved").replace(path)
        return placing.exchange(one, other)

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


# What lies in the folder


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


# New folders


def test_every_folder_of_a_new_one_is_synced_and_those_above_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[str] = []

    def note(folder: Path) -> None:
        synced.append(str(folder.relative_to(tmp_path)).replace(str(os.getpid()), "PID"))

    monkeypatch.setattr("seedstart.disk.folders.sync_folder", note)
    monkeypatch.setattr("seedstart.disk.placing.sync_folder", note)
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
