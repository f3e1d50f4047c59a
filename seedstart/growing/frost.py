"""Last frost and risk: the normal curve that freeze tables are made with.

Plain Python: the calendar calls it.
"""

from typing import Final

# Between 13 and 19 days lie between the dates of 50 % and 10 % at six places whose published
# tables print both (median 17); NWS Wilmington's four stations have 12.8 to 15.3 days of standard
# deviation. Source: tests/reference/freeze_normals.csv. 17 / 1.2816 = 13.
STATION_SPREAD_DAYS: Final = 13.0


def days_after_average(risk_percent: float, spread_days: float = STATION_SPREAD_DAYS) -> float:
    """Days from the average last frost to the day that frosts outlast in `risk_percent` of years.

    Args:
        risk_percent: Share of years with a later frost, above 0 and below 100. 50 is the average.
        spread_days: Standard deviation of the date over the years.

    Returns:
        Days, negative for a risk above 50 %.

    Source:
        d_p = m + s z(1 - p): Thom & Shaw 1958, Mon. Wea. Rev. 86: 251-257 (citation from memory).
    """
    if risk_percent == 50:
        return 0.0
    from statistics import NormalDist  # 8 ms that an average date does not need

    return NormalDist(0, spread_days).inv_cdf(1 - risk_percent / 100)


def risk_percent_after(days: float, spread_days: float = STATION_SPREAD_DAYS) -> float:
    """Share of years, in percent, with a frost later than `days` after the average last frost."""
    from math import erfc, sqrt

    return 50 * erfc(days / spread_days / sqrt(2))
