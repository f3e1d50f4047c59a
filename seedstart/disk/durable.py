"""Locks, and bytes that are on the drive when the call returns."""

import errno
import os
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl


def _numbers(*names: str) -> frozenset[int]:
    return frozenset(getattr(errno, name) for name in names if hasattr(errno, name))


_LONGEST_WAIT_S: Final = 10.0  # for a lock: who holds one longer hangs, and we would hang too
_PAUSE_S: Final = 0.001
# Not every machine knows all of these. Windows says of a lock that is held that it is not allowed.
_HELD: Final = _numbers("EAGAIN", "EWOULDBLOCK") | (
    _numbers("EACCES", "EDEADLK") if os.name == "nt" else frozenset()
)
_NO_LOCKS: Final = _numbers("ENOLCK", "ENOSYS", "EOPNOTSUPP", "ENOTSUP", "EINVAL")
_NO_FOLDER_SYNC: Final = _numbers("EINVAL", "EBADF", "ENOSYS", "EOPNOTSUPP", "ENOTSUP", "EACCES")
BINARY: Final = getattr(os, "O_BINARY", 0)


@contextmanager
def locked(path: Path, flags: int) -> Iterator[tuple[int, bool]]:
    """An open file that no other program writes to, and whether that is sure."""
    until = time.monotonic() + _LONGEST_WAIT_S
    while True:
        file = os.open(path, flags | BINARY, 0o666)
        try:
            is_locked = _lock(file, until)
            # While we waited the file may have been moved over: then ours is nobody's any more.
            if _is_at(file, path):
                yield file, is_locked
                return
        finally:
            os.close(file)  # and with it goes the lock
        if time.monotonic() > until:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN))


def _is_at(file: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(file), path.stat())
    except FileNotFoundError:
        return False


def _lock(file: int, until: float) -> bool:
    while True:
        try:
            _try_lock(file)
        except OSError as error:
            if error.errno in _NO_LOCKS:
                return False
            if error.errno not in _HELD or time.monotonic() > until:
                raise
            time.sleep(_PAUSE_S)
        else:
            return True


def _try_lock(file: int) -> None:
    if sys.platform == "win32":
        os.lseek(file, 1 << 40, os.SEEK_SET)  # far behind the end: what is locked none can read
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def write(file: int, data: bytes) -> None:
    """Write all of it, in as many calls as it takes."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(file, rest) :]


def sync(file: int) -> None:
    """Return once the drive itself holds what was written."""
    if sys.platform == "darwin":
        # There fsync stops at the drive's own memory; a network drive may know nothing better.
        with suppress(OSError):
            fcntl.fcntl(file, fcntl.F_FULLFSYNC)
            return
    os.fsync(file)


def sync_folder(folder: Path) -> None:
    """Make a new name in a folder last; where folders cannot be synced, nothing is lost by it."""
    if sys.platform != "win32":
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        except OSError as error:
            if error.errno not in _NO_FOLDER_SYNC:
                raise
        finally:
            os.close(opened)


def write_synced(path: Path, data: bytes, mode: int = 0o666) -> None:
    """A whole file, on the drive; its name lasts once its folder is synced too."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | BINARY
    file = os.open(path, flags, stat.S_IMODE(mode))
    try:
        write(file, data)
        sync(file)
    finally:
        os.close(file)
