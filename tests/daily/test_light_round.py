"""Lamps in the round: raised as plants grow; alerts where readings say too little."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import lot
from seedstart.season.journal.entries import Adjusted, Checked, Counted, Measured, Moved, Read, Sown
from seedstart.season.journal.sowing_entries import Plant
from walk import MakeWalk, Walk

HEAD = """
timezone = "Europe/Vienna"

[frost]
last = 2027-05-12

[[station]]
name = "shelf"
kind = "shelf"
expected = "20C"
area = "1.2 x 0.45 m"
lamps = [{ count = 4, watts = 18, ppf_umol_s = 30, length = "1.2 m", height = "30 cm", hours = 16, spacing = "10 cm" }]

[[station]]
name = "sill"
kind = "sill"
"""  # noqa: E501 - one lamp is one table


def growing(walk: MakeWalk, head: str = HEAD, crop: str = "tomato") -> Walk:
    found = walk(lot("tom", crop), head)
    found.write(Sown, "3-01", sowing="tom", lot="tom", seeds=12, station="shelf")
    found.write(Counted, "3-08 08:00", sowing="tom", standing=10)
    return found


def test_once_a_week_somebody_looks_how_near_the_leaves_are(walk: MakeWalk) -> None:
    found = growing(walk)
    assert found.checks("3-14", "raise lamps") == []
    check = found.check("3-15", "raise lamps")
    assert check.says == "leaves within 8 cm of the lamps? Raise them, or lower the trays"
    assert check.why[0].text == "the lamps hung 30 cm over the leaves by the plan"
    (entry,) = found.tick(check, "3-15 09:00")
    assert isinstance(entry, Checked)
    assert found.checks("3-21", "raise lamps") == []
    assert found.check("3-22", "raise lamps").due == date(2027, 3, 22)


@pytest.mark.parametrize(
    ("typed", "key", "value"),
    [("25 cm", "lamp_height_mm", 250), ("14 h", "lamp_hours", 14), ("70 %", "lamp_percent", 70)],
)
def test_the_new_setting_is_typed_and_begins_another_week(
    walk: MakeWalk, typed: str, key: str, value: float
) -> None:
    found = growing(walk)
    (entry,) = found.tick(found.check("3-16", "raise lamps"), "3-16 09:00", typed)
    assert isinstance(entry, Adjusted)
    assert getattr(entry, key) == value
    if key == "lamp_height_mm":
        assert [one.says for one in found.done("3-16 10:00", "raise lamps")] == [
            "lamps set to 25 cm over the leaves"
        ]
        assert found.checks("3-22", "raise lamps") == []
        assert len(found.checks("3-23", "raise lamps")) == 1


def test_where_plants_were_measured_their_growth_says_the_day(walk: MakeWalk) -> None:
    found = growing(walk)
    found.write(Adjusted, "3-16 08:00", station="shelf", lamp_height_mm=130)
    for day, mm in (("3-12 08:00", 20.0), ("3-16 08:00", 60.0)):
        found.write(Measured, day, sowing="tom", plants=(Plant(height_mm=mm, diameter_mm=2),))
    # 40 mm in 4 days: 10 mm a day, so 13 cm are 8 after 5 days, on the 21st
    assert found.checks("3-20 07:00", "raise lamps") == []
    check = found.check("3-21 08:00", "raise lamps")
    assert check.why[0].text == "about 8 cm by now: tom grew 10.0 mm a day"


def test_nothing_is_asked_where_nothing_is_up(walk: MakeWalk) -> None:
    found = walk(lot("tom", "tomato"), HEAD)
    found.write(Sown, "3-01", sowing="tom", lot="tom", seeds=12, station="shelf")
    assert found.checks("3-20", "raise lamps") == []
    there = growing(walk)
    there.write(Moved, "3-10", sowing="tom", station="sill")
    assert there.checks("3-20", "raise lamps") == []


def test_readings_below_the_need_are_an_alert_until_it_is_seen(walk: MakeWalk) -> None:
    found = growing(walk)
    assert found.alerts("3-12", "too little light") == []  # nobody has read anything
    for _ in range(3):
        found.write(
            Read, "3-12 08:00", station="shelf", quantity="ppfd_umol", value=90,
            from_left_mm=600, from_front_mm=225,
        )  # fmt: skip
    alert = found.alert("3-12 09:00", "too little light")
    # Case A02: 133 in the middle of four strips; 90 read there, so about 0.68 of 101.6, 16 h.
    assert alert.text.startswith("4.0 mol a day at the leaf instead of 8: tom will stretch")
    assert "3 readings" in alert.basis
    found.write(Adjusted, "3-13 08:00", station="shelf", lamp_height_mm=50, lamp_hours=18)
    assert found.alerts("3-13 09:00", "too little light") == []


def test_a_logger_of_light_says_too_that_they_get_too_little(walk: MakeWalk) -> None:
    found = growing(walk)
    hours = [(moment("3-12 08:00") - timedelta(hours=back), back % 24) for back in range(72)]
    found.log("shelf", "ppfd_umol", [(at, 90.0 if back < 16 else 0.0) for at, back in hours])
    alert = found.alert("3-12 09:00", "too little light")
    assert alert.text.startswith("5.2 mol a day")  # 90 µmol for 16 h: 5.184 mol
    assert alert.since == moment("3-12 08:00")


def test_readings_speak_where_nobody_has_described_the_lamps(walk: MakeWalk) -> None:
    bare = HEAD.replace('area = "1.2 x 0.45 m"\n', "")
    found = growing(walk, bare)
    found.write(Read, "3-12 08:00", station="shelf", quantity="lux", value=6900)
    # 6900 lx over 69: 100 µmol; 16 h of it 5.8 mol
    assert found.alert("3-12 09:00", "too little light").text.startswith("5.8 mol")
    found.write(Read, "3-13 08:00", station="shelf", quantity="lux", value=20_000)
    assert found.alerts("3-13 09:00", "too little light") == []  # the mean is 13 450 lx


def test_a_day_longer_than_the_crop_stands_is_an_alert(walk: MakeWalk) -> None:
    found = growing(walk)
    found.write(Adjusted, "3-10 08:00", station="shelf", lamp_hours=20)
    alert = found.alert("3-10 09:00", "day too long")
    assert alert.remedies == ("set the timer to 18 h or less",)
    assert "Lanoue" in alert.basis
    pepper = growing(walk, crop="pepper")
    pepper.write(Adjusted, "3-10 08:00", station="shelf", lamp_hours=20)
    assert pepper.alerts("3-10 09:00", "day too long") == []
