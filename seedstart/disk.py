"""The only module that touches files."""

import os
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Final

from seedstart.problems import BadInputError, Problem

_PACKAGE: Final = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """Where `crops` or `sample_season` lies: inside an installed package, else above it.

    A wheel carries them inside the package; a checkout keeps them at its top level.
    """
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


def read(path: Path) -> bytes:
    """The whole of a file.

    Raises:
        BadInputError: It is not there or cannot be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        raise BadInputError([Problem(file=str(path), hint=_why(error))]) from None


def read_folder(folder: Path, suffix: str) -> dict[str, bytes]:
    """The files of a folder that end in `suffix`, by name, in order of name."""
    if not folder.is_dir():
        return {}
    names = sorted(entry.name for entry in os.scandir(folder) if entry.name.endswith(suffix))
    return {name: read(folder / name) for name in names}


def _why(error: OSError) -> str:
    reason = error.strerror or str(error)
    return f"{reason[:1].upper()}{reason[1:]}."


def read_tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path inside it with `/` between."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): read(path) for path in files}


def make_folder(folder: Path, files: Mapping[str, bytes], folders: Iterable[str] = ()) -> None:
    """A new folder with these files, whole or not at all.

    It is made beside its place and moved there, so that nobody finds half of it.

    Args:
        folder: Where; it may be there already if it is empty.
        files: Their bytes, by their path inside it.
        folders: Folders inside it, to begin empty.

    Raises:
        BadInputError: It cannot be made there.
    """
    beside = folder.with_name(f".{folder.name}.{os.getpid()}")
    try:
        beside.parent.mkdir(parents=True, exist_ok=True)
        beside.mkdir()
        for name in folders:
            (beside / name).mkdir()
        for name, data in files.items():
            path = beside / name
            path.parent.mkdir(parents=True, exist_ok=True)
            _write_synced(path, data)
        if folder.exists():
            folder.rmdir()
        beside.rename(folder)
        _sync_folder(folder.parent)
    except OSError as error:
        from shutil import rmtree

        rmtree(beside, ignore_errors=True)
        raise BadInputError([Problem(file=str(folder), hint=_why(error))]) from None


def change_file(path: Path, change: Callable[[bytes], bytes]) -> None:
    """Change a whole file: read under a lock, written beside, moved over."""
    try:
        old = path.read_bytes() if path.exists() else b""
        beside = path.with_name(f".{path.name}.{os.getpid()}")
        _write_synced(beside, change(old))
        beside.replace(path)
        _sync_folder(path.parent)
    except OSError as error:
        raise BadInputError([Problem(file=str(path), hint=_why(error))]) from None


def _write_synced(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    """What was moved into a folder survives a power cut once the folder itself is written."""
    if os.name != "nt":
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
