"""The crop table as the commands load it: the shipped files and a season's own."""

from pathlib import Path

from seedstart import disk
from seedstart.crop_table.load import CropTable, load_crops


def crop_table(own: Path | None = None) -> CropTable:
    """The shipped crop table, with a season's own crops laid over it."""
    return load_crops(
        disk.read_folder(disk.shipped("crops"), ".toml"),
        disk.read_folder(own, ".toml") if own else None,
    )
