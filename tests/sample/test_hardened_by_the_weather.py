"""The sample season's cabbage lived through, morning by morning, in the weather that came."""

import shutil
from datetime import date, timedelta
from pathlib import Path

from seedstart import disk
from seedstart.daily.check import Check
from seedstart.daily.check_status import lines_and_parts
from seedstart.open_season import OpenSeason
from seedstart.season.journal.entries import BLANK, Hardened, Held

NAME = "cabbage-early.1"
# Day of April, what the check says, alerts of the night. By tests/reference/hardening_off.csv and
# the weather of tests/sample/sample_weather.py: gusts over 13.4 m/s (Delaware) keep in on the 12th,
# a day below 7.2 °C (California) counts half on the 13th, so its step is done again, the nights
# come last; the frame hears of frost the evening before. After ten days that count it waits out
# of doors for Wednesday, the next work day.
MORNINGS = (
    (10, "put {} out: 4 h in the shade (step 3 of 10)", ""),
    (11, "put {} out: 5 h in half sun (step 4 of 10)", "-1 °C"),
    (12, "keep {} in today (step 5 of 10)", "0 °C"),
    (13, "put {} out: 6 h in half sun; it counts half (step 5 of 10)", ""),
    (14, "put {} out: 6 h in half sun (step 5 of 10)", ""),
    (15, "put {} out: 7 h in half sun (step 6 of 10)", ""),
    (16, "put {} out: 8 h in half sun (step 7 of 10)", ""),
    (17, "put {} out: 9 h in the sun, the night too (step 8 of 10)", ""),
    (18, "put {} out: 10 h in the sun, the night too (step 9 of 10)", ""),
    (19, "put {} out: 11 h in the sun, the night too (step 10 of 10)", ""),
)
HARDENED = "{} is hardened off: out day and night till 22 Apr, or set it out under cover"
# The evenings of the ten days before, on which the frame is to be shut: frost, and nothing milder.
FROST = {
    29: "-2 °C", 30: "-4 °C", 31: "-3 °C", 1: "-2 °C", 2: "-1 °C", 3: "0 °C", 5: "0 °C",
}  # fmt: skip


def test_each_morning_of_the_cold_spell_reads_right_to_a_grower(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(disk.shipped("sample_season"), tmp_path / "season"))
    for number, says, night in MORNINGS:
        season = OpenSeason(folder, "bench", date(2026, 4, number))
        assert _asked(season) == says.format(NAME)
        assert _told(season) == night
        (one,) = (each for each in season.hardening() if each.name == NAME)
        # What the forecast showed on the 10th holds: nothing makes it later or sooner.
        assert one.set_out is not None
        assert (one.set_out.best, one.moved_days) == (date(2026, 4, 22), 6)
        _do(season)
    for number in (20, 21):
        season = OpenSeason(folder, "bench", date(2026, 4, number))
        assert _asked(season) == HARDENED.format(NAME)
        _do(season)
    ready = OpenSeason(folder, "bench", date(2026, 4, 22))
    (one,) = (each for each in ready.hardening() if each.name == NAME)
    assert one.verdict.sentence() == "Ready to set out: nothing is against it today."
    (check,) = (each for each in ready.round().checks if each.says.startswith(f"set out {NAME}"))
    assert check.says == f"set out {NAME} (28); or out for one more day"
    assert check.due == ready.today  # and not overdue since the day that the storm moved
    waiting = OpenSeason(folder, "bench", date(2026, 4, 24))
    (check,) = (each for each in waiting.round().checks if each.says.startswith(f"set out {NAME}"))
    assert check.due == date(2026, 4, 22)


def test_in_the_ten_days_before_the_frame_is_shut_on_nights_of_frost_alone() -> None:
    for ahead in range(10):
        season = OpenSeason(
            disk.shipped("sample_season"), "bench", date(2026, 3, 29) + timedelta(days=ahead)
        )
        assert _told(season) == FROST.get(season.today.day, ""), season.today
        assert NAME not in {one.name for one in season.hardening()}


def _asked(season: OpenSeason) -> str:
    (check,) = (one for one in _hardened(season.round().checks) if NAME in one.says)
    return check.says


def _told(season: OpenSeason) -> str:
    """What the one alert of the night says of it; empty where there is none."""
    told = [one.text for one in season.round().alerts if one.kind == "cold night"]
    assert len(told) <= 1
    return told[0].removeprefix("close it tonight: ").partition(",")[0] if told else ""


def _hardened(checks: tuple[Check, ...]) -> list[Check]:
    every = lines_and_parts(checks)
    return [one for one in every if one.what == "harden" and not one.parts and not one.done]


def _do(season: OpenSeason) -> None:
    """Do as the morning said."""
    for one in season.hardening():
        if one.today == "held":
            season.record(Held(**BLANK, sowing=one.name, why="storm"))
        else:
            season.record(Hardened(**BLANK, sowing=one.name, hours=one.hours, night=one.night))


def test_the_plan_moves_with_each_later_forecast() -> None:
    seen = {}
    for day in (date(2026, 4, 10), date(2026, 4, 11)):
        season = OpenSeason(disk.shipped("sample_season"), "bench", day)
        known = season.weather()
        seen[day] = known[day + timedelta(days=4)].tmin_c
    # The farther ahead, the milder than it comes (tests/sample/sample_weather.py).
    assert seen == {date(2026, 4, 10): 4.0, date(2026, 4, 11): 5.0}
