"""`seedstart test`: germination tests planned, and what they say of their lots."""

from typing import Any

import click

from seedstart.cli.plan_options import (
    WITHOUT_HELP,
    change_file,
    drop_file,
    preview_option,
    with_left_out,
)
from seedstart.cli.printing import show, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.disk.plan_changes import write_planned_test
from seedstart.drawing.lines import plain
from seedstart.drawing.seed_test_sheet import seed_test_lines, seed_test_sheet
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import (
    SeedTest,
    aged_in_words,
    begun_in_words,
    check_begun,
    seed_tests,
)
from seedstart.planning.prospects.own_record import of_lot
from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.season_file import Season
from seedstart.season.trials.planned_test import PlannedTest
from seedstart.season.trials.planned_tests import (
    changed_test,
    check_planned_test,
    path_of_test,
    test_value,
)
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
    """What is tested, a line a lot. With a NAME of a test or a lot: its replicates.

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


_KEYS = {
    "lots": ("--lot", "LOT", "Tested; as often as you like."),
    "replicates": ("--replicates", "NUMBER", "Of each lot; 4 if you leave it out."),
    "seeds": ("--seeds", "NUMBER", "In each; 50 if you leave it out."),
    "lies_on": ("--lies-on", "TEXT", "paper, sand, agar or medium; paper if left out."),
    "temperature": ("--temperature", "T", "E.g. 20C, or '30C day, 20C night'."),
    "light": ("--light", "TEXT", "In your words, as 'dark' or '8 h'."),
    "prechill": ("--prechill", "TIME", "Cold before, e.g. '7 days'."),
    "station": ("--station", "NAME", "Where it is to stand."),
    "first_count": ("--first-count", "DAY", "Day of the first count, after the cold."),
    "last_count": ("--last-count", "DAY", "Day of the last."),
    "begin": ("--begin", "DATE", "When; at once if you leave it out."),
    "grow_out_below": (
        "--grow-out-below", "PERCENT", "Your mark: below it grow out for fresh seed.",
    ),
}  # fmt: skip


def _key_options(command: Any) -> Any:  # noqa: ANN401 - a function on its way to a command
    """An option for each key of a test's file."""
    for key, (option, value, says) in reversed(_KEYS.items()):
        several = key == "lots"
        command = click.option(option, key, metavar=value, help=says, multiple=several)(command)
    return command


def _said(said: dict[str, Any]) -> dict[str, Any]:
    """What was typed, by key, as the file is to hold it."""
    found = {key: ", ".join(text) if key == "lots" else text for key, text in said.items() if text}
    return {key: test_value(key, text) for key, text in found.items()}


@test_group.command(name="plan")
@click.argument("name")
@season_option
@_key_options
@click.option("--preview", is_flag=True, help="Check it, and write nothing.")
@click.option("--dry-run", "preview", is_flag=True, hidden=True)
def plan_test(name: str, folder: str | None, preview: bool, **said: Any) -> None:  # noqa: ANN401
    """Plan a germination test in trials/NAME.toml. The round then asks to begin it.

    Example: seedstart test plan "onion 2027" --lot onion-red --first-count 6 --last-count 12
    """
    opened = open_for(folder)
    keys = _said(said)
    if preview:
        check_planned_test(name, keys, opened.plan, (), file="test plan")
        tell(f"The test {name} would be written to {path_of_test(name)}; nothing is written.")
        return
    plan = write_planned_test(opened.folder, name, keys, file="test plan").plan
    test = next(one for one in plan.tests if one.name == name)
    each = f"{test.replicates} × {plural(test.seeds, 'seed')}"
    tell(
        f"Written: the test {test.name}, {each} of {joined(list(test.lots))}; `seedstart round` "
        "asks to begin it."
    )


@click.command(name="test")
@click.argument("name")
@season_option
@_key_options
@click.option("--without", metavar="KEY", multiple=True, help=WITHOUT_HELP)
@preview_option
def change_test(
    name: str,
    folder: str | None,
    without: tuple[str, ...],
    preview: bool,
    **said: Any,  # noqa: ANN401
) -> None:
    """Change what is planned of a germination test.

    Once seed was sown for it, its days, its place, its mark and its words may still change.

    Example: seedstart change test "onion 2027" --last-count 14
    """
    opened = open_for(folder)
    file, options = "change test", {key: option for key, (option, _, _) in _KEYS.items()}
    keys = with_left_out(_said(said), without, options, file=file)
    test = _planned(name, opened, file)
    check_begun(test.name, keys, opened.records(), file=file)
    path = path_of_test(test.name)

    def edit(old: bytes, plan: Season) -> bytes:
        return changed_test(old, test.name, keys, plan, file=file)

    change_file(opened, path, edit, preview=preview)


def _planned(name: str, opened: OpenSeason, file: str) -> PlannedTest:
    """The planned test of a name.

    Raises:
        BadInputError: There is none.
    """
    for test in opened.plan.tests:
        if folded(test.name) == folded(name):
            return test
    names = tuple(one.name for one in opened.plan.tests)
    hint = "" if names else "No germination test is planned."
    raise BadInputError([Problem(file=file, found=name, allowed=names, hint=hint)])


@click.command(name="test")
@click.argument("name")
@season_option
@preview_option
@click.option("--sure", is_flag=True, help="Though it has begun.")
def drop_test(name: str, folder: str | None, preview: bool, sure: bool) -> None:
    """Take a germination test out of the plan. What was counted of it stays.

    Example: seedstart drop test "onion 2027" --preview
    """
    opened = open_for(folder)
    test = _planned(name, opened, "drop test")
    begun = begun_in_words(test.name, opened.records())
    drop_file(
        opened, path_of_test(test.name), test.name, begun, file="drop test", preview=preview,
        sure=sure,
    )  # fmt: skip
