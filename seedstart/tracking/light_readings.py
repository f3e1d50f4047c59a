"""What the lamps really give: a grower's own readings over what the packets promise."""

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from math import exp, hypot, inf, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.light.dose import METER_ERRORS, MOL_PER_UMOL_HOUR, Meter, ppfd_from_lux
from seedstart.growing.light.over_shelf import mean_over, ppfd_umol
from seedstart.growing.sturdiness import middle_of
from seedstart.season.journal.entries import Read
from seedstart.season.journal.place_entries import Quantity
from seedstart.season.loggers.series import Series
from seedstart.season.plan.lamps import Lamp
from seedstart.season.plan.stations import Station
from seedstart.tracking.lamp_settings import LampsSince, emitters, lamps_at, shelf_of

LOGGER: Final = "logger"
LIGHT: Final = frozenset[Quantity]({"ppfd_umol", "lux", "dli_mol"})
# Readings speak together with those of so many days before the last of them: common practice, no
# source. Lamps age slowly.
_TOGETHER: Final = timedelta(days=30)
# A reading without its spot is taken somewhere on the shelf: so far off may the map be there.
_SPOT_UNKNOWN: Final = 0.25
_ALIKE: Final = 0.02
# A logger speaks for a day at least, and by its last week: common practice, no source.
_DAY_S: Final = 86_400.0
_WEEK_S: Final = 7 * _DAY_S
_BRIGHTEST: Final = 0.95  # what so many of its readings lie below is taken for the lamps' light


class Scale(NamedTuple):
    """What the lamps give over what the model says, by readings.

    Attributes:
        factor: Multiply the model with it; 1 without readings.
        error: How far off it may be, as a share.
        number: How many readings it rests on; 0: the packets alone.
        loggers: How many of them are a logger's.
        last: When the latest was made.
        apart: How far single readings lie from the scaled map, as a share: their spread.
        alike: The readings are the same everywhere, and the map is not.
        useless: Why readings say nothing here; empty where all speak.
    """

    factor: float = 1.0
    error: float = 0.0
    number: int = 0
    last: datetime | None = None
    apart: float = 0.0
    alike: bool = False
    useless: str = ""
    loggers: int = 0


def usual_meter(reading: Read) -> Meter:
    """What it was read with: as was said, else what reads such a quantity."""
    return reading.meter or ("lux" if reading.quantity == "lux" else "quantum")


def ppfd_of(reading: Read, lamps: Sequence[Lamp]) -> tuple[float, float] | None:
    """A reading of light as PPFD in µmol m⁻² s⁻¹, and its error as a share.

    Returns:
        None of what is no light, or says nothing: lux under red-blue lamps, a DLI without hours.
    """
    meter = usual_meter(reading)
    if reading.quantity == "ppfd_umol":
        return reading.value, METER_ERRORS[meter]
    if reading.quantity == "lux":
        factor = lamps[0].lux_factor if lamps else None
        return None if factor is None else ppfd_from_lux(reading.value, factor, meter)
    hours = lamps[0].hours if lamps else None
    if reading.quantity != "dli_mol" or not hours:
        return None
    return reading.value / (hours * MOL_PER_UMOL_HOUR), METER_ERRORS[meter]


def logged_light(
    station: Station,
    found: Sequence[LampsSince],
    logged: Mapping[tuple[str, Quantity], Series],
    until: datetime,
) -> list[Read]:
    """What loggers of light say, as one reading each: its median while the lamps burn.

    It is of the last week of the latest setting of the lamps that was logged for a day. Its spot on
    the station is not known.

    Args:
        station: Its name.
        found: How its lamps were set.
        logged: What loggers measured, by station and quantity.
        until: Later readings do not count.
    """
    every = (logged.get((station.name, quantity)) for quantity in sorted(LIGHT))
    series = [reading for reading in every if reading is not None]
    return [read for one in series if (read := _by_logger(one, found, until)) is not None]


