"""Where plants stand, and whether they fit: what the command line says of it."""

from pathlib import Path

import pytest

from runner import run, run_json
from seasons import HEAD, lot

LOTS = lot("leek", "leek", want="60", station='"mat"', then='"shelf"')
NO_AREAS = HEAD.replace('area = "1.2 x 0.6 m"\n', "")


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    return tmp_path


def log(*args: str) -> str:
    result = run("log", *args)
    assert result.exit_code == 0, result.stderr
    return " ".join(result.stderr.split())


def text(*args: str) -> str:
    return " ".join(run(*args).stdout.split())


def sixty() -> None:
    """Sixty leeks into four trays at three stations."""
    log("sown", "leek", "70", "--tray", "tray 1", "--at", "2027-02-01 9:00")
    log("counted", "leek", "60", "--final", "--at", "2027-02-20 9:00")
    for tray, station in (("tray 2", "mat"), ("tray 3", "shelf"), ("tray 4", "shelf")):
        log("pricked-out", "leek", "15", "--into", tray, "--station", station,
            "--container", "tray of 24", "--at", "2027-03-06 9:00")  # fmt: skip
    log("pricked-out", "leek", "15", "--into", "sill", "--at", "2027-03-06 9:00")


def test_space_has_all_that_was_pricked_out_at_the_station_where_it_went() -> None:
    sixty()
    weeks = run_json("space", "--on", "2027-03-08")["weeks"]
    used = {one["station"]: one["used_m2"] for one in weeks if one["monday"] == "2027-03-08"}
    tray = 0.54 * 0.28
    assert used == pytest.approx({"mat": tray, "shelf": 2 * tray, "sill": tray}, abs=1e-3)


def test_a_lot_says_where_each_of_its_groups_stands_now() -> None:
    sixty()
    log("moved", "tray 2", "shelf", "--at", "2027-03-07 9:00")
    said = text("lots", "leek", "--on", "2027-03-08")
    assert "Now in tray 2 (tray of 24) at the shelf." in said
    assert "Now at the sill." in said
    assert "Now: 45 at the shelf and 15 at the sill." in text("lots", "leek", "--on", "2027-03-08")
    assert "Now: seed at the mat." in text("lots", "leek", "--on", "2027-02-02")
    assert "at the mat." in text("lots", "leek", "--on", "2027-03-06")
    told = run_json("lots", "leek", "--on", "2027-03-08")["sowings"]
    assert [(one["station"], one["tray"], one["container"]) for one in told[1:3]] == [
        ("shelf", "tray 2", "tray of 24"), ("shelf", "tray 3", "tray of 24")
    ]  # fmt: skip


def test_the_calendar_names_every_station_at_which_a_row_stands() -> None:
    sixty()
    (row,) = run_json("calendar", "--on", "2027-03-08")
    assert (row["station"], row["stations"]) == ("shelf", ["shelf", "mat", "sill"])
    for station in row["stations"]:
        assert len(run_json("calendar", "--station", station, "--on", "2027-03-08")) == 1


def test_without_areas_space_says_that_nobody_can_tell(bench: Path) -> None:
    (bench / "season.toml").write_text(NO_AREAS, "utf-8")
    said = text("space", "--on", "2027-03-08")
    assert "No area is given for mat and shelf, so nobody can tell whether it fits there" in said
    assert "fits." not in said


def test_where_some_areas_are_given_space_judges_those_alone() -> None:
    sixty()
    said = text("space", "--on", "2027-03-08")
    assert "Everything fits at the stations with an area." in said
    assert "No area is given for sill" in said


def test_what_stands_in_something_unknown_is_named_and_not_counted(bench: Path) -> None:
    sixty()
    log("potted-on", "leek.4", "--container", "9 cm pot", "--at", "2027-03-07 9:00")
    journal = bench / "journal" / "bench.jsonl"
    journal.write_text(journal.read_text("utf-8").replace("9 cm pot", "yoghurt pot"), "utf-8")
    said = text("space", "--on", "2027-03-08")
    assert "Not counted, because nobody knows how large their trays or pots are: leek.4." in said
    assert "Everything fits." not in said


def test_space_begins_with_this_week_however_long_ago_something_was_sown() -> None:
    log("sown", "leek", "70", "--at", "1900-02-01 9:00")
    weeks = run_json("space", "--on", "2027-03-08")["weeks"]
    assert min(one["monday"] for one in weeks) == "2027-03-08"


def test_a_sowing_that_is_carried_takes_the_tray_along_that_it_has_for_itself() -> None:
    log("sown", "leek", "70", "--tray", "tray 1", "--at", "2027-02-01 9:00")
    assert "no more" not in log("moved", "leek", "shelf", "--at", "2027-02-02 9:00")
    (told,) = run_json("lots", "leek", "--on", "2027-02-03")["sowings"]
    assert (told["station"], told["tray"]) == ("shelf", "tray 1")


def test_a_sowing_that_is_carried_out_of_a_tray_with_others_leaves_it_and_that_is_said() -> None:
    log("sown", "leek", "70", "--tray", "tray 1", "--at", "2027-02-01 9:00")
    log("sown", "leek", "70", "--tray", "tray 1", "--at", "2027-02-01 10:00")
    said = log("moved", "leek", "shelf", "--at", "2027-02-02 9:00")
    assert "leek is in tray 1 no more; leek/2 stays in it." in said
    told = run_json("lots", "leek", "--on", "2027-02-03")["sowings"]
    assert [(one["station"], one["tray"]) for one in told] == [("shelf", None), ("mat", "tray 1")]


def test_what_is_over_is_not_missed_and_what_stands_nowhere_is_named(bench: Path) -> None:
    (bench / "lots.toml").write_text(lot("leek", "leek", want="60"), "utf-8")
    said = text("space", "--on", "2027-03-08")
    assert "because no station is named for them: leek." in said
    log("sown", "leek", "70", "--at", "2027-02-01 9:00")
    assert "named for them: leek." in text("space", "--on", "2027-03-08")
    log("finished", "leek", "--at", "2027-03-01 9:00")
    assert "Not counted" not in text("space", "--on", "2027-03-08")


def test_where_nothing_could_be_counted_nothing_is_said_to_fit(bench: Path) -> None:
    (bench / "lots.toml").write_text(lot("leek", "leek"), "utf-8")
    log("sown", "leek", "20", "--purpose", "test", "--lies-on", "paper", "--at", "2027-02-01 9:00")
    found = text("space", "--on", "2027-02-02")
    assert "Nothing is at a station yet." in found
    assert "fits" not in found


def test_the_day_of_a_sowing_is_counted_from_the_day_it_was_sown() -> None:
    log("sown", "leek", "20", "--tray", "tray 1", "--at", "2027-03-01 10:00")
    # 1 to 10 March: nine days, at the end of that day too.
    assert "Day 9 today." in text("lots", "leek", "--curve", "--on", "2027-03-10")
