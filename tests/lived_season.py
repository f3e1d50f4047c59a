"""A season lived by a grower who knows nothing but the round and what a sowing's page advises.

Every line is done to the letter, in a truth that nobody in it knows (`lived_truth`). Of the alerts
only a dead mat is acted on, and of the pages only "sow again".
"""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Final, NamedTuple

import lived_truth as truth
from seedstart.acts.read import NAMED, read
from seedstart.daily.answers import answer
from seedstart.daily.check import Check
from seedstart.daily.check_status import single_checks
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    BLANK,
    Dividing,
    Entry,
    Finished,
    Forecast,
    Given,
    Hardened,
    Lost,
    SetOut,
    Sown,
    Thinned,
)
from shipped import crop_table

CROPS: Final = (
    "tomato", "pepper", "eggplant", "basil", "celeriac", "leek", "onion", "lettuce", "cabbage",
    "broccoli", "kale", "cucumber", "summer squash", "lavender", "sage", "zinnia", "marigold",
    "petunia", "snapdragon", "pansy", "cosmos", "gomphrena", "coleus", "thyme", "parsley",
)  # fmt: skip
_STATIONS: Final = (
    ("heat mat", "mat", "23C"), ("shelf 1", "shelf", "19C"), ("shelf 2", "shelf", "17C"),
    ("north sill", "sill", "14C"), ("cold frame", "frame", "10C"),
)  # fmt: skip
_MAT: Final = "heat mat"
_PACKET: Final = 0.85
_MOST_LINES: Final = 300
_DAY = timedelta(days=1)


class Outcome(NamedTuple):
    """What became of one lot: by the round, by a naive calendar, and what biology allowed."""

    lot: str
    kind: str
    enough_sown: bool
    in_window: bool
    alive: bool
    naive: bool
    naive_alive: bool
    allowed: bool


class Lived(NamedTuple):
    """One season, lived.

    Attributes:
        outcomes: A lot each.
        lines: Lines of each morning.
        refused: Lines that could not be answered, with what was said.
        excluding: Lines of one morning for one sowing of which each makes the other pointless.
        open_at_end: Sowings whose count was never closed.
        sowings: All that were made from seed.
        again: Sowings made since the advice was to sow again; and how many of these were needless.
        mat: Whether the mat died and was read; and how often that was told.
    """

    outcomes: tuple[Outcome, ...]
    lines: tuple[int, ...]
    refused: tuple[str, ...]
    excluding: int
    open_at_end: int
    sowings: int
    again: tuple[int, int]
    mat: tuple[bool, int]


