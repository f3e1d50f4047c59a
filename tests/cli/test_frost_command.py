"""`seedstart frost`: a record's answer, a published station's, the season's own."""

import json
from datetime import date
from math import cos, pi
from pathlib import Path

import pytest

from runner import run
from seedstart import disk

SAMPLE = ["--season", str(disk.shipped("sample_season"))]


def record(years: range, south: bool = False) -> str:
    """An invented record: frost till about day 130, a little later each third year."""
    rows = ["date,tmin_c"]
    first = date(years[0], 1, 1).toordinal()
    for day in range(first, date(years[-1] + 1, 1, 1).toordinal()):
        on = date.fromordinal(day)
        swing = cos(2 * pi * (on.timetuple().tm_yday - 20) / 365.25) * (-1 if south else 1)
        rows.append(f"{on},{6 - 11 * swing + (day * 37 % 61) / 10 - 3 + on.year % 3:.1f}")
    return "\n".join(rows) + "\n"


@pytest.fixture
def thirty(tmp_path: Path) -> Path:
    path = tmp_path / "minima.csv"
    path.write_text(record(range(1991, 2021)))
    return path


def test_the_answer_says_which_way_the_percentage_runs(thirty: Path) -> None:
    said = run("frost", str(thirty)).stdout
    assert "Last frost, 0 °C or below: 30 springs, 1991 to 2020, 30 with a frost" in said
    assert "In 1 year of 10 there is still a frost after " in said


def test_the_json_has_each_risk_by_two_methods(thirty: Path) -> None:
    found = json.loads(run("frost", str(thirty), "--risk", "10", "--json").stdout)
    assert (found["seasons"], found["with_frost"], found["threshold_c"]) == (30, 30, 0.0)
    assert [one["method"] for one in found["risks"]] == ["normal", "empirical"]
    assert found["risks"][0]["low"] < found["risks"][0]["date"] < found["risks"][0]["high"]


def test_a_risk_that_four_years_cannot_say_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "short.csv"
    path.write_text(record(range(2001, 2005)))
    result = run("frost", str(path), "--risk", "5")
    assert result.exit_code == 2
    assert "A record of 4 springs says nothing of a risk below 20 % or above 80 %" in result.stderr


def test_the_latest_years_can_be_asked_alone(thirty: Path) -> None:
    found = json.loads(run("frost", str(thirty), "--years", "2001-2010", "--json").stdout)
    assert (found["first_year"], found["last_year"], found["seasons"]) == (2001, 2010, 10)


def test_a_record_of_no_whole_spring_says_so(tmp_path: Path) -> None:
    path = tmp_path / "april.csv"
    path.write_text("date,tmin_c\n2031-04-01,-1\n2031-04-02,2\n")
    result = run("frost", str(path))
    assert result.exit_code == 2
    assert "It runs from 2031-04-01 to 2031-04-02: no spring lies wholly in it" in result.stderr


def test_a_year_of_noughts_is_not_believed_and_gives_no_date(tmp_path: Path) -> None:
    path = tmp_path / "noughts.csv"
    days = range(date(2030, 1, 1).toordinal(), date(2031, 1, 1).toordinal())
    path.write_text("date,tmin_c\n" + "".join(f"{date.fromordinal(one)},0.0\n" for one in days))
    result = run("frost", str(path))
    assert result.exit_code == 2
    assert "365 of its minima are not believed: 2030-01-01 0 °C (part of a run" in result.stderr


def test_a_file_too_large_for_one_station_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "world.csv"
    with path.open("wb") as file:
        file.truncate(200_000_000)  # a hole in the file: nothing is written
    result = run("frost", str(path))
    assert result.exit_code == 2
    assert "200 MB: a hundred years of one station take less than 5 MB" in result.stderr


# freeze_normals.csv: CLEMSON UNIV, NCEI 1981-2010: 3 April at 50 %, 17 March at 90 %.
def test_a_published_station_answers_by_name_with_its_period() -> None:
    said = run("frost", "--place", "clemson").stdout
    assert "USC00381770 CLEMSON UNIV, SC: 0 °C or below, 1981-2010" in said
    assert "In 1 year of 2 there is still a frost after 3 Apr." in said
    assert "In 9 years of 10 there is still a frost after 17 Mar." in said


def test_a_place_that_is_not_in_the_table_is_refused_with_what_is_like_it() -> None:
    result = run("frost", "--place", "nowhere at all")
    assert result.exit_code == 2
    assert "--place: found 'nowhere at all'" in result.stderr


def test_the_season_says_what_another_risk_would_move() -> None:
    said = run("frost", *SAMPLE, "--on", "2026-03-01").stdout
    assert "▸ 10 in 100" in said
    assert "sowings" in said
