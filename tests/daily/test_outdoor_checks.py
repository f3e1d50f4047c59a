"""Hardening off and setting out: frame, yard, nights, work days, and one line where two exclude."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.acts.read import NAMED, read
from seedstart.daily.check import Check
from seedstart.season.journal.entries import (
    Checked,
    Counted,
    Fed,
    Forecast,
    Hardened,
    Moved,
    PottedOn,
    PrickedOut,
    SetOut,
    Sown,
)
from walk import MakeWalk, Walk

PLACES = f"""{HEAD}
[[station]]
name = "frame"
kind = "frame"
expected = "13C day, 5C night"

[[station]]
name = "yard"
kind = "outdoors"
expected = "9C"
"""
LOTS = "".join(lot(name, name, station='"shelf"') for name in ("cabbage", "kale", "tomato"))


def day_of(text: str) -> date:
    return moment(text).date()


def grown(
    walk: MakeWalk, name: str = "cabbage", station: str = "shelf", head: str = PLACES
) -> Walk:
    """Sown on the 20th of March, pricked out on the 8th of April, twenty in pots."""
    found = walk(LOTS, head)
    found.write(Sown, "3-20", sowing=name, lot=name, seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing=name, standing=20, final=True)
    found.write(PrickedOut, "4-08", sowing=name, plants=20, into=f"{name}.1", station=station)
    found.write(PottedOn, "4-20", sowing=f"{name}.1")
    return found


def outdoor(found: Walk, at: str) -> list[Check]:
    return [one for one in found.checks(at) if one.what in {"harden", "set out"}]


def at(day: date, hour: int = 8) -> str:
    return f"{day.month}-{day.day} {hour:02}:00"


def first(found: Walk, what: str, since: str = "4-09") -> date:
    days = (moment(since) + timedelta(days=number) for number in range(90))
    return next(one.date() for one in days if found.checks(one, what))


def harden(found: Walk, until: date | None = None) -> date:
    """Every step as the round asks, until a day, or till it is to be set out; that day."""
    day = first(found, "harden")
    while not found.checks(at(day), "set out") and day != until:
        for check in found.checks(at(day), "harden"):
            found.tick(check, at(day, 18))
        day += timedelta(days=1)
    return day


# A frame.


def test_in_a_frame_the_step_is_the_sash_and_its_hours_count(walk: MakeWalk) -> None:
    # University of Florida, Cold frames: the sash open by day, shut at night.
    found = grown(walk)
    day = first(found, "harden")
    found.write(Moved, at(day, 7), sowing="cabbage.1", station="frame")
    (check,) = outdoor(found, at(day))
    assert check.says.startswith("open the sash over cabbage.1: 2 h (step 1 of ")
    (entry,) = found.tick(check, at(day, 18))
    assert isinstance(entry, Hardened)
    (after,) = outdoor(found, at(day + timedelta(days=1)))
    assert "(step 2 of " in after.says


def test_a_frame_has_one_sash_and_one_line_by_the_youngest_under_it(walk: MakeWalk) -> None:
    found = grown(walk)
    day = first(found, "harden")
    found.write(Sown, "3-20", sowing="kale", lot="kale", seeds=24, station="shelf")
    found.write(PrickedOut, "4-08", sowing="kale", plants=20, into="kale.1", station="frame")
    found.write(PottedOn, "4-20", sowing="kale.1")
    found.write(Moved, at(day, 7), sowing="cabbage.1", station="frame")
    (line,) = [one for one in found.round(at(day)).checks if one.what == "harden"]
    hours = {one.sowings[0].name: one.says for one in line.parts}
    assert hours["kale.1"] != hours["cabbage.1"].replace("cabbage", "kale")
    assert line.says == "open the sash over cabbage.1, kale.1: 2 h"
    written = [one for one in found.tick(line, at(day, 18)) if isinstance(one, Hardened)]
    assert [(one.sowing, one.hours) for one in written] == [("cabbage.1", 2.0), ("kale.1", 2.0)]
    (done,) = [one for one in found.round(at(day, 19)).checks if one.what == "harden"]
    assert done.done


def test_what_goes_out_at_one_step_from_one_bench_is_one_line(walk: MakeWalk) -> None:
    found = grown(walk)
    found.write(Sown, "3-20", sowing="cabbage/2", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage/2", standing=20, final=True)
    found.write(
        PrickedOut, "4-08", sowing="cabbage/2", plants=20, into="cabbage/2.1", station="shelf"
    )
    found.write(PottedOn, "4-20", sowing="cabbage/2.1")
    day = first(found, "harden")
    (line,) = [one for one in found.round(at(day)).checks if one.what == "harden"]
    assert line.says == "put cabbage.1, cabbage/2.1 out: 2 h in the shade (step 1 of 10)"
    assert len(found.tick(line, at(day, 18))) == 2


def test_weeks_in_a_frame_are_days_of_hardening_off(walk: MakeWalk) -> None:
    found = grown(walk, station="frame")
    (hardening,) = (found.round("5-02"), found.opened.hardening())[1]
    # Half a step a day from the 8th of April on (common practice, no source).
    assert hardening.is_hardened
    assert hardening.moved_days == 0
    row = next(one for one in found.opened.calendar() if one.sowing)
    window = row.window("set_out")
    assert window is not None
    assert window.best <= day_of("5-02") or "harden" not in str(row.warnings)
    assert all("(step 1 of" not in one.says for one in outdoor(found, "5-02"))


# Out of doors.


def test_what_stands_outdoors_is_out_and_never_asked_to_be_put_out(walk: MakeWalk) -> None:
    found = grown(walk, station="yard")
    for number in range(30):
        assert found.checks(moment("4-09") + timedelta(days=number), "harden") == []
    assert outdoor(found, "5-04") != [], "it is to be set out"


@pytest.mark.parametrize("kind", ["outdoors", "frame"])
def test_outdoors_without_a_temperature_gets_no_date(walk: MakeWalk, kind: str) -> None:
    head = f'{HEAD}[[station]]\nname = "yard"\nkind = "{kind}"\n'
    found = walk(lot("cabbage", "cabbage", station='"yard"'), head)
    found.round("3-01")
    (row,) = found.opened.calendar()
    assert row.steps == ()
    assert "how warm the yard is" in (row.problem or "")
    found.write(Sown, "3-14", sowing="cabbage", lot="cabbage", seeds=24, station="yard")
    found.round("3-30")
    (row,) = found.opened.calendar()
    assert row.step("emerge") is None
    (prospect,) = found.opened.prospects().values()
    assert prospect.expected is None
    assert found.alerts("4-10") == []


# Nights.


def test_without_a_forecast_the_line_asks_whether_frost_is_due(walk: MakeWalk) -> None:
    found = grown(walk)
    day = harden(found, first(found, "harden") + timedelta(days=8))
    (check,) = outdoor(found, at(day))
    assert "the night too unless frost is due" in check.says
    found.write(Forecast, at(day), day=day, tmin_c=6.0, tmax_c=14.0)
    found.write(Forecast, at(day), day=day + timedelta(days=1), tmin_c=6.0)
    (check,) = outdoor(found, at(day))
    assert "the night too (step" in check.says


def test_what_a_frost_kills_spends_no_night_out_before_the_average_last_frost(
    walk: MakeWalk,
) -> None:
    head = PLACES.replace("last = 2027-05-12", "last = 2027-05-26")
    found = grown(walk, "tomato", head=head)
    begun = first(found, "harden")
    for number in range((day_of("5-26") - begun).days):
        day = begun + timedelta(days=number)
        for check in found.checks(at(day), "harden"):
            assert "the night too" not in check.says
            found.tick(check, at(day, 18))
    (hardening,) = found.opened.hardening()
    assert hardening.done_days >= 9, "a day whose night is not asked for counts whole"


# The last step, and setting out.


def test_hardened_plants_that_wait_are_said_once_with_till_when_and_a_way_out(
    walk: MakeWalk,
) -> None:
    head = PLACES.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10")
    found = grown(walk, "tomato", head=head)
    found.write(Hardened, "5-01 18:00", sowing="tomato.1", hours=2)
    for number in range(2, 12):
        found.write(Hardened, f"5-{number:02} 18:00", sowing="tomato.1", hours=11, night=True)
    (check,) = outdoor(found, "5-14")
    assert check.says.startswith("tomato.1 is hardened off: out")
    assert "or set it out under cover" in check.says
    assert "till 29 May" in check.says
    (entry,) = found.tick(check, "5-14 09:00")
    assert isinstance(entry, Checked)
    for number in range(15, 26):
        assert outdoor(found, f"5-{number}") == []
    assert found.checks("5-29", "set out") != []


def test_under_cover_they_are_set_out_by_a_number(walk: MakeWalk) -> None:
    head = PLACES.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10")
    found = grown(walk, "tomato", head=head)
    for number in range(1, 12):
        found.write(Hardened, f"5-{number:02} 18:00", sowing="tomato.1", hours=11, night=True)
    (check,) = outdoor(found, "5-14")
    (entry,) = found.tick(check, "5-14 09:00", "20")
    assert isinstance(entry, SetOut)
    assert entry.plants == 20


def test_hardened_plants_that_wait_come_in_for_a_frost(walk: MakeWalk) -> None:
    found = grown(
        walk,
        "tomato",
        head=PLACES.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10"),
    )
    for number in range(1, 12):
        found.write(Hardened, f"5-{number:02} 18:00", sowing="tomato.1", hours=11, night=True)
    found.write(Forecast, "5-14 07:00", day=day_of("5-15"), tmin_c=-1.0)
    (check,) = outdoor(found, "5-14")
    assert check.what == "harden"
    assert "in for the night" in check.says


def test_setting_out_and_one_more_day_out_are_one_line(walk: MakeWalk) -> None:
    found = grown(walk)
    day = harden(found)
    (check,) = outdoor(found, at(day))
    assert check.what == "set out"
    assert check.says.endswith("or out for one more day")
    (entry,) = found.tick(check, at(day, 18), "out")
    assert isinstance(entry, Hardened)
    assert outdoor(found, at(day, 19)) == [], "what was carried out today is set out tomorrow"
    assert [one.what for one in outdoor(found, at(day + timedelta(days=1)))] == ["set out"]


def test_after_the_last_step_they_are_set_out_on_the_next_day(walk: MakeWalk) -> None:
    found = grown(walk)
    day = harden(found) - timedelta(days=1)
    assert [one.what for one in found.round(at(day, 19)).checks if one.what == "set out"] == []


def test_without_a_forecast_the_line_says_from_what_cold_on_it_is_to_be_covered(
    walk: MakeWalk,
) -> None:
    # Michigan State University Extension 2014: cabbage stands light frost, 28 °F (-2.2 °C).
    found = grown(walk)
    day = harden(found)
    (check,) = outdoor(found, at(day))
    assert "; cover it if less than -2.2 °C is due" in check.says.replace("−", "-")
    found.write(Forecast, at(day), day=day + timedelta(days=1), tmin_c=6.0)
    (check,) = outdoor(found, at(day))
    assert "cover it" not in check.says


def test_what_is_to_be_set_out_is_not_counted(walk: MakeWalk) -> None:
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="yard")
    for day in range(1, 31):
        found.write(Counted, f"4-{day:02}", sowing="cabbage", standing=min(day, 20))
        whats = {one.what for one in found.checks(f"4-{day:02} 05:00")}
        assert not {"count", "set out"} <= whats, day


def rest_in_the_yard(walk: MakeWalk, *, final: bool) -> Walk:
    """Some of it pricked out on the 12th of April; to be set out from the 4th of May on."""
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=60, station="yard")
    found.write(Counted, "4-02", sowing="cabbage", standing=20, final=final)
    found.write(PrickedOut, "4-12", sowing="cabbage", plants=6, into="cabbage.1", station="yard")
    return found


def whats_of(found: Walk, name: str, when: str) -> set[str]:
    checks = found.checks(when)
    return {one.what for one in checks if any(each.name == name for each in one.sowings)}


def test_what_was_set_out_today_is_not_counted_today(walk: MakeWalk) -> None:
    found = rest_in_the_yard(walk, final=False)
    for day in range(20, 31):
        found.write(Counted, f"4-{day}", sowing="cabbage", standing=day - 6)
    for day in range(1, 4):
        found.write(Counted, f"5-{day:02}", sowing="cabbage", standing=24 + day)
    (check,) = [one for one in found.checks("5-04", "set out") if "cabbage (" in one.says]
    found.tick(check, "5-04 09:00", "10")
    assert "count" not in whats_of(found, "cabbage", "5-04 10:00")
    assert "count" in whats_of(found, "cabbage", "5-05 10:00")


def test_the_rest_is_pricked_out_or_set_out_and_not_both(walk: MakeWalk) -> None:
    found = rest_in_the_yard(walk, final=True)
    assert whats_of(found, "cabbage", "5-02 08:00") & {"prick out", "set out"} == {"prick out"}
    assert whats_of(found, "cabbage", "5-06 08:00") & {"prick out", "set out"} == {"set out"}


@pytest.mark.parametrize("what", ["harden", "set out"])
def test_what_was_fed_today_goes_out_tomorrow_at_the_soonest(walk: MakeWalk, what: str) -> None:
    found = grown(walk)
    day = first(found, "harden") if what == "harden" else harden(found)
    found.write(Fed, at(day, 7), sowing="cabbage.1")
    assert outdoor(found, at(day)) == []
    assert {one.what for one in outdoor(found, at(day + timedelta(days=1)))} == {what}


def test_hardy_plants_once_hardened_go_out_into_a_light_frost_with_covers(walk: MakeWalk) -> None:
    # Michigan State University Extension 2014: cabbage stands light frost, 28 °F (-2.2 °C).
    found = grown(walk)
    day = harden(found)
    found.write(Forecast, at(day), day=day + timedelta(days=1), tmin_c=-1.5)
    (check,) = found.checks(at(day), "set out")
    assert "have covers at hand" in check.says


# Order.


def test_what_is_to_be_pricked_out_is_neither_potted_on_nor_hardened_nor_set_out(
    walk: MakeWalk,
) -> None:
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage", standing=20, final=True)
    for number in range(60):
        day = moment("4-01") + timedelta(days=number)
        whats = {one.what for one in found.checks(day)}
        if "prick out" in whats:
            assert not whats & {"pot on", "harden", "set out", "feed"}, day


def test_what_is_potted_on_today_is_not_put_out_today(walk: MakeWalk) -> None:
    found = grown(walk)
    day = first(found, "harden")
    found.write(PottedOn, at(day, 7), sowing="cabbage.1")
    assert found.checks(at(day), "harden") == []
    assert found.checks(at(day + timedelta(days=1)), "harden") != []


def test_what_is_pricked_out_today_is_not_potted_on_today(walk: MakeWalk) -> None:
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage", standing=20, final=True)
    day = moment("4-24 08:00")
    found.write(PrickedOut, day, sowing="cabbage", plants=12, into="cabbage.1", station="shelf")
    assert "pot on" not in {one.what for one in found.checks(day + timedelta(hours=1))}


def test_the_rest_that_is_to_be_pricked_out_is_not_fed(walk: MakeWalk) -> None:
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage", standing=20, final=True)
    found.write(PrickedOut, "4-08", sowing="cabbage", plants=12, into="cabbage.1", station="shelf")
    for number in range(8, 29):
        whats = {
            one.what
            for one in found.checks(f"4-{number:02} 08:00")
            if [asked.name for asked in one.sowings] == ["cabbage"]
        }
        assert not {"feed", "prick out"} <= whats, number


def test_what_was_pricked_out_later_grows_on_for_ten_days_too(walk: MakeWalk) -> None:
    # Common practice, no source.
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="cabbage", lot="cabbage", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="cabbage", standing=20)
    for number, day in ((1, "4-08"), (2, "4-22")):
        into = f"cabbage.{number}"
        found.write(PrickedOut, day, sowing="cabbage", plants=10, into=into, station="shelf")
    names = [one.sowings[0].name for one in found.checks("4-28", "harden")]
    assert names == ["cabbage.1"]
    assert "cabbage.2" in [one.sowings[0].name for one in found.checks("5-02", "harden")]


def test_while_the_grower_is_away_no_step_is_asked_for_nor_missed(walk: MakeWalk) -> None:
    found = grown(walk)
    begun = first(found, "harden")
    gone = [begun + timedelta(days=number) for number in (3, 4, 5)]
    away = f'away = [["{gone[0]}", "{gone[-1]}"]]\n\n[frost]'
    found.edit(LOTS, PLACES.replace("[frost]", away, 1))
    day = begun
    while not found.checks(at(day), "set out"):
        asked = found.checks(at(day), "harden")
        assert (asked == []) == (day in gone)
        for check in asked:
            found.tick(check, at(day, 18))
        assert found.alerts(at(day), "hardening missed") == []
        day += timedelta(days=1)
    assert day == begun + timedelta(days=13)  # ten steps, and three days away


def test_a_tender_plant_that_was_never_out_is_asked_about_before_the_frost(walk: MakeWalk) -> None:
    found = walk(LOTS, PLACES)
    found.write(Sown, "3-20", sowing="tomato", lot="tomato", seeds=24, station="shelf")
    found.write(Counted, "3-30", sowing="tomato", standing=20)
    assert "was not hardened off" in asked_of(found, "tomato", "5-01")
    assert "in 80 % of years" in asked_of(found, "tomato", "5-01")
    assert asked_of(found, "tomato", "5-13") == ""


def asked_of(found: Walk, name: str, at: str) -> str:
    """What setting it out is asked about."""
    found.round(at)
    filled = read(NAMED["set out"], found.opened.known(), {"sowing": name, "plants": "all"})
    assert filled.problems.keys() <= filled.questions
    return " ".join(problem.hint for problem in filled.problems.values())
