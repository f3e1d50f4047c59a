"""`change`, `rename`, `drop`: the plan as it was meant, or all that is wrong and nothing done."""

from datetime import date
from pathlib import Path

import pytest

from runner import refused, run
from seasons import HEAD, lot
from seedstart.disk.plan_files import read_plan
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK
from seedstart.season.journal.sowing_entries import Sown
from seedstart.season.plan.season_file import Frost

OWN = HEAD.replace("2027-05-12", "2028-05-12   # the average")
LOTS = (
    "# mine\n"
    + lot("leek", "leek", station='"shelf"', want="30  # for the fair")
    + "# later\n"
    + lot("pepper-long", "pepper", station='"mat"', container='"egg box"')
)
BOX = '\n[[container]]\nname = "egg box"   # cardboard\ncells = 12\nfootprint = "30 x 10 cm"\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(f"# own\n{OWN}{BOX}", "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    return tmp_path


def text_of(folder: Path, file: str = "lots.toml") -> str:
    return (folder / file).read_text("utf-8")


def test_a_lot_is_changed_on_its_line_and_its_comment_stays(folder: Path) -> None:
    done = run("change", "lot", "leek", "--want", "40", "--season", str(folder))
    assert done.exit_code == 0, done.stderr
    assert "now  want = 40" in done.stdout
    assert text_of(folder) == LOTS.replace("want = 30  #", "want = 40  #")


def test_a_preview_shows_the_same_and_writes_nothing(folder: Path) -> None:
    args = ("change", "lot", "leek", "--want", "40", "--without", "station")
    done = run(*args, "--preview", "--season", str(folder))
    assert "now  want = 40" in done.stdout
    assert 'was  station = "shelf"' in done.stdout
    assert "nothing is written" in done.stderr
    assert text_of(folder) == LOTS


def test_all_that_is_wrong_is_told_at_once_and_nothing_is_written(folder: Path) -> None:
    args = ("--want", "some", "--station", "matt", "--crop", "leak", "--season", str(folder))
    told = refused("change", "lot", "leek", *args)
    assert "change lot, want: found 'some'" in told
    assert "change lot, station: found 'matt'" in told
    assert "change lot, crop: found 'leak'" in told
    told = refused("change", "lot", "leek", "--without", "wnat", "--season", str(folder))
    assert "--without: found 'wnat'" in told
    assert "want" in told
    assert "Nearest: leek" in refused(
        "change", "lot", "lek", "--want", "3", "--season", str(folder)
    )
    assert "--want" in refused("change", "lot", "leek", "--season", str(folder))
    assert text_of(folder) == LOTS


def test_a_crop_that_was_named_by_its_genus_does_not_bar_other_changes(folder: Path) -> None:
    (folder / "lots.toml").write_text(lot("sage", "salvia"), "utf-8")
    assert run("change", "lot", "sage", "--want", "3", "--season", str(folder)).exit_code == 0
    assert read_plan(folder).lots[0].want == 3


def test_lamps_are_changed_and_taken_down(folder: Path) -> None:
    args = ("--season", str(folder))
    assert run("change", "station", "shelf", "--lamps", "2", "--watts", "20", *args).exit_code == 0
    assert run("change", "station", "Shelf", "--hours", "16", *args).exit_code == 0
    (shelf,) = (one for one in read_plan(folder).stations if one.name == "shelf")
    assert [(lamp.watts, lamp.hours) for lamp in shelf.lamps] == [(20, 16), (20, 16)]
    assert run("change", "station", "shelf", "--without", "lamps", *args).exit_code == 0
    (shelf,) = (one for one in read_plan(folder).stations if one.name == "shelf")
    assert shelf.lamps == ()
    assert "found 'hot'" in refused("change", "station", "shelf", "--expected", "hot", *args)


def test_a_container_is_new_changed_and_dropped(folder: Path) -> None:
    args = ("--season", str(folder))
    added = run("new", "container", "yoghurt pot", "--cells", "1", "--footprint", "7 x 7 cm", *args)
    assert added.exit_code == 0, added.stderr
    assert run("change", "container", "egg box", "--cells", "10", *args).exit_code == 0
    assert {one.name: one.cells for one in read_plan(folder).containers}["egg box"] == 10
    assert "# cardboard" in text_of(folder, "season.toml")
    assert "1 lot (pepper-long) names it" in refused("drop", "container", "egg box", *args)
    assert run("drop", "container", "yoghurt pot", *args).exit_code == 0
    assert "yoghurt" not in text_of(folder, "season.toml")


