"""What is to come of one sowing from seed: share and speed are unknown, and every count moves both.

The reckoning is `growing.coming_up`; here is what it is asked of. What most checks ask stands here;
what is to be done about it, and the rest of a prospect, in `prospects`.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import datetime
from functools import lru_cache
from math import log, sqrt
from operator import attrgetter
from typing import Final, NamedTuple
from zoneinfo import ZoneInfo

from msgspec import structs

from seedstart.crop_table.crop import Crop
from seedstart.days import Window, short_day
from seedstart.growing.coming_up import ComingUp, Span, coming_up, hardly_any_late
from seedstart.growing.emergence import TRAYS_OVER_TABLE
from seedstart.growing.tried_speeds import DugUp, Look, Speed
from seedstart.planning.calendar.cold_treatment import out_of_the_fridge_on
from seedstart.planning.calendar.crop_times import at_station, rate_curve
from seedstart.planning.calendar.season_rows import unknown_weather
from seedstart.planning.prospects.lot_germination import Expectation, expected_germination
from seedstart.planning.prospects.own_record import no_fair_chance, of_lot
from seedstart.planning.prospects.prospect import LEVEL, Known, ToCome
from seedstart.season.loggers.series import Readings
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.stations import OUTSIDE
from seedstart.tracking.medium import thermostat_holds_medium
from seedstart.tracking.own_factor import (
    ONE_SOWING_SD,
    UNKNOWN_SD,
    OwnFactor,
    own_factor,
    seen_factor,
)
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Emerging, Progress, Warmth, Way
from seedstart.units import steady


@lru_cache(maxsize=512)
def emerging_of(crop: Crop, factor: float = TRAYS_OVER_TABLE) -> Emerging:
    """When the first, half and nine in ten of a crop are up, as shares of its expected days."""
    spread = sqrt(crop.first_to_last.best)
    setting = steady(crop.tray_c.best)
    if crop.clock == "table" or crop.days_in_trays is None:
        return Emerging(rate_curve(crop), "table", factor, 1 / factor, spread, setting)
    printed = crop.days_in_trays
    low = min(printed.low / printed.best, 1 / spread)
    high = max(printed.high / printed.best, spread)
    return Emerging(rate_curve(crop), "trays", 1.0, low, high, setting)


def warmth_of(season: Season, readings: Readings) -> Warmth:
    """The warmth of a season's stations, from its plan and its loggers' readings."""
    planned = {one.name: one.expected for one in season.stations if one.expected}
    heated = frozenset(one.name for one in season.stations if thermostat_holds_medium(one))
    zone = ZoneInfo(season.zone)
    outside = frozenset(one.name for one in season.stations if one.kind in OUTSIDE)
    return Warmth(readings, planned, zone, heated=heated, outside=outside, units=season.units)


def own_factor_of(
    season: Season, records: Records, warmth: Warmth, now: datetime
) -> OwnFactor | None:
    """The grower's own factor, from their closed sowings on measured warmth; None without any."""
    seen = []
    for standing in records.standings.values():
        crop = crop_of(standing, season) if standing.closed is not None else None
        if crop is None or no_fair_chance(standing, crop, season, records):
            continue
        factor = seen_factor(standing, records, warmth, emerging_of(crop), now)
        if factor is not None:
            seen.append(factor)
    return own_factor(seen) if seen else None


def progress_of(
    standing: Standing,
    season: Season,
    records: Records,
    warmth: Warmth,
    now: datetime,
    own: OwnFactor | None = None,
) -> Progress | None:
    """How far one sowing has come by now; None for plants, seed in the cold, an unknown lot.

    Args:
        standing: It.
        season: The plan.
        records: What happened.
        warmth: The season's.
        now: The moment.
        own: The grower's own factor; None where no sowing of theirs speaks.
    """
    crop = crop_of(standing, season)
    way = way_of(standing, crop, records, warmth, now) if crop else None
    return progress_along(way, crop, warmth, now, own) if way and crop else None


