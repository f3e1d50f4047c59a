"""Calls of the system that fail, and what lies in a folder afterwards."""

import os
from collections.abc import Callable
from pathlib import Path


def fails(number: int) -> Callable[..., None]:
    """A call of the system that fails."""

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())
