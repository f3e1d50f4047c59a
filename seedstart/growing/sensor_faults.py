"""What is doubtful in a row of readings: marked, never dropped.

A tray over a thermostat is flat by design, steps when it is watered and ramps in the sun, so
the limits are an argument and the rules look at a reading's neighbours as well as at the limit.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from msgspec import Struct

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Codes = NDArray[np.uint8]
    Indices = NDArray[np.intp]

# A mark is kept as its place in this tuple; zero is a good reading.
MARKS: Final = ("", "range", "spike", "flat", "step", "power_on")
RANGE, SPIKE, FLAT, STEP, POWER_ON = range(1, 6)

# What each quantity can be. Temperatures: the limits of automatic weather stations in Austria
# (ZAMG, WMO ET AWS-1 Doc. 9(2), 2002); WMO's guide has the same for soil (from memory).
# pH by its definition. The others from memory: full sun is about 2000 µmol m⁻² s⁻¹, 120 000 lx
# and 65 mol m⁻² d⁻¹; wet humidity sensors read a little over 100; sea water has 50 mS/cm.
POSSIBLE: Final = {
    "soil_c": (-50.0, 50.0),
    "air_c": (-50.0, 50.0),
    "ppfd_umol": (0.0, 3000.0),
    "lux": (0.0, 200_000.0),
    "dli_mol": (0.0, 80.0),
    "rh_percent": (0.0, 105.0),
    "ec_ms_cm": (0.0, 50.0),
    "ph": (0.0, 14.0),
}
# The value that a common digital thermometer holds before its first conversion (from memory;
# the Linux 1-wire driver has an option that checks for it).
POWER_ON_C: Final = 85.0
_SAME_C: Final = 0.005

# Largest change that air makes within so many hours: WMO, Guide on the Global Data-processing
# System (1993), VI.21, at second hand.
AIR_CHANGE_C: Final = ((1.0, 4.0), (2.0, 7.0), (3.0, 9.0), (6.0, 15.0), (12.0, 25.0))
# Soil: more than 3 °C between readings is doubtful (Scientific Data 2025,
# s41597-025-05441-7, table 4). That page names no interval: here it holds up to one hour and
# the table for air beyond it.
SOIL_CHANGE_C: Final = ((1.0, 3.0), *AIR_CHANGE_C[1:])
# A step is one jump between calm stretches; where the readings on either side move by more than
# this share of it, it is a ramp: a frame in the morning sun. Own choice, no source.
RAMP_SHARE: Final = 1 / 3


class Limits(Struct, frozen=True, kw_only=True):
    """Above what a reading is doubted, for soil or air temperatures.

    Attributes:
        change_c: Pairs of hours and the largest change in °C within them, rising; it serves
            spikes and steps. Readings farther apart than the last pair are not compared.
        flat_hours: How long a value must stand still to be looked at. A day: the OSU Andrews
            Forest air rules (MS036) judge a day's standard deviation.
        flat_readings: And with how many readings (GHCN-Daily: 15 to 20 identical values).
        calm_c: A neighbouring day that moves no more than this is calm: the line is flat
            because something holds it. Own choice, no source.
        coarse_c: A sensor whose smallest step is this or more hides a thermostat's swing and is
            never called flat. Own choice, no source.
    """

    change_c: tuple[tuple[float, float], ...] = AIR_CHANGE_C
    flat_hours: float = 24.0
    flat_readings: int = 20
    calm_c: float = 1.0
    coarse_c: float = 0.5


LIMITS: Final = {"soil_c": Limits(change_c=SOIL_CHANGE_C), "air_c": Limits()}


def find_faults(
    at_s: "ArrayLike",
    value: "ArrayLike",
    series: "ArrayLike",
    quantities: Sequence[str],
    limits: dict[str, Limits] = LIMITS,
) -> "Codes":
    """The mark of each reading; all series at once.

    In this order: range and power-on, on every quantity; then, among what is left, spikes,
    steps and flat lines of the quantities that have limits. A reading gets one mark. Light and
    humidity jump and stand still by nature and are judged by their range alone.

    Args:
        at_s: Times in seconds of the epoch, shape (n,), in any order.
        value: Values in the unit of their quantity, shape (n,).
        series: Which series each reading belongs to, shape (n,), from 0.
        quantities: The quantity of each series, one of `POSSIBLE`.
        limits: By quantity; a quantity without limits is judged by its range alone.

    Returns:
        Places in `MARKS`, shape (n,), in the order of the arguments.

    Raises:
        ValueError: The three arrays differ in length.

    Source:
        Spike: the smaller of the two jumps where they have opposite signs, a variant of the spike
        test in the QARTOD manual for in-situ temperature; limits beside the constants.
    """
    import numpy as np

    at, values = np.asarray(at_s, np.float64), np.asarray(value, np.float64)
    of = np.asarray(series, np.intp)
    if not at.shape == values.shape == of.shape:
        raise ValueError(f"one time, value and series each; got {at.shape, values.shape, of.shape}")
    marks = _impossible(values, of, quantities)
    order = np.lexsort((at, of))
    good = order[marks[order] == 0]
    spikes = good[_spikes(_Sorted(at[good], values[good], of[good], quantities, limits))]
    marks[spikes] = SPIKE
    good = good[marks[good] == 0]
    rows = _Sorted(at[good], values[good], of[good], quantities, limits)
    marks[good[_steps(rows)]] = STEP
    marks[good[_flat_lines(rows)]] = FLAT
    return marks


def _impossible(values: "Floats", of: "Indices", quantities: Sequence[str]) -> "Codes":
    """Range and power-on. Temperatures alone can show the power-on value."""
    import numpy as np

    low, high = np.array([POSSIBLE[quantity] for quantity in quantities]).reshape(-1, 2).T
    warm = np.array([quantity in ("soil_c", "air_c") for quantity in quantities], bool)
    marks = np.zeros(len(values), np.uint8)
    marks[~((values >= low[of]) & (values <= high[of]))] = RANGE  # ~: a NaN is out of it too
    marks[warm[of] & (np.abs(values - POWER_ON_C) < _SAME_C)] = POWER_ON
    return marks


class _Sorted(NamedTuple):
    """Readings in order of series, then time, and what they are judged by."""

    at_s: "Floats"
    values: "Floats"
    of: "Indices"
    quantities: Sequence[str]
    limits: dict[str, Limits]


def _jumps(rows: _Sorted) -> tuple["Floats", "NDArray[np.bool_]"]:
    """Change from each reading to the next, and whether it is beyond the limit.

    From one series to another the change is zero.
    """
    import numpy as np

    change = np.diff(rows.values)
    change[rows.of[1:] != rows.of[:-1]] = 0.0
    beyond = np.zeros(len(change), bool)
    smallest = min((rule.change_c[0][1] for rule in rows.limits.values()), default=np.inf)
    large = np.flatnonzero(np.abs(change) > smallest)  # few: only they are looked up
    beyond[large] = np.abs(change[large]) > _largest_change(rows, large)
    return change, beyond


def _largest_change(rows: _Sorted, jumps: "Indices") -> "Floats":
    """The largest change that counts as real over these gaps; infinite where none is stated."""
    import numpy as np

    largest = np.full(len(jumps), np.inf)
    apart_h = (rows.at_s[jumps + 1] - rows.at_s[jumps]) / 3600
    for quantity, rule in rows.limits.items():
        has_it = np.array([other == quantity for other in rows.quantities], bool)
        hours, change = np.array(rule.change_c).T
        mine = has_it[rows.of[jumps]]
        largest[mine] = np.append(change, np.inf)[np.searchsorted(hours, apart_h[mine])]
    return largest


def _spikes(rows: _Sorted) -> "Indices":
    """One reading that leaves its neighbours and comes back, both by more than the limit."""
    import numpy as np

    if len(rows.at_s) < 3:
        return np.zeros(0, np.intp)
    change, beyond = _jumps(rows)
    there_and_back = beyond[:-1] & beyond[1:] & (change[:-1] * change[1:] < 0)
    # The neighbours of a spike look like spikes the other way round: of a row the first counts.
    there_and_back[1:] &= ~there_and_back[:-1]
    return np.flatnonzero(there_and_back) + 1


def _steps(rows: _Sorted) -> "Indices":
    """The first reading after a jump between calm stretches; the later ones stay good."""
    import numpy as np

    if len(rows.at_s) < 2:
        return np.zeros(0, np.intp)
    change, beyond = _jumps(rows)
    size = np.concatenate(([0.0], np.abs(change), [0.0]))
    jumps = np.flatnonzero(beyond) + 1
    calm = np.maximum(size[jumps - 1], size[jumps + 1]) <= size[jumps] * RAMP_SHARE
    return jumps[calm]


def _flat_lines(rows: _Sorted) -> "Indices":
    """Readings of a sensor that stands still though the days around it moved.

    The first reading of the stretch may be true and stays good.
    """
    import numpy as np

    stuck = [np.zeros(0, np.intp)]
    if len(rows.at_s) >= 2 and rows.limits:
        changes = (np.diff(rows.of) != 0) | (np.diff(rows.values) != 0)
        starts = np.flatnonzero(np.append(True, changes))
        ends = np.append(starts[1:], len(rows.at_s)) - 1
        shortest_s = min(rule.flat_hours for rule in rows.limits.values()) * 3600
        long = rows.at_s[ends] - rows.at_s[starts] >= shortest_s
        for start, end in zip(starts[long].tolist(), ends[long].tolist(), strict=True):
            if _out_of_character(rows, start, end):
                stuck.append(np.arange(start + 1, end + 1))
    return np.concatenate(stuck)


def _out_of_character(rows: _Sorted, start: int, end: int) -> bool:
    """Whether a still stretch is long, finely measured, and lies between days that moved.

    The neighbouring days are as long as `flat_hours`. A side that shows no whole day says
    nothing; where neither does, the line is left alone.
    """
    import numpy as np

    rule = rows.limits.get(rows.quantities[rows.of[start]])
    at, values = rows.at_s, rows.values
    if rule is None or end - start + 1 < rule.flat_readings:
        return False
    day_s = rule.flat_hours * 3600
    first, last = np.searchsorted(rows.of, [rows.of[start], rows.of[start] + 1])
    step_c = _smallest_step(values[first:last])
    if at[end] - at[start] < day_s or step_c is None or step_c >= rule.coarse_c:
        return False
    since = int(np.searchsorted(at[first:start], at[start] - day_s)) + first
    until = int(np.searchsorted(at[end + 1 : last], at[end] + day_s, side="right")) + end + 1
    days = [values[since:start]] if at[start] - at[first] >= day_s else []
    days += [values[end + 1 : until]] if at[last - 1] - at[end] >= day_s else []
    swings = [float(np.ptp(day)) for day in days if len(day) > 1]
    return bool(swings) and min(swings) > max(rule.calm_c, 3 * step_c)


def _smallest_step(values: "Floats") -> float | None:
    """The smallest difference of neighbouring readings that differ: the sensor's resolution."""
    import numpy as np

    differences = np.abs(np.diff(values))
    differences = differences[differences > 1e-6]  # rounding of the decimals is no step
    return float(differences.min()) if len(differences) else None
