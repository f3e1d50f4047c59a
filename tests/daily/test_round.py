"""The round as a whole: walking order, few lines, what was done, days away."""

from collections import Counter
from datetime import date, timedelta
from itertools import pairwise
from typing import get_args

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.check import Check, What
from seedstart.daily.round import ACT, MOST_LINES
from seedstart.season.journal.entries import (
    BLANK,
    Counted,
    Covered,
    Fed,
    Finished,
    Hardened,
    Held,
    Moved,
    PrickedOut,
    Relabelled,
    Sown,
    Watered,
)
from seedstart.text import natural
from walk import MakeWalk, Walk

LOTS = lot("leek", "leek", station='"shelf"') + lot("pepper", "pepper", station='"mat"')


def bench(walk: MakeWalk) -> Walk:
    """Two trays on the shelf, one on the mat, a sowing on the sill, in no order."""
    found = walk(LOTS)
    for name, tray, station in (
        ("leek/3", "tray 10", "shelf"), ("leek/2", "tray 9", "shelf"), ("pepper", "tray 1", "mat"),
        ("leek", None, "sill"),
    ):  # fmt: skip
        found.write(
            Sown, "3-01", sowing=name, lot=name.split("/")[0], seeds=24, tray=tray, station=station
        )
    return found


def places(checks: tuple[Check, ...]) -> list[tuple[str | None, str | None]]:
    return list(dict.fromkeys((one.station, one.tray) for one in checks))


def test_the_walk_goes_station_by_station_and_tray_9_comes_before_tray_10(walk: MakeWalk) -> None:
    found = bench(walk)
    every = [part for one in found.round("3-20").checks for part in one.parts or (one,)]
    assert [place for place in places(tuple(every)) if place[0]] == [
        ("mat", "tray 1"), ("shelf", "tray 9"), ("shelf", "tray 10"), ("sill", None),
    ]  # fmt: skip


def test_every_act_of_a_check_has_its_turn_at_a_station() -> None:
    assert set(ACT) == set(get_args(What))


def test_seed_without_a_place_comes_before_the_walk(walk: MakeWalk) -> None:
    found = walk(LOTS + lot("onion", "onion", sow='["2027-03-20"]'))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="mat")
    first = found.round("3-20").checks[0]
    assert (first.what, first.station) == ("sow", None)


def test_a_station_that_the_season_does_not_list_comes_last(walk: MakeWalk) -> None:
    found = bench(walk)
    found.write(Moved, "3-02", tray="tray 1", station="attic")
    assert found.round("3-20").checks[-1].station == "attic"


def test_alerts_of_one_urgency_come_in_walking_order_too(walk: MakeWalk) -> None:
    head = HEAD.replace('name = "mat"', 'name = "warm bench"').replace("24C", "11C")
    found = walk(lot("pepper", "pepper"), head)
    for number, station in enumerate(("sill", "warm bench"), 1):
        names = {"sowing": f"pepper/{number}", "lot": "pepper"}
        found.write(Sown, "3-01", **names, seeds=24, station=station)
    alerts = found.alerts("3-04", "too cold")
    assert [one.station for one in alerts] == ["warm bench", "sill"]
    assert sorted(alerts, key=lambda one: one.key) != alerts


def test_what_was_said_of_a_station_goes_with_it_out_of_the_plan(walk: MakeWalk) -> None:
    lots = lot("pepper", "pepper")
    found = walk(lots)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="sill")
    assert [one.station for one in found.alerts("3-04 08:00", "too cold")] == ["sill"]
    found.edit(lots, HEAD[: HEAD.index('[[station]]\nname = "sill"')])
    assert found.alerts("3-04 08:10", "too cold") == []


def test_names_are_in_natural_order() -> None:
    names = ["tray 10b", "tray 2", "Tray 1", "tray 10"]
    assert sorted(names, key=natural) == ["Tray 1", "tray 2", "tray 10", "tray 10b"]


# Few lines for many lots.


