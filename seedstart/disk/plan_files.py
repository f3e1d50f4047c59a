"""The files of a plan: season.toml, lots.toml, own crops; read together, lots added at the end."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.reading import read, read_folder, shipped
from seedstart.disk.writing import change_file
from seedstart.season.lots import add_lots
from seedstart.season.new_lots import check_lots
from seedstart.season.plan import LOTS_FILE, SEASON_FILE, Season, read_season

Stamps = tuple[tuple[str, int, int], ...]


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    lots = folder / LOTS_FILE
    return read_season(
        read(folder / SEASON_FILE),
        read(lots) if lots.exists() else b"",
        _crops(folder),
    )


def read_plan_without_lots(folder: Path) -> Season:
    """The plan without what lots.toml says."""
    return read_season(read(folder / SEASON_FILE), b"", _crops(folder))


def _crops(folder: Path) -> CropTable:
    return load_crops(
        read_folder(shipped("crops"), ".toml"),
        read_folder(folder / "crops", ".toml"),
    )


def append_lots(folder: Path, new_lots: Sequence[Mapping[str, Any]]) -> None:
    """Add lots at the end of a season's lots.toml; comments and order stay.

    They are checked again under the lock: the season may have changed since they were typed.

    Args:
        folder: The season's.
        new_lots: Keys and values of each lot.

    Raises:
        BadInputError: Everything wrong in them; nothing was written.
        NotRecorded: The disk refused; nothing was written.
    """

    def added(old: bytes) -> bytes:
        check_lots(new_lots, read_plan(folder))
        return add_lots(old, new_lots)

    change_file(folder / LOTS_FILE, added)


def plan_stamps(folder: Path) -> Stamps:
    """Size and time of the plan's files: what shows that one was edited."""
    files = [folder / SEASON_FILE, folder / LOTS_FILE, *sorted((folder / "crops").glob("*.toml"))]
    found = []
    for path in files:
        try:
            seen = path.stat()
        except OSError:
            continue
        found.append((path.name, seen.st_size, seen.st_mtime_ns))
    return tuple(found)
