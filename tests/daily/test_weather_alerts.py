"""Nights and winds that plants out of doors cannot stand, told the evening before."""

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.check import Alert
from seedstart.season.journal.entries import (
    Counted,
    Forecast,
    Hardened,
    Moved,
    PrickedOut,
    SetOut,
    Sown,
)
from walk import MakeWalk, Walk

OUTSIDE = (
    HEAD
    + """
[[station]]
name = "yard"
kind = "outdoors"

[[station]]
name = "frame"
kind = "frame"
expected = "12C"
"""
)
LOTS = lot("basil", "basil", station='"shelf"') + lot("cabbage", "cabbage", station='"shelf"')


def standing(walk: MakeWalk, name: str, at: str) -> Walk:
    found = walk(LOTS, OUTSIDE)
    found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station="shelf")
    found.write(Counted, "3-20", sowing=name, standing=20)
    found.write(Moved, "5-01", sowing=name, station=at)
    return found


def forecast(found: Walk, *rows: str, name: str = "forecast.csv") -> None:
    """A forecast of 10 May."""
    (found.folder / "weather").mkdir(exist_ok=True)
    header = "issued,date,tmin_c,tmax_c,wind_ms,gust_ms,rain_mm,sun_h"
    lines = [header, *(f"2027-05-10,{row}" for row in rows), ""]
    (found.folder / "weather" / name).write_text("\n".join(lines))


def cold(found: Walk, at: str = "5-10 07:00") -> Alert:
    return found.alert(at, "cold night")


# Basil 10 °C (50 °F): tests/reference/night_temperatures.csv and the class's own limit.
def test_what_stands_out_of_doors_is_to_be_brought_in_the_evening_before(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "yard")
    forecast(found, "2027-05-11,3.0,14,,,,")
    alert = cold(found)
    assert alert.text == "bring in: 3 °C tonight, basil needs 10 °C"
    assert (alert.level, alert.remedies[0]) == ("today", "bring it in before dusk")
    assert "weather/forecast.csv" in alert.basis


def test_a_frost_that_kills_it_is_to_be_acted_on_now(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "yard")
    forecast(found, "2027-05-11,-1.0,9,,,,")
    assert cold(found).level == "act_now"


def test_a_night_that_it_stands_is_no_alert(walk: MakeWalk) -> None:
    found = standing(walk, "cabbage", "yard")
    forecast(found, "2027-05-11,8.0,14,,,,")
    assert not found.alerts("5-10 07:00", "cold night")


def test_the_frame_is_to_be_closed_and_what_dies_brought_in(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "frame")
    forecast(found, "2027-05-11,-0.5,9,,,,")
    alert = cold(found)
    assert alert.subject == ("station", "frame")
    assert alert.text == "close it tonight: -0.5 °C, basil needs 10 °C"
    assert any("bring basil in" in one for one in alert.remedies)


def test_this_mornings_measured_night_says_nothing_of_tonight(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "yard")
    forecast(found, "2027-05-10,1.0,14,,,,", "2027-05-11,12.0,16,,,,")
    assert cold(found).level == "today"  # forecast: the coldest hour may lie before midnight
    measured = "date,tmin_c,tmax_c\n2027-05-10,1.2,\n"
    (found.folder / "weather" / "yard.csv").write_text(measured)
    assert not found.alerts("5-10 08:00", "cold night")


def test_gusts_of_tomorrow_are_told_today(walk: MakeWalk) -> None:
    found = standing(walk, "cabbage", "yard")
    forecast(found, "2027-05-11,8.0,14,6,16.5,,")
    alert = found.alert("5-10 07:00", "wind")
    # Delaware: gusts of 30 mph (13.4 m/s) badly hurt new transplants.
    assert alert.text == (
        "gusts of 16.5 m/s are forecast for tomorrow: at 13.4 m/s new transplants were badly hurt"
    )


def test_what_was_set_out_is_to_be_covered_before_a_frost(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "yard")
    found.write(SetOut, "5-08", sowing="basil", plants=20)
    forecast(found, "2027-05-11,-1.0,9,,,,")
    alert = cold(found)
    assert alert.text == "basil is set out, and tonight has -1 °C: a frost kills basil"
    assert alert.level == "act_now"


