"""A seed library: tests planned, begun in the round, counted, closed, and what they say."""

import json
from pathlib import Path
from typing import Any

import pytest

from runner import run

LIBRARY = """
title = "Seed library (invented)"
timezone = "Europe/Vienna"

[[station]]
name = "cupboard"
kind = "cabinet"
expected = "20C"

[[station]]
name = "cold box"
kind = "fridge"
"""


@pytest.fixture
def library(tmp_path: Path) -> list[str]:
    """A season without frost, wants or benches."""
    (tmp_path / "season.toml").write_text(LIBRARY)
    (tmp_path / "lots.toml").write_text(
        '[[lot]]\nname = "onion-red"\ncrop = "onion"\n\n[[lot]]\nname = "leek"\ncrop = "leek"\n'
    )
    return ["--season", str(tmp_path)]


def ok(*args: str) -> str:
    result = run(*args)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def plan(library: list[str], *more: str) -> None:
    days = ["--first-count", "6", "--last-count", "12", "--grow-out-below", "60%"]
    ok("test", "plan", "spring", "--lot", "onion-red", *days, *more, *library)


def checks(library: list[str], day: str) -> list[Any]:
    found = json.loads(ok("round", "--json", *library, "--on", day))
    return [one for one in found if "spring" in one["says"]]


