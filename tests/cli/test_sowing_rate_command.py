import json
from typing import Any

import pytest

from runner import run
from seedstart import disk
from tables import rows

SEASON = ["--season", str(disk.shipped("sample_season")), "--on", "2026-03-01"]


def told(*args: str) -> Any:
    result = run("sowing-rate", *args, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


# seed_count_decision_cases.csv: scipy's binomial and beta-binomial tails; Roy 1957 for cells.
CASES = [
    row
    for row in rows("seed_count_decision_cases.csv")
    if row["decision"] in {"sow_n_binomial", "seeds_per_cell_binomial"}
    or (row["decision"] in {"sow_n_betabinomial", "seeds_per_cell_betabinomial"}
        and (row["prior_a"], row["prior_b"]) == ("1", "1"))
]  # fmt: skip


@pytest.mark.parametrize("row", CASES[::3], ids=lambda row: f"{row['decision']} {row['answer']}")
def test_the_command_gives_the_tables_answer(row: dict[str, str]) -> None:
    known = (
        ["--germination", f"{100 * float(row['germination_point']):g}%"]
        if row["germination_point"]
        else ["--tested", f"{row['germ_test_y']} of {row['germ_test_n']}"]
    )
    if row["want_plants"]:
        chance = f"{100 * float(row['want_probability']):g}%"
        found = told("--plants", row["want_plants"], "--chance", chance, *known)
        answer, reached = found["seeds"], found["chance_percent"]
    else:
        empty = f"{100 * float(row['max_empty_probability']):g}%"
        found = told("--plants", "1", "--empty", empty, *known)
        answer, reached = found["seeds_a_cell"], found["empty_percent"]
    assert answer == int(row["answer"])
    assert reached == pytest.approx(100 * float(row["achieved"]), abs=1e-4)


def test_a_lot_is_reckoned_as_the_calendar_reckons_it() -> None:
    calendar = json.loads(run("calendar", "--json", *SEASON).stdout)
    by_lot = {row["lot"]: row["seeds"] for row in calendar if row["sowing"] is None}
    for lot in ("pepper-long", "tomato-plum"):
        assert told(lot, *SEASON)["seeds"] == by_lot[lot]


def test_seeds_that_fare_alike_in_a_cell_need_more_of_them() -> None:
    # seed_count_decision_cases.csv: 80 %, at most 1 in 100 empty: 3 a cell with rho .02, 4 with .1
    some = ["--plants", "72", "--germination", "80%", "--empty", "1%"]
    answers = [told(*some, "--alike", alike)["seeds_a_cell"] for alike in ("0.02", "0.1")]
    assert answers == [3, 4]


def test_cells_trays_and_packets_are_counted_in_whole_ones() -> None:
    found = told(
        "--plants", "72", "--germination", "90%", "--chance", "95", "--in-cells",
        "--container", "tray of 72", "--packet", "50",
    )  # fmt: skip
    assert (found["seeds"], found["seeds_in_all"]) == (85, 144)
    assert (found["trays"], found["packets"]) == (1, 3)
    assert found["plants_over_germination"] == 80


@pytest.mark.parametrize(
    ("args", "says"),
    [
        ([], "Name a LOT"),
        (["--plants", "0", "--germination", "90%"], "whole number"),
        (["--plants", "12", "--germination", "0%"], "of none there are no plants"),
        (["--plants", "12", "--tested", "21 of 20"], "17 of 20"),
        (["--plants", "12", "--germination", "90%", "--tested", "1 of 2"], "One of a LOT"),
        (["--plants", "12", "--germination", "0.000001%"], "No answer"),
        (["--plants", "2", "--germination", "90%", "--container", "tray of 73"], "tray of 72"),
        (["--plants", "2", "--germination", "90%", "--alike", "1"], "correlation"),
    ],
)
def test_what_gives_no_answer_is_refused_with_what_may_be_typed(args: list[str], says: str) -> None:
    result = run("sowing-rate", *args)
    assert result.exit_code == 2
    assert says in result.stderr


def test_a_lot_where_nothing_comes_up_gets_no_number() -> None:
    result = run("sowing-rate", "pepper-lantern", *SEASON)
    assert result.exit_code == 2
    assert "nothing comes up there" in result.stderr
