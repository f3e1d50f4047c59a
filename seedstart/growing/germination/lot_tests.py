"""Is one lot really better than another, or faster: the tests, each with what it answers.

How many came up: Fisher's exact test on the final counts. The whole time course, how many and how
fast together: log-rank. How fast those that come do: two curves of one shape, with one middle or
two (`speed_test`). Many pairs at once: Holm. Plain Python but
for the log-rank's matrix.
"""

from collections.abc import Sequence
from math import ceil, erfc, exp, inf, lgamma, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination.curve_families import FAMILIES
from seedstart.growing.germination.curve_fit import Between, Fitted, fit_groups
from seedstart.growing.germination.time_curve import NoFit, time_curve

_HAIR: Final = 1e-7  # tables as likely as the one seen, but for rounding
_TWO_SIDED_95: Final = 1.959964


class Tested(NamedTuple):
    """What a test says.

    Attributes:
        statistic: Its value; None where the test has none.
        p: How often chance alone would make as much of a difference, 0 to 1.
    """

    statistic: float | None
    p: float


class SpeedTested(NamedTuple):
    """Whether one comes up faster than the other.

    Attributes:
        statistic: Likelihood ratio of two middles against one, 1 degree of freedom.
        p: How often chance alone would make as much of a difference.
        days: Half-time of the second less that of the first: positive where the first is faster.
        low, high: 95 % interval of `days`.
        shape: Of the curves.
    """

    statistic: float
    p: float
    days: float
    low: float
    high: float
    shape: str


def fisher(first: tuple[int, int], second: tuple[int, int]) -> Tested:
    """Fisher's exact test, two-sided: all tables no likelier than the one seen.

    Args:
        first, second: How many came up, of how many.

    Raises:
        ValueError: More up than seeds, or no seeds.
    """
    _check([first, second])
    (up_a, a), (up_b, b) = first, second
    up = up_a + up_b
    chances = [
        exp(_ways(a, came) + _ways(b, up - came) - _ways(a + b, up))
        for came in range(max(0, up - b), min(a, up) + 1)
    ]
    seen = chances[up_a - max(0, up - b)]
    return Tested(None, min(1.0, sum(chance for chance in chances if chance <= seen * (1 + _HAIR))))


def _ways(of: int, up: int) -> float:
    return lgamma(of + 1) - lgamma(up + 1) - lgamma(of - up + 1)


def chi_square(lots: Sequence[tuple[int, int]]) -> Tested:
    """Pearson's chi square over lots or trays: of trays of one lot, their index of dispersion.

    Args:
        lots: Of each, how many came up of how many; two at least.

    Returns:
        p is 1 where all or none came up in every one: they cannot differ.

    Raises:
        ValueError: Fewer than two, more up than seeds, or no seeds.
    """
    _check(lots)
    up, of = sum(came for came, _ in lots), sum(seeds for _, seeds in lots)
    if up in (0, of):
        return Tested(0.0, 1.0)
    share = up / of
    statistic = sum(
        (came - seeds * share) ** 2 / (seeds * share * (1 - share)) for came, seeds in lots
    )
    return Tested(statistic, chi_square_tail(statistic, len(lots) - 1))


def log_rank(groups: Sequence[Sequence[Between]]) -> Tested:
    """Log-rank over whole time courses, each seed booked at the look that found it.

    Args:
        groups: What was seen of each lot, looked at on the same days.

    Returns:
        p is 1 where nothing came up.
    """
    days = sorted({batch.by for seen in groups for batch in seen if batch.by < inf and batch.seeds})
    size = len(groups)
    excess, covariance = [0.0] * size, [[0.0] * size for _ in range(size)]
    for day in days:
        at_risk = [sum(batch.seeds for batch in seen if batch.by >= day and _watched(batch, day))
                   for seen in groups]  # fmt: skip
        new = [sum(batch.seeds for batch in seen if batch.by == day) for seen in groups]
        n, d = sum(at_risk), sum(new)
        for i in range(size):
            excess[i] += new[i] - d * at_risk[i] / n
            for j in range(size):
                both = at_risk[i] / n * ((i == j) - at_risk[j] / n)
                covariance[i][j] += d * both * (n - d) / (n - 1) if n > 1 else 0.0
    statistic = _quadratic(excess[1:], [row[1:] for row in covariance[1:]])
    return Tested(statistic, chi_square_tail(statistic, size - 1))


def _watched(batch: Between, day: float) -> bool:
    """Whether a batch was still looked at on a day: what is not up was, till its last look."""
    return batch.by < inf or batch.after >= day


