"""What is believed of a lot's germination: how good it is, and how sure that is.

A beta distribution over the share of seeds that come up. A test of `of` seeds of which `up` came
up moves Beta(a, b) to Beta(a + up, b + of - up). Plain Python: the calendar calls it.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import exp, inf, log
from typing import Final, NamedTuple

# Old seed: a fifth less of it comes up for each year past its seed life, and the figure is half as
# sure, but never less sure than a test of three seeds makes it. That old seed is sown thicker is
# common practice; no source says by how much. Beyond three years only a test shows it.
LEFT_A_YEAR_PAST: Final = 0.8
MOST_YEARS_PAST: Final = 3.0
_LEAST_SURE_AGED: Final = 5.0

# Under four lots there is nothing to learn how lots differ.
FEWEST_LOTS: Final = 4
# A laboratory's own test has 400 seeds (four times a hundred): past lots make nobody surer of the
# next one than that.
MOST_SURE: Final = 400.0
_LEAST_SURE: Final = 2.0


class Belief(NamedTuple):
    """A beta distribution over the share of seeds that come up.

    Attributes:
        a: Above 0; grows by one with each seed that came up.
        b: Above 0; grows by one with each that did not.
    """

    a: float
    b: float

    @property
    def mean(self) -> float:
        """The share of seeds that is expected to come up."""
        return self.a / (self.a + self.b)

    @property
    def strength(self) -> float:
        """How sure: so many seeds seen, the two of the even start among them."""
        return self.a + self.b

    def updated(self, up: int, of: int) -> "Belief":
        """After `up` of `of` more seeds came up."""
        if not 0 <= up <= of:
            raise ValueError(f"came up: 0 to {of} of {of} seeds; got {up}")
        return Belief(self.a + up, self.b + of - up)

    def times(self, share: float) -> "Belief":
        """Where only `share` of those that could come up make a normal seedling.

        The mean is multiplied and the strength stays: the share was seen in another variety, so it
        makes nobody surer (multiplied as if it were exact, it would narrow the belief).
        """
        if not 0 < share <= 1:
            raise ValueError(f"a share above 0 and up to 1; got {share}")
        return _belief(self.mean * share, self.strength)

    def weakened(self, halvings: float = 1.0) -> "Belief":
        """A belief of the same mean, half as sure a halving, but not below a test of three."""
        least = min(_LEAST_SURE_AGED, self.strength)
        return _belief(self.mean, max(least, self.strength * 0.5**halvings))

    def aged(self, years_past_life: float) -> "Belief":
        """After so many years past the seed's life: lower, and less sure. Common practice."""
        years = min(max(years_past_life, 0.0), MOST_YEARS_PAST)
        if years == 0:
            return self
        weaker = self.weakened(years)
        return _belief(weaker.mean * LEFT_A_YEAR_PAST**years, weaker.strength)


EVEN: Final = Belief(1.0, 1.0)


def _belief(mean: float, strength: float) -> Belief:
    return Belief(mean * strength, (1 - mean) * strength)


