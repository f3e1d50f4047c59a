"""The likelihood of counts between looks, and its maximum.

What a look finds came up in (last look, this look]; what is not up at the last look may come later
or never. Each group has a share that comes, d, and a middle; one scale is common to all groups:

    F(t) = d G((ln t - middle) / scale)

Grouped likelihood: the sum of n log(F(by) - F(after)), and of m log(1 - F(after)) for what never
came. Newton's steps with exact derivatives, damped where the likelihood does not rise. Plain
Python: a few dozen looks cost milliseconds.
"""

from collections.abc import Sequence
from math import exp, inf, log, sqrt
from typing import Final, NamedTuple

from seedstart.growing.germination.curve_families import Family

# A share nearer to all than this is at its bound: the likelihood is flat there.
_AT_BOUND: Final = 9.0  # logit: 0.9999
# From here on the bound itself is tried first: the way to it is long.
_NEAR_BOUND: Final = 5.0
_MOST_STEPS: Final = 200
_SMALL: Final = 1e-300
_FLAT: Final = 1e-12  # no step promises more than this
_LARGEST_STEP: Final = 2.0
_MOST_DAMPING: Final = 1e12

Matrix = list[list[float]]


class Between(NamedTuple):
    """Seeds that came up between two looks.

    Attributes:
        after: The look before, in days (or in whatever time is counted in); 0 is the sowing.
        by: The look that found them; infinite for those that were not up at the last one.
        seeds: How many.
    """

    after: float
    by: float
    seeds: int


class Fitted(NamedTuple):
    """Where the likelihood is highest.

    Attributes:
        scale_log: Log of the scale, common to all groups.
        middles: Of each group, on the log of time.
        shares: Logit of each group's share that comes; infinite where it is at its bound, 1.
        log_likelihood: The sum of n log p.
        covariance: Of scale_log, the middles (one where they are common), the free shares in order.
        parameters: How many were free.
        converged: Whether the likelihood is flat there, and falls to all sides.
    """

    scale_log: float
    middles: tuple[float, ...]
    shares: tuple[float, ...]
    log_likelihood: float
    covariance: Matrix
    parameters: int
    converged: bool


def fit_groups(
    groups: Sequence[Sequence[Between]],
    family: Family,
    *,
    one_middle: bool = False,
    all_come: bool = False,
) -> Fitted:
    """The most likely curve of each group, with one scale.

    Args:
        groups: What was seen of each; three looks with something new in all of them together.
        family: The shape.
        one_middle: All groups have the same middle: the same speed.
        all_come: The share is 1 in every group, and not estimated.

    Source:
        Ritz, Pipper & Streibig 2013, Eur J Agron 45: 1-6; Onofri et al. 2011, Weed Res 51: 516-524
        (the model with a share that never comes), as later pages quote them.
    """
    bound = [
        all_come or all(batch.by < inf or not batch.seeds for batch in seen) for seen in groups
    ]
    for near in (_NEAR_BOUND, _AT_BOUND):
        likelihood = _Likelihood(groups, family, bound, one_middle=one_middle)
        found = likelihood.climb(near)
        beyond = likelihood.beyond(found.values, near)
        if not beyond:
            return likelihood.as_fitted(found)
        tried = [was or number in beyond for number, was in enumerate(bound)]
        likelihood = _Likelihood(groups, family, tried, one_middle=one_middle)
        at_bound = likelihood.climb(near)
        if at_bound.log_likelihood >= found.log_likelihood:
            bound = tried
            if not likelihood.beyond(at_bound.values, near):
                return likelihood.as_fitted(at_bound)
    return likelihood.as_fitted(at_bound)


class _Climb(NamedTuple):
    values: list[float]
    log_likelihood: float
    curvature: Matrix  # minus the second derivatives
    converged: bool


