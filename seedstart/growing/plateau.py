"""How much is enough: responses that rise or fall and then level off, and whether they do at all.

Published fits of such curves often sit in a local minimum (the least squares over the join have
several), so the join is searched over its whole range; for a fixed join the rest is a straight
line. Intervals are profiles: all joins that fit about as well. Wald's are not used, the authors of
published fits themselves call them unreliable. numpy is imported inside.
"""

from collections.abc import Callable, Mapping, Sequence
from math import inf, isfinite, log
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from msgspec import Struct

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Array = NDArray[float64]

Model = Literal["linear plateau", "quadratic plateau", "straight line", "no effect"]
PLATEAUS: Final[tuple[Model, ...]] = ("linear plateau", "quadratic plateau")
_GRID: Final = 1500
_FAR: Final = 4.0  # a quadratic join is looked for so many ranges beyond the largest x
# A model is preferred where its AIC is lower by this (Burnham & Anderson 2002, from memory).
BETTER_BY: Final = 2.0


class Fit(Struct, frozen=True):
    """One model, fitted.

    Attributes:
        model: Which.
        sse: Sum of squares of what it misses by.
        parameters: Of its curve; its scatter is one more.
        aicc: Akaike's criterion with the correction for small samples (Hurvich & Tsai 1989).
        intercept: At x = 0.
        slope: At x = 0; 0 of no effect.
        join: Where it levels off; None of the models that do not.
        low, high: Interval of the join; -inf or inf where the data set no end.
    """

    model: Model
    sse: float
    parameters: int
    aicc: float
    intercept: float
    slope: float
    join: float | None = None
    low: float = -inf
    high: float = inf

    @property
    def plateau(self) -> float | None:
        """The level that it comes to."""
        if self.join is None:
            return None
        half = 2 if self.model == "quadratic plateau" else 1
        return self.intercept + self.slope * self.join / half

    def at(self, x: float) -> float:
        """The curve at x."""
        if self.join is None:
            return self.intercept + self.slope * x
        z = min(x, self.join)
        bend = z * z / (2 * self.join) if self.model == "quadratic plateau" else 0.0
        return self.intercept + self.slope * (z - bend)


class Response(Struct, frozen=True):
    """All models of one response, the best first, and what may be said of it.

    Attributes:
        fits: By lowest AICc first.
        why_none: Why no plateau is claimed; empty where one is.
    """

    fits: tuple[Fit, ...]
    why_none: str = ""

    def of(self, model: Model) -> Fit:
        """One of the models."""
        return next(fit for fit in self.fits if fit.model == model)

    @property
    def plateau(self) -> Fit | None:
        """The plateau that is claimed; None where the data do not show one."""
        if self.why_none:
            return None
        return next(fit for fit in self.fits if fit.model in PLATEAUS)


def fit_plateau(x: Sequence[float], y: Sequence[float], model: Model, level: float = 0.95) -> Fit:
    """A plateau by least squares, searched over all joins, with the profile interval of the join.

    Args:
        x: Doses.
        y: Responses, one each.
        model: One of the two plateaus.
        level: Of the interval.

    Raises:
        ValueError: Fewer than four points, or fewer than three different doses.

    Source:
        SSE(j) ≤ SSE_min (1 + F(level; 1, n-3)/(n-3)); checked against published data.
    """
    import numpy as np
    from scipy.optimize import minimize_scalar
    from scipy.stats import f as f_distribution

    xs, ys = np.asarray(x, float), np.asarray(y, float)
    doses = np.unique(xs)
    if len(xs) < 4 or len(doses) < 3:
        raise ValueError("at least four points at three different doses")
    joins = _joins(doses, model)
    profile = _sse_by_join(joins, xs, ys, model)

    def sse(join: float) -> float:
        return float(_sse_by_join(np.array([join]), xs, ys, model)[0])

    best = (inf, 0.0)
    for number in np.argsort(profile)[:8]:  # the global minimum lies beside one of the lowest
        around = joins[max(number - 1, 0)], joins[min(number + 1, len(joins) - 1)]
        found = minimize_scalar(sse, bounds=around, method="bounded", options={"xatol": 1e-9})
        best = min(best, (float(profile[number]), float(joins[number])))
        best = min(best, (float(found.fun), float(found.x)))
    least, join = best
    free = len(xs) - 3
    cut = least * (1 + float(f_distribution.ppf(level, 1, free)) / free) + 1e-12
    low, high = _ends(joins, profile, cut, sse, join)
    if model == "linear plateau" and high >= doses[-1]:
        high = inf  # from the largest dose on it is the straight line
    intercept, slope = _line(join, xs, ys, model)
    return Fit(model, least, 3, _aicc(least, len(xs), 3), intercept, slope, join, low, high)


