"""The season that a command works on: which folder it is."""

from pathlib import Path

import click

from seedstart import disk
from seedstart.disk.season_folder import season_at_or_above
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.season_file import SEASON_FILE

season_option = click.option(
    "--season",
    "folder",
    metavar="PATH",
    help="The season's folder. Default: this folder, or the nearest one above it.",
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
        hint = f"There is no {SEASON_FILE} in it; `seedstart new season FOLDER` makes a season."
        raise BadInputError([Problem(file="--season", found=folder, hint=hint)])
    above = season_at_or_above(disk.here())
    if above is None:
        hint = (
            f"No {SEASON_FILE} in this folder or above it. Go to your season's folder, give it "
            "with --season PATH, or make one with `seedstart new season FOLDER`."
        )
        raise BadInputError([Problem(file="season", hint=hint)])
    return above
