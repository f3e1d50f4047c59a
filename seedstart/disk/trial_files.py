"""trials/NAME.toml: read, and written once."""

from pathlib import Path

from seedstart.disk.outcome import Written
from seedstart.disk.reading import in_season, names_in, read
from seedstart.disk.writing import write_new
from seedstart.problems import BadInputError, Problem
from seedstart.season.light_trial import TRIALS_FOLDER, TrialPlan, read_trial, write_trial
from seedstart.season.plan import Season

_SUFFIX = ".toml"


def trial_names(folder: Path) -> tuple[str, ...]:
    """The trials and tests of a season, by the names of their files."""
    return tuple(name.removesuffix(_SUFFIX) for name in names_in(folder / TRIALS_FOLDER, _SUFFIX))


def read_trials(folder: Path, season: Season) -> tuple[dict[str, TrialPlan], list[Problem]]:
    """The trials of a season's folder that can be read, and what is wrong in the others."""
    found: dict[str, TrialPlan] = {}
    problems: list[Problem] = []
    try:
        names = trial_names(folder)
    except BadInputError as error:
        return found, in_season(error, TRIALS_FOLDER)
    for name in names:
        path = folder / TRIALS_FOLDER / f"{name}{_SUFFIX}"
        try:
            trial = read_trial(read(path), name, season)
        except BadInputError as error:
            problems += error.problems
            continue
        if trial is not None:
            found[name] = trial
    return found, problems


def write_trial_file(folder: Path, trial: TrialPlan) -> Written:
    """Write a new trial's file.

    Raises:
        BadInputError: There is one of this name.
        NotRecorded: The disk refused; nothing was written.
        PerhapsRecorded: It failed so that nobody knows.
    """
    return write_new(folder / TRIALS_FOLDER / f"{trial.name}{_SUFFIX}", write_trial(trial))
