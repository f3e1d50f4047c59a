"""The reference tables as rows of one crop, one source: read, named, nothing decided."""

import csv
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final, NamedTuple

REFERENCE: Final = Path(__file__).parents[1] / "reference"

# Names that feed other crops than crop_names.csv says, or several. `fennel` alone is left out:
# its rows do not say whether they mean the bulb or the herb. Seedless watermelon is left out: it
# is raised hotter and longer. The cole-crop row names three crops and means the whole family.
_COLE_CROPS = ("cabbage", "cauliflower", "broccoli", "brussels sprouts")
_FEEDS: Final[dict[str, tuple[str, ...]]] = {
    "squash": ("summer squash", "winter squash"),
    "begonia": ("wax begonia",),
    "salvia": ("scarlet sage",),
    "husk tomato": ("husk cherry",),
    "tomato, husk": ("husk cherry", "tomatillo"),
    "cole crops (cabbage, cauliflower, broccoli)": _COLE_CROPS,
    "watermelon (seedless)": (),
    "phlox": ("annual phlox",),
    "amaranth": ("love-lies-bleeding",),
    "alyssum saxatile": ("basket of gold",),
}


class Row(NamedTuple):
    """One row of a table: what it says of one crop, as printed."""

    crop: str
    said: dict[str, str]
    source: str

    @property
    def weak(self) -> bool:
        """A retail, blog or undated local page."""
        return self.source.startswith("(weak")


@cache
def read(table: str) -> tuple[dict[str, str], ...]:
    """Every row of one table, in its order."""
    with (REFERENCE / f"{table}.csv").open(encoding="utf-8", newline="") as text:
        return tuple(csv.DictReader(text))


@cache
def _crop_names() -> dict[str, str]:
    return {row["name_in_files"].casefold(): row["crop"] for row in read("crop_names")}


def crops_named(name: str) -> tuple[str, ...]:
    """The crops that a row feeds, from the name that its table writes."""
    folded = name.strip().casefold()
    if folded in _FEEDS:
        return _FEEDS[folded]
    crop = _crop_names().get(folded, folded)
    return _FEEDS.get(crop, (crop,) if crop and ";" not in crop else ())


@cache
def rows(table: str, name_column: str = "crop") -> tuple[Row, ...]:
    """Rows of one table, one for each crop that a row feeds."""
    return tuple(
        Row(crop, said, said["source"])
        for said in read(table)
        for crop in crops_named(said[name_column])
    )


def rows_of(crop: str, *tables: str, name_column: str = "crop") -> Iterator[Row]:
    """What the tables say of one crop."""
    for table in tables:
        yield from (row for row in rows(table, name_column) if row.crop == crop)


def number(text: str) -> float | None:
    """A figure as printed, or None where nothing is printed."""
    return float(text) if text.strip() else None


def span(text: str) -> tuple[float, float] | None:
    """A figure or a range as printed: `6`, `6-13`, `12.7-25.4`."""
    if not text.strip():
        return None
    low, _, high = text.partition("-")
    return float(low), float(high or low)
