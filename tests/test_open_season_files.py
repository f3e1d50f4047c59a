"""Files that break, grow and go while a season is open: what was read last stands, and it is told.

Whoever may read everything (root) can be refused nothing: a folder in a file's place stands in.
"""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from notebook import take_back
from seasons import HEAD, lot
from seedstart.open_season import OpenSeason
from seedstart.problems import BadInputError
from seedstart.season.journal.entries import BLANK, Counted, Noted, Planned, Sown, Split

LOTS = lot("leek", "leek", want="48", station='"shelf"') + lot("kale", "kale")
SOWN = Sown(**BLANK, sowing="leek", lot="leek", seeds=24, station="shelf")
READINGS_HEAD = "time,station,quantity,value,mark\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    (tmp_path / "readings").mkdir()
    return tmp_path


def reading(minute: int, value: float, station: str = "shelf") -> str:
    at = datetime(2027, 3, 1, 8, tzinfo=UTC) + timedelta(minutes=minute)
    return f"{at.isoformat()},{station},soil_c,{value},\n"


def values(opened: OpenSeason, station: str = "shelf") -> list[float]:
    found = opened.readings().get((station, "soil_c"))
    return list(found.value) if found else []


def add(path: Path, text: str) -> None:
    with path.open("a", encoding="utf-8") as file:
        file.write(text)


def test_lots_half_saved_leave_what_was_planned_anew_in_force(folder: Path) -> None:
    opened, other = OpenSeason(folder, "bench"), OpenSeason(folder, "phone")
    other.record(Planned(**BLANK, lot="leek", to={"want": 99}, said={"want": 48}))
    opened.catch_up()
    add(folder / "lots.toml", "\n[[lot]")
    other.record(SOWN)  # an entry that names a lot
    assert opened.catch_up()
    assert opened.plan.lots_by_name["leek"].want == 99
    assert [problem.file for problem in opened.plan_problems] == ["lots.toml"]
    opened.record(Planned(**BLANK, lot="kale", to={"want": 7}, said={"want": None}))
    assert opened.plan.lots_by_name["kale"].want == 7
    assert opened.known().keys_of("lot", "leek")["want"] == 48
    (folder / "lots.toml").write_text(LOTS, "utf-8")
    opened.catch_up()
    assert opened.plan_problems == ()
    assert opened.plan.lots_by_name["leek"].want == 99


