"""Whole mornings on a copy of the sample season, by the command line alone."""

import json
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from runner import modules_after, refused, run, run_json
from seedstart import clock, disk

ON = ("--on", "2026-04-10")


@pytest.fixture(autouse=True)
def sample(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "sample"
    shutil.copytree(disk.shipped("sample_season"), folder)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("SEEDSTART_WRITER", "me")
    return folder


def ticked(*args: str, on: tuple[str, ...] = ON) -> str:
    result = run("round", *args, *on)
    assert result.exit_code == 0, result.stderr
    return result.stderr


def mine(folder: Path) -> list[dict[str, Any]]:
    path = folder / "journal" / "me.jsonl"
    lines = path.read_text("utf-8").splitlines() if path.exists() else []
    return [json.loads(line) for line in lines]


def check(key: str) -> dict[str, Any]:
    found = [one for one in run_json("round", *ON) if one["check"].startswith(key)]
    assert len(found) == 1, [one["check"] for one in run_json("round", *ON)]
    one: dict[str, Any] = found[0]
    return one


def test_lines_of_the_journal_that_cannot_be_read_are_told_with_the_round(sample: Path) -> None:
    assert run("round", *ON).stderr == ""
    (sample / "journal" / "far.jsonl").write_text('{"kind":"dreamt"}\n[]\n', "utf-8")
    told = run("round", *ON).stderr
    assert "2 lines of the journal cannot be read" in told
    assert "seedstart verify" in told
    assert "far.jsonl, line 2" in run("verify").stdout


def test_the_round_goes_station_by_station_in_walking_order() -> None:
    stations = [one["station"] for one in run_json("round", *ON)]
    order = ["heat mat", "upper shelf", "lower shelf", "north sill", "cold frame"]
    assert list(dict.fromkeys(stations)) == order
    shown = run("round", *ON).stdout
    assert [shown.index(f"\n{name}\n") for name in order] == sorted(
        shown.index(f"\n{name}\n") for name in order
    )


def test_a_tick_writes_the_acts_own_entry_and_the_line_is_done() -> None:
    entry = check("uncover tray M")["entries"]
    assert entry == [{"kind": "uncovered", "tray": "tray M"}]
    assert "Written: lifted the cover of tray M" in ticked("--tick", "uncover tray M")
    done = [one for one in run_json("round", *ON) if one["what"] == "uncover"]
    assert [(one["done"], one["done_by"]) for one in done] == [(True, "me")]
    assert [one["kind"] for one in run_json("alerts", *ON)] == [
        "mat no longer heats",
        "too cold",
        "too little light",
    ]


def test_a_key_may_be_cut_short_while_it_is_plain(sample: Path) -> None:
    ticked("--tick", "UNCOVER")
    assert [line["kind"] for line in mine(sample)] == ["uncovered"]
    said = refused("round", "--tick", "prick out", *ON)
    assert "Several match" in said
    assert "prick out parsley-flat 1" in said
    assert "prick out parsley-flat 1" in refused("round", "--tick", "prick out celariac 1", *ON)
    assert len(mine(sample)) == 1


def test_a_count_is_typed_and_a_lower_one_asks_what_happened(sample: Path) -> None:
    ticked("--answer", "count tray 12", "35")
    said = refused("round", "--answer", "count tray 11", "80", *ON)
    assert "88 stood, 8 are missing" in said
    assert "died" in said
    ticked("--answer", "count tray 11", "80 eaten")
    assert [(one["sowing"], one["standing"]) for one in mine(sample)] == [
        ("pea-shoot", 35),
        ("onion-red/2", 80),
    ]
    assert (mine(sample)[1]["lost"], mine(sample)[1]["why"]) == (8, "eaten")


def test_earlier_counts_that_were_wrong_are_struck_and_nobody_died(sample: Path) -> None:
    ticked("--answer", "count tray 11", "80 earlier wrong")  # 70, then 84 and 88 were counted
    assert [line["kind"] for line in mine(sample)] == ["struck", "struck", "counted"]
    lot = run_json("lots", "onion-red", *ON)
    (sowing,) = [one for one in lot["sowings"] if one["sowing"] == "onion-red/2"]
    assert (sowing["standing"], sowing["lost"]) == (80, 0)


def test_pricking_out_makes_a_daughter_for_each_place_in_one_act(sample: Path) -> None:
    ticked("--answer", "prick out parsley-flat", "30 into tray 40:14, lower shelf")
    first, second = mine(sample)
    assert (first["into"], first["plants"], first["tray"]) == ("parsley-flat.1", 14, "tray 40")
    assert (second["into"], second["plants"], second["station"]) == (
        "parsley-flat.2",
        16,
        "lower shelf",
    )
    assert second["act"] == first["id"]
    run("log", "struck", *ON)
    assert check("prick out parsley-flat")["done"] is False


def test_what_is_put_off_comes_again_on_its_day_and_is_still_the_same_check(sample: Path) -> None:
    key = check("prick out parsley-flat")["check"]
    ticked("--put-off", "prick out parsley-flat", "--till", "monday")
    assert mine(sample)[0]["until"] == "2026-04-13"
    assert key not in {one["check"] for one in run_json("round", *ON)}
    assert key not in {one["check"] for one in run_json("round", "--on", "2026-04-12")}
    assert key in {one["check"] for one in run_json("round", "--on", "2026-04-13")}


def test_all_that_is_wrong_is_said_at_once_and_nothing_is_written(sample: Path) -> None:
    said = refused(
        "round", "--tick", "uncover", "--tick", "nothing of the kind", "--answer", "count tray 12",
        "many", *ON,
    )  # fmt: skip
    assert "nothing of the kind" in said
    assert "how many stand now" in said
    assert mine(sample) == []


def test_what_was_done_already_is_not_written_twice(sample: Path) -> None:
    ticked("--tick", "uncover")
    assert "done today already by me" in refused("round", "--tick", "uncover tray M done", *ON)
    assert len(mine(sample)) == 1


def test_an_alert_is_seen_and_stays_away(sample: Path) -> None:
    result = run("alerts", *ON)
    assert result.exit_code == 1
    assert "act now: north sill: 36 days below 15.6 °C, pepper's printed lower" in result.stdout
    ticked("--tick", "too cold north sill", "--tick", "mat no longer", "--tick", "cover still on")
    ticked("--tick", "too little light")
    after = run("alerts", *ON)
    assert (after.exit_code, after.stdout) == (0, "No alerts.\n")
    assert [line["kind"] for line in mine(sample)] == ["checked"] * 4


def test_the_reasons_say_what_they_rest_on() -> None:
    why = check("feed tray 11")["why"]
    assert ("common practice, no source") in {one["basis"] for one in why}
    assert any("University of Massachusetts" in one["basis"] for one in why)
    shown = run("round", "--why", *ON).stdout
    assert "key: feed tray 11 2026-03-24" in shown
    assert "(common practice, no source)" in shown


def test_a_heap_of_missed_days_is_one_line_a_need() -> None:
    keys = [one["check"] for one in run_json("round", "--on", "2026-04-20")]
    assert len(keys) == len(set(keys))
    assert sum(key.startswith("water tray M") for key in keys) == 1
    assert sum(key.startswith("count tray M") for key in keys) == 1


def test_nothing_to_do_is_said(tmp_path: Path) -> None:
    folder = tmp_path / "empty"
    folder.mkdir()
    (folder / "season.toml").write_text('timezone = "Europe/Vienna"\n', "utf-8")
    result = run("round", "--season", str(folder))
    assert "Nothing to do today." in result.stdout
    assert run("alerts", "--season", str(folder)).exit_code == 0


def test_till_belongs_to_put_off() -> None:
    assert "--put-off" in refused("round", "--till", "monday", *ON)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("round", "--done", "count"), "--done is now --tick, --later --put-off, --until --till."),
        (("round", "--later", "count"), "--later is now --put-off, --done --tick, --until --till."),
        (("log", "put-off", "count", "--until", "saturday"), "--until is now --till."),
        (("new", "lot", "--dry-run"), "--dry-run is now --preview, --source --donor."),
        (("new", "lot", "x", "--source", "club"), "--source is now --donor, --dry-run --preview."),
        (("readings", "add", "x.csv", "--dry-run"), "--dry-run is now --preview."),
    ],
)
def test_an_option_that_was_renamed_is_refused_with_its_name_of_now(
    sample: Path, typed: tuple[str, ...], says: str
) -> None:
    assert says in refused(*typed, "--season", str(sample))
    (problem,) = json.loads(refused(*typed, "--season", str(sample), "--json"))["errors"]
    assert says in problem["hint"]


