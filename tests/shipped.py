"""The shipped crop table, read once a test run."""

from functools import cache

from seedstart import disk
from seedstart.crop_table.crop import Crop
from seedstart.crop_table.load import CropTable, load_crops


@cache
def crop_files() -> dict[str, bytes]:
    """The files of the crops as they ship."""
    return disk.read_folder(disk.shipped("crops"), ".toml")


@cache
def crop_table() -> CropTable:
    """The crops as they ship."""
    return load_crops(crop_files())


def crop(name: str) -> Crop:
    """One of them."""
    return crop_table().crops[name]


def with_weeks() -> list[Crop]:
    """Those that handbooks raise indoors."""
    return [one for one in crop_table().crops.values() if one.weeks_before_last_frost]
