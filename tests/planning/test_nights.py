"""Nights, soil and cold spells at setting out, against the figures that the pages print."""

from datetime import date, timedelta

import pytest

from seedstart.planning.calendar.frost_dates import frost_dates
from seedstart.planning.hardening.hardening_days import limits_for
from seedstart.planning.hardening.set_out_gate import (
    Against,
    Gate,
    Verdict,
    against_setting_out,
    verdict_of,
)
from seedstart.planning.known_weather import KnownDay
from shipped import crop
from tables import by_crop, figures, rows

TODAY = date(2027, 5, 1)
AVERAGE = date(2027, 5, 12)


def against(
    name: str,
    *nights: float,
    days_left: int = 0,
    ground_c: float | None = None,
    best: date | None = None,
) -> tuple[Against, ...]:
    """What bars setting out under a forecast of nights, one after the other."""
    forecasts = {
        TODAY + timedelta(days=number): KnownDay(tmin_c=cold) for number, cold in enumerate(nights)
    }
    one = crop(name)
    gate = Gate(
        crop=one,
        limits=limits_for(one),
        frost=frost_dates(AVERAGE),
        printed_from=None,
        best=best,
        days_left=days_left,
        ready=TODAY,
        units="metric",
    )
    return against_setting_out(gate, forecasts, TODAY, ground_c)


def night(name: str, *nights: float, days_left: int = 0, best: date | None = None) -> list[Against]:
    every = against(name, *nights, days_left=days_left, best=best)
    return [one for one in every if one.what == "night"]


# night_temperatures.csv, hardened cabbage: about 28 °F (Michigan State 2014, Clemson), 20 °F
# (K-State Harvey County 2018).
def test_a_hardened_hardy_plant_hears_nothing_of_a_cool_night() -> None:
    assert night("cabbage", 3.0) == []


def test_a_light_frost_only_asks_for_covers_and_both_figures_are_shown() -> None:
    (found,) = night("cabbage", -1.0)
    assert not found.bars
    assert "covers at hand" in found.said.text
    assert "hardened it stands -2.2 °C, before that 4.4 °C" in found.said.text
    assert "michigan-frost-2014" in found.said.sources


def test_a_night_below_the_most_cautious_figure_bars() -> None:
    # night_temperatures.csv: -2.2 °C is the most cautious for hardened cabbage.
    (found,) = night("cabbage", -4.0)
    assert found.bars


def test_before_hardening_is_done_the_unhardened_figure_counts() -> None:
    (begins,) = (
        float(row["temp_c"])
        for row in rows("night_temperatures.csv")
        if row["remark"].startswith("hardening begins")
    )
    assert night("cabbage", begins + 0.1, days_left=4) == []
    (found,) = night("cabbage", 3.0, days_left=4)
    assert not found.bars  # a seed merchant's page alone: it advises
    assert found.said.basis == "weak source"


# hardening_off.csv: 50 °F (University of Maryland Extension 2023).
def test_cucumber_waits_for_nights_of_ten_degrees() -> None:
    (found,) = night("cucumber", 9.0)
    assert found.bars
    assert night("cucumber", 10.5) == []


# Nights above 50 °F, from memory; one answer's 60 °F would keep it in for all of a northern summer.
def test_basil_is_told_of_cold_nights_and_barred_by_none_above_freezing() -> None:
    assert night("basil", 11.0) == []
    (found,) = night("basil", 9.0)
    assert not found.bars


# 10 days below 12 to 13 °C: sellers' culture sheets.
def test_a_cold_spell_and_no_single_night_speaks_against_celery() -> None:
    assert not [one for one in night("celery", 12, 14, 15, 14) if "bolt" in one.said.text]
    (found,) = [one for one in night("celery", 11, 11, 12, 12, 11) if "bolt" in one.said.text]
    assert not found.bars
    assert "a spell of 10 days that cold makes it bolt" in found.said.text


