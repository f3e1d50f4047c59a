"""A germination test as it was planned; `planned_tests` reads and writes its file."""

from datetime import date
from typing import Literal

from msgspec import Struct

from seedstart.units import Temperatures

LiesOn = Literal["paper", "sand", "agar", "medium"]


class PlannedTest(Struct, frozen=True, kw_only=True):
    """A germination test as it was planned.

    Attributes:
        name: Of the file, without its ending.
        lots: What is tested, by present names.
        replicates: Of each lot.
        seeds: In each replicate.
        lies_on: What the seed lies on.
        temperature: Steady, or by day and night; None where it was not said.
        light: In the grower's words; empty where it was not said.
        prechill_days: Cold before, days; 0 none. Days of counting begin after it.
        station: Where it is to stand; None where it was not said.
        first_count: Day of the first count, after the cold.
        last_count: Day of the last.
        begin: When it is to begin; None at once.
        grow_out_below: The grower's own mark, percent: below it a lot is grown out for fresh seed.
    """

    name: str
    lots: tuple[str, ...]
    replicates: int = 4
    seeds: int = 50
    lies_on: LiesOn = "paper"
    temperature: Temperatures | None = None
    light: str = ""
    prechill_days: int = 0
    station: str | None = None
    first_count: int
    last_count: int
    begin: date | None = None
    grow_out_below: float | None = None

    def sowing(self, lot: str, replicate: int) -> str:
        """What one replicate is called: `onion-red test 1`, or with the lot where it has several.

        The test's own name begins it, so that two tests of a lot do not share one.
        """
        whose = "" if self.lots == (lot,) else f" {lot}"
        return f"{self.name}{whose} {replicate}"
