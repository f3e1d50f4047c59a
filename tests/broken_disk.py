"""A disk whose Nth call fails: for every command that writes, N from 1 until it is done.

The calls of the system under one folder are counted and broken in process, so that thousands of
faults take seconds. `walk` makes each of them happen and looks at what was said and what stands.
"""

import errno
import fcntl
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Literal, NamedTuple

import pytest

from runner import run
from seasons import HEAD, lot
from seedstart.disk import left_in, plan_files, replacing
from shipped import crop_table

CALLS = (
    *("open", "write", "fsync", "ftruncate", "close", "lseek", "read", "fchmod"),
    *("stat", "lstat", "fstat", "listdir", "scandir"),
    *("replace", "rename", "link", "unlink", "mkdir", "rmdir"),
)
Fault = Literal["full", "fault", "fault after", "gone", "short", "kill", "kill after", "torn",
                "stop", "stop after"]  # fmt: skip
FAULTS: tuple[Fault, ...] = Fault.__args__  # type: ignore[attr-defined]


class Killed(BaseException):
    """The process is no more: nothing that it would still do reaches the disk."""


class BrokenDisk:
    """Counts the calls under a folder and breaks one of them.

    Args:
        root: The folder.
        nth: Which call, from 1.
        fault: How it breaks: before or after it was done; `gone` breaks all that follow too.
    """

    def __init__(self, root: Path, nth: int, fault: Fault) -> None:
        self.root, self.nth, self.fault = str(root), nth, fault
        self.count = 0
        self.happened = ""
        self.files: set[int] = set()

    @contextmanager
    def broken(self) -> Iterator[None]:
        with pytest.MonkeyPatch.context() as patched:
            for name in CALLS:
                patched.setattr(os, name, self._call(name, getattr(os, name)))
            patched.setattr(fcntl, "flock", self._call("flock", fcntl.flock))
            exchange = self._call("exchange", replacing.exchange)
            patched.setattr(replacing, "exchange", exchange)
            try:
                yield
            finally:
                patched.undo()
                for file in self.files:  # as the system does for a process that is gone
                    with suppress(OSError):
                        os.close(file)

    def _is_ours(self, target: object) -> bool:
        if isinstance(target, int):
            return target in self.files
        return str(target).startswith(self.root)

    def _call(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **named: Any) -> Any:
            if not args or not self._is_ours(args[0]):
                return real(*args, **named)
            self.count += 1
            if self.count < self.nth or (self.count > self.nth and not self._goes_on()):
                return self._done(name, real, args, named)
            return self._break(name, real, args, named)

        return call

    def _goes_on(self) -> bool:
        return self.fault == "gone" or (self.fault in {"kill", "kill after", "torn"})

    def _done(self, name: str, real: Callable[..., Any], args: Any, named: Any) -> Any:
        result = real(*args, **named)
        if name == "open":
            self.files.add(result)
        elif name == "close":
            self.files.discard(args[0])
        return result

    def _break(self, name: str, real: Callable[..., Any], args: Any, named: Any) -> Any:
        if self.happened and self.fault != "gone":
            raise Killed  # dead already
        if self.fault in {"short", "torn"}:
            if name != "write":
                self.nth += 1
                return self._done(name, real, args, named)
            real(args[0], bytes(args[1])[: len(args[1]) // 2])
        elif self.fault.endswith("after") or name == "close":  # a close that fails has closed
            try:
                result = self._done(name, real, args, named)
            except OSError:  # it was not done: the next one is broken
                self.nth += 1
                raise
            if name == "scandir":
                result.close()
        self.happened = name
        raise _raised(self.fault)


def _raised(fault: Fault) -> BaseException:
    if fault in {"kill", "kill after", "torn"}:
        return Killed()
    if fault in {"stop", "stop after"}:
        return KeyboardInterrupt()
    number = errno.ENOSPC if fault in {"full", "short"} else errno.EIO
    return OSError(number, os.strerror(number))


class Act(NamedTuple):
    """A command that writes.

    Attributes:
        args: The command; `{}` in one of them is the season's folder.
        times: How often what it writes stands there.
    """

    args: tuple[str, ...]
    times: Callable[[Path], int]


_ON = ("--season", "{}/s", "--on", "2027-03-20")


def _lines_with(*words: bytes) -> Callable[[Path], int]:
    """How many whole lines of the writer's journal hold all of these."""

    def times(place: Path) -> int:
        path = place / "s" / "journal" / "bench.jsonl"
        text = path.read_bytes() if path.exists() else b""
        whole = [line for line in text.split(b"\n") if line.endswith(b"}")]
        return sum(all(word in line for word in words) for line in whole)

    return times


def _blocks(file: str, text: bytes) -> Callable[[Path], int]:
    return lambda place: (place / "s" / file).read_bytes().count(text)


def _is_there(name: str) -> Callable[[Path], int]:
    return lambda place: int((place / name).exists())


ACTS = {
    "noted": Act(("log", "noted", "mould", *_ON), _lines_with(b'"text":"mould"')),
    "counted": Act(("log", "counted", "leek", "18", *_ON), _lines_with(b'"standing":18')),
    "take-back": Act(("log", "take-back", *_ON), _lines_with(b'"kind":"struck"')),
    "ticked": Act(
        ("round", "--answer", "count leek", "12", *_ON), _lines_with(b'"counted"', b'"standing":12')
    ),
    "lot": Act(
        ("lot", "add", "basil", "--crop", "basil", "--season", "{}/s"),
        _blocks("lots.toml", b'name = "basil"'),
    ),
    "station": Act(
        ("station", "add", "tent", "--kind", "shelf", "--season", "{}/s"),
        _blocks("season.toml", b'name = "tent"'),
    ),
    "readings": Act(
        ("readings", "add", "{}/in.csv", "--station", "mat", "--quantity", "air_c", "--season",
         "{}/s", "--unit", "C"), _is_there("s/readings/in.csv")
    ),
    "new": Act(
        ("new", "{}/a/b/new", "--last-frost", "2027-05-12", "--risk", "average", "--timezone",
         "Europe/Vienna"), _is_there("a/b/new/season.toml")
    ),
    "sample": Act(("new", "--sample", "{}/play"), _is_there("play/season.toml")),
}  # fmt: skip


def small_season(folder: Path) -> None:
    """A season with a sowing, the count of another day, and a logger's file beside it."""
    for name in ("journal", "readings", "crops"):
        (folder / "s" / name).mkdir(parents=True)
    (folder / "s" / "season.toml").write_text(HEAD, "utf-8")
    (folder / "s" / "lots.toml").write_text(lot("leek", "leek", station='"mat"'), "utf-8")
    rows = "time,air\n2027-03-20 08:00,21.5\n2027-03-20 09:00,22\n"
    (folder / "in.csv").write_text(rows, "utf-8")
    for day, *said in (
        ("2027-03-05", "sown", "leek", "40"),
        ("2027-03-19", "counted", "leek", "9"),
        ("2027-03-20", "watered", "mat"),
    ):
        done = run("log", *said, "--season", str(folder / "s"), "--on", day)
        assert done.exit_code == 0, done.stderr


@contextmanager
def crops_read_once() -> Iterator[None]:
    """A hundred files that nothing here writes to are not read for every command."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(plan_files, "load_crops", lambda *_: crop_table())
        yield


def _is_left(name: str) -> bool:
    """What was not finished: on a drive that is gone nobody can take it away."""
    return name.startswith(".") and name.endswith(".new")


def texts(folder: Path) -> dict[str, bytes]:
    """The files that count, by name."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not any(_is_left(part) for part in path.relative_to(folder).parts)
    }


def walk(make: Path, place: Path, act: Act, fault: Fault, step: int = 1, first: int = 1) -> int:
    """Break every `step`th call of a command in turn; how many faults were made to happen.

    Args:
        make: The season as it is before, copied anew each time.
        place: Where the copy lies; what is under it is broken.
        act: The command.
        fault: How.
        step: 1 for all of them.
        first: The first that breaks.
    """
    nth, faults = first, 0
    while True:
        shutil.rmtree(place, ignore_errors=True)
        shutil.copytree(make, place)
        before = texts(place)
        disk = BrokenDisk(place, nth, fault)
        said, code = _run(act, place, disk)
        if not disk.happened:
            assert code == 0, said
            assert act.times(place) == 1
            return faults
        faults += 1
        where = f"{' '.join(act.args)}: call {disk.nth} ({disk.happened}) {fault}: {said!r} {code}"
        _look(act, place, before, said, code, where)
        nth = disk.nth + step


def _run(act: Act, place: Path, disk: BrokenDisk) -> tuple[str, int | None]:
    args = [arg.replace("{}", str(place)) for arg in act.args]
    try:
        with disk.broken():
            result = run(*args)
    except Killed:
        return "", None
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.stderr, result.exit_code


def _look(
    act: Act, place: Path, before: dict[str, bytes], said: str, code: int | None, where: str
) -> None:
    after = texts(place)
    for name, text in before.items():
        grown = after[name].startswith(text) if name.endswith(".jsonl") else True
        assert grown or after[name] == text, f"{name} is not whole. {where}"
    times = act.times(place)
    assert times in {0, 1}, where
    if code == 0:
        assert times == 1, f"Confirmed, and not there. {where}"
        return
    if code is not None:
        assert code == 2, where
        if "may be recorded" in said:
            return
        assert times == 0, f"Said not to be recorded, and there. {where}"
        kept = {name: text for name, text in after.items() if text or name in before}
        assert kept == before, f"Not as it was. {where}"
    if times == 0:  # a retry is in place: it was killed, or said not to be recorded
        args = [arg.replace("{}", str(place)) for arg in act.args]
        again = run(*args)
        assert again.exit_code == 0, f"{again.stderr} after {where}"
        assert act.times(place) == 1, f"Twice or not at all after a retry. {where}"
        folders = [place, *(path for path in place.rglob("*") if path.is_dir())]
        assert not [left for folder in folders for left in left_in(folder)], f"Left over. {where}"
