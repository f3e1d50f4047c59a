"""Planned germination tests: trials/NAME.toml of kind germination test, bytes ⇄ values.

Files of other kinds in that folder are not read here.
"""

from collections.abc import Iterable, Mapping
from typing import Any, Final, get_args

from seedstart.problems import BadInputError, Problem, nearest_word
from seedstart.season.plan.checked import Fault, Table, key_of, placed_with
from seedstart.season.plan.lot import cold_days, percent
from seedstart.season.plan.names import Names, wrong_name
from seedstart.season.plan.season_file import Season
from seedstart.season.plan.toml_blocks import lines
from seedstart.season.plan.toml_edits import set_keys
from seedstart.season.plan.toml_text import parse_toml
from seedstart.season.plan.typed_values import (
    RefusedError,
    day,
    full_text,
    one_of,
    parse_bare_number,
    quantity,
    text,
    whole,
)
from seedstart.season.trials.planned_test import LiesOn, PlannedTest
from seedstart.text import folded
from seedstart.units import parse_temperatures

TRIALS_FOLDER: Final = "trials"
GERMINATION_TEST: Final = "germination test"
_LONGEST_DAYS: Final = 366
# The order in which the program writes them.
TEST_KEYS: Final = (
    "lots", "replicates", "seeds", "lies_on", "temperature", "light", "prechill", "station",
    "first_count", "last_count", "begin", "grow_out_below",
)  # fmt: skip


def read_planned_tests(files: Mapping[str, bytes], season: Season) -> tuple[PlannedTest, ...]:
    """The germination tests among the files of trials/.

    Args:
        files: Their bytes, by the file's name.
        season: With the lots and stations that they may name.

    Raises:
        BadInputError: Everything wrong in all of them.
    """
    found, problems = [], []
    for file, data in files.items():
        test, wrong = _read_one(file, data, season)
        problems += wrong
        if test is not None:
            found.append(test)
    if problems:
        raise BadInputError(problems)
    return tuple(found)


def _read_one(name: str, data: bytes, season: Season) -> tuple[PlannedTest | None, list[Problem]]:
    file = f"{TRIALS_FOLDER}/{name}"
    try:
        parsed = parse_toml(data, file)
    except BadInputError as error:
        return None, list(error.problems)
    kind = parsed.values.get("kind")
    if not isinstance(kind, str) or not folded(kind):
        hint = f"It is missing: {GERMINATION_TEST}, or what else is tried, in a word."
        return None, [Problem(file=file, key="kind", hint=hint)]
    if folded(kind) != GERMINATION_TEST:
        # Any other word is a treatment; a slip of the pen is none.
        slip = nearest_word(kind, (GERMINATION_TEST,)) is not None
        wrong = Problem(file=file, key="kind", found=kind, allowed=(GERMINATION_TEST,))
        return None, [wrong] if slip else []
    faults: list[Fault] = []
    table = Table({key: one for key, one in parsed.values.items() if key != "kind"}, faults)
    test = read_planned_test(table, name.removesuffix(".toml"), season)
    return test, placed_with(parsed, faults, file)


def read_planned_test(table: Table, name: str, season: Season) -> PlannedTest:
    """A test of a table of keys; its faults go where the table puts them."""
    stations = Names(season.stations)
    lots = table.take_list("lots", _among(Names(season.lots), "lots.toml"))
    if not lots and not table.refused("lots"):
        table.refuse("lots", hint="It is missing: the lots that are tested, as a list.")
    count = whole(1, _LONGEST_DAYS, "days")
    first = table.need("first_count", count, 1, what="the day of the first count")
    last = table.need("last_count", count, 1, what="the day of the last count")
    if last < first and not (table.refused("first_count") or table.refused("last_count")):
        table.refuse("last_count", found=str(last), hint=f"It lies before the first, day {first}.")
    test = PlannedTest(
        name=name,
        lots=tuple(dict.fromkeys(lots)),
        replicates=table.take("replicates", whole(1, 100), 4),
        seeds=table.take("seeds", whole(1, 10_000), 50),
        lies_on=table.take("lies_on", one_of(get_args(LiesOn)), "paper"),
        temperature=table.take("temperature", quantity(parse_temperatures, season.units), None),
        light=table.take("light", text, ""),
        prechill_days=int(table.take("prechill", cold_days, 0.0)),
        station=table.take("station", _among(stations, "season.toml"), None),
        first_count=first,
        last_count=last,
        begin=table.take("begin", day, None),
        grow_out_below=table.take("grow_out_below", percent, None),
    )
    table.close()
    return test


