"""Every call of the disk broken in every way, for each command that writes.

By hand: `python benchmarks/break_disk.py [command ...]`. It prints how many faults it made, and
stops at the first of which something untrue was said, or that a retry doubled.
"""

import os
import sys
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo

TESTS = Path(__file__).resolve().parent.parent / "tests"
sys.path.insert(0, str(TESTS))

from broken_disk import ACTS, FAULTS, crops_read_once, small_season, walk  # noqa: E402
from seedstart import clock  # noqa: E402

NOON = datetime(2027, 12, 31, 12, tzinfo=UTC)


def main(names: list[str]) -> None:
    clock.now = lambda zone: NOON.astimezone(ZoneInfo(zone))
    total = 0
    with TemporaryDirectory() as folder, crops_read_once():
        os.environ |= {"SEEDSTART_WRITER": "bench", "SEEDSTART_SETTINGS": f"{folder}/settings"}
        small_season(Path(folder) / "made")
        for name in names or ACTS:
            for fault in FAULTS:
                done = walk(Path(folder) / "made", Path(folder) / "place", ACTS[name], fault)
                print(f"{name}, {fault}: {done} faults", flush=True)
                total += done
    print(f"{total} faults: each told truly, and none doubled by a retry")


if __name__ == "__main__":
    main(sys.argv[1:])
