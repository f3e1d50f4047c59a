"""The app: its first rows against a bare Textual app, key to drawn tick, memory.

By hand: `python benchmarks/app.py`. Real processes under a pseudo-terminal, the two sides of the
ratio in turn. The ticks are made on a nursery's season of 500 lots and 100 000 entries, the disk's
sync among them.
"""

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from shutil import copytree
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from time import perf_counter, sleep

from nursery import TODAY, nursery
from ratio import ROOT

from seedstart.daily.check import Check
from seedstart.drawing.round_rows import OPEN
from seedstart.open_season import OpenSeason

ROUNDS = 15
TICKS = 80
APART_S = 0.08  # a held key repeats faster, and ticks once
ONE_FRAME_S = 0.003  # what is written without a longer pause is one frame
SAMPLE_DAY = date(2026, 4, 10)
HEAVY = ("pandas", "numpy", "scipy", "pendulum")
BARE = """
from textual.app import App
from textual.widgets import DataTable

class Bare(App):
    def compose(self):
        yield DataTable()

    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("where", "what", "due")
        for number in range(40):
            table.add_row(f"row {number}", "look for seedlings", "today")

Bare().run()
"""
# One row of a long list drawn again at a key, and nothing else done: what the machine allows.
BARE_LIST = """
from textual.app import App
from seedstart.app.line_list import LineList
from seedstart.drawing.lines import plain

class Bare(App):
    BINDINGS = [("space", "tick", "Tick")]
    ticked, rows = 0, [[f"row {number}"] for number in range(1000)]

    def compose(self):
        yield LineList(lambda row, width: plain(row[0]))

    def on_mount(self):
        self.query_one(LineList).show(self.rows)
        self.query_one(LineList).focus()

    def action_tick(self):
        self.rows[self.ticked % 10] = [f"row with tick {self.ticked}"]
        self.ticked += 1
        self.query_one(LineList).show(self.rows)

Bare().run()
"""
# Ends at its first rows, and says which of the heavy libraries were there by then.
TOLD = """
import sys
from datetime import date
from pathlib import Path
from seedstart.app.app import SeedstartApp

def told(self):
    lines = self.screen.query("#lines")
    if lines and lines.first().items:
        there = [name for name in sys.argv[4:] if name in sys.modules]
        Path(sys.argv[3]).write_text(" ".join(there))
        self.exit()

SeedstartApp.post_display_hook = told
SeedstartApp(Path(sys.argv[1]), "bench", date.fromisoformat(sys.argv[2])).run()
"""


class Terminal:
    """A process in a terminal of 120 columns and 40 rows."""

    def __init__(self, command: Sequence[str], home: Path) -> None:
        """Start it, with settings of its own."""
        own = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "XDG_CONFIG_HOME": str(home)}
        skip = {"PYTHONDONTWRITEBYTECODE", "NO_COLOR"}
        env = {name: value for name, value in os.environ.items() if name not in skip} | own
        self.began = perf_counter()
        self.pid, self.terminal = pty.fork()
        if self.pid == 0:
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
            os.execve(command[0], list(command), env)

    def output(self, patience_s: float) -> bytes:
        """What comes next; nothing once it ended or kept still so long."""
        ready, _, _ = select.select([self.terminal], [], [], patience_s)
        try:
            return os.read(self.terminal, 1 << 16) if ready else b""
        except OSError:  # it ended
            return b""

    def until(self, text: str) -> float:
        """Seconds from its start until it has written something."""
        seen = b""
        while text.encode() not in seen:
            more = self.output(30)
            if not more:
                raise TimeoutError(f"{text!r} never came; last was {seen[-300:]!r}")
            seen += more
        return perf_counter() - self.began

    def press(self, key: str) -> float:
        """Press a key; seconds until the frame that shows what it did is drawn."""
        begin = last = perf_counter()
        os.write(self.terminal, key.encode())
        patience_s = 5.0
        while self.output(patience_s):
            last, patience_s = perf_counter(), ONE_FRAME_S
        while self.output(APART_S):  # the reasons beside it come a frame later
            pass
        return last - begin

    def end(self) -> float:
        """End it; the most memory that it took, MB."""
        os.kill(self.pid, signal.SIGKILL)
        _, _, used = os.wait4(self.pid, 0)
        os.close(self.terminal)
        return used.ru_maxrss / (1 << 20 if sys.platform == "darwin" else 1 << 10)