def _among(names: Names, listed_by: str) -> Any:  # noqa: ANN401
    def read(value: object) -> str:
        found = names.find(full_text(value))
        if found is None:
            raise RefusedError(allowed=names.current, listed_by=listed_by)
        return found

    return read


def check_planned_test(
    name: str, keys: Mapping[str, Any], season: Season, taken: Iterable[str], *, file: str
) -> PlannedTest:
    """A test from the keys that options or a form gave, as its file would be read.

    Args:
        name: What it is to be called: the file's name without its ending.
        keys: Keys of the file and their values; those left out are None.
        season: Where it comes into.
        taken: Names that trials have.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in it.
    """
    faults: list[Fault] = []
    table = Table({key: value for key, value in keys.items() if value is not None}, faults)
    test = read_planned_test(table, name, season)
    wrong = [fault.as_problem(file, key_of(fault.path)) for fault in faults]
    if why := _wrong_file_name(name):
        wrong.append(Problem(file=file, key="name", found=name, hint=why))
    elif folded(name) in map(folded, taken):
        hint = "There is a trial of this name: its plan is not overwritten."
        wrong.append(Problem(file=file, key="name", found=name, hint=hint))
    if wrong:
        raise BadInputError(wrong)
    return test


def _wrong_file_name(name: str) -> str | None:
    if set(name) & set('/\\:*?"<>|#') or name.startswith("."):
        return 'A name of a file: without / \\ : * ? " < > | # and no dot in front.'
    return wrong_name(name)


# What cannot be otherwise once seed was sown for it.
AS_SOWN: Final = ("lots", "replicates", "seeds", "lies_on", "prechill", "begin")


def changed_test(
    old: bytes, name: str, keys: Mapping[str, Any], season: Season, *, file: str
) -> bytes:
    """The file of a test with other values under some of its keys; its comments stay.

    Args:
        old: The file as it is.
        name: Of the test.
        keys: Keys and their new values; None takes a key out.
        season: Which it comes into.
        file: What the grower calls the place where they were typed.

    Raises:
        BadInputError: Everything wrong in what it would be.
    """
    path = path_of_test(name)
    stands = {key: one for key, one in parse_toml(old, path).values.items() if key != "kind"}
    check_planned_test(name, {**stands, **keys}, season, (), file=file)
    return set_keys(old, path, (), keys)


def path_of_test(name: str) -> str:
    """Its file, inside the season's folder."""
    return f"{TRIALS_FOLDER}/{name}.toml"


def test_value(key: str, text: str) -> object:
    """A value of the file as it was typed: lots parted by commas, counts as numbers."""
    if key == "lots":
        return [part.strip() for part in text.split(",") if part.strip()]
    found = parse_bare_number(text) if key in _COUNTS else None
    return text if found is None or not found.is_integer() else int(found)


_COUNTS: Final = frozenset({"replicates", "seeds", "first_count", "last_count"})


def planned_test_file(keys: Mapping[str, Any]) -> bytes:
    """The file of a test, its keys checked before (`check_planned_test`)."""
    in_order = {key: keys[key] for key in TEST_KEYS if keys.get(key) is not None}
    return lines({"kind": GERMINATION_TEST, **in_order}).encode()
