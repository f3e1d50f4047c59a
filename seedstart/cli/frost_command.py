"""`seedstart frost`: the last frost at a risk, from a record, a published table or the season."""

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

import click

from seedstart import clock, disk
from seedstart.cli.printing import rows_told, show, show_json, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.days import parse_day
from seedstart.growing.frost import FrostRisk, Trend
from seedstart.growing.frost_record import FrostRecord, frost_record
from seedstart.planning.calendar.season_rows import frost_of
from seedstart.planning.frost_answer import USUAL_RISKS, RiskDate, risk_dates, risk_moves
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.weather.recorded import not_carried, spring_after
from seedstart.season.weather.refused import refuse_too_large
from seedstart.season.weather.weather_days import Days
from seedstart.season.weather.weather_file import (
    SCREENED_BY,
    Answers,
    ReadOptions,
    read_files,
)
from seedstart.text import joined
from seedstart.units import Units, parse_risk, parse_temperature


def answers_option(command: Callable[..., None]) -> Callable[..., None]:
    """The options that say what a weather file leaves open."""
    for option in (
        click.option(
            "--column", "columns", multiple=True, metavar="ELEMENT=HEADER|UNIT",
            help="tmin_c, tmax_c, wind_ms, gust_ms, rain_mm, sun_h, or date (its zone behind it).",
        ),
        click.option("--order", metavar="dmy|mdy", help="Of day and month in its dates."),
        click.option("--station", metavar="ID", help="The one to read of a file with several."),
        click.option("--unit", metavar="C|F", help="Of temperatures that do not say it."),
    ):  # fmt: skip
        command = option(command)
    return command


