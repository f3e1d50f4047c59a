"""`seedstart trial`: trials planned, and what came out of them."""

from collections.abc import Iterator
from math import isfinite
from pathlib import Path
from typing import Final

import click
from msgspec import structs

from seedstart import disk
from seedstart.cli.printing import show, show_csv, show_json, tell, width
from seedstart.cli.recording import as_of_option, open_for
from seedstart.cli.season_files import season_option
from seedstart.disk.plan_changes import write_trial_file
from seedstart.drawing.lines import plain
from seedstart.drawing.trial_picture import NEEDS, Format, trial_picture
from seedstart.drawing.trial_sheet import place_lines, planned_lines, result_lines, title
from seedstart.growing.plateau import Fit, Response
from seedstart.open_season import OpenSeason
from seedstart.planning.light.station_light import light_at
from seedstart.planning.trials.trial_planning import plan_trial
from seedstart.planning.trials.trial_result import TrialResult, trial_result
from seedstart.problems import BadInputError, Problem, Typed
from seedstart.season.plan.names import Names, find_name
from seedstart.season.plan.typed_values import parse_bare_number, whole
from seedstart.season.trials.light_trial import (
    read_trial,
    write_trial,
    wrong_trial_name,
)
from seedstart.season.trials.trial_plan import LIGHT, TRIALS_FOLDER, TrialPlan
from seedstart.text import folded

CSV_HEAD: Final = (
    "trial", "lot", "level", "tray", "sowing", "date", "age_days", "dose_mol_m2_d", "dose_basis",
    "plant", "height_mm", "diameter_mm", "quotient_cm_per_mm",
)  # fmt: skip


@click.group()
def trial() -> None:
    """Trials: varieties × levels of light, or of any one treatment.

    Example: seedstart trial show cress-light --season sample_season
    """


@trial.command(name="new")
@season_option
@click.argument("name")
@click.option("--lot", "lots", multiple=True, metavar="NAME", help="A variety; repeatable.")
@click.option("--levels", metavar="LIST", help="mol a day, or of another kind: '3.1, 4.6, 6.2'.")
@click.option("--kind", default=LIGHT, metavar="WORD", help="light (default), or the treatment.")
@click.option("--trays", default="2", metavar="N", help="A level; one is one replicate.")
@click.option("--plants", default="8", metavar="N", help="A tray.")
@click.option("--station", "stations", multiple=True, metavar="NAME", help="Repeatable.")
@click.option("--measure-on", default="21", metavar="DAYS", help="After half emergence: '14, 21'.")
@click.option("--difference", metavar="PERCENT", help="In height, that it is to show.")
@click.option("--seed", default="4711", metavar="N", help="Of the draw: the same draws the same.")
@click.option("--preview", is_flag=True, help="Show it, and write nothing.")
def new(folder: str | None, name: str, preview: bool, **said: str) -> None:
    """Plan a trial: places drawn by lot, each tray's distance from its lamps, what it can show.

    Example: seedstart trial new cabbage-light --lot cabbage --levels "3, 4.5, 6, 8, 10" --station
    "upper shelf" --difference 15
    """
    opened = open_for(folder)
    taken = disk.names_in(opened.folder / TRIALS_FOLDER, ".toml")
    wrong = wrong_trial_name(name, [one.removesuffix(".toml") for one in taken])
    asked, stations, wanted = _asked(opened, name, said, wrong)
    lights = [
        light_at(
            opened.plan.stations_by_name[one],
            opened.plan,
            opened.records(),
            opened.today,
            logged=opened.readings(),
        )
        for one in stations
    ]
    planned = plan_trial(asked, lights, wanted)
    read_trial(write_trial(planned.trial), name, opened.plan)  # what cannot be read is not written
    show(planned_lines(planned, opened.plan.units, width()))
    if preview:
        tell("Nothing is written.")
        return
    write_trial_file(opened.folder, planned.trial)
    tell(f"Written: trials/{name}.toml.")
    first = planned.trial.places[0]
    tell(
        f"Sow each tray so: seedstart log sown {first.lot} {asked.plants} --tray {first.tray} "
        f"--station '{first.station}' --purpose trial --trial {name}"
    )


