"""What belongs to the machine and not to a season: the writer's name, the theme."""

import os
import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import tomli
from msgspec import Struct

from seedstart.problems import BadInputError, Problem
from seedstart.text import clean

SETTINGS_FILE: Final = "settings.toml"
_LONGEST_WRITER: Final = 32
_KEYS: Final = ("writer", "theme")
_SHOWN: Final = 40
_THEME: Final = re.compile(r"""\s*(?:theme|"theme"|'theme')\s*=""")


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
        BadInputError: The file is there and cannot be read; everything wrong in it.
    """
    path = settings_path()
    keys: dict[str, object] = {}
    try:
        if path.is_file():
            keys = _parsed(path.read_bytes())
    except (OSError, ValueError, RecursionError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).split(";")[0]
        raise BadInputError([Problem(file=str(path), hint=f"Cannot be read: {reason}.")]) from None
    problems = [*_wrong(keys, str(path))]
    if problems:
        raise BadInputError(problems)
    named = os.environ.get("SEEDSTART_WRITER") or str(keys.get("writer", ""))
    theme = keys.get("theme")
    return Settings(writer_name(named) or _this_machine(), str(theme) if theme else None)


def _parsed(data: bytes) -> dict[str, object]:
    """The keys of the file, a byte order mark or not."""
    return tomli.loads(data.decode("utf-8-sig"))


def _wrong(keys: dict[str, object], file: str) -> Iterator[Problem]:
    for key, value in sorted(keys.items()):
        if key not in _KEYS:
            yield Problem(file=file, key=clean(key), found=key, allowed=_KEYS)
        elif not isinstance(value, str):
            hint = f'Text stands in quotes: {key} = "…".'
            yield Problem(file=file, key=key, found=str(value)[:_SHOWN], hint=hint)


def settings_path() -> Path:
    """Where the settings of this user stand."""
    folder = os.environ.get("SEEDSTART_SETTINGS")
    if folder:
        return Path(folder) / SETTINGS_FILE
    import platformdirs

    return platformdirs.user_config_path("seedstart") / SETTINGS_FILE


def with_theme(old: bytes, theme: str) -> bytes:
    """The settings file with another theme; everything else in it stays as it was typed.

    Raises:
        BadInputError: The file cannot be read, or the theme stands in it in a way of its own.
    """
    said = f'theme = "{theme}"'
    try:
        before = _parsed(old)
        lines = old.decode("utf-8-sig").splitlines()
        kept = [said if _THEME.match(line) else line for line in lines]
        new = "\n".join([*(kept if said in kept else [said, *kept]), ""]).encode()
        if _parsed(new) == before | {"theme": theme}:
            return new
        reason = f"write {said} into it yourself"
    except (ValueError, RecursionError) as error:
        reason = str(error).split(";")[0]
    raise BadInputError([Problem(file=SETTINGS_FILE, hint=f"The theme is not kept: {reason}.")])


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
