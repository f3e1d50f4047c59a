"""trials/NAME.toml of a trial ⇄ its plan."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from seedstart.problems import BadInputError, Problem
from seedstart.season.plan.checked import Fault, Table, placed_with
from seedstart.season.plan.names import Names, a_name
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.toml_blocks import inline
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.plan.typed_values import (
    RefusedError,
    between,
    day,
    full_text,
    number,
    quantity,
    text,
    whole,
)
from seedstart.season.trials.trial_plan import LIGHT, TRIALS_FOLDER, TrialPlace, TrialPlan
from seedstart.units import Units, parse_length

TEST_KIND: Final = "germination test"  # read elsewhere: no trial of treatments
MOST_MOL: Final = 80.0


def read_trials(files: Mapping[str, bytes], season: Season) -> tuple[TrialPlan, ...]:
    """The trials among the files of trials/; germination tests are passed over.

    Args:
        files: Their bytes, by the file's name.
        season: What they may name.

    Raises:
        BadInputError: Everything wrong in all of them.
    """
    found: list[TrialPlan] = []
    problems: list[Problem] = []
    for file, data in files.items():
        try:
            trial = read_trial(data, file.removesuffix(".toml"), season)
        except BadInputError as error:
            problems += error.problems
            continue
        if trial is not None:
            found.append(trial)
    if problems:
        raise BadInputError(problems)
    return tuple(found)


def read_trial(data: bytes, name: str, season: Season) -> TrialPlan | None:
    """A trial from its file; None of a germination test.

    Args:
        data: What stands in trials/NAME.toml.
        name: NAME.
        season: What it may name.

    Raises:
        BadInputError: Everything wrong in it, with key and line.
    """
    file = f"{TRIALS_FOLDER}/{name}.toml"
    parsed = parse_toml(data, file)
    if parsed.values.get("kind") == TEST_KIND:
        return None
    faults: list[Fault] = []
    trial = _trial(Table(parsed.values, faults), name, season)
    problems = placed_with(parsed, faults, file)
    if problems:
        raise BadInputError(problems)
    return trial


def _trial(table: Table, name: str, season: Season) -> TrialPlan:
    lots, stations = Names(season.lots), Names(season.stations)
    kind = table.need("kind", full_text, LIGHT, what='"light", or the treatment in a word')
    named = table.take_list("lots", _known(lots, "lots"))
    levels = table.take_list("levels", _level(kind))
    if not named and not table.refused("lots"):
        table.refuse("lots", hint="It is missing: the lots that are sown.")
    if len(set(levels)) < 2 and not table.refused("levels"):
        table.refuse("levels", hint="A trial compares two levels at least; a plateau needs five.")
    trial = TrialPlan(
        name=name,
        kind=kind,
        lots=named,
        levels=levels,
        trays=table.take("trays", whole(1, 100), 1),
        plants=table.take("plants", whole(1, 1000), 8),
        measure_on=table.take_list("measure_on", whole(1, 365)),
        lies_on=table.take("lies_on", text, "medium"),
        seed=table.take("seed", whole(0, 10**9), 0),
        begin=table.take("begin", day, None),
        title=table.take("title", full_text, ""),
    )
    places = [
        _place(place, trial, lots, stations, season.units)
        for place in table.tables("places", "places = [{ … }]")
    ]
    table.close()
    return TrialPlan(**{**_keys(trial), "places": tuple(places)})


def _keys(trial: TrialPlan) -> dict[str, Any]:
    return {key: getattr(trial, key) for key in trial.__struct_fields__}


def _place(
    table: Table, trial: TrialPlan, lots: Names, stations: Names, units: Units
) -> TrialPlace:
    metres = between(quantity(parse_length, units), 0, 20, "a length from 0 to 20 m")

    def millimetres(key: str) -> float | None:
        found = table.take(key, metres, None)
        return None if found is None else round(found * 1000, 1)

    only = trial.lots[0] if len(trial.lots) == 1 else ""
    tray = table.need("tray", a_name, "", what="the name of the tray")
    level = table.need("level", _one_of_levels(trial), 0.0, what="one of the levels")
    lot = table.take("lot", _known(lots, "lots"), only)
    if not lot and not table.refused("lot"):
        table.refuse("lot", hint="It is missing: which of the lots is sown in this tray.")
    return TrialPlace(
        tray=tray,
        level=level,
        lot=lot,
        station=table.need("station", _known(stations, "season.toml"), "", what="where it stands"),
        height_mm=millimetres("height"),
        from_left_mm=millimetres("from_left"),
        from_front_mm=millimetres("from_front"),
    )


def _known(names: Names, listed_by: str) -> Any:  # noqa: ANN401 - a reader
    def read(value: object) -> str:
        found = names.find(value) if isinstance(value, str) else None
        if found is None:
            raise RefusedError(allowed=names.current, listed_by=listed_by)
        return found

    return read


def _level(kind: str) -> Any:  # noqa: ANN401 - a reader
    mol = number(0, MOST_MOL, "mol of light a day")

    def read(value: object) -> float | str:
        if kind == LIGHT:
            return mol(value)
        return full_text(value) if isinstance(value, str) else number(-1e6, 1e6)(value)

    return read


def _one_of_levels(trial: TrialPlan) -> Any:  # noqa: ANN401 - a reader
    def read(value: object) -> float | str:
        found = float(value) if isinstance(value, int | float) else value
        for level in trial.levels:
            if level == found:
                return level
        raise RefusedError(allowed=tuple(f"{level:g}" if isinstance(level, float) else level
                                         for level in trial.levels))  # fmt: skip

    return read


def write_trial(trial: TrialPlan) -> bytes:
    """The file of a trial, a place a line: written once, and yours from then on."""
    if_given = {"title": trial.title or None, "begin": trial.begin}
    keys: dict[str, object] = {
        **{key: value for key, value in if_given.items() if value is not None},
        "kind": trial.kind, "lots": list(trial.lots), "levels": list(trial.levels),
        "trays": trial.trays, "plants": trial.plants, "measure_on": list(trial.measure_on),
        "lies_on": trial.lies_on, "seed": trial.seed,
    }  # fmt: skip
    meanings = {"trays": "a level", "plants": "a tray", "measure_on": "days after half emergence",
                "seed": "of the draw of places", "begin": "sown on this day"}  # fmt: skip
    if trial.of_light:
        meanings["levels"] = "mol a day at the leaf"
    lines = [
        f"{key} = {inline(value)}{f'  # {meanings[key]}' if key in meanings else ''}"
        for key, value in keys.items()
    ]
    places = "".join(f"  {inline(_place_keys(place))},\n" for place in trial.places)
    return "\n".join([*lines, f"places = [\n{places}]\n"]).encode()


def _place_keys(place: TrialPlace) -> Mapping[str, object]:
    def length(mm: float | None) -> str | None:
        return None if mm is None else f"{mm / 10:g} cm"

    return {
        "tray": place.tray, "level": place.level, "lot": place.lot, "station": place.station,
        "height": length(place.height_mm), "from_left": length(place.from_left_mm),
        "from_front": length(place.from_front_mm),
    }  # fmt: skip


def wrong_trial_name(name: str, taken: Sequence[str], *, file: str = "NAME") -> Problem | None:
    """Why a trial cannot be called so; it is the name of a file."""
    if not name or any(sign in name for sign in '/\\:*?"<>|\n') or name.startswith("."):
        hint = "A name that a file can have: letters, digits, - and _."
        return Problem(file=file, found=name, hint=hint)
    if name.casefold() in {one.casefold() for one in taken}:
        return Problem(file=file, found=name, hint="There is a trial of this name.")
    return None