def test_five_hundred_lots_are_some_forty_lines_that_hold_every_check(walk: MakeWalk) -> None:
    found = walk("".join(lot(f"leek {n:03}", "leek") for n in range(500)))
    sown = [
        Sown(
            **BLANK, sowing=f"leek {n:03}", lot=f"leek {n:03}", seeds=24, tray=f"tray {n}",
            station=("mat", "shelf", "sill")[n % 3],
        )
        for n in range(500)
    ]  # fmt: skip
    found.opened.record(*sown, at=moment("3-01"))
    found.opened.record(
        *(Counted(**BLANK, sowing=f"leek {n:03}", standing=9) for n in range(0, 500, 2)),
        at=moment("3-16"),
    )
    lines = found.round("3-17 08:00").checks
    assert len(lines) <= MOST_LINES
    gathered = [part for line in lines for part in line.parts or (line,)]
    assert {part.tray for part in gathered} == {f"tray {n}" for n in range(500)}
    felt = next(one for one in lines if one.what == "water" and one.station == "mat")
    assert felt.says == "feel 167 trays; water what is dry: tray 0, tray 3, tray 6 and 164 more"
    assert felt.subject == ("station", "mat")
    drafts = found.drafts(felt)
    assert {one.tray for one in drafts if isinstance(one, Watered)} == {
        f"tray {n}" for n in range(0, 500, 3)
    }
    found.opened.record(*drafts, at=moment("3-17 08:30"))
    again = found.round("3-17 08:40").checks
    (done,) = (one for one in again if one.station == "mat" and one.done)
    assert (done.what, done.key, len(done.parts)) == ("water", felt.key, 167)
    found.write(Counted, "3-17 08:45", sowing="leek 000", standing=10)
    now = found.round("3-17 08:50").checks
    assert [one for one in again if one.station != "mat"] == [
        one for one in now if any(one is other for other in again) and one.station != "mat"
    ]


def test_a_part_that_is_done_keeps_its_place_in_its_line(walk: MakeWalk) -> None:
    found = walk("".join(lot(f"leek {n:03}", "leek") for n in range(60)))
    found.opened.record(
        *(
            Sown(
                **BLANK, sowing=f"leek {n:03}", lot=f"leek {n:03}", seeds=24, tray=f"tray {n}",
                station="mat",
            )
            for n in range(60)
        ),
        at=moment("3-01"),
    )  # fmt: skip

    def felt(day: str) -> Check:
        return next(one for one in found.round(day).checks if one.what == "water")

    before = felt("3-04 08:00")
    for number, part in enumerate(before.parts[3:5], start=1):
        found.tick(part, "3-04 08:10")
        now = felt("3-04 08:10")
        assert (now.key, now.done) == (before.key, False)
        assert [one.tray for one in now.parts] == [one.tray for one in before.parts]
        assert [one.done for one in now.parts] == [3 <= n < 3 + number for n in range(60)]
    assert now.says.startswith("feel 58 trays; water what is dry: tray 0, tray 1, tray 2 and")
    assert len(found.drafts(now, "put off: Saturday")) == 58
    found.tick(now, "3-04 08:20")
    whole = felt("3-04 08:30")
    assert whole.done_by == "bench"
    assert whole.says.startswith("felt 60 trays: tray 0, tray 1")


def test_what_a_tick_derives_anew_and_finds_equal_stays_the_same_object(walk: MakeWalk) -> None:
    found = walk(LOTS)
    at = {"tray 1": "mat", "tray 2": "shelf"}
    for number, (tray, station) in enumerate(at.items(), 1):
        found.write(
            Sown, "3-01", sowing=f"leek/{number}", lot="leek", seeds=24, tray=tray, station=station
        )
    before = {one.key: one for one in found.round("3-20 08:00").checks}
    found.write(Watered, "3-20 08:10", tray="tray 1")  # the other sowing of its lot is derived too
    now = found.round("3-20 08:20").checks
    unlike = [one for one in now if before.get(one.key) is not one]
    assert [(one.tray, one.what, one.done) for one in unlike] == [("tray 1", "water", True)]


def test_few_checks_stay_lines_of_their_own_but_trays_of_a_bench_are_felt_in_one_go(
    walk: MakeWalk,
) -> None:
    gathered = [one for one in bench(walk).round("3-20").checks if one.parts]
    assert [(one.station, one.what, one.says) for one in gathered] == [
        ("shelf", "water", "feel 2 trays; water what is dry: tray 9, tray 10")
    ]


# What was done today.


def test_what_was_done_today_is_in_sight_with_who_did_it(walk: MakeWalk) -> None:
    found = bench(walk)
    at = "3-20 09:00"
    found.write(Counted, at, sowing="leek/2", standing=7)
    found.write(Counted, at, sowing="pepper", standing=0)
    found.write(Watered, at, station="shelf")
    found.write(Fed, at, tray="tray 9")
    found.write(Hardened, at, tray="tray 9", hours=2.0)
    found.write(Held, "3-20 10:00", sowing="leek", why="windy")
    done = [one for one in found.round("3-20 11:00").checks if one.done]
    said = Counter((one.tray or "", one.what, one.says) for one in done)
    assert said == Counter({
        ("tray 1", "look", "counted: pepper 0"): 1,
        ("tray 9", "count", "counted: leek/2 7"): 1,
        ("", "water", "felt 2 trays: tray 9, tray 10"): 1,
        ("tray 9", "feed", "fed"): 1,
        ("tray 9", "harden", "out 2 h"): 1,
        ("", "harden", "leek: kept in: windy"): 1,
    })  # fmt: skip
    assert {one.done_by for one in done} == {"bench"}
    assert not any(one.done for one in found.round("3-21").checks)