def _joins(doses: "Array", model: Model) -> "Array":
    """Joins that are looked at: a fine grid, and the doses themselves, where there are kinks."""
    import numpy as np

    first, last = float(doses[0]), float(doses[-1])
    begin = first + (last - first) * 1e-3
    grid = np.linspace(begin, last, _GRID)
    parts = [grid, doses[doses > begin]]
    if model == "quadratic plateau":
        parts.append(np.linspace(last, last + _FAR * (last - first), _GRID))
    return np.unique(np.concatenate(parts))


def _z(joins: "Array", x: "Array", model: Model) -> "Array":
    """What the response is a straight line of, a row a join."""
    import numpy as np

    z = np.minimum(x[None, :], joins[:, None])
    return z - z * z / (2 * joins[:, None]) if model == "quadratic plateau" else z


def _sse_by_join(joins: "Array", x: "Array", y: "Array", model: Model) -> "Array":
    z = _z(joins, x, model)
    z = z - z.mean(axis=1, keepdims=True)
    off = y - y.mean()
    squares = (z * z).sum(axis=1)
    explained = (z @ off) ** 2 / squares
    left: Array = (off @ off) - explained
    return left.clip(min=0.0)


def _line(join: float, x: "Array", y: "Array", model: Model) -> tuple[float, float]:
    import numpy as np

    (z,) = _z(np.array([join]), x, model)
    slope = float(((z - z.mean()) * (y - y.mean())).sum() / ((z - z.mean()) ** 2).sum())
    return float(y.mean() - slope * z.mean()), slope


def _ends(
    joins: "Array", profile: "Array", cut: float, sse: Callable[[float], float], join: float
) -> tuple[float, float]:
    """The outermost joins that fit about as well; an open end where the range ends before."""
    within = [float(one) for one, value in zip(joins, profile, strict=True) if value <= cut]
    first, last = min([*within, join]), max([*within, join])
    before, after = joins[joins < first], joins[joins > last]
    low = _crossing(sse, cut, first, float(before[-1])) if len(before) else -inf
    high = _crossing(sse, cut, last, float(after[0])) if len(after) else inf
    return low, high


def _crossing(sse: Callable[[float], float], cut: float, inside: float, outside: float) -> float:
    """Where the profile passes the cut, between a join within it and one beyond."""
    from scipy.optimize import brentq

    if sse(inside) >= cut:
        return inside
    return float(brentq(lambda join: sse(join) - cut, inside, outside))


def _aicc(sse: float, n: int, parameters: int) -> float:
    """Akaike's criterion, corrected for few points; inf where they are too few for the model."""
    k = parameters + 1
    if n - k - 1 <= 0:
        return inf
    return n * log(max(sse, 1e-12) / n) + 2 * k + 2 * k * (k + 1) / (n - k - 1)


def _simple(x: Sequence[float], y: Sequence[float]) -> list[Fit]:
    n, mean_x, mean_y = len(x), sum(x) / len(x), sum(y) / len(y)
    sxx = sum((one - mean_x) ** 2 for one in x)
    sxy = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True))
    syy = sum((one - mean_y) ** 2 for one in y)
    slope = sxy / sxx if sxx else 0.0
    line = max(syy - slope * sxy, 0.0)
    return [
        Fit("straight line", line, 2, _aicc(line, n, 2), mean_y - slope * mean_x, slope),
        Fit("no effect", syy, 1, _aicc(syy, n, 1), mean_y, 0.0),
    ]


