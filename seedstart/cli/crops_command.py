"""`seedstart crops`: the crop table."""

from typing import get_args

import click
import msgspec

from seedstart.cli.crop_files import crop_table
from seedstart.cli.printing import show, show_json, width
from seedstart.crop_table.crop import Crop
from seedstart.crop_table.find import find_crop
from seedstart.crop_table.load import CropTable
from seedstart.drawing.crop_sheet import crop_lines, crop_list_lines
from seedstart.problems import Typed
from seedstart.units import Units


@click.command()
@click.argument("name", nargs=-1)
@click.option(
    "--units", type=click.Choice(get_args(Units)), default="metric", help="us: degrees Fahrenheit."
)
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
def crops(name: tuple[str, ...], units: Units, json_: bool) -> None:
    """The crop table; with a NAME, one crop and the source of each of its figures.

    Example: seedstart crops sweet pepper
    """
    table = crop_table()
    if not name:
        rows = sorted(table.crops.values(), key=lambda crop: crop.name)
        if json_:
            show_json(rows)
        else:
            more = "`seedstart crops NAME` gives the source of each figure."
            show(crop_list_lines(rows, more, units))
        return
    typed = Typed()
    crop = typed.take(find_crop(table, " ".join(name), file="crops"))
    typed.done()
    if crop is None:
        return
    if json_:
        show_json(_with_sources(crop, table))
    else:
        show(crop_lines(crop, table.sources, units, width()))


def _with_sources(crop: Crop, table: CropTable) -> dict[str, object]:
    """The crop's row, and under `sources` what its source keys stand for."""
    row = msgspec.to_builtins(crop)
    named = _source_keys(row)
    return {**row, "sources": {key: table.sources[key] for key in sorted(named)}}


def _source_keys(value: object) -> set[str]:
    if isinstance(value, dict):
        keys = set(value.get("sources") or ())
        return keys.union(*(_source_keys(part) for part in value.values()))
    if isinstance(value, list | tuple):
        return set().union(*(_source_keys(part) for part in value))
    return set()
