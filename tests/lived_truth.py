"""What seed, seedlings and weather of a lived season do, whatever anybody thinks of them.

All of it is invented and drawn from a seed: no figure here is known of real plants. What crops do
at a temperature is taken from the crop table: a lived season judges the round, not the table.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from math import exp, pi, sin
from random import Random
from typing import Final

from seedstart.crop_table.crop import Crop
from seedstart.planning.calendar.crop_times import rate_curve
from seedstart.units import Temperatures

POOR, DEAD = 1 / 20, 1 / 30
LOST_AT_PRICKING_OUT: Final = 0.05
KILLED_BY_FROST: Final = 0.8
FRAME_KEEPS_C: Final = 3.0  # above the night outside
COVER_KEEPS_C: Final = 2.5  # fleece, likewise
_HEARD_OFF_C: Final = 1.0
_FROST_IS_DUE_C: Final = 1.0  # whoever hears of less takes the plants in
_LEAF_FROM_C: Final = 10.0  # days below it do not count to the first true leaf
_MAT_ROOM_C: Final = 17.0
_FRIDGE_C: Final = 4.0
_DAY = timedelta(days=1)


class Weather:
    """Days and nights outdoors around one average last frost: after it half of the years freeze."""

    def __init__(self, frost: date, draw: Random) -> None:
        self._frost, self._draw, self._nights = frost, draw, dict[date, tuple[float, float]]()
        self._last = 0.0

    def night_c(self, day: date) -> float:
        """The lowest of the night that begins on that day, °C."""
        return self._night(day)[0]

    def frost_is_due(self, day: date) -> bool:
        """What a thermometer at dusk and the radio say of that night, which is not always so."""
        return self._night(day)[1] <= _FROST_IS_DUE_C

    def _night(self, day: date) -> tuple[float, float]:
        while day not in self._nights:
            next_ = max(self._nights, default=day - _DAY) + _DAY
            self._last = 0.5 * self._last + self._draw.gauss(0, 2.2)
            night = 3.6 + 0.12 * (next_ - self._frost).days + self._last
            self._nights[next_] = night, night + self._draw.gauss(0, _HEARD_OFF_C)
        return self._nights[day]

    def mean_c(self, day: date) -> float:
        """The mean of the day, °C."""
        return self.night_c(day) + 4.5 + 1.5 * sin(day.toordinal() * pi / 5)


class Bench:
    """How warm the medium at each station really is."""

    def __init__(
        self, planned: dict[str, Temperatures | None], weather: Weather, draw: Random
    ) -> None:
        self._weather, self._off = weather, {name: draw.gauss(0, 1) for name in planned}
        self._planned = planned
        self.dead_mat: str | None = None

    def c(self, station: str | None, day: date, kind: str) -> float:
        """The mean of the medium on that day, °C."""
        planned = self._planned.get(station or "")
        if kind == "outdoors" or station is None:
            return self._weather.mean_c(day)
        if kind == "frame":
            return self._weather.mean_c(day) + FRAME_KEEPS_C
        if station == self.dead_mat:
            return _MAT_ROOM_C
        return (planned.mean_c if planned else _FRIDGE_C) + self._off[station]


class Plants:
    """Seeds or plants that are one sowing, as they really are.

    Attributes:
        to_come: Warmth that each seed still waits for, as shares of the crop's days; the dead none.
        leaf: Of each seedling, the warm days that it still wants to its first true leaf.
    """

    def __init__(self, crop: Crop, to_come: Iterable[float], leaf: Iterable[float] = ()) -> None:
        self.crop, self.to_come, self.leaf = crop, sorted(to_come), list(leaf)
        self.days = 0.0

    def live(self, c: float, draw: Random) -> None:
        """One day at a mean temperature."""
        self.days += rate_curve(self.crop).rate(c)
        if c >= _LEAF_FROM_C:
            self.leaf = [left - 1 for left in self.leaf]
        while self.to_come and self.to_come[0] <= self.days:
            self.to_come.pop(0)
            self.leaf.append(draw.uniform(6.5, 11))

    def freeze(self, night_c: float, draw: Random) -> int:
        """A night at that; how many it kills."""
        before = len(self.leaf)
        if night_c < hardy_to_c(self.crop):
            self.leaf = [one for one in self.leaf if draw.random() > KILLED_BY_FROST]
        return before - len(self.leaf)

    def take(self, plants: int) -> list[float]:
        """The furthest ones, taken away."""
        self.leaf.sort()
        taken, self.leaf = self.leaf[:plants], self.leaf[plants:]
        return taken

    @property
    def with_a_leaf(self) -> int:
        """How many could be pricked out."""
        return sum(left <= 0 for left in self.leaf)


def hardy_to_c(crop: Crop) -> float:
    """The night that kills, °C: invented, colder than the cautious figures that are printed."""
    return {"hardy": -5.0, "half_hardy": -2.0, "tender": 0.0, "very_tender": 1.0}[crop.hardiness]


class Lot:
    """A packet as it really is: what share of it lives, and how slow it is."""

    def __init__(self, crop: Crop, packet: float, draw: Random) -> None:
        chance = draw.random()
        self.kind = "dead" if chance < DEAD else "poor" if chance < DEAD + POOR else "good"
        good = min(max(draw.gauss(packet, 0.06), 0.4), 0.99)
        self.alive = {"dead": 0.0, "poor": 0.3, "good": good}[self.kind]
        on_table = crop.clock == "table" or crop.days_in_trays is None
        self.slow = draw.uniform(1.1, 2.2) if on_table else draw.uniform(0.75, 1.4)
        self.crop = crop

    def sown(self, seeds: int, draw: Random) -> Plants:
        """So many seeds of it, in the medium."""
        alive = [draw.random() < self.alive for _ in range(seeds)]
        return Plants(self.crop, [self.slow * exp(draw.gauss(0, 0.15)) for one in alive if one])
