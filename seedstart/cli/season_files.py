"""The season that a command works on: found, read, checked."""

from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.crop_files import crop_table
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan import LOTS_FILE, SEASON_FILE, Season, read_season

season_option = click.option(
    "--season",
    "folder",
    metavar="PATH",
    help="The season's folder. Default: this folder, or the nearest above that is one.",
)


def find_season(folder: str | None) -> Path:
    """The folder of the season: as named, else this one, else the nearest above.

    Raises:
        BadInputError: There is none.
    """
    if folder is not None:
        path = Path(folder)
        if (path / SEASON_FILE).is_file():
            return path
        hint = f"There is no {SEASON_FILE} in it; `seedstart new FOLDER` makes a season."
        raise BadInputError([Problem(file="--season", found=folder, hint=hint)])
    above = season_at_or_above(Path.cwd())
    if above is None:
        hint = (
            f"No {SEASON_FILE} in this folder or above it. Go to your season's folder, name it "
            "with --season PATH, or make one with `seedstart new FOLDER`."
        )
        raise BadInputError([Problem(file="season", hint=hint)])
    return above


def season_at_or_above(folder: Path) -> Path | None:
    """The nearest folder, this one or above it, that is a season."""
    for place in (folder, *folder.resolve().parents):
        if (place / SEASON_FILE).is_file():
            return place
    return None


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    crops = crop_table(folder / "crops")
    lots = folder / LOTS_FILE
    return read_season(
        disk.read(folder / SEASON_FILE), disk.read(lots) if lots.exists() else b"", crops
    )
