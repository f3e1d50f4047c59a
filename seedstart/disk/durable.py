"""Locks, and bytes that are on the drive when the call returns."""

import errno
import os
import signal
import stat
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, NamedTuple

from seedstart.problems import BadInputError, Problem

_REASONS: Final = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EFBIG: "the file may not grow any larger",
    errno.EROFS: "the drive can only be read",
    errno.EACCES: "this user may not write there",
    errno.EPERM: "this user may not write there",
    errno.EIO: "the drive reports a fault",
    errno.ENOENT: "the folder is not there",
    errno.EAGAIN: "another program holds the file",
    errno.EBADF: "it is closed",
    errno.EISDIR: "it is a folder and no file",
    errno.ENXIO: "it is a socket or a device and no file",
}


class NotRecorded(BadInputError):  # noqa: N818 - what a face says
    """Nothing was written; the text says why."""

    def __init__(self, path: Path, error: OSError) -> None:
        super().__init__([Problem(file=str(path), hint=f"Not recorded: {reason_of(error)}.")])


class PerhapsRecorded(BadInputError):  # noqa: N818 - what a face says
    """The drive failed, and failed again when what was begun was to be taken out."""

    def __init__(self, path: Path, error: BaseException) -> None:
        reason = reason_of(error) if isinstance(error, OSError) else "it was stopped"
        hint = (
            f"It may be recorded all the same: {reason}, and what was begun could not be taken "
            "out again. Check before you enter it a second time."
        )
        super().__init__([Problem(file=str(path), hint=hint)])


class Written(NamedTuple):
    """What is on the drive.

    Attributes:
        path: The file or folder.
        remarks: What a grower has to know of it, as sentences; mostly nothing.
    """

    path: Path
    remarks: tuple[str, ...] = ()


# All that this run has written: whoever ends early can say what was written.
_RUN: Final[list[Written]] = []


def begin_run() -> None:
    """Begin to count what `written` gives."""
    _RUN.clear()


def written() -> tuple[Written, ...]:
    """What was written since the run began."""
    return tuple(_RUN)


def stands(path: Path) -> None:
    """Take it as recorded from this call on, whatever fails or is stopped after it."""
    _RUN.append(Written(path))


def remarked(path: Path, remarks: list[str]) -> Written:
    """What stands, with what is to be said of it."""
    _RUN[-1] = Written(path, tuple(remarks))
    return _RUN[-1]


def remark(text: str) -> Written:
    """What was written last, with one more thing to be said of it."""
    last = _RUN[-1]
    return remarked(last.path, [*last.remarks, text])


def failed_after(what: str, error: OSError) -> str:
    """The remark on something that failed when all was written."""
    return (
        f"It is recorded, so do not enter it again; but {what} failed after that: "
        f"{reason_of(error)}."
    )


def reason_of(error: OSError) -> str:
    """Why the drive or the system refused, in words that go on a sentence."""
    return _REASONS.get(error.errno or 0, error.strerror or str(error))


def refuse_unless_file(file: int) -> None:
    """What is no regular file is neither read nor written: it may never end.

    Raises:
        OSError: It is something else.
    """
    mode = os.fstat(file).st_mode
    if not stat.S_ISREG(mode):
        kinds = {stat.S_IFIFO: "a pipe", stat.S_IFDIR: "a folder", stat.S_IFSOCK: "a socket"}
        kind = kinds.get(stat.S_IFMT(mode), "a device")
        raise OSError(None, f"it is {kind} and no file")


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
NO_LOCKS_HERE: Final = (
    "This drive has no locks: let no other program write to this season meanwhile."
)
# A pipe is not waited for: it is no file, and that is seen once it is open.
OPENED: Final = getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)


class Held:
    """An open file that no other program writes to.

    Attributes:
        file: Its descriptor.
        remarks: What has to be said of it: no locks here, or that closing it failed.
    """

    def __init__(self, file: int) -> None:
        self.file = file
        self.remarks: list[str] = []

    def close(self) -> None:
        """Let go of it, and of the lock; what is on the drive stays there if that fails."""
        try:
            os.close(self.file)
        except OSError as error:
            self.remarks.append(failed_after("closing the file", error))


@contextmanager
def locked(path: Path, flags: int) -> Iterator[Held]:
    """An open file that no other program writes to; what is no file is refused.

    Raises:
        OSError: It cannot be opened, or another program holds it.
    """
    until = time.monotonic() + _LONGEST_WAIT_S
    while True:
        held = Held(os.open(path, flags | OPENED, 0o666))
        try:
            refuse_unless_file(held.file)
            if not _lock(held.file, until):
                held.remarks.append(NO_LOCKS_HERE)
            # While we waited the file may have been moved over: then ours is nobody's any more.
            if is_at(held.file, path):
                with undisturbed():
                    yield held
                return
        finally:
            held.close()
        if time.monotonic() > until:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN))


def is_at(file: int, path: Path) -> bool:
    """Whether an open file is the one that has this name now."""
    try:
        return os.path.samestat(os.fstat(file), path.stat())
    except FileNotFoundError:
        return False


@contextmanager
def undisturbed() -> Iterator[None]:
    """Let Ctrl-C wait until it is known whether what is being written stands.

    Raises:
        KeyboardInterrupt: Afterwards, if it was pressed.
    """
    usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if not usual or threading.current_thread() is not threading.main_thread():
        yield
        return
    pressed: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: pressed.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    if pressed:
        raise KeyboardInterrupt


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


def write_synced(path: Path, data: bytes, mode: int | None = None) -> os.stat_result:
    """A whole file, on the drive; its name lasts once its folder is synced too.

    Args:
        path: Where.
        data: All of it.
        mode: Who may read and write it; None for what is usual here.

    Returns:
        What shows later that a file is this one.
    """
    file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | OPENED, 0o666)
    try:
        write(file, data)
        if mode is not None and hasattr(os, "fchmod"):
            os.fchmod(file, stat.S_IMODE(mode))
        sync(file)
        return os.fstat(file)
    finally:
        os.close(file)
