"""What belongs to the machine and not to a season: the writer's name, the theme."""

import os
import re
import unicodedata
from pathlib import Path
from typing import Final

import tomli
from msgspec import Struct

from seedstart.problems import BadInputError, Problem

SETTINGS_FILE: Final = "settings.toml"
_LONGEST_WRITER: Final = 32


class Settings(Struct, frozen=True):
    """The settings of this machine.

    Attributes:
        writer: Who writes here; the journal file bears the name.
        theme: `dark` or `light`: the ground of the app; None for dark.
    """

    writer: str
    theme: str | None = None


def read_settings() -> Settings:
    """The settings file of this user, if there is one; `SEEDSTART_WRITER` comes first.

    Raises:
        BadInputError: The file is there and cannot be read.
    """
    path = settings_path()
    keys: dict[str, object] = {}
    if path.is_file():
        try:
            keys = tomli.loads(path.read_text("utf-8"))
        except (OSError, UnicodeDecodeError, tomli.TOMLDecodeError) as error:
            raise BadInputError(
                [Problem(file=str(path), hint=f"Cannot be read: {error}.")]
            ) from None
    unknown = sorted(set(keys) - {"writer", "theme"})
    if unknown:
        allowed = ("writer", "theme")
        raise BadInputError(
            Problem(file=str(path), key=key, found=key, allowed=allowed) for key in unknown
        )
    named = os.environ.get("SEEDSTART_WRITER") or str(keys.get("writer") or "")
    theme = keys.get("theme")
    return Settings(writer_name(named) or _this_machine(), str(theme) if theme else None)


def settings_path() -> Path:
    """Where the settings of this user stand."""
    folder = os.environ.get("SEEDSTART_SETTINGS")
    if folder:
        return Path(folder) / SETTINGS_FILE
    import platformdirs

    return platformdirs.user_config_path("seedstart") / SETTINGS_FILE


def reports_path() -> Path:
    """The folder in which reports of faults of the program itself are put."""
    folder = os.environ.get("SEEDSTART_SETTINGS")
    if folder:
        return Path(folder) / "reports"
    import platformdirs

    return platformdirs.user_state_path("seedstart") / "reports"


def with_theme(old: bytes, theme: str) -> bytes:
    """The settings file with another theme; everything else in it stays as it was typed."""
    said = f'theme = "{theme}"'
    lines = old.decode("utf-8", "replace").splitlines()
    kept = [said if re.match(r"\s*theme\s*=", line) else line for line in lines]
    return "\n".join([*(kept if said in kept else [said, *kept]), ""]).encode()


def writer_name(text: str) -> str:
    """A name that any file system can bear: `a-z0-9-` alone; empty where nothing is left."""
    letters = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_LONGEST_WRITER].strip("-")


def _this_machine() -> str:
    """User and host, so that two machines of one person write two files."""
    from getpass import getuser
    from socket import gethostname

    try:
        user = getuser()
    except (KeyError, OSError):
        user = "grower"
    return writer_name(f"{user}-{gethostname().split('.')[0]}") or "grower"
