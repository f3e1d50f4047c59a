import csv
import io
import json

import pytest

from runner import modules_after, refused, run, run_json
from seedstart.days import Window
from seedstart.planning.calendar.row import STEP_NAMES

LAST = ("calendar", "--last-frost", "2027-05-12")


def test_a_frost_date_gives_a_calendar_by_weeks() -> None:
    lines = run(*LAST).stdout.splitlines()
    assert lines[0] == "Sowing calendar"
    assert "the average date, a later frost comes in half of all years" in " ".join(lines[1:3])
    weeks = [line for line in lines if line.startswith("2027-W")]
    assert len(weeks) >= 8
    assert weeks == sorted(weeks)
    assert sum(line.startswith("  pepper ") for line in lines) == 1


def test_a_typed_frost_date_says_what_else_it_may_mean_and_that_it_has_passed() -> None:
    head = " ".join(run(*LAST, "--crop", "pea").stdout.split("\n\n")[0].split())
    assert "safe nine years in ten, add --risk safe. That day has passed." in head
    safe = run("calendar", "--last-frost", "2028-05-12", "--risk", "safe", "--crop", "pea").stdout
    assert "add --risk" not in safe
    assert "has passed" not in safe


def test_the_calendar_is_readable_at_80_columns_in_a_pipe() -> None:
    for args in (LAST, (*LAST, "--risk", "10", "--station-temperature", "12C")):
        text = run(*args).stdout
        assert max(map(len, text.splitlines())) <= 80
        assert "\x1b" not in text


def test_why_explains_every_row_and_ends_in_its_sources() -> None:
    text = run(*LAST, "--crop", "pepper", "--why").stdout
    assert "Printed sheets set pepper out" in text
    assert "to come up: sow on" in text
    assert "University of California (Harrington)" in " ".join(text.split())


def test_json_has_the_keys_that_scripts_rely_on() -> None:
    (row,) = run_json(*LAST, "--crop", "pepper")
    assert row["lot"] is None
    assert row["crop"] == "pepper"
    assert (row["last_frost"], row["risk_percent"]) == ("2027-05-12", 50)
    assert set(row["sow"]) == {*Window._fields, "is", "due"}
    assert row["sow"]["is"] == "planned"
    assert set(STEP_NAMES) <= set(row)
    assert all(set(reason) == {"step", "text", "source"} for reason in row["reasons"])


def test_a_date_that_cannot_be_given_is_null_with_its_problem() -> None:
    (row,) = run_json(*LAST, "--crop", "pepper", "--station-temperature", "12C")
    assert row["sow"] is None
    assert row["problem"].startswith("12 °C is below 15 °C, the coldest at which pepper came up")


def test_csv_opens_in_a_spreadsheet() -> None:
    table = list(csv.DictReader(io.StringIO(run(*LAST, "--csv").stdout)))
    assert len(table) >= 60
    assert table[0]["sow_best"].startswith("2027-")


def test_a_grower_with_fahrenheit_sees_it_and_may_type_bare_numbers() -> None:
    us = (*LAST, "--crop", "pepper", "--units", "us")
    (row,) = run_json(*us, "--station-temperature", "54")
    assert row["problem"].startswith("54 °F is below 59 °F, the coldest at which pepper came up")
    assert "its printed lower limit is 60.1 °F" in row["problem"]
    why = run(*us, "--why").stdout
    assert "°F" in why
    assert "°C" not in why
    # The dates are those of the same temperature in the other unit.
    assert (
        run_json(*us, "--station-temperature", "77")[0]["sow"]
        == (run_json(*LAST, "--crop", "pepper", "--station-temperature", "25C")[0]["sow"])
    )
    assert "'furlongs' is not one of 'metric', 'us'" in refused(*LAST, "--units", "furlongs")


def test_day_and_night_may_differ() -> None:
    (row,) = run_json(*LAST, "--crop", "tomato", "--station-temperature", "21C day, 14C night")
    assert "21 °C for 12 h by day, 14 °C by night" in json.dumps(row, ensure_ascii=False)


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["--last-frost", "31.4."], "A day needs its year"),
        (["--last-frost", "4/5/27"], "write 2027-05-04 or 2027-04-05"),
        (["--last-frost", "2027-02-30"], "February 2027 has 28 days"),
        ([*LAST[1:], "--crop", "peper"], "Nearest: pepper"),
        ([*LAST[1:], "--crop", "squash"], "summer squash, winter squash"),
        ([*LAST[1:], "--station-temperature", "240C"], "from -40C to 60C"),
        ([*LAST[1:], "--risk", "0"], "above 0 and below 100"),
        ([*LAST[1:], "--risk", "often"], "above 0 and below 100"),
        ([*LAST[1:], "--whi"], "Nearest: --why"),
    ],
)
def test_wrong_input_is_refused_with_the_way_out(args: list[str], says: str) -> None:
    assert says in refused("calendar", *args)


def test_everything_wrong_is_said_at_once() -> None:
    said = refused(
        "calendar", "--last-frost", "31.4.", "--crop", "peper", "--station-temperature", "240C"
    )
    assert len(said.splitlines()) == 3


def test_errors_for_scripts_are_json_on_standard_error() -> None:
    said = json.loads(refused("calendar", "--last-frost", "x", "--crop", "peper", "--json"))
    assert [set(error) for error in said["errors"]] == [
        {"file", "line", "key", "found", "allowed", "hint", "more"}
    ] * 2
    assert said["errors"][1]["found"] == "peper"


def test_a_misspelt_command_gets_the_nearest() -> None:
    assert "Nearest: calendar" in refused("calender")


def test_a_light_command_pays_for_no_heavy_library() -> None:
    loaded = modules_after(*LAST)
    heavy = {"pandas", "numpy", "scipy", "textual", "pendulum", "importlib.metadata"}
    assert not loaded & heavy
    assert "seedstart.planning.calendar.scheduler" in loaded
    assert not any(name.startswith("seedstart.season.") for name in loaded)


def test_every_command_has_help_with_an_example() -> None:
    from seedstart.cli.main import _COMMANDS

    for name in _COMMANDS:
        assert "Example: seedstart" in run(name, "--help").stdout


def test_seed_laid_cold_in_winter_stands_in_the_week_in_which_it_is_laid() -> None:
    lines = run("calendar", "--last-frost", "2027-05-12", "--crop", "larkspur").stdout.splitlines()
    treated = next(n for n, line in enumerate(lines) if "stratify 14 days" in line)
    sown = next(n for n, line in enumerate(lines) if line.startswith("  larkspur") and n > treated)
    # Fourteen days before it is sown, on 17 February, a week of its own.
    assert lines[treated - 1] == "2027-W07  from Mon 15 Feb 2027"
    assert "17 Feb" in lines[treated]
    assert "then sow on 3 Mar" in lines[treated]
    assert lines[sown - 1] == "2027-W09  from Mon 1 Mar 2027"


def test_printed_weeks_are_told_with_their_half_weeks() -> None:
    why = " ".join(
        run("calendar", "--last-frost", "2027-05-12", "--crop", "onion", "--why").stdout.split()
    )
    # crops/onion.toml: 12.5 weeks, moved within the sources' own 8.1 to 14.9.
    assert "It is sown 12.5 weeks before the average last frost (8.1 to 14.9 weeks" in why
