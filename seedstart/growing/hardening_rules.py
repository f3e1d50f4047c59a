"""Hardening off: steps out of doors, and the cold, wind and rain in which plants stay in.

Plain Python: the calendar calls it. Sources differ much; tests/reference/hardening_off.csv has all.
"""

from functools import lru_cache
from typing import Final, Literal

from msgspec import Struct

Hardiness = Literal["hardy", "half_hardy", "tender", "very_tender"]
Light = Literal["shade", "half sun", "sun"]
Counts = Literal["out", "half", "held"]
LimitBasis = Literal["source", "relative", "weak", "memory", "practice", "guess", "own"]
Met = Literal["cold day", "cool day", "gusts", "wind", "downpour", "hard rain"]

# University of Maryland Extension 2023 (1 to 2 weeks); ten days lie in the middle. Others: 3 to 6
# days (UMass/UConn 2016), 7 (Delaware), about 14 (Hennepin), at least 14 (California). No source
# prints another length for hardy plants than for tender ones.
MOST_DAYS: Final = 14
USUAL_DAYS: Final = 10
LEAST_DAYS: Final = 7
# It never takes more than half of the time that the plants have: common practice, no source.
_SHARE_OF_GROWING_ON: Final = 0.5

# First day: 1 h (Hennepin), 2 to 3 h (Growing Gardens, weak), 3 to 4 h (Beltrami Master Gardeners).
_FIRST_HOURS: Final = 2.0
# 1 to 2 h more each day (Beltrami), until it is a whole day (Hennepin): 1 h more in ten days,
# 1.5 h more in seven.
_WHOLE_DAY_HOURS: Final = 11.0
# The night on day 8 (Following the Master Gardener 2013, weak), last of all in every source.
_NIGHTS_SHARE: Final = 0.3
# In the shade first, full sun after about a week (Beltrami, California); how long half sun lasts
# between them: common practice, no source.
_SHADE_SHARE: Final = 0.3

_MARYLAND = (
    "University of Maryland Extension, Hardening Vegetable Seedlings for the Home Garden, 2023"
)
_CALIFORNIA = "California Master Gardener Handbook, 2nd ed. (University of California ANR)"
_HENNEPIN = (
    "Hennepin County Master Gardeners (University of Minnesota Extension), "
    "Start hardening off your vegetables now, 2014"
)
_DELAWARE = "Ernest E., University of Delaware Cooperative Extension, hardening off transplants"
_DELAWARE_WIND = (
    "Johnson G., University of Delaware Cooperative Extension, wind damage to new transplants, "
    "https://sites.udel.edu/weeklycropupdate/?p=5658"
)
_WASHINGTON = (
    "Washington County Master Gardeners (University of Minnesota Extension), "
    "Can I Start My Seeds Yet?"
)
_MICHIGAN = (
    "Phillips B., Michigan State University Extension, Recent frost advisories are relevant for "
    "late-season vegetables, 2014"
)
_IOWA = (
    "Iowa State University Extension and Outreach, When should I plant cool-season annuals?, n.d."
)
_GROWING_GARDENS = "Growing Gardens, Guide to Hardening-off (a seed merchant's instructions)"
_BELTRAMI = "Beltrami Master Gardeners (University of Minnesota Extension), bemidjipioneer.com"
_RAIN_INDICES = "R10mm and R20mm, heavy and very heavy days of the ETCCDI climate indices"

# What the steps rest on, for a face to show.
STEPS_SOURCES: Final = (_MARYLAND, _HENNEPIN, _BELTRAMI, _CALIFORNIA)
STEPS_BASIS: Final = "between sources that differ: 3 to 14 days, 1 to 4 h on the first"


class Step(Struct, frozen=True):
    """What plants get on one day of hardening off.

    Attributes:
        hours: Hours out by day.
        light: Where.
        night: Whether they stay out for the night too.
    """

    hours: float
    light: Light
    night: bool


class Limit(Struct, frozen=True):
    """A figure of cold, wind or rain, and how far to trust it.

    Attributes:
        value: °C, m/s or mm a day, as it is used.
        basis: How far to trust it; a night limit bars only where it is `source`, else it advises.
        sources: In words.
    """

    value: float
    basis: LimitBasis
    sources: tuple[str, ...]


