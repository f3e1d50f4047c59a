"""A season lived by a grower who knows nothing but the round and its alerts.

Every line is done to the letter, and of every alert what it says first, in a truth that nobody in
it knows (`lived_truth`). Where a line asks whether a frost is due, thermometer and radio say.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Final

import lived_truth as truth
from lived_outcome import Lived, Outcome, SetOutBatch, Why, excluding, naive, why_lost
from seedstart.acts.read import NAMED, read
from seedstart.daily.answers import answer
from seedstart.daily.check import Alert, Check
from seedstart.daily.check_status import single_checks
from seedstart.open_season import OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    BLANK,
    Dividing,
    Dug,
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
    ("north sill", "sill", "14C"), ("cold frame", "frame", "10C"), ("fridge", "fridge", ""),
)  # fmt: skip
_MAT: Final = "heat mat"
_PACKET: Final = 0.85
_MOST_ANSWERS: Final = 300
_WATCHED_DAYS: Final = 14  # after setting out
_STANDS_DAYS: Final = 7
_READ_TWICE: Final = 2
_DAY = timedelta(days=1)


class Grower:
    """A season's folder, its truth, and the one who does every line."""

    def __init__(self, folder: Path, seed: int, lots: int = 12) -> None:
        self.draw, self.folder = Random(seed), folder
        self.frost = date(2027, 4, 25) + timedelta(days=self.draw.randrange(30))
        self._weather_eye, self._reads = self.draw.random() < 0.5, self.draw.random() < 0.5
        self._mat_dies = self.frost - timedelta(days=self.draw.randrange(10, 100))
        self._mats_die, self._to_the_electrician = self.draw.random() < 1 / 3, 0
        absent = self.frost - timedelta(days=self.draw.randrange(20, 60))
        self.away = (absent, absent + timedelta(days=self.draw.randrange(3, 7)))
        self.weather = truth.Weather(self.frost, Random(seed + 1))
        crops = crop_table()
        names = self.draw.sample(CROPS, lots)
        self.lots = {
            f"{name.replace(' ', '-')}-a": truth.Lot(crops.crops[name], _PACKET, self.draw)
            for name in names
        }
        self.wants = {name: self.draw.choice((6, 12, 18, 24)) for name in self.lots}
        self.left = {name: self.draw.choice((40, 80, 150)) for name in self.lots}
        self._shared = set(self.draw.sample(sorted(self.lots), 2))
        self._write()
        with_plan = OpenSeason(folder, "grower", on=date(2026, 11, 1))
        self.kinds = {one.name: str(one.kind) for one in with_plan.plan.stations}
        planned = {one.name: one.expected for one in with_plan.plan.stations}
        self.bench = truth.Bench(planned, self.weather, Random(seed + 2))
        self.rows = {
            row.lot: row for row in with_plan.calendar() if row.lot and row.window("set_out")
        }
        self.plants: dict[str, truth.Plants] = {}
        self.lot_of: dict[str, str] = {}
        self.out: dict[str, list[SetOutBatch]] = {name: [] for name in self.lots}
        self.losses: defaultdict[str, Counter[Why]] = defaultdict(Counter)
        self.sown: Counter[str] = Counter()
        self._stands = dict[str, str | None]()
        self.nights_out, self._covered, self._brought_in = set[str](), set[str](), set[str]()
        self.told_of_mat, self._cold_mornings = 0, 0
        self._trays, self._again, self._told = 0, list[tuple[str, str]](), set[str]()
        self._heeded = set[tuple[str, str]]()
        self._refused, self._lines, self._answers = list[str](), list[int](), list[int]()
        self._excluding, self._came_again = Counter[str](), Counter[str]()

    def _write(self) -> None:
        self.folder.mkdir(parents=True)
        stations = "".join(
            f'[[station]]\nname = "{name}"\nkind = "{kind}"\n'
            + (f'expected = "{warm}"\n' if warm else "")
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
            then = self.draw.choice(("shelf 2", "shelf 2", "cold frame"))
            then = then if lot.crop.hardiness == "hardy" else "shelf 2"
            cold = 'stratify = "28 days"\n' if lot.crop.name == "lavender" else ""
            first = "fridge" if cold else "shelf 1" if name in self._shared else first
            yield (
                f'[[lot]]\nname = "{name}"\ncrop = "{lot.crop.name}"\nwant = {self.wants[name]}\n'
                f'station = "{first}"\nthen = "{then}"\nhave = "{self.left[name]} seeds"\n'
                f'germination = "{_PACKET:.0%}"\n{cold}'
            )

    # A day

    def live(self) -> Lived:
        """From the first job to three weeks after the last window, each morning's every line."""
        windows = [row.window("set_out") for row in self.rows.values()]
        first = min(row.sow_day for row in self.rows.values() if row.sow_day) - 35 * _DAY
        last = max(window.latest for window in windows if window) + 14 * _DAY
        day = first
        while day <= last:
            if not self.away[0] <= day <= self.away[1]:
                self._day(day)
            self._night(day)
            day += _DAY
        return self._told_at_end(last)

    def _day(self, day: date) -> None:
        season = OpenSeason(self.folder, "grower", on=day)
        if self._weather_eye:
            night = round(self.weather.night_c(day), 1)
            season.record(Forecast(**BLANK, day=day, tmin_c=night, tmax_c=night + 9))
        self.nights_out.clear()
        self._covered.clear()
        self._brought_in.clear()
        self._look_after_the_mat(season, day)
        self._heed(season, day)
        self._walk(season, day)
        self._heed(season, day)  # what was set out today is heard of in the evening
        self._stands = {one: season.records().station_of(one) for one in self.plants}

    def _walk(self, season: OpenSeason, day: date) -> None:
        """Every line, those too that come of what was done."""
        done, lines, acts = set[str](), set[str](), defaultdict[str, set[str]](set)
        while len(done) < _MOST_ANSWERS:
            left = [one for one in season.round().checks if not one.done]
            fresh = [(line, one) for line in left for one in single_checks((line,)) if not one.done]
            found = next(((line, one) for line, one in fresh if one.key not in done), None)
            if found is None:
                break
            line, check = found
            done.add(check.key)
            lines.add(line.key)
            if not self._do(season, check, day):
                continue
            for asked in check.sowings:
                acts[asked.id].add(check.what)
            self._came_again[f"{check.key}: {check.says}"] += 1
        self._lines.append(len(lines))
        self._answers.append(len(done))
        self._excluding += excluding(acts)

    def _look_after_the_mat(self, season: OpenSeason, day: date) -> None:
        """It dies one day in some seasons, and is away for repair; it is read by hand in some."""
        if self._mats_die and day == self._mat_dies:
            self.bench.dead_mat = _MAT
        if self._to_the_electrician:
            self._to_the_electrician -= 1
            self.bench.dead_mat = _MAT if self._to_the_electrician else None
        if self.bench.dead_mat and season.records().sowings_in(("station", _MAT)):
            self._cold_mornings += 1
        if self._reads:
            value = f"{self.bench.c(_MAT, day, 'mat'):.1f}C"
            self._act(season, "read", {"what": _MAT, "value": value}, day)

    # Alerts

    def _heed(self, season: OpenSeason, day: date) -> None:
        """Of every alert what it says first; once, as long as it says the same."""
        for alert in season.round().alerts:
            self._told.update(self._named(season, alert))
            said = alert.key, alert.remedies[0]
            night_by_night = "if frost is due" in said[1] or alert.kind == "too early to set out"
            if said not in self._heeded or night_by_night:
                self._heeded.add(said)
                self._remedy(season, alert, day)

    def _remedy(self, season: OpenSeason, alert: Alert, day: date) -> None:
        first, sowings = alert.remedies[0], self._named(season, alert)
        match alert.kind:
            case "mat no longer heats":
                if not self._to_the_electrician:
                    self.told_of_mat += 1
                    self._to_the_electrician = 5
                    self._carry(season, alert, sowings, day)
            case "too cold" | "too hot" | "late":
                self._carry(season, alert, sowings, day)
            case "cold night" if "if frost is due" in first:
                if self.weather.frost_is_due(day):
                    self._brought_in.update(sowings)
            case "cold night":
                self.nights_out.difference_update(sowings)
                self._covered.update(sowings)
            case "too early to set out":
                if self.weather.frost_is_due(day):
                    self._covered.update(sowings)
            case "not looked at":
                for one in sowings:
                    self._count(season, one, day)
            case "overdue" | "too few up":
                for one in sowings:
                    self._replace(season, one, first, day)
            case _:
                pass  # its line of the round says the same, or there is nothing to do

    def _named(self, season: OpenSeason, alert: Alert) -> list[str]:
        records = season.records()
        found = (records.by_name_in_line(name) for name in alert.sowings)
        return [one.id for one in found if one is not None]

    def _carry(self, season: OpenSeason, alert: Alert, sowings: list[str], day: date) -> None:
        """To the first place that its remedies name."""
        text = " ".join(alert.remedies)
        named = [(text.find(f"the {name}"), name) for name in self.kinds if name != alert.station]
        _, to = min(((at, name) for at, name in named if at >= 0), default=(0, ""))
        for one in sowings if to else ():
            name = season.records().name_in_line(one)
            self._act(season, "move", {"what": f"sowing:{name}", "station": to}, day, one)

    def _count(self, season: OpenSeason, one: str, day: date) -> None:
        texts = {"sowing": season.records().name_in_line(one)}
        up = str(len(self.plants[one].leaf))
        self._act(season, "count", {**texts, "standing": up, "sure": "yes"}, day, one)

    def _replace(self, season: OpenSeason, one: str, says: str, day: date) -> None:
        """Dug up, sown again or given up, as the alert has it."""
        name, lot = season.records().name_in_line(one), self.lot_of[one]
        if says.startswith("dig"):
            lie = season.records().standings[one]
            dug = min((lie.seeds or 3) - lie.emerged, 3)
            sound = min(len(self.plants[one].to_come), dug)
            texts = {"sowing": name, "sound": str(sound), "soft": str(dug - sound)}
            self._act(season, "dig up", texts, day, one)
        elif says.startswith("sow again") and self.left[lot]:
            short = self.wants[lot] - len(self.plants[one].leaf)
            texts = {
                "lot": lot, "seeds": str(min(self.left[lot], max(2 * short, 4))),
                "station": season.records().station_of(one) or "shelf 1", "instead_of": name,
            }  # fmt: skip
            for entry in self._act(season, "sow", texts, day):
                self._again.append((one, entry.id))
        elif says.startswith("finish"):
            self._act(season, "finish", {"sowing": name}, day, one)

    # Lines

    def _act(
        self, season: OpenSeason, name: str, texts: dict[str, str], day: date, one: str = ""
    ) -> list[Entry]:
        filled = read(NAMED[name], season.known(), texts)
        if filled.problems:
            self._refused.append(f"{day} {name} {texts}: {filled.problems}")
            return []
        written = list(season.record(*filled.entries))
        for entry in written:
            self._happens(entry, [one] if one else [], day, covered=False)
        return written

    def _do(self, season: OpenSeason, check: Check, day: date) -> bool:
        """One line; whether it was not put off."""
        typed = self._typed(check, day)
        for text in (typed, "put off: 2 days"):
            found = answer(check, text, season.known())
            if not isinstance(found, Problem):
                break
            self._refused.append(f"{day} {check.says} [{text}]: {found.hint}")
        else:
            return False
        mothers = [asked.id for asked in check.sowings]
        for entry in season.record(*found):
            self._happens(entry, mothers, day, covered="cover" in check.says)
        return not typed.startswith("put off")

    def _typed(self, check: Check, day: date) -> str:
        """What is typed; nothing for a tick."""
        if check.what in {"look", "count"}:
            return ", ".join(str(len(self.plants[one.id].leaf)) for one in check.sowings)
        if check.what == "prick out":
            return self._pricked(check)
        if check.what == "harden" and "unless frost is due" in check.says:
            hours = re.search(r"([\d.]+) h", check.says)
            assert hours is not None
            return hours[1] if self.weather.frost_is_due(day) else ""
        if check.what == "sow" and check.subject[1] in self._shared:
            seeds = re.search(r"(\d+) seed", check.says)
            return f"{seeds[1]} in shared" if seeds else ""
        if check.what in {"set out", "thin", "pot on"} and check.tick is None:
            return str(sum(len(self.plants[one.id].leaf) for one in check.sowings) or "all")
        if check.tick is None and check.typed is not None and check.typed.act == "move":
            return "north sill"
        return "" if check.tick is not None else "put off: 2 days"

    def _pricked(self, check: Check) -> str:
        """At the first true leaf: of what is all up, once half of them have one."""
        plants = [self.plants[one.id] for one in check.sowings]
        ready, stand = sum(one.with_a_leaf for one in plants), sum(len(one.leaf) for one in plants)
        if not ready or ("with a leaf" not in check.says and 2 * ready < stand):
            return "put off: no true leaf yet" if stand else "put off: 2 days"
        self._trays += 1
        return f"{ready} into P{self._trays}"

    def _happens(self, entry: Entry, mothers: list[str], day: date, *, covered: bool) -> None:
        """What was written is what was done."""
        match entry:
            case Sown():
                self._sow(entry)
            case Dividing():
                mother = next(one for one in mothers if one in self.plants)
                taken = self.plants[mother].take(entry.plants)
                kept = [one for one in taken if self.draw.random() > truth.LOST_AT_PRICKING_OUT]
                lot = self.lot_of[entry.id] = self.lot_of[mother]
                self.losses[lot]["pricking out"] += len(taken) - len(kept)
                self.plants[entry.id] = truth.Plants(self.plants[mother].crop, (), kept)
            case SetOut():
                for one in mothers:
                    plants = self.plants[one]
                    gone = plants.take(entry.plants or len(plants.leaf) - (entry.left or 0))
                    batch = truth.Plants(plants.crop, (), gone)
                    self.out[self.lot_of[one]].append(SetOutBatch(day, len(gone), batch, covered))
            case Finished():
                for one in mothers:
                    self.losses[self.lot_of[one]]["thrown away"] += len(self.plants[one].leaf)
                    self.plants[one].leaf, self.plants[one].to_come = [], []
            case Lost() | Thinned() | Given():
                for one in mothers:
                    plants = self.plants[one]
                    gone = plants.take(entry.plants or len(plants.leaf) - (entry.left or 0))
                    self.losses[self.lot_of[one]]["thrown away"] += len(gone)
            case Dug() if entry.sowing is not None:
                for one in mothers:
                    del self.plants[one].to_come[: entry.sound]
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

    def _night(self, day: date) -> None:
        night, due = self.weather.night_c(day), self.weather.frost_is_due(day)
        for sowing, plants in self.plants.items():
            station = self._stands.get(sowing)
            kind = self.kinds.get(station or "", "outdoors")
            plants.live(self.bench.c(station, day, kind), self.draw)
            kept = truth.COVER_KEEPS_C if sowing in self._covered else 0.0
            lost = self.losses[self.lot_of[sowing]]
            if sowing in self._brought_in:
                continue
            if kind == "frame":
                shut = 0.0 if sowing in self.nights_out else truth.FRAME_KEEPS_C
                lost["frost in the frame"] += plants.freeze(night + shut + kept, self.draw)
            elif kind == "outdoors" or sowing in self.nights_out:
                lost["frost while hardening off"] += plants.freeze(night + kept, self.draw)
        for lot, batches in self.out.items():
            told = any(self.lot_of.get(one) == lot for one in self._covered)
            for batch in batches:
                under = told or (batch.covered and due)
                if (day - batch.day).days < _WATCHED_DAYS:
                    batch.plants.freeze(night + under * truth.COVER_KEEPS_C, self.draw)

    # The end

    def _told_at_end(self, last: date) -> Lived:
        season = OpenSeason(self.folder, "grower", on=last)
        made = [one for one in season.records().standings.values() if one.made == "sown"]
        came = {one.id: one.emerged for one in made}
        needless = sum(came[one] >= self.wants[self.lot_of[one]] for one, _ in self._again)
        later = {after for _, after in self._again}
        short = [
            one.id
            for one in made
            if one.id not in later
            and one.emerged + len(self.plants[one.id].to_come) < self.wants[one.lot or ""]
        ]
        return Lived(
            tuple(self._outcome(name) for name in self.rows if name in self.lots),
            tuple(self._lines),
            tuple(self._answers),
            tuple(self._refused),
            self._excluding,
            tuple(says for says, days in self._came_again.items() if days >= _STANDS_DAYS),
            sum(one.closed is None for one in made),
            len(made),
            (len(self._again), needless),
            (len(short), sum(one in self._told for one in short)),
            (self._died_over_seed(), self.told_of_mat),
        )

    def _died_over_seed(self) -> bool:
        """Whether the mat lay dead and was read over something: till two readings, or the word."""
        lay = self._cold_mornings >= _READ_TWICE or self.told_of_mat > 0
        return self._mats_die and self._reads and lay

    def _outcome(self, name: str) -> Outcome:
        lot, want, row = self.lots[name], self.wants[name], self.rows[name]
        window = row.window("set_out")
        assert window is not None
        within = [one for one in self.out[name] if window.earliest <= one.day <= window.latest]
        by_calendar, alive_by_it = naive(lot, row, want, self.bench, self.kinds, self.weather)
        enough = self.sown[name] * lot.alive >= want
        alive = sum(len(one.plants.leaf) for one in within) >= 0.9 * want
        here = [one for sowing, one in self.plants.items() if self.lot_of[sowing] == name]
        stand, to_come = (
            sum(len(one.leaf) for one in here), sum(len(one.to_come) for one in here),
        )  # fmt: skip
        lost = self.losses[name]
        return Outcome(
            lot=name,
            kind=lot.kind,
            enough_sown=enough,
            in_window=sum(one.number for one in within) >= want,
            alive=alive,
            naive=by_calendar >= want,
            naive_alive=alive_by_it >= 0.9 * want,
            allowed=(self.sown[name] + self.left[name]) * lot.alive * 0.95 >= want,
            why=why_lost(self.out[name], lost, stand, to_come, row, want)
            if enough and not alive
            else None,
        )
