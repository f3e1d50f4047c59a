"""Do trays of one lot differ more than coins do, and what that leaves of a comparison.

Seeds of one tray share its medium, its corner and its watering, so they come up more alike than
coins fall. Beta-binomial: each tray's share is drawn about its lot's, with one correlation rho for
all trays: the variance is n m (1 - m) (1 + (n - 1) rho). Plain Python.
"""

from collections.abc import Sequence
from math import comb, erfc, exp, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination.lot_tests import Tested
from seedstart.growing.germination_belief import LotsSeen

Trays = Sequence[tuple[int, int]]

# A strength as high as this is coins (rho 1e-6), one as low is all or nothing.
_COINS: Final = 1e6
_ALL_OR_NOTHING: Final = 1e-2


class TraySpread(NamedTuple):
    """Trays of one or more lots, fitted with one correlation.

    Attributes:
        rho: Correlation of two seeds of a tray, 0 to 1; 0 where trays differ no more than coins do.
        means: Of each lot, the share that comes up.
        log_likelihood: With the ways to draw them.
        of_coins: The same at rho = 0 (binomial).
        p: How often trays of coins would differ as much: half of chi square with 1 degree of
            freedom, since rho = 0 is a bound.
    """

    rho: float
    means: tuple[float, ...]
    log_likelihood: float
    of_coins: float
    p: float

    def worth(self, seeds: int) -> float:
        """How many independent seeds a tray of `seeds` is worth."""
        return seeds / (1 + (seeds - 1) * self.rho)


def tray_spread(lots: Sequence[Trays]) -> TraySpread:
    """How much trays differ beyond chance.

    Args:
        lots: Of each lot its trays: how many came up of how many. Two trays of one lot at least.

    Raises:
        ValueError: No lot with two trays, more up than seeds, or no seeds.

    Source:
        Maximum likelihood; checked against Crowder 1978, Appl Stat 27: 34-37 (its data).
    """
    every = [tray for trays in lots for tray in trays]
    if any(not 0 <= up <= of or of < 1 for up, of in every) or all(len(lot) < 2 for lot in lots):
        raise ValueError(f"two trays of a lot, each 0 or more up of its seeds; got {lots}")
    ways = sum(log(comb(of, up)) for up, of in every)
    seen = [LotsSeen(trays) for trays in lots]
    strength = _best_strength(seen)
    of_coins = ways + sum(_binomial(trays) for trays in lots)
    means = tuple(batch.best_mean(strength) for batch in seen)
    reached = ways + sum(
        one.log_likelihood(mean, strength) for one, mean in zip(seen, means, strict=True)
    )
    if strength >= _COINS or reached <= of_coins:
        shares = tuple(sum(up for up, _ in lot) / sum(of for _, of in lot) for lot in lots)
        return TraySpread(0.0, shares, of_coins, of_coins, 1.0)
    p = erfc(sqrt(reached - of_coins)) / 2  # half of the tail of 2 (reached - of_coins)
    return TraySpread(1 / (strength + 1), means, reached, of_coins, p)


def lots_apart(lots: Sequence[Trays]) -> Tested:
    """Whether lots differ by more than their trays do: the tray is the unit, one rho for all.

    The likelihood ratio is held against F, with as many trays less lots below: chi square would
    call one pair in eight different where there are four trays each and no difference (simulated).

    Args:
        lots: Of each of two or more lots its trays; more trays than lots.
    """
    apart = tray_spread(lots)
    together = tray_spread([[tray for trays in lots for tray in trays]])
    statistic = max(0.0, 2 * (apart.log_likelihood - together.log_likelihood))
    between, within = len(lots) - 1, sum(map(len, lots)) - len(lots)
    from scipy.special import fdtrc

    return Tested(statistic, float(fdtrc(between, within, statistic / between)))


def _binomial(trays: Trays) -> float:
    up, of = sum(up for up, _ in trays), sum(of for _, of in trays)
    return sum(number * log(number / of) for number in (up, of - up) if number)


def _best_strength(seen: Sequence[LotsSeen]) -> float:
    """Where the likelihood of all lots together is highest, by the sign of its slope."""

    def slope(strength: float) -> float:
        return sum(batch.slope_in_strength(strength) for batch in seen)

    low, high = log(_ALL_OR_NOTHING), log(_COINS)
    if slope(_COINS) >= 0:
        return _COINS
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if slope(exp(middle)) > 0 else (low, middle)
    return exp((low + high) / 2)
