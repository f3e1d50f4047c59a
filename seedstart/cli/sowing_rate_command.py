"""`seedstart sowing-rate`: how many seeds give the plants that are wanted."""

import re
from collections.abc import Callable
from typing import Final

import click

from seedstart.cli.printing import show, show_json, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.drawing.rate_sheet import rate_lines
from seedstart.growing.germination.intervals import likely_share
from seedstart.growing.germination_belief import EVEN
from seedstart.growing.sowing_rate import TooManySeedsError
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.seeds_to_sow import USUAL_CHANCE
from seedstart.planning.lots.rates import Germination, Rate, germination_of_lot, rate
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.lot import Lot
from seedstart.season.plan.names import Names, find_name
from seedstart.season.plan.stations import Container, with_shipped
from seedstart.season.plan.typed_values import one_of, parse_bare_number
from seedstart.units import parse_percent

_USUAL_EMPTY: Final = 0.05
_MOST_PLANTS: Final = 100_000


def _count(text: str) -> int:
    found = parse_bare_number(text)
    if found is None or not found.is_integer() or not 1 <= found <= _MOST_PLANTS:
        raise ValueError(f"a whole number from 1 to {_MOST_PLANTS}")
    return int(found)


def _chance(text: str) -> float:
    """A share above 0 and below 1, from percent."""
    percent = parse_percent(text if "%" in text else f"{text}%")
    if not 0 < percent < 100:
        raise ValueError("a percentage above 0 and below 100")
    return percent / 100


def _share(text: str) -> float:
    percent = parse_percent(text if "%" in text else f"{text}%")
    if not percent:
        raise ValueError("a percentage above 0 and up to 100: of none there are no plants")
    return percent / 100


def _tested(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"\s*(\d{1,6})\s*(?:of|/)\s*(\d{1,6})\s*", text)
    if match is None or not 0 <= int(match[1]) <= int(match[2]) or not int(match[2]):
        raise ValueError("how many of how many came up, e.g. 17 of 20")
    return int(match[1]), int(match[2])


@click.command("sowing-rate")
@click.argument("name", metavar="[LOT]", required=False)
@click.option("--plants", metavar="NUMBER", help="Wanted; for a LOT, what it wants if left out.")
@click.option("--chance", metavar="PERCENT", help="How often all are to be there; 90% if left out.")
@click.option("--germination", metavar="PERCENT", help="Known for sure; needs no season.")
@click.option("--tested", metavar="'17 of 20'", help="A test; needs no season.")
@click.option("--in-cells", is_flag=True, help="How many seeds in a cell, too.")
@click.option("--empty", metavar="PERCENT", help="Cells that may stay empty; 5% if left out.")
@click.option("--alike", metavar="SHARE", help="Correlation of seeds in a cell, 0 to 1.")
@click.option("--container", metavar="TEXT", help="What is sown in, as 'tray of 72'.")
@click.option("--packet", metavar="NUMBER", help="Seeds in a packet.")
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def sowing_rate_command(
    name: str | None, folder: str | None, on: str | None, json_: bool, **said: str | None
) -> None:
    """How many seeds to sow: the fewest that give the plants with the chance that is asked.

    Of a LOT it counts with packet, tests, age, own history and losses; of a figure with that alone.

    Example: seedstart sowing-rate pepper-long --plants 12 --season sample_season --on 2026-03-01

    Example: seedstart sowing-rate --plants 72 --germination 90% --in-cells --container "tray of 72"
    """
    in_cells = bool(said.pop("in_cells"))
    typed = Typed()
    plants = typed.read("--plants", said["plants"], _count)
    chance = typed.read("--chance", said["chance"], _chance)
    share = typed.read("--germination", said["germination"], _share)
    tested = typed.read("--tested", said["tested"], _tested)
    empty = typed.read("--empty", said["empty"], _chance)
    alike = typed.read("--alike", said["alike"], _correlation)
    packet = typed.read("--packet", said["packet"], _count)
    for problem in _what_is_missing(name, said):
        typed.refuse(problem)
    season = open_for(folder, on) if name is not None else None
    lot = _lot(name, season, typed)
    container = typed.read("--container", said["container"], _container(season))
    if plants is None and said["plants"] is None and (lot is None or lot.want is None):
        typed.refuse(Problem(file="--plants", hint="It is missing: how many plants, e.g. 12."))
    typed.done()
    basis = _of_lot(lot, season) if lot and season else _of_figure(share, tested)
    cells = empty or _USUAL_EMPTY if in_cells or empty is not None else None
    try:
        found = rate(
            basis,
            plants or (lot.want if lot and lot.want else 1),
            chance=chance or USUAL_CHANCE,
            most_empty=cells,
            alike=alike if alike is not None else basis.alike,
            container=container or _planned_in(lot, season),
            packet=packet,
        )
    except TooManySeedsError as error:
        raise BadInputError([Problem(file="--plants", hint=f"No answer: {error}.")]) from None
    if json_:
        show_json(_as_json(found, lot))
    else:
        show(rate_lines(found, lot.name if lot else "", width()))


