"""Whole stories on the command line, as growers would type them, and what is then said."""

import json
from pathlib import Path
from typing import Any

import pytest

from runner import run, run_json
from seasons import HEAD, lot

LOTS = lot("leek", "leek", want="12", station='"mat"') + lot("pepper", "pepper", station='"mat"')


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    return tmp_path


def log(*args: str) -> str:
    """One command; where it names no time it is of 20 March 2026, before now on any machine."""
    when = [] if "--at" in args or "--on" in args else ["--on", "2026-03-20"]
    result = run("log", *args, *when)
    assert result.exit_code == 0, result.stderr
    return result.stderr


def of_lot(name: str, on: str = "2026-06-01") -> dict[str, Any]:
    found: dict[str, Any] = run_json("lots", name, "--on", on)
    return found


def sowings(name: str, on: str = "2026-06-01") -> dict[str, dict[str, Any]]:
    return {one["sowing"]: one for one in of_lot(name, on)["sowings"]}


def text_of(name: str, on: str = "2026-06-01") -> str:
    return " ".join(run("lots", name, "--on", on).stdout.split())


def test_twenty_of_twenty_four_were_pricked_out_given_away_and_thrown_and_none_was_lost() -> None:
    log("sown", "leek", "24", "--on", "2026-02-24")
    log("counted", "leek", "20", "--on", "2026-03-16")
    log("pricked-out", "leek", "12", "--into", "tray 5", "--on", "2026-03-20")
    log("finished", "leek", "--why", "the rest thrown", "--on", "2026-03-20")
    log("potted-on", "leek.1", "--container", "9 cm pot", "--on", "2026-04-10")
    log("hardened", "leek.1", "3", "--on", "2026-05-10")
    log("set-out", "leek.1", "6", "--on", "2026-05-15")
    log("given", "leek.1", "6", "--to", "Ana", "--on", "2026-05-16")
    told = of_lot("leek")
    assert (told["state"], told["final"], told["left_out"]) == ("over", True, [])
    assert [one["lost"] for one in told["sowings"]] == [0, 0]
    said = text_of("leek")
    assert "20 of 24 up, closed (finished); 0 stand, 0 lost, 12 pricked out, 8 thrown away." in said
    assert "12 plants; 0 stand, 0 lost, 6 given away, 6 set out." in said
    assert run("verify").exit_code == 0


def test_a_new_tray_into_which_seedlings_are_pricked_out_stands_where_they_came_up() -> None:
    log("sown", "leek", "24", "--station", "mat", "--on", "2026-02-24")
    log("counted", "leek", "20", "--on", "2026-03-16")
    log("pricked-out", "leek", "12", "--into", "tray 5")
    assert sowings("leek")["leek.1"]["station"] == "mat"
    log("moved", "tray 5", "shelf", "--on", "2026-03-21")
    log("pricked-out", "leek", "4", "--into", "tray 5", "--on", "2026-03-22")
    assert sowings("leek")["leek.2"]["station"] == "shelf", "a tray that stands somewhere stays"


def test_mondays_count_entered_on_wednesday_after_a_higher_one_invents_no_death() -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    log("counted", "leek", "15", "--at", "2026-03-11 08:00")
    log("counted", "leek", "8", "--at", "2026-03-09 18:00")
    leek = sowings("leek")["leek"]
    assert (leek["standing"], leek["emerged"], leek["lost"]) == (15, 15, 0)
    monday = sowings("leek", on="2026-03-09")["leek"]
    assert (monday["standing"], monday["emerged"]) == (8, 8)
    assert run("verify").exit_code == 0


