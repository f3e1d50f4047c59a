"""A file's text replaced by another, and nothing lost of what an editor saves meanwhile."""

import os
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from seedstart.disk.durable import is_at, locked, write_synced
from seedstart.disk.left_over import beside
from seedstart.disk.outcome import failed_after
from seedstart.disk.placing import exchange, place_of, put_in_place

_MOVES_OVER_OPEN_FILES: Final = os.name != "nt"
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
            old = _read_all(held.file) if is_new else _settled(held.file)
            mode = os.fstat(held.file).st_mode
            mine = write_synced(new, change(old), None if is_new else mode)
            remarks: list[str] | None = []
            if _MOVES_OVER_OPEN_FILES:
                remarks = _put_over(held.file, old, new, place, mine)
        except BaseException:
            _forget(new, place if is_new and not _has_text(held.file) else None)
            raise
    if not _MOVES_OVER_OPEN_FILES:
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
        return is_at(file, where) and _read_all(file) == old

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
        text, seen = _read_all(file), os.fstat(file)
        if seen.st_mtime_ns != seen.st_ctime_ns:
            return text
        time.sleep(_QUIET_S if text else _QUIET_IF_EMPTY_S)
        if _read_all(file) == text:
            return text


def _read_all(file: int) -> bytes:
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
