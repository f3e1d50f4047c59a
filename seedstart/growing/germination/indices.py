"""How fast and how evenly a sowing came up, from the counts of its days.

Formulas and their papers: docs/germination.md, and beside each figure in `indices_of`. Most are
over those that came up alone; where the seeds sown are counted in, it is said.
"""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import comb, log2, sqrt
from typing import NamedTuple


class Newly(NamedTuple):
    """What a check found: days since sowing, and how many were new since the check before."""

    day: float
    up: int


def mean_time(found: Sequence[Newly]) -> float | None:
    """Mean time to emergence, sum(n t)/N, days; None where nothing came up.

    Booked at the check: half an interval late on average.
    """
    total = sum(check.up for check in found)
    return sum(check.up * check.day for check in found) / total if total else None


def variance_of_time(found: Sequence[Newly]) -> float | None:
    """Variance of the time, sum n (t - mean)²/(N - 1), days² (Ranal et al. 2009)."""
    mean, total = mean_time(found), sum(check.up for check in found)
    if mean is None or total < 2:
        return None
    return sum(check.up * (check.day - mean) ** 2 for check in found) / (total - 1)


def half_time(found: Sequence[Newly], *, coolbear: bool = False) -> float | None:
    """Days until half of those that came are up, by interpolation between checks.

    Args:
        found: The checks, in order.
        coolbear: Half is (N + 1)/2 (Coolbear et al. 1984); else N/2 (Farooq et al. 2005).

    Returns:
        None where nothing came up. The left end of the first interval is day 0, none up.
    """
    total = sum(check.up for check in found)
    return _day_of(found, (total + 1) / 2 if coolbear else total / 2) if total else None


def half_of_sown(found: Sequence[Newly], seeds: int) -> float | None:
    """Days until half of the seeds sown are up; None where fewer than half ever were."""
    return _day_of(found, seeds / 2)


def _day_of(found: Sequence[Newly], goal: float) -> float | None:
    """The day on which so many are up, on a straight line between checks."""
    up, day = 0, 0.0
    for check in found:
        if up + check.up >= goal and check.up:
            return day + (goal - up) * (check.day - day) / check.up
        up, day = up + check.up, check.day
    return None


def maguire_speed(found: Sequence[Newly]) -> float:
    """Speed of germination, sum(n/t), seeds a day (Maguire 1962)."""
    return sum(check.up / check.day for check in found if check.day > 0)


def synchrony(found: Sequence[Newly]) -> float | None:
    """Share of pairs that came at the same check, 0 to 1; None with fewer than two."""
    total = sum(check.up for check in found)
    return sum(comb(check.up, 2) for check in found) / comb(total, 2) if total >= 2 else None


def uncertainty_bits(found: Sequence[Newly]) -> float | None:
    """Spread over the checks, -sum f log2 f, bits (Labouriau & Valadares 1976)."""
    total = sum(check.up for check in found)
    shares = [check.up / total for check in found if check.up] if total else []
    return sum(-share * log2(share) for share in shares) if shares else None


def melville_index(found: Sequence[Newly], seeds: int) -> float:
    """Germination index, sum((last check - t) n) / seeds, days (Melville et al. 1980)."""
    last = found[-1].day if found else 0.0
    return sum((last - check.day) * check.up for check in found) / seeds


def timson_sum(found: Sequence[Newly], seeds: int) -> float:
    """Sum of the cumulative percentages at the checks (Timson 1965): of daily checks."""
    return sum(100 * up / seeds for up in accumulate(check.up for check in found))


def peak_value(found: Sequence[Newly], seeds: int) -> float:
    """Highest cumulative percentage over its day, % a day (Czabator 1962)."""
    every = zip(found, accumulate(check.up for check in found), strict=True)
    return max((100 * up / seeds / check.day for check, up in every if check.day > 0), default=0.0)


class Index(NamedTuple):
    """A figure of a sowing with what it means.

    Attributes:
        key: Its name in JSON.
        label: What a face calls it.
        value: None where it is not defined: too few came up.
        unit: Of the value.
        formula: n new at day t, N in all, S seeds, c up by then, k the last check.
        source: Whose definition it is.
    """

    key: str
    label: str
    value: float | None
    unit: str
    formula: str
    source: str


_MEMORY = "; formula from memory"


def indices_of(found: Sequence[Newly], seeds: int) -> tuple[Index, ...]:
    """Every figure of the counts of one sowing, or of several that were counted on the same days.

    Args:
        found: The checks in order, those that found nothing new among them.
        seeds: Seeds sown, one at least.

    Raises:
        ValueError: Days that do not rise, or are not above 0; a count below 0; more up than seeds.
    """
    _check(found, seeds)
    return (*_of_how_many(found, seeds), *_of_time(found, seeds), *_of_both(found, seeds))


