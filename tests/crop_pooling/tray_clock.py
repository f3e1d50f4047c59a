"""How much slower trays are than the handbook's table: printed days over days of the table.

Each printed range of days at its own temperature (the middle of a setting, else the optimum), over
the table's days there; of each crop with a table of its own the median of its ranges, so that a
crop counts once. `python tests/crop_pooling --trays` tells what growing/emergence.py rests on.
"""

from statistics import median, quantiles
from typing import NamedTuple

from crop_pooling.sources import key_of
from crop_pooling.tables import number, rows_of
from crop_pooling.warmth import NO_TRAYS
from seedstart.crop_table.crop import Crop
from seedstart.planning.calendar.crop_times import rate_curve
from seedstart.units import steady
from shipped import crop_table


class TrayClock(NamedTuple):
    """Days in trays over days of the table.

    Attributes:
        by_crop: The middle of its printed days over its table's.
        low, middle, high: Lower quartile, median and upper quartile of these.
    """

    by_crop: dict[str, float]
    low: float
    middle: float
    high: float


def tray_clock() -> TrayClock:
    """Computed from the reference tables and the curves of crops/."""
    found = {
        crop.name: median(ratios)
        for crop in crop_table().crops.values()
        if crop.emergence is not None
        and crop.clock == "table"
        and "relative" not in crop.emergence.note
        for ratios in (list(_ratios(crop)),)
        if ratios
    }
    low, middle, high = quantiles(found.values(), method="inclusive")
    return TrayClock(found, low, middle, high)


def _ratios(crop: Crop) -> list[float]:
    ratios = []
    for row in rows_of(crop.name, "germination_temperature"):
        first, last = number(row.said["days_low"]), number(row.said["days_high"])
        printed = (number(row.said["opt_low_c"]), number(row.said["opt_high_c"]))
        best = number(row.said["optimum_c"])
        setting = [c for c in printed if c is not None] or ([best] if best is not None else [])
        if first is None or not setting or key_of(row.source) in NO_TRAYS:
            continue
        middle = (first + (last or first)) / 2
        at_c = sum(setting) / len(setting)
        ratios.append(middle / rate_curve(crop).days(steady(at_c)))
    return ratios


def told() -> str:
    """The figures, a crop a line."""
    clock = tray_clock()
    lines = [f"{name:<14} {ratio:.2f}" for name, ratio in sorted(clock.by_crop.items())]
    lines.append(
        f"{len(clock.by_crop)} crops: median {clock.middle:.2f}, quartiles {clock.low:.2f} and "
        f"{clock.high:.2f}"
    )
    return "\n".join(lines)
