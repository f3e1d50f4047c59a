from datetime import date, timedelta
from math import ceil
from pathlib import Path

import pytest

from runner import refused, run, run_json
from seasons import HEAD, lot
from seedstart import disk
from seedstart.days import monday_of, short_day
from seedstart.disk.plan_files import read_plan
from seedstart.season.plan.lot import LotTest

CALENDAR = ("calendar", "--on", "2027-01-10")


@pytest.fixture
def bench(tmp_path: Path) -> str:
    """A season of three lots."""
    lots = (
        "# my packets\n"
        + lot("leek", "leek", want="72", station='"shelf"', container='"tray of 72"')
        + lot("pepper", "pepper", want="12", station='"sill"')
        + lot("oak", "lettuce", sowings="2", every='"14 days"', station='"shelf"')
    )
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(lots, "utf-8")
    return str(tmp_path)


def test_the_calendar_of_a_season_dates_every_lot(bench: str) -> None:
    text = run("calendar", "--season", bench, "--on", "2027-01-10").stdout
    for name in ("leek", "oak", "oak/2"):
        assert f"  {name} " in text
    assert (
        "No date\n  pepper: The sill at 12 °C is below 15 °C, the coldest at which pepper" in text
    )
    assert max(map(len, text.splitlines())) <= 80


def test_what_passed_undone_is_marked_and_explained(bench: str) -> None:
    early = run("calendar", "--season", bench, "--on", "2027-01-10").stdout
    assert "> overdue" not in early
    (leek,) = run_json("calendar", "--season", bench, "--on", "2027-01-10", "--lot", "leek")
    best = date.fromisoformat(leek["sow"]["best"])
    after = (best + timedelta(days=2)).isoformat()
    late = run("calendar", "--season", bench, "--on", after, "--lot", "leek").stdout
    assert f"{short_day(best + timedelta(days=2))}>" in late.replace(" >", ">")
    assert "> overdue: later dates" in late
    why = run("calendar", "--season", bench, "--on", after, "--lot", "leek", "--why").stdout
    assert f"best {short_day(best)}; that has passed, so later" in " ".join(why.split())


def test_rows_can_be_chosen(bench: str) -> None:
    def named(*args: str) -> list[str]:
        return [row["lot"] for row in run_json(*CALENDAR, "--season", bench, *args)]

    assert named("--lot", "LEEK") == ["leek"]
    assert named("--station", "shelf", "--crop", "lettuce") == ["oak", "oak"]
    assert "leek" not in named("--from", "2027-06-01")
    assert named("--to", "2027-03-05") == ["leek", "pepper"]  # one without a date is always told


def test_a_folder_inside_a_season_belongs_to_it(
    bench: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = Path(bench) / "weather"
    inside.mkdir()
    monkeypatch.chdir(inside)
    assert "leek" in run("calendar").stdout


def test_without_a_season_the_way_out_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert "seedstart new season FOLDER" in refused("calendar")
    assert "There is no season.toml in it" in refused("calendar", "--season", str(tmp_path))


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["--lot", "leak"], "Nearest: leek"),
        (["--station", "shelv"], "Nearest: shelf"),
        (["--risk", "10"], "Only with --last-frost"),
        (["--units", "us"], "Only with --last-frost; a season has its own"),
        (["--from", "3.4."], "needs its year"),
    ],
)
def test_wrong_choices_are_refused(bench: str, args: list[str], says: str) -> None:
    assert says in refused("calendar", "--season", bench, *args)


def test_season_options_beside_a_bare_frost_date_are_refused(bench: str) -> None:
    said = refused("calendar", "--last-frost", "2027-05-12", "--season", bench, "--lot", "leek")
    assert len(said.splitlines()) == 2


def test_lots_are_listed_with_their_day_to_sow(bench: str) -> None:
    text = run("lots", "--season", bench, "--on", "2027-01-10").stdout
    assert "no date" in text
    assert "to sow" in text
    told = run_json("lots", "--season", bench)
    assert [one["lot"] for one in told] == ["leek", "pepper", "oak"]