def _check(found: Sequence[Newly], seeds: int) -> None:
    days = [0.0, *(check.day for check in found)]
    if any(later <= day for day, later in pairwise(days)):
        raise ValueError(f"days that rise from above 0; got {days[1:]}")
    up = sum(check.up for check in found)
    if any(check.up < 0 for check in found) or seeds < 1 or up > seeds:
        raise ValueError(f"0 or more up at each check, of {seeds} seeds at most; got {up}")


def _of_how_many(found: Sequence[Newly], seeds: int) -> tuple[Index, ...]:
    days = [check.day for check in found if check.up]
    up = sum(check.up for check in found)
    first, last = (days[0], days[-1]) if days else (None, None)
    plain = "plain definition"
    return (
        Index("germination_percent", "came up", 100 * up / seeds, "%", "100 N/S", plain),
        Index("first_day", "first", first, "days", "first check with any new", plain),
        Index("last_day", "last", last, "days", "last check with any new", plain),
    )


def _of_time(found: Sequence[Newly], seeds: int) -> tuple[Index, ...]:
    mean, variance = mean_time(found), variance_of_time(found)
    sd = None if variance is None else sqrt(variance)
    cv = 100 * sd / mean if sd is not None and mean else None
    rate = 1 / mean if mean else None
    ranal = "Ranal et al. 2009, Rev Bras Bot 32: 849-855"
    haberlandt = "Haberlandt 1875, Labouriau 1983, as secondary pages cite them"
    farooq, coolbear = half_time(found), half_time(found, coolbear=True)
    kotowski = None if rate is None else 100 * rate
    return (
        Index("mean_time_days", "mean time", mean, "days", "sum(n t)/N", haberlandt),
        Index("time_variance", "variance of time", variance, "days²",
              "sum n (t - mean)²/(N - 1)", ranal),
        Index("time_sd_days", "its root", sd, "days", "root of the variance", ranal),
        Index("time_cv_percent", "variation of time", cv, "%", "100 sd/mean", ranal),
        Index("t50_farooq_2005", "half of those up (Farooq)", farooq, "days",
              "day of N/2, straight between checks",
              "Farooq et al. 2005, J Integr Plant Biol 47: 187-193" + _MEMORY),
        Index("t50_coolbear_1984", "half of those up (Coolbear)", coolbear, "days",
              "day of (N + 1)/2, straight between checks",
              "Coolbear et al. 1984, J Exp Bot 35: 1609-1617" + _MEMORY),
        Index("t50_of_sown", "half of the seeds sown", half_of_sown(found, seeds), "days",
              "day of S/2, straight between checks", "our own reading"),
        Index("mean_rate", "mean rate", rate, "a day", "1/mean time", ranal),
        Index("velocity_kotowski_1926", "coefficient of velocity", kotowski, "% a day",
              "100/mean time", "Kotowski 1926" + _MEMORY),
    )  # fmt: skip


def _of_both(found: Sequence[Newly], seeds: int) -> tuple[Index, ...]:
    up = sum(check.up for check in found)
    peak = peak_value(found, seeds)
    mean_daily = 100 * up / seeds / found[-1].day if found else 0.0
    czabator = "Czabator 1962, For Sci 8: 386-396"
    return (
        Index("speed_maguire_1962", "speed", maguire_speed(found), "seeds a day", "sum(n/t)",
              "Maguire 1962, Crop Sci 2: 176-177"),
        Index("index_melville_1980", "germination index", melville_index(found, seeds), "days",
              "sum((k - t) n)/S", "Melville et al. 1980" + _MEMORY),
        Index("sum_timson_1965", "sum of percentages", timson_sum(found, seeds), "% checks",
              "sum of 100 c/S at the checks", "Timson 1965, Nature 207: 216-217" + _MEMORY),
        Index("synchrony_primack_1985", "synchrony", synchrony(found), "0 to 1",
              "pairs of one check over all pairs", "adapted from Primack" + _MEMORY),
        Index("uncertainty_labouriau_1983", "uncertainty", uncertainty_bits(found), "bits",
              "-sum f log2 f, f = n/N", "Labouriau & Valadares 1976" + _MEMORY),
        Index("peak_czabator_1962", "peak value", peak, "% a day", "highest 100 c/(S t)",
              czabator),
        Index("mean_daily_czabator_1962", "mean daily germination", mean_daily, "% a day",
              "100 N/(S k)", czabator),
        Index("value_czabator_1962", "germination value", peak * mean_daily, "(% a day)²",
              "peak value × mean daily germination", czabator),
    )  # fmt: skip
