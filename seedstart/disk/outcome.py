"""What became of something that was to be written: on the drive, not on it, or nobody knows."""

import errno
import os
import stat
from pathlib import Path
from typing import Final, NamedTuple

from seedstart.problems import BadInputError, Problem

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
            "out again. Look there before you enter it a second time."
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


# All that this run has written: whoever ends early tells what stands all the same.
_RUN: Final[list[Written]] = []


def begin_run() -> None:
    """From here on `written` counts."""
    _RUN.clear()


def written() -> tuple[Written, ...]:
    """What was written since the run began."""
    return tuple(_RUN)


def stands(path: Path) -> None:
    """From this call on it is recorded, whatever fails or is stopped after it."""
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
