"""`seedstart lots`: the lots of a season, what came up of each, one lot whole."""

from collections.abc import Mapping

import click

from seedstart.cli.recording import on_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, show_json, width
from seedstart.drawing.emergence_curve import emergence_lines, outlook_lines
from seedstart.drawing.lines import heading, plain
from seedstart.drawing.lots_table import lot_lines, lots_lines
from seedstart.open_season import OpenSeason
from seedstart.planning.emerging import progress_of, warmth_of
from seedstart.planning.lot_figures import figure_of
from seedstart.planning.sowing_outlook import sowing_outlook
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.lot import Lot
from seedstart.season.names import Names, find_name
from seedstart.tracking.figures import LEVEL, LotFigure
from seedstart.tracking.recording import history
from seedstart.tracking.records import Records
from seedstart.tracking.standing import Standing
from seedstart.tracking.warmth import Progress


@click.command()
@season_option
@on_option
@click.argument("name", required=False)
@click.option(
    "--curve", is_flag=True, help="With a NAME: how its sowings come up, and what is to come."
)
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def lots(folder: str | None, on: str | None, name: str | None, curve: bool, json_: bool) -> None:
    """What came up of every lot; with a NAME, one lot with its sowings and their history.

    Example: seedstart lots --season sample_season --on 2026-04-10
    """
    if curve and (name is None or json_):
        hint = "It draws the sowings of one lot: give its name, and no --json."
        raise BadInputError([Problem(file="--curve", hint=hint)])
    season = open_for(folder, on)
    typed = Typed()
    known = Names(season.plan.lots)
    wanted = typed.take(find_name(name, known, file="lots", lists="lots")) if name else None
    typed.done()
    chosen = [lot for lot in season.plan.lots if wanted in {None, lot.name}]
    records, progress = season.records(), season.progress()
    figures = {lot.name: figure_of(lot, season.plan, records) for lot in chosen}
    if json_:
        told = [_lot_as_json(lot, figures[lot.name], records, progress) for lot in chosen]
        show_json(told[0] if wanted else told)
    elif curve:
        _show_curves(season, figures[chosen[0].name])
    elif wanted is None:
        rows = {row.lot: row for row in reversed(season.calendar()) if row.lot}
        show(lots_lines(chosen, figures, rows, width()))
    else:
        _show_one(season, chosen[0], figures[wanted], progress)


def _show_curves(season: OpenSeason, figure: LotFigure) -> None:
    """The curve of each sowing from seed, the latest first."""
    plan, records, now = season.plan, season.records(), season.now()
    warmth = warmth_of(plan, season.readings())
    rows = tuple(row for row in season.calendar() if row.lot == figure.lot)
    for sowing in reversed(figure.sowings):
        progress = progress_of(sowing, plan, records, warmth, now, season.own_factor())
        found = sowing_outlook(sowing, plan, records, progress, now, rows)
        show([heading(f"{sowing.name} comes up"), *emergence_lines(found, width())])
        show([*outlook_lines(found, width()), plain("")])
    if not figure.sowings:
        show([plain(f"Nothing of {figure.lot} was sown yet.")])


def _show_one(
    season: OpenSeason, lot: Lot, figure: LotFigure, progress: Mapping[str, Progress]
) -> None:
    records = season.records()
    daughters = [one for one in records.of_lot(lot.name) if not one.from_seed]
    histories = {
        one.id: history(records, season.journal, one.id) for one in (*figure.sowings, *daughters)
    }
    rows = [row for row in season.calendar() if row.lot == lot.name]
    units = season.plan.units
    show(lot_lines(lot, figure, rows, progress, histories, units, width(), daughters))


def _lot_as_json(
    lot: Lot, figure: LotFigure, records: Records, progress: Mapping[str, Progress]
) -> dict[str, object]:
    low, high = figure.interval or (None, None)
    return {
        "lot": lot.name,
        "crop": lot.crop,
        "variety": lot.variety,
        "seeds_sown": figure.seeds_sown,
        "emerged": figure.emerged,
        "percent": figure.percent,
        "percent_low": None if low is None else 100 * low,
        "percent_high": None if high is None else 100 * high,
        "of": figure.of,
        "level": LEVEL,
        "final": figure.final,
        "state": figure.state,
        "mean_days": figure.mean_days,
        "t50_days": figure.t50_days,
        "left_out": [{"sowing": one.sowing, "why": one.why} for one in figure.left_out],
        "sowings": [
            _sowing_as_json(one, records, progress.get(one.id)) for one in records.of_lot(lot.name)
        ],
    }


def _sowing_as_json(
    one: Standing, records: Records, progress: Progress | None
) -> dict[str, object]:
    spot = records.spot(one.id)
    expected = progress.expected if progress else None
    return {
        "id": one.id,
        "sowing": records.name_in_line(one.id),
        "from": one.made_from,
        "station": spot.station if spot else None,
        "tray": spot.tray if spot else None,
        "sown_on": one.at.date(),
        "seeds": one.seeds,
        "standing": one.standing,
        "emerged": one.emerged if one.from_seed else None,
        "lost": one.left.get("lost", 0),
        "missing": one.inferred,
        "left": {why: plants for why, plants in one.left.items() if why != "lost"},
        "progress": None if progress is None else progress.share,
        "expected": expected._asdict() if expected else None,
        "state": _state(one),
    }


def _state(one: Standing) -> str:
    if not one.alive:
        return "over"
    if one.closed is not None:
        return f"closed: {one.closed.why}"
    return "up" if one.up_since is not None else "waiting"