def test_a_label_that_names_no_crop_has_crop_and_variety_beside_it(
    bench: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    add = ("--crop", "summer squash", "--variety", "Round", "--want", "6", "--station", "mat")
    assert run("new", "lot", "L011", *add, "--season", bench).exit_code == 0
    lines = run("calendar", "--season", bench, "--on", "2027-01-10").stdout.splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("  L011 "))
    assert lines[at + 1].strip() == "summer squash, Round"
    listed = run("lots", "--season", bench, "--on", "2027-01-10").stdout
    assert " summer squash, Round " in listed
    monkeypatch.setenv("COLUMNS", "100")
    wide = run("lots", "--season", bench, "--on", "2027-01-10").stdout.splitlines()
    assert wide[0].index("percent") == listed.splitlines()[0].index("percent") + 20


def test_what_is_still_to_come_is_told_to_scripts_as_lots_tells_it() -> None:
    sample = ("--season", str(disk.shipped("sample_season")), "--on", "2026-04-10")
    told = run_json("lots", "celeriac", *sample)
    (outlook,) = [one["outlook"] for one in told["sowings"]]
    text = " ".join(run("lots", "celeriac", "--curve", *sample).stdout.split())
    assert f"Enough: {outlook['text']}" in text
    assert outlook["advice"] == "enough"
    assert f"one in ten is expected by day {outlook['days_10']:.0f}, half by day " in text
    assert f"half by day {outlook['days_50']} (" in text
    assert f"nine in ten by day {outlook['days_90']}." in text
    assert f"About {outlook['total']:.0f} of 45 should come up ({outlook['total_low']} to" in text
    assert outlook["total_low"] >= 33
    assert 0 < outlook["still_to_come"] < 1
    assert "hardly any more will come" in text
    assert f"({outlook['chance']:.0f} % chance of at least one)" in text
    every = {one["lot"]: one for one in run_json("lots", *sample)}
    assert every["celeriac"] == told
    closed = [one for lot in every.values() for one in lot["sowings"] if one["closed"]]
    assert closed
    assert {one["outlook"] for one in closed} == {None}
    cold = every["pepper-lantern"]["sowings"][0]["outlook"]
    assert cold["still_to_come"] is None
    assert "Nothing of it will come up at that temperature" in cold["unknown"]


def test_space_tells_week_by_week_what_stands_where(bench: str) -> None:
    told = run_json("space", "--season", bench, "--on", "2027-01-10")
    assert told["clashes"] == []
    shelf = [week for week in told["weeks"] if week["station"] == "shelf"]
    (leek,) = run_json(*CALENDAR, "--season", bench, "--lot", "leek")
    trays = ceil(leek["seeds"] / 72)
    assert shelf[0]["percent"] == pytest.approx(100 * trays * 0.54 * 0.28 / 0.72, abs=0.1)
    assert "Everything fits." in run("space", "--season", bench, "--on", "2027-01-10").stdout


def test_space_goes_by_the_calendar_as_it_is_expected_today(bench: str) -> None:
    season = ("--season", bench, "--on", "2027-03-20")
    (row,) = run_json("calendar", *season, "--lot", "leek")
    monday = monday_of(date.fromisoformat(row["sow"]["best"])).isoformat()
    weeks = [
        one["monday"] for one in run_json("space", *season)["weeks"] if "leek" in one["sowings"]
    ]
    assert weeks[0] == monday, "it was not sown on its best day, which is past"
    set_ = run("log", "adjusted", "shelf", "--expected", "12C", *season)
    assert set_.exit_code == 0, set_.stderr
    assert run("log", "sown", "leek", "72", "--station", "mat", *season).exit_code == 0
    (row,) = run_json("calendar", *season, "--lot", "leek")
    told = [one for one in run_json("space", *season)["weeks"] if "leek" in one["sowings"]]
    assert {one["station"] for one in told if one["monday"] <= row["emerge"]["best"]} >= {"mat"}
    first = min(told, key=lambda one: one["monday"])
    assert (first["station"], first["monday"]) == ("mat", "2027-03-15")


def test_a_new_season_is_made_whole_and_its_calendar_works(tmp_path: Path) -> None:
    folder = str(tmp_path / "spring")
    made = run(
        "new",
        "season",
        folder,
        "--last-frost",
        "2027-05-12",
        "--risk",
        "safe",
        "--timezone",
        "Europe/Rome",
    )
    assert made.exit_code == 0, made.stderr
    assert made.stdout == ""
    added = run("new", "lot", "leek-a", "--crop", "leeks", "--want", "60", "--season", folder)
    assert added.exit_code == 0, added.stderr
    (row,) = run_json("calendar", "--season", folder)
    assert (row["lot"], row["crop"], row["risk_percent"]) == ("leek-a", "leek", 10)
    attributes = (tmp_path / "spring" / ".gitattributes").read_text("utf-8")
    assert attributes == "journal/*.jsonl -text merge=union\n"


