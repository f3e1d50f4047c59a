"""`seedstart trial`: trials planned, and what came out of them."""

import shlex
from collections import Counter
from math import isfinite
from pathlib import Path

import click
from msgspec import structs

from seedstart import disk
from seedstart.cli.plan_options import (
    WITHOUT_HELP,
    change_file,
    drop_file,
    preview_option,
    with_left_out,
)
from seedstart.cli.printing import show, show_csv, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.days import short_day
from seedstart.disk.plan_changes import write_trial_file
from seedstart.drawing.lines import plain
from seedstart.drawing.trial_picture import NEEDS, Format, trial_picture
from seedstart.drawing.trial_sheet import place_lines, planned_lines, result_lines, title
from seedstart.growing.plateau import Fit, Response
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.seed_tests import begun_in_words
from seedstart.planning.trials.trial_planning import plan_request
from seedstart.planning.trials.trial_result import TrialResult, trial_result
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.typed_values import whole
from seedstart.season.trials.planned_tests import path_of_test
from seedstart.season.trials.trial_plan import TRIALS_FOLDER, TrialPlan
from seedstart.season.trials.trial_request import (
    CHANGES,
    USUAL,
    changed_trial,
    read_changes,
    read_request,
)
from seedstart.takeaway.trial_table import TRIAL_HEAD, trial_rows
from seedstart.text import folded, plural


@click.group()
def trial() -> None:
    """Trials: varieties × levels of light, or of any one treatment.

    Example: seedstart trial show cabbage-light --season sample_season
    """


@trial.command(name="new")
@season_option
@click.argument("name")
@click.option("--lot", "lots", multiple=True, metavar="NAME", help="A variety; repeatable.")
@click.option("--levels", metavar="LIST", help="mol a day, or of another kind: '3.1, 4.6, 6.2'.")
@click.option(
    "--kind", default=USUAL["kind"], metavar="WORD", help="light (default), or the treatment."
)
@click.option("--trays", default=USUAL["trays"], metavar="N", help="A level; one is one replicate.")
@click.option("--plants", default=USUAL["plants"], metavar="N", help="A tray.")
@click.option("--station", "stations", multiple=True, metavar="NAME", help="Repeatable.")
@click.option(
    "--measure-on",
    default=USUAL["measure_on"],
    metavar="DAYS",
    help="After half emergence: '14, 21'.",
)
@click.option("--difference", metavar="PERCENT", help="In height, that it is to show.")
@click.option(
    "--seed", default=USUAL["seed"], metavar="N", help="Of the draw: the same draws the same."
)
@click.option("--begin", metavar="DATE", help="When it is to be sown; at once if left out.")
@click.option("--title", metavar="TEXT", help="What it is to find out, in your words.")
@click.option("--preview", is_flag=True, help="Show it, and write nothing.")
def new(
    folder: str | None,
    name: str,
    lots: tuple[str, ...],
    stations: tuple[str, ...],
    preview: bool,
    **said: str,
) -> None:
    """Plan a trial. It draws places at random, and says each tray's distance and what it can show.

    Example: seedstart trial new cabbage-light --lot cabbage --levels "3, 4.5, 6, 8, 10" --station
    "upper shelf" --difference 15
    """
    opened = open_for(folder)
    taken = disk.names_in(opened.folder / TRIALS_FOLDER, ".toml")
    request = read_request(
        Typed(), name, said, lots, stations, opened.plan,
        [one.removesuffix(".toml") for one in taken], _option,
    )  # fmt: skip
    planned = plan_request(request, opened.plan, opened.records(), opened.today, opened.readings())
    show(planned_lines(planned, opened.plan.units, width()))
    if preview:
        tell("Nothing is written.")
        return
    tell(f"Written: {write_trial_file(opened.folder, planned.trial).file}.")
    for text in _how_to_sow(planned.trial):
        tell(text)


def _how_to_sow(trial: TrialPlan) -> list[str]:
    """The first tray's command and how many more there are; a station's trays in one."""
    first, more = trial.places[0], len(trial.places) - 1
    when = f"On {short_day(trial.begin)}" if trial.begin else "From today"
    typed = (
        "seedstart", "log", "sown", first.lot, f"{trial.seeds}", "--tray", first.tray, "--station",
        first.station, "--purpose", "trial", "--trial", trial.name,
    )  # fmt: skip
    each = f"{plural(more + 1, 'tray')}, {plural(trial.seeds, 'seed')} each"
    said = [
        f"{when} `seedstart round` asks to sow {each}.",
        f"{first.tray} by itself: {shlex.join(typed)}",
    ]
    at = Counter(one.station for one in trial.places)
    keys = [f"sow trial {trial.name} at {station}" for station, trays in at.items() if trays > 1]
    if keys:
        ticks = "; ".join(shlex.join(("seedstart", "round", "--tick", key)) for key in keys)
        said.append(f"And {plural(more, 'tray')} more. All of a station: {ticks}")
    return said


def _option(key: str) -> str:
    names = {"lots": "--lot", "stations": "--station", "name": "NAME"}
    return names.get(key, f"--{key.replace('_', '-')}")


