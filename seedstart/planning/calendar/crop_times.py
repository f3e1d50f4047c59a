"""What a crop's figures say in days: emergence at a station, growing on, and in whose words."""

from collections.abc import Mapping
from functools import lru_cache
from math import inf
from typing import Final

from msgspec import Struct

from seedstart.crop_table.crop import BASIS_IN_WORDS, Basis, Crop, Figure, Raising, Source
from seedstart.growing.emergence import (
    TRAYS_OVER_TABLE,
    Expected,
    RateCurve,
    broken_line,
    class_line,
    expected_from_range,
    expected_in_table_crop,
    table_curve,
)
from seedstart.growing.outlook import Limits, Outlook, fails_above, outlook, share_of_best
from seedstart.text import plural
from seedstart.units import Temperatures, steady

# What `hottest_for_seed` is where it is no printed limit.
HALF_FAILS: Final = "above which half of the best share fails"
_SOURCED = frozenset({"source", "relative", "weak", "own"})
_WARM = frozenset({"tender", "very_tender"})
# A seedling needs time to grow, whatever the weeks leave it; then the sowing stands and setting out
# waits. Pricked out eight days after emergence at the soonest, it grows for ten before a week of
# hardening off; in its own pot it needs a fortnight. Common practice, no source.
GROWS_AFTER_PRICKING_DAYS: Final = 10
_SHORTEST_DAYS: Final[dict[Raising, float]] = {
    "pricked out": 25.0,
    "own pot": 14.0,
    "clump": 21.0,
    "sown in place": 0.0,
}
# A class's line says nothing so far from the setting it was scaled at: where it takes so many times
# the days of the setting, or so many days, seed rots first. Common practice, no source.
_TOO_SLOW_TIMES: Final = 2.5
_TOO_SLOW_DAYS: Final = 30.0


class AtStation(Struct, frozen=True):
    """A crop's emergence at a station's temperature.

    Attributes:
        expected: Days to emergence; None where no date can be given.
        outlook: Whether it comes up, and what speaks against it.
        outside_table: The temperature lies where the curve goes on beyond its figures.
    """

    expected: Expected | None
    outlook: Outlook
    outside_table: bool


@lru_cache(maxsize=512)
def rate_curve(crop: Crop) -> RateCurve:
    """The crop's rate of emergence over soil temperature, on its own clock."""
    if crop.emergence is not None:
        curve = table_curve(
            crop.emergence.soil_c,
            crop.emergence.days,
            crop.lowest_c.best,
            crop.highest_c.best,
        )
        if crop.clock == "table" or crop.days_in_trays is None:
            return curve
        # A relative's table lends its shape, the crop's own days in trays the scale.
        return curve.scaled_to(crop.days_in_trays.best, crop.tray_c.best)
    days = crop.days_in_trays
    if days is None:
        raise ValueError(f"{crop.name} has neither a table nor days in trays")
    if crop.lowest_c.basis in _SOURCED and crop.highest_c.basis in _SOURCED:
        return broken_line(
            days.best,
            crop.tray_c.best,
            crop.lowest_c.best,
            crop.fastest_c.best,
            crop.highest_c.best,
        )
    warm = crop.hardiness in _WARM
    return class_line(days.best, crop.tray_c.best, warm=warm, fastest_c=crop.fastest_c.best)


def limits_of(crop: Crop) -> Limits:
    """The temperatures between which a date is given."""
    return Limits(
        crop.lowest_c.best,
        crop.highest_c.best,
        crop.lowest_c.basis in _SOURCED,
        crop.highest_c.basis in _SOURCED,
        _carried_c(crop),
    )


def _carried_c(crop: Crop) -> tuple[float, float] | None:
    """The coldest and hottest temperature of which a table tells what came up."""
    if crop.emergence is not None:
        return rate_curve(crop).inside
    if crop.shares is None:
        return None
    up = [c for c, share in zip(crop.shares.soil_c, crop.shares.percent, strict=True) if share > 0]
    return (min(up), max(up)) if up else None


