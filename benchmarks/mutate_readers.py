"""Each reader on very many inputs with accidents in them: no traceback, no hang, bounded memory.

By hand: `python benchmarks/mutate_readers.py [inputs a reader] [first seed] [reader …]`. It prints
what it counted, and each fault with the seed that makes it again; it fails if there was one.
"""

import resource
import sys
from collections import Counter
from pathlib import Path
from time import perf_counter

sys.path[:0] = [str(Path(__file__).resolve().parent.parent / "tests")]

from mutated import a_trial, readers  # noqa: E402

LONGEST_S, MOST_MB = 2.0, 400


def main(inputs: int, first: int, names: list[str]) -> int:
    faults = 0
    for name in names or readers():
        seen: Counter[str] = Counter()
        longest, start = 0.0, perf_counter()
        for seed in range(first, first + inputs):
            data, trial = a_trial(name, seed)
            begun = perf_counter()
            try:
                trial()
            except Exception as error:  # noqa: BLE001 - any of them is what is looked for
                seen[_told(error)] += 1
                if seen[_told(error)] == 1:
                    print(f"  {name}, seed {seed}: {_told(error)}: {data[:200]!r}", flush=True)
            taken = perf_counter() - begun
            if taken > LONGEST_S:
                seen["hang"] += 1
                print(f"  {name}, seed {seed}: {taken:.1f} s: {data[:200]!r}", flush=True)
            longest = max(longest, taken)
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        if memory > MOST_MB:
            seen["memory"] += 1
        faults += seen.total()
        print(
            f"{name}: {inputs} inputs in {perf_counter() - start:.0f} s, {seen.total()} faults, "
            f"longest {longest:.2f} s, {memory:.0f} MB at most so far",
            flush=True,
        )
    return faults


def _told(error: Exception) -> str:
    place = error.__traceback__
    while place and place.tb_next:
        place = place.tb_next
    where = f"{place.tb_frame.f_code.co_name}:{place.tb_lineno}" if place else ""
    return f"{type(error).__name__} in {where}: {str(error)[:80]}"


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    first_seed = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    sys.exit(1 if main(count, first_seed, sys.argv[3:]) else 0)
