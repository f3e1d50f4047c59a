from datetime import date

import pytest
import tomli

from season.crops_for_tests import CROPS
from seedstart.problems import BadInputError
from seedstart.season.plan.lot import SeedAmount
from seedstart.season.plan.new_season import new_lots, new_season, next_season
from seedstart.season.plan.season_file import Frost, read_season

FROSTS = [
    None,
    Frost(date(2027, 5, 12)),
    Frost(date(2027, 5, 12), risk_percent=10, tender_risk_percent=5.5, threshold_c=-1.5),
    Frost(None, record=("weather/minima.csv",), tender_risk_percent=10),
]


@pytest.mark.parametrize("frost", FROSTS)
def test_a_new_season_is_read_as_it_was_asked_for(frost: Frost | None) -> None:
    written = new_season('The "Hut" \\ 2027 – 1', "Europe/Vienna", "us", frost)
    season = read_season(written, new_lots(), CROPS)
    assert season.title == 'The "Hut" \\ 2027 – 1'
    assert (season.zone, season.units, season.frost) == ("Europe/Vienna", "us", frost)
    assert (season.stations, season.lots) == ((), ())


def uncommented(text: str) -> str:
    """The examples that a new file shows behind `# `, without the sentences above them."""
    lines = [line.removeprefix("# ") for line in text.splitlines() if line.startswith("# ")]
    return "\n".join(line for line in lines if line.startswith("[[") or " = " in line)


def test_the_examples_of_a_new_season_load_when_the_signs_before_them_go() -> None:
    season = new_season("x", "Europe/Vienna").decode()
    examples = uncommented(season[season.index("# [[station]]") :])
    shelf = '[[station]]\nname = "shelf 1"\nkind = "shelf"\n'
    loaded = read_season(
        f'timezone = "Europe/Vienna"\n{examples}\n{shelf}'.encode(),
        uncommented(new_lots().decode()).encode(),
        CROPS,
    )
    assert [station.name for station in loaded.stations] == ["heat mat", "shelf 1"]
    assert [lot.name for lot in loaded.lots] == ["pepper-long"]
    assert loaded.stations[0].lamps[1].ppf_umol_s == 50
    assert loaded.containers[0].name == "egg box"


OLD_SEASON = b"""\
title = "Spring 2027"    # a comment that stays with its year
timezone = "Europe/Vienna"
units = "us"
work_days = ["sat", "sun"]
away = [["2027-03-20", "2027-03-30"]]
[frost]
last = 2027-05-12
[[station]]
name = "heat mat"
kind = "mat"
expected = 75
was = ["mat"]
lamps = [{ watts = 20, height = 12 }]
[[tray]]
name = "blue"
was = ["tray 1"]
[[container]]
name = "egg box"
cells = 12
footprint = "30 x 10 cm"
"""
OLD_LOTS = b"""\
[[lot]]
name = "pepper"
crop = "pepper"
station = "mat"
container = "egg box"
sow = [2027-03-02, 2027-03-09]
sowings = 2
tests = [{ on = 2027-01-10, seeds = 20, up = 17 }]
have = "50 seeds"
[[lot]]
name = "leek"
crop = "leek"
ready = 2027-06-01
sowings = 3
every = "14 days"
have = "5 g"
[[lot]]
name = "lettuce"
crop = "lettuce"
have = "10 seeds"
[[lot]]
name = "tomato"
crop = "tomato"
"""


def test_the_next_season_takes_over_places_and_lots_with_seed_left() -> None:
    left = {"Pepper": SeedAmount(seeds=12), "lettuce": SeedAmount(seeds=0)}
    frost = Frost(date(2028, 5, 12))
    new = next_season(OLD_SEASON, OLD_LOTS, CROPS, title="Spring 2028", frost=frost, left=left)
    old = read_season(OLD_SEASON, OLD_LOTS, CROPS)
    season = read_season(new.season_toml, new.lots_toml, CROPS)
    assert (season.title, season.frost) == ("Spring 2028", frost)
    assert (season.zone, season.units, season.work_days) == (old.zone, old.units, old.work_days)
    assert (season.stations, season.trays) == (old.stations, old.trays)
    assert season.containers == old.containers
    assert season.away == ()
    pepper, leek, tomato = season.lots
    assert (pepper.have, pepper.tests) == (SeedAmount(seeds=12), old.lots[0].tests)
    assert (pepper.sow, pepper.sowings) == ((), 1)
    assert (leek.ready, leek.sowings, leek.every_days) == (None, 3, 14)
    assert leek.have == SeedAmount(grams=5)
    assert tomato == old.lots[3]


def test_no_day_of_the_old_year_but_those_of_tests_comes_along() -> None:
    new = next_season(OLD_SEASON, OLD_LOTS, CROPS, title="Spring 2028", frost=None)
    texts = [
        line for file in (new.season_toml, new.lots_toml) for line in file.decode().split("\n")
    ]
    assert [line for line in texts if "2027" in line and not line.startswith("#")] == [
        "tests = [{ on = 2027-01-10, seeds = 20, up = 17 }]"
    ]


def test_a_last_season_that_cannot_be_read_makes_no_new_one() -> None:
    with pytest.raises(BadInputError, match="line 2, lot"):
        next_season(OLD_SEASON, b"\nlot = 1\n", CROPS, title="x", frost=None)


def test_new_files_are_plain_toml() -> None:
    new = next_season(OLD_SEASON, OLD_LOTS, CROPS, title="x", frost=FROSTS[2])
    assert tomli.loads(new.season_toml.decode())["frost"]["threshold"] == "-1.5C"
    assert [lot["name"] for lot in tomli.loads(new.lots_toml.decode())["lot"]] == [
        "pepper",
        "leek",
        "lettuce",
        "tomato",
    ]