def app(season: Path, day: date) -> list[str]:
    """The command that opens the app."""
    return [
        sys.executable, "-m", "seedstart", "--season", str(season), "--on", day.isoformat(),
    ]  # fmt: skip


def first_rows(home: Path) -> None:
    """The app on the sample season against a bare Textual app with one table."""
    season = Path(copytree(ROOT / "sample_season", home / "sample"))
    sides = {"row 1 ": [sys.executable, "-c", BARE], OPEN: app(season, SAMPLE_DAY)}
    found: dict[str, list[float]] = {mark: [] for mark in sides}
    for number in range(ROUNDS + 1):
        for mark, command in sides.items():
            process = Terminal(command, home)
            seconds = process.until(mark)
            process.end()
            if number:  # the first run writes bytecode
                found[mark].append(seconds)
    bare_s, app_s = (median(seconds) for seconds in found.values())
    print(
        f"first rows: {1000 * app_s:.0f} ms, bare app {1000 * bare_s:.0f} ms, "
        f"ratio {app_s / bare_s:.2f}, limit 2"
    )
    said = home / "heavy.txt"
    command = [sys.executable, "-c", TOLD, str(season), SAMPLE_DAY.isoformat(), str(said), *HEAVY]
    process = Terminal(command, home)
    while process.output(5):
        pass
    process.end()
    print(f"imported by then, of {', '.join(HEAVY)}: {said.read_text() or 'none'}")


def ticks(home: Path) -> None:
    """Key to drawn tick on the nursery's season, one check after the other; the memory."""
    season = nursery(home / "nursery")
    process = Terminal(app(season, TODAY.date()), home)
    first_s = process.until(OPEN)
    sleep(1)
    while process.output(APART_S):
        pass
    found = list(_ticked(process, season))
    mb = process.end()
    journals = [one for one in (season / "journal").iterdir() if one.name != "bench.jsonl"]
    lines = sum(one.read_bytes().count(b"\n") for one in journals)
    if lines != len(found):
        raise ValueError(f"{len(found)} keys were to write as many entries, and wrote {lines}")
    print(
        f"key to drawn tick, {len(found)} ticks: median {1000 * median(found):.1f} ms, limit 15; "
        f"95 % {1000 * quantiles(found, n=20)[-1]:.1f} ms, limit 50; "
        f"one row of a bare list at the same time: median {1000 * median(bare_ticks(home)):.1f} ms"
    )
    print(f"first rows of 500 lots and 100 000 entries: {1000 * first_s:.0f} ms; {mb:.0f} MB")


def bare_ticks(home: Path) -> list[float]:
    """Key to drawn row where nothing is recorded or derived."""
    process = Terminal([sys.executable, "-c", BARE_LIST], home)
    process.until("row 1")
    sleep(1)
    while process.output(APART_S):
        pass
    found = [process.press(" ") for _ in range(TICKS)]
    process.end()
    return found


def _ticked(process: Terminal, season: Path) -> Iterator[float]:
    """Seconds of each tick: line after line that gathers several is opened, and its parts ticked.

    The cursor begins at the first open check and goes on to the next open one after each tick.
    """
    watch = OpenSeason(season, "watch", TODAY.date())
    lines, made = watch.round().checks, 0
    at = _next_open(lines, 0)
    while made < TICKS:
        while not _opens(lines[at]):
            process.press("\x1b[B")
            at += 1
        process.press("\r")
        process.press("\x1b[B")
        for _ in lines[at].parts:
            yield process.press(" ")
            made += 1
        below = {check.key for check in lines[at + 1 :] if not check.done}
        watch.catch_up()
        lines = watch.round().checks
        at = next(row for row, check in enumerate(lines) if check.key in below and not check.done)


def _next_open(lines: Sequence[Check], row: int) -> int:
    return next(at for at in range(row, len(lines)) if not lines[at].done)


def _opens(line: Check) -> bool:
    """Whether it gathers checks that a tick alone answers."""
    return bool(line.parts) and not line.done and all(one.tick for one in line.parts)


def main() -> None:
    with TemporaryDirectory() as top:
        first_rows(Path(top))
        ticks(Path(top))


if __name__ == "__main__":
    main()
