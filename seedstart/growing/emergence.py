"""Emergence over soil temperature: how fast, how spread out, and whether at all.

Everything works on the *rate* (1/days): it runs smoothly through the temperatures where nothing
comes up, where days would be infinite. Source of method and of its errors: leave-one-out over the
table of Harrington & Minges 1954 (docs/crop_table.md), PCHIP on the rate being the best monotone
rule there (median 9.7 %).
"""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import inf, log, sqrt
from typing import Final, Literal, NamedTuple

from seedstart.units import Temperatures


def pchip_slopes(x: Sequence[float], y: Sequence[float]) -> tuple[float, ...]:
    """Slopes of the shape-preserving cubic (Fritsch & Carlson 1980; Fritsch & Butland 1984).

    Weighted harmonic mean of the neighbouring secants inside, zero where they disagree in sign;
    one-sided three-point slopes at the ends, cut so that the shape is kept.

    Args:
        x: Knots, rising.
        y: Values, as many.
    """
    if len(x) < 2:
        return (0.0,) * len(x)
    h = [right - left for left, right in pairwise(x)]
    m = [(y[i + 1] - y[i]) / h[i] for i in range(len(h))]
    if len(x) == 2:
        return (m[0], m[0])
    inner = []
    for i in range(1, len(h)):
        if m[i - 1] * m[i] <= 0:
            inner.append(0.0)
        else:
            w1, w2 = 2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]
            inner.append((w1 + w2) / (w1 / m[i - 1] + w2 / m[i]))
    start = _end_slope(h[0], h[1], m[0], m[1])
    end = _end_slope(h[-1], h[-2], m[-1], m[-2])
    return (start, *inner, end)


def _end_slope(h0: float, h1: float, m0: float, m1: float) -> float:
    slope = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1)
    if slope * m0 <= 0:
        return 0.0
    if m0 * m1 <= 0 and abs(slope) > abs(3 * m0):
        return 3 * m0
    return slope


NO_GERMINATION: Final = "no germination"
NOT_TESTED: Final = "not tested"
Clock = Literal["table", "trays"]

# Printed days in trays over the table's days at the same temperature: median and quartiles of the
# crops that have both, each crop once (tests/crop_pooling/tray_clock.py computes them). A grower's
# own factor starts at the median, and their records move it.
TRAYS_OVER_TABLE: Final = 1.6
TRAYS_QUARTILES: Final = (1.3, 2.2)
# The same spread on the logarithm, where it is taken to be normal: 1.349 sd between the quartiles.
TRAYS_SD: Final = log(TRAYS_QUARTILES[1] / TRAYS_QUARTILES[0]) / 1.349
# Where no limit is sourced: straight lines that fit the 24 tabulated crops to a median of 17 %.
_WARM_BASE_C: Final = 8.0
_COOL_BASE_C: Final = -1.0
# The broken line of a crop without a table (median error 14 % on the 24 tabulated crops).
_BELOW_LOWEST_C: Final = 3.0
_RATE_AT_HIGHEST: Final = 0.8
_ABOVE_HIGHEST_C: Final = 5.0