def test_two_counts_of_seedlings_taken_away_are_shown_as_new(walk: MakeWalk) -> None:
    found = bench(walk)
    found.write(Counted, "3-20 09:00", sowing="leek/2", new=3)
    assert [one.says for one in found.done("3-20 10:00", "count")] == ["counted: leek/2 3 new"]


def test_what_was_thrown_away_today_leaves_its_line_for_today(walk: MakeWalk) -> None:
    found = bench(walk)
    found.write(Watered, "3-20 08:00", sowing="leek")
    found.write(Finished, "3-20 09:00", sowing="leek")
    assert [one.says for one in found.done("3-20 10:00", "water")] == ["leek: watered"]
    assert not [one for one in found.round("3-21").checks if one.station == "sill"]


# Days away.


def test_after_an_absence_each_tray_has_one_line_a_need(walk: MakeWalk) -> None:
    found = bench(walk)
    for day in range(15, 18):
        found.write(Counted, f"3-{day}", sowing="leek/2", standing=5)
    found.write(Covered, "3-02", tray="tray 1")
    before = len(found.opened.journal.by_id)
    checks = found.checks("4-20")
    needs = Counter((one.station, one.tray, one.what) for one in checks if one.subject[0] != "lot")
    assert set(needs.values()) == {1}
    assert len(found.opened.journal.by_id) == before, "nothing is invented"
    count = next(one for one in checks if one.tray == "tray 9" and one.what == "count")
    assert count.due == date(2027, 3, 19)
    assert count.sowings[0].last == 5


def test_what_is_overdue_is_the_same_check_day_after_day(walk: MakeWalk) -> None:
    found = bench(walk)
    found.write(Counted, "3-15", sowing="leek/2", standing=5)
    days = [moment("4-01") + timedelta(days=day) for day in range(12)]
    for today, tomorrow in pairwise(days):
        keys = {one.key for one in found.checks(tomorrow)}
        assert {one.key for one in found.checks(today)} <= keys


# Names.


def test_a_tray_and_a_sowing_of_one_name_have_keys_of_their_own(walk: MakeWalk) -> None:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, tray="leek", station="mat")
    keys = [one.key for one in found.round("3-20").checks]
    assert len(keys) == len(set(keys))
    assert {key for key in keys if key.startswith("water")} == {
        "water leek 2027-03-01", "water tray leek 2027-03-01",
    }  # fmt: skip


def test_two_sowings_of_one_name_have_keys_of_their_own(walk: MakeWalk) -> None:
    found = walk(LOTS)
    for day in ("3-01", "3-02"):
        found.write(Sown, day, sowing="leek", lot="leek", seeds=24, station="shelf")
    felt = found.checks("3-20", "water")
    assert len({one.key for one in felt}) == 2
    for check in felt:
        found.tick(check, "3-20 09:00")
    assert found.checks("3-20 10:00", "water") == []


def test_a_sowing_that_got_another_name_is_asked_for_by_it(walk: MakeWalk) -> None:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.round("3-20")
    found.write(Relabelled, "3-20", sowing="leek", name="blue leek")
    assert found.check("3-20 09:00", "water").says == "feel blue leek: water if it is dry"


def test_daughters_of_daughters_are_each_cared_for(walk: MakeWalk) -> None:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.write(Counted, "3-15", sowing="leek", standing=20)
    found.write(PrickedOut, "3-25", sowing="leek", plants=20, into="leek.1", station="shelf")
    found.write(PrickedOut, "4-05", sowing="leek.1", plants=9, into="leek.1.1", station="sill")
    felt = {one.sowings[0].name: one.station for one in found.checks("4-20", "water")}
    assert felt == {"leek.1": "shelf", "leek.1.1": "sill"}


def test_days_to_the_frost_are_counted(walk: MakeWalk) -> None:
    found = walk(LOTS)
    assert found.round("5-10").days_to_frost == 2
    assert found.round("5-14").days_to_frost == -2
    assert (
        walk(LOTS, HEAD.replace("[frost]\nlast = 2027-05-12\n", "")).round("5-10").days_to_frost
        is None
    )


def test_where_the_frost_is_a_record_that_is_still_to_be_read_no_days_are_counted(
    walk: MakeWalk,
) -> None:
    head = HEAD.replace("last = 2027-05-12", 'record = "weather/minima.csv"')
    assert walk(LOTS, head).round("5-10").days_to_frost is None
