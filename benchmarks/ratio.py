"""Timing of whole processes in turn, so that a ratio holds on a busy machine too."""

import os
import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parent.parent
BARE_LIBRARIES = [sys.executable, "-c", "import rich.console, rich.table, msgspec, click"]


def seconds(command: list[str], folder: Path = ROOT) -> float:
    """Wall seconds of one cold process; its output is thrown away.

    Bytecode is kept, as it is on a grower's machine: the libraries have theirs from pip.
    """
    keep = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    start = perf_counter()
    subprocess.run(command, cwd=folder, check=True, capture_output=True, env=keep)
    return perf_counter() - start


def ratio(name: str, command: list[str], base: list[str], bar: float, rounds: int = 15) -> None:
    """Print the medians of both commands, run in turn, and their ratio against its bar."""
    seconds(command)  # bytecode is written once
    both = [(seconds(base), seconds(command)) for _ in range(rounds)]
    base_s, command_s = (median(side) for side in zip(*both, strict=True))
    print(
        f"{name}: {1000 * command_s:.0f} ms, base {1000 * base_s:.0f} ms, "
        f"ratio {command_s / base_s:.2f}, limit {bar:g}"
    )
