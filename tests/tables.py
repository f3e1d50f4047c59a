"""The reference tables under tests/reference/, as the tests read them."""

import csv
from collections.abc import Iterator
from functools import cache
from pathlib import Path

REFERENCE = Path(__file__).resolve().parent / "reference"


def rows(name: str) -> Iterator[dict[str, str]]:
    """The rows of one table, by column."""
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


# Rows that speak of other crops than crop_names.csv says, or of several.
_FEEDS = {
    "squash": ("summer squash", "winter squash"),
    "begonia": ("wax begonia",),
    "husk tomato": ("husk cherry",),
    "watermelon (seedless)": (),
    "salvia": ("scarlet sage",),
}


@cache
def _crop_names() -> dict[str, str]:
    return {row["name_in_files"].casefold(): row["crop"] for row in rows("crop_names.csv")}


def by_crop(*names: str, column: str = "crop") -> dict[str, list[dict[str, str]]]:
    """Rows of some tables by the crop table's name, read without the script that pools them."""
    found: dict[str, list[dict[str, str]]] = {}
    for name in names:
        for row in rows(name):
            written = row[column].casefold()
            crop = _crop_names().get(written, written)
            for fed in _FEEDS.get(written, _FEEDS.get(crop, (crop,))):
                found.setdefault(fed, []).append(row)
    return found


def figures(found: list[dict[str, str]], *columns: str) -> list[float]:
    """Every figure that some rows print in some columns; of a range, as 2-3, both ends."""
    texts = [row[column] for row in found for column in columns if row.get(column)]
    return [
        float(part) for text in texts for part in (text[:1] + text[1:].replace("-", " ")).split()
    ]


def emergence_tables() -> dict[str, tuple[list[float], list[float | str]]]:
    """Crop → (soil °C, days or what stands instead), from Harrington & Minges 1954."""
    tables: dict[str, tuple[list[float], list[float | str]]] = {}
    for row in rows("emergence_days.csv"):
        temperatures, days = tables.setdefault(row["crop"], ([], []))
        temperatures.append(float(row["soil_temp_c"]))
        status = row["status"].replace("_", " ")
        days.append(float(row["days_to_emergence"]) if status == "emerged" else status)
    return tables


def handbook_limits() -> dict[str, tuple[float, float, float]]:
    """Crop → (lowest, fastest, highest °C) as Harrington's table prints them."""
    return {
        row["crop"]: (float(row["min_c"]), float(row["optimum_c"]), float(row["max_c"]))
        for row in rows("germination_temperature.csv")
        if "Harrington" in row["source"] and row["min_c"] and row["optimum_c"] and row["max_c"]
    }
