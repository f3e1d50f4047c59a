"""A trial that is asked for in texts: by options of a command, or by the fields of a form."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final, NamedTuple

from seedstart.days import parse_day
from seedstart.problems import Problem, Typed
from seedstart.season.plan.names import Names, find_name
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.toml_edits import set_keys
from seedstart.season.plan.typed_values import parse_bare_number, whole
from seedstart.season.trials.light_trial import MOST_MOL, read_trial, wrong_trial_name
from seedstart.season.trials.trial_plan import LIGHT, TRIALS_FOLDER, TrialPlan

# What holds where nothing is said. The seed of the draw may be any number.
USUAL = {"kind": LIGHT, "trays": "2", "plants": "8", "measure_on": "21", "seed": "4711"}
_MOST = {"trays": 100, "plants": 1000, "seed": 10**9}


class TrialRequest(NamedTuple):
    """A trial without its places.

    Attributes:
        trial: What is tried.
        stations: Where its trays are to stand.
        wanted_percent: The difference in height that it is to show; None where none is named.
    """

    trial: TrialPlan
    stations: tuple[str, ...]
    wanted_percent: float | None


def read_request(
    typed: Typed,
    name: str,
    texts: Mapping[str, str],
    lots: Sequence[str],
    stations: Sequence[str],
    plan: Season,
    taken: Sequence[str] = (),
    called: Callable[[str], str] = str,
) -> TrialRequest:
    """Read it, with everything that is wrong in it.

    Args:
        typed: Keeps what is wrong.
        name: What the trial is called.
        texts: `levels`, `kind`, `trays`, `plants`, `measure_on`, `difference`, `seed`,
            `begin`, `title`.
        lots: The varieties.
        stations: Where its trays are to stand.
        plan: The season.
        taken: Names that other trials and tests have.
        called: A key → what the grower calls it.

    Raises:
        BadInputError: Everything wrong in it.
    """
    filled = {**USUAL, **{key: text for key, text in texts.items() if text}}
    wrong = wrong_trial_name(name, taken, file=called("name"))
    if wrong is not None:
        typed.refuse(wrong)
    known_lots, known_stations = Names(plan.lots), Names(plan.stations)
    found_lots = [
        typed.take(find_name(lot, known_lots, file=called("lots"), lists="lots")) for lot in lots
    ]
    found_stations = [
        typed.take(find_name(station, known_stations, file=called("stations"), lists="season.toml"))
        for station in stations
    ]
    for key, what, found in (("lots", "lot", lots), ("stations", "station", stations)):
        if not found:
            typed.refuse(Problem(file=called(key), hint=f"It is missing: a {what}."))
    if "levels" not in filled:
        hint = "It is missing: the levels, e.g. 3, 4.5, 6, 8, 10."
        typed.refuse(Problem(file=called("levels"), hint=hint))
    levels = typed.read(
        called("levels"), filled.get("levels"), lambda text: _levels(text, filled["kind"])
    )
    numbers = {
        key: typed.read(called(key), filled[key], whole(0 if key == "seed" else 1, most))
        for key, most in _MOST.items()
    }
    days = typed.read(called("measure_on"), filled["measure_on"], _days)
    begin = typed.read(called("begin"), filled.get("begin"), parse_day)
    wanted = typed.read(called("difference"), filled.get("difference"), _percent)
    typed.done()
    trial = TrialPlan(
        name=name, kind=filled["kind"], lots=tuple(lot for lot in found_lots if lot),
        levels=levels or (), trays=numbers["trays"] or 1, plants=numbers["plants"] or 1,
        measure_on=days or (), seed=numbers["seed"] or 0,
        begin=begin, title=filled.get("title", ""),
    )  # fmt: skip
    return TrialRequest(trial, tuple(station for station in found_stations if station), wanted)


# What may change of a planned trial; what is sown is drawn once.
CHANGES: Final = ("title", "measure_on", "plants", "begin")


def read_changes(
    typed: Typed, said: Mapping[str, str | None], called: Callable[[str], str] = str
) -> dict[str, object]:
    """New values of a trial's file, from texts by key; None takes a key out.

    Args:
        typed: Keeps what is wrong.
        said: Of the keys in `CHANGES`.
        called: A key → what the grower calls it.

    Raises:
        BadInputError: Everything wrong in them.
    """
    reads: dict[str, Callable[[str], object]] = {
        "title": str, "measure_on": lambda text: list(_days(text)),
        "plants": whole(1, _MOST["plants"]), "begin": parse_day,
    }  # fmt: skip
    found = {key: typed.read(called(key), text, reads[key]) for key, text in said.items()}
    typed.done()
    return found


def changed_trial(old: bytes, name: str, keys: Mapping[str, object], season: Season) -> bytes:
    """The file of a trial with other values under some of its keys; its comments stay.

    Args:
        old: The file as it is.
        name: Of the trial.
        keys: Keys and their new values; None takes a key out.
        season: Which it comes into.

    Raises:
        BadInputError: Everything wrong in what it would be.
    """
    new = set_keys(old, f"{TRIALS_FOLDER}/{name}.toml", (), keys)
    read_trial(new, name, season)
    return new


def _levels(text: str, kind: str) -> tuple[float | str, ...]:
    parts = [part.strip() for part in text.split(",")]
    found = [number if (number := parse_bare_number(part)) is not None else part for part in parts]
    if kind == LIGHT and not all(isinstance(one, float) and 0 < one <= MOST_MOL for one in found):
        raise ValueError("levels of light in mol a day, from 0 to 80, with commas: 3, 4.5, 6")
    if "" in found or len(set(found)) < 2 or len(set(found)) < len(found):
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
