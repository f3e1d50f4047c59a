"""What was measured at each place up to now, kept while nothing new was measured there."""

from bisect import bisect_right
from datetime import datetime
from typing import NamedTuple

from seedstart.daily.spells import Trace
from seedstart.season.entries import Read
from seedstart.season.loggers.series import Readings, Series
from seedstart.season.place_entries import Quantity
from seedstart.tracking.medium import measured
from seedstart.tracking.records import Records


def last_measured_s(readings: Readings, records: Records, until_s: float) -> float:
    """When something was last measured up to a moment, in seconds of the epoch; 0 for never."""
    logged = (
        series.at_s[place - 1]
        for series in readings.values()
        if (place := bisect_right(series.at_s, until_s))
    )
    read = (
        place.readings[-1].at.timestamp() for place in records.places.values() if place.readings
    )
    return max((*logged, *read), default=0.0)


class _Kept(NamedTuple):
    series: Series | None
    read: tuple[Read, ...]
    now_s: float
    trace: Trace


class Traces:
    """Temperatures by station and quantity, as alerts look at them."""

    def __init__(self) -> None:
        """Know nothing yet."""
        self._kept: dict[tuple[str, Quantity], _Kept] = {}

    def of(
        self,
        station: str,
        quantity: Quantity,
        readings: Readings,
        records: Records,
        now: datetime,
    ) -> Trace:
        """The medium at a station, or its air: loggers, and readings by hand.

        Args:
            station: By its present name.
            quantity: Which.
            readings: What loggers measured.
            records: What was read by hand.
            now: Nothing later is known yet.
        """
        series, now_s = readings.get((station, quantity)), now.timestamp()
        read = records.place(("station", station)).readings
        kept = self._kept.get((station, quantity))
        if kept and kept.series is series and kept.read == read and kept.now_s == now_s:
            return kept.trace
        found = measured(series, read, now_s, quantity)
        trace = Trace(found.at_s, found.c, found.by_hand)
        self._kept[station, quantity] = _Kept(series, read, now_s, trace)
        return trace
