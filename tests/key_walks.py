"""Keys at random through the app, in bursts, while journals grow and files break beside it.

A walk is told by its seed. `python tests/key_walks.py [walks] [first seed]` does many of them by
hand, each on a fresh copy of the sample season.
"""

import asyncio
import random
import sys
import traceback
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from app_bench import LARGE, SMALL, QuickPilot, key_event, running, sample
from notebook import take_back
from seedstart.app.app import SeedstartApp
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Entry,
    Moved,
    Noted,
    Planned,
    Read,
    Sown,
    Watered,
)

KEYS: Final = (
    *list("rclshj") * 3, *["enter"] * 8, *["down"] * 8, *["up"] * 3, *["escape"] * 4,
    *"nwmpuazt=0159?befikoxyPZ/<>+-.", "space", "tab", "left", "right", "pagedown", "pageup",
    "home", "end", "backspace", "ctrl+n", "ctrl+p", "ctrl+s", "ctrl+t", "shift+left",
)  # fmt: skip
WORDS: Final = ("sow", "lemon", "leek-giant", "yesterday", "12, 9", "put off: 2 days", "tray 40")
SIZES: Final = (SMALL, (100, 30), LARGE, (40, 10))  # the last is too small to be read in
DAYS: Final = tuple(
    map(date.fromisoformat, ("2026-02-20", "2026-03-10", "2026-04-10", "2026-05-20"))
)
STEPS: Final = 45


class Beside:
    """What happens to a season's folder while it is open: another writer, loggers, an editor."""

    def __init__(self, folder: Path, day: date, chance: random.Random) -> None:
        self.folder, self.day, self._chance = folder, day, chance
        self._other = OpenSeason(folder, "phone", day)
        self._whole = {name: self._path(name).read_bytes() for name in ("lots.toml", "season.toml")}
        self._aside: dict[Path, bytes] = {}
        self._rows = 0

    def _path(self, name: str) -> Path:
        return self.folder / name

    def something(self) -> str:
        """Let one of them happen; its name."""
        happens = self._chance.choice(self._all())
        happens()
        return happens.__name__

    def _all(self) -> tuple[Callable[[], None], ...]:
        return (
            self.another_writes, self.another_writes, self.a_logger_writes, self.a_logger_writes,
            self.a_line_is_torn, self.a_line_is_garbled, self.the_plan_breaks, self.files_go,
            self.mend, self.a_journal_is_merged,
        )  # fmt: skip

    def another_writes(self) -> None:
        """One entry of another writer, whatever it is about."""
        if self._aside:
            return  # what it wrote would not be there to be put back
        lot = self._chance.choice(("leek-giant", "onion-red", "celeriac"))
        drafts: tuple[Entry, ...] = (
            Sown(**BLANK, sowing=f"{lot}/9", lot=lot, seeds=12, tray="tray 77", station="heat mat"),
            Counted(**BLANK, sowing=lot, standing=self._chance.randrange(30)),
            Moved(**BLANK, tray="tray 77", station="upper shelf"),
            Watered(**BLANK, tray="tray 77"),
            Noted(**BLANK, text="seen", lot=lot),
            Planned(
                **BLANK, lot=lot, to={"want": self._chance.randrange(1, 90)}, said={"want": 48}
            ),
            Read(**BLANK, station="heat mat", quantity="soil_c", value=23.5),
        )
        self._other.record(self._chance.choice(drafts))
        if self._chance.random() < 0.2:
            take_back(self._other)

    def a_journal_is_merged(self) -> None:
        """Another machine's file comes, whole, with lines that may name what nobody knows."""
        at = self._morning()
        line = (
            f'{{"kind":"watered","id":"0196a3f2-5c00-7d21-9a1b-{self._chance.randrange(10**12):012d}"'
            f',"at":"{at.isoformat()}","by":"far","tray":"tray {self._chance.randrange(99)}"}}\n'
        )
        self._add("journal/far.jsonl", line)

    def a_logger_writes(self) -> None:
        """A few rows more."""
        self._rows += 1
        at = self._morning()
        rows = [
            f"{(at + timedelta(minutes=5 * self._rows)).isoformat()},{station},{quantity},{c},\n"
            for station, quantity, c in (
                ("heat mat", "soil_c", 20 + self._rows % 7), ("heat mat", "air_c", 18.5),
                ("nowhere", "soil_c", 4.0),
            )
        ]  # fmt: skip
        path = self._path("readings/walk.csv")
        head = "" if path.exists() or path.is_symlink() else "time,station,quantity,value,mark\n"
        self._add("readings/walk.csv", head + "".join(rows))

    def a_line_is_torn(self) -> None:
        """The end of a file is half written."""
        name = self._chance.choice(("readings/walk.csv", "journal/far.jsonl"))
        self._add(name, '{"kind":"watered","id":"0196')

    def a_line_is_garbled(self) -> None:
        """A line that says nothing, or too much."""
        self._add(
            "journal/far.jsonl",
            self._chance.choice(('\n{"kind":"dreamt"}\n', "\n\x00\n", "\n[]\n")),
        )

    def the_plan_breaks(self) -> None:
        """An editor has half saved it."""
        name = self._chance.choice(tuple(self._whole))
        self._add(name, self._chance.choice(("\n[[lot]", "\nwant = ", '\n[[lot]]\nname = "x"\n')))

    def files_go(self) -> None:
        """A file is there no more, or something else stands in its place."""
        names = ("readings/walk.csv", "journal/far.jsonl", "lots.toml", "journal/phone.jsonl")
        path = self._path(self._chance.choice(names))
        if path in self._aside or not path.is_file():
            return
        self._aside[path] = path.read_bytes()
        path.unlink()
        with suppress(OSError):
            if self._chance.random() < 0.5:
                path.mkdir()
            elif self._chance.random() < 0.5:
                path.symlink_to("nowhere")

    def mend(self) -> None:
        """All is as it should be again, with what came meanwhile."""
        for path, data in self._aside.items():
            if path.is_dir() and not path.is_symlink():
                path.rmdir()
            path.unlink(missing_ok=True)
            path.write_bytes(data)
        self._aside = {}
        for name, data in self._whole.items():
            self._path(name).write_bytes(data)

    def _morning(self) -> datetime:
        return datetime(self.day.year, self.day.month, self.day.day, 6, tzinfo=UTC)

    def _add(self, name: str, text: str) -> None:
        with suppress(OSError), self._path(name).open("a", encoding="utf-8") as file:
            file.write(text)


