"""`seedstart new lot`: packets come into lots.toml, one by its options or many from a CSV."""

from pathlib import Path
from typing import Final

import click

from seedstart import disk
from seedstart.cli.printing import show, tell, width
from seedstart.cli.season_files import find_season, season_option
from seedstart.days import DAY_ORDERS
from seedstart.disk.plan_changes import append_lots
from seedstart.disk.plan_files import read_plan
from seedstart.drawing.lines import plain
from seedstart.drawing.lots_table import caution_lines, lot_list_lines
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.additions import check_lots, lot_value
from seedstart.season.plan.lot import LOT_KEYS
from seedstart.season.plan.lots import LOTS_FILE
from seedstart.season.plan.lots_csv import LotsFromCsv, read_lots_csv
from seedstart.season.plan.season_file import Season
from seedstart.text import plural

_HEAD_IS_KEY: Final = "HEAD=KEY says what a column holds, e.g. 'Plant name=crop'."
_DAY_FIRST: Final = "dmy says that the day stands first, mdy the month."
_OPTIONS = tuple(key for key in LOT_KEYS if key not in {"name", "tests", "was", "from"})


def _lot_options(command: click.Command) -> click.Command:
    """An option for every key of a lot that fits on a command line."""
    command.params += [
        click.Option([f"--{key}"], metavar="TEXT", help=LOT_HELP[key], multiple=key == "sow")
        for key in _OPTIONS
    ]
    return command


LOT_HELP = {
    "crop": "The crop; `seedstart crops` lists them.",
    "variety": "The cultivar on the packet.",
    "want": "Plants wanted at setting out, from each sowing.",
    "sowings": "How many sowings in all.",
    "every": "Time between them, e.g. '14 days'.",
    "station": "Station where it will come up.",
    "then": "Station it moves to once seedlings are up.",
    "container": "For example 'tray of 72' or '9 cm pot'.",
    "ready": "Count back from this day instead of from the frost.",
    "sow": "Your own sowing day; repeatable.",
    "soak": "Soak for so long, e.g. '12 h'; or none.",
    "stratify": "Keep cold and damp for so long, e.g. '28 days'; or none.",
    "scarify": "Nick or scald the seed: yes or none.",
    "depth": "Sowing depth, e.g. '6 mm'.",
    "form": "natural, pelleted, primed, coated or treated.",
    "germination": "As printed on the packet: '85%'.",
    "harvested": "A year, a range of years, or unknown.",
    "have": "What the packet held when the season began, e.g. '50 seeds' or '2.5 g'.",
    "from": "Donor or supplier.",
}


@click.command(name="lot")
@season_option
@click.argument("name", required=False)
@click.option(
    "--from", "file", type=click.Path(path_type=Path), help="Add many at once, from a CSV file."
)
@click.option("--donor", metavar="TEXT", help="Donor or supplier.")
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="HEAD=KEY",
    help="Which key a column of the CSV holds; repeatable.",
)
@click.option(
    "--order",
    metavar="|".join(DAY_ORDERS),
    help="Order of day and month in the dates of the CSV, where both would do.",
)
@click.option("--preview", is_flag=True, help="Show what would be added, and add nothing.")
def new_lot(
    folder: str | None,
    name: str | None,
    file: Path | None,
    donor: str | None,
    columns: tuple[str, ...],
    order: str | None,
    preview: bool,
    **keys: object,
) -> None:
    """Add one lot, or many from a CSV.

    Your comments and order are kept.

    Example: seedstart new lot pepper-long --crop pepper --want 12 --station "heat mat"

    Example: seedstart new lot --from packets.csv --preview
    """
    place = find_season(folder)
    season = read_plan(place)
    if file is not None:
        _no_keys_beside(name, donor, keys)
        found = _from_csv(file, season, columns, order)
        for column in found.columns:
            tell(f"column {column.head!r} is read as {column.key}")
        if found.unmapped:
            heads = ", ".join(map(repr, found.unmapped))
            tell(f"not read: {heads} (--column HEAD=KEY says what one holds)")
        new_lots, lots = list(found.keys), found.lots
    else:
        new_lots = [_keys(name, donor, keys)]
        lots = check_lots(new_lots, season)
    show(lot_list_lines(lots, width()))
    for crop in dict.fromkeys(lot.crop for lot in lots):
        cautions = season.crops.crops[crop].cautions
        if cautions:
            show([plain(f"{crop}:"), *caution_lines(cautions, width())])
    if preview:
        tell(
            f"{plural(len(lots), 'lot')} would be added to {place / LOTS_FILE}; nothing is written."
        )
        return
    append_lots(place, new_lots)
    tell(f"{plural(len(lots), 'lot')} added to {place / LOTS_FILE}.")


def _from_csv(
    file: Path, season: Season, columns: tuple[str, ...], order: str | None
) -> LotsFromCsv:
    """The lots of a CSV; what is wrong with its heads or dates, with the options that help."""
    if order is not None and order not in DAY_ORDERS:
        raise BadInputError([Problem(file="--order", found=order, allowed=DAY_ORDERS)])
    try:
        mapping = _mapping(columns)
        return read_lots_csv(disk.read(file), season, mapping, order=order or "", file=str(file))
    except BadInputError as error:
        of_heads = any(one.key.startswith("row 1") for one in error.problems)
        in_doubt = any("two ways" in one.hint for one in error.problems)
        more = [Problem(file="--column", hint=_HEAD_IS_KEY)] if of_heads else []
        more += [Problem(file="--order", hint=_DAY_FIRST)] if in_doubt else []
        raise BadInputError([*error.problems, *more]) from None


def _keys(name: str | None, donor: str | None, keys: dict[str, object]) -> dict[str, object]:
    """The keys of one lot as lots.toml takes them."""
    if not name:
        hint = "Name the lot, or add many from a file: --from FILE.csv."
        raise BadInputError([Problem(file="new lot", hint=hint)])
    said: dict[str, object] = {"name": name}
    for key, value in keys.items():
        if value in (None, ()):
            continue
        said[key] = list(value) if isinstance(value, tuple) else lot_value(key, str(value))
    if donor:
        said["from"] = donor
    return said


def _no_keys_beside(name: str | None, donor: str | None, keys: dict[str, object]) -> None:
    if name or donor or any(keys.values()):
        hint = (
            "--from FILE.csv reads complete lots. A name and other options are for one lot; who "
            "gave it: --donor."
        )
        raise BadInputError([Problem(file="new lot", hint=hint)])


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


_lot_options(new_lot)
