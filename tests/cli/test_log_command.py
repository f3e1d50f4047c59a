import json
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from runner import modules_after, refused, run, run_json
from seasons import HEAD, lot
from seedstart import clock

LOTS = (
    lot("leek", "leek", want="48", station='"shelf"')
    + lot("pepper-long", "pepper", station='"mat"', then='"shelf"')
    + lot("sweet-pea", "sweet pea", station='"sill"')
)


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    return tmp_path


def log(*args: str, on: str = "2027-03-20") -> str:
    result = run("log", *args, "--on", on)
    assert result.exit_code == 0, result.stderr
    return result.stderr


def lines(folder: Path) -> list[dict[str, object]]:
    path = folder / "journal" / "bench.jsonl"
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def kinds(folder: Path) -> list[object]:
    return [line["kind"] for line in lines(folder)]


def test_a_sowing_takes_the_lots_name_and_station(bench: Path) -> None:
    assert "sowed 24 seeds of pepper-long on the mat" in log("sown", "pepper-long", "24")
    log("sown", "pepper-long", "12", "--tray", "tray 5")
    first, second = lines(bench)
    assert (first["sowing"], first["station"], first["seeds"]) == ("pepper-long", "mat", 24)
    assert (second["sowing"], second["tray"]) == ("pepper-long/2", "tray 5")
    assert str(first["at"]).startswith("2027-03-20T12:00:00")


def test_every_kind_can_be_written_down(bench: Path) -> None:
    said = [
        ["soaked", "sweet-pea", "--hours", "12"],
        ["taken-out", "sweet-pea"],
        ["stratified", "sweet-pea", "--days", "14", "--c", "4C"],
        ["taken_out", "sweet-pea"],
        ["scarified", "sweet-pea", "--seeds", "24"],
        ["sown", "sweet-pea", "24"],
        ["sown", "leek", "60", "--tray", "tray 5"],
        ["covered", "tray 5"],
        ["uncovered", "tray 5"],
        ["counted", "leek", "40"],
        ["dug", "leek", "--sound", "2", "--soft", "3"],
        ["lost", "leek", "3", "--why", "slugs"],
        ["thinned", "leek", "--left", "30"],
        ["given", "leek", "2", "--to", "Ana"],
        ["pricked-out", "leek", "20", "--into", "tray 6:12, sill:8"],
        ["split", "leek.1", "4", "--into", "tray 7"],
        ["potted-on", "leek.1", "--container", "9 cm pot"],
        ["moved", "tray 6", "mat"],
        ["moved", "leek", "shelf", "--tray", "tray 9"],
        ["watered", "tray 6", "--ml", "400"],
        ["fed", "shelf", "--ppm-n", "50"],
        ["weighed", "tray 6", "1700g", "now"],
        ["read", "mat", "23.5C"],
        ["read", "shelf", "8000lux"],
        ["adjusted", "mat", "--thermostat", "24C"],
        ["measured", "leek.1", "82/3.1, 75/2.9"],
        ["hardened", "leek.1", "3", "--night"],
        ["held", "leek.1", "--why", "windy"],
        ["set-out", "leek.1", "3"],
        ["finished", "leek.1"],
        ["checked", "feel:tray 5:0", "--sure"],
        ["put-off", "feel:tray 5:1", "--till", "2027-03-22", "--why", "moist", "--sure"],
        ["planned", "leek", "want=80"],
        ["relabelled", "sweet-pea", "--name", "sweet-pea-old"],
        ["mixed-up", "leek", "leek.2", "--into", "leeks"],
        ["forecast", "2027-03-21", "--tmin", "3C", "--wind", "4"],
        ["noted", "white fluff", "--about", "mould", "--tray", "tray 5"],
    ]
    for args in said:
        log(*args)
    log("take-back")
    written = {str(kind).replace("_", "-") for kind in kinds(bench)}
    from seedstart.cli.log_command import BY_COMMAND

    assert written - {"struck"} == set(BY_COMMAND)


