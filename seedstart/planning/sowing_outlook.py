"""One sowing from seed as it is expected to come up, beside what was counted; wait or sow again."""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from math import log
from typing import Final, Literal, NamedTuple

from msgspec import Struct, structs

from seedstart.crop_table.crop import Crop
from seedstart.days import short_day
from seedstart.growing.germination_belief import Belief
from seedstart.growing.sowing_rate import chance_of_plants
from seedstart.growing.still_to_come import StillToCome, still_to_come
from seedstart.planning.calendar import plan
from seedstart.planning.crop_times import at_station
from seedstart.planning.emerging import crop_of
from seedstart.planning.lot_germination import expected_germination
from seedstart.planning.row import Row
from seedstart.planning.season_rows import first_ask, frost_of, places_to_come_up
from seedstart.planning.seeds import USUAL_CHANCE
from seedstart.season.lot import Lot
from seedstart.season.plan import Season
from seedstart.text import plural
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress
from seedstart.units import steady

_DAY: Final = timedelta(days=1)
# The band holds the totals of nine sowings in ten.
_LEFT_OUT_ON_EACH_SIDE: Final = 0.05
# A chance that has fallen by less than this since sowing tells nothing new. Common practice, no
# source.
_AS_AT_SOWING: Final = 0.1


class TimeCurve(NamedTuple):
    """When those come that come at all: log-logistic about the day by which half are up.

    Attributes:
        half_days: That day, since day zero.
        slope: Of the log-logistic.
        early: Half are up so many days after day zero at best.
        late: As many times later than usual as `early` is earlier.
    """

    half_days: float
    slope: float
    early: float
    late: float

    def share(self, days: float, half_days: float | None = None) -> float:
        """Share, 0 to 1, of those that come that is up by a day; by another half, if given."""
        if days <= 0:
            return 0.0
        return float(1 / (1 + ((half_days or self.half_days) / days) ** self.slope))

    def days_for(self, share: float, half_days: float | None = None) -> float:
        """The day by which such a share of them is up."""
        return float((half_days or self.half_days) * (share / (1 - share)) ** (1 / self.slope))


class Totals(NamedTuple):
    """How many seedlings a sowing is expected to give: nine in ten lie between low and high."""

    low: int
    mean: float
    high: int


class Advice(Struct, frozen=True):
    """What to do about a sowing.

    Attributes:
        what: `enough` are up, `wait`, `sow again`, or `too late` to sow again.
        text: Why, with its figures.
    """

    what: Literal["enough", "wait", "sow again", "too late"]
    text: str


class SowingOutlook(Struct, frozen=True, kw_only=True):
    """What is known and expected of one sowing.

    Attributes:
        name: Of the sowing.
        zero: From when its days count.
        chilled: Whether that is when it came out of the cold, and not the sowing.
        days_now: Days since then.
        seeds: Seeds sown, where they were counted.
        counts: Of each count, days since day zero and how many had emerged.
        time: When they come; None where nothing can be said, and `unknown` says why.
        totals: How many are expected in all; likewise.
        still: What is still to come, as of the last count; None once it is closed.
        rests_on: What the totals rest on, the end of a sentence.
        assumed: What the days rest on, a sentence.
        unknown: Why there is no curve.
        advice: Wait or sow again; None where it is closed, or no number of plants is wanted.
    """

    name: str
    zero: datetime | None
    chilled: bool
    days_now: float
    seeds: int | None
    counts: tuple[tuple[float, int], ...]
    time: TimeCurve | None = None
    totals: Totals | None = None
    still: StillToCome | None = None
    rests_on: str = ""
    assumed: str = ""
    unknown: str = ""
    advice: Advice | None = None

    @property
    def counted_on(self) -> float:
        """The day of the last count since day zero; 0 before any."""
        return self.counts[-1][0] if self.counts else 0.0

    @property
    def up(self) -> int:
        """How many had emerged by the last count."""
        return self.counts[-1][1] if self.counts else 0


