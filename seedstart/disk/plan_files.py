"""The files of a plan: season.toml, lots.toml, own crops; read together, and again when edited."""

import os
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any, Final, NamedTuple

from msgspec.structs import replace

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.reading import names_in, read, read_folder, shipped
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Planned
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.additions import with_planned
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Frost, Season, read_season
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.trials.planned_tests import read_planned_tests
from seedstart.season.trials.trial_plan import TRIALS_FOLDER
from seedstart.season.weather.weather_days import COLUMNS_FILE, WEATHER_FOLDER
from seedstart.text import folded

Stamps = tuple[tuple[str, int, int], ...]
_COLUMNS: Final = f"{WEATHER_FOLDER}/{COLUMNS_FILE}"


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    return plan_with(folder, {})


def read_plan_without_lots(folder: Path) -> Season:
    """The plan without what lots.toml says."""
    return plan_with(folder, {LOTS_FILE: b""})


def read_record(folder: Path, season: Season, today: date) -> Season:
    """A season with the frost dates of its record, where it has one.

    Args:
        folder: The season's.
        season: As its files say it.
        today: The spring after this day is meant where the season does not say its year.

    Raises:
        BadInputError: The record cannot be read, or does not carry what is asked of it.
    """
    if not _has_record(season):
        return season
    # Most seasons have no record, and pay for none.
    from seedstart.disk.weather_folder import read_columns_of
    from seedstart.season.weather.recorded import with_record

    files = {path: read(folder / path) for path in record_files(folder, season)}
    return with_record(season, files, read_columns_of(folder), today)


def _has_record(season: Season) -> bool:
    return season.said_frost is not None and bool(season.said_frost.record)


class _Record:
    """A season's record of minima, read when one of its dates is first asked for, and once.

    Args:
        folder: The season's.
        season: As its files say it.
        today: The day in a zone.
    """

    def __init__(self, folder: Path, season: Season, today: Callable[[str], date]) -> None:
        self._folder, self._season, self._today = folder, season, today

    @cached_property
    def _read(self) -> tuple[Frost | None, tuple[Problem, ...]]:
        """The dates; where it cannot be read none, and why."""
        try:
            day = self._today(self._season.zone)
            return read_record(self._folder, self._season, day).frost, ()
        except BadInputError as error:
            return self._season.said_frost, error.problems

    def frost(self) -> Frost | None:
        """The season's frost, with the dates of the record where it gives any."""
        return self._read[0]

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Why it gives none."""
        return self._read[1]


def record_files(folder: Path, season: Season) -> tuple[str, ...]:
    """The files of a season's record of minima, by their paths inside it.

    Raises:
        BadInputError: One that is named is not there.
    """
    record = season.said_frost.record if season.said_frost else ()
    found: list[str] = []
    for name in record:
        path = folder / name
        inside = names_in(path, "") if path.is_dir() else ()
        found += [f"{name.rstrip('/')}/{one}" for one in inside] if path.is_dir() else [name]
        if not path.exists() or (path.is_dir() and not inside):
            hint = "There is no such file, and no folder with files, in this season."
            raise BadInputError(
                [Problem(file=SEASON_FILE, key="frost.record", found=name, hint=hint)]
            )
    return tuple(found)


def read_tables(folder: Path) -> dict[str, Any]:
    """season.toml and lots.toml, key by key as they stand there; those of trials/ under `test`.

    Raises:
        BadInputError: One cannot be read.
    """
    found: dict[str, Any] = {}
    for file in (SEASON_FILE, LOTS_FILE):
        path = folder / file
        found |= parse_toml(read(path), file).values if path.exists() else {}
    trials = read_folder(folder / TRIALS_FOLDER, ".toml") if found.get("lot") else {}
    found["test"] = [
        {**parse_toml(data, name).values, "name": name.removesuffix(".toml")}
        for name, data in trials.items()
    ]
    return found


def plan_with(folder: Path, texts: Mapping[str, bytes]) -> Season:
    """The plan, with these texts in place of what stands in their files.

    Raises:
        BadInputError: Everything wrong in them.
    """
    lots = folder / LOTS_FILE
    season = read_season(
        texts[SEASON_FILE] if SEASON_FILE in texts else read(folder / SEASON_FILE),
        texts[LOTS_FILE] if LOTS_FILE in texts else read(lots) if os.path.lexists(lots) else b"",
        _crops(folder),
    )
    # Without its lots a season has nothing that a trial or a test could name.
    files = read_folder(folder / TRIALS_FOLDER, ".toml") if season.lots else {}
    for path, data in texts.items():
        if path.startswith(f"{TRIALS_FOLDER}/"):
            files[path.removeprefix(f"{TRIALS_FOLDER}/")] = data
            if not data:  # it is taken away
                del files[path.removeprefix(f"{TRIALS_FOLDER}/")]
    if not files:
        return season
    from seedstart.season.trials.light_trial import read_trials  # a season without does without

    tests, trials = read_planned_tests(files, season), read_trials(files, season)
    return replace(season, tests=tests, trials=trials)


def _crops(folder: Path) -> CropTable:
    return load_crops(
        read_folder(shipped("crops"), ".toml"),
        own_crop_files(folder),
    )


def own_crop_files(folder: Path) -> dict[str, bytes]:
    """The files of a season's own crops folder, by name; none where there is no such folder."""
    return read_folder(folder / "crops", ".toml")


