"""`seedstart lots`: what came up of each lot, and of one in full."""

from collections.abc import Iterator, Mapping, Set

import click

from seedstart.acts.sentences import entry_in_words
from seedstart.cli.germination_output import germination_as_json
from seedstart.cli.lots_json import lots_as_json
from seedstart.cli.picture_file import check_picture, save_picture
from seedstart.cli.printing import show, show_json, width
from seedstart.cli.recording import as_of_option, open_for, to_restore
from seedstart.cli.season_files import season_option
from seedstart.drawing.emergence_bars import emergence_bars, signs_in_words
from seedstart.drawing.germination_sheet import germination_lines
from seedstart.drawing.lines import Line, heading, plain, wrapped
from seedstart.drawing.lots_table import lot_lines, lots_lines
from seedstart.drawing.measured_curves import outlook_lines
from seedstart.drawing.picture import picture_of_lot
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.lot_course import METHODS, LotCourse, in_warmth_now, lot_course
from seedstart.planning.prospects.own_record import figure_of
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.names import Names, find_name
from seedstart.text import plural
from seedstart.tracking.figures import LotFigure
from seedstart.tracking.history import acts_of, history
from seedstart.tracking.whereabouts import whereabouts


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
            add = "`seedstart new lot NAME --crop CROP` adds one."
            sown = len(records.standings)
            none = f"No lot is in the plan, and {plural(sown, 'sowing')} in the journal"
            show([plain(f"{none}: {add}" if sown else f"No lots yet: {add}")])
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
        show([heading(f"{sowing.name} comes up"), *emergence_bars(found, width(), 14)])
        show(signs_in_words(found, width()))
        show([*outlook_lines(found, width()), plain("")])
    if not figure.sowings:
        show([plain(f"None of {figure.lot} has been sown yet.")])


def _show_one(season: OpenSeason, lot: Lot, figure: LotFigure) -> None:
    records = season.records()
    daughters = [one for one in records.of_lot(lot.name) if not one.from_seed]
    histories = {
        one.id: history(records, season.journal, one.id) for one in (*figure.sowings, *daughters)
    }
    # A seed library wants tests of its lots, and no dates.
    dated = season.plan.frost is not None or lot.want is not None
    rows = [row for row in season.calendar() if row.lot == lot.name] if dated else []
    units = season.plan.units
    prospects = {one.id: season.prospects()[one.id] for one in figure.sowings}
    every = whereabouts(records, season.plan)
    groups = {one.sowing: one for one in every if one.lot == lot.name}
    cautions = season.plan.crops.crops[lot.crop].cautions
    lines = lot_lines(
        lot, figure, rows, prospects, histories, units, width(), daughters, groups, cautions
    )
    told = {entry.id for one in histories.values() for entry in one}
    show([*lines, *_of_the_lot(season, lot.name, told)])


def _of_the_lot(season: OpenSeason, lot: str, told: Set[str]) -> Iterator[Line]:
    """What was written of a lot and stands with no sowing; what was taken back, and how it returns.

    Args:
        season: The season.
        lot: Its name.
        told: Ids of the entries that stand with its sowings.
    """
    units = season.plan.units
    acts = acts_of(season.records(), season.journal, lot)
    written = [one for act in reversed(acts) for one in act.entries if one.id not in told]
    if written:
        yield plain("")
    for entry in written:
        text = entry_in_words(entry, units)
        if entry.id in season.journal.struck:
            text = f"Taken back: {text}. To restore it: {to_restore(season, [entry])}"
        yield from wrapped(text, width(), indent="  ", role="quiet")
