"""`seedstart weather`, and files of weather taken in and watched."""

import json
import os
from datetime import UTC, datetime
from pathlib import Path

import pytest

from runner import run
from seedstart.open_season import OpenSeason


@pytest.fixture
def season(tmp_path: Path) -> Path:
    folder = tmp_path / "season"
    result = run(
        "new", "season", str(folder), "--title", "t", "--timezone", "UTC", "--last-frost", "none"
    )
    assert result.exit_code == 0, result.stderr
    return folder


def test_what_was_said_of_a_file_is_remembered_for_the_next(season: Path, tmp_path: Path) -> None:
    file = tmp_path / "yard.csv"
    file.write_text("when,coldest\n2027-05-10,37\n")
    named = ("--column", "tmin_c=coldest|F", "--column", "date=when")
    result = run("weather", "add", str(file), "--season", str(season), *named)
    assert result.exit_code == 0, result.stderr
    (season / "weather" / "yard-3.csv").write_text("when,coldest\n2027-05-11,50\n")
    shown = run("weather", "--season", str(season), "--on", "2027-05-11", "--json").stdout
    assert [(one["date"], one["tmin_c"]) for one in json.loads(shown)] == [
        ("2027-05-10", 2.8), ("2027-05-11", 10.0),
    ]  # fmt: skip


def test_a_forecast_whose_days_are_past_says_so(season: Path, tmp_path: Path) -> None:
    file = tmp_path / "met.csv"
    file.write_text("date,tmin_c\n2020-05-10,3\n")
    result = run("weather", "add", str(file), "--season", str(season), "--forecast")
    assert "All its days are past: it says nothing of what is to come." in result.stderr
    assert (season / "weather" / "forecast-met.csv").exists()
    shown = run("weather", "--season", str(season)).stdout
    assert "All its days are past" in shown


def test_a_file_that_cannot_be_read_is_not_taken_in(season: Path, tmp_path: Path) -> None:
    file = tmp_path / "page.csv"
    file.write_text("<html><body>sign in</body></html>")
    result = run("weather", "add", str(file), "--season", str(season))
    assert result.exit_code == 2
    assert "It is a web page" in result.stderr
    assert list((season / "weather").iterdir()) == []


def test_an_open_season_takes_in_what_comes_into_the_folder(season: Path) -> None:
    opened = OpenSeason(season, "bench")
    assert dict(opened.weather()) == {}
    path = season / "weather" / "yard.csv"
    path.write_text(f"date,tmin_c\n{opened.today},3\n")
    assert opened.catch_up()
    assert opened.weather()[opened.today].tmin_c == 3.0
    path.write_text(f"date,tmin_c\n{opened.today},3.5\n{opened.today},4\n")
    opened.catch_up()
    assert opened.weather()[opened.today].tmin_c == 3.5
    path.write_text("<html></html>")
    opened.catch_up()
    assert [problem.file for problem in opened.weather_folder.problems] == ["weather/yard.csv"]
    assert "weather/yard.csv" in run("verify", "--season", str(season)).stdout


def test_a_record_that_is_gone_leaves_the_season_open_and_is_told(season: Path) -> None:
    toml = season / "season.toml"
    toml.write_text(toml.read_text() + '\n[frost]\nrecord = "weather/minima.csv"\n')
    result = run("round", "--season", str(season))
    assert result.exit_code == 0
    assert "season.toml, frost.record: found 'weather/minima.csv'." in result.stderr
    assert run("calendar", "--season", str(season)).exit_code == 2


def test_a_forecast_is_of_the_day_on_which_it_was_written_where_the_season_is(
    season: Path,
) -> None:
    plan = season / "season.toml"
    plan.write_text(plan.read_text().replace('"UTC"', '"America/New_York"'))
    file = season / "weather" / "forecast.csv"
    file.write_text("date,tmin_c\n2027-05-11,3\n")
    written = datetime(2027, 5, 11, 0, 30, tzinfo=UTC).timestamp()  # 20:30 on the 10th over there
    os.utime(file, (written, written))
    shown = run("weather", "--season", str(season), "--on", "2027-05-10", "--json").stdout
    assert [one["issued"] for one in json.loads(shown)] == ["2027-05-10T20:30"]


def test_hours_are_folded_in_the_zone_of_the_season(season: Path, tmp_path: Path) -> None:
    plan = season / "season.toml"
    plan.write_text(plan.read_text().replace('"UTC"', '"Pacific/Auckland"'))
    file = tmp_path / "met.csv"
    # Noon of the 9th to noon of the 11th there, coldest at six in the morning of the 10th.
    hours = [(day, hour) for day in (9, 10) for hour in range(24)]
    rows = [
        f"2027-05-{day:02}T{hour:02}:00Z,{-2 if (day, hour) == (9, 18) else 7}"
        for day, hour in hours
    ]
    file.write_text("\n".join(["time,temp (C)", *rows, ""]))
    result = run("weather", "add", str(file), "--season", str(season))
    assert "a night's lowest is that from 18:00 on the day before on" in result.stderr.casefold()
    shown = json.loads(
        run("weather", "--season", str(season), "--on", "2027-05-11", "--json").stdout
    )
    assert [(one["date"], one["tmin_c"]) for one in shown if one["tmin_c"] is not None] == [
        ("2027-05-10", -2.0), ("2027-05-11", 7.0),
    ]  # fmt: skip