def as_if_tested(share: float, seeds: float) -> Belief:
    """A figure that somebody prints, taken to be worth a test of so many seeds.

    Args:
        share: 0 to 1, as printed.
        seeds: How many tested seeds it is worth.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"a share from 0 to 1; got {share}")
    return Belief(EVEN.a + share * seeds, EVEN.b + (1 - share) * seeds)


def anywhere_above(least: float) -> Belief:
    """Where only the least share is known: any from there to all is as likely.

    The beta distribution with the mean and the variance of the uniform one between the two.

    Args:
        least: 0 to below 1.
    """
    if not 0 <= least < 1:
        raise ValueError(f"a share from 0 to below 1; got {least}")
    return _belief((1 + least) / 2, 3 * (1 + least) / (1 - least) - 1)


@lru_cache(maxsize=64)
def belief_from_lots(lots: tuple[tuple[int, int], ...]) -> Belief:
    """What to believe of the next lot after past ones: empirical Bayes, by marginal maximum.

    The beta from which lots like these are most likely drawn. Lots that differ no more than coins
    do have no finite maximum: the strength ends at `MOST_SURE`. Under four lots: the even start.

    Args:
        lots: Of each past lot, how many came up of how many.

    Raises:
        ValueError: A lot without a seed, or in which more came up than were sown.

    Source:
        Beta-binomial marginal likelihood; checked against Crowder 1978, Appl. Stat. 27: 34-37 (its
        data) and the rat tumour data of Tarone 1982 (from memory).
    """
    if any(not 0 <= up <= of or of < 1 for up, of in lots):
        raise ValueError(f"each lot: 0 or more up, of at least as many seeds; got {lots}")
    if len(lots) < FEWEST_LOTS:
        return EVEN
    up, of = sum(up for up, _ in lots), sum(of for _, of in lots)
    if up in (
        0,
        of,
    ):  # none or all, everywhere: no spread to be seen; one big lot, as sure as may be
        share = (up + 1) / (of + 2)
        return _belief(share, min(of + 2.0, MOST_SURE))
    return LotsSeen(lots).most_likely()


class LotsSeen:
    """The marginal likelihood of past lots, by how many reached each count.

    log B(y + a, n - y + b) - log B(a, b) is the sum of log(a + i) for i < y, log(b + i) for
    i < n - y, less log(a + b + i) for i < n: so its slopes are plain sums, and exact.
    """

    def __init__(self, lots: Sequence[tuple[int, int]]) -> None:
        self.up = _reaching([up for up, _ in lots])
        self.missing = _reaching([of - up for up, of in lots])
        self.sown = _reaching([of for _, of in lots])
        self.share = sum(up for up, _ in lots) / sum(of for _, of in lots)

    def most_likely(self) -> Belief:
        """The maximum: for each strength the best mean, and the strength where the slope is 0."""
        low, high = log(_LEAST_SURE), log(MOST_SURE)
        if self.slope_in_strength(MOST_SURE) >= 0:
            low = high
        elif self.slope_in_strength(_LEAST_SURE) <= 0:
            high = low
        while high - low > 1e-9:
            middle = (low + high) / 2
            if self.slope_in_strength(exp(middle)) > 0:
                low = middle
            else:
                high = middle
        strength = exp((low + high) / 2)
        return _belief(self.best_mean(strength), strength)

    def log_likelihood(self, mean: float, strength: float) -> float:
        """Log of B(y + a, n - y + b) / B(a, b), over all lots: without the ways to draw them."""
        a, b = mean * strength, (1 - mean) * strength
        up = sum(lots * log(a + number) for number, lots in enumerate(self.up))
        missing = sum(lots * log(b + number) for number, lots in enumerate(self.missing))
        sown = sum(lots * log(strength + number) for number, lots in enumerate(self.sown))
        return up + missing - sown

    def best_mean(self, strength: float) -> float:
        """The most likely mean at a strength. The likelihood is concave in it: Newton's steps."""
        mean, low, high = self.share, 0.0, 1.0
        step = inf
        while abs(step) > 1e-12 and high - low > 1e-12:
            slope, bend = self._in_mean(mean, strength)
            low, high = (mean, high) if slope > 0 else (low, mean)
            tried = mean - slope / bend
            if not low < tried < high:
                tried = (low + high) / 2
            step, mean = tried - mean, tried
        return mean

    def _in_mean(self, mean: float, strength: float) -> tuple[float, float]:
        """First and second derivative of the log likelihood in the mean."""
        a, b = mean * strength, (1 - mean) * strength
        slope = bend = 0.0
        for number, lots in enumerate(self.up):
            part = strength / (a + number)
            slope, bend = slope + lots * part, bend - lots * part * part
        for number, lots in enumerate(self.missing):
            part = strength / (b + number)
            slope, bend = slope - lots * part, bend - lots * part * part
        return slope, bend

    def slope_in_strength(self, strength: float) -> float:
        """Slope of the log likelihood in the strength, at the best mean there."""
        mean = self.best_mean(strength)
        a, b = mean * strength, (1 - mean) * strength
        return (
            mean * sum(lots / (a + number) for number, lots in enumerate(self.up))
            + (1 - mean) * sum(lots / (b + number) for number, lots in enumerate(self.missing))
            - sum(lots / (strength + number) for number, lots in enumerate(self.sown))
        )


def _reaching(counts: Sequence[int]) -> list[int]:
    """How many counts lie above each number from 0 to below the largest count."""
    return [sum(count > number for count in counts) for number in range(max(counts))]
