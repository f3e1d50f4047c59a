"""The rules by which several sources become one figure; docs/crop_table.md tells them in full.

One institution counts once a figure. What is weak or from memory goes as soon as something
better is there. Best is the median of the middles, low the 20 % quantile of the lows, high the
80 % quantile of the highs; of two sources the outer ends.
"""

from collections.abc import Iterable, Sequence
from statistics import median
from typing import NamedTuple

from crop_pooling.sources import institution_of, is_weak
from seedstart.crop_table.crop import Basis, Figure

OPEN_END_WEEKS = 2.0  # "on or after" and "12 weeks or more" are read as a fortnight
# In 62 comparisons one institution's middle lay within this of the others' median 8 times in 10.
FEW_LOW, FEW_HIGH = 0.80, 1.25
ENOUGH = 3


class Printed(NamedTuple):
    """One range as one source prints it; equal ends where it prints one figure."""

    low: float
    high: float
    key: str  # empty: from memory


class Said(NamedTuple):
    """What one institution says: its lowest low, its highest high, its pages."""

    low: float
    high: float
    keys: tuple[str, ...]

    @property
    def middle(self) -> float:
        """Middle of its range."""
        return (self.low + self.high) / 2


def better_only(printed: Iterable[Printed]) -> tuple[list[Printed], Basis]:
    """The ranges that count, and their basis: weak ones only where nothing better exists."""
    found = list(printed)
    sound = [one for one in found if not is_weak(one.key)]
    if sound:
        return sound, "source"
    weak = [one for one in found if one.key]
    return (weak, "weak") if weak else (found, "memory")


def by_institution(printed: Iterable[Printed]) -> list[Said]:
    """Each institution once: the lower of its lows, the higher of its highs."""
    found: dict[str, list[Printed]] = {}
    for one in printed:
        found.setdefault(institution_of(one.key), []).append(one)
    return [
        Said(
            min(one.low for one in pages),
            max(one.high for one in pages),
            tuple(dict.fromkeys(one.key for one in pages if one.key)),
        )
        for pages in found.values()
    ]


def pool(printed: Iterable[Printed], *, widen: bool = False, note: str = "") -> Figure | None:
    """One figure from what the sources print; None where none prints anything.

    Args:
        printed: Ranges in one unit.
        widen: Of fewer than three institutions, widen to -20 % .. +25 % of the best at least.
        note: What was decided by hand.
    """
    counted, basis = better_only(printed)
    said = by_institution(counted)
    if not said:
        return None
    best = median(one.middle for one in said)
    lows, highs = [one.low for one in said], [one.high for one in said]
    if len(said) < ENOUGH:
        low, high = min(lows), max(highs)
        if widen:
            low, high = min(low, FEW_LOW * best), max(high, FEW_HIGH * best)
    else:
        low, high = quantile(lows, 0.2), quantile(highs, 0.8)
    keys = tuple(sorted({key for one in said for key in one.keys}))
    if basis == "memory" and not note:
        note = "no source prints it"
    return figure(best, min(low, best), max(high, best), basis, keys, note)


def figure(
    best: float,
    low: float,
    high: float,
    basis: Basis,
    keys: Sequence[str] = (),
    note: str = "",
) -> Figure:
    """A figure rounded to a tenth, as the crop table keeps it."""
    best, low, high = (round(value, 1) + 0.0 for value in (best, low, high))
    return Figure(best=best, low=low, high=high, basis=basis, sources=tuple(keys), note=note)


def borrowed_from(relative: str, its: Figure) -> Figure:
    """A relative's figure, for a crop of which no source prints it; what is weak stays weak."""
    basis: Basis = "relative" if its.basis == "source" else its.basis
    note = f"a relative's ({relative})"
    return figure(its.best, its.low, its.high, basis, its.sources, note)


def quantile(values: Sequence[float], share: float) -> float:
    """Quantile by linear interpolation between the ordered values."""
    ordered = sorted(values)
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])
