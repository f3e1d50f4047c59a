"""Axes of a drawing: from where to where, in what unit, and where the ticks stand."""

from collections.abc import Iterable
from math import ceil, floor, isfinite, log10
from typing import NamedTuple

_FAR = 1e3  # in lengths of the axis; what lies further out is as far out of sight


class Tick(NamedTuple):
    """A place on an axis and what is written there."""

    at: float
    text: str


class Axis(NamedTuple):
    """One axis of a drawing.

    Attributes:
        label: What it counts, with its unit: `days since sowing`, `medium, °C`.
        low: Where it begins.
        high: Where it ends, above `low`.
        whole: Whether it counts what has no halves: seedlings, days.
        ticks: Ticks to use instead of round numbers, as dates are; those that find no room are
            left out.
    """

    label: str
    low: float
    high: float
    whole: bool = False
    ticks: tuple[Tick, ...] = ()

    @classmethod
    def over(cls, label: str, values: Iterable[float], *, whole: bool = False) -> "Axis":
        """The axis that holds all these values, its ends at round numbers."""
        finite = [value for value in values if isfinite(value)]
        low, high = (min(finite), max(finite)) if finite else (0.0, 1.0)
        if high == low:
            high = low + 1
        step = round_step((high - low) / 4, whole=whole)
        return cls(label, floor(low / step) * step, ceil(high / step) * step, whole)

    def place(self, value: float, count: int) -> int:
        """Which of `count` places a value falls on, from 0; outside them where it lies outside."""
        share = (value - self.low) / (self.high - self.low)
        return round(min(max(share, -_FAR), _FAR) * (count - 1))

    def round_ticks(self, most: int) -> tuple[Tick, ...]:
        """Ticks at round numbers, at most so many; `most` is two or more."""
        step = round_step((self.high - self.low) / most, whole=self.whole)
        while len(numbers := self._multiples(step)) > most:
            step = round_step(1.5 * step, whole=self.whole)
        decimals = max(0, -floor(log10(step)))
        return tuple(Tick(number * step, f"{number * step:.{decimals}f}") for number in numbers)

    def _multiples(self, step: float) -> range:
        """Which multiples of a step lie on the axis; its ends count, whatever was rounded."""
        return range(ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9) + 1)


def round_step(least: float, *, whole: bool = False) -> float:
    """The smallest of 1, 2, 5, 10, … (or their tenths) that is no smaller than `least`."""
    power = 10.0 ** floor(log10(least))
    step = next(size * power for size in (1, 2, 5, 10) if size * power >= least * (1 - 1e-9))
    return max(step, 1.0) if whole else step
