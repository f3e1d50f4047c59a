"""A journal of a million entries, read and folded, against the bare decoding of the same bytes.

By hand: `python benchmarks/fold_journal.py [entries]`. The sides are timed in turn and the ratios
of the medians count. Then: what one more entry costs in a season of 500 lots and 100 000 entries.
"""

import gc
import sys
from statistics import median
from time import perf_counter

from read_journal import BAR, ROUNDS, cases, sample_lines

from seedstart.crop_table.load import load_crops
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.journal.journal_lines import _DECODER, read_blocks
from seedstart.season.plan.season_file import Season, read_season
from seedstart.tracking.fold_journal import records, refold


def season() -> Season:
    """A season with the stations that the lines name."""
    stations = "".join(f'[[station]]\nname = "shelf {n}"\nkind = "shelf"\n' for n in range(8))
    return read_season(f'timezone = "Europe/Vienna"\n{stations}'.encode(), b"", load_crops({}))


def decode(files: list[bytes]) -> float:
    """Seconds of the bare decoding into the same structs."""
    start = perf_counter()
    entries = [_DECODER.decode_lines(data) for data in files]
    seconds = perf_counter() - start
    del entries
    return seconds


def fold(files: list[bytes], plan: Season) -> float:
    """Seconds of reading and folding."""
    start = perf_counter()
    journal = Journal()
    journal.read(*(Lines(f"journal/{number}.jsonl", data) for number, data in enumerate(files)))
    happened = records(journal, plan)
    seconds = perf_counter() - start
    del journal, happened
    return seconds


def one_more(plan: Season, entries: int = 100_000) -> None:
    """The median of what the last thousand lines cost, taken in one by one."""
    lines = sample_lines(entries).splitlines(keepends=True)
    journal = Journal()
    journal.read(Lines("journal/bench.jsonl", b"".join(lines[:-1000])))
    happened, seconds = records(journal, plan), []
    for line in lines[-1000:]:
        (block,) = read_blocks(line, "journal/bench.jsonl")
        start = perf_counter()
        happened = refold(happened, journal.take_in(block.entries), journal, plan)
        seconds.append(perf_counter() - start)
    worst = sorted(seconds)[-50]
    print(f"one more entry: median {median(seconds) * 1000:.2f} ms, 95 % {worst * 1000:.2f} ms")


def main(entries: int) -> None:
    gc.disable()
    plan = season()
    for name, files in cases(entries):
        sides = [(decode(files), fold(files, plan)) for _ in range(ROUNDS)]
        decode_s, fold_s = (median(side) for side in zip(*sides, strict=True))
        print(
            f"{name}: decode {decode_s:.2f} s, read and folded {fold_s:.2f} s, "
            f"ratio {fold_s / decode_s:.2f} of {BAR}"
        )
    one_more(plan)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
