"""`seedstart harden`: the table, one in full, JSON, and what it costs to start."""

import shutil
from pathlib import Path

import pytest

from runner import modules_after, refused, run, run_json
from seedstart import disk

SAMPLE = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-10"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))


def test_the_sowing_that_was_out_twice_is_at_its_third_step() -> None:
    # tests/sample/sample_story.py: two and three hours on 8 and 9 April.
    (one,) = (one for one in run_json("harden", *SAMPLE) if one["sowing"] == "cabbage-early.1")
    assert (one["step"], one["of"], one["hours"], one["today"]) == (3, 10, 4.0, "out")
    # Eight days are left; by the forecast the 12th is lost and the 13th counts half: ready on the
    # 20th, and Wednesday the 22nd is the next work day.
    assert one["set_out"]["best"] == "2026-04-22"
    assert (one["verdict"], one["till"]) == ("wait", "2026-04-20")


def test_the_keys_are_those_of_the_page_and_no_more() -> None:
    keys = {
        "sowing",
        "step",
        "of",
        "hours",
        "today",
        "why",
        "set_out",
        "verdict",
        "waits_for",
        "till",
    }
    assert all(set(one) == keys for one in run_json("harden", *SAMPLE))


def test_what_holds_for_several_is_said_once(folder: Path) -> None:
    (folder / "weather" / "forecast.csv").unlink()
    (folder / "weather" / "yard.csv").unlink()
    printed = run("harden", "--season", str(folder), "--on", "2026-04-20").stdout
    # Once of those whose night is out, once of the rest.
    assert " ".join(printed.split()).count("No forecast for today") == 2
    assert "cabbage-early.1, broccoli.1 and broccoli.2: No forecast for today" in printed
    assert "Against setting out today" in printed
    assert "log forecast 2026-04-20" in printed
    assert all(len(line) <= 80 for line in printed.splitlines())


def test_a_forecast_written_down_judges_the_day(folder: Path) -> None:
    place = ["--season", str(folder), "--on", "2026-04-10"]
    run("log", "forecast", "2026-04-10", "--tmin", "5C", "--tmax", "14C", "--wind", "2", *place)
    assert {one["today"] for one in run_json("harden", *place)} == {"out"}


def test_a_day_kept_in_is_told_with_its_reason(folder: Path) -> None:
    place = ["--season", str(folder)]
    run("log", "held", "cabbage-early.1", "--why", "hail", "--on", "2026-04-10", *place)
    printed = run("harden", *place, "--on", "2026-04-11").stdout
    assert "10 Apr kept in (hail)" in printed
    assert "12 Apr to be kept in by the forecast" in printed


def test_one_sowing_is_told_in_full_with_its_sources() -> None:
    printed = run("harden", "Cabbage-early.1", *SAMPLE).stdout
    assert printed.startswith("cabbage-early.1: step 3 of 10")
    assert "University of Maryland Extension" in printed
    assert "pea-shoot" not in printed


def test_a_name_that_is_not_hardened_off_is_refused_with_the_nearest() -> None:
    said = refused("harden", "cabage-early.1", *SAMPLE)
    assert "Nearest: cabbage-early.1" in said


def test_the_first_of_march_has_nothing_to_harden_off() -> None:
    season = ["--season", str(disk.shipped("sample_season")), "--on", "2026-03-01"]
    assert run_json("harden", *season) == []
    assert "Nothing is being hardened off" in run("harden", *season).stdout


def test_it_starts_without_arrays_and_without_the_app() -> None:
    heavy = {"numpy", "pandas", "scipy", "textual", "pendulum"}
    assert not heavy & modules_after("harden", *SAMPLE)


def test_the_days_ahead_stand_across_under_their_weather() -> None:
    # tests/sample/sample_weather.py: the forecast of 10 April, the storm on the 12th.
    printed = run("harden", "cabbage-early.1", *SAMPLE).stdout.splitlines()
    rows = {line[:18].strip(): line[18:].split() for line in printed if line[:18].strip()}
    assert rows["day °C"][:4] == ["12", "14", "6", "7"]
    assert rows["night after °C"][:4] == ["5", "-1", "-1", "0"]  # as each evening's alert says
    assert rows["gusts m/s, rain"][:4] == ["5", "4", "14", "!r"]
    assert rows["hours out"][:5] == ["▃", "4", "▃", "5", "in"]
    assert all(len(line) <= 80 for line in printed)