class Limits(Struct, frozen=True):
    """What a crop withstands while it is hardened off.

    Attributes:
        day_counts: By day it has to be as warm as this for the day to count whole, °C.
        day_held: Colder than this by day and plants stay in, °C.
        night: Nights below this are spent in until hardening off is done, °C; as good as its basis.
        hardened_night: Nights that plants stand once it is done, °C.
        wind: Mean wind of a windy day, m/s.
        stays_in_on_windy_days: Tender plants stay in, others get half a day of it.
    """

    day_counts: Limit
    day_held: Limit
    night: Limit
    hardened_night: Limit
    wind: Limit
    stays_in_on_windy_days: bool

    @property
    def nights_harden(self) -> bool:
        """Whether it stands colder nights once it is hardened; else no step waits for a night."""
        return self.hardened_night.value < self.night.value


class DayWeather(Struct, frozen=True):
    """What is forecast or measured of a day; None where nothing says.

    Attributes:
        tmin_c: Lowest temperature, °C.
        tmax_c: Highest, °C.
        wind_ms: Mean wind, m/s.
        gust_ms: Strongest gust, m/s.
        rain_mm: Rain, mm.
    """

    tmin_c: float | None = None
    tmax_c: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    rain_mm: float | None = None


class Meets(Struct, frozen=True):
    """One thing in a day's weather that speaks against it."""

    what: Met
    value: float
    limit: Limit
    counts: Counts


# "Brought in when freezing is expected"; the figure is the freezing point itself.
FREEZING: Final = Limit(0.0, "source", (_DELAWARE,))
# No source prints a safe wind. With gusts over 30 mph (13.4 m/s) and a mean of 12 mph (5.4 m/s) new
# transplants were badly hurt; that a day is windy from there on is read from that one event.
GUSTS: Final = Limit(13.4, "source", (_DELAWARE_WIND, _DELAWARE))
_WIND_WEAK: Final = Limit(5.4, "weak", (_DELAWARE_WIND,))
_WIND_TENDER: Final = Limit(5.4, "weak", (_MARYLAND, _CALIFORNIA, _DELAWARE_WIND))
# "Shelter from wind and hard rain" names no amount; the indices (from memory) do.
HARD_RAIN: Final = Limit(10.0, "memory", (_GROWING_GARDENS, _RAIN_INDICES))
DOWNPOUR: Final = Limit(20.0, "memory", (_GROWING_GARDENS, _RAIN_INDICES))

_WARM_DAY: Final = Limit(10.0, "source", (_HENNEPIN,))  # "in the 50s F or better"
_NOT_OUT_BELOW: Final = Limit(7.2, "source", (_MARYLAND, _CALIFORNIA))  # 45 °F, tender seedlings
_COOL_DAY: Final = Limit(7.2, "source", (_CALIFORNIA,))  # begins at 45 to 50 °F

# Nights of plants whose own figure nobody prints, by class; those that are printed for a crop
# stand in the crop table. While they are being hardened off:
_NIGHTS_UNHARDENED: Final[dict[Hardiness, Limit]] = {
    "hardy": Limit(4.4, "weak", (_GROWING_GARDENS,)),  # 40 °F; freezing hurts it (Maryland)
    "half_hardy": Limit(7.2, "weak", (_GROWING_GARDENS,)),  # 45 °F
    "tender": Limit(10.0, "relative", (_WASHINGTON,)),  # 50 °F: tomato, pepper
    "very_tender": Limit(10.0, "relative", (_MARYLAND,)),  # 50 °F: cucumber, melon
}
# Once they are hardened. Light frost is printed for most hardy vegetables and cool-season annuals
# at 28 °F; for half-hardy plants common practice is no frost. Tender ones gain nothing.
_NIGHTS_HARDENED: Final[dict[Hardiness, Limit]] = {
    "hardy": Limit(-2.2, "relative", (_MICHIGAN, _IOWA)),
    "half_hardy": Limit(0.0, "memory", ()),
    "tender": _NIGHTS_UNHARDENED["tender"],
    "very_tender": _NIGHTS_UNHARDENED["very_tender"],
}


