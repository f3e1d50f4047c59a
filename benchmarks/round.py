"""The round on a nursery's season of 500 lots and 100 000 entries, against decoding its journal.

By hand: `python benchmarks/round.py`. Process start apart; the sides are timed in turn and the
ratio of the medians counts. Then what a tick costs, written and derived, its sync included.
"""

from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from time import perf_counter

from nursery import TODAY, nursery

from seedstart.daily.answers import answer
from seedstart.daily.check_status import single_checks
from seedstart.growing.coming_up import coming_up
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.journal_lines import _DECODER

BAR = 6.0
ROUNDS = 7
TICKS = 100


def decode(data: bytes) -> float:
    """Seconds of the bare decoding."""
    start = perf_counter()
    entries = _DECODER.decode_lines(data)
    seconds = perf_counter() - start
    del entries
    return seconds


def whole(folder: Path) -> float:
    """Seconds from nothing to the round: a new process has reckoned no prospect yet."""
    coming_up.cache_clear()
    start = perf_counter()
    opened = OpenSeason(folder, "bench", TODAY.date())
    opened.round()
    seconds = perf_counter() - start
    del opened
    return seconds


def ticks(folder: Path) -> list[float]:
    """Seconds of ticks one after the other: written, synced, derived."""
    opened = OpenSeason(folder, "ticks", TODAY.date())
    checks = [one for one in single_checks(opened.round().checks) if one.tick and not one.done]
    seconds = []
    for check in checks[:TICKS]:
        start = perf_counter()
        drafts = answer(check, "", opened.known())
        if isinstance(drafts, Problem):
            raise TypeError(drafts)
        opened.record(*drafts)
        opened.round()
        seconds.append(perf_counter() - start)
    return seconds


def main() -> None:
    with TemporaryDirectory() as top:
        folder = nursery(Path(top) / "nursery")
        data = (folder / "journal" / "bench.jsonl").read_bytes()
        whole(folder)
        sides = [(decode(data), whole(folder)) for _ in range(ROUNDS)]
        decode_s, whole_s = (median(side) for side in zip(*sides, strict=True))
        print(
            f"decode {1000 * decode_s:.0f} ms, opened and round {1000 * whole_s:.0f} ms, "
            f"ratio {whole_s / decode_s:.2f} of {BAR}"
        )
        found = ticks(folder)
        print(
            f"a tick: median {1000 * median(found):.1f} ms, "
            f"95 % {1000 * quantiles(found, n=20)[-1]:.1f} ms"
        )


if __name__ == "__main__":
    main()