class _Likelihood:
    """The likelihood over: log scale; middles; logits of the shares that are not at their bound."""

    def __init__(
        self,
        groups: Sequence[Sequence[Between]],
        family: Family,
        bound: Sequence[bool],
        *,
        one_middle: bool,
    ) -> None:
        self.groups = [[batch for batch in seen if batch.seeds] for seen in groups]
        self.family = family
        self.middle_at = [1 if one_middle else 1 + number for number in range(len(groups))]
        size = 1 + max(self.middle_at)
        self.share_at: list[int | None] = []
        for is_bound in bound:
            self.share_at.append(None if is_bound else size)
            size += not is_bound
        self.size = size

    def beyond(self, values: Sequence[float], near: float) -> list[int]:
        """The groups whose share came that near to its bound."""
        places = enumerate(self.share_at)
        return [number for number, at in places if at is not None and values[at] > near]

    def climb(self, near: float) -> _Climb:
        """Newton's steps from the moments of what was seen; they end near a share's bound."""
        values = self._start()
        here, slope, curvature = self.at(values)
        damping = 1e-3
        for _ in range(_MOST_STEPS):
            step = _solved(_damped(curvature, damping), slope)
            if step is not None and _gain(slope, step) < _FLAT:
                break
            tried = None if step is None else _plus(values, step)
            there = -inf if tried is None else self.at(tried)[0]
            if tried is not None and there > here:
                damping = max(damping / 10, 1e-12)
                values = tried
                here, slope, curvature = self.at(values)
            elif damping > _MOST_DAMPING:
                break
            else:
                damping *= 10
            if self.beyond(values, near):
                break
        flat = max(map(abs, slope)) < 1e-3 * max(1.0, abs(here))
        return _Climb(values, here, curvature, flat and _inverted(curvature) is not None)

    def _start(self) -> list[float]:
        values = [0.0] * self.size
        logs = [
            [(log((max(batch.after, batch.by / 4) + batch.by) / 2), batch.seeds) for batch in seen
             if batch.by < inf]
            for seen in self.groups
        ]  # fmt: skip
        pooled = [batch for group in logs for batch in group]
        mean = _mean(pooled)
        spread = [(value - _mean(group)) ** 2 * seeds for group in logs for value, seeds in group]
        sd = max(sqrt(sum(spread) / sum(seeds for _, seeds in pooled)), 0.03)
        scale = sd / self.family.sd
        values[0] = log(scale)
        one_middle = len(set(self.middle_at)) < len(self.middle_at)
        for number, seen in enumerate(self.groups):
            own = mean if one_middle or not logs[number] else _mean(logs[number])
            values[self.middle_at[number]] = own - self.family.mean * scale
            at = self.share_at[number]
            if at is not None:
                up, of = sum(seeds for _, seeds in logs[number]), sum(batch.seeds for batch in seen)
                values[at] = log((up + 0.5) / (of - up + 0.5))
        return values

    def at(self, values: Sequence[float]) -> tuple[float, list[float], Matrix]:
        """The likelihood, its slopes, and minus its second derivatives."""
        total = 0.0
        slope = [0.0] * self.size
        curvature = [[0.0] * self.size for _ in range(self.size)]
        scale = exp(values[0])
        for number, seen in enumerate(self.groups):
            middle, share_at = values[self.middle_at[number]], self.share_at[number]
            share = 1.0 if share_at is None else 1 / (1 + exp(-values[share_at]))
            parts = [0, self.middle_at[number], *([] if share_at is None else [share_at])]
            for batch in seen:
                chance, first, second = self._chance(batch, middle, scale, share)
                total += batch.seeds * log(chance)
                for i, part in enumerate(parts):
                    by_first = batch.seeds * first[i] / chance
                    slope[part] += by_first
                    for j, other in enumerate(parts):
                        bend = by_first * first[j] / chance - batch.seeds * second[i][j] / chance
                        curvature[part][other] += bend
        return total, slope, curvature

    def _chance(
        self, batch: Between, middle: float, scale: float, share: float
    ) -> tuple[float, tuple[float, ...], Matrix]:
        """The chance of one batch, with derivatives by log scale, middle and logit of the share."""
        early = self._by(batch.after, middle, scale)
        if batch.by == inf:  # 1 - share G(after)
            came, sign, chance = early.up, -1.0, 1 - share + share * early.left
            slopes = early.slopes
        else:
            late = self._by(batch.by, middle, scale)
            came = late.up - early.up if early.up < 0.5 else early.left - late.left
            sign, chance = 1.0, share * came
            slopes = tuple(b - a for a, b in zip(early.slopes, late.slopes, strict=True))
        in_scale, in_middle, *bends = slopes
        rise = sign * share
        logit = rise * (1 - share)
        first = (rise * in_scale, rise * in_middle, logit * came)
        second = [
            [rise * bends[0], rise * bends[1], logit * in_scale],
            [rise * bends[1], rise * bends[2], logit * in_middle],
            [logit * in_scale, logit * in_middle, logit * (1 - 2 * share) * came],
        ]
        return max(chance, _SMALL), first, second

    def _by(self, time: float, middle: float, scale: float) -> "_Up":
        """What is up by a time."""
        if time <= 0:
            return _NONE_UP
        z = (log(time) - middle) / scale
        shape = self.family.at(z)
        density, bend = shape.density, shape.bend
        slopes = (
            -z * density,
            -density / scale,
            z * density + z * z * bend,
            (density + z * bend) / scale,
            bend / (scale * scale),
        )
        return _Up(shape.up, shape.left, slopes)

    def as_fitted(self, found: _Climb) -> Fitted:
        """The maximum in its parts."""
        values = found.values
        return Fitted(
            values[0],
            tuple(values[at] for at in self.middle_at),
            tuple(inf if at is None else values[at] for at in self.share_at),
            found.log_likelihood,
            _inverted(found.curvature) or [],
            self.size,
            found.converged,
        )


