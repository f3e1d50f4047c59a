"""The files of a plan: season.toml, lots.toml, own crops; read together, added to at their end."""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from seedstart.crop_table.load import CropTable, load_crops
from seedstart.disk.reading import names_in, read, read_folder, shipped
from seedstart.disk.writing import change_file, write_new
from seedstart.problems import BadInputError
from seedstart.season.adding import Added, take_off_end
from seedstart.season.lots import add_lots
from seedstart.season.new_lots import check_lots
from seedstart.season.new_stations import add_station, check_station
from seedstart.season.plan import LOTS_FILE, SEASON_FILE, Season, read_season
from seedstart.season.planned_test import PlannedTest
from seedstart.season.planned_tests import (
    TRIALS_FOLDER,
    check_planned_test,
    planned_test_file,
    read_planned_tests,
)
from seedstart.season.toml_in import parse_toml

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
