"""The files of a plan: season.toml, lots.toml, own crops; read together, and again when edited."""

import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, Final, NamedTuple

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.folders import make_folder
from seedstart.disk.reading import here, names_in, read, read_folder, shipped
from seedstart.problems import BadInputError, Problem
from seedstart.season.journal.entries import Planned
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.additions import (
    with_planned,
)
from seedstart.season.plan.new_season import NewFiles
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season, read_season
from seedstart.season.plan.toml_text import parse_toml

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
    }
    make_folder(folder, data, folders=_FOLDERS)


Stamps = tuple[tuple[str, int, int], ...]


def read_plan(folder: Path) -> Season:
    """The plan in a season's folder: season.toml, lots.toml and its own crops.

    Raises:
        BadInputError: Everything wrong in them.
    """
    return plan_with(folder, {})


def read_plan_without_lots(folder: Path) -> Season:
    """The plan without what lots.toml says."""
    return plan_with(folder, {LOTS_FILE: b""})


def read_tables(folder: Path) -> dict[str, Any]:
    """season.toml and lots.toml, key by key as they stand there.

    Raises:
        BadInputError: One cannot be read.
    """
    found: dict[str, Any] = {}
    for file in (SEASON_FILE, LOTS_FILE):
        path = folder / file
        found |= parse_toml(read(path), file).values if path.exists() else {}
    return found


def plan_with(folder: Path, texts: Mapping[str, bytes]) -> Season:
    """The plan, with these texts in place of what stands in their files.

    Raises:
        BadInputError: Everything wrong in them.
    """
    lots = folder / LOTS_FILE
    return read_season(
        texts[SEASON_FILE] if SEASON_FILE in texts else read(folder / SEASON_FILE),
        texts[LOTS_FILE] if LOTS_FILE in texts else read(lots) if os.path.lexists(lots) else b"",
        _crops(folder),
    )


def _crops(folder: Path) -> CropTable:
    return load_crops(
        read_folder(shipped("crops"), ".toml"),
        read_folder(folder / "crops", ".toml"),
    )


class Edited(NamedTuple):
    """A file of the plan as it was and as it is, or would be.

    Attributes:
        file: `lots.toml` or `season.toml`.
        before: What stood there.
        after: What stands there now.
        plan: What the files say with it.
    """

    file: str
    before: bytes
    after: bytes
    plan: Season


def plan_stamps(folder: Path) -> Stamps:
    """Size and time of the plan's files: what shows that one was edited."""
    try:
        crops = names_in(folder / "crops", ".toml")
    except BadInputError:  # whoever reads it is told
        crops = ()
    files = [folder / SEASON_FILE, folder / LOTS_FILE, *(folder / "crops" / name for name in crops)]
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
        tables: Both files, key by key as they stand there.
    """

    season: Season
    tables: dict[str, Any]


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
            self._read = Files(read_plan(folder), read_tables(folder))
        except BadInputError as error:
            if not without_lots:
                raise
            self._read, self.problems = Files(read_plan_without_lots(folder), {}), error.problems
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
            self._read = Files(read_plan(self._folder), read_tables(self._folder))
            self.problems = ()
        except BadInputError as error:
            self.problems = error.problems
        return True

    def to_be(
        self, journal: Journal, until: date | None = None, edited: Edited | None = None
    ) -> Plan:
        """The plan as the files say now, with what was planned anew.

        Args:
            journal: What has it.
            until: As of the end of that day.
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
            said = parse_toml(edited.after, edited.file).values
            read = Files(edited.plan, kept | said)
        if not planned:
            return Plan(read.season, [], read)
        return Plan(*with_planned(read.season, read.tables.get("lot", []), planned), read)

    def take(self, plan: Plan) -> None:
        """Let a plan be the one in force."""
        self.now = plan
