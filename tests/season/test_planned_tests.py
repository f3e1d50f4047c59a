"""trials/NAME.toml of kind germination test: read with every fault at once, written once."""

from typing import Any

import pytest

from seasons import HEAD, lot, season
from seedstart.problems import BadInputError
from seedstart.season.trials.planned_tests import (
    check_planned_test,
    planned_test_file,
    read_planned_tests,
)

PLAN = season(lot("onion-red", "onion") + lot("leek", "leek", was='["old leek"]'))
FULL = """
kind = "germination test"
lots = ["onion-red", "old leek"]
replicates = 4
seeds = 50
lies_on = "paper"
temperature = "30C day, 20C night"
light = "8 h"
prechill = "7 days"
station = "mat"
first_count = 6
last_count = 12
begin = 2027-01-10
grow_out_below = "60%"
"""


def read(text: str) -> Any:
    return read_planned_tests({"onion.toml": text.encode()}, PLAN)


def test_every_key_is_read_and_a_lot_is_found_by_its_former_name() -> None:
    (test,) = read(FULL)
    assert (test.name, test.lots) == ("onion", ("onion-red", "leek"))
    assert (test.replicates, test.seeds, test.prechill_days) == (4, 50, 7)
    assert (test.temperature.day_c, test.temperature.night_c) == (30, 20)
    assert (test.first_count, test.last_count, test.grow_out_below) == (6, 12, 60)
    assert test.sowing("leek", 2) == "onion leek 2"


def test_a_file_of_another_kind_is_none_of_these() -> None:
    assert read('kind = "light"\nlevels = [3.1]\n') == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [('kind = "germinaton test"\n', "Nearest: germination test"), ("seeds = 5\n", "missing")],
)
def test_a_kind_that_is_a_slip_or_missing_is_no_trial_of_another_kind(text: str, says: str) -> None:
    with pytest.raises(BadInputError, match=says):
        read(text)


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(BadInputError) as caught:
        read(
            'kind = "germination test"\nlots = ["onion-rde"]\nseeds = 0\nlies_on = "papr"\n'
            "first_count = 9\nlast_count = 5\nprechil = 3\n"
        )
    said = {problem.key: str(problem) for problem in caught.value.problems}
    assert said.keys() == {"lots[1]", "seeds", "lies_on", "last_count", "prechil"}
    assert "Nearest: onion-red" in said["lots[1]"]
    assert "trials/onion.toml, line 4, lies_on: found 'papr'" in said["lies_on"]
    assert "before the first, day 9" in said["last_count"]


def test_days_of_counting_and_lots_must_be_said() -> None:
    with pytest.raises(BadInputError) as caught:
        read('kind = "germination test"\n')
    assert {one.key for one in caught.value.problems} == {"lots", "first_count", "last_count"}


def test_what_the_program_writes_it_reads_again() -> None:
    keys: dict[str, Any] = {
        "lots": ["onion-red"], "first_count": 6, "last_count": 12, "seeds": 100, "prechill": None,
        "temperature": "20C",
    }  # fmt: skip
    test = check_planned_test("onion", keys, PLAN, (), file="test plan")
    assert read(planned_test_file(keys).decode()) == (test,)


@pytest.mark.parametrize(
    ("name", "says"), [("a/b", "name of a file"), ("Onion", "not overwritten")]
)
def test_a_name_that_no_file_can_bear_or_one_bears_is_refused(name: str, says: str) -> None:
    keys = {"lots": ["leek"], "first_count": 6, "last_count": 12}
    with pytest.raises(BadInputError, match=says):
        check_planned_test(name, keys, PLAN, ("onion",), file="test plan")


def test_a_season_without_frost_may_be_all_there_is() -> None:
    head = "\n".join(
        line for line in HEAD.split("\n") if line not in ("[frost]", "last = 2027-05-12")
    )
    plan = season(lot("onion-red", "onion"), head)
    assert plan.frost is None
    keys = {"lots": ["onion-red"], "first_count": 6, "last_count": 12}
    assert check_planned_test("x", keys, plan, (), file="test plan").lots == ("onion-red",)
