"""Late, overdue, still under a cover, out too early, hardening missed."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.answers import seen
from seedstart.daily.check import Alert
from seedstart.drawing.round_lines import alert_text
from seedstart.season.journal.entries import (
    Counted,
    Covered,
    Dug,
    Finished,
    Hardened,
    Lost,
    Moved,
    PottedOn,
    PrickedOut,
    SetOut,
    Sown,
    Struck,
    Uncovered,
)
from shipped import crop
from tables import emergence_tables
from walk import MakeWalk, Walk

LOTS = (
    lot("pepper", "pepper", station='"mat"')
    + lot("tomato", "tomato", station='"shelf"')
    + lot("cabbage", "cabbage", station='"shelf"')
    + lot("leek", "leek", station='"shelf"')
)
MAT_25 = HEAD.replace('expected = "24C"', 'expected = "25C"')

# Where no heat is to be missed: a mat so cold is told to be dead, and not its seed to be late.
BENCH_25 = MAT_25.replace('kind = "mat"', 'kind = "bench"')


def sown(walk: MakeWalk, name: str = "pepper", station: str = "mat", head: str = MAT_25) -> Walk:
    found = walk(LOTS, head)
    found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station=station)
    return found


def read(found: Walk, since: str, days: int, celsius: float, station: str = "mat") -> None:
    at = moment(since)
    hours = [(at + timedelta(hours=hour), celsius) for hour in range(24 * days)]
    found.log(station, "soil_c", hours)


# Late.


def test_seed_that_lies_too_cool_for_any_date_is_told_and_where_it_comes_up(walk: MakeWalk) -> None:
    # Within eggplant's limits (15.6 °C, germination_temperature.csv), and beyond its table.
    eggplant = lot("eggplant", "eggplant", station='"mat"', then='"shelf"', want="12")
    found = walk(eggplant, HEAD.replace('"20C"', '"17C"'))
    found.write(Sown, "2-24", sowing="eggplant", lot="eggplant", seeds=20, station="shelf")
    alert = found.alert("2-26", "late")
    assert alert.text == "eggplant comes up so slowly at 17 °C that no date can be given"
    assert alert.remedies[0].startswith("the mat: ")
    assert alert.level == "today"
    found.write(Moved, "2-27", sowing="eggplant", station="mat")
    assert found.alerts("2-27 20:00", "late") == []


def test_a_medium_that_is_not_too_cold_is_told_once_it_costs_three_days(walk: MakeWalk) -> None:
    temperatures, days = emergence_tables()["Pepper"]
    at_25, at_20 = (float(days[temperatures.index(c)]) for c in (25.0, 20.0))
    found = sown(walk, head=BENCH_25)
    read(found, "3-01", 4, 20.0)
    alert = found.alert("3-05 08:00", "late")
    # Harrington & Minges 1954, times 1.6 in trays (growing/emergence.py).
    assert alert.costs_days == pytest.approx(1.6 * (at_20 - at_25), abs=1)
    assert (alert.level, alert.sowings) == ("know", ("pepper",))
    assert "its medium is at 20 °C" in alert.text
    assert "a warmer place: it is quickest at 29.4 °C" in "; ".join(alert.remedies)


def test_late_on_a_dead_mat_is_told_of_the_mat_alone(walk: MakeWalk) -> None:
    found = sown(walk)
    read(found, "3-01", 4, 20.0)
    (alert,) = found.alerts("3-05 08:00")
    assert alert.kind == "mat no longer heats"
    found.opened.record(seen(alert), at=moment("3-05 08:30"))
    assert found.alerts("3-05 09:30") == []


def test_a_day_or_two_later_is_no_alert(walk: MakeWalk) -> None:
    found = sown(walk)
    read(found, "3-01", 4, 23.5)
    assert found.alerts("3-05 08:00", "late") == []


def test_a_grower_whose_trays_are_slow_is_not_told_of_a_cool_medium(walk: MakeWalk) -> None:
    found = walk(LOTS, MAT_25)
    read(found, "2-01", 60, 25.0)
    for number, (day, up) in enumerate([("2-01", "2-20"), ("2-02", "2-21"), ("2-03", "2-22")]):
        name = f"pepper/{number + 2}"
        found.write(Sown, day, sowing=name, lot="pepper", seeds=24, station="mat")
        before = moment(up) - timedelta(days=1)
        found.write(Counted, before, sowing=name, standing=0)
        found.write(Counted, up, sowing=name, standing=20, final=True)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    found.round("3-08 08:00")
    own = found.opened.own_factor()
    assert own is not None
    assert own.counted > 1.6, "else this shows nothing"
    assert found.alerts("3-08 08:00", "late") == []


# Overdue.


def silent(found: Walk, since: str, until: str, name: str = "pepper") -> None:
    """Looked at day by day, and none was up."""
    at = moment(since)
    while at <= moment(until):
        found.write(Counted, at + timedelta(minutes=-1), sowing=name, standing=0)
        at += timedelta(days=1)


def test_nothing_is_overdue_before_nine_in_ten_should_be_up(walk: MakeWalk) -> None:
    # The extension prints 10 to 14 days in a mixed tray (crops/pepper.toml, Idaho CIS 1209); the
    # table's days, times 1.6 for trays, times 1.2 from half to nine in ten.
    temperatures, days = emergence_tables()["Pepper"]
    at_25 = float(days[temperatures.index(25.0)])
    usual = crop("pepper").days_in_trays
    assert usual is not None
    last = max(usual.high, round(1.2 * 1.6 * at_25))
    found = sown(walk)
    told = []
    for day in range(8, 26):
        silent(found, f"3-{day:02}", f"3-{day:02}")
        if found.alerts(f"3-{day:02}", "overdue"):
            told.append(day)
    assert last < told[0] <= last + 4
    assert told == list(range(told[0], 26))


def test_what_was_cold_is_not_overdue_by_the_plan_alone(walk: MakeWalk) -> None:
    found = sown(walk)
    read(found, "3-01", 30, 15.6)
    temperatures, days = emergence_tables()["Pepper"]
    at_15 = float(days[temperatures.index(15.0)])  # Harrington & Minges 1954: 25 days
    silent(found, "3-20", "3-27")
    assert found.alerts(moment("3-01") + timedelta(days=at_15), "overdue") == []


def test_overdue_says_what_may_be_done_and_stays_one_event(walk: MakeWalk) -> None:
    found = sown(walk)
    silent(found, "3-08", "3-21")
    alert = found.alert("3-21", "overdue")
    assert "None of 24 up on 21 Mar" in alert.text
    assert "dig a few seeds up" in "; ".join(alert.remedies)
    silent(found, "3-22", "4-05")
    found.write(Dug, "4-05", sowing="pepper", soft=5)
    later = found.alert("4-05", "overdue")
    assert later.key == alert.key
    assert "sow again" in "; ".join(later.remedies)
    found.opened.record(seen(alert), at=moment("4-05 09:00"))
    assert found.alerts("4-06", "overdue") == []


def test_one_seedling_ends_it(walk: MakeWalk) -> None:
    found = sown(walk)
    silent(found, "3-08", "3-27")
    found.write(Counted, "3-28", sowing="pepper", standing=1)
    assert found.alerts("3-29", "overdue") == []


def test_what_nobody_looked_at_is_never_told_to_be_silent(walk: MakeWalk) -> None:
    found = sown(walk)
    assert found.alerts("3-29", "overdue") == []
    alert = found.alert("3-29", "not looked at")
    assert "Not looked at since it was sown" in alert.text
    silent(found, "3-12", "3-12")
    alert = found.alert("3-29", "not looked at")
    assert "Not looked at since 12 Mar" in alert.text
    assert alert.brief.endswith(": not looked at since 12 Mar → look")
    found.write(Counted, "3-29", sowing="pepper", standing=5)
    assert found.alerts("3-29 12:00", "not looked at") == []


def test_sowings_that_nobody_looked_at_are_one_alert_a_station_till_another_is_overdue(
    walk: MakeWalk,
) -> None:
    found = sown(walk)
    for name, day in (("tomato", "3-01"), ("cabbage", "3-01"), ("leek", "3-20")):
        found.write(Sown, day, sowing=name, lot=name, seeds=24, station="shelf")
    shelf = found.alerts("3-29", "not looked at")
    assert {one.station for one in shelf} == {"mat", "shelf"}
    (one,) = (one for one in shelf if one.station == "shelf")
    assert one.sowings == ("cabbage", "tomato")
    assert alert_text(one).endswith("shelf: overdue, and nobody has looked: cabbage, tomato")
    found.opened.record(seen(one), at=moment("3-29 09:00"))
    assert [one.station for one in found.alerts("3-29 10:00", "not looked at")] == ["mat"]
    found.write(Counted, "3-29 11:00", sowing="tomato", standing=9)
    assert [one.station for one in found.alerts("3-29 12:00", "not looked at")] == ["mat"]
    (again,) = (one for one in found.alerts("4-29", "not looked at") if one.station == "shelf")
    assert again.sowings == ("leek",)


def test_one_that_was_sown_again_or_finished_is_overdue_no_more(walk: MakeWalk) -> None:
    found = sown(walk)
    silent(found, "3-08", "3-25")
    assert found.alerts("3-25 12:00", "overdue")
    again = {"sowing": "pepper/2", "lot": "pepper", "seeds": 24, "station": "mat"}
    entry = found.write(Sown, "3-25 13:00", **again, instead_of="pepper")
    assert found.alerts("3-25 14:00", "overdue") == []
    found.write(Struck, "3-25 15:00", entry=entry.id)
    assert found.alerts("3-25 16:00", "overdue")
    found.write(Finished, "3-25 17:00", sowing="pepper")
    assert found.alerts("3-25 18:00", "overdue") == []


# Too few up.


def test_too_few_up_is_told_while_some_are_up(walk: MakeWalk) -> None:
    found = walk(lot("pepper", "pepper", want="20", station='"mat"'), MAT_25)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=40, station="mat")
    ups = [0, 2, 5, 7, 8, 8, 8, 8, 8, 8, 8]
    for number, up in enumerate(ups):
        found.write(Counted, moment("3-11") + timedelta(days=number), sowing="pepper", standing=up)
    alert = found.alert("3-21 12:00", "too few up")
    assert alert.level == "today"
    assert alert.brief.startswith("pepper: 8 of 20 up → sow again")
    assert "8 of 40 were up by 21 Mar" in alert.text
    found.write(Sown, "3-22", sowing="pepper/2", lot="pepper", seeds=40, instead_of="pepper")
    assert found.alerts("3-22 12:00", "too few up") == []


# The cover.


def covered(walk: MakeWalk) -> Walk:
    found = sown(walk)
    found.write(Covered, "3-01 09:00", sowing="pepper")
    found.write(Counted, "3-12", sowing="pepper", standing=4)
    return found


def test_a_cover_is_told_of_the_day_after_half_are_up(walk: MakeWalk) -> None:
    found = covered(walk)
    assert found.alerts("3-12 20:00", "cover still on") == []
    alert = found.alert("3-13", "cover still on")
    assert alert.level == "today"
    assert "1 of 1 are up (pepper) since 12 Mar" in alert.text
    found.write(Uncovered, "3-13 09:00", sowing="pepper")
    assert found.alerts("3-13 10:00", "cover still on") == []


def test_a_cover_laid_on_today_is_not_still_on(walk: MakeWalk) -> None:
    found = covered(walk)
    found.write(Uncovered, "3-13 09:00", sowing="pepper")
    found.write(Covered, "3-20 09:00", sowing="pepper")
    assert found.alerts("3-20 10:00", "cover still on") == []
    assert found.alert("3-21", "cover still on").since.date() == date(2027, 3, 20)


# Out too early.


def out(walk: MakeWalk, name: str, day: str, left: int = 0, head: str = HEAD) -> Walk:
    found = walk(LOTS, head)
    found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station="shelf")
    found.write(Counted, "3-12", sowing=name, standing=20)
    found.write(SetOut, day, sowing=name, left=left)
    return found


def early(found: Walk, at: str) -> list[Alert]:
    return found.alerts(at, "too early to set out")


@pytest.mark.parametrize("left", [0, 8])
def test_tender_plants_out_before_the_frost_date_are_told_of_for_days(
    walk: MakeWalk, left: int
) -> None:
    found = out(walk, "tomato", "4-25", left)  # the last frost is the 12th of May
    (first,), (later,) = early(found, "4-25 12:00"), early(found, "4-28")
    assert first.key == later.key
    assert first.level == "today"
    assert "frost kills tomato" in first.text
    assert early(found, "5-12") == []


def test_of_plants_that_nobody_knows_the_crop_of_no_frost_is_told(walk: MakeWalk) -> None:
    assert early(out(walk, "from-a-neighbour", "4-25"), "4-26") == []


def test_an_alert_that_says_the_same_stays_the_same_object(walk: MakeWalk) -> None:
    # A face draws anew what is another object, and nothing else.
    found = out(walk, "tomato", "4-25")
    (before,), (now,) = early(found, "4-26 08:00"), early(found, "4-26 08:10")
    assert now is before


def test_hardy_plants_may_go_out_early(walk: MakeWalk) -> None:
    assert early(out(walk, "cabbage", "4-25"), "4-26") == []


def test_after_the_frost_date_nothing_is_too_early(walk: MakeWalk) -> None:
    assert early(out(walk, "tomato", "5-13"), "5-13 12:00") == []


def test_the_day_that_is_trusted_counts_and_not_the_average(walk: MakeWalk) -> None:
    trusting = HEAD.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10")
    found = out(walk, "tomato", "5-13", head=trusting)
    (alert,) = early(found, "5-13 12:00")
    # By the normal curve half of the years have a frost after the average day.
    assert "still a 4" in alert.text


def test_without_a_frost_date_nobody_knows(walk: MakeWalk) -> None:
    head = HEAD.replace("[frost]\nlast = 2027-05-12\n", "")
    assert early(out(walk, "tomato", "4-25", head=head), "4-26") == []


# Hardening missed.


def test_missed_days_of_hardening_are_told_once_they_move_setting_out(walk: MakeWalk) -> None:
    found = sown(walk, "cabbage", "shelf")
    found.write(Counted, "3-08", sowing="cabbage", standing=20)
    plants = {"plants": 20, "into": "cabbage.1", "station": "shelf"}
    found.write(PrickedOut, "3-20", sowing="cabbage", **plants)
    found.write(PottedOn, "3-28", sowing="cabbage.1")
    days = [moment("3-28") + timedelta(days=day) for day in range(40)]
    start = next(day for day in days if found.checks(day, "harden"))
    found.write(Hardened, start, sowing="cabbage.1", hours=2.0)
    told = [start + timedelta(days=day) for day in range(1, 15)]
    first = next(day for day in told if found.alerts(day, "hardening missed"))
    alert = found.alert(first, "hardening missed")
    (row,) = found.opened.hardening()
    assert alert.costs_days == row.moved_days > 0
    assert alert.since.date() == (start + timedelta(days=1)).date()
    assert "of hardening off missed" in alert.text


def test_late_that_was_seen_comes_again_only_when_it_got_worse(walk: MakeWalk) -> None:
    found = sown(walk, head=BENCH_25)
    read(found, "3-01", 4, 20.0)
    alert = found.alert("3-05 08:00", "late")
    found.opened.record(seen(alert), at=moment("3-05 09:00"))
    assert found.alerts("3-06", "late") == []
    read(found, "3-01", 8, 17.0)
    assert found.alert("3-09", "late").key != alert.key


def few_peppers(walk: MakeWalk) -> Walk:
    found = walk(lot("pepper", "pepper", want="20", station='"mat"'), MAT_25)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=40, station="mat")
    for number, up in enumerate([0, 2, 5, 7, *[8] * 12]):
        found.write(Counted, moment("3-11") + timedelta(days=number), sowing="pepper", standing=up)
    return found


def test_seedlings_that_stand_are_not_to_be_thrown_away_for_those_that_are_missing(
    walk: MakeWalk,
) -> None:
    found = few_peppers(walk)
    for day, words in (("3-26 12:00", "for the 12 short"), ("5-20", "go on with the 8 there are")):
        for day_ in [day]:
            found.write(Counted, moment(day_), sowing="pepper", standing=8)
        alert = found.alert(day, "too few up")
        assert words in "; ".join(alert.remedies)
        assert "finish" not in "; ".join(alert.remedies)


def test_too_few_up_costs_no_days_and_ends_in_one_stop(walk: MakeWalk) -> None:
    alert = few_peppers(walk).alert("3-26 12:00", "too few up")
    assert alert.costs_days is None
    assert ".;" not in alert_text(alert)


def test_since_when_too_few_are_up_moves_with_no_look_and_no_day(walk: MakeWalk) -> None:
    found = walk(lot("pepper", "pepper", want="12", station='"mat"'), MAT_25)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    for number, up in enumerate([0, 2, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]):
        found.write(
            Counted, moment("3-11 08:00") + timedelta(days=number), sowing="pepper", standing=up
        )
    told = {
        found.alert(day, "too few up").since for day in ("3-22 20:00", "3-24 09:00", "4-03 09:00")
    }
    assert told == {moment("3-13 08:00")}
    found.write(Lost, "4-03 10:00", sowing="pepper", plants=1, why="slugs")
    assert found.alert("4-03 20:00", "too few up").since == moment("4-03 10:00")


def test_since_when_none_is_up_stays_when_it_is_overdue(walk: MakeWalk) -> None:
    found = walk(lot("pepper", "pepper", want="12", station='"mat"'), MAT_25)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    since = set()
    for day in range(8, 31):
        silent(found, f"3-{day:02}", f"3-{day:02}")
        since |= {one.since for one in found.alerts(f"3-{day:02} 20:00", "overdue")}
    assert len(since) == 1


def test_what_is_lost_after_the_count_was_closed_is_told_while_sowing_again_helps(
    walk: MakeWalk,
) -> None:
    found = walk(lot("pepper", "pepper", want="12", station='"mat"'), MAT_25)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    found.write(Counted, "3-12 08:00", sowing="pepper", standing=9)
    found.write(Counted, "3-16 08:00", sowing="pepper", standing=15, final=True)
    assert found.alerts("3-17", "too few up") == []
    found.write(Lost, "3-18 10:00", sowing="pepper", plants=2, why="slugs")
    assert found.alerts("3-19", "too few up") == []
    found.write(Lost, "3-20 10:00", sowing="pepper", plants=8, why="slugs")
    alert = found.alert("3-21", "too few up")
    assert "5 of those that came up are left, and 12 are wanted" in alert.text
    assert alert.brief.startswith("pepper: 5 of 12 left → sow again by ")
    assert alert.since == moment("3-20 10:00")
    found.write(
        Sown, "3-22", sowing="pepper/2", lot="pepper", seeds=24, station="mat",
        instead_of="pepper",
    )  # fmt: skip
    assert found.alerts("3-23", "too few up") == []
