"""A program that records in a season, to be killed: `ticking.py FOLDER WRITER`.

What was confirmed is printed, an id a line.
"""

import os
import sys
from itertools import count
from pathlib import Path

from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Noted


def main(folder: str, writer: str) -> None:
    season = OpenSeason(Path(folder), writer)
    for number in count():
        entries = season.record(
            Counted(**BLANK, sowing="leek", standing=number % 24),
            Noted(**BLANK, text=f"{writer} {number}", sowing="leek"),
        )
        os.write(1, "".join(f"{entry.id}\n" for entry in entries).encode())


if __name__ == "__main__":
    main(*sys.argv[1:])
