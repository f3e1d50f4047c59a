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

# What the spring of 2026 brought, day by day from 25 March: lowest and highest °C, mean wind and
# gusts m/s, rain mm, hours of sun. A cold spell with a storm comes on 12 April, when the first
# trays are out by day. From ten days before the first hardening off until all of it is set out.
_FIRST = date(2026, 3, 25)
_SPRING = (
    (-4, 3, 4, 9, 0, 4), (-2, 5, 3, 7, 0, 5), (-5, 4, 2, 5, 0, 7), (-3, 6, 2, 5, 0, 7),
    (-1, 7, 3, 8, 2, 2), (-2, 6, 4, 9, 1, 3), (-4, 4, 3, 7, 0, 6),
    (-3, 5, 3, 7, 0, 6), (-2, 6, 3, 6, 0, 5), (-1, 7, 4, 8, 1, 3), (0, 8, 3, 7, 0, 6),
    (1, 9, 2, 5, 0, 8), (0, 9, 3, 6, 0, 7), (2, 10, 3, 7, 2, 3), (3, 11, 2, 5, 0, 8),
    (3, 12, 2, 5, 0, 9), (3, 12, 2, 5, 0, 8), (5, 14, 2, 4, 0, 9),
    (-1, 6, 7, 14, 4, 1), (0, 7, 3, 6, 0, 5), (3, 11, 2, 4, 0, 8),
    (4, 13, 2, 5, 0, 9), (6, 15, 2, 3, 3, 5), (7, 15, 2, 4, 0, 8),
    (8, 16, 2, 4, 0, 9), (8, 17, 2, 4, 0, 10), (7, 16, 3, 6, 0, 9),
    (6, 15, 3, 7, 1, 6), (6, 15, 2, 5, 0, 9), (7, 16, 2, 5, 0, 9),
    (7, 17, 2, 5, 0, 9), (8, 17, 2, 5, 0, 9), (8, 18, 2, 5, 0, 9),
    (8, 18, 2, 5, 2, 6), (7, 17, 2, 5, 0, 8), (8, 18, 2, 5, 0, 9),
    (9, 19, 2, 5, 0, 9),
    (10, 20, 2, 5, 0, 10), (9, 18, 3, 6, 4, 3), (7, 15, 3, 7, 1, 5), (6, 15, 2, 5, 0, 9),
    (8, 17, 2, 5, 0, 10), (9, 19, 2, 4, 0, 10), (10, 20, 2, 4, 0, 11), (10, 21, 2, 5, 0, 11),
)  # fmt: skip
_ISSUES, _AHEAD = 36, 9


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
    rows += [f"{_day(place)},{_SPRING[place][0]},{_SPRING[place][1]}" for place in range(_ISSUES)]
    return "\n".join(rows) + "\n"


def _forecasts() -> str:
    """A forecast each morning at six: the farther ahead, the milder than it comes."""
    rows = [f"{_INVENTED}issued,date,tmin_c,tmax_c,wind_ms,gust_ms,rain_mm,sun_h"]
    for issued in range(_ISSUES):
        for place in range(issued, min(issued + _AHEAD + 1, len(_SPRING))):
            low, high, *rest = _SPRING[place]
            off = (place - issued) // 4
            more = ",".join(map(str, rest))
            rows.append(f"{_day(issued)}T06:00,{_day(place)},{low + off},{high + off},{more}")
    return "\n".join(rows) + "\n"


def _day(place: int) -> date:
    return _FIRST + timedelta(days=place)
