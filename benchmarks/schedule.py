"""10 000 lots scheduled against 1 000, in process; and a cold calendar of the sample season."""

import sys
from datetime import date
from time import perf_counter

from ratio import BARE_LIBRARIES, ratio

from seedstart import disk
from seedstart.crop_table.load import load_crops
from seedstart.planning.calendar.season_rows import season_rows
from seedstart.season.plan.season_file import Season, read_season

TODAY = date(2027, 1, 2)
HEAD = b"""
title = "bench"
timezone = "Europe/Vienna"
work_days = ["wed", "sat"]
away = [["2027-03-20", "2027-03-28"]]
[frost]
last = 2027-05-12
tender_risk_percent = 10
[[station]]
name = "mat"
kind = "mat"
expected = "24C"
[[station]]
name = "shelf"
kind = "shelf"
expected = "21C day, 16C night"
"""


def season_of(count: int) -> Season:
    """So many lots over all crops and two stations."""
    crops = load_crops(disk.read_folder(disk.shipped("crops"), ".toml"))
    names = [crop.name for crop in crops.crops.values() if crop.weeks_before_last_frost]
    lots = "".join(
        f'[[lot]]\nname = "lot {n} x"\ncrop = "{names[n % len(names)]}"\nwant = {n % 60 + 6}\n'
        f'station = "{"mat" if n % 3 else "shelf"}"\n'
        for n in range(count)
    )
    return read_season(HEAD, lots.encode(), crops)


def seconds(season: Season) -> float:
    """Best of three."""
    best = float("inf")
    for _ in range(3):
        start = perf_counter()
        rows = season_rows(season, TODAY)
        best = min(best, perf_counter() - start)
        assert any(row.sow_day and row.sow_day > date(2027, 1, 1) for row in rows)
    return best


if __name__ == "__main__":
    small, large = season_of(1_000), season_of(10_000)
    one, ten = seconds(small), seconds(large)
    print(f"1 000 lots {one:.2f} s, 10 000 lots {ten:.2f} s, ratio {ten / one:.1f}, limit 12")
    command = [sys.executable, "-m", "seedstart", "calendar", "--season", "sample_season"]
    ratio("calendar of the sample season", command, BARE_LIBRARIES, 2.5)