@click.command()
@click.argument("files", nargs=-1, type=click.Path(path_type=Path), metavar="[FILE]...")
@click.option("--risk", "risks", multiple=True, metavar="PERCENT", help="A later frost in so many.")
@click.option("--threshold", metavar="T", help="A frost is a night at or below it. Default: 0C.")
@click.option("--years", metavar="FROM-TO", help="Answer from these seasons alone: 1991-2020.")
@answers_option
@click.option("--place", metavar="NAME", help="A published station, for growers without a record.")
@click.option("--units", metavar="metric|us", help="What is shown.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
@season_option
@as_of_option
def frost(
    files: tuple[Path, ...],
    risks: tuple[str, ...],
    threshold: str | None,
    years: str | None,
    unit: str | None,
    station: str | None,
    order: str | None,
    columns: tuple[str, ...],
    place: str | None,
    units: str | None,
    json_: bool,
    folder: str | None,
    on: str | None,
) -> None:
    """When the last frost comes, at the risk you choose, by a record of daily minima.

    FILE is a daily file as a weather service hands it out, or date,tmin_c; several of one station
    are joined. Without one: the season's own frost date, and what another risk would move.

    \b
    Example: seedstart frost minima.csv --risk 10
    Example: seedstart frost --place clemson
    """  # noqa: D301
    from seedstart.season.plan.new_season import parse_units

    typed = Typed()
    shown: Units = typed.read("--units", units, parse_units) or "metric"
    percents = [typed.read("--risk", one, parse_risk) for one in risks]
    frozen = typed.read("--threshold", threshold, lambda text: parse_temperature(text, shown))
    seasons = typed.read("--years", years, _years)
    day = typed.read("--on", on, parse_day) or clock.today()
    said = said_of(typed, unit, station, order, columns)
    typed.done()
    asked = [one for one in percents if one is not None]
    if place is not None:
        _show_station(place, shown, json_=json_)
    elif files:
        days = _read(files, said)
        record = _answered(days, frozen or 0.0, seasons)
        _show_record(days, record, asked, day, shown, json_=json_)
    else:
        _show_season(folder, on, json_=json_)


def said_of(
    typed: Typed, unit: str | None, station: str | None, order: str | None, columns: Sequence[str]
) -> Answers:
    """What was said of the files."""

    def one_of(*words: str) -> object:
        def read(text: str) -> str:
            found = next((word for word in words if word.casefold() == text.casefold()), None)
            if found is None:
                raise ValueError(f"{joined(list(words), 'or')}")
            return found

        return read

    pairs = [typed.read("--column", one, _pair) for one in columns]
    return Answers(
        unit=typed.read("--unit", unit, one_of("C", "F")),  # type: ignore[arg-type]
        station=station,
        order=typed.read("--order", order, one_of("dmy", "mdy")),  # type: ignore[arg-type]
        columns=dict(pair for pair in pairs if pair is not None),
    )


def _pair(text: str) -> tuple[str, str]:
    element, sign, header = text.partition("=")
    if not sign:
        raise ValueError("a column as tmin_c=HEADER, or tmin_c=HEADER|F with its unit")
    return element.strip(), header.strip()


def _years(text: str) -> tuple[int, int]:
    first, sign, last = text.partition("-")
    if not sign or not (first.strip().isdigit() and last.strip().isdigit()):
        raise ValueError("two years, e.g. 1991-2020")
    if int(last) < int(first):
        raise ValueError("the first year before the last, e.g. 1991-2020")
    return int(first), int(last)


def _read(files: Sequence[Path], said: Answers) -> Days:
    data: dict[str, bytes] = {}
    for path in files:
        refuse_too_large(str(path), disk.size_of(path))
        data[str(path)] = disk.read(path)
    with rows_told(*data.values()) as told:
        return read_files(data, dict.fromkeys(data, said), ReadOptions(SCREENED_BY, progress=told))


def _answered(days: Days, threshold_c: float, years: tuple[int, int] | None) -> FrostRecord:
    """The record's answer.

    Raises:
        BadInputError: No season of it counts.
    """
    from seedstart.drawing.frost_table import aside_in_words

    maxima = {day: round(10 * value) for day, value in days.others.get("tmax_c", {}).items()}
    record = frost_record(days.minima, round(10 * threshold_c), maxima, years)
    if record.risk is None:
        first, last = (
            date.fromordinal(one).isoformat() for one in (min(days.days), max(days.days))
        )
        hint = (
            f"It runs from {first} to {last}: no spring lies wholly in it (January to July, in the "
            "south July to January) with fewer than ten days missing."
        )
        if record.aside:
            hint += (
                f" {len(record.aside)} of its minima are not believed: {aside_in_words(record)}."
            )
        raise BadInputError([Problem(file=days.file, hint=hint)])
    return record


def _show_record(
    days: Days,
    record: FrostRecord,
    asked: Sequence[float],
    today: date,
    units: Units,
    *,
    json_: bool,
) -> None:
    from seedstart.drawing.frost_table import record_lines

    risk = record.risk
    if risk is None:
        return
    if refused := [one for one in asked if not risk.carries(one)]:
        raise BadInputError(not_carried(one, risk, "--risk") for one in refused)
    year = spring_after(today, south=record.south)
    dates = risk_dates(risk, sorted(asked, reverse=True) or USUAL_RISKS, year)
    if json_:
        show_json(_as_json(days, record, risk, dates))
    else:
        remarks = [*days.sentences(), *(str(one).rstrip(".") for one in days.problems)]
        show(record_lines(record, dates, remarks, units, width()))


def _as_json(
    days: Days, record: FrostRecord, risk: FrostRisk, dates: Sequence[RiskDate]
) -> dict[str, object]:
    trend = record.trend
    return {
        "record": days.file,
        "layout": days.layout,
        "threshold_c": record.threshold_tenths / 10,
        "seasons": risk.seasons,
        "with_frost": risk.with_frost,
        "first_year": risk.first_year,
        "last_year": risk.last_year,
        "last_frosts": [one.day for one in record.springs if one.counts],
        "risks": [each for one in dates for each in _methods(one)],
        "first_frosts": [one.day for one in record.autumns if one.counts],
        "season_days": record.season_days,
        "trend": None if trend is None else _trend(trend),
        "left_out": [one.year for one in record.left_out],
        "set_aside": [
            {
                "date": date.fromordinal(one.day),
                "tmin_c": one.tenths / 10,
                "because": one.because,
            }
            for one in record.aside
        ],
    }


def _methods(one: RiskDate) -> list[dict[str, object]]:
    percent = one.risk_percent
    return [
        {"risk_percent": percent, "date": day, "low": low, "high": high, "method": method}
        for method, day, low, high in (
            ("normal", one.day, one.low, one.high),
            ("empirical", one.by_years, None, None),
        )
    ]


def _trend(trend: Trend) -> dict[str, object]:
    return {
        "days_a_decade": round(trend.days_a_decade, 2),
        "low": round(trend.low, 2),
        "high": round(trend.high, 2),
    }


def _show_station(place: str, units: Units, *, json_: bool) -> None:
    from seedstart.drawing.frost_table import station_lines
    from seedstart.season.weather.published_stations import (
        PUBLISHED_FILE,
        find_stations,
        published_stations,
    )

    found = find_stations(
        published_stations(disk.read(disk.shipped("published") / PUBLISHED_FILE)), place, "--place"
    )
    if isinstance(found, Problem):
        raise BadInputError([found])
    if json_:
        show_json(found)
    else:
        show(station_lines(found, units, width()))


def _show_season(folder: str | None, on: str | None, *, json_: bool) -> None:
    from seedstart.drawing.frost_table import season_frost_lines

    season = open_for(folder, on)
    dates = frost_of(season.plan)
    if dates is None:
        hint = "This season has no frost date: name `last` or a `record` under [frost]."
        raise BadInputError([*season.record_problems, Problem(file="season.toml", hint=hint)])
    moves = risk_moves(season.plan, season.today, season.calendar(), season.calendar_with)
    if json_:
        show_json(
            {
                "last_frost": dates.average,
                "tender_risk_percent": dates.tender_risk_percent,
                "wait_for": dates.trusted,
                "basis": dates.basis,
                "moves": moves,
            }
        )
    else:
        show(season_frost_lines(dates, moves, season.today, width()))