def _correlation(text: str) -> float:
    found = parse_bare_number(text)
    if found is None or not 0 <= found < 1:
        raise ValueError("a correlation from 0 to below 1, e.g. 0.1")
    return found


def _what_is_missing(name: str | None, said: dict[str, str | None]) -> list[Problem]:
    figures = [one for one in ("germination", "tested") if said[one] is not None]
    if name is None and not figures:
        hint = "Name a LOT of your season, or give --germination or --tested."
        return [Problem(file="LOT", hint=hint)]
    if len(figures) + (name is not None) > 1:
        hint = "One of a LOT, --germination and --tested."
        return [Problem(file=f"--{figures[-1]}", found=said[figures[-1]], hint=hint)]
    return []


def _lot(name: str | None, season: OpenSeason | None, typed: Typed) -> Lot | None:
    if name is None or season is None:
        return None
    known = Names(season.plan.lots)
    found = typed.take(find_name(name, known, file="LOT", lists="lots"))
    return season.plan.lots_by_name.get(found or "")


def _containers(season: OpenSeason | None) -> tuple[Container, ...]:
    return season.plan.containers if season else with_shipped([])


def _container(season: OpenSeason | None) -> Callable[[str], Container]:
    every = {one.name: one for one in _containers(season)}
    read = one_of(tuple(every))
    return lambda text: every[read(text)]


def _planned_in(lot: Lot | None, season: OpenSeason | None) -> Container | None:
    if lot is None or lot.container is None:
        return None
    return next((one for one in _containers(season) if one.name == lot.container), None)


def _of_lot(lot: Lot, season: OpenSeason) -> Germination:
    found = germination_of_lot(lot, season.plan, season.records(), season.today)
    if found is None:
        hint = f"The {lot.station} is too cold or too hot for {lot.crop}: nothing comes up there."
        raise BadInputError([Problem(file="LOT", found=lot.name, hint=hint)])
    return found


def _of_figure(share: float | None, tested: tuple[int, int] | None) -> Germination:
    if tested is not None:
        belief = EVEN.updated(*tested)
        rests_on = f"{tested[0]} of {tested[1]} came up in a test"
        likely = likely_share(belief)
        return Germination(belief=belief, share=belief.mean, likely=likely, rests_on=rests_on)
    known = share or 1.0
    return Germination(belief=None, share=known, likely=None, rests_on="taken as known for sure")


def _as_json(found: Rate, lot: Lot | None) -> dict[str, object]:
    basis, cell = found.germination, found.per_cell
    return {
        "lot": lot.name if lot else None,
        "plants": found.plants,
        "asked_percent": 100 * found.wanted_chance,
        "seeds": found.for_plants.seeds,
        "chance_percent": 100 * found.for_plants.chance,
        "chance_of_one_fewer": 100 * found.for_plants.chance_of_one_fewer,
        "plants_over_germination": found.divided,
        "germination_percent": 100 * basis.share,
        "germination_low": 100 * basis.likely.low if basis.likely else None,
        "germination_high": 100 * basis.likely.high if basis.likely else None,
        "rests_on": basis.rests_on,
        "taken_off": list(basis.taken_off),
        "lost_percent": 100 * basis.lost,
        "seeds_a_cell": cell.seeds if cell else None,
        "empty_percent": 100 * cell.empty if cell else None,
        "empty_of_one_fewer": 100 * cell.empty_of_one_fewer if cell else None,
        "seeds_in_all": found.to_sow,
        "trays": found.trays,
        "packets": found.packets,
    }
