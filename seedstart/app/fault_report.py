"""A fault of seedstart itself, written to a file for whoever mends it."""

import platform
from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from traceback import format_exception

from seedstart import disk
from seedstart.problems import BadInputError
from seedstart.settings import reports_path


def write_report(error: Exception, where: str, now: datetime) -> Path | None:
    """Write what failed and where; no word of the season beyond what the fault itself says.

    Args:
        error: What failed.
        where: The page.
        now: When, for the file's name.

    Returns:
        The file; None where it cannot be written.
    """
    path = reports_path() / f"{now:%Y-%m-%d-%H%M%S}-{type(error).__name__}.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists():  # the same fault in the same second
            disk.write_new(path, _text(error, where, now).encode("utf-8", "replace"))
    except (OSError, BadInputError):
        return None
    return path


def _text(error: Exception, where: str, now: datetime) -> str:
    versions = ", ".join(f"{name} {_version(name)}" for name in ("seedstart", "textual", "msgspec"))
    head = (
        f"seedstart failed on {where}, {now:%Y-%m-%d %H:%M}.\n"
        f"{versions}, Python {platform.python_version()}, {platform.platform()}\n\n"
    )
    return head + "".join(format_exception(error))


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "of unknown version"
