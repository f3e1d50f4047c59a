"""Seasons for tests, written as a grower writes them."""

from seedstart.season.plan.season_file import Season, read_season
from shipped import crop_table

HEAD = """
title = "Test bench"
timezone = "Europe/Vienna"

[frost]
last = 2027-05-12

[[station]]
name = "mat"
kind = "mat"
expected = "24C"
area = "1.2 x 0.6 m"

[[station]]
name = "shelf"
kind = "shelf"
expected = "20C"
area = "1.2 x 0.6 m"
lamps = [{ watts = 18, count = 2, hours = 16 }]

[[station]]
name = "sill"
kind = "sill"
expected = "12C"
"""


def season(lots: str = "", head: str = HEAD) -> Season:
    """A season with the test bench's head (or another) and these lots."""
    return read_season(head.encode(), lots.encode(), crop_table())


def lot(name: str, crop: str, **keys: str) -> str:
    """A `[[lot]]` with keys as they stand in TOML."""
    lines = [f"{key.rstrip('_')} = {value}" for key, value in keys.items()]
    return "\n".join(["[[lot]]", f'name = "{name}"', f'crop = "{crop}"', *lines, ""])
