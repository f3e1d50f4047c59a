"""`seedstart new station`, `new container`; `space`: whether it all fits on the stations."""

from collections.abc import Callable, Mapping
from typing import Final

import click

from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.disk.plan_changes import append_container, append_station
from seedstart.drawing.lines import wrapped
from seedstart.drawing.station_sheet import space_lines
from seedstart.planning.calendar.season_today import as_set
from seedstart.planning.space.clashes import Clash, clashes
from seedstart.planning.space.room_by_week import Load, SoFar, loads, stands, uncounted
from seedstart.season.plan.additions import (
    check_container,
    check_station,
    container_keys,
    station_keys,
)
from seedstart.season.plan.season_file import SEASON_FILE
from seedstart.season.plan.stations import station_cautions
from seedstart.text import natural

STATION_HELP: Final = {
    "kind": "shelf, bench, mat, sill, propagator, cabinet, fridge, greenhouse, tunnel, frame or "
    "outdoors.",
    "expected": "Of the medium, e.g. '24C' or '21C day, 14C night'.",
    "area": "Length and width, e.g. '1.2 x 0.5 m'.",
    "count": "How many identical lamps.",
    "watts": "Watts of one lamp.",
    "ppf_umol_s": "Photon flux of one lamp, in µmol/s.",
    "lumens": "Or lumens of one lamp.",
    "light": "white, warm white, cool white, red-blue …",
    "lamp_kind": "strip (default), bar, tube (bare) or panel.",
    "length": "Of a lamp's lit part, e.g. '1.2 m'.",
    "lamp_width": "Of a panel, e.g. '30 cm'.",
    "height": "Of the lamps above the leaves, e.g. '30 cm'.",
    "hours": "Hours of light a day.",
    "dimming": "What they are dimmed to, where they can be: '70%'.",
    "daylight_percent": "Of the light outdoors, what reaches the leaves.",
}
CONTAINER_HELP: Final = {
    "cells": "Cells in it; 1 for a pot, 0 for an open tray.",
    "footprint": "Length and width, e.g. '54 x 28 cm'.",
    "cell_ml": "Millilitres of one cell, or of the whole where there are no cells.",
}
_OPTION_OF: Final = {"ppf_umol_s": "ppf", "count": "lamps"}


def _with_options(helps: Mapping[str, str]) -> Callable[[click.Command], click.Command]:
    """An option for each key."""

    def with_them(command: click.Command) -> click.Command:
        command.params += [
            click.Option(
                [f"--{_OPTION_OF.get(key, key).replace('_', '-')}", key], metavar="TEXT", help=text
            )
            for key, text in helps.items()
        ]
        return command

    return with_them


@_with_options(STATION_HELP)
@click.command(name="station")
@season_option
@click.argument("name")
@click.option("--preview", is_flag=True, help="Show what would be added, and add nothing.")
def new_station(folder: str | None, name: str, preview: bool, **said: str | None) -> None:
    """Add a station, the last on the walk.

    Your comments and order are kept.

    Example: seedstart new station "heat mat" --kind mat --expected 24C --area "1.2 x 0.5 m"

    Example: seedstart new station tent --kind shelf --lamps 2 --watts 20 --hours 16
    """
    opened = open_for(folder)
    keys = station_keys({"name": name, **said})
    trays = [tray for kind, tray in opened.records().places if kind == "tray"]
    found = check_station(keys, opened.plan, trays)
    place = opened.folder / SEASON_FILE
    for text in station_cautions(found.kind, lamps=bool(found.lamps)):
        show(wrapped(text, width(), role="warn"))
    if preview:
        tell(f"{found.name} ({found.kind}) would be added to {place}; nothing is written.")
        return
    append_station(opened.folder, keys, trays)
    tell(f"{found.name} ({found.kind}) added to {place}, the last on the walk.")


@_with_options(CONTAINER_HELP)
@click.command(name="container")
@season_option
@click.argument("name")
@click.option("--preview", is_flag=True, help="Show what would be added, and add nothing.")
def new_container(folder: str | None, name: str, preview: bool, **said: str | None) -> None:
    """Add a tray or a pot of your own.

    Your comments and order are kept.

    Example: seedstart new container "egg box" --cells 12 --footprint "30 x 10 cm"
    """
    opened = open_for(folder)
    keys = container_keys({"name": name, **said})
    found = check_container(keys, opened.plan)
    place = opened.folder / SEASON_FILE
    if preview:
        tell(f"{found.name} would be added to {place}; nothing is written.")
        return
    append_container(opened.folder, keys)
    tell(f"{found.name} added to {place}.")


@click.command()
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
def space(folder: str | None, on: str | None, json_: bool) -> None:
    """How full each station is, week by week from today, and what to do where it is too full.

    What was sown is counted where it stands and in its own container; what is still to sow, as
    planned.

    Example: seedstart space --season sample_season --on 2026-04-10
    """
    opened = open_for(folder, on)
    season = as_set(opened.plan, opened.records(), opened.today)
    rows = opened.calendar()
    so_far = SoFar(opened.records(), opened.today)
    standing = stands(rows, season, so_far)
    found = loads(standing, season)
    too_full = clashes(rows, standing, season)
    left_out = uncounted(rows, standing, season, so_far)
    if json_:
        show_json(
            {
                "weeks": [_load_as_json(load) for load in found],
                "clashes": [_clash_as_json(clash) for clash in too_full],
                "not_counted": [*left_out.nowhere, *left_out.unsized],
            }
        )
    else:
        show(space_lines(found, too_full, left_out, width()))


def _load_as_json(load: Load) -> dict[str, object]:
    share = load.share
    return {
        "station": load.station,
        "monday": load.monday,
        "used_m2": round(load.used_m2, 4),
        "of_m2": load.of_m2,
        "percent": None if share is None else round(100 * share, 1),
        "sowings": sorted({stand.row for stand in load.stands}, key=natural),
    }


def _clash_as_json(clash: Clash) -> dict[str, object]:
    return {
        "station": clash.station,
        "first_monday": clash.first,
        "last_monday": clash.last,
        "used_m2": round(clash.worst.used_m2, 4),
        "of_m2": clash.worst.of_m2,
        "remedies": clash.remedies,
    }