def _quadratic(values: Sequence[float], matrix: Sequence[Sequence[float]]) -> float:
    """Quadratic form of values and the inverse of their covariance; 0 where nothing varies."""
    import numpy as np

    return float(np.array(values) @ np.linalg.pinv(np.array(matrix)) @ np.array(values))


def speed_test(first: Sequence[Between], second: Sequence[Between]) -> SpeedTested | NoFit:
    """Whether those that come up come sooner in one, whatever share never comes in either.

    Curves of one shape and one scale, with one middle or two; each has its own share. The looks of
    the two need not be on the same days. The shape is the one that fits both best.

    Source:
        Likelihood ratio as in Ritz, Pipper & Streibig 2013, Eur J Agron 45: 1-6; interval by the
        delta method.
    """
    for seen in (first, second):
        curves = time_curve(seen)
        if isinstance(curves, NoFit):
            return curves
    fits = [(fit_groups([first, second], family), family) for family in FAMILIES]
    some = [pair for pair in fits if pair[0].converged]
    if not some:
        return NoFit("no curve fits both")
    apart, family = max(some, key=lambda pair: pair[0].log_likelihood)
    together = fit_groups([first, second], family, one_middle=True)
    statistic = max(0.0, 2 * (apart.log_likelihood - together.log_likelihood))
    days, se = _half_times_apart(apart, family.quantile(0.5))
    low, high = days - _TWO_SIDED_95 * se, days + _TWO_SIDED_95 * se
    p = erfc(sqrt(statistic / 2))  # chi square with 1 degree of freedom
    return SpeedTested(statistic, p, days, low, high, family.name)


def _half_times_apart(fitted: Fitted, z: float) -> tuple[float, float]:
    """Second half-time less the first, and its standard error."""
    scale = exp(fitted.scale_log)
    first, second = (exp(middle + z * scale) for middle in fitted.middles)
    slopes = ((second - first) * z * scale, -first, second)
    variance = sum(
        one * other * fitted.covariance[i][j]
        for i, one in enumerate(slopes)
        for j, other in enumerate(slopes)
    )
    return second - first, sqrt(max(variance, 0.0))


def holm(ps: Sequence[float]) -> list[float]:
    """The p of many tests at once, each as it is after Holm (1979, Scand J Stat 6: 65-70)."""
    order = sorted(range(len(ps)), key=lambda one: ps[one])
    adjusted, highest = [0.0] * len(ps), 0.0
    for rank, place in enumerate(order):
        highest = max(highest, min(1.0, ps[place] * (len(ps) - rank)))
        adjusted[place] = highest
    return adjusted


def seeds_to_show(
    first: float, second: float, *, power: float = 0.8, level: float = 0.05
) -> int | None:
    """Seeds of each lot with which a difference of shares would most likely be shown.

    Args:
        first, second: The two shares, 0 to 1.
        power: How often the difference is to be shown where it is real.
        level: How often one is shown where there is none.

    Returns:
        None where the shares are the same.

    Source:
        Normal approximation, two-sided: Fleiss 1981, Statistical Methods for Rates and Proportions
        (citation from memory), without its correction for continuity.
    """
    if first == second:
        return None
    from statistics import NormalDist

    z_level = NormalDist().inv_cdf(1 - level / 2)
    z_power = NormalDist().inv_cdf(power)
    middle = (first + second) / 2
    spread = sqrt(first * (1 - first) + second * (1 - second))
    both = z_level * sqrt(2 * middle * (1 - middle)) + z_power * spread
    return ceil((both / (first - second)) ** 2)


def chi_square_tail(statistic: float, freedom: int) -> float:
    """How often chi square with so many degrees of freedom is as large, 0 to 1.

    Source:
        The finite sums for whole degrees of freedom, Abramowitz & Stegun 26.4.4 and 26.4.5 (numbers
        from memory; checked against scipy).
    """
    half = max(statistic, 0.0) / 2
    tail, power = (0.0, 0.0) if freedom % 2 == 0 else (erfc(sqrt(half)), 0.5)
    while power < freedom / 2:
        if half:
            tail += exp(power * log(half) - half - lgamma(power + 1))
        elif power == 0:
            tail += 1.0
        power += 1
    return min(tail, 1.0)


def more_than_chance(lots: Sequence[tuple[int, int]]) -> float:
    """How often chance alone would part them as far: Fisher's test of two, chi square of more.

    Args:
        lots: Of two or more trays or lots, how many came up of how many.
    """
    return fisher(lots[0], lots[1]).p if len(lots) == 2 else chi_square(lots).p


def _check(lots: Sequence[tuple[int, int]]) -> None:
    if len(lots) < 2 or any(not 0 <= up <= of or of < 1 for up, of in lots):
        raise ValueError(f"two or more, each 0 or more up of at least as many seeds; got {lots}")
