"""The sample season's weather, all of it invented: thirty years of minima, a yard, forecasts.

The last frosts of the thirty springs are spread as the season has counted on since before the
record lay there: 18 May on average, and one year in ten still a frost after 4 June.
"""

from datetime import date, timedelta
from math import cos, pi
from random import Random
from statistics import NormalDist

SEED = 30_05
YEARS = range(1996, 2026)
_AVERAGE, _SPREAD = 138, 13.3  # 18 May, and days of standard deviation: 4 June at 10 %
_INVENTED = "# Invented: nobody ever measured this, and there is no such place.\n"

# What April 2026 brought: lowest and highest °C, mean wind and gusts m/s, rain mm, hours of sun. A
# cold spell with a storm comes on the 12th, when the first trays are out by day.
_APRIL = {
    1: (-3, 5, 3, 7, 0, 6), 2: (-2, 6, 3, 6, 0, 5), 3: (-1, 7, 4, 8, 1, 3), 4: (0, 8, 3, 7, 0, 6),
    5: (1, 9, 2, 5, 0, 8), 6: (0, 9, 3, 6, 0, 7), 7: (2, 10, 3, 7, 2, 3), 8: (3, 11, 2, 5, 0, 8),
    9: (3, 12, 2, 5, 0, 9), 10: (3, 12, 2, 5, 0, 8), 11: (5, 14, 2, 4, 0, 9),
    12: (-1, 6, 7, 14, 4, 1), 13: (0, 7, 3, 6, 0, 5), 14: (3, 11, 2, 4, 0, 8),
    15: (4, 13, 2, 5, 0, 9), 16: (6, 15, 2, 3, 3, 5), 17: (7, 15, 2, 4, 0, 8),
    18: (8, 16, 2, 4, 0, 9), 19: (8, 17, 2, 4, 0, 10), 20: (7, 16, 3, 6, 0, 9),
    21: (6, 15, 3, 7, 1, 6), 22: (6, 15, 2, 5, 0, 9), 23: (7, 16, 2, 5, 0, 9),
    24: (7, 17, 2, 5, 0, 9), 25: (8, 17, 2, 5, 0, 9), 26: (8, 18, 2, 5, 0, 9),
    27: (8, 18, 2, 5, 2, 6), 28: (7, 17, 2, 5, 0, 8), 29: (8, 18, 2, 5, 0, 9),
    30: (9, 19, 2, 5, 0, 9),
}  # fmt: skip
_FIRST_ISSUE, _LAST_ISSUE, _AHEAD = 1, 21, 9


def weather_files() -> dict[str, bytes]:
    """The files by their path inside the season."""
    return {
        "weather/minima.csv": _minima().encode(),
        "weather/yard.csv": _yard().encode(),
        "weather/forecast.csv": _forecasts().encode(),
    }


def _minima() -> str:
    """Daily minima: a swing of the year, days that hang together, and each spring's last frost."""
    chance = Random(SEED)
    count = len(YEARS)
    normal = NormalDist(_AVERAGE, _SPREAD)
    frosts = [round(normal.inv_cdf((place + 0.625) / (count + 0.25))) for place in range(count)]
    chance.shuffle(frosts)
    rows, away = [f"{_INVENTED}date,tmin_c"], 0.0
    for year, frost in zip(YEARS, frosts, strict=True):
        day = date(year, 1, 1)
        while day.year == year:
            number = (day - date(year, 1, 1)).days + 1 - (day > date(year, 2, 28) and year % 4 == 0)
            away = 0.75 * away + chance.gauss(0, 2.2)
            low = 1.5 - 10.5 * cos(2 * pi * (number - 25) / 365.25) + away
            if number == frost:
                low = -abs(low) / 4 - 0.2
            elif frost < number <= 212:
                low = max(low, 0.4 + chance.random())
            rows.append(f"{day},{low:.1f}")
            day += timedelta(days=1)
    return "\n".join(rows) + "\n"


def _yard() -> str:
    """What the thermometer in the yard showed, a line a morning."""
    rows = [f"{_INVENTED}date,tmin_c,tmax_c"]
    rows += [f"2026-04-{day:02},{low},{high}" for day, (low, high, *_) in _APRIL.items()]
    return "\n".join(rows[: _LAST_ISSUE + 1]) + "\n"


def _forecasts() -> str:
    """A forecast each morning at six: the farther ahead, the milder than it comes."""
    rows = [f"{_INVENTED}issued,date,tmin_c,tmax_c,wind_ms,gust_ms,rain_mm,sun_h"]
    for issued in range(_FIRST_ISSUE, _LAST_ISSUE + 1):
        for day in range(issued, min(issued + _AHEAD, 30) + 1):
            low, high, *rest = _APRIL[day]
            off = (day - issued) // 4
            more = ",".join(map(str, rest))
            rows.append(
                f"2026-04-{issued:02}T06:00,2026-04-{day:02},{low + off},{high + off},{more}"
            )
    return "\n".join(rows) + "\n"
