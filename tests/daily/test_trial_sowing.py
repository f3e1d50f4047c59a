"""Trays of a trial are asked for on their day: one line a station, opened to its trays."""

from pathlib import Path

import pytest

from seasons import HEAD, lot
from seedstart.season.journal.entries import Counted, Measured, Sown
from seedstart.season.journal.sowing_entries import Plant
from walk import MakeWalk, Walk

TRIAL = """
kind = "brushing"
lots = ["kale"]
levels = ["none", "daily"]
trays = 2
plants = 8
begin = 2027-03-03
lies_on = "medium"
places = [
  { tray = "T1", level = "none", station = "mat", height = "24 cm" },
  { tray = "T2", level = "daily", station = "mat" },
  { tray = "T3", level = "daily", station = "mat" },
  { tray = "T4", level = "none", station = "mat" },
]
"""


@pytest.fixture
def found(walk: MakeWalk, tmp_path: Path) -> Walk:
    (tmp_path / "trials").mkdir()
    (tmp_path / "trials" / "touch.toml").write_text(TRIAL, "utf-8")
    return walk(lot("kale", "kale"), HEAD)


def trays(found: Walk, at: str) -> list[str]:
    return [one.tray or "" for one in found.checks(at, "sow") if one.key.startswith("sow trial")]


def test_one_line_of_a_station_sows_all_its_trays(found: Walk) -> None:
    assert trays(found, "3-02") == []
    (line,) = [one for one in found.round("3-03 08:00").checks if "trial touch" in one.key]
    assert line.key == "sow trial touch at mat"
    assert line.says == "sow the trial touch: T1, T2, T3 and 1 more"
    assert line.parts[0].says == (
        "sow 12 seeds of kale in T1 for the trial touch, 24 cm under the lamps"
    )
    sown = [one for one in found.tick(line, "3-03 09:00") if isinstance(one, Sown)]
    assert [(one.tray, one.seeds, one.purpose, one.trial) for one in sown] == [
        (tray, 12, "trial", "touch") for tray in ("T1", "T2", "T3", "T4")
    ]
    assert len({one.sowing for one in sown}) == 4
    assert trays(found, "3-03 10:00") == []


def test_a_tray_by_itself_is_sown_with_what_is_typed(found: Walk) -> None:
    found.round("3-04")
    one = next(each for each in found.checks("3-04", "sow") if each.tray == "T2")
    (sown,) = found.tick(one, "3-04 09:00", "15")
    assert isinstance(sown, Sown)
    assert (sown.seeds, sown.tray, sown.station) == (15, "T2", "mat")
    assert trays(found, "3-04 10:00") == ["T1", "T3", "T4"]


def test_once_a_tray_was_measured_the_others_are_no_longer_asked_for(found: Walk) -> None:
    found.write(
        Sown, "3-03", sowing="kale", lot="kale", seeds=12, tray="T1", station="mat",
        purpose="trial", trial="Touch",
    )  # fmt: skip
    found.write(Counted, "3-08", sowing="kale", standing=8)
    assert trays(found, "3-20") == ["T2", "T3", "T4"]
    plants = (Plant(height_mm=30, diameter_mm=2.0),)
    found.write(Measured, "3-29", sowing="kale", plants=plants)
    assert trays(found, "3-29 20:00") == []