def test_lots_that_went_leave_the_plan_in_force_too(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    opened.record(Planned(**BLANK, lot="leek", to={"want": 99}, said={"want": 48}))
    (folder / "season.toml").unlink()
    opened.record(SOWN)
    assert opened.plan.lots_by_name["leek"].want == 99
    assert opened.plan_problems


def test_a_journal_that_went_takes_what_it_planned_with_it(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    OpenSeason(folder, "phone").record(
        Planned(**BLANK, lot="leek", to={"want": 99}, said={"want": 48})
    )
    opened.catch_up()
    (folder / "journal" / "phone.jsonl").unlink()
    assert opened.catch_up()
    assert opened.plan.lots_by_name["leek"].want == 48


def test_a_journal_that_cannot_be_read_keeps_what_was_read_of_it(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    OpenSeason(folder, "phone").record(SOWN)
    opened.catch_up()
    path = folder / "journal" / "phone.jsonl"
    kept = path.read_bytes()
    path.unlink()
    path.mkdir()
    assert opened.catch_up()
    assert not opened.catch_up()  # it was said
    assert "phone.jsonl" in str(opened.journal_problems[0])
    opened.record(Counted(**BLANK, sowing="leek", standing=7))
    assert [one.standing for one in opened.records().standings.values()] == [7]
    with pytest.raises(BadInputError, match=r"phone\.jsonl"):
        OpenSeason(folder, "fresh")
    path.rmdir()
    path.write_bytes(kept)
    assert opened.catch_up()
    assert opened.journal_problems == ()
    assert [one.standing for one in opened.records().standings.values()] == [7]


def test_a_line_edited_to_the_same_length_and_one_appended_before_the_next_look_both_count(
    folder: Path,
) -> None:
    other = OpenSeason(folder, "phone")
    other.record(SOWN)
    path = folder / "journal" / "phone.jsonl"
    for _ in range(3):  # so that what is edited lies far from the end
        other.record(Noted(**BLANK, text="damp"))
    opened = OpenSeason(folder, "bench")
    before = path.read_text("utf-8")
    path.write_text(before.replace('"seeds":24', '"seeds":36'), "utf-8")
    OpenSeason(folder, "phone").record(Counted(**BLANK, sowing="leek", standing=7))
    opened.catch_up()
    (leek,) = opened.records().standings.values()
    assert (leek.seeds, leek.standing) == (36, 7)


def test_readings_edited_to_the_same_length_and_appended_to_before_the_next_look_both_count(
    folder: Path,
) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD + "".join(reading(minute, 21.5) for minute in range(9)), "utf-8")
    opened = OpenSeason(folder, "bench")
    assert values(opened)[0] == 21.5
    edited = path.read_text("utf-8").replace("21.5", "18.5", 1)
    path.write_text(edited + reading(9, 22.5), "utf-8")
    opened.catch_up()
    assert [values(opened)[0], values(opened)[-1]] == [18.5, 22.5]


def test_a_line_of_the_journal_that_is_none_is_told_until_it_is_mended(folder: Path) -> None:
    other = OpenSeason(folder, "phone")
    other.record(SOWN)
    path = folder / "journal" / "phone.jsonl"
    whole = path.read_text("utf-8")
    add(path, '{"kind":"dreamt"}\n{"kind":"wat')
    opened = OpenSeason(folder, "bench")
    assert [problem.line for problem in opened.journal_problems] == [2, 3]
    add(path, "\n")  # the last line was being written, or is told once
    assert opened.catch_up()
    assert [problem.line for problem in opened.journal_problems] == [2, 3]
    path.write_text(whole, "utf-8")
    assert opened.catch_up()
    assert opened.journal_problems == ()


def test_a_last_line_read_half_written_is_told_no_more_once_it_is_whole(folder: Path) -> None:
    other = OpenSeason(folder, "phone")
    other.record(SOWN)
    path = folder / "journal" / "phone.jsonl"
    whole = path.read_bytes()
    path.write_bytes(whole[:-9])
    opened = OpenSeason(folder, "bench")
    assert opened.journal_problems
    path.write_bytes(whole)
    opened.catch_up()
    assert opened.journal_problems == ()
    assert len(opened.records().standings) == 1


def test_a_journal_cut_short_while_another_cannot_be_read_waits_for_both(folder: Path) -> None:
    opened = OpenSeason(folder, "bench")
    OpenSeason(folder, "phone").record(SOWN)
    opened.record(Noted(**BLANK, text="one"))
    opened.record(Noted(**BLANK, text="two"))
    own, other = folder / "journal" / "bench.jsonl", folder / "journal" / "phone.jsonl"
    own.write_bytes(own.read_bytes().splitlines(keepends=True)[0])
    kept = other.read_bytes()
    other.unlink()
    other.mkdir()
    opened.catch_up()
    assert len(opened.journal.by_id) == 3
    other.rmdir()
    other.write_bytes(kept)
    assert opened.catch_up()
    assert len(opened.journal.by_id) == 2


def test_readings_are_read_on_from_where_they_ended(folder: Path) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD + reading(0, 20.5) + reading(1, 21.0), "utf-8")
    opened = OpenSeason(folder, "bench")
    before = opened.readings()
    assert values(opened) == [20.5, 21.0]
    assert not opened.catch_up()
    assert opened.readings() is before
    add(path, reading(2, 21.5) + reading(0, 9.0, "mat")[:20])  # a line half written
    assert opened.catch_up()
    assert values(opened) == [20.5, 21.0, 21.5]
    assert [problem.line for problem in opened.reading_problems] == [5]
    add(path, reading(0, 9.0, "mat")[20:])
    shelf = opened.readings()["shelf", "soil_c"]
    opened.catch_up()
    assert opened.reading_problems == []
    assert values(opened, "mat") == [9.0]
    assert list(opened.readings()["shelf", "soil_c"].at_s) == list(shelf.at_s)
    assert opened.readings() == OpenSeason(folder, "fresh").readings()


def test_a_last_reading_without_a_line_end_counts_at_once_and_once(folder: Path) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text((READINGS_HEAD + reading(0, 20.5)).rstrip("\n"), "utf-8")
    opened = OpenSeason(folder, "bench")
    assert values(opened) == [20.5]
    add(path, "\n" + reading(1, 21.0))
    opened.catch_up()
    assert values(opened) == [20.5, 21.0]


@pytest.mark.parametrize("value", ["19.5", "7.25"], ids=["same length", "another length"])
def test_readings_edited_in_place_are_read_whole(folder: Path, value: str) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD + reading(0, 20.5) + reading(1, 21.5), "utf-8")
    opened = OpenSeason(folder, "bench")
    assert values(opened) == [20.5, 21.5]
    path.write_text(path.read_text("utf-8").replace("20.5", value), "utf-8")
    opened.catch_up()
    assert values(opened) == [float(value), 21.5]


