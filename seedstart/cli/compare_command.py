"""`seedstart compare`: lots, sowings, stations or treatments beside each other."""

from typing import get_args

import click

from seedstart.cli.picture_file import check_picture, save_picture
from seedstart.cli.printing import show, show_json, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.drawing.compare_sheet import compare_lines, sentences
from seedstart.drawing.picture import picture_of_comparison
from seedstart.growing.germination.lot_tests import SpeedTested
from seedstart.growing.germination.time_curve import Time
from seedstart.planning.lots.comparing import By, Comparison, Pair, Side, compare
from seedstart.planning.lots.lot_course import in_warmth_now
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.names import Names, find_name


@click.command("compare")
@click.argument("names", nargs=-1, metavar="LOT [LOT]...", required=True)
@click.option(
    "--by",
    type=click.Choice(get_args(By)),
    default="lot",
    help="What is put beside each other of these lots; lot if you leave it out.",
)
@season_option
@as_of_option
@click.option("--in-warmth", is_flag=True, help="Time as the warmth that each had, not as days.")
@click.option("--picture", metavar="FILE", help="Their curves, .svg or .png.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def compare_command(
    names: tuple[str, ...],
    by: By,
    folder: str | None,
    on: str | None,
    in_warmth: bool,
    picture: str | None,
    json_: bool,
) -> None:
    """Is one lot better or faster than another, and is that more than chance?

    Only closed sowings that had a fair chance count; the others are named.

    Example: seedstart compare leek-giant onion-red --season sample_season --on 2026-04-10

    Example: seedstart compare onion-red --by sowing --season sample_season --on 2026-04-10

    Where they did not stand at one place, --in-warmth takes its warmth out of their speed.
    """
    place = check_picture(picture) if picture is not None else None
    season = open_for(folder, on)
    typed, known = Typed(), Names(season.plan.lots)
    wanted = [
        typed.take(find_name(name, known, file="LOT", lists="lots"))
        for name in dict.fromkeys(names)
    ]
    typed.done()
    lots = [lot for name in dict.fromkeys(wanted) for lot in season.plan.lots if lot.name == name]
    if by == "lot" and len(lots) < 2:
        hint = "Two lots at least; or --by sowing, station or treatment of one."
        raise BadInputError([Problem(file="LOT", found=names[0], hint=hint)])
    warm = in_warmth_now(season.plan, season.readings(), season.now()) if in_warmth else None
    found = compare(lots, season.plan, season.records(), by, warm)
    if json_:
        show_json(_as_json(found))
    else:
        show(compare_lines(found, width()))
    if place is not None:
        says = " ".join(sentences(found)) if found.sides else ""
        save_picture(picture_of_comparison(found, says), place)


def _as_json(found: Comparison) -> dict[str, object]:
    spread = found.spread
    return {
        "by": found.by,
        "of": "germinated" if found.of_tests else "emerged",
        "time_in": found.unit,
        "says": sentences(found) if found.sides else [],
        "sides": [_side(one) for one in found.sides],
        "pairs": [_pair(one) for one in found.pairs],
        "trays_correlation": spread.rho if spread else None,
        "trays_p": spread.p if spread else None,
        "left_out": [{"sowing": one.sowing, "why": one.why} for one in found.left_out],
    }


def _side(side: Side) -> dict[str, object]:
    tolerance = side.tolerance
    return {
        "name": side.name,
        "cases": [{"sowing": one.sowing, "up": one.up, "seeds": one.seeds} for one in side.cases],
        "up": side.up,
        "seeds": side.seeds,
        "percent": 100 * side.share,
        "percent_low": 100 * side.interval.low,
        "percent_high": 100 * side.interval.high,
        "t50": _time(side.half),
        "t90": _time(side.nine_in_ten),
        "warmth_measured_percent": None if side.warmth_read is None else 100 * side.warmth_read,
        "cases_p": side.trays_p,
        "tolerance": None
        if tolerance is None
        else {
            "mean": tolerance.mean,
            "points_apart": tolerance.apart,
            "allowed": tolerance.allowed,
            "source": tolerance.source,
        },
    }


def _pair(pair: Pair) -> dict[str, object]:
    speed = pair.speed if isinstance(pair.speed, SpeedTested) else None
    return {
        "first": pair.first,
        "second": pair.second,
        "test": pair.how_many_by,
        "statistic": pair.how_many.statistic,
        "p": pair.how_many.p,
        "p_holm": pair.how_many_p,
        "shown": pair.shown,
        "speed_p": speed.p if speed else None,
        "speed_p_holm": pair.speed_p,
        "speed_shown": pair.speed_shown,
        "speed_days": speed.days if speed else None,
        "speed_low": speed.low if speed else None,
        "speed_high": speed.high if speed else None,
        "speed_untested": None if isinstance(pair.speed, SpeedTested) else pair.speed.why,
        "log_rank_p": pair.course.p if pair.course else None,
        "seeds_to_show": pair.seeds_needed,
    }


def _time(time: Time | None) -> dict[str, float] | None:
    return None if time is None else {"best": time.best, "low": time.low, "high": time.high}
