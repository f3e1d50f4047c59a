"""What still comes up of a sowing that has begun, or has not: how many, how likely, by when.

Source of the formulas: the mixture over a beta distribution of the share that can germinate, as an
exact finite sum (tests/reference/resow_decision_cases.csv was computed both that way and by
quadrature).
"""

from math import comb, exp, lgamma, log
from typing import Final, NamedTuple

from seedstart.growing.germination_belief import Belief

_SURELY: Final = 1e-12


class StillToCome(NamedTuple):
    """How many of the missing seeds are alive and late, and not dead.

    Attributes:
        alive: Probability that 0, 1, 2 … of the missing seeds still come.
        g_now: Share of those that come at all that is up by now.
    """

    alive: tuple[float, ...]
    g_now: float

    def expected(self, g_then: float = 1.0) -> float:
        """Mean number that comes from now until the time of `g_then`; without it, ever."""
        mean = sum(number * chance for number, chance in enumerate(self.alive))
        return mean * self._share_by(g_then)

    def chance_of(self, plants: int, g_then: float = 1.0) -> float:
        """Chance, 0 to 1, that so many come by the time of `g_then`; without it, ever."""
        share = self._share_by(g_then)
        return min(
            sum(
                chance * _at_least(plants, number, share)
                for number, chance in enumerate(self.alive)
                if number >= plants
            ),
            1.0,
        )

    def _share_by(self, g_then: float) -> float:
        """Of those that still come, the share that does so by then."""
        if self.g_now >= 1 - _SURELY:
            return 0.0
        return min(max((g_then - self.g_now) / (1 - self.g_now), 0.0), 1.0)


def still_to_come(sown: int, up: int, g_now: float, germination: float | Belief) -> StillToCome:
    """What the missing seeds of a sowing still give.

    Args:
        sown: Seeds, 0 or more.
        up: Of them up by now, up to `sown`.
        g_now: Share, 0 to 1, of those that come at all that should be up by now.
        germination: Share of seeds that can come up: known for sure, or what is believed of it
            from before this sowing.

    Raises:
        ValueError: More up than sown, or a share outside 0 to 1.
    """
    if not 0 <= up <= sown or not 0 <= g_now <= 1:
        raise ValueError(f"0 to {sown} up, a share from 0 to 1; got {up} and {g_now}")
    missing = sown - up
    if isinstance(germination, Belief):
        return StillToCome(_alive_by_belief(missing, up, g_now, germination), g_now)
    if not 0 <= germination <= 1:
        raise ValueError(f"a germination from 0 to 1; got {germination}")
    gone = 1 - germination * g_now
    late = germination * (1 - g_now) / gone if gone > _SURELY else 0.0
    return StillToCome(tuple(_exactly(n, missing, late) for n in range(missing + 1)), g_now)


def _alive_by_belief(missing: int, up: int, g_now: float, belief: Belief) -> tuple[float, ...]:
    """P(J) in proportion to C(m, J) (1 - G)^J B(a + x + J, b + m - J)."""
    if g_now >= 1 - _SURELY:
        return (1.0, *[0.0] * missing)
    late = log(1 - g_now)
    logs = [
        lgamma(missing + 1)
        - lgamma(number + 1)
        - lgamma(missing - number + 1)
        + number * late
        + lgamma(belief.a + up + number)
        + lgamma(belief.b + missing - number)
        for number in range(missing + 1)
    ]
    most = max(logs)
    weights = [exp(one - most) for one in logs]
    total = sum(weights)
    return tuple(weight / total for weight in weights)


def _exactly(number: int, of: int, share: float) -> float:
    return comb(of, number) * share**number * (1 - share) ** (of - number)


def _at_least(number: int, of: int, share: float) -> float:
    if number <= 0:
        return 1.0
    if share >= 1 - _SURELY:
        return 1.0
    return 1 - sum(_exactly(less, of, share) for less in range(number))
