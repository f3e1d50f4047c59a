"""What belongs to the machine and not to a season: the writer's name, the theme."""

import os
import re
import unicodedata
from contextlib import suppress
from pathlib import Path
from typing import Final

from msgspec import Struct

from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.checked import Fault, Table, placed_with
from seedstart.season.plan.toml_text import lines_of, parse_toml
from seedstart.season.plan.typed_values import text

SETTINGS_FILE: Final = "settings.toml"
_LONGEST_WRITER: Final = 32
# Windows opens a device under these names, whatever ending a file has (from memory).
_DEVICE: Final = re.compile(r"con|prn|aux|nul|com\d|lpt\d")


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
    data = b""
    if path.is_file():
        try:
            data = path.read_bytes()
        except OSError as error:
            hint = f"Cannot be read: {error.strerror or error}."
            raise BadInputError([Problem(file=str(path), hint=hint)]) from None
    said = parse_settings(data, str(path))
    writer = writer_name(os.environ.get("SEEDSTART_WRITER") or said.writer)
    return Settings(writer or _this_machine(), said.theme)


def parse_settings(data: bytes, file: str) -> Settings:
    """What a settings file says, the writer as typed; empty where it says none.

    Raises:
        BadInputError: Everything wrong in it.
    """
    faults: list[Fault] = []
    parsed = parse_toml(data, file)
    table = Table(parsed.values, faults)
    writer, theme = table.take("writer", text, ""), table.take("theme", text, "")
    table.close()
    if problems := placed_with(parsed, faults, file):
        raise BadInputError(problems)
    return Settings(writer, theme or None)


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
    """The settings file with another theme; everything else in it stays as it was typed.

    Raises:
        BadInputError: It cannot be read, or its theme cannot be changed by itself.
    """
    said = f'theme = "{theme}"'
    before = parse_toml(old, SETTINGS_FILE)
    lines = before.text.split("\n") if old else []
    line = lines_of(before.text).get(("theme",))
    if line is None:
        lines = [said, *(lines or [""])]
    else:
        lines[line - 1] = said
    new = "\n".join(lines).encode()
    with suppress(BadInputError):
        if parse_toml(new, SETTINGS_FILE).values == before.values | {"theme": theme}:
            return new
    hint = f"The theme is not saved: write {said} into it yourself."
    raise BadInputError([Problem(file=SETTINGS_FILE, hint=hint)])


def writer_name(typed: str) -> str:
    """A name that any file system can bear: `a-z0-9-` alone; empty where nothing is left."""
    letters = unicodedata.normalize("NFKD", typed.casefold()).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_LONGEST_WRITER].strip("-")
    return f"{name}-1" if _DEVICE.fullmatch(name) else name


def _this_machine() -> str:
    """User and host, so that two machines of one person write two files."""
    from getpass import getuser
    from socket import gethostname

    try:
        user = getuser()
    except (KeyError, OSError):
        user = "grower"
    return writer_name(f"{user}-{gethostname().split('.')[0]}") or "grower"