async def walk(folder: Path, seed: int, steps: int = STEPS) -> None:
    """One walk on a season in a folder; fails with what the app failed with.

    In the end, with all files mended, the app says what a season opened afresh says.
    """
    chance = random.Random(seed)
    day, size = chance.choice(DAYS), chance.choice(SIZES)
    beside = Beside(folder, day, chance)
    done: list[str] = []
    try:
        async with running(folder, size, day, by="walker") as (app, pilot):
            for step in _steps(chance, steps):
                done.append(await _take(step, app, pilot, beside))
                assert not app.faults, app.faults[0]
                assert app.is_running
            beside.mend()
            app.catch_up()
            await pilot.press("escape", "escape", "escape")
            assert app.opened is not None
            fresh = OpenSeason(folder, "fresh", day)
            assert app.opened.round() == fresh.round()
            assert app.opened.calendar() == fresh.calendar()
    except Exception as error:
        error.add_note(f"seed {seed}, {day}, {size}, last: {' '.join(done[-12:])}")
        raise


def _steps(chance: random.Random, count: int) -> Iterator[tuple[str, ...]]:
    """Keys alone and in bursts, words typed, happenings, another size."""
    for _ in range(count):
        draw = chance.random()
        if draw < 0.15:
            yield ("",)
        elif draw < 0.18:
            yield ("resize", str(chance.randrange(len(SIZES))))
        elif draw < 0.25:
            yield tuple(chance.choice(WORDS))
        elif draw < 0.5:
            yield tuple(chance.choice(KEYS) for _ in range(chance.randrange(2, 9)))
        else:
            yield (chance.choice(KEYS),)


async def _take(step: tuple[str, ...], app: SeedstartApp, pilot: QuickPilot, beside: Beside) -> str:
    if step == ("",):
        what = beside.something()
        app.catch_up()
        await pilot.settled()
        return f"[{what}]"
    if step[0] == "resize":
        await pilot.resize_terminal(*SIZES[int(step[1])])
        return f"[{SIZES[int(step[1])]}]"
    for key in step:
        app.post_message(key_event(key))
    await pilot.settled()
    return "+".join(step)


def main(walks: int, first: int) -> int:
    """Many walks; how many failed."""
    failed = 0
    for seed in range(first, first + walks):
        with TemporaryDirectory() as top:
            try:
                asyncio.run(walk(sample(Path(top)), seed))
            except Exception:  # noqa: BLE001 - each is told, and the next one goes on
                failed += 1
                traceback.print_exc()
    print(f"{failed} of {walks} walks failed, seeds {first} to {first + walks - 1}")
    return failed


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    sys.exit(bool(main(*(numbers + [100, 1][len(numbers) :]))))
