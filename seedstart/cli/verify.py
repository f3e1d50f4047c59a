"""`seedstart verify`: every file of a season read whole, everything wrong in it named."""

import click

from seedstart import disk
from seedstart.cli.recording import open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, show_json, width
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.open_season import JOURNAL_FOLDER, JOURNAL_SUFFIX, OpenSeason
from seedstart.problems import Problem
from seedstart.season.journal import Journal, Lines
from seedstart.text import plural


@click.command()
@season_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def verify(folder: str | None, json_: bool) -> None:
    """Read every file of a season and name what is wrong; exit code 1 if anything is.

    Example: seedstart verify --season sample_season
    """
    season = open_for(folder)
    files, entries, problems = _journal(season)
    problems += season.journal.disputed
    problems += _records(season)
    season.readings()
    problems += season.reading_problems + season.planned_problems
    if json_:
        shown = [problem.as_json() for problem in problems]
        show_json({"files": files, "entries": entries, "problems": shown})
    else:
        show(_lines(files, entries, problems))
    raise SystemExit(1 if problems else 0)


def _journal(season: OpenSeason) -> tuple[int, int, list[Problem]]:
    """Every journal file read afresh, its last line too, be it torn."""
    folder = season.folder / JOURNAL_FOLDER
    fresh = Journal()
    files = disk.read_folder(folder, JOURNAL_SUFFIX)
    fresh.read(*(Lines(f"{JOURNAL_FOLDER}/{name}", data) for name, data in files.items()))
    return len(files), len(fresh.by_id), list(fresh.set_aside)


def _records(season: OpenSeason) -> list[Problem]:
    """What was said of a sowing and cannot be, and lines about sowings that are not there."""
    records = season.records()
    found = [problem for one in records.standings.values() for problem in one.problems]
    for name, entries in records.astray.items():
        nearest = tuple(sorted(records.names_borne))
        hint = f"{plural(len(entries), 'entry', 'entries')} about it, kept and passed over."
        found.append(
            Problem(
                file=JOURNAL_FOLDER,
                key=f"id {entries[0].id}",
                found=name,
                allowed=nearest,
                hint=hint,
                listed_by="seedstart lots",
            )
        )
    return found


def _lines(files: int, entries: int, problems: list[Problem]) -> list[Line]:
    counted = f"{plural(files, 'journal file')}, {plural(entries, 'entry', 'entries')}"
    if not problems:
        return [plain(f"{counted}: nothing is wrong.")]
    lines = [heading(f"{counted}: {plural(len(problems), 'problem')}")]
    for problem in problems:
        lines += wrapped(str(problem), width(), indent="  ", role="warn")
    return lines
