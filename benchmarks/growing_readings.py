"""One more row of a logger that has 500 000: until it is read, and until the next round stands.

By hand: `python benchmarks/growing_readings.py [rows]`. On a nursery's season of 500 lots and
100 000 entries; the rows of the last ten weeks in one file, of ten stations in turn, then all of
one station. Then all of them arrive at once, an hour turns and the plan is edited: how long a
thread takes over that, and how long the app itself at a stretch.
"""

import random
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from zoneinfo import ZoneInfo

from nursery import TODAY, nursery

from seedstart import clock
from seedstart.open_season import OpenSeason
from seedstart.season.loggers.tidy_file import HEADER

STATIONS = 10
WEEKS = timedelta(weeks=10)
ROUNDS = 15
BAR_MS = 100


def rows(count: int, stations: int) -> Iterator[str]:
    """The lines of a logger: each station in turn, a medium that wanders."""
    chance = random.Random(3)
    warm = [20.0 + (4.0 if station < 3 else -2.0) for station in range(stations)]
    steps = count // stations
    for step in range(steps):
        at = (TODAY - WEEKS + WEEKS * (step / steps)).astimezone(UTC)
        for station in range(stations):
            warm[station] = min(max(warm[station] + chance.uniform(-0.1, 0.1), 15.0), 27.0)
            yield row(at, station, warm[station])


def row(at: datetime, station: int, c: float) -> str:
    return f"{at.isoformat(timespec='seconds')},bench {station},soil_c,{c:.2f},\n"


def grown(count: int, stations: int) -> tuple[list[float], list[float]]:
    """Milliseconds of reading one more row, and of the round after it."""
    read, derived = [], []
    with TemporaryDirectory() as top:
        folder = nursery(Path(top) / "nursery")
        (folder / "readings").mkdir()
        path = folder / "readings" / "logger.csv"
        path.write_text(f"{HEADER}\n" + "".join(rows(count, stations)), "utf-8")
        clock.now = lambda zone: TODAY.astimezone(ZoneInfo(zone))
        opened = OpenSeason(folder, "bench")
        opened.round()
        for number in range(ROUNDS):
            at = (TODAY - timedelta(seconds=ROUNDS - number)).astimezone(UTC)
            with path.open("a", encoding="utf-8") as file:
                file.write(row(at, number % stations, 21.3))
            read.append(_ms(opened.catch_up))
            derived.append(_ms(opened.round))
    return read, derived


def arrived(count: int) -> tuple[float, float]:
    """Milliseconds of all rows at once: in a thread, and outside it until the round stands."""
    with TemporaryDirectory() as top:
        folder = nursery(Path(top) / "nursery")
        (folder / "readings").mkdir()
        clock.now = lambda zone: TODAY.astimezone(ZoneInfo(zone))
        opened = OpenSeason(folder, "bench")
        opened.round()
        text = f"{HEADER}\n" + "".join(rows(count, STATIONS))
        (folder / "readings" / "logger.csv").write_text(text, "utf-8")
        begin = perf_counter()
        work = opened.look_ahead()
        looked = perf_counter()
        take_in = work()
        taken = perf_counter()
        take_in()
        opened.round()
        return 1000 * (taken - looked), 1000 * (looked - begin + perf_counter() - taken)


def moved_on(count: int) -> dict[str, tuple[float, float]]:
    """Of another hour and another plan, milliseconds in a thread and the longest outside it."""
    found = dict[str, tuple[float, float]]()
    with TemporaryDirectory() as top:
        folder = nursery(Path(top) / "nursery")
        (folder / "readings").mkdir()
        text = f"{HEADER}\n" + "".join(rows(count, STATIONS))
        (folder / "readings" / "logger.csv").write_text(text, "utf-8")
        clock.now = lambda zone: TODAY.astimezone(ZoneInfo(zone))
        opened = OpenSeason(folder, "bench")
        opened.round()
        opened.catch_up(ahead=True)
        clock.now = lambda zone: (TODAY + timedelta(hours=1)).astimezone(ZoneInfo(zone))
        found["another hour"] = _ahead(opened)
        lots = folder / "lots.toml"
        lots.write_text(lots.read_text("utf-8").replace("want = 24", "want = 36", 1), "utf-8")
        found["another plan"] = _ahead(opened)
    return found


def _ahead(opened: OpenSeason) -> tuple[float, float]:
    steps = list[float]()
    steps.append(_ms(lambda: opened.catch_up(ahead=True)))
    begin = perf_counter()
    work = opened.look_ahead()
    looked = perf_counter()
    take_in = work()
    taken = perf_counter()
    take_in()
    opened.round()
    steps += [1000 * (looked - begin), 1000 * (perf_counter() - taken)]
    return 1000 * (taken - looked), max(steps)


def _ms(work: Callable[[], object]) -> float:
    begin = perf_counter()
    work()
    return 1000 * (perf_counter() - begin)


def main(count: int) -> None:
    for stations in (STATIONS, 1):
        read, derived = grown(count, stations)
        print(
            f"one more row of {count} at {stations}: read in {median(read):.1f} ms, the round "
            f"{median(derived):.0f} ms later (at most {max(derived):.0f}), goal {BAR_MS}"
        )
    there, here = arrived(count)
    print(f"all {count} at once: {there:.0f} ms in a thread, {here:.0f} outside it, goal {BAR_MS}")
    for what, (there, here) in moved_on(count).items():
        print(f"{what}: {there:.0f} ms in a thread, {here:.0f} at most outside it, goal {BAR_MS}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500_000)
