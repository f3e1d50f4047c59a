"""The files of a plan: season.toml, lots.toml, own crops; read together, added to at their end."""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Final, NamedTuple

from msgspec.structs import replace

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.durable import Written
from seedstart.disk.reading import names_in, read, read_folder, shipped
from seedstart.disk.writing import change_file, write_new
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Planned
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.additions import add_station, check_lots, check_station, with_planned
from seedstart.season.plan.lots import add_lots
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season, read_season
from seedstart.season.plan.toml_blocks import Added, take_off_end
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.trials.planned_test import PlannedTest
from seedstart.season.trials.planned_tests import (
    check_planned_test,
    planned_test_file,
    read_planned_tests,
)
from seedstart.season.trials.trial_plan import TRIALS_FOLDER, TrialPlan

Stamps = tuple[tuple[str, int, int], ...]
COLUMNS_PATH: Final = "weather/columns.toml"  # what was said of weather files


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    return _plan_with(folder, {})


def read_plan_without_lots(folder: Path) -> Season:
    """The plan without what lots.toml says."""
    return _plan_with(folder, {LOTS_FILE: b""})


def read_record(folder: Path, season: Season, today: date) -> Season:
    """A season with the frost dates of its record, where it has one.

    Args:
        folder: The season's.
        season: As its files say it.
        today: The spring after this day is meant where the season does not say its year.

    Raises:
        BadInputError: The record cannot be read, or does not carry what is asked of it.
    """
    if season.frost is None or not season.frost.record:
        return season
    # Most seasons have no record, and pay for none.
    from seedstart.disk.weather_folder import read_columns_of
    from seedstart.season.weather.recorded import with_record

    files = {path: read(folder / path) for path in record_files(folder, season)}
    return with_record(season, files, read_columns_of(folder), today)


def record_files(folder: Path, season: Season) -> tuple[str, ...]:
    """The files of a season's record of minima, by their paths inside it.

    Raises:
        BadInputError: One that is named is not there.
    """
    record = season.frost.record if season.frost else ()
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


def read_lot_tables(folder: Path) -> list[dict[str, Any]]:
    """The tables of lots.toml, key by key as they stand there; none where there is no such file.

    Raises:
        BadInputError: It cannot be read.
    """
    path = folder / LOTS_FILE
    said = parse_toml(read(path), LOTS_FILE).values if path.exists() else {}
    return list(said.get("lot", []))


def _plan_with(folder: Path, texts: Mapping[str, bytes]) -> Season:
    """The plan, with these texts in place of what stands in their files."""
    lots = folder / LOTS_FILE
    season = read_season(
        texts[SEASON_FILE] if SEASON_FILE in texts else read(folder / SEASON_FILE),
        texts[LOTS_FILE] if LOTS_FILE in texts else read(lots) if os.path.lexists(lots) else b"",
        _crops(folder),
    )
    # Without its lots a season has nothing that a trial or a test could name.
    files = read_folder(folder / TRIALS_FOLDER, ".toml") if season.lots else {}
    if not files:
        return season
    from seedstart.season.trials.light_trial import read_trials  # a season without does without

    tests, trials = read_planned_tests(files, season), read_trials(files, season)
    return replace(season, tests=tests, trials=trials)


def write_trial_file(folder: Path, trial: TrialPlan) -> Written:
    """Write trials/NAME.toml, once: what was planned is never written anew.

    Raises:
        BadInputError: There is one of this name.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    from seedstart.season.trials.light_trial import write_trial

    return write_new(folder / TRIALS_FOLDER / f"{trial.name}.toml", write_trial(trial))


def _crops(folder: Path) -> CropTable:
    return load_crops(
        read_folder(shipped("crops"), ".toml"),
        own_crop_files(folder),
    )


def own_crop_files(folder: Path) -> dict[str, bytes]:
    """The files of a season's own crops folder, by name; none where there is no such folder."""
    return read_folder(folder / "crops", ".toml")


def append_lots(folder: Path, new_lots: Sequence[Mapping[str, Any]]) -> Added:
    """Add lots at the end of a season's lots.toml; comments and order stay.

    They are checked again under the lock: the season may have changed since they were typed.

    Args:
        folder: The season's.
        new_lots: Keys and values of each lot.

    Returns:
        What was added, so that it can be taken off.

    Raises:
        BadInputError: Everything wrong in them; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def added(old: bytes) -> bytes:
        check_lots(new_lots, _plan_with(folder, {LOTS_FILE: old}))
        return add_lots(old, new_lots)

    names = tuple(str(keys["name"]) for keys in new_lots)
    return _append(folder, LOTS_FILE, "lot", names, added)


def append_station(folder: Path, keys: Mapping[str, Any], trays: Iterable[str] = ()) -> Added:
    """Add a station at the end of a season's season.toml; comments and order stay.

    Args:
        folder: The season's.
        keys: Keys and values of the station.
        trays: Names that trays bear in the journal.

    Returns:
        What was added, so that it can be taken off.

    Raises:
        BadInputError: Everything wrong in it; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def added(old: bytes) -> bytes:
        check_station(keys, _plan_with(folder, {SEASON_FILE: old}), trays)
        return add_station(old, keys)

    return _append(folder, SEASON_FILE, "station", (str(keys["name"]),), added)