def response(x: Sequence[float], y: Sequence[float], level: float = 0.95) -> Response:
    """All models of a response to a dose, and whether it levels off within the doses tried.

    A plateau is claimed where one of its models is better than the straight line and than no effect
    by 2 in AICc, and the interval of its join leaves two levels or more beyond it.

    Raises:
        ValueError: x and y differ in length, or are empty.
    """
    if len(x) != len(y) or not x:
        raise ValueError("as many doses as responses, and some")
    fits = _simple(x, y)
    if len(x) >= 5 and len(set(x)) >= 3:
        fits += [fit_plateau(x, y, model, level) for model in PLATEAUS]
    ranked = tuple(sorted(fits, key=lambda fit: fit.aicc))
    return Response(ranked, _why_none(ranked, x))


def _why_none(fits: Sequence[Fit], x: Sequence[float]) -> str:
    if len(set(x)) < 3:
        return "fewer than three levels"
    plateau = next((fit for fit in fits if fit.model in PLATEAUS), None)
    if plateau is None or not isfinite(plateau.aicc):
        return "too few to fit it"
    others = [fit for fit in fits if fit.model not in PLATEAUS]
    rival = min(others, key=lambda fit: fit.aicc)
    if plateau.aicc > rival.aicc - BETTER_BY:
        return (
            "no effect of the dose is shown"
            if rival.model == "no effect"
            else "a straight line does as well"
        )
    if not isfinite(plateau.high) or plateau.high >= max(x):
        return "it may level off beyond the highest level tried"
    if plateau.high > sorted(set(x))[-2]:  # one level alone makes any curve look level
        return "only the highest level may lie where it is level"
    if not isfinite(plateau.low):
        return "it may level off below the second level already"
    return ""


class Apart(NamedTuple):
    """Whether groups differ in their response: an F test of models within each other.

    Attributes:
        statistic: F.
        df: Degrees of freedom of the numerator and the denominator.
        p: Probability of so much or more by chance alone.
    """

    statistic: float
    df: tuple[int, int]
    p: float


def varieties_apart(
    groups: Mapping[str, tuple[Sequence[float], Sequence[float]]],
    model: Model,
    *,
    join_only: bool,
) -> Apart | None:
    """Whether varieties need curves of their own, or joins of their own.

    Args:
        groups: Doses and responses of each.
        model: One of the plateaus.
        join_only: Compare curves of their own with such as share their join alone; else with one
            curve for all.

    Returns:
        None with one group, or too few points.

    Source:
        Extra sum of squares: F = ((SSE_r - SSE_f)/(df_r - df_f)) / (SSE_f/df_f).
    """
    import numpy as np
    from scipy.stats import f as f_distribution

    each = [(np.asarray(x, float), np.asarray(y, float)) for x, y in groups.values()]
    if len(each) < 2 or any(len(x) < 4 or len(np.unique(x)) < 3 for x, _ in each):
        return None
    number, many = sum(len(x) for x, _ in each), len(each)
    full = sum(fit_plateau(list(x), list(y), model).sse for x, y in each)
    if join_only:
        joins = _joins(np.unique(np.concatenate([x for x, _ in each])), model)
        second = max(float(np.unique(x)[0]) for x, _ in each)
        joins = joins[joins > second]
        reduced = float(sum(_sse_by_join(joins, x, y, model) for x, y in each).min())  # type: ignore[union-attr]
        more = many - 1
    else:
        x = np.concatenate([one for one, _ in each])
        y = np.concatenate([one for _, one in each])
        reduced = fit_plateau(list(x), list(y), model).sse
        more = 3 * (many - 1)
    free = number - 3 * many
    if free < 1 or full <= 0:
        return None
    statistic = max((reduced - full) / more, 0.0) / (full / free)
    return Apart(statistic, (more, free), float(f_distribution.sf(statistic, more, free)))
