"""The only module that touches files."""

import os
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
