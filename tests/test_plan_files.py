"""What is added to the files of a plan, taken off and put back: whole or not at all."""

from pathlib import Path

import pytest

from seasons import HEAD, lot
from seedstart.disk.plan_changes import append_lots, append_station, put_back, take_off
from seedstart.disk.plan_files import read_plan
from seedstart.problems import BadInputError

LOTS = "# mine\n" + lot("leek", "leek") + "# the end, without a line end"
BASIL = {"name": "basil", "crop": "basil", "station": "tent"}
TENT = {"name": "tent", "kind": "shelf"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    return tmp_path


def texts(folder: Path) -> tuple[str, str]:
    return (folder / "season.toml").read_text("utf-8"), (folder / "lots.toml").read_text("utf-8")


def names(folder: Path) -> list[str]:
    plan = read_plan(folder)
    return [*(one.name for one in plan.stations), *(one.name for one in plan.lots)]


def test_what_was_added_is_taken_off_to_the_byte_and_put_back(folder: Path) -> None:
    before = texts(folder)
    tent = append_station(folder, TENT)
    basil = append_lots(folder, [BASIL])
    after = texts(folder)
    assert names(folder) == ["mat", "shelf", "sill", "tent", "leek", "basil"]
    take_off(folder, basil)
    take_off(folder, tent)
    assert texts(folder) == before
    put_back(folder, tent)
    put_back(folder, basil)
    assert texts(folder) == after


def test_a_station_that_a_lot_names_is_not_taken_off(folder: Path) -> None:
    tent = append_station(folder, TENT)
    append_lots(folder, [BASIL])
    before = texts(folder)
    with pytest.raises(BadInputError, match=r"lots\.toml, line 10.*found 'tent'"):
        take_off(folder, tent)
    assert texts(folder) == before


def test_what_was_edited_since_is_left_to_the_grower_who_is_told_the_line(folder: Path) -> None:
    added = append_lots(folder, [{"name": "basil", "crop": "basil"}])
    path = folder / "lots.toml"
    path.write_text(path.read_text("utf-8") + "want = 12\n", "utf-8")
    before = texts(folder)
    with pytest.raises(BadInputError, match="take it out there by hand") as caught:
        take_off(folder, added)
    (problem,) = caught.value.problems
    assert (problem.file, problem.line, problem.key) == ("lots.toml", 7, "lot basil")
    assert before[1].splitlines()[6] == "[[lot]]"
    assert texts(folder) == before


def test_what_no_longer_fits_is_not_put_back(folder: Path) -> None:
    added = append_lots(folder, [{"name": "basil", "crop": "basil"}])
    take_off(folder, added)
    append_lots(folder, [{"name": "Basil", "crop": "leek"}])
    before = texts(folder)
    with pytest.raises(BadInputError, match="has or had this name too"):
        put_back(folder, added)
    assert texts(folder) == before


def test_what_is_wrong_is_refused_and_nothing_is_written(folder: Path) -> None:
    before = texts(folder)
    with pytest.raises(BadInputError, match="found 'shelv'"):
        append_station(folder, {"name": "tent", "kind": "shelv"})
    with pytest.raises(BadInputError, match="A tray has"):
        append_station(folder, TENT, ["Tent"])
    with pytest.raises(BadInputError, match="found 'tent'"):
        append_lots(folder, [BASIL])
    assert texts(folder) == before


def test_a_season_without_lots_gets_its_first_and_loses_it_again(folder: Path) -> None:
    (folder / "lots.toml").unlink()
    added = append_lots(folder, [{"name": "basil", "crop": "basil"}])
    assert names(folder)[-1] == "basil"
    take_off(folder, added)
    assert texts(folder)[1] == ""