def test_treatments_that_were_ended_belong_to_the_next_sowing(bench: Path) -> None:
    log("soaked", "sweet-pea", "--hours", "12", on="2027-03-19")
    log("taken-out", "sweet-pea")
    log("sown", "sweet-pea", "24")
    soaked, _, sown = lines(bench)
    assert sown["after"] == [soaked["id"]]
    assert "No seed of that lot" in refused("log", "taken-out", "sweet-pea")


def test_pricking_out_into_several_places_is_one_act_and_is_taken_back_whole(bench: Path) -> None:
    log("sown", "leek", "80")
    log("counted", "leek", "60")
    log("pricked-out", "leek", "60", "--into", "tray 5:15, tray 6:15, tray 7:15, sill:15")
    acts = {line.get("act") for line in lines(bench)[2:]}
    assert len(acts) == 1
    said = log("take-back")
    assert said.count("Taken back: pricked out leek") == 4
    assert kinds(bench).count("struck") == 4


def test_one_number_may_be_left_to_the_arithmetic(bench: Path) -> None:
    log("sown", "leek", "80")
    log("counted", "leek", "60")
    log("pricked-out", "leek", "60", "--into", "tray 5:15, sill")
    assert [line["plants"] for line in lines(bench)[2:]] == [15, 45]
    said = refused("log", "pricked-out", "leek", "10", "--into", "tray 5:15, sill:3")
    assert "That makes 18, and there are 10" in said


def test_a_past_time_is_taken_and_one_ahead_refused(bench: Path) -> None:
    log("sown", "leek", "80", "--at", "2027-03-15 18:00")
    assert str(lines(bench)[0]["at"]) == "2027-03-15T18:00:00+01:00"
    assert "lies ahead" in refused(
        "log", "counted", "leek", "3", "--at", "2027-03-25", "--on", "2027-03-20"
    )


def test_names_are_resolved_before_they_are_written(bench: Path) -> None:
    log("sown", "leek", "80")
    log("counted", "LEEK", "5")
    assert lines(bench)[1]["sowing"] == "leek"
    log("sown", "leek", "80")
    assert "leek, leek/2" in refused("log", "lost", "lek", "1").replace("allowed: ", "")
    assert "Nearest: leek" in refused("log", "counted", "leak", "5")


def test_a_lots_name_does_while_one_of_its_sowings_is_alive(bench: Path) -> None:
    log("sown", "leek", "80", "--name", "first")
    log("counted", "leek", "5")
    assert lines(bench)[1]["sowing"] == "first"
    log("sown", "leek", "80", "--name", "second")
    assert "first, second" in refused("log", "counted", "leek", "5")


def test_a_lower_count_is_asked_about_and_whoever_is_sure_writes_it(bench: Path) -> None:
    log("sown", "leek", "80")
    log("counted", "leek", "15")
    said = refused("log", "counted", "leek", "8", "--on", "2027-03-20")
    assert (
        "--gone: allowed: died, eaten, pulled out, earlier wrong. 15 stood, 7 are missing." in said
    )
    assert "If you are sure, add --sure." in said
    assert len(lines(bench)) == 2
    assert "7 fewer than before (15)" in log("counted", "leek", "8", "--sure")
    log("counted", "leek", "6", "--why", "slugs")
    assert {key: lines(bench)[3][key] for key in ("standing", "lost", "why")} == {
        "standing": 6, "lost": 2, "why": "slugs",
    }  # fmt: skip


def test_all_that_is_wrong_is_said_at_once_and_nothing_recorded(bench: Path) -> None:
    said = refused("log", "sown", "leak", "many", "--station", "shelv", "--depth", "deep")
    assert len(said.splitlines()) == 4
    assert not (bench / "journal").exists()


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["sown", "leek"], "It is missing: how many seeds"),
        (["counted", "leek"], "Nothing has been sown yet"),
        (["read", "mat", "240C"], "from -40C to 60C"),
        (["read", "mat", "hot"], "A number with its unit"),
        (["adjusted", "mat"], "Say what was changed"),
        (["forecast", "2027-03-21"], "Give at least one"),
        (["planned", "leek", "wnt=3"], "Nearest: want"),
        (["planned", "leek", "station=shelv"], "Nearest: shelf"),
        (["sownn", "leek"], "Nearest: sown"),
        (["take-back"], "nothing left to take back"),
        (["moved", "mat", "shelf"], "That is a station; give a sowing or a tray."),
    ],
)
def test_wrong_input_is_refused_with_the_way_out(args: list[str], says: str) -> None:
    assert says in refused("log", *args)