class Edited(NamedTuple):
    """A file of the plan as it was and as it is, or would be.

    Attributes:
        file: `lots.toml`, `season.toml`, or one of trials/.
        before: What stood there; nothing where it was not there.
        after: What stands there now; nothing where it is taken away.
        plan: What the files say with it.
    """

    file: str
    before: bytes
    after: bytes
    plan: Season

    def changed_lines(self) -> list[str]:
        """The lines of the file that go and those that come, under their numbers."""
        from difflib import SequenceMatcher

        old, new = (text.decode("utf-8-sig").splitlines() for text in (self.before, self.after))
        lines = []
        pairs = SequenceMatcher(a=old, b=new, autojunk=False).get_opcodes()
        for tag, start, end, first, last in pairs:
            if tag == "equal":
                continue
            lines.append(f"{self.file}, line {(start if start < end else first) + 1}")
            lines += [f"  was  {line}" for line in old[start:end] if line.strip()]
            lines += [f"  now  {line}" for line in new[first:last] if line.strip()]
        return lines


def plan_stamps(folder: Path) -> Stamps:
    """Size and time of the plan's files: what shows that one was edited."""
    names = [SEASON_FILE, LOTS_FILE]
    for inner in ("crops", TRIALS_FOLDER):
        try:
            names += [f"{inner}/{name}" for name in names_in(folder / inner, ".toml")]
        except BadInputError:  # reported to whoever reads it
            continue
    return file_stamps(folder, names)


def file_stamps(folder: Path, names: Iterable[str]) -> Stamps:
    """Size and time of some files of a season, those that are there."""
    found = []
    for name in names:
        try:
            seen = (folder / name).stat()
        except OSError:
            continue
        found.append((name, seen.st_size, seen.st_mtime_ns))
    return tuple(found)


class Files(NamedTuple):
    """The plan's files as they were read.

    Attributes:
        season: What they say.
        tables: Both files, key by key as they stand there.
    """

    season: Season
    tables: dict[str, Any]

    def keys_of(self, kind: str, name: str = "") -> dict[str, Any]:
        """What stands under a `[[lot]]`, `[[station]]` … of a name, key by key.

        Args:
            kind: What it stands under; what is there once, as `frost`, has no name. Empty: what
                stands before all tables.
            name: Its present name.
        """
        if not name:
            return dict(self.tables.get(kind, {}) if kind else self.tables)
        wanted = folded(name)
        own = self.tables.get(kind, [])
        return next((one for one in own if folded(one["name"]) == wanted), {})


class Plan(NamedTuple):
    """A plan that is in force, or is to be.

    Attributes:
        season: Its files, with the changes of plan in the journal.
        overruled: Changes of plan that are not in force.
        files: What it was made of.
    """

    season: Season
    overruled: list[Problem]
    files: Files


