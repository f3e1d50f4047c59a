"""A curve through given points that bends no more than they do."""

from collections.abc import Sequence
from itertools import pairwise


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
