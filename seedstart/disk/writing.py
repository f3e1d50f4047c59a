"""Files written: what is not refused is on the drive and outlives a crash, a kill, a power cut.

Each of these functions has one moment at which what it writes stands. Before it a failure is
`NotRecorded`, and all is as it was; after it nothing is raised, and what fails is a remark.
"""

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from seedstart.disk.durable import (
    NotRecorded,
    PerhapsRecorded,
    Written,
    failed_after,
    locked,
    remarked,
    stands,
    sync,
    sync_folder,
    undisturbed,
    write,
    write_synced,
)
from seedstart.disk.replacing import (
    MOVES_OVER_OPEN_FILES,
    beside,
    clear,
    place_of,
    put_in_place,
    read_all,
    replaced,
)
from seedstart.problems import BadInputError, Problem

_MOST_LOOKS: Final = 50


def append(path: Path, data: bytes) -> Written:
    """Put whole lines at the end of a file, all or none; the folder is made where it is missing.

    A torn line that another left at the end keeps a line of its own.

    Returns:
        What stands, with a remark where the drive has no locks: two programs must not write to one
        file at once there.

    Raises:
        NotRecorded: They are not in the file.
        PerhapsRecorded: They may be: the drive failed twice.
    """
    try:
        make_missing(path.parent)
        _, is_link_out = place_of(path)
        if is_link_out:
            raise OSError(None, "it is a link out of its folder")  # noqa: TRY301
        with locked(path, os.O_RDWR | os.O_APPEND | os.O_CREAT) as held:
            end = os.lseek(held.file, 0, os.SEEK_END)
            if end == 0:
                sync_folder(path.parent)  # its name first: then it stands once the lines do
            lines = data if end == 0 or _last_byte(held.file, end) == b"\n" else b"\n" + data
            _put_behind(held.file, path, end, lines)
        return remarked(path, held.remarks)
    except OSError as error:
        raise NotRecorded(path, error) from None


def _put_behind(file: int, path: Path, end: int, lines: bytes) -> None:
    try:
        write(file, lines)
        sync(file)
    except BaseException as error:
        if not _cut_back(file, end, len(lines)):
            raise PerhapsRecorded(path, error) from None
        raise
    stands(path)


def _cut_back(file: int, end: int, length: int) -> bool:
    """Undo a write that failed; not where another's lines may stand behind it, without a lock."""
    try:
        if os.fstat(file).st_size > end + length:
            return False
        os.ftruncate(file, end)
    except OSError:
        return False
    with suppress(OSError):
        sync(file)
    return True


def write_new(path: Path, data: bytes) -> Written:
    """Write a file that is not there yet, whole or not at all.

    Raises:
        BadInputError: There is one.
        NotRecorded: It could not be written.
    """
    new = beside(path)
    try:
        make_missing(path.parent)
        clear([path.parent])
        with undisturbed():
            try:
                mine = write_synced(new, data)
                remarks = put_in_place(lambda: _name_new(new, path), path, mine)
            except BaseException:
                with suppress(OSError):
                    new.unlink(missing_ok=True)
                raise
            try:
                new.unlink(missing_ok=True)
            except OSError as error:
                remarks.append(failed_after(f"taking {new.name} away", error))
    except FileExistsError:
        hint = "It is there already, and nothing was written."
        raise BadInputError([Problem(file=str(path), hint=hint)]) from None
    except OSError as error:
        raise NotRecorded(path, error) from None
    return remarked(path, remarks)


def change_file(path: Path, change: Callable[[bytes], bytes]) -> Written:
    """Put a whole new text in place of a file's; a crash leaves the old one or the new one.

    What another program saves there meanwhile is looked at again, and the change made to that. A
    link inside the folder stays a link; one out of it is replaced, and what it names is left alone.

    Args:
        path: The file; where it is not there, its old text is empty.
        change: Old text → new one, called while none of us writes, and again after another has
            saved the file. What it raises goes through, and nothing is written.

    Returns:
        What stands, with a remark where the drive has no locks.

    Raises:
        NotRecorded: The old text stands.
        PerhapsRecorded: Nobody knows which text stands.
    """
    try:
        clear([path.parent])
        for _ in range(_MOST_LOOKS):
            remarks = replaced(path, change)
            if remarks is not None:
                return remarked(path, remarks)
        raise OSError(None, "another program saves it again and again")  # noqa: TRY301
    except OSError as error:
        raise NotRecorded(path, error) from None


def take_away(path: Path, still: bytes) -> Written:
    """Take a file away while its text is still the one that was looked at.

    Raises:
        NotRecorded: It is there as it was, or with what another saved meanwhile.
    """
    try:
        with locked(path, os.O_RDWR) as held:
            if read_all(held.file) != still:
                raise OSError(None, "it was saved again meanwhile")  # noqa: TRY301
            if MOVES_OVER_OPEN_FILES:
                path.unlink()
            remarks = list(held.remarks)
        path.unlink(missing_ok=True)
        stands(path)
        try:
            sync_folder(path.parent)
        except OSError as error:
            remarks.append(failed_after("making that last through a power cut", error))
    except OSError as error:
        raise NotRecorded(path, error) from None
    return remarked(path, remarks)


def make_missing(folder: Path) -> None:
    """Make a folder where it is missing, inside one that is there, so that it lasts."""
    if not folder.is_dir():
        try:
            folder.mkdir()
        except FileExistsError:
            if not folder.is_dir():
                raise OSError(None, f"{folder.name} is no folder") from None
        sync_folder(folder.parent)


def _last_byte(file: int, end: int) -> bytes:
    os.lseek(file, end - 1, os.SEEK_SET)
    return os.read(file, 1)


def _name_new(new: Path, path: Path) -> None:
    """Give a written file its name, unless another file has it."""
    try:
        path.hardlink_to(new)
    except FileExistsError:
        raise
    except OSError:  # a drive without links: an empty file keeps the name until it is moved over
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL))
        try:
            new.replace(path)
        except BaseException:
            with suppress(OSError):
                if path.stat().st_size == 0:
                    path.unlink()
            raise
