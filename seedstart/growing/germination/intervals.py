"""How sure a percentage of seeds is: intervals for a share that was counted.

All in fractions, 0 to 1. The plain ± of the textbooks (Wald) is left out on purpose: of 17 in 20 it
makes an upper end of 100 %, of 0 in 20 no width at all.
"""

from typing import NamedTuple

from seedstart.growing.germination_belief import Belief


class Interval(NamedTuple):
    """Lower and upper end, as fractions."""

    low: float
    high: float


def wilson(up: int, of: int, level: float = 0.95) -> Interval:
    """Wilson's interval for a share: the one that faces show.

    Args:
        up: How many came up.
        of: How many were sown, at least one.
        level: Above 0 and below 1.

    Raises:
        ValueError: Something outside these bounds.

    Source:
        Wilson 1927, JASA 22: 209-212 (citation from memory).
    """
    _check(up, of, level)
    from statistics import NormalDist  # 8 ms that a calendar does not need

    z = NormalDist().inv_cdf((1 + level) / 2)
    share, wide = up / of, 1 + z * z / of
    middle = (share + z * z / (2 * of)) / wide
    half = z * (share * (1 - share) / of + z * z / (4 * of * of)) ** 0.5 / wide
    low = 0.0 if up == 0 else middle - half  # rounding would leave 1e-17
    return Interval(low, 1.0 if up == of else middle + half)


def clopper_pearson(up: int, of: int, level: float = 0.95) -> Interval:
    """The exact interval: never too narrow, and wider than it need be.

    Args:
        up: How many came up.
        of: How many were sown, at least one.
        level: Above 0 and below 1.

    Raises:
        ValueError: Something outside these bounds.

    Source:
        Clopper & Pearson 1934, Biometrika 26: 404-413 (citation from memory).
    """
    _check(up, of, level)
    from scipy.special import betaincinv

    tail = (1 - level) / 2
    low = 0.0 if up == 0 else float(betaincinv(up, of - up + 1, tail))
    high = 1.0 if up == of else float(betaincinv(up + 1, of - up, 1 - tail))
    return Interval(low, high)


def jeffreys(up: int, of: int, level: float = 0.95) -> Interval:
    """The interval of an even-tailed beta start (1/2, 1/2), which touches 0 at none and 1 at all.

    Args:
        up: How many came up.
        of: How many were sown, at least one.
        level: Above 0 and below 1.

    Raises:
        ValueError: Something outside these bounds.

    Source:
        Brown, Cai & DasGupta 2001, Stat Sci 16: 101-133 (citation from memory), with its rule for
        the ends.
    """
    _check(up, of, level)
    from scipy.special import betaincinv

    tail = (1 - level) / 2
    low = 0.0 if up == 0 else float(betaincinv(up + 0.5, of - up + 0.5, tail))
    high = 1.0 if up == of else float(betaincinv(up + 0.5, of - up + 0.5, 1 - tail))
    return Interval(low, high)


def likely_share(belief: Belief, level: float = 0.95) -> Interval:
    """Where the share of seeds that come up lies, by what is believed: equal tails of the beta.

    Raises:
        ValueError: A level that is not between 0 and 1.
    """
    if not 0 < level < 1:
        raise ValueError(f"a level between 0 and 1; got {level}")
    from scipy.special import betaincinv

    tail = (1 - level) / 2
    low, high = betaincinv(belief.a, belief.b, tail), betaincinv(belief.a, belief.b, 1 - tail)
    return Interval(float(low), float(high))


def _check(up: int, of: int, level: float) -> None:
    if of < 1 or not 0 <= up <= of:
        raise ValueError(f"0 or more up, of at least as many seeds and one; got {up} of {of}")
    if not 0 < level < 1:
        raise ValueError(f"a level between 0 and 1; got {level}")
