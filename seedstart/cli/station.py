"""`seedstart station add`: a place where trays stand comes into season.toml."""

import click

from seedstart.cli.recording import open_for
from seedstart.cli.season_files import season_option
from seedstart.cli.show import show, tell, width
from seedstart.disk.plan_files import append_station
from seedstart.drawing.lines import wrapped
from seedstart.season.bench_cautions import station_cautions
from seedstart.season.new_stations import check_station, station_keys
from seedstart.season.plan import SEASON_FILE


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
@click.option("--lumens", metavar="NUMBER", help="Or lumens of one lamp.")
@click.option("--light", metavar="TEXT", help="white, warm white, cool white, red-blue …")
@click.option("--lamp-kind", metavar="TEXT", help="strip (default), bar, tube (bare) or panel.")
@click.option("--length", metavar="TEXT", help="Of a lamp's lit strip, as '1.2 m'.")
@click.option("--lamp-width", metavar="TEXT", help="Of a panel, as '30 cm'.")
@click.option("--height", metavar="TEXT", help="Of the lamps over the leaves, as '30 cm'.")
@click.option("--hours", metavar="NUMBER", help="Hours of light a day.")
@click.option(
    "--dimming", metavar="TEXT", help="What they are dimmed to, where they can be: '70%'."
)
@click.option(
    "--daylight-percent", metavar="NUMBER", help="Of the light outdoors, what reaches the leaves."
)
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