def test_a_new_lot_and_its_page_say_once_what_can_hurt(bench: str) -> None:
    said = run("new", "lot", "scented", "--crop", "sweet pea", "--season", bench)
    assert said.exit_code == 0, said.stderr
    text = " ".join(said.stdout.split())
    assert text.count("Pods and seeds are poisonous to people and animals") == 1
    assert "label both" in text
    page = " ".join(run("lots", "scented", "--season", bench).stdout.split())
    assert page.count("Pods and seeds are poisonous to people and animals") == 1
    leek = run("new", "lot", "oak2", "--crop", "lettuce", "--season", bench)
    assert "Caution" not in leek.stdout


def test_a_genus_is_asked_about_when_a_lot_is_added(bench: str) -> None:
    said = refused("new", "lot", "red", "--crop", "salvia", "--season", bench)
    assert "mealycup sage, rosemary, sage, scarlet sage" in said


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["--last-frost", "2027-05-12"], "Say what the date means"),
        (["--last-frost", "12.5."], "needs its year"),
        (["--risk", "safe"], "give both"),
        (["--units", "imperial"], "Metric or us"),
        (["--timezone", "Vienna"], "Nearest: Europe/Vienna"),
    ],
)
def test_a_new_season_needs_right_answers(tmp_path: Path, args: list[str], says: str) -> None:
    folder = tmp_path / "spring"
    assert says in refused("new", "season", str(folder), *args)
    assert not folder.exists()


def test_a_new_season_never_overwrites_nor_nests(bench: str) -> None:
    assert "not empty" in refused("new", "season", bench)
    assert "a season inside a season" in refused("new", "season", str(Path(bench) / "spring"))


def test_a_folder_that_cannot_be_written_to_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", "utf-8")
    said = refused("new", "season", str(tmp_path / "file" / "spring"), "--timezone", "UTC")
    assert "Not a directory" in said or "File exists" in said


def test_the_sample_season_is_copied_whole_and_has_its_faults(tmp_path: Path) -> None:
    folder = tmp_path / "sample"
    assert run("new", "season", str(folder), "--sample").exit_code == 0
    assert disk.read_tree(folder) == disk.read_tree(disk.shipped("sample_season"))
    rows = run_json("calendar", "--season", str(folder), "--on", "2026-02-20")
    assert len({row["lot"] for row in rows}) >= 25
    assert [row["lot"] for row in rows if row["sow"] is None] == ["pepper-lantern"]
    assert {row["number"] for row in rows if row["lot"] == "lettuce-oak"} == {1, 2, 3}
    (clash,) = run_json("space", "--season", str(folder), "--on", "2026-02-20")["clashes"]
    assert clash["first_monday"] == clash["last_monday"]
    assert clash["remedies"]