def _asked(
    opened: OpenSeason, name: str, said: dict[str, str], wrong: Problem | None
) -> tuple[TrialPlan, list[str], float | None]:
    """The trial that was asked for, without its places.

    Raises:
        BadInputError: Everything wrong in it.
    """
    typed, plan = Typed(), opened.plan
    if wrong is not None:
        typed.refuse(wrong)
    known_lots, known_stations = Names(plan.lots), Names(plan.stations)
    lots = [
        typed.take(find_name(one, known_lots, file="--lot", lists="lots")) for one in said["lots"]
    ]
    stations = [
        typed.take(find_name(one, known_stations, file="--station", lists="season.toml"))
        for one in said["stations"]
    ]
    for option, found in (("--lot", lots), ("--station", stations)):
        if not found:
            typed.refuse(Problem(file=option, hint=f"Say {option} once at least."))
    if not said["levels"]:
        typed.refuse(Problem(file="--levels", hint="Say the levels, e.g. --levels '3, 4.5, 6'."))
    kind = said["kind"]
    levels = typed.read("--levels", said["levels"] or None, lambda text: _levels(text, kind))
    numbers = {
        key: typed.read(f"--{key}", said[key], whole(least, 10**6))
        for key, least in (("trays", 1), ("plants", 1), ("seed", 0))
    }
    days = typed.read("--measure-on", said["measure_on"], _days)
    wanted = typed.read("--difference", said["difference"], _percent)
    typed.done()
    asked = TrialPlan(
        name=name, kind=kind, lots=tuple(filter(None, lots)), levels=levels or (),
        trays=numbers["trays"] or 1, plants=numbers["plants"] or 1, measure_on=days or (),
        seed=numbers["seed"] or 0,
    )  # fmt: skip
    return asked, [one for one in stations if one], wanted


def _levels(text: str, kind: str) -> tuple[float | str, ...]:
    parts = [part.strip() for part in text.split(",")]
    found = [number if (number := parse_bare_number(part)) is not None else part for part in parts]
    if kind == LIGHT and not all(isinstance(one, float) and 0 < one <= 80 for one in found):
        raise ValueError("levels of light in mol a day, from 0 to 80, with commas: 3, 4.5, 6")
    if len(set(found)) < 2 or len(set(found)) < len(found):
        raise ValueError("two different levels at least; a plateau needs five")
    return tuple(found)


def _days(text: str) -> tuple[int, ...]:
    return tuple(
        whole(1, 365, "days after half emergence")(part.strip()) for part in text.split(",")
    )


def _percent(text: str) -> float:
    found = parse_bare_number(text.removesuffix("%"))
    if found is None or not 0 < found <= 1000:
        raise ValueError("a difference in percent of the height, e.g. 15")
    return found


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

    Example: seedstart trial show cress-light --season sample_season --csv
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
        show_csv(CSV_HEAD, _rows(result))
    elif json_:
        show_json(_as_json(result))
    elif any(tray.plants or tray.dead for tray in result.trays):
        show(result_lines(result, width()))
    else:
        show([plain(title(result.trial))])
        show(place_lines(result.trial.places, result.trial, opened.plan.units))
        show([plain(text) for text in result.remarks])


def _result(opened: OpenSeason, name: str, age: str | None) -> TrialResult:
    trials = opened.plan.trials
    chosen = next((one for one in trials if folded(one.name) == folded(name)), None)
    if chosen is None:
        names = tuple(one.name for one in trials)
        raise BadInputError([Problem(file="NAME", found=name, allowed=names)])
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


def _rows(result: TrialResult) -> Iterator[tuple[object, ...]]:
    for tray in result.trays:
        for number, plant in enumerate(tray.plants, 1):
            yield (
                result.trial.name, tray.place.lot, tray.place.level, tray.place.tray, tray.sowing,
                tray.on, None if tray.age_days is None else round(tray.age_days, 2),
                None if tray.dose_mol is None else round(tray.dose_mol, 3), tray.dose_basis,
                number, plant.height_mm, plant.diameter_mm, round(plant.quotient, 4),
            )  # fmt: skip


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
