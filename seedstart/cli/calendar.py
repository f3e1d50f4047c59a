"""`seedstart calendar`: the sowing calendar, of a season or of a bare frost date."""

from collections.abc import Iterable
from datetime import date

import click

from seedstart.cli.calendar_output import CSV_HEADER, row_as_csv, row_as_json
from seedstart.cli.crop_files import crop_table
from seedstart.cli.season_files import find_season, read_plan, season_option
from seedstart.cli.show import show, show_csv, show_json, width
from seedstart.cli.typed import Typed
from seedstart.crop_table.crop import Crop, Source
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable
from seedstart.days import parse_day
from seedstart.drawing.calendar_table import calendar_lines
from seedstart.planning.ask import Ask, Where, tray_setting
from seedstart.planning.calendar import plan
from seedstart.planning.frost_dates import FrostDates, frost_dates
from seedstart.planning.row import Row
from seedstart.planning.season_rows import frost_of, season_rows
from seedstart.problems import Problem
from seedstart.season.names import Names, find_name
from seedstart.units import Temperatures, parse_temperatures

_NO_FROST = "No frost date: only lots with a day of their own have dates."


@click.command()
@season_option
@click.option("--last-frost", metavar="DATE", help="No season: count from this day, 2027-05-12.")
@click.option(
    "--risk",
    metavar="PERCENT",
    help="A frost later than that in this share of years: 50 the average date (default), "
    "10 one that is safe nine years in ten.",
)
@click.option("--crop", "crops", metavar="NAME", multiple=True, help="Only this crop; repeatable.")
@click.option(
    "--station-temperature",
    metavar="T",
    help="No season: how warm the medium is: 20C, 68F, or '21C day, 14C night'. "
    "Default: each crop's own mixed-tray setting.",
)
@click.option("--lot", "lots", metavar="NAME", multiple=True, help="Only this lot; repeatable.")
@click.option("--station", "stations", metavar="NAME", multiple=True, help="Only this station.")
@click.option("--from", "first", metavar="DATE", help="Only what has a step from this day on.")
@click.option("--to", "last", metavar="DATE", help="Only what has a step up to this day.")
@click.option("--why", is_flag=True, help="Explain every date, with its sources.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
@click.option("--csv", "csv_", is_flag=True, help="For a spreadsheet.")
def calendar(
    folder: str | None,
    last_frost: str | None,
    risk: str | None,
    crops: tuple[str, ...],
    station_temperature: str | None,
    lots: tuple[str, ...],
    stations: tuple[str, ...],
    first: str | None,
    last: str | None,
    why: bool,
    json_: bool,
    csv_: bool,
) -> None:
    """When to sow, prick out, harden off and set out, counted back from the last frost.

    On a season it dates every lot; with --last-frost it needs no season.

    Example: seedstart calendar --last-frost 2027-05-12 --crop pepper --why
    """
    typed = Typed()
    from_day = typed.read("--from", first, parse_day)
    to_day = typed.read("--to", last, parse_day)
    if last_frost is not None:
        _refuse(typed, folder=folder, lot=lots, station=stations)
        rows, frost, sources = _bare(typed, last_frost, risk, crops, station_temperature)
    else:
        _refuse(typed, risk=risk, station_temperature=station_temperature)
        rows, frost, sources = _of_season(typed, folder, crops, lots, stations)
    rows = [row for row in rows if _between(row, from_day, to_day)]
    if json_:
        show_json([row_as_json(row, frost) for row in rows])
    elif csv_:
        show_csv(CSV_HEADER, [row_as_csv(row, frost) for row in rows])
    else:
        sentence = frost.sentence() if frost else _NO_FROST
        show(calendar_lines(rows, sentence, width=width(), why=why, sources=sources))


_Rows = tuple[list[Row], FrostDates | None, dict[str, Source]]


def _refuse(typed: Typed, **options: object) -> None:
    """Options that say nothing beside the others."""
    for name, value in options.items():
        if value:
            option = "--season" if name == "folder" else f"--{name.replace('_', '-')}"
            hint = (
                "Goes with --last-frost alone; a season has its own."
                if name in {"risk", "station_temperature"}
                else "Goes with a season, and --last-frost needs none."
            )
            typed.refuse(Problem(file=option, hint=hint))


def _bare(
    typed: Typed,
    last_frost: str,
    risk: str | None,
    names: tuple[str, ...],
    station_temperature: str | None,
) -> _Rows:
    """A row for each crop, without a season: at one temperature, or each at its tray setting."""
    table = crop_table()
    day = typed.read("--last-frost", last_frost, parse_day)
    share = typed.read("--risk", risk, parse_risk)
    medium = typed.read("--station-temperature", station_temperature, parse_temperatures)
    crops = [typed.take(find_crop(table, name, file="--crop")) for name in names]
    typed.done()
    if day is None:
        raise ValueError("a day that could not be read has been refused")
    frost = frost_dates(day, 50 if share is None else share)
    chosen = [crop for crop in crops if crop] or sown_indoors(table)
    return bare_rows(chosen, frost, medium), frost, table.sources


def _of_season(
    typed: Typed,
    folder: str | None,
    names: tuple[str, ...],
    lots: tuple[str, ...],
    stations: tuple[str, ...],
) -> _Rows:
    """The rows of a season, those that were asked for."""
    typed.done()
    season = read_plan(find_season(folder))
    known, places = Names(season.lots), Names(season.stations)
    wanted = [typed.take(find_name(name, known, file="--lot", lists="lots")) for name in lots]
    at = [typed.take(find_name(name, places, file="--station")) for name in stations]
    crops = [typed.take(find_crop(season.crops, name, file="--crop")) for name in names]
    typed.done()
    only = {crop.name for crop in crops if crop}
    rows = [
        row
        for row in season_rows(season)
        if (not lots or row.lot in wanted)
        and (not stations or row.station in at)
        and (not names or row.crop in only)
    ]
    return rows, frost_of(season), season.crops.sources


def _between(row: Row, first: date | None, last: date | None) -> bool:
    """Whether a row has a step in the span; a row without dates is always told."""
    days = [step.window.best for step in row.steps if step.window]
    return not days or any(
        (first is None or first <= day) and (last is None or day <= last) for day in days
    )


def parse_risk(text: str) -> float:
    """A risk in percent, with or without its sign; a date that is never or always late is none."""
    try:
        risk = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        raise ValueError("a percentage above 0 and below 100, as 10") from None
    if not 0 < risk < 100:
        raise ValueError("a percentage above 0 and below 100, as 10")
    return risk


def sown_indoors(table: CropTable) -> list[Crop]:
    """The crops that handbooks raise indoors."""
    return [crop for crop in table.crops.values() if crop.weeks_before_last_frost is not None]


def bare_rows(crops: Iterable[Crop], frost: FrostDates, medium: Temperatures | None) -> list[Row]:
    """A row for each crop: at one temperature, or each at its own mixed-tray setting."""
    where = Where("", medium) if medium else None
    rows = [plan(Ask(crop=crop, where=where or tray_setting(crop), frost=frost)) for crop in crops]
    return sorted(rows, key=lambda row: (row.sow_day or date.max, row.crop))
