"""An open season while the clock goes on, is put forward and back, or was wrong."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from notebook import take_back
from seasons import HEAD, lot
from seedstart import clock
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Counted, Entry, Sown

SOWN = Sown(**BLANK, sowing="leek", lot="leek", seeds=24, station="shelf")
SetClock = Callable[[str], None]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "season.toml").write_text(HEAD, "utf-8")
    lots = lot("leek", "leek", want="48", station='"shelf"')
    (tmp_path / "lots.toml").write_text(lots, "utf-8")
    return tmp_path


@pytest.fixture
def set_clock(monkeypatch: pytest.MonkeyPatch) -> SetClock:
    """Sets the machine's clock to a moment with its offset."""

    def to(text: str) -> None:
        moment = datetime.fromisoformat(text)
        monkeypatch.setattr(clock, "now", lambda zone: moment.astimezone(ZoneInfo(zone)))

    return to


def counted(standing: int) -> Counted:
    return Counted(**BLANK, sowing="leek", standing=standing)


def counts(season: OpenSeason) -> list[int | None]:
    (leek,) = season.records().standings.values()
    return [count.entry.standing for count in leek.counts]


def taken(act: tuple[Entry, ...]) -> list[int | None]:
    return [entry.standing for entry in act if isinstance(entry, Counted)]


def test_with_the_clock_set_back_ids_rise_and_the_last_act_is_the_one_written_last(
    folder: Path, set_clock: SetClock
) -> None:
    set_clock("2027-03-20T08:00:00+01:00")
    season = OpenSeason(folder, "bench")
    season.record(SOWN)
    (first,) = season.record(counted(9))
    set_clock("2027-03-18T08:00:00+01:00")
    (second,) = season.record(counted(8))
    assert second.id > first.id
    assert second.at < first.at
    assert taken(take_back(season)) == [8]
    assert taken(take_back(season)) == [9]
    assert season.journal.by_id == OpenSeason(folder, "phone").journal.by_id


def test_what_is_recorded_in_the_doubled_hour_keeps_its_order(
    folder: Path, set_clock: SetClock
) -> None:
    season = None
    for standing, moment in enumerate(
        ("2027-10-31T02:50:00+02:00", "2027-10-31T02:10:00+01:00", "2027-10-31T02:55:00+01:00")
    ):
        set_clock(moment)
        season = season or OpenSeason(folder, "bench")
        if not standing:
            season.record(SOWN)
        season.record(counted(standing))
    assert season is not None
    lines = (folder / "journal" / "bench.jsonl").read_text("utf-8").splitlines()
    assert [line.partition('"at":"')[2][:25] for line in lines[1:]] == [
        "2027-10-31T02:50:00+02:00", "2027-10-31T02:10:00+01:00", "2027-10-31T02:55:00+01:00",
    ]  # fmt: skip
    assert counts(season) == counts(OpenSeason(folder, "phone")) == [0, 1, 2]


def test_after_midnight_it_is_another_day_without_opening_anew(
    folder: Path, set_clock: SetClock
) -> None:
    set_clock("2027-03-27T23:59:59+01:00")
    season = OpenSeason(folder, "bench")
    season.record(SOWN)
    assert season.today == date(2027, 3, 27)
    before = season.calendar()
    set_clock("2027-03-28T00:00:00+01:00")
    assert season.today == date(2027, 3, 28)
    (entry,) = season.record(counted(0))
    assert entry.at.date() == date(2027, 3, 28)
    fresh = OpenSeason(folder, "phone")
    assert season.calendar() == fresh.calendar()
    assert [row.lot for row in before] == [row.lot for row in season.calendar()]


@pytest.mark.parametrize("day", [date(2027, 3, 28), date(2027, 10, 31)])
def test_on_a_day_of_23_or_25_hours_its_end_and_its_noon_are_its_own(
    folder: Path, set_clock: SetClock, day: date
) -> None:
    set_clock("2028-01-01T08:00:00+01:00")
    season = OpenSeason(folder, "bench", day)
    (sown,) = season.record(SOWN)
    assert (sown.at.date(), sown.at.hour) == (day, 12)
    assert season.now().date() == day
    assert (season.now().hour, season.now().minute) == (23, 59)
    assert len(season.records().standings) == 1


def test_a_clock_that_was_ahead_is_found_out_and_nothing_is_lost(
    folder: Path, set_clock: SetClock
) -> None:
    set_clock("2027-09-01T08:00:00+02:00")
    season = OpenSeason(folder, "bench")
    season.record(SOWN)
    set_clock("2027-03-01T08:00:00+01:00")
    again = OpenSeason(folder, "bench")
    (count,) = again.record(counted(4))
    assert count.id > next(iter(again.records().standings))
    (leek,) = again.records().standings.values()
    assert (leek.standing, leek.emerged) == (4, 4), "counted before it was sown, by the clocks"
    assert again.calendar() == OpenSeason(folder, "phone").calendar()
