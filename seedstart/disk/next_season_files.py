"""The files of the season after one, from that one's folder and what it has taught."""

from pathlib import Path

from seedstart.crop_table.load import CropTable
from seedstart.disk.plan_files import own_crop_files
from seedstart.disk.reading import read
from seedstart.planning.lots.learning import Learned, crop_files
from seedstart.season.plan.new_season import NewFiles, next_season
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Frost


def taken_over(
    last: Path, learned: Learned, crops: CropTable, title: str, frost: Frost | None
) -> NewFiles:
    """The files of the season after: stations, lots with seed left and their tests, own figures.

    Args:
        last: The folder of the season that ends.
        learned: What it has taught.
        crops: Its crop table.
        title: The new season's.
        frost: The new season's last frost.

    Raises:
        BadInputError: A file of the old season cannot be read.
    """
    lots = last / LOTS_FILE
    return next_season(
        read(last / SEASON_FILE),
        read(lots) if lots.exists() else b"",
        crops,
        title=title,
        frost=frost,
        left=learned.left,
        tests=learned.tests,
        own_crops=crop_files(learned, own_crop_files(last)),
    )