class Grower:
    """A season's folder, its truth, and the one who does every line."""

    def __init__(self, folder: Path, seed: int, lots: int = 12) -> None:
        self.draw, self.folder = Random(seed), folder
        self.frost = date(2027, 4, 25) + timedelta(days=self.draw.randrange(30))
        self._weather_eye, self._reads = self.draw.random() < 0.5, self.draw.random() < 0.5
        self._mat_dies = self.frost - timedelta(days=self.draw.randrange(10, 100))
        self._mats_die = self.draw.random() < 1 / 3
        absent = self.frost - timedelta(days=self.draw.randrange(20, 60))
        self.away = (absent, absent + timedelta(days=self.draw.randrange(3, 7)))
        self.weather = truth.Weather(self.frost, self.draw)
        crops = crop_table()
        names = self.draw.sample(CROPS, lots)
        self.lots = {
            f"{name.replace(' ', '-')}-a": truth.Lot(crops.crops[name], _PACKET, self.draw)
            for name in names
        }
        self.wants = {name: self.draw.choice((6, 12, 18, 24)) for name in self.lots}
        self.left = {name: self.draw.choice((40, 80, 150)) for name in self.lots}
        self._write()
        with_plan = OpenSeason(folder, "grower", on=date(2026, 11, 1))
        self.kinds = {one.name: one.kind for one in with_plan.plan.stations}
        planned = {one.name: one.expected for one in with_plan.plan.stations}
        self.bench = truth.Bench(planned, self.weather, self.draw)
        self.rows = {
            row.lot: row for row in with_plan.calendar() if row.lot and row.window("set_out")
        }
        self.plants: dict[str, truth.Plants] = {}
        self.lot_of: dict[str, str] = {}
        self.out: dict[str, list[tuple[date, int, truth.Plants]]] = {name: [] for name in self.lots}
        self.sown: Counter[str] = Counter()
        self.nights_out: set[str] = set()
        self.told_of_mat = 0
        self._trays, self._again = 0, list[tuple[str, str]]()
        self._refused, self._excluding, self._lines = list[str](), 0, list[int]()

    def _write(self) -> None:
        self.folder.mkdir(parents=True)
        stations = "".join(
            f'[[station]]\nname = "{name}"\nkind = "{kind}"\nexpected = "{warm}"\n'
            for name, kind, warm in _STATIONS
        )
        (self.folder / "season.toml").write_text(
            f'title = "Lived (invented)"\ntimezone = "Europe/Vienna"\n'
            f'away = [["{self.away[0]}", "{self.away[1]}"]]\n[frost]\nlast = {self.frost}\n'
            f"risk_percent = 50\n{stations}"
        )
        (self.folder / "lots.toml").write_text("".join(self._packets()))
        (self.folder / "journal").mkdir()

    def _packets(self) -> Iterator[str]:
        for name, lot in self.lots.items():
            first = self.draw.choice(("heat mat", "heat mat", "shelf 1", "north sill"))
            yield (
                f'[[lot]]\nname = "{name}"\ncrop = "{lot.crop.name}"\nwant = {self.wants[name]}\n'
                f'station = "{first}"\nthen = "shelf 2"\nhave = "{self.left[name]} seeds"\n'
                f'germination = "{_PACKET:.0%}"\n'
            )

    # A day

    def live(self) -> Lived:
        """From the first job to three weeks after the last window, each morning's every line."""
        windows = [row.window("set_out") for row in self.rows.values()]
        first = min(row.sow_day for row in self.rows.values() if row.sow_day) - 3 * _DAY
        last = max(window.latest for window in windows if window) + 14 * _DAY
        day = first
        while day <= last:
            if not self.away[0] <= day <= self.away[1]:
                self._morning(day)
            self._night(day)
            day += _DAY
        return self._told(last)

    def _morning(self, day: date) -> None:
        season = OpenSeason(self.folder, "grower", on=day)
        if self._weather_eye:
            night = round(self.weather.night_c(day), 1)
            season.record(Forecast(**BLANK, day=day, tmin_c=night, tmax_c=night + 9))
        self._mind_the_mat(season, day)
        self.nights_out.clear()
        self._sow_again(season)
        done, lines = set[str](), 0
        self._count_excluding(season.round().checks)
        while lines < _MOST_LINES:
            checks = single_checks(season.round().checks)
            check = next((one for one in checks if not one.done and one.key not in done), None)
            if check is None:
                break
            done.add(check.key)
            lines += 1
            self._do(season, check, day)
        self._lines.append(lines)

    def _mind_the_mat(self, season: OpenSeason, day: date) -> None:
        """It dies one day in some seasons; it is read by hand in some, and seen to once told."""
        if self._mats_die and day == self._mat_dies:
            self.bench.dead_mat = _MAT
        if self._reads:
            value = f"{self.bench.c(_MAT, day, 'mat'):.1f}C"
            filled = read(NAMED["read"], season.known(), {"what": _MAT, "value": value})
            season.record(*filled.entries)
        if any(alert.kind == "mat no longer heats" for alert in season.round().alerts):
            self.told_of_mat += 1
            self.bench.dead_mat = None

    def _count_excluding(self, checks: tuple[Check, ...]) -> None:
        by_sowing = dict[str, set[str]]()
        for check in single_checks(checks):
            for asked in check.sowings:
                by_sowing.setdefault(asked.id, set()).add(check.what)
        self._excluding += sum(
            any(pair <= whats for pair in _EXCLUDE) for whats in by_sowing.values()
        )

    def _do(self, season: OpenSeason, check: Check, day: date) -> None:
        for typed in (self._typed(check), "put off: 2 days"):
            found = answer(check, typed, season.known())
            if not isinstance(found, Problem):
                break
            self._refused.append(f"{day} {check.says} [{typed}]: {found.hint}")
        else:
            return
        mothers = [asked.id for asked in check.sowings]
        for entry in season.record(*found):
            self._happens(entry, mothers, day)

    def _typed(self, check: Check) -> str:
        """What is typed; nothing for a tick."""
        if check.what in {"look", "count"}:
            return ", ".join(str(len(self.plants[one.id].leaf)) for one in check.sowings)
        if check.what == "prick out":
            ready = sum(self.plants[one.id].with_a_leaf for one in check.sowings)
            self._trays += 1
            return f"{ready} into P{self._trays}" if ready else "put off: 2 days"
        if check.what in {"set out", "thin", "pot on"} and check.tick is None:
            return str(sum(len(self.plants[one.id].leaf) for one in check.sowings) or "all")
        if check.tick is None and check.typed is not None and check.typed.act == "move":
            return "shelf 2"
        return "" if check.tick is not None else "put off: 2 days"

    def _happens(self, entry: Entry, mothers: list[str], day: date) -> None:
        """What was written is what was done."""
        match entry:
            case Sown():
                self._sow(entry)
            case Dividing():
                mother = next(one for one in mothers if one in self.plants)
                taken = self.plants[mother].take(entry.plants)
                kept = [one for one in taken if self.draw.random() > truth.LOST_AT_PRICKING_OUT]
                self.plants[entry.id] = truth.Plants(self.plants[mother].crop, (), kept)
                self.lot_of[entry.id] = self.lot_of[mother]
            case SetOut():
                for one in mothers:
                    plants = self.plants[one]
                    gone = plants.take(entry.plants or len(plants.leaf) - (entry.left or 0))
                    batch = truth.Plants(plants.crop, (), gone)
                    self.out[self.lot_of[one]].append((day, len(gone), batch))
            case Finished():
                for one in mothers:
                    self.plants[one].leaf, self.plants[one].to_come = [], []
            case Lost() | Thinned() | Given():
                for one in mothers:
                    plants = self.plants[one]
                    plants.take(entry.plants or len(plants.leaf) - (entry.left or 0))
            case Hardened() if entry.night:
                self.nights_out.update(mothers)
            case _:
                pass

    def _sow(self, entry: Sown) -> None:
        seeds = entry.seeds or entry.about or 0
        self.plants[entry.id] = self.lots[entry.lot].sown(seeds, self.draw)
        self.lot_of[entry.id] = entry.lot
        self.left[entry.lot] -= seeds
        self.sown[entry.lot] += seeds

    def _sow_again(self, season: OpenSeason) -> None:
        """Where the page of a sowing says so, and there is seed."""
        for sowing in tuple(season.records().standings):
            if sowing not in self.plants or self.plants[sowing].set_out:
                continue
            found = season.prospects().get(sowing)
            lot = self.lot_of[sowing]
            advice = found.advice if found is not None else None
            if advice is None or advice.what != "sow again" or self.left[lot] < 1:
                continue
            name = season.records().name_in_line(sowing)
            texts = {
                "lot": lot, "seeds": str(min(self.left[lot], 2 * self.wants[lot])),
                "station": season.records().station_of(sowing) or "shelf 1", "instead_of": name,
            }  # fmt: skip
            filled = read(NAMED["sow"], season.known(), texts)
            if filled.problems:
                self._refused.append(f"sow {lot} again: {filled.problems}")
                continue
            for entry in season.record(*filled.entries):
                assert isinstance(entry, Sown)
                self._sow(entry)
                self._again.append((sowing, entry.id))

    def _night(self, day: date) -> None:
        season = OpenSeason(self.folder, "grower", on=day)
        night = self.weather.night_c(day)
        for sowing, plants in self.plants.items():
            station = season.records().station_of(sowing)
            kind = self.kinds.get(station or "", "outdoors")
            plants.live(self.bench.c(station, day, kind), self.draw)
            if kind == "outdoors" or sowing in self.nights_out:
                plants.freeze(night, self.draw)
            elif kind == "frame":
                plants.freeze(night + truth.FRAME_KEEPS_C, self.draw)
        for batches in self.out.values():
            for since, _, plants in batches:
                if (day - since).days < 14:
                    plants.freeze(night, self.draw)

    # The end

    def _told(self, last: date) -> Lived:
        season = OpenSeason(self.folder, "grower", on=last)
        made = [one for one in season.records().standings.values() if one.made == "sown"]
        enough = {
            first: len(self.plants[first].leaf) + len(self.plants[first].to_come)
            for first, _ in self._again
        }
        needless = sum(enough[one] >= self.wants[self.lot_of[one]] for one, _ in self._again)
        return Lived(
            tuple(self._outcome(name, row) for name, row in self.rows.items() if name in self.lots),
            tuple(self._lines),
            tuple(self._refused),
            self._excluding,
            sum(one.closed is None for one in made),
            len(made),
            (len(self._again), needless),
            (self._mats_die and self._reads, self.told_of_mat),
        )

    def _outcome(self, name: str, row: Row) -> Outcome:
        lot, want, window = self.lots[name], self.wants[name], row.window("set_out")
        assert window is not None
        within = [
            (count, plants)
            for day, count, plants in self.out[name]
            if window.earliest <= day <= window.latest
        ]
        naive, alive = self._naive(lot, row)
        return Outcome(
            lot=name,
            kind=lot.kind,
            enough_sown=self.sown[name] * lot.alive >= want,
            in_window=sum(count for count, _ in within) >= want,
            alive=sum(len(plants.leaf) for _, plants in within) >= 0.9 * want,
            naive=naive >= want,
            naive_alive=alive >= 0.9 * want,
            allowed=(self.sown[name] + self.left[name]) * lot.alive * 0.95 >= want,
        )

    def _naive(self, lot: truth.Lot, row: Row) -> tuple[int, int]:
        """Sown, pricked out and set out on the printed best days: how many, and alive later."""
        sow, out = row.sow_day, row.step("set_out")
        prick = row.step("prick_out")
        assert sow is not None
        assert out is not None
        assert out.best_day is not None
        draw = Random(row.crop)
        plants = lot.sown(row.seeds or 2 * self.wants[row.lot or ""], draw)
        moved_on = prick.best_day if prick is not None else None
        day = sow
        while day < out.best_day:
            at = row.station if moved_on is None or day < moved_on else "shelf 2"
            plants.live(self.bench.c(at, day, self.kinds.get(at or "", "")), draw)
            day += _DAY
            if day == moved_on:
                plants.to_come = []
                plants.leaf = [
                    one
                    for one in plants.leaf
                    if one <= 0 and draw.random() > truth.LOST_AT_PRICKING_OUT
                ]
        count = len(plants.leaf)
        for later in range(14):
            plants.freeze(self.weather.night_c(day + later * _DAY), draw)
        return count, len(plants.leaf)


_EXCLUDE: Final = tuple(
    frozenset(pair)
    for pair in (
        ("harden", "set out"),
        ("feed", "harden"),
        ("feed", "prick out"),
        ("feed", "set out"),
        ("prick out", "harden"),
        ("prick out", "pot on"),
    )
)
