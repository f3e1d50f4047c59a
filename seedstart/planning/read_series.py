"""All that was measured in a season, series by series: by loggers, and read by hand."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo
from typing import Literal

from msgspec import Struct

from seedstart.season.entries import Read
from seedstart.season.loggers.series import Readings, Series
from seedstart.season.place_entries import Quantity
from seedstart.tracking.records import Records


class ReadSeries(Struct, frozen=True, kw_only=True):
    """One quantity at one place, read in one way.

    Attributes:
        station: The station; None of a tray that stands at none.
        tray: The tray, where it was read in one.
        quantity: What was measured, in the unit that its name ends with.
        by: How.
        readings: How many, those in doubt among them.
        lowest: The lowest that is not in doubt; None where all are.
        highest: The highest of these.
        last_value: The last of these; the last of all where all are in doubt.
        last_at: When that was read.
        marks: How many are in doubt, by why.
    """

    station: str | None
    tray: str | None = None
    quantity: Quantity
    by: Literal["logger", "hand"]
    readings: int
    lowest: float | None
    highest: float | None
    last_value: float
    last_at: datetime
    marks: dict[str, int] = {}


def read_series(
    stations: Sequence[str],
    readings: Readings,
    records: Records,
    zone: tzinfo,
    until: datetime | None = None,
) -> tuple[ReadSeries, ...]:
    """Every series: the loggers' first, then what was read by hand; each in walking order.

    Args:
        stations: Names of the stations in walking order.
        readings: What loggers measured.
        records: What was read by hand, as of their last day.
        zone: The season's.
        until: Leaves out what loggers measured later.
    """
    order = {name: number for number, name in enumerate(stations)}
    logged = [found for one in readings.values() for found in _logged(one, zone, until)]
    by_hand = list(_by_hand(records))

    def place(one: ReadSeries) -> tuple[int, str, bool, str]:
        at = one.station or ""
        return order.get(at, len(order)), at, one.tray is not None, one.tray or ""

    return (*sorted(logged, key=place), *sorted(by_hand, key=place))


def _logged(series: Series, zone: tzinfo, until: datetime | None) -> Iterator[ReadSeries]:
    end = len(series) if until is None else bisect_right(series.at_s, until.timestamp())
    if not end:
        return
    seen = series if end == len(series) else series.at(range(end))
    good = seen.good()
    last = good if len(good) else seen
    yield ReadSeries(
        station=seen.station,
        quantity=seen.quantity,
        by="logger",
        readings=len(seen),
        lowest=min(good.value, default=None),
        highest=max(good.value, default=None),
        last_value=last.value[-1],
        last_at=datetime.fromtimestamp(last.at_s[-1], zone),
        marks=dict(Counter(mark for mark in seen.marks if mark)),
    )


def _by_hand(records: Records) -> Iterator[ReadSeries]:
    for (kind, name), place in records.places.items():
        by_quantity: dict[Quantity, list[Read]] = {}
        for entry in place.readings:
            by_quantity.setdefault(entry.quantity, []).append(entry)
        for quantity, read in by_quantity.items():
            values = [entry.value for entry in read]
            yield ReadSeries(
                station=place.station_at() if kind == "tray" else name,
                tray=name if kind == "tray" else None,
                quantity=quantity,
                by="hand",
                readings=len(read),
                lowest=min(values),
                highest=max(values),
                last_value=values[-1],
                last_at=read[-1].at,
            )