class PlanInForce:
    """The plan, read again when its files change; what is read counts once it is taken.

    Args:
        folder: The season's.
        today: The day in a zone, for the frost dates of a record.
        without_lots: Go on with stations alone where only lots.toml is wrong.

    Attributes:
        now: The plan in force.
        problems: What is wrong in the files now; the last good plan stands meanwhile.

    Raises:
        BadInputError: The plan cannot be read; everything wrong in it.
    """

    def __init__(
        self, folder: Path, today: Callable[[str], date], *, without_lots: bool = False
    ) -> None:
        self.problems: tuple[Problem, ...] = ()
        self._record: _Record | None = None
        self._record_stamps: Stamps = ()
        self._folder, self._stamps, self._today = folder, plan_stamps(folder), today
        try:
            self._read = self._recorded(Files(read_plan(folder), read_tables(folder)))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read = self._recorded(Files(read_plan_without_lots(folder), {}))
            self.problems = error.problems
        self.now = Plan(self._read.season, [], self._read)

    @property
    def record_problems(self) -> tuple[Problem, ...]:
        """Why the record of minima gives no frost date; the rest of the plan stands."""
        return self._record.problems if self._record else ()

    @property
    def is_behind(self) -> bool:
        """Whether the files were read again since the plan in force was made of them."""
        return self._read is not self.now.files

    def look(self) -> bool:
        """Read the files if they changed; whether they did."""
        stamps = plan_stamps(self._folder)
        if stamps == self._stamps and self._stamps_of(self._read.season) == self._record_stamps:
            return False
        self._stamps = stamps
        try:
            read = Files(read_plan(self._folder), read_tables(self._folder))
            self._read, self.problems = self._recorded(read), ()
        except BadInputError as error:
            self.problems = error.problems
        return True

    def _recorded(self, read: Files) -> Files:
        """The plan with the frost dates of its record, for whoever asks for them."""
        self._record, self._record_stamps = None, self._stamps_of(read.season)
        if not _has_record(read.season):
            return read
        self._record = _Record(self._folder, read.season, self._today)
        season = replace(read.season, frost_of_record=self._record.frost)
        return Files(season, read.tables)

    def _stamps_of(self, season: Season) -> Stamps:
        """Size and time of the files that the frost dates come from, and of what was said."""
        if not _has_record(season):
            return ()
        try:
            return file_stamps(self._folder, (*record_files(self._folder, season), _COLUMNS))
        except BadInputError:  # reported to whoever reads them
            return ()

    def to_be(
        self, journal: Journal, until: date | None = None, edited: Edited | None = None
    ) -> Plan:
        """The plan as the files have it now, with the changes of plan in the journal.

        Args:
            journal: What has it.
            until: Show the end of that day.
            edited: A change that is not made yet, to see what would come of it.
        """
        planned = [
            entry
            for (kind, _), entries in journal.of.items()
            if kind == "lot"
            for entry in entries
            if isinstance(entry, Planned) and entry.id not in journal.struck
            if until is None or entry.at.date() <= until
        ]
        planned.sort(key=lambda entry: (entry.at, entry.id))
        read = self._read
        if edited is not None:
            ours = edited.file == LOTS_FILE
            kept = {key: value for key, value in read.tables.items() if (key == "lot") != ours}
            edited_keys = parse_toml(edited.after, edited.file).values
            read = Files(self._dated_as(read.season, edited.plan), kept | edited_keys)
        if not planned:
            return Plan(read.season, [], read)
        return Plan(*with_planned(read.season, read.tables.get("lot", []), planned), read)

    def _dated_as(self, now: Season, plan: Season) -> Season:
        """A plan to be with the dates of its record, which stay where nothing of the frost changes.

        Raises:
            BadInputError: Another record, or what is asked of it now, gives none.
        """
        if plan.said_frost == now.said_frost:
            return replace(plan, frost_of_record=now.frost_of_record)
        return read_record(self._folder, plan, self._today(plan.zone))

    def take(self, plan: Plan) -> None:
        """Let a plan be the one in force."""
        self.now = plan
