"""One million logger readings: read and screened, and the whole import, against pandas alone.

By hand: `python benchmarks/readings.py [rows]`. The sides are timed in turn, the ratios count.
"""

import io
import random
import sys
from collections.abc import Callable
from datetime import datetime, timedelta
from time import perf_counter

import pandas as pd

from seedstart.season.loggers.logger_file import to_tidy, understand
from seedstart.season.loggers.series import Readings, marked, new_rows
from seedstart.season.loggers.sources import Answers
from seedstart.season.loggers.tidy_file import read_tidy, write_tidy

STATIONS = ("heat mat", "shelf 1", "shelf 2", "window sill")
ROUNDS = 5
READ_BAR, IMPORT_BAR = 2.0, 6.0


def values(rows: int, seed: int) -> list[str]:
    """A medium that wanders between 18 and 26 °C."""
    chance, warm, found = random.Random(seed), 22.0, []
    for _ in range(rows):
        warm = min(max(warm + chance.uniform(-0.05, 0.05), 18.0), 26.0)
        found.append(f"{warm:.2f}")
    return found


def several_sensors(rows: int) -> bytes:
    """A row a sensor every minute, ISO stamps."""
    start, found = datetime(2025, 1, 1), ["time,sensor,soil temperature °C"]  # noqa: DTZ001
    stamps = [
        (start + timedelta(minutes=minute)).isoformat() for minute in range(rows // len(STATIONS))
    ]
    walks = [values(len(stamps), seed) for seed in range(len(STATIONS))]
    for place, stamp in enumerate(stamps):
        found += [f"{stamp},{s},{walk[place]}" for s, walk in zip(STATIONS, walks, strict=True)]
    return "\n".join(found).encode()


def one_sensor(rows: int) -> bytes:
    """A row every twenty seconds, day first, decimal commas."""
    start, found = datetime(2025, 1, 1), ["Zeit;Boden heat mat (°C)"]  # noqa: DTZ001
    for place, value in enumerate(values(rows, 7)):
        stamp = start + timedelta(seconds=20 * place)
        found.append(f"{stamp:%d.%m.%Y %H:%M:%S};{value.replace('.', ',')}")
    return "\n".join(found).encode()


def typed(data: bytes, *, long: bool) -> Callable[[], object]:
    """What pandas alone needs, told the type of every column."""
    types = {"time": "str", "sensor": "category", "value": "float64"} if long else None
    names = list(types) if types else ["time", "value"]
    return lambda: pd.read_csv(
        io.BytesIO(data),
        sep="," if long else ";",
        decimal="." if long else ",",
        header=0,
        names=names,
        dtype=types or {"time": "str", "value": "float64"},
        keep_default_na=False,
    )


def read_and_screen(data: bytes) -> Readings:
    understood = understand(data, "logger.csv", "UTC", Answers(), STATIONS)
    return marked(to_tidy(understood))


def whole_import(data: bytes) -> bytes:
    return write_tidy(new_rows({}, read_and_screen(data)), "UTC")


def timed(work: Callable[[], object]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def compare(name: str, data: bytes, *, long: bool) -> None:
    alone = typed(data, long=long)
    rounds = [
        (timed(alone), timed(lambda: read_and_screen(data)), timed(lambda: whole_import(data)))
        for _ in range(ROUNDS)
    ]
    pandas_s, read_s, import_s = (min(seconds) for seconds in zip(*rounds, strict=True))
    print(
        f"{name}: pandas alone {pandas_s:.2f} s; read and screened {read_s:.2f} s,"
        f" ratio {read_s / pandas_s:.2f}, limit {READ_BAR:g}; whole import {import_s:.2f} s,"
        f" ratio {import_s / pandas_s:.2f}, limit {IMPORT_BAR:g}"
    )


def main(rows: int = 1_000_000) -> None:
    several, one = several_sensors(rows), one_sensor(rows)
    compare("four sensors, ISO stamps", several, long=True)
    compare("one sensor, day first, decimal commas", one, long=False)
    tidy = b"\n".join(whole_import(several).split(b"\n")[:100_001])
    seconds = min(timed(lambda: read_tidy(tidy, "tidy.csv")) for _ in range(ROUNDS))
    print(f"tidy file of 100 000 rows in plain Python {seconds * 1000:.0f} ms")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
