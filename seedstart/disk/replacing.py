"""A file's text replaced by another, and nothing lost of what an editor saves meanwhile."""

import os
import re
import sys
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from seedstart.disk.durable import (
    PerhapsRecorded,
    failed_after,
    is_at,
    locked,
    stands,
    sync_folder,
    write_synced,
)

# Of a file, or of the folder of a season: `.lots.toml.4711.new`, `.spring.4711.new`.
_FILE: Final = re.compile(r"\..+\.(?:toml|csv)\.(\d{1,7})\.new")
_FOLDER: Final = re.compile(r"\..+\.(\d{1,7})\.new")
# What the folder of a season may hold when it was not finished; another's is never touched.
_OF_A_SEASON: Final = frozenset(
    {"season.toml", "lots.toml", ".gitattributes"}
    | {"journal", "readings", "weather", "trials", "crops"}
)


def beside(path: Path) -> Path:
    """Where this process writes what is to be at `path`."""
    return path.with_name(f".{path.name}.{os.getpid()}.new")


def left_in(folder: Path) -> tuple[Path, ...]:
    """What runs that are over have left half-made in a folder; nothing where it cannot be seen."""
    try:
        with os.scandir(folder) as entries:
            return tuple(sorted(Path(entry.path) for entry in entries if _is_left(entry)))
    except OSError:
        return ()


def clear(folders: Iterable[Path]) -> None:
    """Take away what runs that are over have left half-made; what cannot be, stays."""
    for folder in folders:
        for path in left_in(folder):
            with suppress(OSError):
                remove(path)


def remove(path: Path) -> None:
    """Take away a file or a folder that was not finished."""
    if path.is_dir() and not path.is_symlink():
        from shutil import rmtree

        rmtree(path, ignore_errors=True)
    else:
        path.unlink(missing_ok=True)


def _is_left(entry: "os.DirEntry[str]") -> bool:
    is_folder = entry.is_dir(follow_symlinks=False)
    named = (_FOLDER if is_folder else _FILE).fullmatch(entry.name)
    if named is None or not _is_gone(int(named[1])):
        return False
    return not is_folder or _OF_A_SEASON.issuperset(
        path.name for path in Path(entry.path).iterdir()
    )


def _is_gone(process: int) -> bool:
    """Whether a process has ended; where that cannot be asked without harm, it has not.

    A process number is used again: a file with ours was there before we began to write.
    """
    if process == os.getpid():
        return True
    if os.name == "nt":
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False


_AT_FDCWD: Final = -100  # paths as they are, from linux/fcntl.h
_EXCHANGE: Final = 2  # RENAME_EXCHANGE, from linux/fs.h


def place_of(path: Path) -> tuple[Path, bool]:
    """The file that is meant, and whether its name is a link out of its folder.

    A link inside the folder means what it names; one out of it means itself.

    Raises:
        OSError: It is a link to nothing.
    """
    folder = Path(os.path.realpath(path.parent))
    own = folder / path.name
    if not own.is_symlink():
        return own, False
    target = Path(os.path.realpath(own))
    if not target.exists():
        raise OSError(None, "it is a link to nothing")
    inside = target.is_relative_to(folder)
    return (target, False) if inside else (own, True)


def put_in_place(move: Callable[[], object], path: Path, mine: os.stat_result) -> list[str]:
    """Do the one call after which it stands; where that fails, look whether it was done.

    Args:
        move: The call.
        path: Where it puts what was written.
        mine: What shows that something is what was written.

    Returns:
        Remarks.

    Raises:
        OSError: It was not done.
        PerhapsRecorded: It failed, and so did looking.
    """
    remarks = []
    try:
        move()
    except BaseException as error:
        if not _is_there(path, mine, error):
            raise
        stands(path)
        if not isinstance(error, OSError):
            raise
        remarks.append(failed_after("moving it to its place", error))
    else:
        stands(path)
    try:
        sync_folder(path.parent)
    except OSError as error:
        remarks.append(failed_after("making its name last through a power cut", error))
    return remarks


