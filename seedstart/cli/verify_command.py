"""`seedstart verify`: every file of a season read whole, everything in it to be settled named."""

from collections.abc import Iterator, Mapping
from pathlib import Path

import click
from msgspec import Struct, structs

from seedstart import disk
from seedstart.cli.printing import in_full, show, show_json, width
from seedstart.cli.season_files import find_season, season_option
from seedstart.disk.growing_folders import JOURNAL_FOLDER, JOURNAL_SUFFIX
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.open_season import READINGS_FOLDER, OpenSeason
from seedstart.problems import BadInputError, Problem, count_of, gathered
from seedstart.season.journal.journal import Journal, Lines
from seedstart.season.loggers.tidy_file import read_tidy
from seedstart.season.plan.season_file import SEASON_FILE
from seedstart.settings import read_settings
from seedstart.text import folded, plural
from seedstart.tracking.entry_warnings import Doubt, doubts


class Verified(Struct, frozen=True):
    """What was read, and what is wrong or in doubt in it."""

    files: int
    entries: int
    problems: list[Problem]


@click.command()
@season_option
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
def verify(folder: str | None, json_: bool) -> None:
    """Read every file of a season; name what is wrong in it and what is in doubt.

    Exit code 1 if there is anything. Nothing is changed.

    Example: seedstart verify --season sample_season
    """
    found = _verified(find_season(folder))
    if json_:
        shown = [problem.as_json() for problem in found.problems]
        show_json({"files": found.files, "entries": found.entries, "problems": shown})
    else:
        show(_lines(found))
    raise SystemExit(1 if found.problems else 0)


def _verified(folder: Path) -> Verified:
    """Every file read afresh, a torn last line too; then what follows from all of them."""
    files, unread = _files(folder, JOURNAL_FOLDER, JOURNAL_SUFFIX)
    journal = Journal()
    journal.read(*(Lines(name, data) for name, data in files.items()))
    problems = [*unread, *journal.set_aside, *journal.disputed, *_garbled_readings(folder)]
    writer = read_settings().writer
    try:
        season = OpenSeason(folder, writer)
    except BadInputError as error:
        # Without a plan there is no telling what is meant; what the files hold is told anyway.
        problems = [*(one for one in error.problems if one not in unread), *problems]
    else:
        found = doubts(season.journal, season.records(), season.plan, season.now())
        problems += [_located(doubt, season.journal, files) for doubt in found]
        season.weather()
        problems += [*season.record_problems, *season.weather_folder.problems]
        problems += [*season.planned_problems, *_measured_nowhere(season), *_of_crops(season)]
    problems += _left_over(folder)
    return Verified(len(files), len(journal.by_id), gathered(problems))


def _of_crops(season: OpenSeason) -> tuple[Problem, ...]:
    """What is wrong in crops that ship: those that the season does not grow were not read yet."""
    try:
        season.plan.crops.read_all()
    except BadInputError as error:
        return error.problems
    return ()


def _files(season: Path, folder: str, suffix: str) -> tuple[dict[str, bytes], list[Problem]]:
    """The files of one of the season's folders, and what cannot be read of them."""
    found, unread = dict[str, bytes](), list[Problem]()
    try:
        names = disk.names_in(season / folder, suffix)
    except BadInputError as error:
        return found, disk.in_season(error, folder)
    for name in names:
        try:
            found[f"{folder}/{name}"] = disk.read(season / folder / name)
        except BadInputError as error:
            unread += disk.in_season(error, f"{folder}/{name}")
    return found, unread


def _garbled_readings(folder: Path) -> Iterator[Problem]:
    files, unread = _files(folder, READINGS_FOLDER, ".csv")
    yield from unread
    for name, data in files.items():
        yield from read_tidy(data, name)[1]


def _left_over(folder: Path) -> Iterator[Problem]:
    """What runs that were killed left half-made, in the season and beside it."""
    beside = folder.absolute().parent
    for place in (folder, folder / JOURNAL_FOLDER, folder / READINGS_FOLDER, beside):
        for path in disk.left_in(place):
            hint = (
                "A run that was stopped left it unfinished: nothing in it counts. The next "
                + ("`seedstart new` there" if path.is_dir() else "entry")
                + " takes it away."
            )
            yield Problem(file=str(path), hint=hint)


def _measured_nowhere(season: OpenSeason) -> Iterator[Problem]:
    """Stations of the readings that the plan does not list: no date rests on them."""
    called = season.records().called.stations
    names = tuple(one.name for one in season.plan.stations)
    hint = f"Not listed in {SEASON_FILE}: its readings are not used."
    try:
        measured = {station for station, _ in season.readings()}
    except BadInputError:  # which file, and why, is told already
        return
    for station in sorted(measured):
        if folded(station) not in called:
            yield Problem(
                file=READINGS_FOLDER, key="station", found=station, allowed=names, hint=hint
            )


def _located(doubt: Doubt, journal: Journal, files: Mapping[str, bytes]) -> Problem:
    """A doubt by the file and line of its entry: the writer's own file before any copy."""
    if doubt.entry is None:
        return doubt.problem
    own = f"{JOURNAL_FOLDER}/{journal.by_id[doubt.entry].by}{JOURNAL_SUFFIX}"
    named = f'"id":"{doubt.entry}"'.encode()
    for file in sorted(files, key=lambda name: (name != own, name)):
        place = files[file].find(named)
        if place >= 0:
            line = files[file].count(b"\n", 0, place) + 1
            return structs.replace(doubt.problem, file=file, line=line)
    return doubt.problem


def _lines(found: Verified) -> list[Line]:
    files, entries = found.files, found.entries
    counted = f"{plural(files, 'journal file')}, {plural(entries, 'entry', 'entries')}"
    if not found.problems:
        return [plain(f"{counted}: no faults.")]
    lines = [heading(f"{counted}: {plural(count_of(found.problems), 'fault')}")]
    for problem in found.problems:
        lines += wrapped(in_full(problem), width(), indent="  ", role="warn")
    return lines
