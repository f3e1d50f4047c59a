"""`seedstart calendar`: the sowing calendar, of a season or of a bare frost date."""

from datetime import date
from typing import NamedTuple, get_args

import click

from seedstart import clock
from seedstart.cli.printing import show, show_csv, show_json, width
from seedstart.crop_table.crop import Source
from seedstart.days import Window, parse_day
from seedstart.drawing.calendar_table import calendar_lines
from seedstart.planning.calendar.frost_dates import FrostDates
from seedstart.planning.calendar.row import SOW_OUTDOORS, STEP_NAMES, Row, Step
from seedstart.problems import Problem, Typed
from seedstart.units import Units


def row_as_json(row: Row, frost: FrostDates | None) -> dict[str, object]:
    """One row: every step a window with its `is`, or null."""
    windows: dict[str, object] = {
        name: _window_as_json(step, step.window) if step and step.window else None
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
        "stations": row.stations,
        "last_frost": frost.given if frost else None,
        "risk_percent": frost.risk_percent if frost else None,
        **windows,
        "outdoors": any(step.says == SOW_OUTDOORS for step in row.steps),
        "seeds": row.seeds,
        "problem": row.problem,
        "warnings": row.warnings,
        "reasons": [
            {"step": reason.step, "text": reason.text, "source": list(reason.sources)}
            for reason in row.reasons
        ],
    }


def _window_as_json(step: Step, window: Window) -> dict[str, object]:
    return {**window._asdict(), "is": step.is_, "due": step.due}


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


_NO_FROST = "No frost date: only lots with a day of their own have dates."


class Dated(NamedTuple):
    """The rows of a calendar, what they count from, and the sources of their reasons."""

    rows: list[Row]
    frost: FrostDates | None
    sources: dict[str, Source]


@click.command()
@click.option(
    "--season",
    "folder",
    metavar="PATH",
    help="The season's folder. Default: this folder, or the nearest one above it.",
)
@click.option(
    "--last-frost", metavar="DATE", help="Without a season: count from this day, e.g. 2027-05-12."
)
@click.option(
    "--risk",
    metavar="PERCENT",
    help="Percent of years with a later frost: 50 is the average date (default), 10 a date "
    "that is safe nine years in ten.",
)
@click.option("--crop", "crops", metavar="NAME", multiple=True, help="Only this crop; repeatable.")
@click.option(
    "--station-temperature",
    metavar="T",
    help="Without a season: how warm the medium is, e.g. 20C, 68F or '21C day, 14C night'. "
    "Default: each crop's own mixed-tray setting.",
)
@click.option(
    "--units",
    type=click.Choice(get_args(Units)),
    help="Without a season: units to show, and of a number typed without a unit. Default: metric.",
)
@click.option("--lot", "lots", metavar="NAME", multiple=True, help="Only this lot; repeatable.")
@click.option("--station", "stations", metavar="NAME", multiple=True, help="Only this station.")
@click.option("--from", "first", metavar="DATE", help="Only rows with a step on or after this day.")
@click.option("--to", "last", metavar="DATE", help="Only rows with a step on or before this day.")
@click.option("--on", metavar="DATE", help="Show the season at the end of that day.")
@click.option("--bars", is_flag=True, help="Weeks across instead of dates.")
@click.option("--why", is_flag=True, help="Explain every date, with its sources.")
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
@click.option("--csv", "csv_", is_flag=True, help="Print CSV, for a spreadsheet.")
def calendar(
    folder: str | None,
    last_frost: str | None,
    risk: str | None,
    crops: tuple[str, ...],
    station_temperature: str | None,
    units: Units | None,
    lots: tuple[str, ...],
    stations: tuple[str, ...],
    first: str | None,
    last: str | None,
    on: str | None,
    bars: bool,
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
    if from_day and to_day and from_day > to_day:
        typed.refuse(Problem(file="--to", found=last, hint="It is before --from."))
    if json_ + csv_ + bars > 1:
        typed.refuse(Problem(file="--json, --csv, --bars", hint="Choose one of them."))
    if last_frost is not None:
        _refuse(typed, folder=folder, lot=lots, station=stations, on=on)
        from seedstart.cli.bare_calendar import bare_calendar

        dated = bare_calendar(
            typed, last_frost, risk, crops, station_temperature, units or "metric"
        )
    else:
        _refuse(typed, risk=risk, station_temperature=station_temperature, units=units)
        # A bare calendar does not pay for the reading of seasons.
        from seedstart.cli.season_calendar import season_calendar

        dated = season_calendar(typed, folder, on, crops, lots, stations)
    frost = dated.frost
    rows = [row for row in dated.rows if _between(row, from_day, to_day)]
    if json_:
        show_json([row_as_json(row, frost) for row in rows])
    elif csv_:
        show_csv(CSV_HEADER, [row_as_csv(row, frost) for row in rows])
    elif bars:
        from seedstart.drawing.week_bars import first_day_of, week_bars

        given = frost.given if frost else None
        day = parse_day(on) if on else clock.today()
        start = first_day_of(rows) or day
        show(week_bars(rows, start, day, given, width()))
    else:
        sentence = frost.sentence() if frost else _NO_FROST
        if last_frost is not None and frost:
            sentence += _of_typed(frost, risk)
        in_full = "In full: `seedstart crops NAME`."
        show(
            calendar_lines(
                rows, sentence, width=width(), why=why, sources=dated.sources, in_full=in_full
            )
        )


def _of_typed(frost: FrostDates, risk: str | None) -> str:
    """What a date that was typed may mean besides, and that it has passed."""
    said = "" if risk else " If it is a date that is safe nine years in ten, add --risk safe."
    return f"{said} That day has passed." if frost.given < clock.today() else said


def _refuse(typed: Typed, **options: object) -> None:
    """Options that say nothing beside the others."""
    for name, value in options.items():
        if value:
            option = "--season" if name == "folder" else f"--{name.replace('_', '-')}"
            hint = (
                "Only with --last-frost; a season has its own."
                if name in {"risk", "station_temperature", "units"}
                else "Only with a season; leave out --last-frost."
            )
            typed.refuse(Problem(file=option, hint=hint))


def _between(row: Row, first: date | None, last: date | None) -> bool:
    """Whether a row has a step in the span; a row without dates is always told."""
    days = [step.window.best for step in row.steps if step.window]
    return not days or any(
        (first is None or first <= day) and (last is None or day <= last) for day in days
    )
