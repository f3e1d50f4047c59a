"""A grower's own factor in the calendar and in progress, and what was set anew at a station."""

from array import array
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.row import Row
from seedstart.planning.calendar.season_today import rows_today
from seedstart.planning.prospects.to_come import own_factor_of, progress_of, warmth_of
from seedstart.season.journal.entries import BLANK, Adjusted, Counted, Sown
from seedstart.season.journal.journal_lines import encode
from seedstart.season.loggers.series import Readings, Series
from seedstart.season.loggers.tidy_file import write_tidy
from seedstart.season.plan.season_file import Season
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.warmth import Progress

# emergence_days.csv: tomato at 25 °C is up in 6 days, at 5 °C never.
TOMATO_DAYS = 6
LOTS = lot("tomato", "tomato", station='"mat"') + lot("cabbage", "cabbage", station='"mat"')
PLAN = season(LOTS, HEAD.replace('"24C"', '"25C"'))
NOW = moment("4-01")
OWN = OwnFactor(1.9, 1.5, 2.4, 4)


def measured(days: int = 31) -> Readings:
    """The mat at 25 °C, hour by hour from the first of March."""
    start = moment("3-01").timestamp()
    times = array("d", [start + 3600 * hour for hour in range(24 * days)])
    series = Series("mat", "soil_c", times, array("d", [25.0] * len(times)), bytes(len(times)))
    return {("mat", "soil_c"): series}


def closed_after(*half_days: int) -> Notebook:
    """Tomatoes sown on the first of March, half of each up so many days later, all a day after."""
    book = Notebook()
    for number, half in enumerate(half_days):
        name = f"tomato {number}"
        book.write(Sown, "3-01", sowing=name, lot="tomato", seeds=20, station="mat")
        for days, standing in ((half - 1, 0), (half, 10), (half + 1, 20)):
            at = moment("3-01") + timedelta(days=days)
            book.write(Counted, at, sowing=name, standing=standing, final=standing == 20)
    return book


def own_of(book: Notebook, readings: Readings, plan: Season = PLAN) -> OwnFactor | None:
    return own_factor_of(plan, book.records(LOTS), warmth_of(plan, readings), NOW)


def rows(book: Notebook, own: OwnFactor | None = None) -> dict[str, Row]:
    found = rows_today(PLAN, book.records(LOTS), {}, date(2027, 1, 2), own)
    return {str(row.lot): row for row in found}


def up_after(row: Row) -> int:
    sow, emerge = row.window("sow"), row.window("emerge")
    assert sow is not None
    assert emerge is not None
    return (emerge.best - sow.best).days


def test_closed_sowings_on_measured_warmth_move_the_factor() -> None:
    # Tomato at 25 °C: 6 days (Harrington & Minges 1954); 12 and 10 in these trays.
    found = own_of(closed_after(12, 10), measured())
    assert found is not None
    assert found.sowings == 2
    assert 1.3 < found.factor < 2


def test_without_data_of_ones_own_there_is_no_factor() -> None:
    assert own_of(closed_after(12), {}) is None
    assert own_of(Notebook(), measured()) is None


def test_a_sowing_where_nothing_can_come_up_says_nothing() -> None:
    # emergence_days.csv: at 5 °C no tomato comes up.
    too_cold = season(LOTS, HEAD.replace('"24C"', '"5C"'))
    assert own_of(closed_after(12), measured(), too_cold) is None


def test_the_calendar_counts_with_it_on_both_sides_of_the_sum_and_says_so() -> None:
    usual, own = rows(Notebook()), rows(Notebook(), OWN)
    expected = [round(TOMATO_DAYS * factor) for factor in (1.6, OWN.factor)]
    assert [up_after(usual["tomato"]), up_after(own["tomato"])] == expected
    assert usual["tomato"].window("set_out") == own["tomato"].window("set_out")
    said = [reason.text for reason in own["tomato"].reasons if reason.step == "emerge"]
    assert "times 1.9 for your own trays" in said[0]
    assert said[1] == "Your own trays: 1.9 × the table, from 4 sowings (your own figure)."
    assert not any("our own trays" in reason.text for reason in usual["tomato"].reasons)


