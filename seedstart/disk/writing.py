"""Files written: what is not refused is on the drive and outlives a crash, a kill, a power cut."""

import errno
import os
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from seedstart.disk.durable import locked, sync, sync_folder, write, write_synced
from seedstart.problems import BadInputError, Problem

_MOVES_OVER_OPEN_FILES: Final = os.name != "nt"
_REASONS: Final = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the share of the disk is used up",
    errno.EFBIG: "the file may not grow any further",
    errno.EROFS: "the drive can only be read",
    errno.EACCES: "this user may not write there",
    errno.EPERM: "this user may not write there",
    errno.EIO: "the drive reports a fault",
    errno.ENOENT: "the folder is not there",
    errno.EAGAIN: "another program holds the file",
}


class NotRecorded(BadInputError):  # noqa: N818 - what a face says
    """Nothing was written; the text says why."""

    def __init__(self, path: Path, error: OSError) -> None:
        reason = _REASONS.get(error.errno or 0, error.strerror or str(error))
        super().__init__([Problem(file=str(path), hint=f"Not recorded: {reason}.")])


def append(path: Path, data: bytes) -> bool:
    """Put whole lines at the end of a file, all or none; the folder is made where it is missing.

    A torn line that another left at the end keeps a line of its own.

    Returns:
        Whether the file could be locked. Some network drives cannot: there two programs must
        not write to one file at once.

    Raises:
        NotRecorded: They are not in the file.
    """
    try:
        _make_folder(path.parent)
        with locked(path, os.O_RDWR | os.O_APPEND | os.O_CREAT) as (file, is_locked):
            end = os.lseek(file, 0, os.SEEK_END)
            lines = data if end == 0 or _last_byte(file, end) == b"\n" else b"\n" + data
            try:
                write(file, lines)
                sync(file)
                if end == 0:
                    sync_folder(path.parent)
            except BaseException:
                _cut_back(file, end, len(lines))
                raise
            return is_locked
    except OSError as error:
        raise NotRecorded(path, error) from None


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet, whole or not at all.

    Raises:
        BadInputError: There is one.
        NotRecorded: It could not be written.
    """
    try:
        _make_folder(path.parent)
        beside = _write_beside(path, data)
        try:
            _name_new(beside, path)
        finally:
            beside.unlink(missing_ok=True)
        try:
            sync_folder(path.parent)
        except OSError:
            path.unlink()
            raise
    except FileExistsError:
        hint = "It is there already, and nothing was written."
        raise BadInputError([Problem(file=str(path), hint=hint)]) from None
    except OSError as error:
        raise NotRecorded(path, error) from None


def change_file(path: Path, change: Callable[[bytes], bytes]) -> bool:
    """Put a whole new text in place of a file's; a crash leaves the old one or the new one.

    Args:
        path: The file; where it is not there, its old text is empty.
        change: Old text → new one, called once nobody else writes. What it raises goes through,
            and nothing is written.

    Returns:
        Whether the file could be locked, as `append` does.

    Raises:
        NotRecorded: The old text stands.
    """
    path = path.resolve()  # a link stays a link
    is_new = not path.exists()
    try:
        with locked(path, os.O_RDWR | os.O_CREAT) as (file, is_locked):
            try:
                beside = _write_beside(path, change(_read_all(file)), os.fstat(file).st_mode)
            except BaseException:
                if is_new:
                    path.unlink(missing_ok=True)
                raise
            if _MOVES_OVER_OPEN_FILES:
                beside.replace(path)
        if not _MOVES_OVER_OPEN_FILES:
            beside.replace(path)
        sync_folder(path.parent)
    except OSError as error:
        raise NotRecorded(path, error) from None
    return is_locked


def make_folder(folder: Path, files: Mapping[str, bytes], folders: Iterable[str] = ()) -> None:
    """A new folder with these files, whole or not at all.

    It is made beside its place and moved there, so that nobody finds half of it.

    Args:
        folder: Where; it may be there already if it is empty.
        files: Their bytes, by their path inside it.
        folders: Folders inside it, to begin empty.

    Raises:
        NotRecorded: It cannot be made there.
    """
    beside = folder.with_name(f".{folder.name}.{os.getpid()}.new")
    try:
        beside.mkdir(parents=True)
        for name in folders:
            (beside / name).mkdir()
        for name, data in files.items():
            (beside / name).parent.mkdir(parents=True, exist_ok=True)
            write_synced(beside / name, data)
        if folder.exists():
            folder.rmdir()
        beside.rename(folder)
        sync_folder(folder.parent)
    except OSError as error:
        from shutil import rmtree

        rmtree(beside, ignore_errors=True)
        raise NotRecorded(folder, error) from None


def _make_folder(folder: Path) -> None:
    if not folder.is_dir():
        folder.mkdir(exist_ok=True)
        sync_folder(folder.parent)


def _last_byte(file: int, end: int) -> bytes:
    os.lseek(file, end - 1, os.SEEK_SET)
    return os.read(file, 1)


def _read_all(file: int) -> bytes:
    os.lseek(file, 0, os.SEEK_SET)
    with os.fdopen(file, "rb", closefd=False) as whole:
        return whole.read()


def _cut_back(file: int, end: int, length: int) -> None:
    """Undo a write that failed; without a lock another's lines may stand behind it."""
    with suppress(OSError):
        if os.fstat(file).st_size <= end + length:
            os.ftruncate(file, end)
            os.fsync(file)


def _write_beside(path: Path, data: bytes, mode: int = 0o666) -> Path:
    beside = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        write_synced(beside, data, mode)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _name_new(beside: Path, path: Path) -> None:
    """Give a written file its name, unless there is one that bears it."""
    try:
        path.hardlink_to(beside)
    except FileExistsError:
        raise
    except OSError:  # a drive without links: an empty file keeps the name until it is moved over
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL))
        beside.replace(path)