def way_of(
    standing: Standing, crop: Crop, records: Records, warmth: Warmth, now: datetime
) -> Way | None:
    """The way of one sowing by its crop's curve; None for plants, and for seed in the cold."""
    return warmth.way(standing.id, records, emerging_of(crop), now)


def progress_along(
    way: Way, crop: Crop, warmth: Warmth, now: datetime, own: OwnFactor | None = None
) -> Progress:
    """How far a sowing has come by now on its way."""
    emerging = emerging_of(crop, own.counted) if own else emerging_of(crop)
    found = warmth.progress_along(way, emerging, now)
    if at_station(crop, steady(round(found.goes_on_c, 1))).expected is not None:
        return found
    # Whatever the curve says: too cold or too hot gets no date.
    return structs.replace(found, expected=None)


def crop_of(standing: Standing, season: Season) -> Crop | None:
    """The crop of a sowing's own lot."""
    return season.crop_of(standing.lot)


# A printed range in trays holds the half of eight sowings in ten: 2.563 sd. Common practice.
_RANGE_SD: Final = 2.563
# Where the seeds were not counted so many are taken to lie there, for the days alone. Common
# practice, no source.
_SOME_SEEDS: Final = 20


class Subject(NamedTuple):
    """One sowing with what belongs to it, where its days are reckoned."""

    standing: Standing
    lot: Lot
    crop: Crop
    zero: datetime
    way: Way
    progress: Progress
    known: Known


class Reckoned(NamedTuple):
    """What a sowing's counts were held against, and what came of that.

    Attributes:
        lie_there: How many seeds are taken to lie there.
        expects: What is believed of its lot.
        speed: What is believed of its speed.
        coming: What is believed of it now.
    """

    lie_there: int
    expects: Expectation
    speed: Speed
    coming: ComingUp


class Begun(NamedTuple):
    """A prospect as far as most checks need it; `prospects` goes on from here."""

    to_come: ToCome
    one: Subject | None = None
    reckoned: Reckoned | None = None


def begun_of(standing: Standing, known: Known, *, over: bool) -> Begun:
    """What is to come of one sowing from seed, and what that was reckoned from.

    Args:
        standing: It.
        known: The season, and what is known by now.
        over: What `all_up` says of it.
    """
    bare = ToCome(
        sowing=standing.id,
        lot=standing.lot,
        zero=known.records.day_zero(standing.id),
        up=standing.emerged,
        is_open=is_open(standing, known.records),
    )
    one = _subject(standing, bare.zero, known)
    if one is None:
        return Begun(structs.replace(bare, unknown=_why_none(standing, bare.zero, known)))
    progress = one.progress
    bare = structs.replace(bare, progress=progress, assumed=progress.assumed, all_up=over)
    if progress.expected is None:
        unknown = f"{'No more' if bare.up else 'Nothing'} of it will come up at that temperature."
        return Begun(structs.replace(bare, unknown=unknown), one)
    reckoned = _reckoned(one)
    return Begun(_to_come(bare, one, reckoned.coming), one, reckoned)


def is_open(standing: Standing, records: Records) -> bool:
    """Whether more is waited for in a sowing: not closed, not finished, not replaced by another."""
    if not standing.from_seed or not standing.alive or standing.closed is not None:
        return False
    return replaced_by(standing, records) is None


def all_up(standing: Standing, known: Known) -> bool:
    """Whether it is plain from its counts alone that no more come: far less work than a prospect.

    Nothing is said so soon of what was sampled, or taken before it was counted.
    """
    crop, zero = crop_of(standing, known.season), known.records.day_zero(standing.id)
    looks = standing.counted
    if crop is None or zero is None or not looks or looks[0].at <= zero:
        return False
    if _seeds(standing, crop)[1] or any(entry.looked_at is not None for entry in looks):
        return False
    ups = standing.emerged_by
    if standing.emerged != ups[-1] or ups.index(ups[-1]) == len(ups) - 1:
        return False
    way = way_of(standing, crop, known.records, known.warmth, known.now)
    if way is None or standing.seeds is None:
        return False
    parts = (bisect_left(ups, ups[-1] * part) for part in (0.5, 0.9, 1.0))
    told = [Look(way.at(looks[place].at), ups[place]) for place in (*parts, len(ups) - 1)]
    return hardly_any_late(standing.seeds - ups[-1], told, _slope(crop))


