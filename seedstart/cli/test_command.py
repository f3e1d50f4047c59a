"""`seedstart test`: germination tests planned, and what they say of their lots."""

from typing import Any

import click

from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.disk.plan_changes import write_planned_test
from seedstart.drawing.lines import plain
from seedstart.drawing.seed_test_sheet import seed_test_lines, seed_test_sheet
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import SeedTest, aged_in_words, seed_tests
from seedstart.planning.prospects.own_record import of_lot
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.typed_values import parse_bare_number
from seedstart.season.trials.planned_tests import check_planned_test
from seedstart.text import folded, joined, plural


@click.group(name="test")
def test_group() -> None:
    """Germination tests: plan one, count it with `log counted`, see what it says.

    Example: seedstart test show --season sample_season
    """


@test_group.command(name="show")
@click.argument("name", required=False)
@season_option
@as_of_option
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def show_tests(name: str | None, folder: str | None, on: str | None, json_: bool) -> None:
    """What is tested, a line a lot; with a NAME of a test or a lot, its replicates.

    Example: seedstart test show --season sample_season
    """
    season = open_for(folder, on)
    every = seed_tests(season.plan, season.records(), season.today)
    found = [one for one in every if name is None or _is_called(one, name)]
    if name is not None and not found:
        names = tuple(dict.fromkeys(each for one in every for each in (one.name, one.lot)))
        raise BadInputError([Problem(file="NAME", found=name, allowed=names)])
    if json_:
        show_json([_as_json(one) for one in found])
    elif name is None:
        show(seed_test_lines(found, width()))
        if not found:
            tell("`seedstart test plan NAME --lot LOT` plans a germination test.")
    else:
        for one in found:
            aged = _aged(one, season)
            show(seed_test_sheet(one, aged, season.plan.units, width()))
            show([plain("")] if one is not found[-1] else [])


def _is_called(test: SeedTest, name: str) -> bool:
    return folded(name) in {folded(test.name), folded(test.lot)}


def _aged(test: SeedTest, season: OpenSeason) -> str:
    lot = season.plan.lots_by_name.get(test.lot)
    if lot is None:
        return ""
    tests = of_lot(lot, season.plan, season.records()).tests_of(lot)
    return aged_in_words(tests, season.plan.crops.crops[lot.crop], season.today)


def _as_json(test: SeedTest) -> dict[str, object]:
    low, high = test.interval or (None, None)
    verdict = test.verdict
    return {
        "test": test.name,
        "lot": test.lot,
        "planned": test.planned is not None,
        "state": test.state,
        "day": test.day,
        "closed_on": test.closed_on,
        "normal": test.up,
        "seeds": test.seeds,
        "percent": test.percent,
        "percent_low": None if low is None else 100 * low,
        "percent_high": None if high is None else 100 * high,
        "replicates": [
            {
                "sowing": one.name,
                "replicate": one.replicate,
                "seeds": one.seeds,
                "normal": one.ended.normal if one.ended else one.emerged,
                "abnormal": one.ended.abnormal if one.ended else None,
                "hard": one.ended.hard if one.ended else None,
                "fresh": one.ended.fresh if one.ended else None,
                "dead": one.ended.dead if one.ended else None,
            }
            for one in test.replicates
        ],
        "replicates_apart": test.replicates_apart,
        "replicates_p": test.apart_p,
        "legal_minimum": test.legal_minimum,
        "grow_out_below": test.mark,
        "verdict": verdict[0] if verdict else None,
        "why": verdict[1] if verdict else None,
        "wrong": list(test.wrong),
    }


@test_group.command(name="plan")
@click.argument("name")
@season_option
@click.option("--lot", "lots", multiple=True, metavar="LOT", help="Tested; as often as you like.")
@click.option("--replicates", metavar="NUMBER", help="Of each lot; 4 if you leave it out.")
@click.option("--seeds", metavar="NUMBER", help="In each; 50 if you leave it out.")
@click.option("--lies-on", metavar="TEXT", help="paper, sand, agar or medium; paper if left out.")
@click.option("--temperature", metavar="T", help="E.g. 20C, or '30C day, 20C night'.")
@click.option("--light", metavar="TEXT", help="In your words, as 'dark' or '8 h'.")
@click.option("--prechill", metavar="TIME", help="Cold before, e.g. '7 days'.")
@click.option("--station", metavar="NAME", help="Where it is to stand.")
@click.option("--first-count", metavar="DAY", help="Day of the first count, after the cold.")
@click.option("--last-count", metavar="DAY", help="Day of the last.")
@click.option("--begin", metavar="DATE", help="When; at once if you leave it out.")
@click.option(
    "--grow-out-below", metavar="PERCENT", help="Your mark: below it grow out for fresh seed."
)
@click.option("--dry-run", is_flag=True, help="Check it, and write nothing.")
def plan_test(
    name: str, folder: str | None, lots: tuple[str, ...], dry_run: bool, **said: str | None
) -> None:
    """Plan a germination test: trials/NAME.toml, written once. The round then asks to begin it.

    Example: seedstart test plan "onion 2027" --lot onion-red --first-count 6 --last-count 12
    """
    opened = open_for(folder)
    keys: dict[str, Any] = {"lots": list(lots) or None}
    keys |= {key: _value(key, text) for key, text in said.items() if text is not None}
    if dry_run:
        check_planned_test(name, keys, opened.plan, (), file="test plan")
        tell(f"The test {name} would be written to trials/{name}.toml; nothing is written.")
        return
    test = write_planned_test(opened.folder, name, keys, file="test plan")
    each = f"{test.replicates} × {plural(test.seeds, 'seed')}"
    tell(
        f"Written: the test {test.name}, {each} of {joined(list(test.lots))}; `seedstart round` "
        "asks to begin it."
    )


def _value(key: str, text: str) -> object:
    """Numbers as numbers; the rest as it was typed."""
    if key not in {"replicates", "seeds", "first_count", "last_count"}:
        return text
    found = parse_bare_number(text)
    return text if found is None or not found.is_integer() else int(found)