def write_planned_test(
    folder: Path, name: str, keys: Mapping[str, Any], *, file: str = "new test"
) -> PlannedTest:
    """Write trials/NAME.toml, once: what was planned is never written anew.

    Args:
        folder: The season's.
        name: What the test is called.
        keys: Keys and values of the file.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in them; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    taken = (one.removesuffix(".toml") for one in names_in(folder / TRIALS_FOLDER, ".toml"))
    test = check_planned_test(name, keys, read_plan(folder), taken, file=file)
    write_new(folder / TRIALS_FOLDER / f"{name}.toml", planned_test_file(keys))
    return test


def _append(
    folder: Path, file: str, header: str, names: tuple[str, ...], add: Callable[[bytes], bytes]
) -> Added:
    text = b""

    def changed(old: bytes) -> bytes:
        nonlocal text
        new = add(old)
        _plan_with(folder, {file: new})  # what could not be read again is not written
        text = new[len(old) :]
        return new

    change_file(folder / file, changed)
    return Added(file, header, names, text)


def take_off(folder: Path, added: Added) -> None:
    """Take away what was added, while it is still the end of its file and no file names it.

    Raises:
        BadInputError: It cannot be done; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def without(old: bytes) -> bytes:
        new = take_off_end(old, added)
        _plan_with(folder, {added.file: new})
        return new

    change_file(folder / added.file, without)


def put_back(folder: Path, added: Added) -> None:
    """Put what was taken off at the end of its file again.

    Raises:
        BadInputError: It no longer fits there; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def again(old: bytes) -> bytes:
        new = old + added.text
        _plan_with(folder, {added.file: new})
        return new

    change_file(folder / added.file, again)


def plan_stamps(folder: Path) -> Stamps:
    """Size and time of the plan's files: what shows that one was edited."""
    names = [SEASON_FILE, LOTS_FILE]
    for inner in ("crops", TRIALS_FOLDER):
        try:
            names += [f"{inner}/{name}" for name in names_in(folder / inner, ".toml")]
        except BadInputError:  # whoever reads it is told
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
        lot_tables: lots.toml, table by table as it stands there.
    """

    season: Season
    lot_tables: list[dict[str, Any]]


class Plan(NamedTuple):
    """A plan that is in force, or is to be.

    Attributes:
        season: Its files, and what was planned anew.
        overruled: What was planned anew and is not in force.
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
        record_problems: Why the record of minima gives no frost date; the rest of the plan stands.

    Raises:
        BadInputError: The plan cannot be read; everything wrong in it.
    """

    def __init__(
        self, folder: Path, today: Callable[[str], date], *, without_lots: bool = False
    ) -> None:
        self.problems: tuple[Problem, ...] = ()
        self.record_problems: tuple[Problem, ...] = ()
        self._record_stamps: Stamps = ()
        self._folder, self._stamps, self._today = folder, plan_stamps(folder), today
        try:
            self._read = self._recorded(Files(read_plan(folder), read_lot_tables(folder)))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read = self._recorded(Files(read_plan_without_lots(folder), []))
            self.problems = error.problems
        self.now = Plan(self._read.season, [], self._read)

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
            read = Files(read_plan(self._folder), read_lot_tables(self._folder))
            self._read, self.problems = self._recorded(read), ()
        except BadInputError as error:
            self.problems = error.problems
        return True

    def _recorded(self, read: Files) -> Files:
        """The plan with the frost dates of its record; one that cannot be read leaves none."""
        self.record_problems, self._record_stamps = (), self._stamps_of(read.season)
        try:
            season = read_record(self._folder, read.season, self._today(read.season.zone))
        except BadInputError as error:
            self.record_problems = error.problems
            return read
        return Files(season, read.lot_tables)

    def _stamps_of(self, season: Season) -> Stamps:
        """Size and time of the files that the frost dates come from, and of what was said."""
        if season.frost is None or not season.frost.record:
            return ()
        try:
            return file_stamps(self._folder, (*record_files(self._folder, season), COLUMNS_PATH))
        except BadInputError:  # whoever reads them is told
            return ()

    def to_be(self, journal: Journal, until: date | None = None) -> Plan:
        """The plan as the files say now, with what was planned anew.

        Args:
            journal: What has it.
            until: Show the end of that day.
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
        if not planned:
            return Plan(read.season, [], read)
        return Plan(*with_planned(read.season, read.lot_tables, planned), read)

    def take(self, plan: Plan) -> None:
        """Let a plan be the one in force."""
        self.now = plan