def test_two_writers_eighteen_and_seventeen_of_one_morning_are_a_disagreement(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    log("counted", "leek", "18", "--at", "2026-03-12 08:00")
    monkeypatch.setenv("SEEDSTART_WRITER", "phone")
    log("counted", "leek", "17", "--at", "2026-03-12 08:20")
    leek = sowings("leek")["leek"]
    assert (leek["standing"], leek["emerged"], leek["lost"]) == (17, 18, 0)
    result = run("verify")
    assert result.exit_code == 1
    assert (
        "bench counted 18 (08:00) and phone 17 (08:20) on Thu 12 Mar: which is right?"
        in " ".join(result.stdout.split())
    )
    page = " ".join(run("lots", "leek").stdout.split())
    assert "on Thu 12 Mar; which is right? The round asks." in page


def test_sixty_into_four_trays_at_three_stations_add_up_and_leave_germination_alone(
    bench: Path,
) -> None:
    log("sown", "leek", "80", "--on", "2026-03-02")
    log("counted", "leek", "66", "--on", "2026-03-12")
    before = of_lot("leek", on="2026-03-20")
    log("pricked-out", "leek", "60", "--into", "tray 1:20, tray 2:20, tray 3:10, sill:10")
    log("moved", "tray 1", "shelf", "--on", "2026-03-21")
    log("moved", "tray 2", "shelf", "--on", "2026-03-21")
    log("moved", "tray 3", "mat", "--on", "2026-03-21")
    found = sowings("leek")
    mother, daughters = found.pop("leek"), list(found.values())
    assert (mother["standing"], mother["emerged"], mother["lost"]) == (6, 66, 0)
    assert [one["standing"] for one in daughters] == [20, 20, 10, 10]
    assert [one["station"] for one in daughters] == ["shelf", "shelf", "mat", "sill"]
    log("lost", "leek.2", "9", "--on", "2026-03-25")
    after = of_lot("leek")
    assert [after[key] for key in ("emerged", "percent", "state")] == [
        before[key] for key in ("emerged", "percent", "state")
    ]
    assert sowings("leek")["leek.2"]["lost"] == 9
    lines = (bench / "journal" / "bench.jsonl").read_bytes().splitlines()
    acts = [json.loads(line) for line in lines[2:6]]
    assert {one["act"] for one in acts} == {acts[0]["id"]}


def test_plants_of_a_renamed_lot_and_station_stay_the_same_plants(bench: Path) -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    log("counted", "leek", "20", "--on", "2026-03-12")
    before = sowings("leek")["leek"]
    renamed = HEAD.replace('name = "mat"', 'name = "warm mat"\nwas = ["mat"]')
    lots = lot("blue leek", "leek", station='"warm mat"', was='["leek"]')
    (bench / "season.toml").write_text(renamed, "utf-8")
    (bench / "lots.toml").write_text(lots, "utf-8")
    after = sowings("blue leek")["leek"]
    assert after["station"] == "warm mat"
    # What is expected rests on the plan, and the new one wants no number of plants.
    assert {**after, "station": "mat", "progress": 0, "expected": 0, "outlook": 0} == {
        **before, "progress": 0, "expected": 0, "outlook": 0,
    }  # fmt: skip
    log("counted", "blue leek", "21", "--on", "2026-03-14")
    assert sowings("blue leek")["leek"]["standing"] == 21
    assert run("verify").exit_code == 0


def test_lots_and_stations_renamed_without_saying_so_stay_in_sight(bench: Path) -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    (bench / "season.toml").write_text(HEAD.replace('"mat"\nkind', '"mats"\nkind'), "utf-8")
    (bench / "lots.toml").write_text(lot("leeks", "leek", station='"mats"'), "utf-8")
    result = run("verify", "--json")
    found = {
        one["key"]: (one["found"], one["line"]) for one in json.loads(result.stdout)["problems"]
    }
    assert found == {"lot": ("leek", 1), "station": ("mat", 1)}
    said = " ".join(run("verify").stdout.split())
    assert "Nearest: leeks" in said
    assert "Nearest: mats" in said


def test_two_sowings_of_one_name_made_offline_are_counted_apart(bench: Path) -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    phone = (bench / "journal" / "bench.jsonl").read_bytes()
    number = json.loads(phone)["id"]
    other = phone.replace(b'"bench"', b'"phone"').replace(
        number.encode(), f"{number[:-6]}abcdef".encode()
    )
    (bench / "journal" / "phone.jsonl").write_bytes(other)
    said = run("log", "counted", "leek", "5", "--on", "2026-03-12").stderr
    assert "More than one sowing fits" in said
    log("counted", f"leek#{number[-6:]}", "5", "--on", "2026-03-12")
    standing = {name: one["standing"] for name, one in sowings("leek").items()}
    assert standing == {f"leek#{number[-6:]}": 5, "leek#abcdef": 0}


def test_what_hostile_notes_hold_reaches_the_terminal_as_text() -> None:
    log("sown", "leek", "24", "--on", "2026-03-02")
    hostile = "\x1b]0;owned\x07\x1b[31mred\u202e [bold]x[/] =1+1"
    log("noted", hostile, "--sowing", "leek", "--on", "2026-03-05")
    said = run("lots", "leek", "--on", "2026-06-01").stdout
    assert "\x1b" not in said
    assert "\u202e" not in said
    assert "[bold]x[/]" in said
