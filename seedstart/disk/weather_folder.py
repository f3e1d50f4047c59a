"""The weather of a season: what was said of its files."""

from pathlib import Path

from seedstart.disk.reading import read
from seedstart.season.weather.columns import COLUMNS_FILE, WEATHER_FOLDER, Known, read_columns


def read_columns_of(folder: Path) -> Known:
    """What was said of the season's weather files, by header; nothing where nobody did.

    Raises:
        BadInputError: Everything wrong in it.
    """
    path = folder / WEATHER_FOLDER / COLUMNS_FILE
    return read_columns(read(path)) if path.exists() else {}