def _by_logger(series: Series, found: Sequence[LampsSince], until: datetime) -> Read | None:
    end_s = until.timestamp()
    for held in reversed(found):
        since_s = held.since.timestamp() if held.since else -inf
        end = bisect_left(series.at_s, end_s)
        last_s = series.at_s[end - 1] if end else -inf
        first = bisect_left(series.at_s, max(since_s, last_s - _WEEK_S), 0, end)
        marked = zip(series.value[first:end], series.mark[first:end], strict=True)
        lit = _while_lit([value for value, mark in marked if not mark])
        if lit and last_s - series.at_s[first] >= _DAY_S:
            at = datetime.fromtimestamp(last_s, until.tzinfo)
            return Read(
                id="0" * 36, at=at, by=LOGGER, station=series.station, quantity=series.quantity,
                value=lit,
            )  # fmt: skip
        end_s = since_s
    return None


def _while_lit(values: Sequence[float]) -> float:
    """The median of what is over half of the brightest; 0 of none."""
    ranked = sorted(values)
    most = ranked[int(_BRIGHTEST * (len(ranked) - 1))] if ranked else 0.0
    return middle_of([value for value in ranked if value > most / 2]) if most > 0 else 0.0


def scale_by_readings(
    station: Station,
    found: Sequence[LampsSince],
    readings: Iterable[Read],
    logged: Sequence[Read] = (),
) -> Scale:
    """How packets and reality differ at a station.

    Each reading is compared with what the model says of its spot under the lamps as they were set
    then. The meter's own error stays however often it is read.

    Args:
        station: With its size and lamps, of which nothing may be missing.
        found: How its lamps were set.
        readings: By hand, at the station, in order.
        logged: Its loggers' (`logged_light`); beside a window they say nothing of lamps.
    """
    light = [reading for reading in readings if reading.quantity in LIGHT and reading.value > 0]
    light = [reading for reading in light if reading.at > light[-1].at - _TOGETHER] if light else []
    shelf, loggers = shelf_of(station), () if station.daylight_percent else logged
    ratios, errors, values, useless = [], [], [], ""
    if logged and not loggers:
        useless = "a logger beside a window reads daylight too"
    for reading in [*light, *loggers]:
        lamps = lamps_at(found, reading.at).lamps
        read = ppfd_of(reading, lamps)
        if read is None or shelf is None or not lamps:
            useless = useless or _why_useless(reading)
            continue
        hanging = emitters(lamps, shelf)
        off = 0.0
        if reading.from_left_mm is not None and reading.from_front_mm is not None:
            model = ppfd_umol(hanging, reading.from_left_mm / 1000, reading.from_front_mm / 1000)
        else:
            model, off = mean_over(hanging, shelf), _SPOT_UNKNOWN
        ratios.append((log(read[0] / model), off))
        errors.append(read[1])
        values.append(reading.value)
    if not ratios:
        return Scale(useless=useless)
    last = max(reading.at for reading in [*light, *loggers])
    scale = _scaled(ratios, max(errors), values, last, useless)
    return scale._replace(loggers=sum(reading.by == LOGGER for reading in loggers))


def _why_useless(reading: Read) -> str:
    if reading.quantity == "lux":
        return "lux say nothing under red-blue lamps: read µmol"
    return "a DLI says nothing without the hours of the lamps"


def _scaled(
    ratios: Sequence[tuple[float, float]],
    meter_error: float,
    values: Sequence[float],
    last: datetime,
    useless: str,
) -> Scale:
    """The mean of the ratios (of logarithms), weighed by how well their spots are known."""
    weights = [1 / (0.05**2 + off**2) for _, off in ratios]
    mean = sum(w * r for w, (r, _) in zip(weights, ratios, strict=True)) / sum(weights)
    number = len(ratios)
    squared = sum((r - mean) ** 2 for r, _ in ratios)
    apart = sqrt(squared / (number - 1)) if number > 1 else 0.0
    of_spots = max(2 * apart / sqrt(number), 1 / sqrt(sum(weights)))
    same = max(values) - min(values) <= _ALIKE * max(values)
    alike = number > 2 and same and apart > 0.1
    return Scale(exp(mean), hypot(meter_error, of_spots), number, last, apart, alike, useless)
