"""How fast a lot of seed ages, from two tests of its own: no constants of a species.

The share that germinates falls along a straight line in probits: v = Ki - p / sigma after p days.
Constants by species, moisture and temperature are printed, but for few kinds; and what they promise
disagrees with trials: onion seed fell to half within 24 months (Demir et al. 2016, Acta Hort 1143:
341-344) where they promise 80. So nothing is said of a lot that was tested once.
"""

from datetime import date
from statistics import NormalDist
from typing import NamedTuple


class Ageing(NamedTuple):
    """The line of a lot.

    Attributes:
        from_day: The day of the first test.
        start: Ki: the share on that day, as a normal equivalent deviate.
        sigma_days: Days in which it falls by one deviate.
    """

    from_day: date
    start: float
    sigma_days: float

    def share_on(self, day: date) -> float:
        """Share that is expected to germinate on a day, 0 to 1."""
        return share_after(self.start, self.sigma_days, (day - self.from_day).days)

    @property
    def half_life_days(self) -> float:
        """Days from the first test until half germinates; below 0 where it is under half."""
        return self.start * self.sigma_days


def share_after(start: float, sigma_days: float, days: float) -> float:
    """Share that germinates after so many days in store, 0 to 1.

    Source:
        Ellis & Roberts 1980, Ann Bot 45: 13-30, v = Ki - p/sigma, in normal equivalent deviates.
    """
    return NormalDist().cdf(start - days / sigma_days)


def ageing(first: tuple[date, int, int], second: tuple[date, int, int]) -> Ageing | None:
    """The line through two tests of a lot.

    Args:
        first, second: Day, normal seedlings, seeds; in order of the days.

    Returns:
        None where they give none: one day, no less in the second, or all or none in either.
    """
    (early, up_a, of_a), (late, up_b, of_b) = first, second
    days = (late - early).days
    if days <= 0 or not 0 < up_a < of_a or not 0 < up_b < of_b or up_b * of_a >= up_a * of_b:
        return None
    normal = NormalDist()
    start, end = normal.inv_cdf(up_a / of_a), normal.inv_cdf(up_b / of_b)
    return Ageing(early, start, days / (start - end))
