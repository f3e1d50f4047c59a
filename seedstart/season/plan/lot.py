"""A lot: one packet of seed, and what the grower plans with it."""

import re
from collections.abc import Callable
from datetime import date
from typing import Final, Literal

from msgspec import Struct

from seedstart.season.plan.typed_values import RefusedError, show
from seedstart.text import clean, folded
from seedstart.units import parse_days, parse_grams, parse_hours, parse_percent

_NOTHING: Final = frozenset({"none", "no", "0", "false"})
_MOST_SEEDS: Final = 10_000_000


class SeedAmount(Struct, frozen=True):
    """Seeds counted, or grams weighed: one of the two."""

    seeds: int | None = None
    grams: float | None = None

    def __str__(self) -> str:
        return f"{self.seeds} seeds" if self.seeds is not None else f"{self.grams:g} g"


def seed_amount(value: object) -> SeedAmount:
    """`50 seeds`, `2.5 g`, `0.1 oz`."""
    typed = clean(show(value)).strip()
    if match := re.fullmatch(r"(\d{1,9})\s*seeds?", typed.casefold()):
        if int(match[1]) > _MOST_SEEDS:
            raise ValueError(f"seeds from 0 to {_MOST_SEEDS}")
        return SeedAmount(seeds=int(match[1]))
    try:
        grams = parse_grams(typed)
    except ValueError:
        raise ValueError("seeds or a mass, e.g. 50 seeds or 2.5 g") from None
    if grams > 1_000_000:
        raise ValueError("a mass up to 1000 kg")
    return SeedAmount(grams=grams)


def harvested(value: object) -> str:
    """A year, a range of years, or `unknown`."""
    typed = folded(clean(show(value))).replace("–", "-")
    if typed == "unknown":
        return typed
    if match := re.fullmatch(r"(\d{4})(?:\s*-\s*(\d{4}))?", typed):
        years = [int(year) for year in match.groups() if year]
        if all(1900 <= year <= 2200 for year in years) and years == sorted(years):
            return "-".join(str(year) for year in years)
    raise ValueError('a year, a range of years or unknown, e.g. "2024", "2019-2022"')


def percent(value: object) -> float:
    """A percentage with its sign."""
    return parse_percent(clean(show(value)))


def soak_hours(value: object) -> float:
    """`12 h`, `1 day`, or `none`."""
    return _nothing_or(value, parse_hours, 240, "none, or a time up to 10 days, e.g. 12 h")


def cold_days(value: object) -> float:
    """`28 days`, `4 weeks`, or `none`."""
    return _nothing_or(value, parse_days, 400, "none, or a time up to 400 days, e.g. 4 weeks")


def scarified(value: object) -> bool:
    """Whether the coat is nicked: `yes` or `none`."""
    typed = folded(clean(show(value)))
    if typed in {"yes", "true"}:
        return True
    if typed in _NOTHING:
        return False
    raise RefusedError(allowed=("yes", "none"))


def _nothing_or(value: object, parse: Callable[[str], float], most: float, allowed: str) -> float:
    typed = clean(show(value))
    if folded(typed) in _NOTHING:
        return 0.0
    try:
        found = parse(typed)
    except ValueError:
        raise ValueError(allowed) from None
    if found > most:
        raise ValueError(allowed)
    return float(found)


Form = Literal["natural", "pelleted", "primed", "coated", "treated"]

# The order in which the program writes them, and all that a CSV's columns may mean.
LOT_KEYS: Final = (
    "name",
    "crop",
    "variety",
    "want",
    "sowings",
    "every",
    "station",
    "then",
    "container",
    "ready",
    "sow",
    "soak",
    "stratify",
    "scarify",
    "depth",
    "form",
    "germination",
    "tests",
    "harvested",
    "have",
    "from",
    "was",
)


class LotTest(Struct, frozen=True):
    """A germination test that was made of a lot: `up` of `seeds`, by the day `on`."""

    on: date
    seeds: int
    up: int
    where: str = ""


class Lot(Struct, frozen=True, kw_only=True):
    """One packet or saved batch of seed of one variety, and what is planned with it.

    Attributes:
        name: What stands on the label.
        crop: The crop table's name.
        variety: The cultivar written on the packet.
        want: Plants wanted at setting out, from each sowing.
        sowings: How many in all.
        every_days: Days between sowings.
        station: Where it is to come up, by the station's present name.
        then: Station it moves to once seedlings are up.
        container: What it is sown in.
        ready: Count back from this day instead of from the frost.
        sow: The grower's own dates, in order; they overrule the calendar's.
        soak: Hours of soaking; None as the crop says, 0 none.
        stratify: Days in the cold; None as the crop says, 0 none.
        scarify: Whether the coat is nicked; None as the crop says.
        depth_mm: Sowing depth, millimetres; None as the crop says.
        form: What was done to the seed before it was sold.
        germination_percent: As printed on the packet.
        tests: Tests that were made of it.
        harvested: Year, range of years, or `unknown`.
        have: Seeds or grams in the packet at the season's beginning.
        source: Donor or supplier; `from` in the file.
        was: Former names.
    """

    name: str
    crop: str
    variety: str = ""
    want: int | None = None
    sowings: int = 1
    every_days: int | None = None
    station: str | None = None
    then: str | None = None
    container: str | None = None
    ready: date | None = None
    sow: tuple[date, ...] = ()
    soak: float | None = None
    stratify: float | None = None
    scarify: bool | None = None
    depth_mm: float | None = None
    form: Form = "natural"
    germination_percent: float | None = None
    tests: tuple[LotTest, ...] = ()
    harvested: str | None = None
    have: SeedAmount | None = None
    source: str = ""
    was: tuple[str, ...] = ()

    @property
    def harvest_year(self) -> int | None:
        """The year of harvest; of a range the oldest."""
        known = self.harvested is not None and self.harvested != "unknown"
        return int(self.harvested[:4]) if known and self.harvested else None