class RateCurve(NamedTuple):
    """Rate of emergence over soil temperature.

    Attributes:
        soil_c: Knots, °C, rising.
        per_day: Rate at each knot, 1/days.
        slopes: Slope at each knot, for the cubic between them; empty for straight lines.
        base_c: Below the first knot the rate falls in a straight line to zero here.
        flat_to_c: Above the last knot the rate stays as it is there up to here.
        nothing_from_c: From here on nothing comes up, whatever else is said.
        inside: The coldest and hottest temperature that the figures speak of.
        basis: `table`, or the rule that stands in for one.
    """

    soil_c: tuple[float, ...]
    per_day: tuple[float, ...]
    slopes: tuple[float, ...]
    base_c: float
    flat_to_c: float
    inside: tuple[float, float]
    basis: Literal["table", "broken line", "class line"]
    nothing_from_c: float = inf

    def rate(self, soil_c: float) -> float:
        """Rate at a temperature, 1/days; 0 where nothing comes up or no figure speaks."""
        first, last = self.soil_c[0], self.soil_c[-1]
        if soil_c < first:
            if self.per_day[0] == 0 or soil_c <= self.base_c:
                return 0.0
            return self.per_day[0] * (soil_c - self.base_c) / (first - self.base_c)
        if soil_c > last:
            goes_on = soil_c <= self.flat_to_c and soil_c < self.nothing_from_c
            return self.per_day[-1] if goes_on else 0.0
        right = min(bisect_right(self.soil_c, soil_c), len(self.soil_c) - 1)
        if right == 0:  # a single knot
            return self.per_day[0]
        return self._between(right - 1, soil_c)

    def mean_rate(self, station: Temperatures) -> float:
        """Mean rate over a day of two temperatures, 1/days.

        The rate at the mean temperature is not the mean rate: the curve is bent.
        """
        by_day = self.rate(station.day_c) * station.day_hours
        return (by_day + self.rate(station.night_c) * (24 - station.day_hours)) / 24

    def days(self, station: Temperatures) -> float:
        """Days to emergence at a station, on the curve's own clock; infinite where none comes."""
        rate = self.mean_rate(station)
        return 1 / rate if rate > 0 else inf

    def scaled_to(self, days: float, at_c: float) -> "RateCurve":
        """A curve of the same shape, with this many days at a temperature.

        Raises:
            ValueError: Nothing comes up at that temperature by this curve.
        """
        here = self.rate(at_c)
        if here <= 0:
            raise ValueError(f"days at {at_c:g} °C say that it comes up there; the limits say not")
        scale = 1 / (days * here)
        return self._replace(
            per_day=tuple(rate * scale for rate in self.per_day),
            slopes=tuple(slope * scale for slope in self.slopes),
        )

    def speaks_of(self, soil_c: float) -> bool:
        """Whether the figures reach this temperature, or the curve goes on beyond them."""
        return self.inside[0] <= soil_c <= self.inside[1]

    def _between(self, left: int, soil_c: float) -> float:
        width = self.soil_c[left + 1] - self.soil_c[left]
        t = (soil_c - self.soil_c[left]) / width
        y0, y1 = self.per_day[left], self.per_day[left + 1]
        if t == 1:  # exactly the figure: rounding would leave a trace of a rate where none is
            return y1
        if not self.slopes:
            return y0 + t * (y1 - y0)
        d0, d1 = self.slopes[left] * width, self.slopes[left + 1] * width
        # Cubic Hermite: y0, y1 and the slopes at both ends.
        value = y0 + t * (d0 + t * ((3 * (y1 - y0) - 2 * d0 - d1) + t * (d0 + d1 - 2 * (y1 - y0))))
        return max(value, 0.0)


def table_curve(
    soil_c: Sequence[float], days: Sequence[float | str], lowest_c: float, highest_c: float
) -> RateCurve:
    """The curve through a handbook's table of days.

    Shape-preserving cubic between the tabulated temperatures; zero at the neighbouring temperature
    that the table calls "no germination". Beside "not tested" (or the table's end) it goes on
    outside the table: down along the crop's own thermal-time line, and flat to the printed maximum.

    Args:
        soil_c: Tabulated soil temperatures, °C, rising.
        days: At each of them days, `no germination` or `not tested`.
        lowest_c: Printed minimum, °C; the base where the table gives no line.
        highest_c: Printed maximum, °C.

    Raises:
        ValueError: No temperature of the table has a figure.
    """
    came_up = [place for place, value in enumerate(days) if not isinstance(value, str)]
    if not came_up:
        raise ValueError("an emergence table needs at least one figure")
    first, last = came_up[0], came_up[-1]
    knots = [(soil_c[place], 1 / float(days[place])) for place in came_up]
    nothing = [c for c, value in zip(soil_c, days, strict=True) if value == NO_GERMINATION]
    nothing_to_c = max((c for c in nothing if c < soil_c[first]), default=-inf)
    nothing_from_c = min((c for c in nothing if c > soil_c[last]), default=inf)
    base_c = max(_base_c(knots, lowest_c), nothing_to_c)
    if first > 0 and days[first - 1] == NO_GERMINATION:
        knots.insert(0, (nothing_to_c, 0.0))
    if last + 1 < len(days) and days[last + 1] == NO_GERMINATION:
        knots.append((nothing_from_c, 0.0))
    temperatures = tuple(temperature for temperature, _ in knots)
    rates = tuple(rate for _, rate in knots)
    return RateCurve(
        temperatures,
        rates,
        pchip_slopes(temperatures, rates),
        base_c,
        max(highest_c, soil_c[last]),
        (soil_c[first], soil_c[last]),
        "table",
        nothing_from_c,
    )


