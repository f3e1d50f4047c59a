"""What was written beside comes to its place in one call, and it is known whether it did."""

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from seedstart.disk.durable import sync_folder
from seedstart.disk.outcome import PerhapsRecorded, failed_after, stands

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


def exchange(one: Path, other: Path) -> bool:
    """Let two files change places in one call; False where system or drive cannot do it."""
    if sys.platform != "linux":
        return False
    import ctypes  # only who changes a plan's file pays for it

    call = getattr(ctypes.CDLL(None), "renameat2", None)
    if call is None:
        return False
    done: int = call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _EXCHANGE)
    return done == 0
