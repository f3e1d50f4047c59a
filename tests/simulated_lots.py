"""Lots as they might come up, and how a grower who counts them is advised; seeds fixed.

What a lot is drawn from: the share of seeds alive, the speed as a multiple of the table's days, and
within the lot the crop's log-logistic spread.
"""

from collections.abc import Sequence
from datetime import timedelta
from math import exp, log
from random import Random
from typing import NamedTuple

from msgspec import structs

from notebook import Notebook, written
from seasons import HEAD, lot, season
from seedstart.growing.coming_up import MAY_BE_DEAD, MAY_BE_WRONG
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.planning.calendar.crop_times import rate_curve
from seedstart.planning.prospects.lot_germination import expected_germination
from seedstart.planning.prospects.prospect import Known, Prospect
from seedstart.planning.prospects.prospects import prospect_of
from seedstart.planning.prospects.to_come import warmth_of
from seedstart.season.journal.entries import Counted, Dug, Sown
from seedstart.tracking.own_factor import UNKNOWN_SD
from seedstart.tracking.standing import Standing
from seedstart.units import steady

WANT, SEEDS = 24, 34
_DUG_UP = 5
_DAY = timedelta(days=1)
# Without a frost nothing ends the time to sow again.
_HEAD = HEAD.replace("[frost]\nlast = 2027-05-12\n", "")


class Setting(NamedTuple):
    """One kind of lot.

    Attributes:
        speed: Multiple of the table's days; None to draw it as the program believes it to be.
        every: Counted every so many days.
        packet: What the packet promises, percent.
        short: By so much of the seed less comes than is drawn from the packet's belief.
        share: What really comes; None to draw it.
        bad: Some lots are dead, and of some the share is anything, as the program believes.
        digs: Once told to dig a few up, the grower does.
    """

    speed: float | None
    every: int = 1
    packet: int = 85
    short: float = 0.0
    share: float | None = None
    bad: bool = False
    digs: bool = False


class Drawn(NamedTuple):
    """One lot: the days on which its seedlings come, and that of half of them as it was drawn."""

    days: tuple[float, ...]
    half: float


class Told(NamedTuple):
    """What was told of one lot, day by day.

    Attributes:
        lot: It, as it was drawn.
        came: How many come in all, without those that were dug up.
        prospects: By the day of each count, until some were dug up.
        sow_again: The first day on which sowing again was advised; None where it never was.
        short: Whether it was said, as its count was closed, how many plants are missing.
    """

    lot: Drawn
    came: int
    prospects: dict[int, Prospect]
    sow_again: int | None
    short: bool = False