def test_late_rows_and_rows_of_a_second_file_find_their_place(folder: Path) -> None:
    one, two = folder / "readings" / "a.csv", folder / "readings" / "b.csv"
    one.write_text(READINGS_HEAD + reading(2, 22.0), "utf-8")
    opened = OpenSeason(folder, "bench")
    assert values(opened) == [22.0]
    add(one, reading(0, 20.0))
    two.write_text(READINGS_HEAD + reading(1, 21.0) + reading(2, 99.0), "utf-8")
    opened.catch_up()
    assert values(opened) == [20.0, 21.0, 22.0]  # of one time the earlier file holds
    two.unlink()
    opened.catch_up()
    assert values(opened) == [20.0, 22.0]


def test_readings_that_cannot_be_read_keep_what_was_read_of_them(folder: Path) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD + reading(0, 20.5), "utf-8")
    opened = OpenSeason(folder, "bench")
    opened.round()
    path.unlink()
    path.symlink_to("nowhere")
    assert opened.catch_up()
    assert not opened.catch_up()
    opened.round()
    assert values(opened) == [20.5]
    assert "a.csv" in str(opened.reading_problems[0])
    with pytest.raises(BadInputError, match=r"a\.csv"):
        OpenSeason(folder, "fresh").readings()


def test_a_season_whose_drive_went_stands_as_it_was_read_last(folder: Path) -> None:
    (folder / "readings" / "a.csv").write_text(READINGS_HEAD + reading(0, 20.5), "utf-8")
    opened = OpenSeason(folder, "bench")
    opened.record(SOWN)
    before = opened.round(), opened.calendar()
    away = folder.rename(folder.with_name("away"))
    assert opened.catch_up()
    assert (opened.round(), opened.calendar()) == before
    assert values(opened) == [20.5]
    assert {problem.file for problem in opened.journal_problems} == {"journal"}
    assert {problem.file for problem in opened.reading_problems} == {"readings"}
    assert opened.plan_problems
    away.rename(folder)
    assert opened.catch_up()
    assert not opened.journal_problems
    assert not opened.reading_problems
    assert not opened.plan_problems


def test_more_than_may_be_read_at_once_is_left_for_a_thread(folder: Path) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD, "utf-8")
    opened = OpenSeason(folder, "bench")
    assert values(opened) == []
    opened.reads_at_once = 100
    add(path, "".join(reading(minute, 20.0) for minute in range(10)))
    assert not opened.catch_up()
    assert opened.readings_folder.is_behind
    assert opened.readings_folder.read_on()
    assert len(values(opened)) == 10
    assert not opened.readings_folder.is_behind