def test_what_is_renamed_keeps_its_journal_and_what_names_it(folder: Path) -> None:
    args = ("--season", str(folder))
    sown = Sown(**BLANK, sowing="leek", lot="leek", seeds=30, station="shelf")
    OpenSeason(folder, "bench", date(2027, 3, 1)).record(sown)
    assert run("rename", "lot", "leek", "leek-giant", *args).exit_code == 0
    assert run("rename", "station", "shelf", "top shelf", *args).exit_code == 0
    opened = OpenSeason(folder, "bench", date(2027, 3, 2))
    (of_lot,) = opened.records().of_lot("leek-giant")
    assert of_lot.seeds == 30
    assert opened.records().station_of(of_lot.id) == "top shelf"
    assert opened.plan.lots[0].station == "top shelf"
    assert run("rename", "lot", "leek-giant", "leek", *args).exit_code == 0
    assert read_plan(folder).lots[0].was == ("leek-giant",)
    assert "has or had this name" in refused("rename", "lot", "leek", "pepper-long", *args)


def test_a_lot_with_plants_goes_only_when_that_is_meant_and_its_journal_stays(
    folder: Path,
) -> None:
    args = ("--season", str(folder))
    sown = Sown(**BLANK, sowing="leek", lot="leek", seeds=30, station="shelf", tray="tray 1")
    OpenSeason(folder, "bench", date(2027, 12, 30)).record(sown)
    told = refused("drop", "lot", "leek", *args)
    assert "1 sowing" in told
    assert "tray 1" in told
    assert "--sure" in told
    assert text_of(folder) == LOTS
    journal = (folder / "journal" / "bench.jsonl").read_bytes()
    assert run("drop", "lot", "leek", "--sure", *args).exit_code == 0
    assert [one.name for one in read_plan(folder).lots] == ["pepper-long"]
    assert text_of(folder).startswith("# mine\n")
    assert (folder / "journal" / "bench.jsonl").read_bytes() == journal


def test_a_station_that_lots_name_stays_and_all_that_stands_there_is_told(folder: Path) -> None:
    sown = Sown(**BLANK, sowing="leek", lot="leek", seeds=30, station="shelf", tray="tray 1")
    OpenSeason(folder, "bench", date(2027, 12, 30)).record(sown)
    before = text_of(folder, "season.toml")
    told = refused("drop", "station", "shelf", "--season", str(folder))
    assert "It is in use: 1 lot (leek) names it" in told
    assert "1 sowing (in tray 1), not up yet, would stand nowhere" in told
    assert text_of(folder, "season.toml") == before


def test_a_frost_date_a_week_later_says_how_many_sowings_move_and_by_how_much(
    folder: Path,
) -> None:
    args = ("change", "season", "--last-frost", "19 May 2028", "--season", str(folder))
    before = text_of(folder, "season.toml")
    shown = run(*args, "--preview")
    assert "2 sowings would be sown 7 days later: leek, pepper-long." in shown.stdout
    assert "Last frost Fri 19 May 2028: the average date" in " ".join(shown.stdout.split())
    assert text_of(folder, "season.toml") == before
    done = run(*args)
    assert "2 sowings are sown 7 days later" in done.stdout
    assert text_of(folder, "season.toml") == before.replace("2028-05-12   #", "2028-05-19   #")


def test_the_risk_of_tender_plants_moves_them_alone(folder: Path) -> None:
    args = ("change", "season", "--tender-risk", "10", "--season", str(folder))
    shown = run(*args)
    assert "1 sowing is sown" in shown.stdout
    assert "pepper-long" in shown.stdout
    frost = read_plan(folder).frost
    assert frost is not None
    assert frost.tender_risk_percent == 10
    assert run(*args[:3], "none", *args[4:]).exit_code == 0
    assert "percent" not in text_of(folder, "season.toml")


def test_an_old_name_of_the_tender_risk_goes_with_the_new_value(folder: Path) -> None:
    file = folder / "season.toml"
    file.write_text(
        text_of(folder, "season.toml").replace("\nlast =", "\ntrust_percent = 20\nlast =")
    )
    run("change", "season", "--tender-risk", "10", "--season", str(folder))
    frost = read_plan(folder).frost
    assert frost is not None
    assert frost.tender_risk_percent == 10
    assert "trust_percent" not in text_of(folder, "season.toml")


