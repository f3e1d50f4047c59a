"""`seedstart readings`: what was measured, and logger files taken in."""

from collections.abc import Callable
from pathlib import Path

import click
from msgspec import structs

from seedstart import disk
from seedstart.cli.printing import rows_told, show, show_json, somebody_types, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.drawing.lines import wrapped
from seedstart.drawing.measured_curves import readings_lines, understood_lines
from seedstart.open_season import READINGS_FOLDER, OpenSeason
from seedstart.planning.space.stations_now import read_series
from seedstart.problems import BadInputError
from seedstart.season.loggers.logger_file import Understood, to_tidy, understand
from seedstart.season.loggers.series import marked, new_rows
from seedstart.season.loggers.sources import Answers, Question
from seedstart.season.loggers.tidy_file import write_tidy
from seedstart.settings import writer_name
from seedstart.text import plural

_NONE = (
    "No readings yet: `seedstart readings add FILE` takes in a logger's file, and "
    "`seedstart log read STATION 21.5C` writes down what was read by hand."
)
_PER_SENSOR = frozenset({"station", "quantity", "unit"})


@click.group(invoke_without_command=True)
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
@click.pass_context
def readings(ctx: click.Context, folder: str | None, on: str | None, json_: bool) -> None:
    """What was measured at each station, by loggers and by hand.

    `readings add FILE` takes a logger's file in; `log read STATION 21.5C` writes one down.

    Example: seedstart readings add logger.csv --station "heat mat" --quantity soil_c
    """
    if ctx.invoked_subcommand is not None:
        ctx.obj = folder
        return
    season = open_for(folder, on)
    stations = [one.name for one in season.plan.stations]
    until = season.now() if on is not None else None
    found = read_series(stations, season.readings(), season.records(), season.zone, until)
    if json_:
        show_json(found)
    else:
        lines = readings_lines(found, season.plan.units, width())
        show(lines or wrapped(_NONE, width()))


@readings.command(name="add")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--season", "folder", metavar="PATH", help="The season's folder.")
@click.option("--station", metavar="NAME", help="The station the sensor is at.")
@click.option(
    "--sensor",
    "sensors",
    multiple=True,
    metavar="SENSOR=STATION",
    help="Which sensor is at which station; repeatable.",
)
@click.option("--quantity", metavar="NAME", help="What it measured: soil_c (the medium), air_c, …")
@click.option("--order", metavar="dmy|mdy|ymd", help="Order of day, month and year in the file.")
@click.option("--unit", metavar="C|F", help="Unit of temperatures that give none.")
@click.option(
    "--zone", metavar="ZONE", help="The logger's time zone, e.g. Europe/Vienna, or +01:00 all year."
)
@click.option("--preview", is_flag=True, help="Show how the file is read, and keep nothing.")
@click.pass_obj
def add(
    group_folder: str | None,
    file: Path,
    folder: str | None,
    station: str | None,
    sensors: tuple[str, ...],
    quantity: str | None,
    order: str | None,
    unit: str | None,
    zone: str | None,
    preview: bool,
) -> None:
    """Take in a logger's file. It is shown first; nothing is dropped or counted twice.

    Example: seedstart readings add logger.csv --station "heat mat" --quantity soil_c --order dmy
    """
    season = open_for(folder or group_folder)
    answers = Answers(
        order=order,
        zone=zone,
        unit=unit,
        station=station,
        quantity=quantity,
        stations=dict(_pair(text) for text in sensors),
    )
    data = disk.read(file)
    names = tuple(one.name for one in season.plan.stations)
    with rows_told(data) as told:
        found = _understood(data, file.name, season, answers, names, told)
        fresh = new_rows(season.readings(), marked(to_tidy(found)))
    show(understood_lines(found, fresh, season.plan.units, width()))
    count = sum(len(series) for series in fresh.values())
    if not count:
        tell("All of it is here already; nothing was added.")
        return
    if preview:
        tell(f"{plural(count, 'reading')} would be added; nothing was written.")
        return
    if somebody_types() and not click.confirm("Keep them?", default=True):
        tell("Nothing was written.")
        return
    path = _free_name(season.folder / READINGS_FOLDER, file.stem)
    disk.write_new(path, write_tidy(fresh, season.plan.zone))
    tell(f"{plural(count, 'reading')} added in {path}.")


def _understood(
    data: bytes,
    name: str,
    season: OpenSeason,
    answers: Answers,
    stations: tuple[str, ...],
    told: Callable[[int], None],
) -> Understood:
    """What was made of the file; what it leaves open is asked on a terminal, else refused."""
    zone = season.plan.zone
    while True:
        found = understand(data, name, zone, answers, stations, told)
        if not found.questions:
            return found
        if not somebody_types():
            raise BadInputError(question.as_problem(name) for question in found.questions)
        for question in found.questions:
            answers = _answered(answers, question, _ask(question))


def _ask(question: Question) -> str:
    choices = click.Choice(question.allowed) if question.allowed else None
    answer: str = click.prompt(question.text, type=choices)
    return answer


def _answered(answers: Answers, question: Question, said: str) -> Answers:
    """The answers with one more: of a sensor where it is about one, else of the file."""
    if question.about and question.key in _PER_SENSOR:
        field = {"station": "stations", "quantity": "quantities", "unit": "units"}[question.key]
        return structs.replace(
            answers, **{field: {**getattr(answers, field), question.about: said}}
        )
    return structs.replace(answers, **{question.key: said})


def _pair(text: str) -> tuple[str, str]:
    sensor, sign, station = text.partition("=")
    if not sign:
        raise click.UsageError("--sensor takes SENSOR=STATION.")
    return sensor.strip(), station.strip()


def _free_name(folder: Path, stem: str) -> Path:
    """A file of its own for every import: none is ever changed."""
    base = writer_name(stem) or "readings"
    names = [f"{base}.csv", *(f"{base}-{number}.csv" for number in range(2, 10_000))]
    return next(folder / name for name in names if not (folder / name).exists())
