"""A nursery's season for the benchmarks: 500 lots, 100 000 entries; invented, always the same."""

import random
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Covered,
    Entry,
    Noted,
    Read,
    Sown,
    Watered,
)
from seedstart.season.journal.entry import next_id
from seedstart.season.journal.journal_lines import encode, stamped

TODAY = datetime(2027, 4, 10, 23, 59, 59, tzinfo=ZoneInfo("Europe/Vienna"))
_CROPS = (
    "leek", "onion", "celery", "parsley", "pepper", "tomato", "basil", "lettuce", "cabbage",
    "broccoli", "kale", "petunia", "snapdragon", "pansy", "zinnia", "marigold",
)  # fmt: skip
_STATIONS = 10
_TRAYS = 120


def nursery(folder: Path, lots: int = 500, entries: int = 100_000) -> Path:
    """Write the season into an empty folder, and give the folder back."""
    folder.mkdir(parents=True, exist_ok=True)
    stations = "".join(
        f'[[station]]\nname = "bench {number}"\nkind = "{"mat" if number < 3 else "bench"}"\n'
        f'expected = "{"24C" if number < 3 else "18C"}"\n'
        for number in range(_STATIONS)
    )
    (folder / "season.toml").write_text(
        'title = "A nursery (invented)"\ntimezone = "Europe/Vienna"\n'
        f"[frost]\nlast = 2027-05-12\n{stations}"
    )
    (folder / "lots.toml").write_text("".join(_lot(number) for number in range(lots)))
    (folder / "journal").mkdir(exist_ok=True)
    acts = sorted(_acts(lots, entries), key=lambda act: act[0])
    last, lines = None, []
    draw = random.Random(7)
    for at, draft in acts:
        last = next_id(last, round(at.timestamp() * 1000), draw.randbytes(10))
        lines += stamped([draft], [last], at, "bench")
    (folder / "journal" / "bench.jsonl").write_bytes(encode(lines))
    return folder


def _lot(number: int) -> str:
    crop = _CROPS[number % len(_CROPS)]
    return (
        f'[[lot]]\nname = "{crop}-{number}"\ncrop = "{crop}"\nwant = 24\n'
        f'station = "bench {number % _STATIONS}"\n'
    )


def _acts(lots: int, entries: int) -> Iterator[tuple[datetime, Entry]]:
    """Sowings over ten weeks, counts and water since; readings by hand; the rest are notes."""
    draw = random.Random(1)
    written = 0
    for number in range(lots):
        name = f"{_CROPS[number % len(_CROPS)]}-{number}"
        at = TODAY - timedelta(days=draw.randrange(3, 70), hours=draw.randrange(8, 14))
        tray = f"tray {number % _TRAYS}"
        station = f"bench {number % _TRAYS % _STATIONS}"
        yield at, Sown(**BLANK, sowing=name, lot=name, seeds=40, tray=tray, station=station)
        yield at + timedelta(minutes=5), Covered(**BLANK, tray=tray)
        up, days = 0, (TODAY - at).days
        written += 2
        for day in range(8, days, 2):
            up = min(up + draw.randrange(0, 8), 34)
            yield at + timedelta(days=day), Counted(**BLANK, sowing=name, standing=up)
            written += 1
        for day in range(1, days):
            yield at + timedelta(days=day, minutes=3), Watered(**BLANK, tray=tray)
            written += 1
    begun = TODAY - timedelta(days=70)
    for number in range(_STATIONS * 140):  # twice a day at each station
        c = 18 + draw.random() + (5 if number % _STATIONS < 3 else 0)
        station = f"bench {number % _STATIONS}"
        at = begun + timedelta(hours=12 * (number // _STATIONS))
        yield at, Read(**BLANK, station=station, quantity="soil_c", value=round(c, 1))
    left = entries - written - _STATIONS * 140
    for number in range(left):
        at = begun + timedelta(days=70) * (number / left)
        yield at, Noted(**BLANK, tray=f"tray {number % _TRAYS}", text="moist, nothing to do")