def test_hostile_text_reaches_the_terminal_as_text(bench: Path) -> None:
    log("noted", "\x1b[31mred\x1b[0m \u202egnp.exe [bold]x[/]")
    assert lines(bench)[0]["text"] == "red gnp.exe [bold]x[/]"


def test_json_is_the_entries_as_they_stand_in_the_file(bench: Path) -> None:
    (entry,) = run_json("log", "sown", "leek", "80", "--on", "2027-03-20")
    assert entry == lines(bench)[0]


def test_verify_names_a_torn_line_and_it_costs_itself_alone(bench: Path) -> None:
    log("sown", "leek", "80", on="2026-03-20")  # before now on any machine
    with (bench / "journal" / "bench.jsonl").open("ab") as file:
        file.write(b'{"kind":"counted","id":"01')
    result = run("verify")
    assert result.exit_code == 1
    assert "journal/bench.jsonl, line 2" in result.stdout
    log("counted", "leek", "5", on="2026-03-21")
    told = json.loads(run("verify", "--json").stdout)
    assert (told["files"], told["entries"], len(told["problems"])) == (1, 2, 1)


def test_an_entry_for_a_sowing_that_is_not_there_is_kept_and_named(bench: Path) -> None:
    log("sown", "leek", "80")
    path = bench / "journal" / "phone.jsonl"
    line = lines(bench)[0] | {"kind": "counted", "sowing": "leak", "standing": 3, "by": "phone"}
    line["id"] = "01a2124e-d926-7bec-812c-000000000001"
    for key in ("lot", "seeds", "station"):
        line.pop(key)
    path.write_text(json.dumps(line) + "\n", "utf-8")
    assert "Nearest: leek" in " ".join(run("verify").stdout.split())


def test_a_log_command_pays_for_no_heavy_library() -> None:
    loaded = modules_after("log", "counted", "leek", "18")
    assert not loaded & {"pandas", "numpy", "scipy", "textual", "pendulum", "rich"}
    assert not {one for one in loaded if one.startswith("seedstart.planning.prospects")}


def test_a_log_command_reads_no_record_of_minima_and_the_round_says_what_is_wrong_in_it(
    bench: Path,
) -> None:
    season = bench / "season.toml"
    season.write_text(season.read_text("utf-8").replace("last = 2027-05-12", 'record = "m.csv"'))
    (bench / "m.csv").write_text("no table of minima")
    assert len(log("sown", "leek", "80").splitlines()) == 1
    assert "m.csv" in run("round").stderr


def test_a_lower_count_of_an_earlier_day_says_nothing_and_a_higher_one_what_is_missing(
    bench: Path,
) -> None:
    log("sown", "leek", "80", on="2027-03-10")
    log("counted", "leek", "15", on="2027-03-24")
    said = log("counted", "leek", "8", "--at", "2027-03-22 8:00", on="2027-03-24")
    assert said.startswith("Written:")
    assert len(said.splitlines()) == 1
    said = log("counted", "leek", "21", "--at", "2027-03-23 8:00", on="2027-03-24")
    assert "6 plants missing at a count of a later day" in said
    assert len(lines(bench)) == 4


def test_more_than_stood_or_were_sown_is_kept_and_said(bench: Path) -> None:
    log("sown", "leek", "20")
    log("counted", "leek", "6")
    said = refused("log", "lost", "leek", "15", "--on", "2027-03-20")
    assert "PLANTS: found '15'. 6 stood on Sat 20 Mar 2027, not 15" in said
    assert "6 stood, so 9 came up that nobody counted" in log("lost", "leek", "15", "--sure")
    assert "25 came up of 20 seeds" in log("counted", "leek", "10")
    assert len(lines(bench)) == 4


