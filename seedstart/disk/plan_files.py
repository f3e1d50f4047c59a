"""The files of a plan: season.toml, lots.toml, own crops; read together, added to at their end."""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Final, NamedTuple

from msgspec.structs import replace

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.folders import make_folder
from seedstart.disk.reading import here, names_in, read, read_folder, shipped
from seedstart.disk.writing import change_file, write_new
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Planned
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.additions import add_station, check_lots, check_station, with_planned
from seedstart.season.plan.lots import add_lots
from seedstart.season.plan.new_season import NewFiles
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season, read_season
from seedstart.season.plan.toml_blocks import Added, take_off_end
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.planned_test import PlannedTest
from seedstart.season.planned_tests import (
    TRIALS_FOLDER,
    check_planned_test,
    planned_test_file,
    read_planned_tests,
)

# Two machines may write at once, each its own file: the union of the lines is the truth.
_GIT_ATTRIBUTES: Final = b"journal/*.jsonl -text merge=union\n"
_FOLDERS: Final = ("journal", "readings", "weather", "trials", "crops")


def season_at_or_above(folder: Path) -> Path | None:
    """The nearest folder, this one or above it, that is a season."""
    for place in (folder, *folder.resolve().parents):
        if (place / SEASON_FILE).is_file():
            return place
    return None


def check_new_season(folder: Path, file: str = "new") -> None:
    """A season is made in a folder of its own, and never inside another.

    Raises:
        BadInputError: The folder is not empty, or lies in a season; `file` says where it was typed.
    """
    hint = ""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        hint = "It is there and not empty; name a folder that is not there yet."
    elif folder.exists() and folder.samefile(here()):
        hint = "You are in it: go to the folder above it (cd ..) and name it from there."
    elif above := season_at_or_above(folder.resolve().parent):
        hint = f"{above} is a season already; a season inside a season would be mistaken for it."
    if hint:
        raise BadInputError([Problem(file=file, found=str(folder), hint=hint)])


def make_season(folder: Path, files: NewFiles) -> None:
    """The folder of a new season, whole or not at all.

    Raises:
        BadInputError: There is something in that place.
        NotRecorded: It cannot be made there.
    """
    check_new_season(folder)
    data = {
        SEASON_FILE: files.season_toml,
        LOTS_FILE: files.lots_toml,
        ".gitattributes": _GIT_ATTRIBUTES,
        **{f"crops/{name}": text for name, text in files.crops.items()},
    }
    make_folder(folder, data, folders=_FOLDERS)


Stamps = tuple[tuple[str, int, int], ...]


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    return _plan_with(folder, {})


def read_plan_without_lots(folder: Path) -> Season:
    """The plan without what lots.toml says."""
    return _plan_with(folder, {LOTS_FILE: b""})


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
    # Without its lots a season has nothing that a test could name.
    trials = read_folder(folder / TRIALS_FOLDER, ".toml") if season.lots else {}
    return replace(season, tests=read_planned_tests(trials, season)) if trials else season


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
    files = [folder / SEASON_FILE, folder / LOTS_FILE]
    for below in (folder / "crops", folder / TRIALS_FOLDER):
        try:
            files += [below / name for name in names_in(below, ".toml")]
        except BadInputError:  # whoever reads it is told
            continue
    found = []
    for path in files:
        try:
            seen = path.stat()
        except OSError:
            continue
        found.append((path.name, seen.st_size, seen.st_mtime_ns))
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
        without_lots: Go on with stations alone where only lots.toml is wrong.

    Attributes:
        now: The plan in force.
        problems: What is wrong in the files now; the last good plan stands meanwhile.

    Raises:
        BadInputError: The plan cannot be read; everything wrong in it.
    """

    def __init__(self, folder: Path, *, without_lots: bool = False) -> None:
        self.problems: tuple[Problem, ...] = ()
        self._folder, self._stamps = folder, plan_stamps(folder)
        try:
            self._read = Files(read_plan(folder), read_lot_tables(folder))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read, self.problems = Files(read_plan_without_lots(folder), []), error.problems
        self.now = Plan(self._read.season, [], self._read)

    @property
    def is_behind(self) -> bool:
        """Whether the files were read again since the plan in force was made of them."""
        return self._read is not self.now.files

    def look(self) -> bool:
        """Read the files if they changed; whether they did."""
        stamps = plan_stamps(self._folder)
        if stamps == self._stamps:
            return False
        self._stamps = stamps
        try:
            self._read = Files(read_plan(self._folder), read_lot_tables(self._folder))
            self.problems = ()
        except BadInputError as error:
            self.problems = error.problems
        return True

    def to_be(self, journal: Journal, until: date | None = None) -> Plan:
        """The plan as the files say now, with what was planned anew.

        Args:
            journal: What has it.
            until: As of the end of that day.
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