# transplant_timing.csv, one county's column (McLaurin 2000): mustard 18.3 °C, okra and melon 23.9,
# squash and pepper 21.1.
@pytest.mark.parametrize(
    ("name", "ground_c"),
    [("mustard", 9.0), ("pepper", 16.0), ("summer squash", 16.0), ("melon", 16.0), ("okra", 16.0)],
)
def test_one_countys_column_bars_nothing(name: str, ground_c: float) -> None:
    assert [one for one in against(name, ground_c=ground_c) if one.what == "soil"] == []


SOIL = "min_soil_temp_at_set_out_c"
AT_LEAST = {  # what an independent page prints; one county's column (McLaurin) bars nothing
    name: min(figures([row for row in printed if "McLaurin" not in row["source"]], SOIL))
    for name, printed in by_crop("transplant_timing.csv").items()
    if name in {"pepper", "eggplant", "okra", "melon", "summer squash", "winter squash", "cucumber"}
}


@pytest.mark.parametrize("name", AT_LEAST)
def test_colder_ground_than_is_printed_bars_what_is_tender(name: str) -> None:
    (found,) = [one for one in against(name, ground_c=9.0) if one.what == "soil"]
    assert found.bars
    warm = against(name, ground_c=max(AT_LEAST[name], 15.6) + 0.1)
    assert [one for one in warm if one.what == "soil"] == []


def test_cold_ground_never_bars_a_hardy_plant() -> None:
    printed = figures(by_crop("transplant_timing.csv")["cabbage"], SOIL)
    found = [one for one in against("cabbage", ground_c=min(printed) - 2) if one.what == "soil"]
    assert all(not one.bars for one in found)


@pytest.mark.parametrize(
    ("nights", "says", "till"),
    [
        ((12.0, 11.0, 12.0), "ready", None),
        ((12.0, -1.0, 3.0, 12.0, 12.0), "wait", TODAY + timedelta(days=3)),
        ((12.0, 12.0, -1.0), "wait", None),  # the forecast ends before it is over
    ],
)
def test_what_waits_for_a_cold_spell_says_till_about_when(
    nights: tuple[float, ...], says: str, till: date | None
) -> None:
    # night_temperatures.csv: tomato wants nights of 10 °C (50 °F); a frost kills it.
    found = verdict_of([one for one in against("tomato", *nights) if one.what == "night"])
    assert (found.says, found.till) == (says, till)


def test_a_cool_night_bars_until_the_best_day_and_then_asks_for_cover() -> None:
    # night_temperatures.csv: tomato wants nights of 10 °C (50 °F). Held longer it outgrows its pot:
    # common practice, no source. A frost kills it under fleece too, and bars on any day.
    (before,) = night("tomato", 12.0, 5.0, best=TODAY + timedelta(days=1))
    assert before.bars
    (after,) = night("tomato", 12.0, 5.0, best=TODAY)
    assert not after.bars
    assert after.brief.startswith("under cover, since 5 °C is forecast for ")
    (frost,) = night("tomato", 12.0, -0.5, best=TODAY)
    assert frost.bars


def test_a_night_that_was_measured_bars_nothing_any_more() -> None:
    gate = Gate(
        crop=crop("tomato"),
        limits=limits_for(crop("tomato")),
        frost=None,
        printed_from=None,
        best=None,
        days_left=0,
        ready=TODAY,
        units="metric",
    )
    last_night = {TODAY: KnownDay(tmin_c=-3.0, measured=True)}
    assert verdict_of(against_setting_out(gate, last_night, TODAY, None)) == Verdict("ready")


def test_a_verdict_waits_for_what_bars_and_not_for_what_advises() -> None:
    found = verdict_of(against("tomato", 12.0, days_left=3))
    assert found.says == "wait"
    assert found.waits_for[0] == "the end of hardening off"
    assert verdict_of([]).sentence() == "Ready to set out: nothing is against it today."
