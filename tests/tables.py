"""The reference tables under tests/reference/, as the tests read them."""

import csv
from collections.abc import Iterator
from pathlib import Path

REFERENCE = Path(__file__).resolve().parent / "reference"


def rows(name: str) -> Iterator[dict[str, str]]:
    """The rows of one table, by column."""
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


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