def minima(folder: Path) -> None:
    """Thirty-one invented years of minima, in weather/minima.csv."""
    first = date(1996, 1, 1).toordinal()
    days = [date.fromordinal(first + one) for one in range(365 * 31)]
    warmth = [9 - abs(day.timetuple().tm_yday - 195) / 11 for day in days]  # invented
    nights = [
        f"{day},{mean + day.toordinal() * 37 % 61 / 10:.1f}\n"
        for day, mean in zip(days, warmth, strict=True)
    ]
    (folder / "weather").mkdir(exist_ok=True)
    (folder / "weather" / "minima.csv").write_text("date,tmin_c\n" + "".join(nights), "utf-8")


def test_a_date_takes_the_place_of_a_record_and_a_record_that_of_a_date(folder: Path) -> None:
    minima(folder)
    at, before = ("--season", str(folder)), text_of(folder, "season.toml")
    args = ("change", "season", "--record", "weather/minima.csv", *at)
    shown = " ".join(run(*args, "--preview").stdout.split())
    assert text_of(folder, "season.toml") == before
    assert "Dropped from [frost]: last (2028-05-12), because the date the record gives" in shown
    assert "31 springs, 1996 to 2026" in shown
    assert run(*args).exit_code == 0
    assert read_plan(folder).said_frost == Frost(None, record=("weather/minima.csv",))
    date_typed = ("change", "season", "--last-frost", "2028-05-19", *at)
    shown = " ".join(run(*date_typed).stdout.split())
    assert "Dropped from [frost]: record (weather/minima.csv), because" in shown
    assert "Last frost Fri 19 May 2028: the average date" in shown
    assert read_plan(folder).frost == Frost(date(2028, 5, 19))
    assert "Dropped" not in run(*date_typed[:3], "2028-05-20", *at).stdout


def test_a_record_that_gives_no_date_changes_nothing(folder: Path) -> None:
    before, at = text_of(folder, "season.toml"), ("--season", str(folder))
    told = refused("change", "season", "--record", "weather/minima.csv", *at)
    assert "There is no such file" in told
    (folder / "few.csv").write_text("date,tmin_c\n2020-05-01,-1\n2020-05-02,3\n", "utf-8")
    assert "No spring lies wholly in it" in refused("change", "season", "--record", "few.csv", *at)
    both = ("--record", "few.csv", "--last-frost", "2028-05-19")
    assert "Give one of them" in refused("change", "season", *both, *at)
    assert text_of(folder, "season.toml") == before


def test_a_preview_reckons_with_the_record_of_minima(folder: Path) -> None:
    minima(folder)
    file = folder / "season.toml"
    old = text_of(folder, "season.toml").splitlines()
    lines = ['record = "weather/minima.csv"' if one.startswith("last =") else one for one in old]
    file.write_text("\n".join(lines))
    shown = run("change", "season", "--title", "Other", "--preview", "--season", str(folder))
    assert "No sowing moves." in shown.stdout, shown.stderr
    assert OpenSeason(folder, "bench").calendar()[0].window("sow") is not None


def test_of_a_season_too_all_that_is_wrong_is_told_at_once(folder: Path) -> None:
    before = text_of(folder, "season.toml")
    args = ("--last-frost", "5/12/2028", "--risk", "200", "--timezone", "Viena")
    told = refused("change", "season", *args, "--season", str(folder))
    assert all(one in told for one in ("--last-frost", "--risk", "--timezone", "Europe/Vienna"))
    told = refused("change", "season", "--work-days", "wed xyz", "--season", str(folder))
    assert "found 'xyz'" in told
    assert text_of(folder, "season.toml") == before


@pytest.mark.parametrize(
    ("typed", "now"),
    [
        (("lot", "add", "leek"), "new lot"),
        (("station", "add", "mat"), "new station"),
        (("new", "spring"), "new season FOLDER"),
        (("new", "lot", "leek", "--dry-run"), "--preview"),
    ],
)
def test_old_words_say_what_they_are_called_now(typed: tuple[str, ...], now: str) -> None:
    assert f"is now {now}" in refused(*typed).replace("`seedstart ", "").replace("`", "")