class Simulation:
    """Tomatoes on the mat at 24 °C, 34 seeds for 24 plants, counted until it is over."""

    def __init__(self, setting: Setting, head: str = _HEAD, at: str = "3-01") -> None:
        self.setting = setting
        plan = season(
            lot("tomato", "tomato", want=f"{WANT}", station='"mat"',
                germination=f'"{setting.packet}%"'),
            head,
        )  # fmt: skip
        book = Notebook()
        book.write(Sown, f"{at} 08:00", sowing="tomato", lot="tomato", seeds=SEEDS, station="mat")
        records = book.records()
        (self.sown,) = records.standings.values()
        self.known = Known(plan, records, warmth_of(plan, {}), self.sown.at)
        self.crop = plan.crops.crops["tomato"]
        self.table_days = rate_curve(self.crop).days(steady(24))
        self.belief = expected_germination(
            plan.lots[0], self.crop, None, self.sown.at.date()
        ).belief

    @property
    def usual_days(self) -> float:
        """Days to half of it in usual trays."""
        return TRAYS_OVER_TABLE * self.table_days

    def draw(self, random: Random) -> Drawn:
        """One lot."""
        setting, slope = self.setting, 2 * log(9) / log(self.crop.first_to_last.best)
        speed = setting.speed or TRAYS_OVER_TABLE * exp(random.gauss(0, UNKNOWN_SD))
        share = setting.share
        if share is None:
            share = max(self._share(random) - setting.short, 0.0)
        alive = sum(random.random() < share for _ in range(SEEDS))
        half = speed * self.table_days
        draws = (random.random() for _ in range(alive))
        days = sorted(half * (one / (1 - one)) ** (1 / slope) for one in draws)
        return Drawn(tuple(days), half)

    def _share(self, random: Random) -> float:
        """The share of one lot's seed that is alive."""
        which = random.random() if self.setting.bad else 1.0
        if which < MAY_BE_DEAD:
            return 0.0
        if which < MAY_BE_DEAD + MAY_BE_WRONG:
            return random.random()
        return random.betavariate(*self.belief)

    def tell(self, drawn: Drawn) -> Told:
        """What is told of it at each count, from the third day until it is plain."""
        prospects: dict[int, Prospect] = {}
        counted: list[int] = []
        lies, dug, sow_again = drawn, None, None
        last = 4.0 * max(drawn.half, self.usual_days)
        day = 1
        while day <= last:
            if day not in counted:
                counted.append(day)
            found = self.prospect(lies, counted, dug)
            if day > 2 and dug is None:
                prospects[day] = found
            told = found.advice.what if found.advice is not None else ""
            if told == "sow again":
                sow_again = day
                break
            if told in {"enough", "close"}:
                break
            if told == "dig" and self.setting.digs and dug is None:
                lies, dug = self._dig(drawn, day)
                continue
            day += self.setting.every
        short = told == "close" and f"It is {WANT - found.up} short" in str(found.advice)
        return Told(drawn, len(lies.days), prospects, sow_again, short)

    def _dig(self, drawn: Drawn, day: int) -> tuple[Drawn, Dug]:
        """The lot without the seeds dug up, taken anywhere among the missing, and how they were."""
        random = Random(f"{drawn.half} {day}")
        late = [one for one in drawn.days if one > day]
        missing = [*late, *[None] * (SEEDS - len(drawn.days))]
        found = random.sample(missing, _DUG_UP)
        sound = [one for one in found if one is not None]
        entry = Dug(
            id=written(2027, 99), at=self.sown.at + day * _DAY, by="bench", sowing="tomato",
            sound=len(sound), soft=_DUG_UP - len(sound),
        )  # fmt: skip
        return drawn._replace(days=tuple(one for one in drawn.days if one not in sound)), entry

    def prospect(self, drawn: Drawn, counted: Sequence[int], dug: Dug | None = None) -> Prospect:
        """The prospect after counts on these days, and after a few were dug up."""
        ups = [sum(one <= day for one in drawn.days) for day in counted]
        entries = tuple(
            Counted(
                id=written(2027, 100 + place), at=self.sown.at + day * _DAY, by="bench",
                sowing="tomato", standing=up,
            )
            for place, (day, up) in enumerate(zip(counted, ups, strict=True))
        )  # fmt: skip
        standing: Standing = structs.replace(
            self.sown, counted=entries, emerged_by=tuple(ups), seen_by=tuple(ups),
            standing=ups[-1], emerged=ups[-1], dug=() if dug is None else (dug,),
        )  # fmt: skip
        now = self.sown.at + counted[-1] * _DAY
        return prospect_of(standing, self.known._replace(now=now))


class Score(NamedTuple):
    """How well many lots were told of.

    Attributes:
        total: Share of counts whose 95 % interval held the final count.
        half: Share whose 95 % interval of half-emergence held the day of it.
        again: Lots that were told to be sown again.
        needless: Of these, those that would have given the plants wanted.
        untold: Lots that gave too few, of which nobody was told: neither to sow again nor, as the
            count was closed, how many they are short.
        late: Lots told later than twice their usual days (their own, where those are slower).
    """

    total: float
    half: float
    again: int
    needless: int
    untold: int
    late: int


def score(setting: Setting, lots: int, seed: int = 1, head: str = _HEAD, at: str = "3-01") -> Score:
    """Many lots of one kind, scored; where the head has a frost the time to sow again ends."""
    found, random = Simulation(setting, head, at), Random(seed)
    held_total: list[bool] = []
    held_half: list[bool] = []
    again = needless = untold = late = 0
    for _ in range(lots):
        told = found.tell(found.draw(random))
        days, final = told.lot.days, len(told.lot.days)
        for one in told.prospects.values():
            if one.total is None:
                raise ValueError("a lot of counted seeds has a total")
            held_total.append(one.total.low <= final <= one.total.high)
            if final and one.half is not None and one.zero is not None:
                half = (one.zero + days[(final + 1) // 2 - 1] * _DAY).date()
                held_half.append(one.half.earliest <= half <= one.half.latest)
        if told.sow_again is not None:
            again += 1
            needless += told.came >= WANT
            late += told.sow_again > 2 * max(found.usual_days, told.lot.half)
        elif told.came < WANT and not told.short:
            untold += 1
    return Score(
        sum(held_total) / len(held_total), sum(held_half) / len(held_half), again, needless,
        untold, late,
    )  # fmt: skip