def _is_there(path: Path, mine: os.stat_result, error: BaseException) -> bool:
    try:
        return os.path.samestat(path.lstat(), mine)
    except FileNotFoundError:
        return False
    except OSError:
        raise PerhapsRecorded(path, error) from None


def exchange(path: Path, other: Path) -> bool:
    """Let two files change places in one call; False where system or drive cannot do it."""
    if sys.platform != "linux":
        return False
    import ctypes  # only who changes a plan's file pays for it

    call = getattr(ctypes.CDLL(None), "renameat2", None)
    if call is None:
        return False
    done: int = call(_AT_FDCWD, os.fsencode(path), _AT_FDCWD, os.fsencode(other), _EXCHANGE)
    return done == 0


MOVES_OVER_OPEN_FILES: Final = os.name != "nt"
# An editor that saves in place empties the file first: so long it is looked at before it is
# believed. Common practice, no source: a save takes well under a millisecond.
_QUIET_S: Final = 0.02
_QUIET_IF_EMPTY_S: Final = 0.3


class _SavedMeanwhileError(Exception):
    """Another program saved the file between reading and replacing it."""


def replaced(path: Path, change: Callable[[bytes], bytes]) -> list[str] | None:
    """Put `change` of a file's text in its place; None where another saved it meanwhile.

    Raises:
        OSError: The old text stands.
        PerhapsRecorded: Nobody knows which text stands.
    """
    place, is_link_out = place_of(path)
    is_new = not os.path.lexists(place)
    new = beside(place)
    with locked(place, os.O_RDONLY if is_link_out else os.O_RDWR | os.O_CREAT) as held:
        try:
            old = read_all(held.file) if is_new else _settled(held.file)
            mode = os.fstat(held.file).st_mode
            mine = write_synced(new, change(old), None if is_new else mode)
            remarks: list[str] | None = []
            if MOVES_OVER_OPEN_FILES:
                remarks = _put_over(held.file, old, new, place, mine)
        except BaseException:
            _forget(new, place if is_new and not _has_text(held.file) else None)
            raise
    if not MOVES_OVER_OPEN_FILES:
        remarks = put_in_place(lambda: new.replace(place), place, mine)
    if remarks is None:
        return None
    if is_link_out:
        remarks.append(f"{path} was a link out of its folder; it is a file of its own now.")
    return [*held.remarks, *remarks]


def _put_over(
    file: int, old: bytes, new: Path, place: Path, mine: os.stat_result
) -> list[str] | None:
    """The new text in place of the old one, unless that is no longer the old one."""

    def is_old(where: Path) -> bool:
        return is_at(file, where) and read_all(file) == old

    def move() -> None:
        if not is_old(place):
            raise _SavedMeanwhileError
        if not exchange(new, place):
            new.replace(place)
        elif not is_old(new):
            new.replace(place)  # what was saved in that very moment goes back
            raise _SavedMeanwhileError

    try:
        remarks = put_in_place(move, place, mine)
    except _SavedMeanwhileError:
        _forget(new)
        return None
    try:
        new.unlink(missing_ok=True)  # the old text, where the two have changed places
    except OSError as error:
        remarks.append(failed_after(f"taking {new.name} away", error))
    return remarks


def _settled(file: int) -> bytes:
    """The text, once nobody is in the middle of saving it.

    A file that was moved to its place, as ours are, was moved after its text was written.
    """
    while True:
        text, seen = read_all(file), os.fstat(file)
        if seen.st_mtime_ns != seen.st_ctime_ns:
            return text
        time.sleep(_QUIET_S if text else _QUIET_IF_EMPTY_S)
        if read_all(file) == text:
            return text


def read_all(file: int) -> bytes:
    """The text of an open file."""
    os.lseek(file, 0, os.SEEK_SET)
    with os.fdopen(file, "rb", closefd=False) as whole:
        return whole.read()


def _has_text(file: int) -> bool:
    try:
        return os.fstat(file).st_size > 0
    except OSError:
        return True


def _forget(*paths: Path | None) -> None:
    for path in paths:
        if path is not None:
            with suppress(OSError):
                path.unlink(missing_ok=True)