@trial.command(name="show")
@season_option
@as_of_option
@click.argument("name", required=False)
@click.option("--age", metavar="DAYS", help="Compare at this age; as planned, without it.")
@click.option("--csv", "csv_", is_flag=True, help="Every plant in a row, units in the heads.")
@click.option("--picture", metavar="FILE", help="Also draw it: FILE.png or FILE.svg.")
@click.option("--json", "json_", is_flag=True, help="For scripts.")
def show_(
    folder: str | None,
    on: str | None,
    name: str | None,
    age: str | None,
    csv_: bool,
    picture: str | None,
    json_: bool,
) -> None:
    """Show what came out of a trial, or which trials there are.

    Example: seedstart trial show cabbage-light --season sample_season --csv
    """
    opened = open_for(folder, on)
    found = opened.plan.trials
    if name is None:
        show([plain(title(one)) for one in found] or [plain("No trial is planned.")])
        return
    result = _result(opened, name, age)
    if picture is not None:
        _write_picture(result, picture)
    if csv_:
        show_csv(TRIAL_HEAD, trial_rows(result))
    elif json_:
        show_json(_as_json(result))
    elif any(tray.plants or tray.dead for tray in result.trays):
        show(result_lines(result, width()))
    else:
        show([plain(title(result.trial))])
        show(place_lines(result.trial.places, result.trial, opened.plan.units))
        show([plain(text) for text in result.remarks])


def _planned(opened: OpenSeason, name: str, file: str = "NAME") -> TrialPlan:
    """The trial of a name.

    Raises:
        BadInputError: There is none.
    """
    trials = opened.plan.trials
    chosen = next((one for one in trials if folded(one.name) == folded(name)), None)
    if chosen is None:
        names = tuple(one.name for one in trials)
        hint = "" if names else "No trial is planned."
        raise BadInputError([Problem(file=file, found=name, allowed=names, hint=hint)])
    return chosen


@click.command(name="trial")
@click.argument("name")
@season_option
@click.option("--title", metavar="TEXT", help="What it is to find out, in your words.")
@click.option("--measure-on", metavar="DAYS", help="After half emergence: '14, 21'.")
@click.option("--plants", metavar="N", help="Measured in a tray.")
@click.option("--begin", metavar="DATE", help="When what is not sown yet is to be sown.")
@click.option("--without", metavar="KEY", multiple=True, help=WITHOUT_HELP)
@preview_option
def change_trial(
    name: str, folder: str | None, without: tuple[str, ...], preview: bool, **said: str | None
) -> None:
    """Change what is planned of a trial; its levels, trays and places stay as they were drawn.

    Example: seedstart change trial cabbage-light --measure-on "21, 28"
    """
    opened = open_for(folder)
    options = {key: _option(key) for key in CHANGES}
    given = {key: text for key, text in said.items() if text}
    texts = with_left_out(given, without, options, file="change trial")
    trial = _planned(opened, name, "change trial")
    keys = read_changes(Typed(), texts, _option)

    def edit(old: bytes, plan: Season) -> bytes:
        return changed_trial(old, trial.name, keys, plan)

    change_file(opened, path_of_test(trial.name), edit, preview=preview)


@click.command(name="trial")
@click.argument("name")
@season_option
@preview_option
@click.option("--sure", is_flag=True, help="Though it has begun.")
def drop_trial(name: str, folder: str | None, preview: bool, sure: bool) -> None:
    """Take a trial out of the plan; what was sown and measured of it stays.

    Example: seedstart drop trial cabbage-light --preview
    """
    opened = open_for(folder)
    trial = _planned(opened, name, "drop trial")
    begun = begun_in_words(trial.name, opened.records(), "trial")
    drop_file(
        opened, path_of_test(trial.name), trial.name, begun, file="drop trial", preview=preview,
        sure=sure,
    )  # fmt: skip


def _result(opened: OpenSeason, name: str, age: str | None) -> TrialResult:
    chosen = _planned(opened, name)
    typed = Typed()
    days = typed.read("--age", age, whole(1, 365, "an age in days"))
    typed.done()
    return trial_result(chosen, opened.plan, opened.records(), days, opened.readings())


def _write_picture(result: TrialResult, name: str) -> None:
    path = Path(name)
    forms: dict[str, Format] = {".png": "png", ".svg": "svg"}
    form = forms.get(path.suffix.lower())
    if form is None:
        raise BadInputError([Problem(file="--picture", found=name, allowed=("a .png", "a .svg"))])
    if not result.responses.get(""):
        hint = "Nothing is measured of it, or its levels are words: there is nothing to draw."
        raise BadInputError([Problem(file="--picture", found=name, hint=hint)])
    try:
        data = trial_picture(result, form)
    except ImportError:
        raise BadInputError([Problem(file="--picture", hint=NEEDS)]) from None
    disk.write_new(path, data)
    tell(f"Written: {path}.")


def _as_json(result: TrialResult) -> dict[str, object]:
    apart = result.apart
    return {
        "trial": result.trial.name,
        "kind": result.trial.kind,
        "unit": result.unit,
        "groups": [
            {
                "lot": one.lot, "level": one.level, "dli_mol": one.dose_mol, "trays": one.trays,
                "plants": one.plants, "dead": one.dead,
                **{of: mean._asdict() for of, mean in one.of.items()},
            }
            for one in result.groups
        ],
        "responses": [
            {"lot": lot or None, "measure": of, **_response(fits)}
            for lot, each in result.responses.items()
            for of, fits in each.items()
        ],
        "varieties_apart": None if apart is None else {"f": apart.statistic, "p": apart.p},
        "remarks": result.remarks,
    }  # fmt: skip


def _response(fits: Response) -> dict[str, object]:
    return {
        "why_none": fits.why_none or None,
        "fits": [_fit(one) for one in fits.fits],
    }


def _fit(one: Fit) -> dict[str, object]:
    said = structs.asdict(one) | {"plateau": one.plateau}
    return {
        key: None if isinstance(value, float) and not isfinite(value) else value
        for key, value in said.items()
    }
