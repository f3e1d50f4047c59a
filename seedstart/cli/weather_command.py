"""`seedstart weather`: the days around today, and files of weather taken in."""

from datetime import date
from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.frost_command import answers_option, said_of
from seedstart.cli.printing import rows_told, show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.drawing.weather_table import weather_lines
from seedstart.open_season import OpenSeason
from seedstart.problems import Typed
from seedstart.season.weather.refused import refuse_too_large
from seedstart.season.weather.weather_columns import with_answers
from seedstart.season.weather.weather_days import COLUMNS_FILE, WEATHER_FOLDER
from seedstart.season.weather.weather_file import (
    Answers,
    ReadOptions,
    read_issues,
    read_weather,
)
from seedstart.season.weather.weather_folder import FORECAST_BEGINS, is_forecast
from seedstart.settings import writer_name


@click.group(invoke_without_command=True)
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
@click.pass_context
def weather(ctx: click.Context, folder: str | None, on: str | None, json_: bool) -> None:
    """The weather as it is known: measured, forecast, or written down.

    Files lie in weather/: those whose name begins with forecast look ahead, any other was measured.

    Example: seedstart weather add forecast.json --forecast
    """
    if ctx.invoked_subcommand is not None:
        ctx.obj = folder
        return
    season = open_for(folder, on)
    known, files = season.weather(), season.weather_folder.files
    if json_:
        show_json([{"date": day, **_as_json(season, day)} for day in known])
        return
    show(weather_lines(known, files, season.today, season.plan.units, width()))
    if not files:
        tell("No file in weather/ yet: seedstart weather add FILE, or log forecast for a day.")


def _as_json(season: OpenSeason, day: date) -> dict[str, object]:
    one = season.weather()[day]
    return {key: getattr(one, key) for key in one.__struct_fields__}


@weather.command(name="add")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--season", "folder", metavar="PATH", help="The season's folder.")
@click.option("--forecast", is_flag=True, help="It looks ahead.")
@answers_option
@click.pass_obj
def add(
    group_folder: str | None,
    file: Path,
    folder: str | None,
    forecast: bool,
    unit: str | None,
    station: str | None,
    order: str | None,
    columns: tuple[str, ...],
) -> None:
    """Take a file of weather into the season. What you say of it is remembered.

    The next file with the same header is read the same way. The file itself is kept as it is.

    Example: seedstart weather add yard.csv --column "tmin_c=Lowest|C"
    """
    typed = Typed()
    said = said_of(typed, unit, station, order, columns)
    typed.done()
    season = open_for(folder or group_folder)
    refuse_too_large(str(file), disk.size_of(file))
    data = disk.read(file)
    with rows_told(data) as told:
        options = ReadOptions(zone=season.zone, progress=told)
        if forecast or is_forecast(file.name):
            issues = [days for _, days in read_issues(data, file.name, said, options)]
        else:
            issues = [read_weather(data, file.name, said, options)]
    into = season.folder / WEATHER_FOLDER
    if said != Answers():
        _remember(into / COLUMNS_FILE, data, file.name, said)
    path = _free_name(into, file, forecast=forecast)
    disk.write_new(path, data)
    days = {day for one in issues for day in one.days}
    span = f"{date.fromordinal(min(days))} to {date.fromordinal(max(days))}"
    tell(f"{len(days)} days, {span}, in {path}.")
    for text in dict.fromkeys(text for one in issues for text in one.sentences()):
        tell(f"{text[:1].upper()}{text[1:]}.")
    if (forecast or is_forecast(file.name)) and max(days) < season.today.toordinal():
        tell("All its days are past: it says nothing of what is to come.")


def _remember(path: Path, data: bytes, name: str, said: Answers) -> None:
    if path.exists():
        disk.change_file(path, lambda old: with_answers(old, data, name, said))
    else:
        disk.write_new(path, with_answers(b"", data, name, said))


def _free_name(folder: Path, file: Path, *, forecast: bool) -> Path:
    """A file of its own: none is ever changed."""
    base = writer_name(file.stem) or "weather"
    if forecast and not is_forecast(base):
        base = f"{FORECAST_BEGINS}-{base}"
    suffix = file.suffix.casefold() if file.suffix else ".csv"
    names = [f"{base}{suffix}", *(f"{base}-{number}{suffix}" for number in range(2, 10_000))]
    return next(folder / name for name in names if not (folder / name).exists())