def replaced_by(standing: Standing, records: Records) -> Standing | None:
    """The sowing that was sown in place of this one; None where there is none."""
    others = records.of_lot(standing.lot) if standing.lot else ()
    return next(
        (
            one
            for one in others
            if one.instead_of and records.by_name_in_line(one.instead_of) == standing
        ),
        None,
    )


def _subject(standing: Standing, zero: datetime | None, known: Known) -> Subject | None:
    crop = crop_of(standing, known.season)
    lot = known.season.lots_by_name.get(standing.lot or "")
    if zero is None or crop is None or lot is None:
        return None
    way = way_of(standing, crop, known.records, known.warmth, known.now)
    if way is None:
        return None
    progress = progress_along(way, crop, known.warmth, known.now, known.own)
    return Subject(standing, lot, crop, zero, way, progress, known)


def _why_none(standing: Standing, zero: datetime | None, known: Known) -> str:
    crop = crop_of(standing, known.season)
    if zero is None:
        lot = known.season.lots_by_name.get(standing.lot or "")
        out = out_of_the_fridge_on(standing, crop, lot, known.records) if crop else None
        till = f" till {short_day(out)}" if out else ""
        return f"Its seed is in the cold{till}: its days have not begun."
    if crop is None:
        return "Its lot is not in lots.toml."
    station = known.records.station_of(standing.id)
    if unknown_weather(station, known.season):
        return f"Nobody says how warm the {station} is, so no day is expected."
    return "Its days are not reckoned."


def _reckoned(one: Subject) -> Reckoned:
    looks, dug = tuple(looks_of(one)), tuple(dug_of(one))
    gone = sum(part.sound + part.soft for part in dug)
    seeds, _ = _seeds(one.standing, one.crop)
    lie_there = max(seeds or _SOME_SEEDS, one.standing.emerged + gone)
    speed, expects = speed_of(one.crop, one.known.own), _expects(one)
    coming = coming_up(lie_there, expects.belief, speed, looks, dug)
    return Reckoned(lie_there, expects, speed, coming)


def _to_come(bare: ToCome, one: Subject, coming: ComingUp) -> ToCome:
    _, unknown = _seeds(one.standing, one.crop)
    half, nine_in_ten = (window_of(ways, one.way) for ways in coming.ways_of((0.5, 0.9), LEVEL))
    total = coming.total(LEVEL)
    counted = one.standing.counted and one.standing.counted[-1].at > one.zero
    usual = one.progress.expected
    return structs.replace(
        bare,
        expected=_as_counted(usual, half, nine_in_ten) if counted else usual,
        usual=usual,
        half=half,
        nine_in_ten=nine_in_ten,
        total=None if unknown else _at_least(total, one.standing.emerged),
        more=None if unknown else coming.expected_more,
        chance_of_more=coming.chance_of(1),
        coming=coming,
        unknown=unknown,
    )


def _at_least(total: Span, up: int) -> Span:
    """Never fewer than are up: a sample, which tells nothing of the whole, shows some that are."""
    return Span(max(total.low, up), max(total.best, up), max(total.high, up))


