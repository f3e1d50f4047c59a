"""Every example of docs/formats.md loads, and its lists are those of the program."""

import re
from pathlib import Path
from typing import get_args

import tomli

from seedstart import disk
from seedstart.crop_table.load import load_crops
from seedstart.season.plan.lots import LOT_KEYS, Form
from seedstart.season.plan.lots_csv import read_lots_csv
from seedstart.season.plan.season_file import StationKind, read_season
from seedstart.season.plan.stations import SHIPPED
from seedstart.season.trials.planned_tests import TEST_KEYS, read_planned_tests
from shipped import crop_table
from tables import emergence_tables

PAGE = (Path(__file__).parents[2] / "docs" / "formats.md").read_text(encoding="utf-8")


def examples(section: str, language: str) -> list[str]:
    text = PAGE.split(f"\n## {section}\n")[1].split("\n## ")[0]
    return re.findall(rf"```{language}\n(.*?)```", text, re.DOTALL)


def test_the_season_and_its_lots_load() -> None:
    season_toml, _ = examples("season.toml", "toml")
    (lots_toml,) = examples("lots.toml", "toml")
    season = read_season(season_toml.encode(), lots_toml.encode(), crop_table())
    assert [station.name for station in season.stations] == ["heat mat", "shelf 2"]
    assert [lot.name for lot in season.lots] == ["pepper-long", "leek"]
    assert set(tomli.loads(lots_toml)["lot"][0]) == set(LOT_KEYS)


def test_a_season_with_a_record_loads() -> None:
    _, with_record = examples("season.toml", "toml")
    season = read_season(with_record.encode(), b"", crop_table())
    assert season.frost is not None
    assert season.frost.record == ("weather/minima.csv",)


def test_the_csv_loads() -> None:
    season_toml, _ = examples("season.toml", "toml")
    season = read_season(season_toml.encode(), b"", crop_table())
    (table,) = examples("A CSV of lots", "csv")
    found = read_lots_csv(table.encode(), season)
    assert [lot.name for lot in found.lots] == ["P7", "P8"]
    assert found.unmapped == ()


def test_the_crops_load() -> None:
    shipped = disk.read_folder(disk.shipped("crops"), ".toml")
    changed, own, with_table, learned = (text.encode() for text in examples("crops/", "toml"))
    (lot,) = load_crops(shipped, {"leek.toml": learned}).crops["leek"].own_lots
    assert (lot.lot, lot.up, lot.seeds) == ("leek-giant", 54, 64)
    crops = load_crops(shipped, {"pepper.toml": changed, "own.toml": own}).crops
    days = crops["pepper"].days_in_trays
    assert days is not None
    assert (days.best, days.basis) == (16, "own")
    assert crops["moon melon"].treat[0].need == "some do"
    table = load_crops(shipped, {"pepper.toml": with_table}).crops["pepper"].emergence
    assert table is not None
    # Harrington & Minges 1954, as tests/reference/emergence_days.csv has it.
    days_of_page = dict(zip(table.soil_c, table.days, strict=True))
    printed = dict(zip(*emergence_tables()["Pepper"], strict=True))
    assert days_of_page == {soil_c: printed[soil_c] for soil_c in days_of_page}


def test_the_germination_test_loads_with_every_key_there_is() -> None:
    season_toml, _ = examples("season.toml", "toml")
    (lots_toml,) = examples("lots.toml", "toml")
    season = read_season(season_toml.encode(), lots_toml.encode(), crop_table())
    _, trial = examples("trials/", "toml")
    (test,) = read_planned_tests({"pepper 2027.toml": trial.encode()}, season)
    assert test.sowing("pepper-long", 1) == "pepper 2027 1"
    assert set(tomli.loads(trial)) == {"kind", *TEST_KEYS}


def test_the_lists_on_the_page_are_whole() -> None:
    words = set(re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL)))
    assert words >= {*get_args(StationKind), *get_args(Form)}
    numbers = " ".join(re.findall(r"^\| (?:tray of|9 cm pot).*$", PAGE, re.MULTILINE))
    assert all(f"{one.cell_ml:g}" in numbers for one in SHIPPED if one.cell_ml)
