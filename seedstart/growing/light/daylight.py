"""Length of the day, and what a window may give: as far as anybody can say."""

from datetime import date
from math import acos, asin, cos, degrees, pi, radians, sin, tan
from typing import Final, NamedTuple

# The sun's upper edge on the horizon, its light bent by the air: the usual 34' + 16'.
_RISES_AT_DEG: Final = -0.833
_SOLAR_CONSTANT_W_M2: Final = 1361.0  # from memory
# Of what reaches the top of the air so much reaches the ground over a day: overcast to clear.
# Common practice, no source.
_CLEARNESS: Final = (0.2, 0.45, 0.7)
# Light of 400 to 700 nm in sunshine: 45 % of its energy (from memory) at 4.57 µmol/J (Thimijan &
# Heins 1983).
_MOL_PER_MJ: Final = 0.45 * 4.57


class Dose(NamedTuple):
    """A DLI that is hardly known: low, likely, high, mol m⁻² d⁻¹."""

    low: float
    likely: float
    high: float


def day_length_hours(latitude_deg: float, day: date) -> float:
    """Hours from sunrise to sunset.

    Args:
        latitude_deg: Degrees, south negative.
        day: Which.

    Raises:
        ValueError: A latitude outside -90 to 90.

    Source:
        cos w = (sin(-0.833°) - sin φ sin δ) / (cos φ cos δ); the sun's declination by the low
        precision formulas of the Astronomical Almanac (from memory).
    """
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"a latitude from -90 to 90; got {latitude_deg:g}")
    up, lean = sin(radians(latitude_deg)), cos(radians(latitude_deg))
    declination = _declination(day)
    if lean < 1e-9:  # at a pole it is light or dark for months
        return 24.0 if up * declination > 0 else 0.0
    edge = sin(radians(_RISES_AT_DEG)) - up * sin(declination)
    cosine = edge / (lean * cos(declination))
    return 24 * acos(min(max(cosine, -1.0), 1.0)) / pi


def outdoor_dli_mol(latitude_deg: float, day: date) -> Dose:
    """The DLI under the open sky, from an overcast day to a clear one.

    The sun outside the air is reckoned; what the air lets through is common practice, no source.
    """
    declination, latitude = _declination(day), radians(latitude_deg)
    cosine = -tan(min(max(latitude, -1.56), 1.56)) * tan(declination)
    w = acos(min(max(cosine, -1.0), 1.0))
    geometry = w * sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * sin(w)
    mj = max(_SOLAR_CONSTANT_W_M2 * 86_400 / pi * geometry, 0.0) / 1e6
    low, likely, high = (mj * share * _MOL_PER_MJ for share in _CLEARNESS)
    return Dose(low, likely, high)


def window_dli_mol(latitude_deg: float, day: date, share: float) -> Dose:
    """What reaches the leaf through a window: the grower's own guess of the share of daylight.

    No published figure of a sill's DLI was found; so the share is asked for, and the answer spans
    an overcast and a clear day.

    Raises:
        ValueError: A share outside 0 to 1.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"a share of the daylight from 0 to 1; got {share:g}")
    return Dose(*(one * share for one in outdoor_dli_mol(latitude_deg, day)))


def _declination(day: date) -> float:
    """The sun's declination at noon UTC, radians."""
    since_2000 = day.toordinal() - date(2000, 1, 1).toordinal()
    mean_longitude = radians((280.460 + 0.9856474 * since_2000) % 360)
    anomaly = radians((357.528 + 0.9856003 * since_2000) % 360)
    of_ellipse = 1.915 * sin(anomaly) + 0.020 * sin(2 * anomaly)
    longitude = radians(degrees(mean_longitude) + of_ellipse)
    obliquity = radians(23.439 - 0.0000004 * since_2000)
    return asin(sin(obliquity) * sin(longitude))
