"""Thinning, pricking out, potting on, hardening off, setting out."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.season.journal.entries import (
    Checked,
    Counted,
    Finished,
    Forecast,
    Hardened,
    Held,
    PottedOn,
    PrickedOut,
    SetOut,
    Sown,
    Split,
    Thinned,
)
from walk import MakeWalk, Walk

LOTS = (
    lot("tomato", "tomato", station='"shelf"')
    + lot("cabbage", "cabbage", station='"shelf"')
    + lot("cucumber", "cucumber", station='"mat"')
)


def raised(walk: MakeWalk, name: str = "tomato", stand: int = 20, **fields: object) -> Walk:
    found = walk(LOTS)
    sown = {"sowing": name, "lot": name, "seeds": 24, "station": "shelf"} | fields
    found.write(Sown, "3-20", **sown)
    found.write(Counted, "3-30", sowing=name, standing=stand, final=True)
    return found


def first_day(found: Walk, what: str, since: str = "3-30 18:00") -> date:
    """The first day on which a kind of check is there."""
    days = (moment(since) + timedelta(days=day) for day in range(90))
    return next(day.date() for day in days if found.checks(day, what))


def in_calendar(found: Walk, step: str) -> date:
    (row,) = [row for row in found.opened.calendar() if row.sowing]
    window = row.window(step)  # type: ignore[arg-type]
    assert window is not None
    return window.best


def test_plants_are_thinned_to_one_a_cell_ten_days_after_emergence(walk: MakeWalk) -> None:
    # docs/round.md, common practice; cucumber is sown into its own pot (crops/cucumber.toml).
    found = raised(walk, "cucumber", cells=12)
    assert found.checks("4-08", "thin") == []
    check = found.check("4-09", "thin")
    assert (check.key, check.due) == ("thin cucumber 1", date(2027, 4, 9))
    assert check.why[0].text == "20 plants stand in 12 cells"
    assert "20 stand, so none would go" in found.refused(check, "20")
    (entry,) = found.tick(check, "4-09 09:00", "12")
    assert isinstance(entry, Thinned)
    assert entry.left == 12
    assert found.checks("4-10", "thin") == []
    assert [one.key for one in found.done("4-09 10:00", "thin")] == ["thin cucumber 1"]


@pytest.mark.parametrize(("name", "stand", "cells"), [
    ("cucumber", 12, 12), ("cucumber", 20, None), ("tomato", 20, 12),
])  # fmt: skip
def test_nothing_is_thinned_where_each_has_its_cell_or_will_get_one(
    walk: MakeWalk, name: str, stand: int, cells: int | None
) -> None:
    found = raised(walk, name, stand, cells=cells)
    assert found.checks("4-20", "thin") == []


def test_seedlings_are_pricked_out_on_the_calendars_day(walk: MakeWalk) -> None:
    found = raised(walk)
    found.round("3-30 18:00")
    due = in_calendar(found, "prick_out")
    assert first_day(found, "prick out") == due
    late = found.check(moment("4-01") + timedelta(days=30), "prick out")
    assert (late.due, late.key) == (due, "prick out tomato 1")
    assert late.why[0].text.startswith("tomato: should be pricked out ")


def test_without_a_true_leaf_it_is_asked_again_in_three_days(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = raised(walk)
    due = moment("1-01").replace(month=4, day=20)
    check = found.check(due, "prick out")
    found.tick(check, due, "put off: no true leaf yet")
    assert found.checks(due + timedelta(days=2), "prick out") == []
    again = found.check(due + timedelta(days=3), "prick out")
    assert (again.key, again.put_off, again.due) == (check.key, 1, check.due)


def test_what_was_pricked_out_is_done_and_its_daughters_are_not_asked_for(walk: MakeWalk) -> None:
    found = raised(walk)
    check = found.check("4-20", "prick out")
    entries = found.tick(check, "4-20 09:00", "20 into tray 5:8, tray 6, sill")
    assert [
        (one.plants, one.into, one.tray, one.station)
        for one in entries
        if isinstance(one, PrickedOut)
    ] == [
        (8, "tomato.1", "tray 5", "shelf"), (6, "tomato.2", "tray 6", "shelf"),
        (6, "tomato.3", None, "sill"),
    ]  # fmt: skip
    assert found.checks("4-21", "prick out") == []
    assert [one.key for one in found.done("4-20 10:00", "prick out")] == [check.key]


def test_pricked_out_and_split_on_one_day_are_two_lines(walk: MakeWalk) -> None:
    found = raised(walk)
    found.tick(found.check("4-20", "prick out"), "4-20 09:00", "10 into tray 5")
    found.write(Split, "4-20 10:00", sowing="tomato", plants=5, into="tomato.2", tray="tray 6")
    done = found.done("4-20 11:00", "prick out")
    assert len({one.key for one in done}) == len(done) == 2


def test_those_that_were_left_are_asked_for_again_after_a_week(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = raised(walk)
    found.tick(found.check("4-20", "prick out"), "4-20 09:00", "12 into tray 5:6, tray 6:6")
    assert found.checks("4-26", "prick out") == []
    rest = found.check("4-27", "prick out")
    assert (rest.key, rest.due) == ("prick out tomato 2", date(2027, 4, 27))
    assert rest.says == "prick out the rest of tomato (8 seedlings): how many, and into what?"
    assert rest.why[0].text.startswith("some of tomato were taken out on 20 Apr, 8 are still there")
    assert "common practice, no source" in rest.why[1].basis
    assert found.check("5-10", "prick out").key == rest.key
    found.tick(rest, "4-28 09:00", "5 into tray 7")
    assert found.checks("5-04", "prick out") == []
    assert [one.key for one in found.done("4-28 10:00", "prick out")] == [rest.key]
    assert found.check("5-05", "prick out").key == "prick out tomato 3"


def left_behind(walk: MakeWalk) -> Walk:
    found = raised(walk)
    found.tick(found.check("4-20", "prick out"), "4-20 09:00", "12 into tray 5")
    return found


def test_the_rest_may_be_put_off_or_said_to_stay(walk: MakeWalk) -> None:
    found = left_behind(walk)
    found.tick(found.check("4-27", "prick out"), "4-27 09:00", "put off: 3 days")
    assert found.checks("4-29", "prick out") == []
    rest = found.check("4-30", "prick out")
    assert "keep if they stay" in found.refused(rest, "")
    (kept,) = found.tick(rest, "4-30 09:00", "Keep")
    assert isinstance(kept, Checked)
    assert [one.key for one in found.done("4-30 10:00", "prick out")] == [rest.key]
    assert found.checks("5-30", "prick out") == []
    assert found.opened.records().standings[rest.sowings[0].id].standing == 8


@pytest.mark.parametrize("typed", ["0", "thrown", "thrown away"])
def test_a_rest_that_was_thrown_away_is_the_end_of_its_sowing(walk: MakeWalk, typed: str) -> None:
    found = left_behind(walk)
    rest = found.check("4-27", "prick out")
    (end,) = found.tick(rest, "4-27 09:00", typed)
    assert isinstance(end, Finished)
    one = found.opened.records().standings[rest.sowings[0].id]
    assert (one.standing, one.lost, one.left["finished"]) == (0, 0, 8)  # thrown away, not lost
    assert found.checks("4-28", "prick out") == []


def test_nought_does_not_throw_away_what_was_not_parted_yet(walk: MakeWalk) -> None:
    found = raised(walk)
    assert "how many and where to" in found.refused(found.check("4-20", "prick out"), "0")
    assert "how many and where to" in found.refused(found.check("4-20", "prick out"), "thrown")


def test_where_none_is_left_nothing_is_asked_again(walk: MakeWalk) -> None:
    found = raised(walk)
    found.tick(found.check("4-20", "prick out"), "4-20 09:00", "20 into tray 5")
    assert found.checks("5-10", "prick out") == []


def test_what_was_potted_on_as_it_stood_is_not_pricked_out_any_more(walk: MakeWalk) -> None:
    found = left_behind(walk)
    found.write(PottedOn, "4-25", sowing="tomato")
    assert found.checks("5-10", "prick out") == []


def test_each_tray_is_potted_on_though_another_was_before_it(walk: MakeWalk) -> None:
    found = raised(walk)
    found.tick(found.check("4-20", "prick out"), "4-20 09:00", "20 into tray 5:10, tray 6:10")
    day = first_day(found, "pot on", "4-20 18:00")
    at = moment(f"{day.month}-{day.day}")
    first, second = found.checks(at, "pot on")
    assert (first.due, second.due) == (day, day)
    (entry,) = found.tick(first, at)
    assert isinstance(entry, PottedOn)
    (left,) = found.checks(at + timedelta(days=2), "pot on")
    assert (left.key, left.due) == (second.key, day)
    name = left.sowings[0].name
    others = f"{name}: not potted on yet; others were potted on"
    assert left.why[0].text.startswith(others)
    found.tick(left, at + timedelta(days=2))
    assert found.checks(at + timedelta(days=3), "pot on") == []


def test_plants_pricked_out_of_potted_ones_were_potted_on(walk: MakeWalk) -> None:
    found = raised(walk)
    found.write(PottedOn, "4-25", sowing="tomato")
    found.write(PrickedOut, "4-26", sowing="tomato", plants=5, into="tomato.1", station="sill")
    assert found.checks("5-20", "pot on") == []


def test_a_container_has_to_be_one_of_the_season(walk: MakeWalk) -> None:
    found = raised(walk)
    found.write(PrickedOut, "4-12", sowing="tomato", plants=20, into="tomato.1", station="shelf")
    day = first_day(found, "pot on", "4-13")
    check = found.check(moment(f"{day.month}-{day.day}"), "pot on")
    known = found.opened.known().containers()
    assert known[0] in found.refused(check, "a bathtub")
    (entry,) = found.drafts(check, known[0].upper())
    assert isinstance(entry, PottedOn)
    assert entry.container == known[0]


# Hardening off.


def grown(walk: MakeWalk, name: str = "cabbage", *stations: str) -> Walk:
    """Plants in pots, in as many places."""
    found = raised(walk, name)
    places = stations or ("shelf",)
    for number, station in enumerate(places, start=1):
        into, plants = f"{name}.{number}", 20 // len(places)
        found.write(PrickedOut, "4-08", sowing=name, plants=plants, into=into, station=station)
        found.write(PottedOn, "4-20", sowing=into)
    return found


def hardening(walk: MakeWalk, name: str = "cabbage") -> tuple[Walk, date]:
    found = grown(walk, name)
    return found, first_day(found, "harden", "4-20")


def at(day: date, days: int = 0, hour: int = 8) -> str:
    day += timedelta(days=days)
    return f"{day.month}-{day.day} {hour:02}:00"


def test_a_day_of_hardening_off_is_asked_for_and_a_tick_writes_its_hours(walk: MakeWalk) -> None:
    found, day = hardening(walk)
    check = found.check(at(day), "harden")
    # First day 2 h in the shade: growing/hardening_rules.py names its sources.
    assert check.says.startswith("put cabbage.1 out: 2 h in the shade (step 1 of")
    (from_calendar,) = [why.text for why in check.why if why.basis == "the calendar"]
    assert from_calendar.startswith("cabbage.1: hardening off should begin ")
    (entry,) = found.tick(check, at(day, hour=18))
    assert isinstance(entry, Hardened)
    assert (entry.sowing, entry.hours, entry.night) == ("cabbage.1", 2, False)
    assert found.checks(at(day, hour=19), "harden") == []
    assert [one.says for one in found.done(at(day, hour=19), "harden")] == ["cabbage.1: out 2 h"]
    assert found.check(at(day, 1), "harden").key == "harden cabbage.1 2"


def test_a_missed_day_of_hardening_is_the_same_step_again(walk: MakeWalk) -> None:
    found, day = hardening(walk)
    found.tick(found.check(at(day), "harden"), at(day, hour=18))
    second = found.check(at(day, 1), "harden")
    assert found.check(at(day, 2), "harden").key == second.key
    assert found.check(at(day, 2), "harden").due == (day + timedelta(days=2))


def test_a_day_kept_in_says_why(walk: MakeWalk) -> None:
    found, day = hardening(walk)
    check = found.check(at(day), "harden")
    assert "held: windy" in found.refused(check, "held")
    (entry,) = found.tick(check, at(day, hour=18), "held: hail")
    assert isinstance(entry, Held)
    assert entry.why == "hail"
    assert [one.says for one in found.done(at(day, hour=19), "harden")] == [
        "cabbage.1: kept in: hail"
    ]


def test_a_tray_is_put_out_as_one(walk: MakeWalk) -> None:
    found = walk(lot("red", "cabbage") + lot("white", "cabbage"))
    for name in ("red", "white"):
        found.write(Sown, "3-20", sowing=name, lot=name, seeds=9, station="shelf", tray="tray 5")
        found.write(Counted, "3-30", sowing=name, standing=9)
        plants = {"plants": 9, "into": f"{name}.1", "tray": "tray 6", "station": "shelf"}
        found.write(PrickedOut, "4-08", sowing=name, **plants)
        found.write(PottedOn, "4-20", sowing=f"{name}.1")
    day = first_day(found, "harden", "4-20")
    (entry,) = found.drafts(found.check(at(day), "harden"))
    assert isinstance(entry, Hardened)
    assert (entry.tray, entry.sowing) == ("tray 6", None)


def hardened(walk: MakeWalk, name: str, *stations: str) -> tuple[Walk, date]:
    """Plants that were put out day by day, and the day from which they are to be set out."""
    found = grown(walk, name, *stations)
    day = first_day(found, "harden", "4-20")
    while not found.checks(at(day), "set out"):
        for check in found.checks(at(day), "harden"):
            found.tick(check, at(day, hour=18))
        day += timedelta(days=1)
    return found, day


def test_plants_are_set_out_when_hardening_off_is_done(walk: MakeWalk) -> None:
    found, out = hardened(walk, "cabbage")
    check = found.check(at(out), "set out")
    assert found.check(at(out, 4), "set out").key == check.key == "set out cabbage.1 1"
    assert "20 stand there, not 21" in found.refused(check, "21")
    (entry,) = found.tick(check, at(out, hour=18))
    assert isinstance(entry, SetOut)
    assert entry.left == 0
    assert [one for one in found.checks(at(out, 1)) if one.sowings] == []
    assert [one.key for one in found.done(at(out, hour=19), "set out")] == [check.key]


def test_what_is_against_setting_out_is_said(walk: MakeWalk) -> None:
    found, day = hardened(walk, "tomato")
    found.write(Forecast, at(day), day=day + timedelta(days=1), tmin_c=12.0)
    check = found.check(at(day), "set out")
    assert any(why.text.startswith("against it: ") for why in check.why)
    # 12 May is the average last frost, and the later one is due by 29 May in nine years of ten.
    assert ": cover it if frost is due; one still comes in 50 % of years, in 10 % after 29 May" in (
        check.says
    )


def test_what_a_forecast_bars_is_not_asked(walk: MakeWalk) -> None:
    found, day = hardened(walk, "tomato")
    found.write(Forecast, at(day), day=day, tmin_c=-2.0)
    assert found.checks(at(day), "set out") == []
    check = found.check(at(day), "harden")
    assert "in for the night (-2 °C tonight)" in check.says.replace("−", "-")


def test_each_place_is_set_out_though_another_was_before_it(walk: MakeWalk) -> None:
    found, day = hardened(walk, "cabbage", "sill", "shelf")
    for one in found.checks(at(day, 14), "set out"):
        if one.sowings[0].name == "cabbage.1":
            found.tick(one, at(day, 14))
    left = found.checks(at(day, 16), "set out")
    assert [one.sowings[0].name for one in left] == ["cabbage.2"]


def test_plants_that_were_not_set_out_with_the_others_are_asked_for_again(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found, day = hardened(walk, "cabbage", "sill")
    (first,) = found.checks(at(day, 14), "set out")
    found.tick(first, at(day, 14), "4")
    (left,) = {one.standing for one in found.opened.records().standings.values() if one.standing}
    assert found.checks(at(day, 20), "set out") == []
    rest = found.check(at(day, 21), "set out")
    assert rest.key == first.key.removesuffix("1") + "2"
    assert rest.says.startswith(f"set out the rest of {rest.sowings[0].name} ({left})")
    assert [one.key for one in found.done(at(day, 14), "set out")] == [first.key]
    (kept,) = found.drafts(rest, "keep")
    (thrown,) = found.drafts(rest, "0")
    assert isinstance(kept, Checked)
    assert isinstance(thrown, Finished)
    (out,) = found.tick(rest, at(day, 22))
    assert isinstance(out, SetOut)
    assert found.checks(at(day, 40), "set out") == []


def test_a_season_without_a_frost_still_pricks_out(walk: MakeWalk) -> None:
    head = HEAD.replace("[frost]\nlast = 2027-05-12\n", "")
    found = walk(lot("tomato", "tomato", ready="2027-05-20"), head)
    found.write(Sown, "3-20", sowing="tomato", lot="tomato", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="tomato", standing=20)
    assert found.check("4-25", "prick out").due < date(2027, 4, 25)
