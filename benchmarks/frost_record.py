"""A 100-year record read, screened and answered, beside `pandas.read_csv` of the same file.

Both in this process, in turn, the best of each; starting Python and importing pandas are left out.
The limit is 6.
"""

from datetime import date
from io import BytesIO
from math import cos, pi
from random import Random
from time import perf_counter

import pandas as pd

from seedstart.growing.frost_record import frost_record
from seedstart.season.weather.weather_file import ReadOptions, read_weather

LIMIT = 6


def invented_record(elements: bool) -> bytes:
    """A hundred invented years from 1920: a swing of the year and days that hang together."""
    chance, first = Random(7), date(1920, 1, 1).toordinal()
    rows, away = ["date,tmin_c,tmax_c,wind_ms,rain_mm" if elements else "date,tmin_c"], 0.0
    for day in range(first, date(2020, 1, 1).toordinal()):
        away = 0.7 * away + chance.gauss(0, 2.5)
        low = 4 - 11 * cos(2 * pi * (day - first - 20) / 365.25) + away
        more = f",{low + 8:.1f},{chance.random() * 8:.1f},{chance.random() * 9:.1f}"
        rows.append(f"{date.fromordinal(day).isoformat()},{low:.1f}{more if elements else ''}")
    return ("\n".join(rows) + "\n").encode()


def answered(data: bytes) -> None:
    days = read_weather(data, "record.csv", options=ReadOptions(wanted=()))
    found = frost_record(days.minima)
    assert found.risk is not None
    assert found.risk.seasons == 100


def best(action: object, data: bytes, times: int = 9) -> float:
    seconds = []
    for _ in range(times):
        start = perf_counter()
        action(data)  # type: ignore[operator]
        seconds.append(perf_counter() - start)
    return min(seconds)


def main() -> None:
    """Print the ratio for a file of minima alone and for one with other elements beside them."""
    for elements in (False, True):
        data = invented_record(elements)
        ours = best(answered, data)
        bare = best(lambda one: pd.read_csv(BytesIO(one)), data)
        typed = best(lambda one: pd.read_csv(BytesIO(one), parse_dates=["date"]), data)
        print(
            f"{'five columns' if elements else 'minima alone'}: {1000 * ours:.0f} ms, "
            f"read_csv {1000 * bare:.1f} ms (with days read {1000 * typed:.1f}): "
            f"{ours / bare:.1f} times (with days read {ours / typed:.1f}), limit {LIMIT}"
        )


if __name__ == "__main__":
    main()
