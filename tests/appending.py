"""A program that writes to a file, to be killed and crowded: `appending.py HOW PATH NAME MOST`.

Each line bears its writer, its number and 200 letters that depend on both, so that a line that is
half or mixed with another is known. What was confirmed is printed, a number a line.
"""

import os
import re
import sys
from pathlib import Path

from seedstart import disk


def line(writer: str, number: int) -> bytes:
    """The line of one act."""
    letters = (f"{writer}{number}," * 200)[:200]
    return f"{writer} {number} {letters}\n".encode()


def whole_lines(data: bytes) -> list[tuple[str, int]]:
    """Writer and number of each whole line; the others are left out."""
    found = []
    for text in data.split(b"\n"):
        parts = re.match(rb"(\w+) (\d+) ", text)
        if parts and text + b"\n" == line(parts[1].decode(), int(parts[2])):
            found.append((parts[1].decode(), int(parts[2])))
    return found


def append(path: Path, writer: str, number: int) -> None:
    disk.append(path, line(writer, number))


def change(path: Path, writer: str, number: int) -> None:
    disk.change_file(path, lambda old: old + line(writer, number))


def main(how: str, path: str, writer: str, most: str) -> None:
    act = {"append": append, "change": change}[how]
    for number in range(int(most)):
        act(Path(path), writer, number)
        os.write(1, f"{number}\n".encode())


if __name__ == "__main__":
    main(*sys.argv[1:])
