"""The files of a plan, changed: added to at their end, edited in place, taken back."""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from seedstart.disk.plan_files import Edited, plan_with, read_plan
from seedstart.disk.reading import names_in, read
from seedstart.disk.writing import change_file, take_away, write_new
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.additions import (
    add_container,
    add_station,
    check_container,
    check_lots,
    check_station,
)
from seedstart.season.plan.lots import add_lots
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Season
from seedstart.season.plan.toml_blocks import Added, take_off_end
from seedstart.season.trials.planned_tests import (
    check_planned_test,
    path_of_test,
    planned_test_file,
)
from seedstart.season.trials.trial_plan import TRIALS_FOLDER, TrialPlan


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
        check_lots(new_lots, plan_with(folder, {LOTS_FILE: old}))
        return add_lots(old, new_lots)

    names = tuple(str(keys["name"]) for keys in new_lots)
    return _append(folder, LOTS_FILE, "lot", names, added)


def append_station(folder: Path, keys: Mapping[str, Any], trays: Iterable[str] = ()) -> Added:
    """Add a station at the end of a season's season.toml; comments and order stay.

    Args:
        folder: The season's.
        keys: Keys and values of the station.
        trays: Names that trays have in the journal.

    Returns:
        What was added, so that it can be taken off.

    Raises:
        BadInputError: Everything wrong in it; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def added(old: bytes) -> bytes:
        check_station(keys, plan_with(folder, {SEASON_FILE: old}), trays)
        return add_station(old, keys)

    return _append(folder, SEASON_FILE, "station", (str(keys["name"]),), added)


def append_container(folder: Path, keys: Mapping[str, Any]) -> Added:
    """Add a container at the end of a season's season.toml; comments and order stay.

    Raises:
        BadInputError: Everything wrong in it; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """

    def added(old: bytes) -> bytes:
        check_container(keys, plan_with(folder, {SEASON_FILE: old}))
        return add_container(old, keys)

    return _append(folder, SEASON_FILE, "container", (str(keys["name"]),), added)


def _append(
    folder: Path, file: str, header: str, names: tuple[str, ...], add: Callable[[bytes], bytes]
) -> Added:
    text = b""

    def changed(old: bytes) -> bytes:
        nonlocal text
        new = add(old)
        plan_with(folder, {file: new})  # what could not be read again is not written
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
        plan_with(folder, {added.file: new})
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
        plan_with(folder, {added.file: new})
        return new

    change_file(folder / added.file, again)


Edit = Callable[[bytes, Season], bytes]


def previewed(folder: Path, file: str, edit: Edit) -> Edited:
    """What a change would make of a file of the plan; nothing is written.

    Args:
        folder: The season's.
        file: Its name.
        edit: The file's bytes and the plan that they are part of → its bytes then.

    Raises:
        BadInputError: Everything wrong in it.
    """
    path = folder / file
    return _edited(folder, file, edit, read(path) if os.path.lexists(path) else b"")


def _edited(folder: Path, file: str, edit: Edit, old: bytes) -> Edited:
    new = edit(old, plan_with(folder, {file: old}))
    return Edited(file, old, new, plan_with(folder, {file: new}))


def edit_plan(folder: Path, file: str, edit: Edit) -> Edited:
    """Make a change in a file of the plan; what is not meant stays byte by byte.

    Args:
        folder: The season's.
        file: Its name.
        edit: As `previewed` has it; called again where the file was saved meanwhile.

    Raises:
        BadInputError: Everything wrong in it; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    made: list[Edited] = []

    def changed(old: bytes) -> bytes:
        made.append(_edited(folder, file, edit, old))
        return made[-1].after

    change_file(folder / file, changed)
    return made[-1]


def swap_back(folder: Path, edited: Edited) -> Edited:
    """Take a change back while its file is still as it left it; gives what restores it.

    Raises:
        BadInputError: The file was edited since; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    if not edited.before:
        return take_file_away(folder, edited.file, edited.after)

    def back(now: bytes, _: Season) -> bytes:
        if now != edited.after:
            hint = "It was edited since; put that right there by hand."
            raise BadInputError([Problem(file=edited.file, hint=hint)])
        return edited.before

    return edit_plan(folder, edited.file, back)


def take_file_away(folder: Path, file: str, still: bytes) -> Edited:
    """Take a file of the plan away while its text is still the one that was looked at.

    Raises:
        NotRecorded: It was saved since, or the disk refused; it stays.
    """
    without = plan_with(folder, {file: b""})
    take_away(folder / file, still)
    return Edited(file, still, b"", without)


def write_planned_test(
    folder: Path, name: str, keys: Mapping[str, Any], *, file: str = "new test"
) -> Edited:
    """Write the file of a new germination test, trials/NAME.toml.

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
    check_planned_test(name, keys, read_plan(folder), taken, file=file)
    path, data = path_of_test(name), planned_test_file(keys)
    write_new(folder / path, data)
    return Edited(path, b"", data, read_plan(folder))


def write_trial_file(folder: Path, trial: TrialPlan) -> Edited:
    """Write the file of a new trial, trials/NAME.toml.

    Raises:
        BadInputError: There is one of this name, or it could not be read; nothing was written.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    from seedstart.season.trials.light_trial import read_trial, write_trial

    path, data = f"{TRIALS_FOLDER}/{trial.name}.toml", write_trial(trial)
    read_trial(data, trial.name, read_plan(folder))
    write_new(folder / path, data)
    return Edited(path, b"", data, read_plan(folder))