def test_what_has_been_sown_is_expected_by_it_too() -> None:
    book = Notebook()
    one = book.write(Sown, "3-20", sowing="tomato", lot="tomato", seeds=20, station="mat")
    happened, warmth = book.records(LOTS), warmth_of(PLAN, measured())
    found: list[Progress] = []
    for own in (None, OWN):
        progress = progress_of(
            happened.standings[one.id], PLAN, happened, warmth, moment("3-23"), own
        )
        assert progress is not None
        found.append(progress)
    usual, mine = found
    assert [usual.share, mine.share] == pytest.approx(
        [3 / TOMATO_DAYS / 1.6, 3 / TOMATO_DAYS / 1.9]
    )
    assert usual.expected is not None
    assert mine.expected is not None
    assert usual.expected.best < mine.expected.best
    assert usual.expected.earliest == mine.expected.earliest, "at best is the table in any trays"


def test_a_station_set_anew_moves_what_is_still_to_be_sown() -> None:
    book = Notebook()
    book.write(Adjusted, "1-01", station="mat", thermostat_c=20.0)
    cooler = rows(book)["tomato"]
    assert up_after(cooler) == 13  # 8 days at 20 °C (Harrington & Minges 1954) × 1.6
    assert any("(20 °C)" in reason.text for reason in cooler.reasons)


@pytest.mark.parametrize(
    ("at", "setting"), [("1-01", {"mat": "off"}), ("1-03", {"thermostat_c": 20.0})]
)
def test_a_mat_switched_off_and_a_setting_of_a_later_day_change_nothing_to_come(
    at: str, setting: dict[str, Any]
) -> None:
    book = Notebook()
    book.write(Adjusted, at, station="mat", **setting)
    assert rows(book)["tomato"].steps == rows(Notebook())["tomato"].steps


def own_trays(opened: OpenSeason) -> list[str]:
    """What an open season's calendar says of the grower's own trays, for cabbages."""
    (row,) = (row for row in opened.calendar() if row.lot == "cabbage")
    return [reason.text for reason in row.reasons if "Your own trays" in reason.text]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A season in which two sowings of tomatoes are closed, and nothing was measured."""
    (tmp_path / "season.toml").write_text(HEAD.replace('"24C"', '"25C"'), "utf-8")
    (tmp_path / "lots.toml").write_text(LOTS, "utf-8")
    (tmp_path / "journal").mkdir()
    (tmp_path / "journal" / "bench.jsonl").write_bytes(encode(closed_after(12, 10).entries))
    (tmp_path / "readings").mkdir()
    return tmp_path


def test_an_open_season_counts_with_it_once_the_warmth_is_there(folder: Path) -> None:
    opened = OpenSeason(folder, "phone", on=NOW.date())
    assert own_trays(opened) == []
    (folder / "readings" / "mat.csv").write_bytes(write_tidy(measured(), "Europe/Vienna"))
    assert opened.catch_up()
    (said,) = own_trays(opened)
    assert said.endswith("× the table, from 2 sowings (your own figure).")
    again = OpenSeason(folder, "phone", on=NOW.date())
    assert (opened.calendar(), opened.progress()) == (again.calendar(), again.progress())


def test_an_open_season_knows_what_was_set_anew_as_one_opened_afresh_does(folder: Path) -> None:
    opened = OpenSeason(folder, "phone", on=NOW.date())
    before = opened.calendar()
    opened.record(Adjusted(**BLANK, station="mat", thermostat_c=20.0))
    assert opened.calendar() != before
    assert opened.calendar() == OpenSeason(folder, "phone", on=NOW.date()).calendar()