def days_of_hardening(growing_on_days: float) -> tuple[float, float, float]:
    """Longest, usual and shortest length in days, for plants with so many days from emergence."""
    most = _SHARE_OF_GROWING_ON * growing_on_days
    return min(MOST_DAYS, most), min(USUAL_DAYS, most), min(LEAST_DAYS, most)


@lru_cache(maxsize=64)
def steps(days: int) -> tuple[Step, ...]:
    """The days of hardening off: longer each day, from shade to sun, the nights last.

    Args:
        days: How many, at least 2.

    Raises:
        ValueError: Fewer than 2.
    """
    if days < 2:
        raise ValueError(f"hardening off takes at least 2 days, not {days}")
    nights = max(round(_NIGHTS_SHARE * days), 1)
    shade = max(round(_SHADE_SHARE * days), 1)
    more = (_WHOLE_DAY_HOURS - _FIRST_HOURS) / (days - 1)
    return tuple(
        Step(
            hours=round(2 * (_FIRST_HOURS + more * number)) / 2,
            light="shade" if number < shade else "sun" if number >= days - nights else "half sun",
            night=number >= days - nights,
        )
        for number in range(days)
    )


def limits_of(
    hardiness: Hardiness, unhardened: Limit | None = None, hardened: Limit | None = None
) -> Limits:
    """What plants of a hardiness withstand.

    Args:
        hardiness: Their class.
        unhardened: Nights that are printed for the crop itself while it is being hardened off.
        hardened: The same once it is hardened.
    """
    tender = hardiness in {"tender", "very_tender"}
    return Limits(
        day_counts=_WARM_DAY if tender else _COOL_DAY,
        day_held=_NOT_OUT_BELOW if tender else FREEZING,
        night=unhardened or _NIGHTS_UNHARDENED[hardiness],
        hardened_night=hardened or _NIGHTS_HARDENED[hardiness],
        wind=_WIND_TENDER if tender else _WIND_WEAK,
        stays_in_on_windy_days=tender,
    )


def judge_day(weather: DayWeather, limits: Limits) -> tuple[Counts | None, tuple[Meets, ...]]:
    """Whether plants go out by day: the hours are judged by the day's highest temperature.

    Args:
        weather: The day's.
        limits: What the crop withstands.

    Returns:
        `out`, `half` (out, and the day counts half) or `held`; None where nothing holds the plants
        in and the day's temperature is not known. Then what speaks against it, the worst first.
    """
    met = sorted(_met(weather, limits), key=lambda limit: limit.counts != "held")
    if any(limit.counts == "held" for limit in met):
        return "held", tuple(met)
    if weather.tmax_c is None:
        return None, tuple(met)
    return ("half" if met else "out"), tuple(met)


def _met(weather: DayWeather, limits: Limits) -> list[Meets]:
    found: list[Meets] = []
    warm, gust, wind, rain = weather.tmax_c, weather.gust_ms, weather.wind_ms, weather.rain_mm
    if warm is not None and warm < limits.day_held.value:
        found.append(Meets("cold day", warm, limits.day_held, "held"))
    elif warm is not None and warm < limits.day_counts.value:
        found.append(Meets("cool day", warm, limits.day_counts, "half"))
    if gust is not None and gust >= GUSTS.value:
        found.append(Meets("gusts", gust, GUSTS, "held"))
    if wind is not None and wind >= limits.wind.value:
        counts: Counts = "held" if limits.stays_in_on_windy_days else "half"
        found.append(Meets("wind", wind, limits.wind, counts))
    if rain is not None and rain >= DOWNPOUR.value:
        found.append(Meets("downpour", rain, DOWNPOUR, "held"))
    elif rain is not None and rain >= HARD_RAIN.value:
        found.append(Meets("hard rain", rain, HARD_RAIN, "half"))
    return found


def night_against(tmin_c: float, limits: Limits) -> Limit | None:
    """The limit that a night falls below, if any; only one with a `source` keeps plants in.

    Frost is one for every plant: what is being hardened off comes in when freezing is expected.
    """
    if tmin_c <= FREEZING.value:
        return FREEZING
    return limits.night if tmin_c < limits.night.value else None
