"""How far replicates of one germination test may lie apart: printed tables, where they apply.

The tables are of tests of 400 (or 200) seeds in replicates of 100. No table applies to anything
smaller: there an index of dispersion answers (`lot_tests.chi_square`).
"""

from collections.abc import Sequence
from math import floor
from typing import Final, NamedTuple

RANGE_SOURCE: Final = "7 CFR 201.55 (Federal Seed Act regulations)"
RANGE_FROM_MEMORY: Final = "from memory, the way 7 CFR 201.55 goes on below 71 %"
TESTS_SOURCE: Final = "Louisiana Administrative Code, Title 7, Part XIII, Section 139"

# Mean percent → the largest range, points. Up to 50 the tables print 101 less the mean beside it.
_OF_4: Final = {
    99: 5, 98: 6, 97: 7, 96: 8, 95: 9, 94: 10, 93: 10, 92: 11, 91: 11, 90: 12, 89: 12, 88: 13,
    87: 13, 86: 14, 85: 14, 84: 14, 83: 15, 82: 15, 81: 15, 80: 16, 79: 16, 78: 16, 77: 17, 76: 17,
    75: 17, 74: 17, 73: 17, 72: 18, 71: 18,
}  # fmt: skip
_OF_4_FROM_MEMORY: Final = ((67, 70, 18), (56, 66, 19), (51, 55, 20))
_OF_2: Final = {
    97: 6, 96: 6, 95: 7, 94: 8, 93: 8, 92: 9, 91: 9, 90: 9, 89: 10, 88: 10, 87: 11, 86: 11, 85: 11,
    84: 11, 83: 12, 82: 12, 81: 12, 80: 13, 79: 13, 78: 13, 77: 13, 76: 13, 75: 14, 74: 14, 73: 14,
    72: 14, 71: 14,
}  # fmt: skip
# Mean percent from, to → the largest difference of two tests of 400 seeds, points.
_OF_TESTS: Final = (
    (99, 99, 2), (97, 98, 3), (94, 96, 4), (91, 93, 5), (87, 90, 6), (82, 86, 7), (76, 81, 8),
    (70, 75, 9), (60, 69, 10), (51, 59, 11),
)  # fmt: skip


class Tolerance(NamedTuple):
    """What a table lets pass.

    Attributes:
        mean: Percent, as the table is entered: whole.
        apart: Largest less smallest, percent points.
        allowed: As printed.
        source: Of the figure.
    """

    mean: int
    apart: float
    allowed: int
    source: str

    @property
    def within(self) -> bool:
        """Whether they lie no farther apart than that."""
        return self.apart <= self.allowed


def replicate_tolerance(percents: Sequence[float], seeds_each: int) -> Tolerance | None:
    """The tolerance of replicates of one test.

    Args:
        percents: Of normal seedlings, of each replicate.
        seeds_each: Seeds of each.

    Returns:
        None where no table applies: other than four (or two) replicates of 100 seeds, or a mean for
        which none is printed.
    """
    if seeds_each != 100 or len(percents) not in (2, 4):
        return None
    mean, apart = _whole(sum(percents) / len(percents)), max(percents) - min(percents)
    entry = _above_half(mean)
    if len(percents) == 2:
        allowed = _OF_2.get(entry)
        return None if allowed is None else Tolerance(mean, apart, allowed, RANGE_SOURCE)
    if entry in _OF_4:
        return Tolerance(mean, apart, _OF_4[entry], RANGE_SOURCE)
    allowed = _in_bands(entry, _OF_4_FROM_MEMORY)
    return None if allowed is None else Tolerance(mean, apart, allowed, RANGE_FROM_MEMORY)


def two_test_tolerance(first: float, second: float) -> Tolerance | None:
    """The tolerance of two tests of 400 seeds each; percents of normal seedlings.

    Returns:
        None for a mean for which none is printed.
    """
    mean = _whole((first + second) / 2)
    allowed = _in_bands(_above_half(mean), _OF_TESTS)
    return None if allowed is None else Tolerance(mean, abs(first - second), allowed, TESTS_SOURCE)


def _whole(percent: float) -> int:
    return floor(percent + 0.5)


def _above_half(mean: int) -> int:
    """The mean or, below half, what the tables print beside it: 2 stands beside 99."""
    return mean if mean > 50 else 101 - mean


def _in_bands(mean: int, bands: Sequence[tuple[int, int, int]]) -> int | None:
    return next((allowed for low, high, allowed in bands if low <= mean <= high), None)