def test_seeds_dug_up_are_said_to_be_something(bench: Path) -> None:
    log("sown", "leek", "20")
    assert "2 sound, 3 soft" in log("dug", "leek", "--sound", "2", "--soft", "3")
    assert "How many were sound, soft or gone" in refused("log", "dug", "leek", "--gone", "0")
    assert len(lines(bench)) == 2


def test_what_is_taken_out_is_named(bench: Path) -> None:
    log("soaked", "sweet-pea", "--hours", "12")
    assert "took sweet-pea out of its soak" in log("taken-out", "sweet-pea")
    assert len(lines(bench)) == 2


def test_a_journal_that_cannot_be_looked_into_is_no_empty_season(bench: Path) -> None:
    (bench / "journal").write_text("not a folder", "utf-8")
    assert "journal" in refused("round")
    assert "journal" in refused("lots")


def test_nothing_is_recorded_on_a_day_that_has_not_come(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log("sown", "leek", "60", on="2027-12-31")  # today, by the clock of these tests
    before = lines(bench)
    monkeypatch.setattr(clock, "now", lambda zone: datetime(2028, 1, 1, tzinfo=ZoneInfo(zone)))
    log("watered", "leek", on="2028-01-01")
    said = refused("log", "counted", "leek", "5", "--on", "2028-01-02")
    assert "found '2028-01-02'. That day has not come yet; today is 2028-01-01." in said
    late = refused("log", "counted", "leek", "5", "--on", "2028-01-02", "--at", "8:00")
    assert "has not come yet" in late
    assert "lies ahead of now" in refused("log", "counted", "leek", "5", "--at", "2028-01-01 0:01")
    assert "lies ahead of now" in refused("log", "counted", "leek", "5", "--at", "2028-03-01")
    assert lines(bench)[:1] == before
    assert kinds(bench) == ["sown", "watered"]


def test_what_another_clock_wrote_ahead_of_this_one_is_read(bench: Path) -> None:
    # docs/formats_journal.md: entries hold in order of `at`, whatever clock wrote them.
    log("sown", "leek", "60", on="2027-03-20")
    (sown,) = lines(bench)
    ahead = sown | {"kind": "counted", "sowing": "leek", "standing": 7, "by": "tablet"}
    ahead |= {"id": "01950000-1c00-7000-8000-000000000001", "at": "2029-03-20T08:00:00+01:00"}
    counted = {key: ahead[key] for key in ("id", "at", "by", "kind", "sowing", "standing")}
    (bench / "journal" / "tablet.jsonl").write_text(f"{json.dumps(counted)}\n", "utf-8")
    (leek, *_) = run_json("lots")
    assert leek["sowings"][0]["standing"] == 7


def test_the_history_of_a_sowing_tells_what_was_done_to_its_tray_and_its_station() -> None:
    log("sown", "leek", "60", "--tray", "tray 5", "--station", "mat", on="2027-03-01")
    log("covered", "tray 5", on="2027-03-02")
    log("adjusted", "mat", "--thermostat", "24C", on="2027-03-03")
    log("watered", "tray 5", "--ml", "200", on="2027-03-04")
    log("moved", "tray 5", "shelf", on="2027-03-05")
    log("watered", "mat", on="2027-03-06")
    log("weighed", "tray 5", "1700", "now", on="2027-03-07")
    text = run("lots", "leek").stdout
    told = [line.strip() for line in text.splitlines() if line.endswith(")")]
    assert [line.partition(" (")[0] for line in told] == [
        "sown leek: 60 seeds of leek in tray 5",
        "covered tray 5",
        "adjusted mat: thermostat 24 °C",
        "watered tray 5: 200 ml",
        "moved tray 5: to shelf",
        "weighed tray 5: 1700 g, now",
    ]


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["hardened", "leek", "30"], "HOURS: found '30'. Hours outdoors that day, from 0 to 24"),
        (["hardened", "leek", "long"], "HOURS: found 'long'. Hours outdoors that day"),
        (["weighed", "leek", "0"], "GRAMS: found '0'. A weight above 0"),
        (["watered", "tray 9"], "Name a station, a tray or a sowing"),
        (["put-off", "water leek", "--sure", "--till", "nowish"], "saturday, 3 days, 2 weeks"),
        (["put-off", "water leek", "--till", "2027-03-19"], "is past: name a day that lies ahead"),
    ],
)
def test_what_is_out_of_bounds_is_said_by_the_name_on_the_command_line(
    args: list[str], says: str
) -> None:
    log("sown", "leek", "60")
    assert says in refused("log", *args, "--on", "2027-03-20")


