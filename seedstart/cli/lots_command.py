"""`seedstart new lot`: packets come into lots.toml; `lots`: what came up of them."""

from collections.abc import Mapping
from pathlib import Path

import click

from seedstart import disk
from seedstart.cli.germination_output import germination_as_json
from seedstart.cli.lots_json import lots_as_json
from seedstart.cli.picture_file import check_picture, save_picture
from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import find_season, season_option
from seedstart.disk.plan_changes import append_lots
from seedstart.disk.plan_files import read_plan
from seedstart.drawing.germination_sheet import germination_lines
from seedstart.drawing.lines import heading, plain
from seedstart.drawing.lots_table import caution_lines, lot_lines, lot_list_lines, lots_lines
from seedstart.drawing.measured_curves import emergence_lines, outlook_lines
from seedstart.drawing.picture import picture_of_lot
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.lot_course import METHODS, LotCourse, in_warmth_now, lot_course
from seedstart.planning.prospects.own_record import figure_of
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.additions import check_lots, lot_value
from seedstart.season.plan.lot import LOT_KEYS, Lot
from seedstart.season.plan.lots import LOTS_FILE
from seedstart.season.plan.lots_csv import read_lots_csv
from seedstart.season.plan.names import Names, find_name
from seedstart.text import plural
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.history import history
from seedstart.tracking.whereabouts import whereabouts

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
@click.option("--preview", is_flag=True, help="Show what would be added, and add nothing.")
def new_lot(
    folder: str | None,
    name: str | None,
    file: Path | None,
    donor: str | None,
    columns: tuple[str, ...],
    preview: bool,
    **keys: object,
) -> None:
    """Add one lot by its options, or many from a CSV; your comments and order are kept.

    Your comments and order are kept.

    Example: seedstart new lot pepper-long --crop pepper --want 12 --station "heat mat"

    Example: seedstart new lot --from packets.csv --preview
    """
    place = find_season(folder)
    season = read_plan(place)
    if file is not None:
        _no_keys_beside(name, donor, keys)
        found = read_lots_csv(disk.read(file), season, _mapping(columns), file=str(file))
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
        hint = "--from FILE.csv reads complete lots; a name and other options are for one lot."
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


@click.command()
@season_option
@as_of_option
@click.argument("name", required=False)
@click.option(
    "--curve", is_flag=True, help="With a NAME: draw how its sowings come up, and what is expected."
)
@click.option(
    "--germination",
    is_flag=True,
    help="With a NAME: every figure of how it came up, with its definition.",
)
@click.option(
    "--interval",
    type=click.Choice(tuple(METHODS)),
    help="With --germination: how the 95 % intervals are computed; wilson if you leave it out.",
)
@click.option(
    "--in-warmth",
    is_flag=True,
    help="With --germination: time as the warmth it had, not as days.",
)
@click.option("--picture", metavar="FILE", help="With --germination: the curve, .svg or .png.")
@click.option("--json", "json_", is_flag=True, help="Print JSON, for scripts.")
def lots(
    folder: str | None,
    on: str | None,
    name: str | None,
    curve: bool,
    germination: bool,
    interval: str | None,
    in_warmth: bool,
    picture: str | None,
    json_: bool,
) -> None:
    """What came up of every lot; with a NAME, one lot with its sowings and their history.

    Example: seedstart lots --season sample_season --on 2026-04-10

    Example: seedstart lots leek-giant --germination --season sample_season --on 2026-04-10
    """
    alone = {"--interval": interval, "--in-warmth": in_warmth or None, "--picture": picture}
    _refuse_alone(name, alone, germination=germination)
    place = check_picture(picture) if picture is not None else None
    if curve and (name is None or json_):
        hint = "It draws one lot's sowings: give the lot's name, without --json."
        raise BadInputError([Problem(file="--curve", hint=hint)])
    season = open_for(folder, on)
    typed = Typed()
    known = Names(season.plan.lots)
    wanted = typed.take(find_name(name, known, file="lots", lists="lots")) if name else None
    typed.done()
    chosen = [lot for lot in season.plan.lots if wanted in {None, lot.name}]
    if germination:
        course = _course(season, chosen[0], interval or "wilson", in_warmth=in_warmth)
        if json_:
            show_json(germination_as_json(course))
        else:
            show(germination_lines(course, width()))
        if place is not None:
            save_picture(picture_of_lot(course), place)
        return
    records = season.records()
    figures = {lot.name: figure_of(lot, season.plan, records) for lot in chosen}
    if json_:
        told = list(lots_as_json(season, chosen, figures))
        show_json(told[0] if wanted else told)
    elif curve:
        _show_curves(season, figures[chosen[0].name])
    elif wanted is None:
        rows = {row.lot: row for row in reversed(season.calendar()) if row.lot}
        if not chosen:
            show([plain("No lots yet: `seedstart new lot NAME --crop CROP` adds one.")])
            return
        show(
            lots_lines(
                chosen, figures, rows, "`seedstart lots NAME` shows one lot in full.", width()
            )
        )
    else:
        _show_one(season, chosen[0], figures[wanted])


def _refuse_alone(
    name: str | None, options: Mapping[str, str | bool | None], *, germination: bool
) -> None:
    """Options that say nothing by themselves.

    Raises:
        BadInputError: One of them without what it belongs to.
    """
    wrong = []
    if germination and name is None:
        wrong.append(Problem(file="--germination", hint="It is of one lot: give its name."))
    for option, given in options.items():
        if given is not None and not germination:
            wrong.append(Problem(file=option, hint="It belongs to --germination."))
    if wrong:
        raise BadInputError(wrong)


def _course(season: OpenSeason, lot: Lot, method: str, *, in_warmth: bool) -> LotCourse:
    warm = in_warmth_now(season.plan, season.readings(), season.now()) if in_warmth else None
    return lot_course(lot, season.plan, season.records(), method=method, in_warmth=warm)


def _show_curves(season: OpenSeason, figure: LotFigure) -> None:
    """The curve of each sowing from seed, the latest first."""
    for sowing in reversed(figure.sowings):
        found = season.prospects().drawn(sowing.id)
        show([heading(f"{sowing.name} comes up"), *emergence_lines(found, width())])
        show([*outlook_lines(found, width()), plain("")])
    if not figure.sowings:
        show([plain(f"None of {figure.lot} has been sown yet.")])


def _show_one(season: OpenSeason, lot: Lot, figure: LotFigure) -> None:
    records = season.records()
    daughters = [one for one in records.of_lot(lot.name) if not one.from_seed]
    histories = {
        one.id: history(records, season.journal, one.id) for one in (*figure.sowings, *daughters)
    }
    rows = [row for row in season.calendar() if row.lot == lot.name]
    units = season.plan.units
    prospects = {one.id: season.prospects()[one.id] for one in figure.sowings}
    every = whereabouts(records, season.plan)
    groups = {one.sowing: one for one in every if one.lot == lot.name}
    cautions = season.plan.crops.crops[lot.crop].cautions
    lines = lot_lines(
        lot, figure, rows, prospects, histories, units, width(), daughters, groups, cautions
    )
    show(lines)
