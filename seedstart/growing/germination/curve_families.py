"""Shapes of the time curve: log-logistic, log-normal, Weibull, as one shape on the log of time.

Each is G(z) with z = (ln t - middle) / scale. Plain Python.
"""

from collections.abc import Callable
from math import erfc, exp, expm1, log, pi, sqrt
from typing import Final, NamedTuple


class Shape(NamedTuple):
    """A shape at one z.

    Attributes:
        up: Share that is up, G.
        left: Share still to come, 1 - G, to full precision where G is near 1.
        density: G'.
        bend: G''.
    """

    up: float
    left: float
    density: float
    bend: float


class Family(NamedTuple):
    """A shape with its names.

    Attributes:
        name: As it is called.
        at: The shape at a z.
        quantile: The z at which a share, 0 to 1, is up.
        sd: Standard deviation of z: for a start of the fit.
        mean: Mean of z, likewise.
    """

    name: str
    at: Callable[[float], Shape]
    quantile: Callable[[float], float]
    sd: float
    mean: float


_FARTHEST: Final = 600.0  # beyond, exp() would overflow, and nothing changes any more
_ROOT_2: Final = sqrt(2)
_ROOT_2_PI: Final = sqrt(2 * pi)
_EULER: Final = 0.57721566490153286


def _logistic(z: float) -> Shape:
    z = max(-_FARTHEST, min(z, _FARTHEST))
    up, left = 1 / (1 + exp(-z)), 1 / (1 + exp(z))
    return Shape(up, left, up * left, up * left * (left - up))


def _normal(z: float) -> Shape:
    density = exp(-z * z / 2) / _ROOT_2_PI
    return Shape(erfc(-z / _ROOT_2) / 2, erfc(z / _ROOT_2) / 2, density, -z * density)


def _least_extreme(z: float) -> Shape:
    grown = exp(max(-_FARTHEST, min(z, _FARTHEST)))
    left = exp(-grown)
    density = grown * left
    return Shape(-expm1(-grown), left, density, density * (1 - grown))


def _normal_quantile(share: float) -> float:
    from statistics import NormalDist  # 8 ms that nobody else needs

    return NormalDist().inv_cdf(share)


LOG_LOGISTIC: Final = Family(
    "log-logistic", _logistic, lambda share: log(share / (1 - share)), pi / sqrt(3), 0.0
)
LOG_NORMAL: Final = Family("log-normal", _normal, _normal_quantile, 1.0, 0.0)
WEIBULL: Final = Family(
    "Weibull", _least_extreme, lambda share: log(-log(1 - share)), pi / sqrt(6), -_EULER
)
FAMILIES: Final = (LOG_LOGISTIC, LOG_NORMAL, WEIBULL)