@lru_cache(maxsize=4096)
def at_station(crop: Crop, station: Temperatures, factor: float = TRAYS_OVER_TABLE) -> AtStation:
    """How a crop comes up at a station.

    Args:
        crop: The crop.
        station: Temperature of the medium by day and night.
        factor: Days in this grower's trays over days of the table.
    """
    seen = _outlook(crop, station)
    curve = rate_curve(crop)
    outside = not (curve.speaks_of(station.day_c) and curve.speaks_of(station.night_c))
    days = curve.days(station)
    if seen.verdict in {"too cold", "too hot"}:
        return AtStation(None, seen, outside)
    if days == inf:  # inside the printed limits, and yet the table says "no germination"
        cold = station.mean_c < crop.fastest_c.best
        return AtStation(None, seen._replace(verdict="too cold" if cold else "too hot"), outside)
    expected = _expected(crop, days, factor)
    if expected.best > _slowest_days(crop, factor):
        if not _carried(crop, station):
            return AtStation(None, seen._replace(verdict="too slow"), outside)
        if seen.verdict == "comes up":
            seen = seen._replace(verdict="slow")
    return AtStation(expected, seen, outside)


def _carried(crop: Crop, station: Temperatures) -> bool:
    """Whether a table tells that it comes up so cold and so warm."""
    carried = _carried_c(crop)
    return carried is not None and all(
        carried[0] <= c <= carried[1] for c in (station.day_c, station.night_c)
    )


@lru_cache(maxsize=512)
def _slowest_days(crop: Crop, factor: float) -> float:
    """Days to emergence past which no date is given but where a table carries them."""
    at_setting = rate_curve(crop).days(steady(crop.tray_c.best))
    if at_setting == inf:
        return inf
    usual = _expected(crop, at_setting, factor).best
    # What takes a month at its own setting is allowed that, and a tenth more.
    return max(min(_TOO_SLOW_TIMES * usual, _TOO_SLOW_DAYS), 1.1 * usual)


def _outlook(crop: Crop, station: Temperatures) -> Outlook:
    """The better of day and night decides whether it comes up, the worse whether to warn."""
    limits = limits_of(crop)
    by_day = outlook(station.day_c, limits, _normal_share(crop, station.day_c))
    if station.steady:
        return by_day
    by_night = outlook(station.night_c, limits, _normal_share(crop, station.night_c))
    order = ("comes up", "badly", "too cold", "too hot")  # `slow` is judged by the days, later
    better, worse = sorted((by_day, by_night), key=lambda seen: order.index(seen.verdict))
    if better.verdict in {"too cold", "too hot"} or worse.verdict == "comes up":
        return better
    return worse._replace(verdict="badly")


def _normal_share(crop: Crop, soil_c: float) -> float | None:
    if crop.emergence is not None and crop.emergence.normal_percent:
        return share_of_best(soil_c, crop.emergence.soil_c, crop.emergence.normal_percent)
    if crop.shares is not None:
        return share_of_best(soil_c, crop.shares.soil_c, crop.shares.percent)
    return None


def _expected(crop: Crop, days: float, factor: float) -> Expected:
    spread = crop.first_to_last.best
    if crop.clock == "table" or crop.days_in_trays is None:
        return expected_in_table_crop(days, spread, factor)
    printed = crop.days_in_trays
    return expected_from_range(
        days, printed.low / printed.best, printed.high / printed.best, spread
    )


class Growing(Struct, frozen=True):
    """A crop's way from sowing to setting out, in days, from the printed weeks.

    Attributes:
        age: Sowing to setting out, at the mixed-tray setting, best.
        growing_on: Emergence to setting out.
        wait: How much later than the printed week it goes out, so that it has time to grow.
        before: How much earlier than best the printed weeks let one sow.
        after: How much later.
        oldest: Oldest plant to set out, sowing to setting out, as weeks indoors are printed.
        youngest: Youngest.
        growing_on_at_least: Emergence to setting out of the youngest.
    """

    age: float
    growing_on: int
    wait: float
    before: float
    after: float
    oldest: float
    youngest: float
    growing_on_at_least: float


