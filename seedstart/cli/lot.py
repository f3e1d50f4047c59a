"""`seedstart lot add`: packets come into lots.toml, one or five hundred."""

from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.season_files import find_season, season_option
from seedstart.cli.show import show, tell, width
from seedstart.disk.plan_files import append_lots, read_plan
from seedstart.drawing.lines import plain
from seedstart.drawing.lots_table import caution_lines, lot_list_lines
from seedstart.problems import BadInputError, Problem
from seedstart.season.lot import LOT_KEYS
from seedstart.season.lots import LOTS_FILE
from seedstart.season.lots_csv import read_lots_csv
from seedstart.season.new_lots import check_lots, lot_value
from seedstart.text import plural

_OPTIONS = tuple(key for key in LOT_KEYS if key not in {"name", "tests", "was", "from"})


@click.group()
def lot() -> None:
    """Packets of seed.

    Example: seedstart lot add leek-giant --crop leek --want 60 --station "upper shelf"
    """


def _lot_options(command: click.Command) -> click.Command:
    """An option for every key of a lot that fits on a command line."""
    command.params += [
        click.Option([f"--{key}"], metavar="TEXT", help=_HELP[key], multiple=key == "sow")
        for key in _OPTIONS
    ]
    return command


_HELP = {
    "crop": "The crop; `seedstart crops` lists them.",
    "variety": "The cultivar on the packet.",
    "want": "Plants wanted at setting out, from each sowing.",
    "sowings": "How many sowings, all told.",
    "every": "Time between them, as '14 days'.",
    "station": "Where it is to come up.",
    "then": "Where it goes at the first seedlings.",
    "container": "As 'tray of 72', '9 cm pot'.",
    "ready": "Count back from this day and not from the frost.",
    "sow": "Your own day to sow; repeatable.",
    "soak": "As '12 h', or none.",
    "stratify": "As '28 days', or none.",
    "scarify": "yes or none.",
    "depth": "As '6 mm'.",
    "form": "natural, pelleted, primed, coated or treated.",
    "germination": "As printed on the packet: '85%'.",
    "harvested": "A year, a range of years, or unknown.",
    "have": "As '50 seeds' or '2.5 g'.",
}


@click.command(name="add")
@season_option
@click.argument("name", required=False)
@click.option("--from", "file", type=click.Path(path_type=Path), help="Many at once, from a CSV.")
@click.option("--source", metavar="TEXT", help="Donor or supplier.")
@click.option(
    "--column", "columns", multiple=True, metavar="HEAD=KEY", help="What a CSV's column holds."
)
@click.option("--dry-run", is_flag=True, help="Show what would be added, and add nothing.")
def add(
    folder: str | None,
    name: str | None,
    file: Path | None,
    source: str | None,
    columns: tuple[str, ...],
    dry_run: bool,
    **keys: object,
) -> None:
    """Add one lot by its options, or many from a CSV; comments and order of lots.toml stay.

    Example: seedstart lot add pepper-long --crop pepper --want 12 --station "heat mat"

    Example: seedstart lot add --from packets.csv --dry-run
    """
    place = find_season(folder)
    season = read_plan(place)
    if file is not None:
        _no_keys_beside(name, source, keys)
        found = read_lots_csv(disk.read(file), season, _mapping(columns), file=str(file))
        for column in found.columns:
            tell(f"column {column.head!r} is read as {column.key}")
        if found.unmapped:
            heads = ", ".join(map(repr, found.unmapped))
            tell(f"not read: {heads} (--column HEAD=KEY says what one holds)")
        new_lots, lots = list(found.keys), found.lots
    else:
        new_lots = [_keys(name, source, keys)]
        lots = check_lots(new_lots, season)
    show(lot_list_lines(lots, width()))
    for crop in dict.fromkeys(lot.crop for lot in lots):
        cautions = season.crops.crops[crop].cautions
        if cautions:
            show([plain(f"{crop}:"), *caution_lines(cautions, width())])
    if dry_run:
        tell(
            f"{plural(len(lots), 'lot')} would be added to {place / LOTS_FILE}; nothing is written."
        )
        return
    append_lots(place, new_lots)
    tell(f"{plural(len(lots), 'lot')} added to {place / LOTS_FILE}.")


def _keys(name: str | None, source: str | None, keys: dict[str, object]) -> dict[str, object]:
    """The keys of one lot as lots.toml takes them."""
    if not name:
        hint = "Name the lot, or read many from a file: --from FILE.csv."
        raise BadInputError([Problem(file="lot add", hint=hint)])
    said: dict[str, object] = {"name": name}
    for key, value in keys.items():
        if value in (None, ()):
            continue
        said[key] = list(value) if isinstance(value, tuple) else lot_value(key, str(value))
    if source:
        said["from"] = source
    return said


def _no_keys_beside(name: str | None, source: str | None, keys: dict[str, object]) -> None:
    if name or source or any(keys.values()):
        hint = "--from FILE.csv reads whole lots; a name or other options go with one lot alone."
        raise BadInputError([Problem(file="lot add", hint=hint)])


def _mapping(columns: tuple[str, ...]) -> dict[str, str]:
    pairs = [column.partition("=") for column in columns]
    wrong = [
        Problem(file="--column", found=column, allowed=("HEAD=KEY",))
        for column, (_, sign, _) in zip(columns, pairs, strict=True)
        if not sign
    ]
    if wrong:
        raise BadInputError(wrong)
    return {head.strip(): key.strip() for head, _, key in pairs}


lot.add_command(_lot_options(add))