def broken_line(
    days: float, at_c: float, lowest_c: float, fastest_c: float, highest_c: float
) -> RateCurve:
    """The curve of a crop without a table: zero 3 °C below its lowest temperature, full at its
    fastest, 0.8 of that at its highest, zero 5 °C above; scaled to `days` at `at_c`.

    Expect an error of about 15 % near `at_c`, 50 to 60 % at worst.
    """  # noqa: D205
    base_c, end_c = lowest_c - _BELOW_LOWEST_C, highest_c + _ABOVE_HIGHEST_C
    temperatures: tuple[float, ...] = (base_c, fastest_c, highest_c, end_c)
    shape: tuple[float, ...] = (0.0, 1.0, _RATE_AT_HIGHEST, 0.0)
    if highest_c <= fastest_c:
        temperatures, shape = (base_c, fastest_c, end_c), (0.0, 1.0, 0.0)
    line = RateCurve(temperatures, shape, (), base_c, end_c, (lowest_c, highest_c), "broken line")
    return line.scaled_to(days, at_c)


def class_line(days: float, at_c: float, *, warm: bool, fastest_c: float) -> RateCurve:
    """The curve where even the limits have no source: straight from 8 °C for a tender crop, from
    -1 °C for a hardy one, to its fastest temperature and flat above; scaled to `days` at `at_c`.

    Expect an error of about 17 % in the median, 50 to 70 % at worst.
    """  # noqa: D205
    base_c = _WARM_BASE_C if warm else _COOL_BASE_C
    shape = RateCurve((base_c, fastest_c), (0.0, 1.0), (), base_c, inf, (at_c, at_c), "class line")
    return shape.scaled_to(days, at_c)


def _base_c(knots: Sequence[tuple[float, float]], lowest_c: float) -> float:
    """Where the crop's thermal-time line meets zero: least squares up to its fastest knot."""
    fastest = max(range(len(knots)), key=lambda place: knots[place][1])
    line = knots[: fastest + 1]
    coldest_c = knots[0][0]
    if len(line) < 2:
        return min(lowest_c - _BELOW_LOWEST_C, coldest_c - 1)
    mean_c = sum(c for c, _ in line) / len(line)
    mean_rate = sum(rate for _, rate in line) / len(line)
    steepness = sum((c - mean_c) * (rate - mean_rate) for c, rate in line)
    steepness /= sum((c - mean_c) ** 2 for c, _ in line)
    # The line of best fit may run out above the coldest tabulated emergence, which did happen.
    return min(mean_c - mean_rate / steepness, coldest_c - 1)


class Expected(NamedTuple):
    """Days from sowing to emergence at a station.

    Attributes:
        earliest: At best: the handbook's own figure, or the low end of the printed range.
        best: Half of those that come, in trays.
        latest: Nine in ten of those that come.
    """

    earliest: float
    best: float
    latest: float


def expected_in_table_crop(
    table_days: float, first_to_last: float, factor: float = TRAYS_OVER_TABLE
) -> Expected:
    """Days for a crop with a table: the table is the best case, trays run `factor` slower."""
    best = table_days * factor
    return Expected(table_days, best, best * sqrt(first_to_last))


def expected_from_range(
    tray_days: float, low_share: float, high_share: float, first_to_last: float
) -> Expected:
    """Days for a crop whose figure is a range seen in trays; it needs no factor.

    Args:
        tray_days: Days at this temperature, by the middle of the range.
        low_share: Low end of the range over its middle.
        high_share: High end over middle.
        first_to_last: Spread within one tray; wins where it is wider than the range.
    """
    spread = sqrt(first_to_last)
    low, high = min(low_share, 1 / spread), max(high_share, spread)
    return Expected(tray_days * low, tray_days, tray_days * high)


def days_for_share(share: float, half_days: float, first_to_last: float) -> float:
    """Day by which `share` of those that come are up: log-logistic about the median.

    Args:
        share: Above 0 and below 1.
        half_days: Day by which half are up.
        first_to_last: Day of 90 % over day of 10 %.
    """
    slope = 2 * log(9) / log(first_to_last)
    return float(half_days * (share / (1 - share)) ** (1 / slope))