def _seeds(standing: Standing, crop: Crop) -> tuple[int | None, str]:
    """How many seeds lie there, and why no number is expected of them."""
    if standing.topped_up or standing.mixed_up or standing.onto is not None:
        return standing.seeds, "Others were sown or mixed in, so no number is expected."
    if crop.seedlings_per_seed is not None:
        return standing.seeds, "One seed gives several seedlings, so no number is expected."
    if standing.seeds is None:
        return standing.about, "Its seeds were not counted, so no number is expected."
    if standing.emerged > standing.seeds:
        return standing.seeds, "More came up than were sown, so no number is expected."
    return standing.seeds, ""


def speed_of(crop: Crop, own: OwnFactor | None) -> Speed:
    """How far along its curve half of a crop is up, before anything was counted.

    A table's days pass quicker than trays do: by the grower's own factor, or the usual one. Days
    that are printed for trays are on their clock already; how wide their range is says how sure.
    """
    slope = _slope(crop)
    emerging = emerging_of(crop)
    if emerging.clock == "table":
        half, sd = (own.counted, own.next_sd) if own else (TRAYS_OVER_TABLE, UNKNOWN_SD)
        return Speed(half, sd, slope)
    printed = crop.days_in_trays
    width = log(printed.high / printed.low) / _RANGE_SD if printed else 0.0
    return Speed(1.0, max(width, ONE_SOWING_SD), slope)


def _slope(crop: Crop) -> float:
    """Of the log-logistic of the seeds of one sowing."""
    return 2 * log(9) / log(crop.first_to_last.best)


def _share_here(one: Subject) -> float | None:
    here = steady(round(one.progress.goes_on_c, 1))
    return at_station(one.crop, here).outlook.normal_share


def _expects(one: Subject) -> Expectation:
    """What is believed of its lot from before it was sown: tests and other trays among that."""
    own, share = of_lot(one.lot, one.known.season, one.known.records), _share_here(one)
    tested = structs.replace(one.lot, tests=own.tests_of(one.lot))
    sown = one.zero.date()
    return expected_germination(tested, one.crop, share or None, sown, trays=own.trays)


def looks_of(one: Subject, *, before_last: bool = False) -> Iterator[Look]:
    """What was seen, by its way: of counts alike in a row the first and the last tell all.

    A sample tells nothing of the whole; what left uncounted was up when it left, and whoever took
    the last that stood has looked.

    Args:
        one: The sowing.
        before_last: Leave the last one out.
    """
    standing, last = one.standing, Look(0.0, 0)
    first = bisect_right(standing.counted, one.zero, key=attrgetter("at"))
    whole = [
        (entry.at, emerged)
        for entry, emerged in zip(
            standing.counted[first:], standing.emerged_by[first:], strict=True
        )
        if entry.looked_at is None
    ]
    taken = standing.emerged > (whole[-1][1] if whole else 0) or not standing.standing
    if standing.acts and standing.emerged and taken:
        at = max(standing.acts[-1].at, whole[-1][0] if whole else one.zero)
        whole.append((at, standing.emerged))
    whole = whole[:-1] if before_last else whole
    for place, (at, emerged) in enumerate(whole):
        following = whole[place + 1][1] if place + 1 < len(whole) else -1
        if emerged == last.up == following:
            continue
        last = Look(max(one.way.at(at), last.way), max(emerged, last.up))
        yield last


def dug_of(one: Subject) -> Iterator[DugUp]:
    """What was dug up, by its way."""
    for entry in one.standing.dug:
        yield DugUp(one.way.at(entry.at), entry.sound, entry.soft + entry.gone)


def window_of(ways: Span, way: Way) -> Window | None:
    """The days of three points of the way; None where it never gets there."""
    days = [way.day_of(amount) for amount in ways]
    low, best, high = days
    return Window(low, best, high) if low and best and high else None


def _as_counted(
    usual: Window | None, half: Window | None, nine_in_ten: Window | None
) -> Window | None:
    """The first, half and nine in ten of it once counts have moved them."""
    if usual is None or half is None or nine_in_ten is None:
        return usual
    last = nine_in_ten.best
    return Window(min(usual.earliest, half.best), half.best, max(half.best, last))