def test_readings_taken_in_from_a_thread_say_what_a_fresh_look_says(folder: Path) -> None:
    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD, "utf-8")
    opened = OpenSeason(folder, "bench", date(2027, 3, 20))
    opened.record(SOWN)
    opened.round()
    opened.reads_at_once = 100
    add(path, "".join(reading(minute, 20.0) for minute in range(10)))
    opened.catch_up()
    before, take_in = opened.is_behind, opened.look_ahead()()
    assert (before, opened.is_behind) == (True, False), "one look ahead is enough"
    assert values(opened) == []
    opened.record(Counted(**BLANK, sowing="leek", standing=3))  # which was not known there
    add(path, reading(10, 20.0))
    take_in()
    assert len(values(opened)) == 10
    assert opened.catch_up()
    fresh = OpenSeason(folder, "bench", date(2027, 3, 20))
    assert opened.round() == fresh.round()
    assert opened.calendar() == fresh.calendar()
    assert values(opened) == values(fresh)


def test_a_fault_in_what_a_thread_derives_is_left_to_whoever_asks_for_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise ZeroDivisionError("of a test")

    path = folder / "readings" / "a.csv"
    path.write_text(READINGS_HEAD, "utf-8")
    opened = OpenSeason(folder, "bench")
    opened.round()
    add(path, reading(1, 20.0))
    with monkeypatch.context() as broken:
        broken.setattr("seedstart.daily.derived.Rounds.round", fails)
        opened.look_ahead()()()
        with pytest.raises(ZeroDivisionError, match="of a test"):
            opened.round()
    assert opened.round() == OpenSeason(folder, "bench").round()


def test_a_daughter_whose_mother_was_taken_back_is_no_longer_hardened_off(folder: Path) -> None:
    bench, phone = OpenSeason(folder, "bench", date(2027, 5, 1)), OpenSeason(folder, "phone")
    at = datetime(2027, 2, 1, 9, tzinfo=bench.zone)
    bench.record(SOWN, at=at)
    phone.catch_up()
    phone.record(Counted(**BLANK, sowing="leek", standing=20), at=at + timedelta(days=14))
    split = Split(**BLANK, sowing="leek", plants=8, into="leek.1")
    phone.record(split, at=at + timedelta(days=60))
    bench.catch_up()
    assert [one.name for one in bench.hardening()] == ["leek", "leek.1"]
    assert "leek.1" in str(bench.round())
    take_back(bench)  # the sowing, with all that came of it
    fresh = OpenSeason(folder, "fresh", date(2027, 5, 1))
    assert bench.hardening() == fresh.hardening()
    assert bench.round() == fresh.round()


def record_of_minima(last_frost: int) -> str:
    """Ten invented years, whose last frosts lie around that day of the year."""
    first, rows = date(2011, 1, 1).toordinal(), ["date,tmin_c"]
    for number in range(3650):
        day = date.fromordinal(first + number)
        last = last_frost + day.year % 3 - 1
        frosty = day.timetuple().tm_yday <= last or day.month > 10
        rows.append(f"{day},{number * 37 % 61 / 20 + (-4 if frosty else 4):.1f}")
    return "\n".join(rows)


def test_dates_of_a_record_are_those_of_its_file_as_it_is(folder: Path) -> None:
    season, record = folder / "season.toml", folder / "m.csv"
    season.write_text(HEAD.replace("last = 2027-05-12", 'record = "m.csv"'), "utf-8")
    record.write_text(record_of_minima(120), "utf-8")
    opened = OpenSeason(folder, "bench", date(2027, 3, 1))
    assert opened.plan.frost is not None
    assert opened.plan.frost.last == date(2027, 4, 30)
    record.write_text(record_of_minima(130), "utf-8")
    assert opened.catch_up()
    assert opened.plan.frost is not None
    assert opened.plan.frost.last == date(2027, 5, 10)
    record.write_text("nothing", "utf-8")
    opened.catch_up()
    assert [one.file for one in opened.record_problems] == ["m.csv"]
    season.write_text(HEAD, "utf-8")
    opened.catch_up()
    assert opened.plan.frost is not None
    assert (opened.plan.frost.last, opened.record_problems) == (date(2027, 5, 12), ())