class _Up(NamedTuple):
    """G and 1 - G; and by log scale, by middle, and twice: scale, both, middle."""

    up: float
    left: float
    slopes: tuple[float, ...]


_NONE_UP: Final = _Up(0.0, 1.0, (0.0,) * 5)


def _mean(weighed: Sequence[tuple[float, int]]) -> float:
    return sum(value * seeds for value, seeds in weighed) / sum(seeds for _, seeds in weighed)


def _plus(values: Sequence[float], step: Sequence[float]) -> list[float]:
    longest = max(map(abs, step))
    short = min(1.0, _LARGEST_STEP / longest) if longest else 1.0
    return [value + short * by for value, by in zip(values, step, strict=True)]


def _gain(slope: Sequence[float], step: Sequence[float]) -> float:
    """How much higher the likelihood should be after a step."""
    return sum(rise * by for rise, by in zip(slope, step, strict=True)) / 2


def _damped(curvature: Matrix, damping: float) -> Matrix:
    return [
        [value + (damping * max(abs(row[i]), 1e-3) if i == j else 0.0) for j, value in
         enumerate(row)]
        for i, row in enumerate(curvature)
    ]  # fmt: skip


def _solved(matrix: Matrix, right: Sequence[float]) -> list[float] | None:
    """The solution of a symmetric positive definite system (Cholesky); None where it is not."""
    lower = _cholesky(matrix)
    return None if lower is None else _by_factor(lower, right)


def _inverted(matrix: Matrix) -> Matrix | None:
    lower = _cholesky(matrix)
    if lower is None:
        return None
    size = len(matrix)
    return [_by_factor(lower, [float(i == j) for i in range(size)]) for j in range(size)]


def _cholesky(matrix: Matrix) -> Matrix | None:
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            if i != j:
                lower[i][j] = rest / lower[j][j]
            elif rest <= 0:
                return None
            else:
                lower[i][i] = sqrt(rest)
    return lower


def _by_factor(lower: Matrix, right: Sequence[float]) -> list[float]:
    size = len(lower)
    half: list[float] = []
    for i in range(size):
        half.append((right[i] - sum(lower[i][k] * half[k] for k in range(i))) / lower[i][i])
    found = [0.0] * size
    for i in reversed(range(size)):
        rest = sum(lower[k][i] * found[k] for k in range(i + 1, size))
        found[i] = (half[i] - rest) / lower[i][i]
    return found
