"""Readings in memory: one series for each quantity at each station."""

import operator
import re
from array import array
from collections.abc import Sequence
from itertools import islice, pairwise
from typing import TYPE_CHECKING, Final, get_args

from msgspec import Struct
from msgspec.structs import replace

from seedstart.growing.sensor_faults import LIMITS, MARKS, Limits, find_faults
from seedstart.season.journal.place_entries import Quantity

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

QUANTITIES: Final[tuple[Quantity, ...]] = get_args(Quantity)
_GOOD: Final = re.compile(rb"\0+")
_SAME_S: Final = 0.0015  # less apart than this, two times may be one to the millisecond


class Series(Struct, frozen=True):
    """The readings of one quantity at one station, in order of time, no time twice.

    Attributes:
        station: As season.toml names it.
        quantity: What was measured, in the unit that its name ends with.
        at_s: Times in seconds of the epoch (UTC), rising.
        value: The values. Arrays of doubles, which numpy takes without copying.
        mark: For each reading its place in `MARKS`, zero where it is good.
    """

    station: str
    quantity: Quantity
    at_s: "array[float]"
    value: "array[float]"
    mark: bytes

    def __len__(self) -> int:
        return len(self.at_s)

    @property
    def marks(self) -> list[str]:
        """The marks as words; empty where the reading is good."""
        return [MARKS[code] for code in self.mark]

    def good(self) -> "Series":
        """The readings without a mark."""
        if self.mark.count(0) == len(self.mark):
            return self
        at_s, value = array("d"), array("d")
        for run in _GOOD.finditer(self.mark):
            at_s.extend(self.at_s[run.start() : run.end()])
            value.extend(self.value[run.start() : run.end()])
        return Series(self.station, self.quantity, at_s, value, bytes(len(at_s)))

    def at(self, places: Sequence[int]) -> "Series":
        """The readings at some places, in the order of those places."""
        return Series(
            self.station,
            self.quantity,
            array("d", [self.at_s[place] for place in places]),
            array("d", [self.value[place] for place in places]),
            bytes([self.mark[place] for place in places]),
        )


Readings = dict[tuple[str, Quantity], Series]


def ordered(series: Series) -> Series:
    """The series in order of time; of readings at one time (to the millisecond) the first."""
    times = series.at_s
    gaps = map(operator.sub, islice(times, 1, None), times)
    if min(gaps, default=1.0) > _SAME_S:
        return series
    places = sorted(range(len(times)), key=times.__getitem__)  # stable: the first stays first
    kept: list[int] = []
    for place in places:
        if not kept or _ms(times[place]) != _ms(times[kept[-1]]):
            kept.append(place)
    return series.at(kept)


def _ms(at_s: float) -> int:
    return round(at_s * 1000)


def joined(station: str, parts: Sequence[Series]) -> Series:
    """The readings of several series of one quantity as one, in order of time.

    Where two have a reading at one time, the earlier part holds.

    Args:
        station: Its present name.
        parts: One at least.
    """
    if len(parts) == 1 and parts[0].station == station:
        return parts[0]
    filled = [part for part in parts if len(part)] or list(parts[:1])
    in_turn = sorted(filled, key=lambda part: part.at_s[0] if len(part) else 0.0)
    apart = all(later.at_s[0] - before.at_s[-1] > _SAME_S for before, later in pairwise(in_turn))
    at_s, value = array("d"), array("d")
    for part in in_turn if apart else parts:
        at_s.extend(part.at_s)
        value.extend(part.value)
    mark = b"".join(part.mark for part in (in_turn if apart else parts))
    found = Series(station, parts[0].quantity, at_s, value, mark)
    return found if apart else ordered(found)  # one behind the other: nothing to put in order


def new_rows(existing: Readings, imported: Readings) -> Readings:
    """What is imported and not there yet: no reading of its series at its time (to 1 ms).

    A series that brings nothing new is left out.
    """
    import numpy as np

    fresh: Readings = {}
    for key, series in imported.items():
        places: Sequence[int] = range(len(series))
        if key in existing:
            there, come = (_whole_ms(one) for one in (existing[key], series))
            places = np.flatnonzero(~np.isin(come, there)).tolist()
        if len(places) == len(series):
            fresh[key] = series
        elif places:
            fresh[key] = series.at(places)
    return {key: series for key, series in fresh.items() if len(series)}


def _whole_ms(series: Series) -> "NDArray[np.int64]":
    import numpy as np

    return np.round(np.array(series.at_s) * 1000).astype(np.int64)


def marked(readings: Readings, limits: dict[str, Limits] = LIMITS) -> Readings:
    """The same readings with their marks found again; none is dropped."""
    import numpy as np

    every = list(readings.values())
    if not every:
        return readings
    lengths = [len(series) for series in every]
    codes = find_faults(
        np.concatenate([np.array(series.at_s) for series in every]),
        np.concatenate([np.array(series.value) for series in every]),
        np.repeat(np.arange(len(every)), lengths),
        [series.quantity for series in every],
        limits,
    )
    parts = np.split(codes, np.cumsum(lengths)[:-1])
    pairs = zip(readings.items(), parts, strict=True)
    return {key: replace(series, mark=part.tobytes()) for (key, series), part in pairs}
