from datetime import date
from pathlib import Path

import pytest

from notebook import take_back
from seasons import HEAD, lot
from seedstart import disk
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.season.journal.entries import BLANK, Counted, Lost, Planned, Sown

LOTS = lot("leek", "leek", want="48", station='"shelf"') + lot("kale", "kale")
SOWN = Sown(**BLANK, sowing="leek", lot="leek", seeds=24, station="shelf")


def counted(standing: int) -> Counted:
    return Counted(**BLANK, sowing="leek", standing=standing)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    return tmp_path


def standing(opened: OpenSeason) -> dict[str, int]:
    return {one.name: one.standing for one in opened.records().standings.values()}


def test_what_was_recorded_is_there_at_once_and_when_read_afresh(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(SOWN)
    opened.record(counted(18))
    assert standing(opened) == {"leek": 18}
    assert standing(OpenSeason(folder, "phone")) == {"leek": 18}


def test_what_another_wrote_is_caught_up_with(folder: Path) -> None:
    bench, phone = OpenSeason(folder, "bench"), OpenSeason(folder, "phone")
    bench.record(SOWN)
    assert standing(phone) == {}
    assert phone.catch_up()
    assert standing(phone) == {"leek": 0}
    phone.record(counted(7))
    assert bench.catch_up()
    assert not bench.catch_up()
    assert standing(bench) == {"leek": 7}
    assert sorted(path.name for path in (folder / "journal").iterdir()) == [
        "bench.jsonl",
        "phone.jsonl",
    ]


def test_the_last_act_is_taken_back_whole_and_only_ones_own(folder: Path) -> None:
    bench, phone = OpenSeason(folder, "bench"), OpenSeason(folder, "phone")
    bench.record(SOWN)
    bench.record(counted(9), Lost(**BLANK, sowing="leek", plants=2))
    phone.record(counted(20))
    taken = take_back(bench)
    assert [type(entry) for entry in taken] == [Counted, Lost]
    assert standing(bench) == {"leek": 20}
    assert bench.records().standings[next(iter(bench.records().standings))].left == {}


def test_on_a_day_only_what_had_happened_by_then_counts(folder: Path) -> None:
    first = OpenSeason(folder, "bench", date(2027, 3, 1))
    first.record(SOWN)
    later = OpenSeason(folder, "bench", date(2027, 3, 12))
    later.record(counted(11))
    assert standing(OpenSeason(folder, "bench", date(2027, 2, 28))) == {}
    assert standing(OpenSeason(folder, "bench", date(2027, 3, 11))) == {"leek": 0}
    assert standing(OpenSeason(folder, "bench", date(2027, 3, 12))) == {"leek": 11}


def test_a_plan_broken_while_open_leaves_the_last_good_one_and_recording_goes_on(
    folder: Path,
) -> None:
    opened = OpenSeason(folder, "bench")
    (folder / "season.toml").write_text("title = ", "utf-8")
    opened.record(SOWN)
    assert "Not TOML" in str(opened.plan_problems[0]) or opened.plan_problems
    assert opened.plan.lots[0].name == "leek"
    (folder / "season.toml").write_text(HEAD, "utf-8")
    opened.catch_up()
    assert opened.plan_problems == ()


def test_what_was_planned_anew_is_in_force_at_once(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(Planned(**BLANK, lot="leek", to={"want": 80}, said={"want": 48}))
    assert opened.plan.lots[0].want == 80
    take_back(opened)
    assert opened.plan.lots[0].want == 48


def test_what_the_disk_refuses_is_not_recorded(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(SOWN)

    def full(_path: Path, _data: bytes) -> bool:
        raise disk.NotRecorded(_path, OSError(28, "No space left on device"))

    monkeypatch.setattr(disk, "append", full)
    with pytest.raises(disk.NotRecorded, match="Not recorded: the disk is full"):
        opened.record(counted(18))
    assert standing(opened) == {"leek": 0}


def test_a_file_that_got_shorter_is_read_all_over(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(SOWN)
    opened.record(counted(18))
    path = folder / "journal" / "bench.jsonl"
    first_line = path.read_bytes().splitlines(keepends=True)[0]
    path.write_bytes(first_line)
    opened.catch_up()
    assert standing(opened) == {"leek": 0}


def test_a_last_line_whose_end_an_editor_stripped_still_counts(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(SOWN)
    opened.record(counted(18))
    path = folder / "journal" / "bench.jsonl"
    path.write_bytes(path.read_bytes().rstrip(b"\n"))
    again = OpenSeason(folder, "bench")
    assert standing(again) == {"leek": 18}
    again.record(counted(20))
    assert standing(again) == standing(OpenSeason(folder, "phone")) == {"leek": 20}


def test_a_station_that_was_renamed_keeps_its_readings(folder: Path) -> None:
    (folder / "readings").mkdir()
    head = "time,station,quantity,value,mark\n"
    for name, at, station in (("a", "08", "mat"), ("b", "09", "warm mat")):
        line = f"2027-03-01T{at}:00:00+01:00,{station},soil_c,2{at[1]}.5,\n"
        (folder / "readings" / f"{name}.csv").write_text(head + line, "utf-8")
    opened = OpenSeason(folder, "bench")
    assert set(opened.readings()) == {("mat", "soil_c"), ("warm mat", "soil_c")}
    renamed = HEAD.replace('name = "mat"', 'name = "warm mat"\nwas = ["mat"]')
    (folder / "season.toml").write_text(renamed, "utf-8")
    opened.catch_up()
    for season in (opened, OpenSeason(folder, "phone")):
        (series,) = season.readings().values()
        assert (series.station, list(series.value)) == ("warm mat", [28.5, 29.5])


def test_with_broken_lots_the_rest_opens_and_the_faults_are_kept(folder: Path) -> None:
    OpenSeason(folder, "bench").record(SOWN)
    good = (folder / "lots.toml").read_bytes()
    (folder / "lots.toml").write_bytes(good + b"[[lot]]\nname = ")
    with pytest.raises(BadInputError, match=r"lots\.toml"):
        OpenSeason(folder, "bench")
    opened = OpenSeason(folder, "bench", without_lots=True)
    assert not opened.plan.lots
    assert [problem.file for problem in opened.plan_problems] == ["lots.toml"]
    assert standing(opened) == {"leek": 0}
    (folder / "lots.toml").write_bytes(good)
    assert opened.catch_up()
    assert [one.name for one in opened.plan.lots] == ["leek", "kale"]
    assert opened.plan_problems == ()


def test_without_lots_a_broken_plan_is_still_refused(folder: Path) -> None:
    (folder / "season.toml").write_text("title = ", "utf-8")
    with pytest.raises(BadInputError, match=r"season\.toml"):
        OpenSeason(folder, "bench", without_lots=True)