def closed(library: list[str], normals: tuple[int, ...], seeds: int = 50) -> None:
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    for number, normal in enumerate(normals, 1):
        first = str(normal // 2)
        name = f"spring {number}"
        ok("log", "counted", name, "--new", first, *library, "--on", "2027-03-07")
        rest = ["--new", str(normal - normal // 2), "--final", "--dead", str(seeds - normal)]
        ok("log", "counted", name, *rest, *library, "--on", "2027-03-13")


def test_a_test_is_asked_for_begun_counted_and_closed_on_its_own_days(library: list[str]) -> None:
    plan(library, "--station", "cupboard")
    (begin,) = checks(library, "2027-03-01")
    assert begin["says"] == "begin the test spring: 4 × 50 seeds of onion-red on paper, cupboard"
    ok("round", "--tick", begin["check"], *library, "--on", "2027-03-01")
    asked = {day: {one["what"] for one in checks(library, f"2027-03-{day:02}")}
             for day in (2, 5, 6, 7, 12, 13)}  # fmt: skip
    assert not any("sow" in what for what in asked.values())
    assert [day for day, what in asked.items() if "look" in what] == [7, 12]
    assert [day for day, what in asked.items() if "close" in what] == [13]


def test_a_closed_test_gives_advice_and_sets_the_seeds_of_its_lot(library: list[str]) -> None:
    plan(library, "--station", "cupboard")
    before = ok(
        "sowing-rate", "onion-red", "--plants", "12", "--json", *library, "--on", "2027-03-01"
    )
    closed(library, (19, 17, 20, 14))
    page = " ".join(ok("test", "show", *library, "--on", "2027-03-13").split())
    assert "70 of 200 35 (29–42) 60, 70 grow out for fresh seed" in page
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-13"))
    assert (found["normal"], found["seeds"], found["verdict"]) == (
        70,
        200,
        "grow out for fresh seed",
    )
    sheet = " ".join(ok("test", "show", "spring", *library, "--on", "2027-03-13").split())
    assert "Replicates 38 34 40 28 in 100: no more apart than chance would put them" in sheet
    assert "Printed tolerances are for 4 × 100; none applies" in sheet
    assert "7 CFR 201.31" in sheet
    after = ok(
        "sowing-rate", "onion-red", "--plants", "12", "--json", *library, "--on", "2027-03-14"
    )
    assert json.loads(after)["seeds"] > json.loads(before)["seeds"]
    assert "70 of 200 came up in your test" in json.loads(after)["rests_on"]


def test_good_seed_is_good_and_few_seeds_do_not_tell(library: list[str]) -> None:
    plan(library)
    closed(library, (46, 47, 45, 48))
    assert "good" in ok("test", "show", *library, "--on", "2027-03-13")
    small = ["--replicates", "1", "--seeds", "20", "--first-count", "6", "--last-count", "12"]
    ok("test", "plan", "small", "--lot", "leek", *small, *library)
    ok("round", "--tick", "test small leek", *library, "--on", "2027-03-01")
    end = ["--final", "--normal", "14", "--dead", "6"]
    ok("log", "counted", "small 1", "14", *end, *library, "--on", "2027-03-13")
    (found,) = json.loads(ok("test", "show", "leek", "--json", *library, "--on", "2027-03-13"))
    assert found["verdict"] == "test again"


def test_replicates_too_far_apart_are_tested_again(library: list[str]) -> None:
    plan(library)
    closed(library, (46, 47, 20, 48))
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-13"))
    assert (found["verdict"], found["why"]) == ("test again", "its replicates lie too far apart")


def test_days_count_from_the_end_of_the_cold(library: list[str]) -> None:
    plan(library, "--prechill", "7 days", "--replicates", "1")
    (begin,) = checks(library, "2027-03-01")
    assert "cold box" in begin["says"]
    ok("round", "--tick", begin["check"], *library, "--on", "2027-03-01")
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-05"))
    assert (found["state"], found["day"]) == ("in the cold", None)
    ok("log", "moved", "spring 1", "cupboard", *library, "--on", "2027-03-08")
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-14"))
    assert (found["state"], found["day"]) == ("being counted", 6)


def test_categories_that_do_not_add_up_are_refused_and_nothing_is_written(
    library: list[str],
) -> None:
    plan(library, "--replicates", "1")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    ok("log", "counted", "spring 1", "--new", "14", *library, "--on", "2027-03-07")
    ends = ["--new", "5", "--final", "--abnormal", "2", "--hard", "3", "--fresh", "4"]
    result = run(
        "log", "counted", "spring 1", *ends, "--dead", "20", *library, "--on", "2027-03-13"
    )
    assert result.exit_code == 2
    assert "50 were sown, 19 taken out as they were counted: 31 are left" in result.stderr
    ok("log", "counted", "spring 1", *ends, "--dead", "22", *library, "--on", "2027-03-13")
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-13"))
    (one,) = found["replicates"]
    assert [one[key] for key in ("normal", "abnormal", "hard", "fresh", "dead")] == [
        19,
        2,
        3,
        4,
        22,
    ]


def test_sprouted_seed_set_into_medium_counts_plants_and_no_germination(library: list[str]) -> None:
    # 40 of 50 in the test, then 38 of the 40 stand in the tray: never 78 of 90
    plan(library, "--replicates", "1")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    ok("log", "counted", "spring 1", "40", *library, "--on", "2027-03-07")
    ok("log", "pricked-out", "spring 1", "40", "--into", "tray 1", *library, "--on", "2027-03-08")
    ok("log", "counted", "spring 1.1", "38", "--why", "broken", *library, "--on", "2027-03-20")
    end = ["--final", "--normal", "40", "--dead", "10"]
    ok("log", "counted", "spring 1", "0", *end, *library, "--on", "2027-03-13")
    found = json.loads(ok("lots", "onion-red", "--json", *library, "--on", "2027-03-21"))
    assert (found["seeds_sown"], found["emerged"], found["percent"]) == (50, 40, 80)


def test_a_test_of_the_lot_that_was_just_sown_is_among_them(library: list[str]) -> None:
    ok(
        "log",
        "sown",
        "leek",
        "20",
        "--purpose",
        "test",
        "--lies-on",
        "paper",
        *library,
        "--on",
        "2027-03-01",
    )
    ok("log", "counted", "leek", "--new", "17", *library, "--on", "2027-03-10")
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-10"))
    assert (found["test"], found["planned"], found["normal"], found["seeds"]) == (
        "leek",
        False,
        17,
        20,
    )


def test_a_test_that_is_none_is_refused_with_what_may_be_typed(library: list[str]) -> None:
    result = run("test", "plan", "x", "--lot", "leak", "--first-count", "6", *library)
    assert result.exit_code == 2
    assert "last_count" in result.stderr
    assert "Nearest: leek" in result.stderr
    plan(library)
    result = run("test", "show", "sprng", *library)
    assert result.exit_code == 2
    assert "Nearest: spring" in result.stderr


def test_a_test_is_counted_and_closed_in_the_round_in_a_few_words(library: list[str]) -> None:
    plan(library, "--replicates", "1", "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    ok("round", "--answer", "count spring 1", "14 new", *library, "--on", "2027-03-07")
    words = "5 new 2 abnormal 3 hard 4 fresh 22 dead"
    ok("round", "--answer", "close spring 1", words, *library, "--on", "2027-03-13")
    (found,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-13"))
    (one,) = found["replicates"]
    kinds = ("normal", "abnormal", "hard", "fresh", "dead")
    assert [one[key] for key in kinds] == [19, 2, 3, 4, 22]
    assert found["state"] == "closed"


def file_of(library: list[str]) -> Path:
    return Path(library[1]) / "trials" / "spring.toml"


def test_a_planned_test_is_changed_in_its_own_file_and_shown_first(library: list[str]) -> None:
    plan(library)
    before = file_of(library).read_text("utf-8")
    change = ("change", "test", "Spring", "--last-count", "14", "--without", "grow-out-below")
    shown = run(*change, "--preview", *library)
    assert "  now  last_count = 14\n" in shown.stdout
    assert "nothing is written" in shown.stderr
    assert file_of(library).read_text("utf-8") == before
    ok(*change, *library)
    assert file_of(library).read_text("utf-8") == before.replace("12", "14").replace(
        'grow_out_below = "60%"\n', ""
    )


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["spring"], "Say what is to change: --lot, --replicates"),
        (["sprin", "--seeds", "25"], "Nearest: spring"),
        (["spring", "--last-count", "5"], "before the first, day 6"),
        (["spring", "--lot", "onion-rd"], "Nearest: onion-red"),
        (["spring", "--seeds", "0", "--replicates", "x"], "replicates"),
        (["spring", "--without", "first-count"], "the day of the first count"),
        (["spring", "--without", "mark"], "grow-out-below"),
    ],
)
def test_a_wrong_change_of_a_test_is_refused_and_nothing_written(
    library: list[str], args: list[str], says: str
) -> None:
    plan(library)
    before = file_of(library).read_text("utf-8")
    result = run("change", "test", *args, *library)
    assert result.exit_code == 2
    assert says in result.stderr
    assert file_of(library).read_text("utf-8") == before


def test_once_begun_its_seeds_stand_as_sown_and_its_days_may_still_change(
    library: list[str],
) -> None:
    plan(library, "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    result = run("change", "test", "spring", "--seeds", "25", "--lot", "leek", *library)
    assert result.exit_code == 2
    assert "4 replicates were sown on 1 Mar, so it stays as it is" in result.stderr
    ok("change", "test", "spring", "--first-count", "8", *library)
    asked = {day: {one["what"] for one in checks(library, f"2027-03-{day:02}")} for day in (7, 9)}
    assert ["look" in what for what in asked.values()] == [False, True]


def test_a_dropped_test_asks_for_nothing_more_and_keeps_its_counts(library: list[str]) -> None:
    plan(library, "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    ok("log", "counted", "spring 1", "--new", "20", *library, "--on", "2027-03-07")
    refused = run("drop", "test", "spring", *library)
    assert refused.exit_code == 2
    assert "4 replicates were sown on 1 Mar: that stays" in refused.stderr
    assert "--sure" in refused.stderr
    assert file_of(library).exists()
    ok("drop", "test", "spring", "--sure", *library)
    assert not file_of(library).exists()
    (test,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-13"))
    assert (test["test"], test["planned"], test["normal"]) == ("spring", False, 20)


def test_paper_is_kept_moist_in_one_line_a_lot_and_never_felt_like_a_tray(
    library: list[str],
) -> None:
    plan(library, "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    (line,) = checks(library, "2027-03-02")
    assert (line["what"], line["check"]) == ("moisten", "moisten spring 2027-03-01")
    assert line["says"] == "spring: wet the paper where it is drying"
    ok("round", "--tick", line["check"], *library, "--on", "2027-03-02")
    assert [one["what"] for one in checks(library, "2027-03-02") if not one["done"]] == []
    (again,) = checks(library, "2027-03-03")
    ok("round", "--answer", again["check"], "moist", *library, "--on", "2027-03-03")
    assert [one["what"] for one in checks(library, "2027-03-04")] == ["moisten"]
    for number in range(1, 5):
        rest = ["--new", "40", "--final", "--dead", "10"]
        ok("log", "counted", f"spring {number}", *rest, *library, "--on", "2027-03-13")
    assert checks(library, "2027-03-14") == []


def test_agar_holds_its_own_water(library: list[str]) -> None:
    plan(library, "--lies-on", "agar", "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    assert checks(library, "2027-03-02") == []


def test_more_normal_than_seeds_is_a_wrong_count_and_no_percentage(library: list[str]) -> None:
    plan(library, "--station", "cupboard")
    ok("round", "--tick", "test spring onion-red", *library, "--on", "2027-03-01")
    ok("log", "counted", "spring 1", "--new", "60", *library, "--on", "2027-03-07")
    (test,) = json.loads(ok("test", "show", "--json", *library, "--on", "2027-03-07"))
    assert (test["percent"], test["percent_low"], test["verdict"]) == (None, None, None)
    (wrong,) = test["wrong"]
    assert wrong == "spring 1: 60 normal of 50 seeds cannot be; take the wrong count back."
    assert "a wrong count" in ok("test", "show", *library, "--on", "2027-03-07")
    page = " ".join(ok("test", "show", "spring", *library, "--on", "2027-03-07").split())
    assert f"! {wrong}" in page
    assert "in 100" not in page
