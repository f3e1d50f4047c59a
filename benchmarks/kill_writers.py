"""Two writers of one file, one of them killed again and again: is every confirmed line there?

By hand: `python benchmarks/kill_writers.py [kills]`. It prints what it counted, and fails if a
confirmed line is lost or half, or any stands twice.
"""

import random
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

TESTS = Path(__file__).resolve().parent.parent / "tests"
sys.path.insert(0, str(TESTS))

import appending  # noqa: E402


def writer(path: Path, name: str, most: int) -> "subprocess.Popen[bytes]":
    command = [sys.executable, str(TESTS / "appending.py"), "append", str(path), name, str(most)]
    return subprocess.Popen(command, stdout=subprocess.PIPE)


def confirmed_before_the_kill(path: Path, name: str, lines: int) -> set[tuple[str, int]]:
    """What a writer printed before it was killed, some time after so many lines."""
    process = writer(path, name, 10**9)
    assert process.stdout is not None
    first = b"".join(process.stdout.readline() for _ in range(lines))
    process.kill()
    rest, _ = process.communicate()
    return {(name, int(number)) for number in (first + rest).split()}


def main(kills: int) -> None:
    chance = random.Random(1)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "bench.jsonl"
        steady = writer(path, "steady", kills * 50)
        confirmed: set[tuple[str, int]] = set()
        for kill in range(kills):
            confirmed |= confirmed_before_the_kill(path, f"w{kill}", chance.randint(1, 200))
        out, _ = steady.communicate()
        confirmed |= {("steady", int(number)) for number in out.split()}
        data = path.read_bytes()
    found = appending.whole_lines(data)
    torn = data.count(b"\n") - len(found)
    print(
        f"{kills} kills, {len(confirmed)} lines confirmed, {len(confirmed - set(found))} lost, "
        f"{len(found) - len(set(found))} twice, {torn} torn, "
        f"{len(set(found) - confirmed)} written but not confirmed"
    )
    assert confirmed <= set(found)
    assert len(found) == len(set(found))
    # A kill inside the write may leave a torn line: nobody was told that it was recorded.
    assert torn <= kills


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