def sowing_outlook(
    standing: Standing,
    season: Season,
    records: Records,
    progress: Progress | None,
    now: datetime,
    rows: tuple[Row, ...] = (),
) -> SowingOutlook:
    """The outlook of one sowing from seed.

    Args:
        standing: It.
        season: The plan.
        records: What happened.
        progress: How far it has come, as reckoned by `progress_of`.
        now: The moment.
        rows: The calendar, for its set-out window.
    """
    zero = records.day_zero(standing.id)
    crop = crop_of(standing, season)
    lot = season.lots_by_name.get(standing.lot or "")
    found = SowingOutlook(
        name=standing.name,
        zero=zero,
        chilled=zero is not None and zero > standing.at,
        days_now=(now - zero) / _DAY if zero else 0.0,
        seeds=standing.seeds,
        counts=_counts(standing, zero),
    )
    if zero is None or crop is None or lot is None or progress is None:
        return structs.replace(found, unknown=_why_none(zero, crop))
    if progress.expected is None:
        unknown = f"Nothing of it is expected up at that warmth. {progress.assumed}".strip()
        return structs.replace(found, unknown=unknown)
    expected = progress.expected
    time = _time(zero.date(), expected.earliest, expected.best, crop.first_to_last.best)
    found = structs.replace(found, time=time, assumed=progress.assumed)
    if standing.seeds is None or crop.seedlings_per_seed is not None:
        return structs.replace(found, unknown=_why_no_totals(standing))
    share = at_station(crop, steady(round(progress.goes_on_c, 1))).outlook.normal_share
    expects = expected_germination(lot, crop, share or None, zero.date())
    found = structs.replace(
        found, totals=_totals(standing.seeds, expects.belief), rests_on=expects.rests_on
    )
    if standing.closed is not None or not standing.alive or found.up > standing.seeds:
        return found
    g_now = time.share(found.counted_on)
    still = still_to_come(standing.seeds, found.up, g_now, expects.belief)
    found = structs.replace(found, still=still)
    at_sowing = chance_of_plants(standing.seeds, lot.want or 0, expects.belief)
    return structs.replace(found, advice=_advice(found, lot, season, now.date(), rows, at_sowing))


def _counts(standing: Standing, zero: datetime | None) -> tuple[tuple[float, int], ...]:
    if zero is None:
        return ()
    return tuple(
        ((count.at - zero) / _DAY, count.emerged) for count in standing.counts if count.at > zero
    )


def _why_none(zero: datetime | None, crop: Crop | None) -> str:
    if zero is None:
        return "Its seed is in the cold: its days have not begun."
    return "Its lot is not in lots.toml." if crop is None else "Its days are not reckoned."


def _why_no_totals(standing: Standing) -> str:
    if standing.seeds is None:
        return "Its seeds were not counted, so no number is expected."
    return "One seed gives several seedlings, so no number is expected."


def _time(zero: date, earliest: date, best: date, first_to_last: float) -> TimeCurve:
    half = max((best - zero).days, 1)
    early = min(max((earliest - zero).days, 0.5), half)
    slope = 2 * log(9) / log(first_to_last)
    return TimeCurve(half, slope, early, half * half / early)


def _totals(seeds: int, belief: Belief) -> Totals:
    """Totals of nine sowings in ten, by the beta-binomial."""
    low = _largest(
        seeds, lambda n: chance_of_plants(seeds, n, belief) >= 1 - _LEFT_OUT_ON_EACH_SIDE
    )
    high = _largest(seeds, lambda n: chance_of_plants(seeds, n, belief) >= _LEFT_OUT_ON_EACH_SIDE)
    return Totals(low, seeds * belief.mean, high)


def _largest(most: int, holds: Callable[[int], bool]) -> int:
    """The largest number from 0 to `most` for which something holds that holds for those below."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if holds(middle) else (low, middle - 1)
    return low


def _advice(
    found: SowingOutlook,
    lot: Lot,
    season: Season,
    today: date,
    rows: tuple[Row, ...],
    at_sowing: float,
) -> Advice | None:
    """Sow again when the chance of the plants wanted has fallen under nine in ten."""
    if lot.want is None or found.still is None or found.time is None:
        return None
    if found.up >= lot.want:
        return Advice("enough", f"{found.up} are up, and {lot.want} are wanted.")
    chance = found.still.chance_of(lot.want - found.up)
    short = f"the {plural(lot.want, 'plant')} wanted with a chance of {_percent(chance)}"
    if chance >= USUAL_CHANCE:
        return Advice("wait", f"It still gives {short}.")
    if chance >= at_sowing - _AS_AT_SOWING:
        return Advice("wait", f"It gives {short}; it was {_percent(at_sowing)} when it was sown.")
    again, makes_it = _sown_again(lot, season, today, rows)
    if not again:
        return None
    return Advice("sow again" if makes_it else "too late", f"It gives {short}. {again}")


def _sown_again(lot: Lot, season: Season, today: date, rows: tuple[Row, ...]) -> tuple[str, bool]:
    """What becomes of seed sown today, and whether it is set out in the window of the first."""
    first = first_ask(lot, season, frost_of(season), places_to_come_up(season))
    fresh = plan(structs.replace(first, sow_on=today))
    out = fresh.window("set_out")
    sown = next((row for row in rows if row.lot == lot.name and row.window("set_out")), None)
    allowed = sown.window("set_out") if sown else None
    if out is None:
        return (fresh.problem or ""), False
    text = f"Sown again today it would be set out on {short_day(out.best)}"
    if allowed is None:
        return f"{text}.", True
    makes_it = out.best <= allowed.latest
    until = f"{'within' if makes_it else 'past'} the window, which ends on"
    return f"{text}, {until} {short_day(allowed.latest)}.", makes_it


def _percent(chance: float) -> str:
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{100 * chance:.0f} %"
