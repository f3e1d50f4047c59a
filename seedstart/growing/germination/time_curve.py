"""The time curve of a sowing: what share comes, how fast, and how sure both are.

Seeds that are not up are no seeds that came late, and none that never will: the curve has a share
that comes. T50 of those that come and T50 of the seeds sown are different figures; the second does
not exist where fewer than half ever come.
"""

from collections.abc import Sequence
from math import exp, inf, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination.curve_families import FAMILIES, Family
from seedstart.growing.germination.curve_fit import Between, Fitted, fit_groups
from seedstart.growing.germination.indices import Newly

# Fewer looks that found something new leave a curve no one scale.
FEWEST_LOOKS: Final = 3
# A scale on the log of time as small as this: all up at once, between two looks.
_TOO_STEEP: Final = 0.005
_TWO_SIDED_95: Final = 1.959964


class NoFit(NamedTuple):
    """Why no curve is fitted: the end of a sentence."""

    why: str


class Time(NamedTuple):
    """A time with its 95 % interval, in the unit of the looks.

    Attributes:
        best: The most likely one.
        low, high: By the standard error on the log of time.
        se: Standard error, by the delta method.
    """

    best: float
    low: float
    high: float
    se: float


class TimeCurve(NamedTuple):
    """The curve F(t) = share G((ln t - middle) / scale).

    Attributes:
        family: Its shape.
        fitted: The maximum of the likelihood, of one group.
        seeds: How many it rests on.
        aic: 2 × 3 parameters - 2 log likelihood; a share at its bound counts as one all the same.
    """

    family: Family
    fitted: Fitted
    seeds: int
    aic: float

    @property
    def log_likelihood(self) -> float:
        """The sum of n log p."""
        return self.fitted.log_likelihood

    @property
    def share(self) -> float:
        """Share of the seeds that comes at all, 0 to 1."""
        logit = self.fitted.shares[0]
        return 1.0 if logit == inf else 1 / (1 + exp(-logit))

    @property
    def at_bound(self) -> bool:
        """Whether the share is all of them: then it has no standard error."""
        return self.fitted.shares[0] == inf

    @property
    def share_se(self) -> float | None:
        """Standard error of the share; None at its bound."""
        if self.at_bound:
            return None
        return self.share * (1 - self.share) * sqrt(self.fitted.covariance[2][2])

    @property
    def share_ends(self) -> tuple[float, float] | None:
        """95 % interval of the share, by the standard error of its logit; None at its bound."""
        if self.at_bound:
            return None
        logit, half = self.fitted.shares[0], _TWO_SIDED_95 * sqrt(self.fitted.covariance[2][2])
        return 1 / (1 + exp(half - logit)), 1 / (1 + exp(-half - logit))

    @property
    def slope(self) -> float:
        """1 / scale: b of a log-logistic or a Weibull curve."""
        return exp(-self.fitted.scale_log)

    @property
    def slope_se(self) -> float:
        """Its standard error."""
        return self.slope * sqrt(self.fitted.covariance[0][0])

    def up_by(self, time: float) -> float:
        """Share of the seeds sown that is up by a time, 0 to 1."""
        if time <= 0:
            return 0.0
        z = (log(time) - self.fitted.middles[0]) * self.slope
        return self.share * self.family.at(z).up

    def time_to(self, part: float) -> Time:
        """When a part, above 0 and below 1, of those that come is up."""
        z, scale = self.family.quantile(part), exp(self.fitted.scale_log)
        return self._time(z, (z * scale, 1.0))

    def time_to_of_sown(self, part: float) -> Time | None:
        """When a part of the seeds sown is up; None where that many never come."""
        if part >= self.share:
            return None
        ratio, scale = part / self.share, exp(self.fitted.scale_log)
        z = self.family.quantile(ratio)
        if self.at_bound:
            return self._time(z, (z * scale, 1.0))
        # d ratio / d logit = -ratio (1 - share); dz / d ratio = 1 / density
        by_logit = -scale * ratio * (1 - self.share) / self.family.at(z).density
        return self._time(z, (z * scale, 1.0, by_logit))

    def _time(self, z: float, slopes: tuple[float, ...]) -> Time:
        best = exp(self.fitted.middles[0] + z * exp(self.fitted.scale_log))
        covariance = self.fitted.covariance
        variance = sum(
            one * other * covariance[i][j]
            for i, one in enumerate(slopes)
            for j, other in enumerate(slopes)
        )
        log_se = sqrt(max(variance, 0.0))
        half = _TWO_SIDED_95 * log_se
        return Time(best, best * exp(-half), best * exp(min(half, 700.0)), best * log_se)


def between_looks(found: Sequence[Newly], seeds: int) -> tuple[Between, ...]:
    """What looks found, as seeds that came up between them; the rest is not up at the last one.

    Args:
        found: The looks in order, those that found nothing new among them.
        seeds: Seeds sown.
    """
    days = [0.0, *(newly.day for newly in found)]
    up = sum(newly.up for newly in found)
    batches = [Between(day, one.day, one.up) for day, one in zip(days, found, strict=False)]
    return (*batches, Between(days[-1], inf, seeds - up))


def time_curve(
    seen: Sequence[Between], families: Sequence[Family] = FAMILIES
) -> tuple[TimeCurve, ...] | NoFit:
    """The curve of what was seen, in each shape, the best first (lowest AIC).

    Args:
        seen: Seeds by the looks between which they came up; of several trays together.
        families: The shapes to try.

    Returns:
        The curves; or why the data cannot carry one.
    """
    if why := _why_none(seen):
        return NoFit(why)
    curves = []
    for family in families:
        fitted = fit_groups([seen], family)
        if fitted.converged and exp(fitted.scale_log) > _TOO_STEEP:
            seeds = sum(batch.seeds for batch in seen)
            curves.append(TimeCurve(family, fitted, seeds, 6 - 2 * fitted.log_likelihood))
    if not curves:
        return NoFit("no curve fits better than all the others: too little is known of the days")
    return tuple(sorted(curves, key=lambda curve: curve.aic))


def _why_none(seen: Sequence[Between]) -> str:
    up = [batch for batch in seen if batch.seeds and batch.by < inf]
    looks = {batch.by for batch in up}
    if not up:
        return "none came up"
    if len(looks) == 1:
        return "all that came up were found at one look"
    if len(looks) < FEWEST_LOOKS:
        return f"only {len(looks)} looks found any new: a curve needs {FEWEST_LOOKS}"
    return ""