@lru_cache(maxsize=512)
def growing(crop: Crop, factor: float = TRAYS_OVER_TABLE) -> Growing | None:
    """The growing-on time: what lies between the two printed dates, less emergence at the setting.

    Returns:
        None for a crop without weeks: sown in place.
    """
    weeks, out = crop.weeks_before_last_frost, crop.set_out_weeks
    if weeks is None or out is None:
        return None
    in_trays = at_station(crop, steady(crop.tray_c.best), factor).expected
    up = in_trays.best if in_trays else 0.0
    printed = 7 * (weeks.best + out.best) - up
    shortest = _SHORTEST_DAYS[crop.raising]
    before, after = 7 * (weeks.high - weeks.best), 7 * (weeks.best - weeks.low)
    # Whole days, so that the sum of the reasons is the date; at the setting they make up the weeks.
    growing_on = max(round(printed + up) - round(up), round(shortest))
    age, indoors = growing_on + up, crop.weeks_indoors
    oldest = max(age, 7 * indoors.high) if indoors else age + before
    youngest = min(age, max(7 * indoors.low, up + shortest)) if indoors else age
    return Growing(
        age=age,
        growing_on=growing_on,
        wait=max(growing_on - printed, 0.0),
        before=before,
        after=after,
        oldest=oldest,
        youngest=youngest,
        growing_on_at_least=youngest - up,
    )


def is_tender(crop: Crop) -> bool:
    """Whether a frost kills it: tender and very tender crops wait for the trusted date."""
    return crop.hardiness in _WARM


@lru_cache(maxsize=512)
def hottest_for_seed(crop: Crop) -> Figure:
    """The lower of its highest temperature and the one above which half of its best share fails.

    Lettuce is printed to come up to 35 °C, and by 28 °C half of it gives no normal seedling.
    """
    table, shares = crop.emergence, crop.shares
    basis: Basis = "source"
    if table is not None:
        found, sources = fails_above(table.soil_c, table.normal_percent), table.sources
    elif shares is not None:
        found = fails_above(shares.soil_c, shares.percent)
        basis, sources = shares.basis, shares.sources
    else:
        return crop.highest_c
    if found is None or found >= crop.highest_c.best:
        return crop.highest_c
    return Figure(found, found, found, basis, sources, HALF_FAILS)


def limit_in_words(crop: Crop, *, cold: bool, sources: Mapping[str, Source] | None = None) -> str:
    """What a limit of temperature is, and who says so; a guess is never called printed.

    `the lowest temperature printed for pepper (2 sources)`, `our guess for very tender plants`.
    """
    limit = crop.lowest_c if cold else crop.highest_c
    if limit.basis == "guess":
        return limit.note or BASIS_IN_WORDS["guess"]
    which = f"the {'lowest' if cold else 'highest'} temperature"
    if limit.basis == "own":
        return f"{which} for {crop.name} ({BASIS_IN_WORDS['own']})"
    if limit.basis in {"memory", "practice"}:
        return f"{which} for {crop.name} ({BASIS_IN_WORDS[limit.basis]})"
    return f"{which} printed for {crop.name} ({basis_in_words(limit, sources)})"


def basis_in_words(figure: Figure, sources: Mapping[str, Source] | None = None) -> str:
    """How far a figure is to be trusted, for a sentence: `3 sources`, `from memory`.

    Sources count by institution: two pages of one house are one voice.
    """
    marked = BASIS_IN_WORDS[figure.basis]
    if figure.basis == "own" and figure.note:
        return figure.note
    if marked:
        return marked
    known = sources or {}
    voices = {known[key].institution if key in known else key for key in figure.sources}
    return plural(len(voices), "source")