def test_a_cool_night_over_tender_plants_that_are_set_out_is_no_alert(walk: MakeWalk) -> None:
    # University of Maryland and California: tender seedlings not out below 45 °F (7.2 °C); 50 °F
    # is what they want.
    found = standing(walk, "basil", "yard")
    found.write(SetOut, "5-08", sowing="basil", plants=20)
    forecast(found, "2027-05-11,9.0,19,,,,")
    assert found.alerts("5-10 07:00", "cold night") == []
    forecast(found, "2027-05-11,6.0,19,,,,")
    assert cold(found).text == (
        "basil is set out, and tonight has 6 °C: it wants nights of 10 °C or more"
    )


def test_an_alert_of_a_night_is_gone_with_the_night(walk: MakeWalk) -> None:
    found = standing(walk, "basil", "yard")
    forecast(found, "2027-05-11,3.0,14,,,,", "2027-05-12,12.0,18,,,,", "2027-05-13,12,18,,,,")
    assert cold(found).level == "today"
    assert not found.alerts("5-12 07:00", "cold night")


@pytest.mark.parametrize(("later", "held"), [("16", "out"), ("2", "held")])
def test_a_later_forecast_is_the_one_that_counts(walk: MakeWalk, later: str, held: str) -> None:
    found = standing(walk, "basil", "shelf")
    found.write(Hardened, "5-09", sowing="basil", hours=2.0)
    forecast(found, "2027-05-11,9.0,8,,,,")
    forecast(found, f"2027-05-11,9.0,{later},,,,", name="forecast-2.csv")
    path = found.folder / "weather" / "forecast-2.csv"
    path.write_text(path.read_text().replace("2027-05-10,", "2027-05-11T06:00,"))
    found.round("5-11 07:00")
    (one,) = found.opened.hardening()
    assert one.today == held


def test_no_alert_calls_in_for_a_night_that_the_step_of_the_day_spends_out(walk: MakeWalk) -> None:
    # 40 °F for the hardy group stands on a seed merchant's page alone (Growing Gardens, weak).
    found = walk(LOTS, OUTSIDE)
    found.write(Sown, "3-01", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-10", sowing="cabbage", standing=20, final=True)
    found.write(PrickedOut, "3-20", sowing="cabbage", plants=20, into="c.1", station="shelf")
    for number in range(7):
        found.write(Hardened, f"4-{number + 12:02} 18:00", sowing="c.1", hours=number + 2.0)
    at = moment("4-19 08:00")
    found.write(Forecast, at, day=at.date(), tmin_c=3.0, tmax_c=14.0)
    (check,) = found.checks(at, "harden")
    assert "the night too" in check.says
    assert found.alerts(at, "cold night") == []
    found.write(Forecast, at, day=at.date(), tmin_c=-3.0, tmax_c=14.0)
    assert found.alerts(at, "cold night") != []


# A frame without a forecast. What is tender dies of a frost: its class in the crop table.


def test_without_a_forecast_a_frame_of_tender_plants_asks_whether_frost_is_due(
    walk: MakeWalk,
) -> None:
    found = standing(walk, "basil", "frame")
    alert = cold(found)
    assert alert.text.startswith("a frost kills basil, one still comes in ")
    assert alert.text.endswith(" % of years, and no forecast is known")
    assert alert.remedies[0] == "bring basil in before dusk if frost is due: frames freeze too"
    assert cold(found, "5-11 07:00").key == alert.key, "seen once it is not told each night"


def test_a_frame_asks_nothing_where_the_night_is_known_or_no_frost_may_come(
    walk: MakeWalk,
) -> None:
    found = standing(walk, "basil", "frame")
    assert found.alerts("6-20 07:00", "cold night") == []
    forecast(found, "2027-05-11,12.0,20,,,,")
    assert found.alerts("5-10 07:00", "cold night") == []


def test_a_frame_of_hardy_plants_asks_nothing_of_frost(walk: MakeWalk) -> None:
    found = standing(walk, "cabbage", "frame")
    assert found.alerts("5-10 07:00", "cold night") == []
