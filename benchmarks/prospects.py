"""Simulated lots, 1000 a setting: do the intervals hold, and is `sow again` told rightly?

By hand: `python benchmarks/prospects.py [lots]`; of fewer lots a dozen are told in some settings,
and one more or less is one in ten of them. The settings: the speed as the program believes it to
be, and at 1.0, 1.3, 1.6 and 2.0 times the table; counted daily and every third day; lots as it
believes them to be, some dead and some with any share among them, and lots that are all as their
packet says; a grower who digs a few up when told to; a packet that promises 25 points too much;
lots of 30 % where 60 % are needed; lots sown so late that the time to sow again ends while they
come up.
"""

import sys
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from random import Random

from seasons import HEAD
from seedstart.growing.coming_up import coming_up
from simulated_lots import Score, Setting, Simulation, score

SPEEDS = (None, 1.0, 1.3, 1.6, 2.0)
LEAST_HELD, LEAST_HELD_WRONG_PACKET = 0.9, 0.75
MOST_NEEDLESS = 0.1
BAR_MS = 5.0


def told(name: str, found: Score, least: float) -> None:
    """One setting on one line, with what falls short marked."""
    falls_short = min(found.total, found.half) < least
    print(
        f"{name:<52} total {found.total:.3f} half {found.half:.3f}  sow again {found.again:>3}, "
        f"needless {found.needless:>2}, never told {found.untold:>2}, later than twice "
        f"{found.late:>2}{'  FALLS SHORT' if falls_short else ''}",
        flush=True,
    )


def milliseconds() -> float:
    """The mean of a prospect with all its counts new."""
    found, random = Simulation(Setting(None)), Random(3)
    drawn = [found.draw(random) for _ in range(30)]
    begun = process_time()
    for one in drawn:
        coming_up.cache_clear()
        found.prospect(one, range(1, 15))
    return 1000 * (process_time() - begun) / len(drawn)


def main() -> None:
    lots = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    print(f"a prospect takes {milliseconds():.1f} ms (limit {BAR_MS} ms)")
    for bad, kind in ((True, "as believed"), (False, "as the packet says")):
        again = needless = 0
        for every in (1, 3):
            for speed in SPEEDS:
                found = score(Setting(speed, every, bad=bad), lots)
                again, needless = again + found.again, needless + found.needless
                name = f"{kind}, speed {speed or 'as believed'}, every {every} d"
                told(name, found, LEAST_HELD)
        print(f"of those told to sow again needless: {needless} of {again} (at most one in ten)")
    for bad in (True, False):
        for every in (1, 3):
            found = score(Setting(None, every, bad=bad, digs=True), lots)
            kind = "as believed" if bad else "as the packet says"
            told(f"{kind}, a few are dug up when told, every {every} d", found, LEAST_HELD)
    again = needless = 0
    for at in ("3-28", "4-02", "4-07"):
        for every in (1, 3):
            found = score(Setting(None, every, bad=True), lots, head=HEAD, at=at)
            again, needless = again + found.again, needless + found.needless
            told(f"sown {at}, every {every} d", found, LEAST_HELD)
    print(f"where the time to sow again ends, needless: {needless} of {again}")
    for every in (1, 3):
        for speed in SPEEDS:
            found = score(Setting(speed, every, short=0.25), lots)
            name = f"25 points too much, speed {speed or 'as believed'}, every {every} d"
            told(name, found, LEAST_HELD_WRONG_PACKET)
    for every in (1, 3):
        for speed in SPEEDS:
            found = score(Setting(speed, every, share=0.3), lots)
            told(f"30 %, speed {speed or 'as believed'}, every {every} d", found, 0.0)


if __name__ == "__main__":
    main()
