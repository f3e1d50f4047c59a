"""Folders made whole: whoever looks finds all of one or none of it."""

import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from seedstart.disk.durable import (
    NotRecorded,
    Written,
    remarked,
    sync_folder,
    undisturbed,
    write_synced,
)
from seedstart.disk.replacing import beside, clear, put_in_place, remove


def make_folder(folder: Path, files: Mapping[str, bytes], folders: Iterable[str] = ()) -> Written:
    """A new folder with these files, whole or not at all.

    It is made beside its place and moved there, so that nobody finds half of it.

    Args:
        folder: Where; it may be there already if it is empty.
        files: Their bytes, by their path inside it.
        folders: Folders inside it, to begin empty.

    Raises:
        NotRecorded: It cannot be made there, and nothing was.
        PerhapsRecorded: Nobody knows whether it was made.
    """
    above: list[Path] = []
    try:
        whole = Path(os.path.abspath(folder))  # noqa: PTH100 - `..` goes
        new = beside(whole)
        with undisturbed():
            try:
                _make_above(whole.parent, above)
                clear([whole.parent])
                mine = _fill(new, files, folders)
                remarks = put_in_place(lambda: _move(new, whole), whole, mine)
            except BaseException:
                remove(new)
                if not whole.is_dir():
                    _take_away(above)
                raise
    except OSError as error:
        raise NotRecorded(folder, error) from None
    return remarked(whole, remarks)


def _make_above(folder: Path, made: list[Path]) -> None:
    """Make the folders that are missing above it; each lasts in the one above that."""
    if folder.is_dir():
        return
    _make_above(folder.parent, made)
    folder.mkdir()
    made.append(folder)
    sync_folder(folder.parent)


def _take_away(made: list[Path]) -> None:
    for folder in reversed(made):
        with suppress(OSError):
            folder.rmdir()


def _fill(new: Path, files: Mapping[str, bytes], folders: Iterable[str]) -> os.stat_result:
    new.mkdir()
    inside = {new}
    for name in folders:
        (new / name).mkdir()
        inside.add(new / name)
    for name, data in files.items():
        path = new / name
        path.parent.mkdir(parents=True, exist_ok=True)
        write_synced(path, data)
        inside |= {above for above in path.parents if above.is_relative_to(new)}
    for one in sorted(inside, reverse=True):  # the innermost first
        sync_folder(one)
    return new.stat()


def _move(new: Path, folder: Path) -> None:
    if os.name == "nt" and folder.is_dir():  # elsewhere an empty folder is moved over
        folder.rmdir()
    new.rename(folder)
