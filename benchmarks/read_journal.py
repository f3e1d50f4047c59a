"""A journal of a million entries, read and laid out by subject, against the bare decoding.

By hand: `python benchmarks/read_journal.py [entries]`. The sides are timed in turn and the ratios
of the medians count. The bar for read *and folded* is 3.5: what is left is for the fold.
"""

import gc
import random
import sys
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from statistics import median
from time import perf_counter

from msgspec import json

from seedstart.season.journal.entry import next_id
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.journal.journal_lines import _DECODER

ROUNDS, BAR = 5, 3.5
LOTS, TRAYS, STATIONS = 500, 84, 8
CET = timezone(timedelta(hours=1))


def sample_lines(
    entries: int, seed: int = 1, by: str = "bench", lot: str = "lot", note: str = "a bit leggy"
) -> bytes:
    """A season as it is written: mostly counts and watering, a strike in a hundred lines."""
    chance = random.Random(seed)
    now, last, lines = datetime(2027, 2, 1, 8, tzinfo=CET), "", []
    for number in range(entries):
        now += timedelta(seconds=chance.randint(1, 20))
        id_ = next_id(last, int(now.timestamp() * 1000), chance.randbytes(10))
        kind, fields = _act(number, chance, lot, note, last)
        lines.append(json.encode({"kind": kind, "id": id_, "at": now, "by": by} | fields))
        last = id_
    return b"\n".join(lines) + b"\n"


def _act(
    number: int, chance: random.Random, lot: str, note: str, last: str
) -> tuple[str, dict[str, object]]:
    name = f"{lot}-{number if number < LOTS else chance.randrange(LOTS)}"
    tray, station = f"tray {chance.randrange(TRAYS)}", f"shelf {chance.randrange(STATIONS)}"
    if number < LOTS:
        return "sown", {"sowing": name, "lot": name, "seeds": 24, "station": station, "tray": tray}
    acts: list[tuple[int, str, dict[str, object]]] = [
        (50, "counted", {"sowing": name, "standing": chance.randrange(24)}),
        (25, "watered", {"tray": tray, "ml": 300}),
        (10, "read", {"station": station, "quantity": "soil_c", "value": chance.randrange(15, 25)}),
        (5, "moved", {"tray": tray, "station": station}),
        (5, "checked", {"check": f"look {name} {number % 20}"}),
        (4, "noted", {"text": f"{note}, turned the tray", "sowing": name}),
        (1, "struck", {"entry": last}),
    ]
    (chosen,) = chance.choices(acts, [weight for weight, *_ in acts])
    return chosen[1], chosen[2]


def cases(entries: int) -> Iterator[tuple[str, list[bytes]]]:
    """Journals of the same length: what is in them, and their files."""
    yield "one writer", [sample_lines(entries)]
    third = entries // 3
    yield "three writers", [sample_lines(third, seed, f"writer-{seed}") for seed in range(3)]
    yield "one writer, ö in every name", [sample_lines(entries, lot="möhre")]
    yield "one writer, quotes in the notes", [sample_lines(entries, note='a "bit" leggy')]
    yield "one writer, a conflict copy beside", [sample_lines(entries // 2)] * 2


def main(entries: int) -> None:
    gc.disable()
    for name, files in cases(entries):
        sides = [(_decode(files), _read(files)) for _ in range(ROUNDS)]
        decode_s, read_s = (median(side) for side in zip(*sides, strict=True))
        print(
            f"{name}: decode {decode_s:.2f} s, read and laid out {read_s:.2f} s, "
            f"ratio {read_s / decode_s:.2f} of {BAR}"
        )


def _decode(files: list[bytes]) -> float:
    """Seconds of the bare decoding of the same bytes into the same structs."""
    start = perf_counter()
    entries = [_DECODER.decode_lines(data) for data in files]
    seconds = perf_counter() - start
    del entries
    return seconds


def _read(files: list[bytes]) -> float:
    start = perf_counter()
    journal = Journal()
    journal.read(*(Lines(f"journal/{number}.jsonl", data) for number, data in enumerate(files)))
    return perf_counter() - start


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
