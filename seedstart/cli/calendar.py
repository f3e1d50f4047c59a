"""`seedstart calendar`: the sowing calendar."""

from collections.abc import Iterable
from datetime import date

import click

from seedstart.cli.crop_files import crop_table
from seedstart.cli.show import show, show_csv, show_json, width
from seedstart.cli.typed import Typed
from seedstart.crop_table.crop import Crop
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable
from seedstart.days import Window, parse_day
from seedstart.drawing.calendar_table import calendar_lines
from seedstart.planning.ask import Ask, Where, tray_setting
from seedstart.planning.calendar import plan
from seedstart.planning.frost_dates import FrostDates, frost_dates
from seedstart.planning.row import STEP_NAMES, Row
from seedstart.units import Temperatures, parse_temperatures


@click.command()
@click.option("--last-frost", metavar="DATE", help="The last frost, as 2027-05-12.")
@click.option(
    "--risk",
    metavar="PERCENT",
    help="A frost later than that in this share of years: 50 the average date (default), "
    "10 one that is safe nine years in ten.",
)
@click.option("--crop", "names", metavar="NAME", multiple=True, help="Only this crop; repeatable.")
@click.option(
    "--station-temperature",
    metavar="T",
    help="How warm the medium is: 20C, 68F, or '21C day, 14C night'. "
    "Default: each crop's own mixed-tray setting.",
)
@click.option("--why", is_flag=True, help="Explain every date, with its sources.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
@click.option("--csv", "csv_", is_flag=True, help="For a spreadsheet.")
def calendar(
    last_frost: str | None,
    risk: str | None,
    names: tuple[str, ...],
    station_temperature: str | None,
    why: bool,
    json_: bool,
    csv_: bool,
) -> None:
    """When to sow, prick out, harden off and set out, counted back from the last frost.

    Example: seedstart calendar --last-frost 2027-05-12 --crop pepper --why
    """
    if last_frost is None:
        raise click.UsageError("Name the last frost: --last-frost 2027-05-12.")
    typed = Typed()
    table = crop_table()
    day = typed.read("--last-frost", last_frost, parse_day)
    share = typed.read("--risk", risk, parse_risk)
    medium = typed.read("--station-temperature", station_temperature, parse_temperatures)
    crops = [typed.take(find_crop(table, name, file="--crop")) for name in names]
    typed.done()
    if day is None:
        return
    frost = frost_dates(day, 50 if share is None else share)
    rows = bare_rows([crop for crop in crops if crop] or sown_indoors(table), frost, medium)
    if json_:
        show_json([row_as_json(row, frost) for row in rows])
    elif csv_:
        show_csv(CSV_HEADER, [row_as_csv(row, frost) for row in rows])
    else:
        show(calendar_lines(rows, frost.sentence(), width=width(), why=why, sources=table.sources))


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
    """A row for each crop, without a season: at one temperature, or each at its tray setting."""
    where = Where("", medium) if medium else None
    rows = [plan(Ask(crop=crop, where=where or tray_setting(crop), frost=frost)) for crop in crops]
    return sorted(rows, key=lambda row: (row.sow_day or date.max, row.crop))


def row_as_json(row: Row, frost: FrostDates | None) -> dict[str, object]:
    """One row as docs/formats.md gives it: every step a window with its `is`, or null."""
    windows: dict[str, object] = {
        name: _window_as_json(step.window, step.is_) if step and step.window else None
        for name in STEP_NAMES
        for step in [row.step(name)]
    }
    return {
        "lot": row.lot,
        "number": row.number,
        "sowing": row.sowing,
        "crop": row.crop,
        "variety": row.variety,
        "station": row.station,
        "last_frost": frost.given if frost else None,
        "risk_percent": frost.risk_percent if frost else None,
        **windows,
        "seeds": row.seeds,
        "problem": row.problem,
        "warnings": row.warnings,
        "reasons": [
            {"step": reason.step, "text": reason.text, "source": list(reason.sources)}
            for reason in row.reasons
        ],
    }


def _window_as_json(window: Window, happening: str) -> dict[str, object]:
    return {**window._asdict(), "is": happening}


CSV_HEADER = (
    "lot",
    "number",
    "crop",
    "variety",
    "station",
    "seeds",
    "last_frost",
    "risk_percent",
    *(f"{name}_{end}" for name in STEP_NAMES for end in Window._fields),
    "problem",
)


def row_as_csv(row: Row, frost: FrostDates | None) -> list[object]:
    """One row as cells under `CSV_HEADER`."""
    ends: list[object] = []
    for name in STEP_NAMES:
        ends += row.window(name) or ("", "", "")
    given = (frost.given, frost.risk_percent) if frost else ("", "")
    named = (row.lot, row.number, row.crop, row.variety, row.station, row.seeds)
    return [*named, *given, *ends, row.problem]
