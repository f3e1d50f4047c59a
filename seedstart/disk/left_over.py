"""What is written beside its place first; and what a run that was killed left lying there."""

import os
import re
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

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
            return tuple(sorted(Path(one.path) for one in entries if _is_left(one)))
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
    return not is_folder or _OF_A_SEASON.issuperset(one.name for one in Path(entry.path).iterdir())


def _is_gone(process: int) -> bool:
    """Whether a process has ended; where that cannot be asked without harm, it has not.

    A number is given out again: what bears ours was there before we began to write.
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
