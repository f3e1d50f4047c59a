"""Folders that are seasons: the nearest one above, and a new one made whole."""

from pathlib import Path
from typing import Final

from seedstart.disk.folders import make_folder
from seedstart.disk.reading import here
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.new_season import NewFiles
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE

# Two machines may write at once, each its own file: the union of the lines is the truth.
_GIT_ATTRIBUTES: Final = b"journal/*.jsonl -text merge=union\n"
_FOLDERS: Final = ("journal", "readings", "weather", "trials", "crops")


def season_at_or_above(folder: Path) -> Path | None:
    """The nearest folder, this one or above it, that is a season."""
    for place in (folder, *folder.resolve().parents):
        if (place / SEASON_FILE).is_file():
            return place
    return None


def check_new_season(folder: Path, file: str = "new") -> None:
    """A season is made in a folder of its own, and never inside another.

    Raises:
        BadInputError: The folder is not empty, or lies in a season; `file` says where it was typed.
    """
    hint = ""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        hint = "It is there and not empty; name a folder that is not there yet."
    elif folder.exists() and folder.samefile(here()):
        hint = "You are in it: go to the folder above it (cd ..) and name it from there."
    elif above := season_at_or_above(folder.resolve().parent):
        hint = f"{above} is a season already; a season inside a season would be mistaken for it."
    if hint:
        raise BadInputError([Problem(file=file, found=str(folder), hint=hint)])


def make_season(folder: Path, files: NewFiles) -> None:
    """The folder of a new season, whole or not at all.

    Raises:
        BadInputError: There is something in that place.
        NotRecorded: It cannot be made there.
    """
    check_new_season(folder)
    data = {
        SEASON_FILE: files.season_toml,
        LOTS_FILE: files.lots_toml,
        ".gitattributes": _GIT_ATTRIBUTES,
        **{f"crops/{name}": text for name, text in files.crops.items()},
    }
    make_folder(folder, data, folders=_FOLDERS)