def test_a_name_that_went_is_no_option_of_a_command_that_never_had_it() -> None:
    assert "is now" not in refused("harden", "--done")


def test_a_cold_round_loads_no_heavy_library() -> None:
    loaded = modules_after("round", *ON)
    assert not loaded & {"pandas", "numpy", "scipy", "textual", "pendulum"}


def test_a_day_to_come_may_be_looked_at_and_nothing_is_ticked_on_it(
    sample: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "now", lambda zone: datetime(2026, 4, 9, 8, tzinfo=ZoneInfo(zone)))
    assert check("uncover tray M")["what"] == "uncover"
    for asked in (("--tick", "uncover tray M"), ("--put-off", "uncover tray M")):
        said = refused("round", *asked, *ON)
        assert "That day has not come yet; today is 2026-04-09" in said
    assert mine(sample) == []


def test_after_days_away_the_round_says_so_and_names_the_lots_of_its_lines() -> None:
    told = " ".join(run("round", "--on", "2026-06-01").stdout.split())
    assert "Nothing was written from " in told
    assert " to Sun 31 May. Nobody looked, so nothing is taken for dead or dry." in told
    assert "sow 3 lots: squash-blue, cucumber, tomato-cherry" in told
    assert "Nothing was written" not in run("round", *ON).stdout
