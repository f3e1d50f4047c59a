"""`seedstart space`: whether it all fits on the stations."""

import click

from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, show_json, width
from seedstart.drawing.space_table import space_lines
from seedstart.planning.clashes import Clash, clashes
from seedstart.planning.season_today import as_set
from seedstart.planning.space import Load, SoFar, loads, stands, uncounted
from seedstart.text import natural


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
