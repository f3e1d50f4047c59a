"""A lot: one packet of seed, and what the grower plans with it."""

from datetime import date
from typing import Final, Literal

from msgspec import Struct

from seedstart.season.seed_values import SeedAmount

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
        sowings: How many, all told.
        every_days: Days between sowings.
        station: Where it is to come up, by the station's present name.
        then: Where it goes at the first seedlings.
        container: What it is sown in.
        ready: Count back from this day and not from the frost.
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
