"""`seedstart space`: whether it all fits on the stations."""

import click

from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.disk.plan_files import append_station
from seedstart.drawing.lines import wrapped
from seedstart.drawing.station_sheet import space_lines
from seedstart.planning.calendar.season_today import as_set
from seedstart.planning.space.clashes import Clash, clashes
from seedstart.planning.space.room_by_week import Load, SoFar, loads, stands, uncounted
from seedstart.season.plan.additions import check_station, station_keys
from seedstart.season.plan.season_file import SEASON_FILE
from seedstart.season.plan.stations import station_cautions
from seedstart.text import natural


@click.group()
def station() -> None:
    """Places where trays stand.

    Example: seedstart station add "north sill" --kind sill --expected 16C
    """


@station.command(name="add")
@season_option
@click.argument("name")
@click.option(
    "--kind",
    metavar="TEXT",
    help="shelf, bench, mat, sill, propagator, cabinet, fridge, greenhouse, tunnel, frame or "
    "outdoors.",
)
@click.option("--expected", metavar="TEXT", help="Of the medium, as '24C' or '21C day, 14C night'.")
@click.option("--area", metavar="TEXT", help="Length and width, as '1.2 x 0.5 m'.")
@click.option("--lamps", "count", metavar="NUMBER", help="How many lamps, all alike.")
@click.option("--watts", metavar="NUMBER", help="Of one lamp.")
@click.option("--ppf", "ppf_umol_s", metavar="NUMBER", help="Photon flux of one lamp, in µmol/s.")
@click.option("--length", metavar="TEXT", help="Of a lamp's lit strip, as '1.2 m'.")
@click.option("--height", metavar="TEXT", help="Of the lamps over the leaves, as '30 cm'.")
@click.option("--hours", metavar="NUMBER", help="Hours of light a day.")
@click.option("--dry-run", is_flag=True, help="Check it, and add nothing.")
def add(folder: str | None, name: str, dry_run: bool, **said: str | None) -> None:
    """Add a station, the last on the walk; comments and order of season.toml stay.

    Example: seedstart station add "heat mat" --kind mat --expected 24C --area "1.2 x 0.5 m"

    Example: seedstart station add tent --kind shelf --lamps 2 --watts 20 --hours 16
    """
    opened = open_for(folder)
    keys = station_keys({"name": name, **said})
    trays = [tray for kind, tray in opened.records().places if kind == "tray"]
    found = check_station(keys, opened.plan, trays, file="station add")
    place = opened.folder / SEASON_FILE
    for text in station_cautions(found.kind, lamps=bool(found.lamps)):
        show(wrapped(text, width(), role="warn"))
    if dry_run:
        tell(f"{found.name} ({found.kind}) would be added to {place}; nothing is written.")
        return
    append_station(opened.folder, keys, trays)
    tell(f"{found.name} ({found.kind}) added to {place}, the last on the walk.")


@click.command()
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def space(folder: str | None, on: str | None, json_: bool) -> None:
    """How full each station is, week by week from today on; and what to do about a clash.

    What was sown stands where it is, in what it is in; what is still to be done, where and in what
    the plan has it.

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