def test_last_seasons_lots_and_stations_come_along(
    bench: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = str(tmp_path_factory.mktemp("next") / "spring")
    made = run(
        "new", "season", folder, "--from", bench, "--last-frost", "2028-05-12", "--risk", "average"
    )
    assert made.exit_code == 0, made.stderr
    assert "Taken over: " in made.stderr
    assert "3 lots" in made.stderr
    rows = run_json("calendar", "--season", folder)
    assert {row["lot"] for row in rows} == {"leek", "pepper", "oak"}
    assert all(row["last_frost"] == "2028-05-12" for row in rows)


def test_tests_that_the_journal_holds_come_along_with_their_lot(
    bench: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    sown = ("log", "sown", "leek", "40", "--name", "leek-test", "--lies-on", "paper")
    done = run(*sown, "--purpose", "test", "--on", "2026-01-02", "--season", bench)
    assert done.exit_code == 0, done.stderr
    counted = ("log", "counted", "leek-test", "31", "--final", "--on", "2026-01-16")
    done = run(*counted, "--season", bench)
    assert done.exit_code == 0, done.stderr
    folder = str(tmp_path_factory.mktemp("next") / "spring")
    made = run("new", "season", folder, "--from", bench, "--last-frost", "none")
    assert made.exit_code == 0, made.stderr
    assert "The last frost did not come over" in made.stderr
    plan = read_plan(Path(folder))
    assert LotTest(date(2026, 1, 16), 40, 31, "paper") in plan.lots_by_name["leek"].tests


def test_adding_a_lot_keeps_comments_and_order(bench: str) -> None:
    path = Path(bench) / "lots.toml"
    before = path.read_bytes()
    added = run("new", "lot", "kale-a", "--crop", "kale", "--sow", "2027-03-01", "--season", bench)
    assert added.exit_code == 0, added.stderr
    assert path.read_bytes().startswith(before)
    assert "kale-a" in run("lots", "--season", bench).stdout


def test_a_wrong_lot_is_refused_and_nothing_written(bench: str) -> None:
    path = Path(bench) / "lots.toml"
    before = path.read_bytes()
    said = refused(
        "new",
        "lot",
        "leek",
        "--crop",
        "peper",
        "--station",
        "sil",
        "--want",
        "no",
        "--season",
        bench,
    )
    assert len(said.splitlines()) == 4
    assert path.read_bytes() == before


CSV = "\ufeffName;Crop;Plants;Station\nkale-a;kale;24;shelf\nbasil-a;basil;12;mat\n"


def test_a_csv_with_semicolons_and_a_bom_is_shown_and_then_added(
    bench: str, tmp_path: Path
) -> None:
    file = tmp_path / "packets.csv"
    file.write_text(CSV, "utf-8")
    before = (tmp_path / "lots.toml").read_bytes()
    shown = run("new", "lot", "--from", str(file), "--preview", "--season", bench)
    assert "2 lots would be added" in shown.stderr
    assert (tmp_path / "lots.toml").read_bytes() == before
    assert run("new", "lot", "--from", str(file), "--season", bench).exit_code == 0
    assert len(run_json("lots", "--season", bench)) == 5


def test_three_faults_in_a_csv_are_named_at_once_and_nothing_is_added(
    bench: str, tmp_path: Path
) -> None:
    file = tmp_path / "packets.csv"
    file.write_text(CSV.replace("kale;24", "kael;many").replace("mat", "mta"), "utf-8")
    before = (tmp_path / "lots.toml").read_bytes()
    said = refused("new", "lot", "--from", str(file), "--season", bench).splitlines()
    assert len(said) == 3
    assert all("row 2" in line or "row 3" in line for line in said)
    assert (tmp_path / "lots.toml").read_bytes() == before


def test_five_hundred_lots_come_in_one_go(bench: str, tmp_path: Path) -> None:
    file = tmp_path / "packets.csv"
    rows = "".join(f"kale {n} x,kale,{n + 1}\n" for n in range(500))
    file.write_text(f"name,crop,want\n{rows}", "utf-8")
    assert run("new", "lot", "--from", str(file), "--season", bench).exit_code == 0
    assert len(run_json("calendar", "--season", bench)) == 504


def test_all_faults_of_a_broken_season_come_at_once(bench: str) -> None:
    path = Path(bench) / "season.toml"
    path.write_text(
        HEAD.replace('"24C"', '"240C"').replace('kind = "sill"', 'kind = "sil"'), "utf-8"
    )
    said = refused("calendar", "--season", bench)
    assert "station[1].expected (mat): found '240C'" in said
    assert "Nearest: sill" in said
    path.write_bytes(b"title = 'x'\ntimezone = '\xe4'\n")
    assert "line 2" in refused("calendar", "--season", bench)


def test_lots_without_a_date_for_one_reason_are_told_together(tmp_path: Path) -> None:
    (tmp_path / "season.toml").write_text('timezone = "UTC"\n', "utf-8")
    lots = "".join(lot(name, "tomato") for name in ("D10", "D2", "D1"))
    (tmp_path / "lots.toml").write_text(lots, "utf-8")
    told = run("calendar", "--season", str(tmp_path)).stdout
    assert "D1, D2 and D10: this season has no frost date" in told
    # A lot of which no plants are wanted is in a seed library to be tested: no date is missed.
    assert "frost date" not in run("lots", "D1", "--season", str(tmp_path)).stdout