def test_a_check_is_put_off_till_a_day_of_the_week(bench: Path) -> None:
    log("put-off", "water leek 2027-03-20", "--till", "saturday", "--sure")
    assert lines(bench)[0]["until"] == "2027-03-27"


def test_a_key_that_nothing_bears_is_asked_about_and_the_beginning_of_one_will_do(
    bench: Path,
) -> None:
    log("sown", "leek", "60")
    said = refused("log", "checked", "water leak", "--on", "2027-03-22")
    assert "No check today has that key." in said
    assert "water leek 2027-03-20" in said
    log("checked", "water leak", "--sure", on="2027-03-22")
    log("checked", "water leek", on="2027-03-22")
    assert [line["check"] for line in lines(bench)[1:]] == ["water leak", "water leek 2027-03-20"]


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("soaked", "Seed soaked in water before sowing."),
        ("stratified", "Seed kept cold and damp before sowing."),
        ("scarified", "Seed coats nicked, scratched or scalded."),
    ],
)
def test_every_kind_says_what_it_is(kind: str, says: str) -> None:
    text = run("log", kind, "--help").stdout
    assert says in text
    assert ("--hours" in text) == (kind != "scarified")


def test_a_second_taking_back_first_says_what_it_would_take(bench: Path) -> None:
    log("sown", "leek", "60")
    log("counted", "leek", "5")
    assert "Taken back: counted leek: 5 standing" in log("take-back")
    said = refused("log", "take-back", "--on", "2027-03-20")
    assert "Next is: sown leek: 60 seeds of leek" in said
    assert kinds(bench) == ["sown", "counted", "struck"]
    assert "Taken back: sown leek" in log("take-back", said.split()[-1])


def test_an_entry_of_another_time_is_taken_back_by_that_time(bench: Path) -> None:
    log("sown", "leek", "60", "--at", "2027-03-10 07:14")
    log("counted", "leek", "5")
    assert "Taken back: sown leek" in log("take-back", "--at", "2027-03-10 07:14")
    nothing = refused("log", "take-back", "--at", "2027-03-10 07:14", "--on", "2027-03-20")
    assert "bench wrote nothing at Wed 10 Mar 2027, 07:14 that still counts" in nothing
    log("watered", "shelf")
    both = refused("log", "take-back", "--at", "12:00", "--on", "2027-03-20")
    assert "Several acts have that time" in both
    assert kinds(bench) == ["sown", "counted", "struck", "watered"]


def test_names_are_completed_in_the_shell_from_the_season(bench: Path) -> None:
    from click.shell_completion import BashComplete

    from seedstart.cli.main import cli

    log("sown", "leek", "60", "--tray", "tray 5")

    def completed(*words: str, begun: str) -> set[str]:
        shell = BashComplete(cli, {}, "seedstart", "_SEEDSTART_COMPLETE")
        return {one.value for one in shell.get_completions(["log", *words], begun)}

    assert completed("counted", begun="LE") == {"leek"}
    assert completed("watered", begun="") >= {"mat", "shelf", "sill", "tray 5", "leek"}
    assert completed("sown", "leek", "24", "--station", begun="s") == {"shelf", "sill"}
    (bench / "season.toml").unlink()
    assert completed("counted", begun="l") == set()


def test_a_count_of_a_day_before_the_sowing_is_refused(bench: Path) -> None:
    log("sown", "leek", "60", "--at", "2027-03-10 10:00")
    said = refused("log", "counted", "leek", "5", "--at", "2027-03-02", "--on", "2027-03-20")
    assert "leek was sown on" in said
    assert "cannot have been counted before" in said
    assert kinds(bench) == ["sown"]
    log("counted", "leek", "0", "--at", "2027-03-10 9:00")  # the day tells, not the hour
    assert kinds(bench) == ["sown", "counted"]
