"""`seedstart lots`: the lots of a season."""

import click
import msgspec

from seedstart import clock
from seedstart.cli.season_files import find_season, read_plan, season_option
from seedstart.cli.show import show, show_json, width
from seedstart.drawing.lots_table import lot_list_lines
from seedstart.planning.season_rows import season_rows


@click.command()
@season_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def lots(folder: str | None, json_: bool) -> None:
    """The lots of a season: what is wanted of each, when it is sown, where it stands.

    Example: seedstart lots --season sample_season
    """
    season = read_plan(find_season(folder))
    if json_:
        show_json([msgspec.to_builtins(lot) for lot in season.lots])
        return
    first = {
        row.lot: row for row in reversed(season_rows(season, clock.today(season.zone))) if row.lot
    }
    show(lot_list_lines(season.lots, width(), first))
