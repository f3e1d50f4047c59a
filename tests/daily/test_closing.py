"""How long a sowing is counted, and how its count is closed."""

from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.season.journal.entries import (
    Counted,
    Finished,
    Given,
    PrickedOut,
    SetOut,
    Sown,
    Split,
)
from walk import MakeWalk, Walk

# Sown on the 2nd of March onto a mat of 25 °C: up from about the 11th on.
MAT_25 = HEAD.replace('expected = "24C"', 'expected = "25C"')
LOTS = lot("pepper", "pepper", station='"mat"', germination='"95 %"') + lot(
    "tomato", "tomato", station='"mat"', germination='"95 %"'
)


def sown(walk: MakeWalk, name: str = "pepper", **more: Any) -> Walk:
    found = walk(LOTS, MAT_25)
    fields = {"sowing": name, "lot": name, "seeds": 30, "station": "mat"} | more
    found.write(Sown, "3-02", **fields)
    return found


def counted(found: Walk, at: str, standing: int, name: str = "pepper", **more: Any) -> None:
    found.write(Counted, at, sowing=name, standing=standing, **more)


def pricked(found: Walk, at: str, plants: int, name: str = "pepper") -> None:
    into = {"into": f"{name}.9", "station": "shelf"}
    found.write(PrickedOut, at, sowing=name, plants=plants, **into)


def days_of(found: Walk, what: str, since: str, days: int) -> list[date]:
    """The days on which a kind of check about the sowing itself is there."""
    at = [moment(since) + timedelta(days=day) for day in range(days)]
    return [day.date() for day in at if found.checks(day, what)]


def closed_why(found: Walk, name: str) -> str | None:
    one = found.opened.records().by_name_in_line(name)
    assert one is not None
    return one.closed.why if one.closed else None


def all_but_late(walk: MakeWalk) -> Walk:
    """Twelve of thirty were up, and all of them were pricked out."""
    found = sown(walk)
    counted(found, "3-12", 6)
    counted(found, "3-13", 12)
    pricked(found, "3-14", 12)
    return found


def test_after_pricking_out_all_that_stood_it_is_counted_on_while_more_are_expected(
    walk: MakeWalk,
) -> None:
    found = all_but_late(walk)
    check = found.check("3-15", "count")
    assert [one.name for one in check.sowings] == ["pepper"]
    feel = found.check("3-15", "water")
    assert feel.says == "feel pepper: water if it is dry", "what is still to come is kept damp"


def test_those_that_follow_are_pricked_out_a_week_after_the_first(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = all_but_late(walk)
    counted(found, "3-17", 9)
    assert found.checks("3-20", "prick out") == []
    again = found.check("3-21", "prick out")
    assert (again.key, again.due) == ("prick out pepper 2", date(2027, 3, 21))


def test_pricking_out_is_asked_when_half_of_the_expected_are_up(walk: MakeWalk) -> None:
    found = sown(walk)
    counted(found, "3-12", 3)
    for day in range(13, 30):
        counted(found, f"3-{day}", 3)
    late = date(2027, 3, 20)
    assert days_of(found, "prick out", "3-13", 8) == [], late
    found = sown(walk, "tomato")
    counted(found, "3-09", 3, "tomato")
    counted(found, "3-10", 20, "tomato")
    (first, *_) = days_of(found, "prick out", "3-10 09:00", 40)
    check = found.check(moment(f"{first:%m-%d}"), "prick out")
    assert check.says == (
        "prick out those of tomato with a leaf (20 seedlings): how many, and into what?"
    )
    assert any("more should come up" in why.text for why in check.why)


def done_with(walk: MakeWalk) -> Walk:
    """Twenty-eight of thirty came, long ago."""
    found = sown(walk)
    for day, up in ((11, 4), (12, 14), (13, 24), (14, 28)):
        counted(found, f"3-{day}", up)
    return found


@pytest.mark.parametrize("how", [
    {"kind": SetOut, "plants": 28}, {"kind": SetOut, "left": 0}, {"kind": Given, "left": 0},
    {"kind": PrickedOut, "plants": 28, "into": "pepper.1", "station": "sill"},
    {"kind": Split, "plants": 28, "into": "pepper.1", "station": "sill"},
])  # fmt: skip
def test_once_the_last_plant_has_left_and_none_is_expected_nothing_of_it_is_counted_or_cared_for(
    walk: MakeWalk, how: dict[str, object]
) -> None:
    found = done_with(walk)
    counted(found, "4-20", 28)
    fields = {"sowing": "pepper"} | {key: one for key, one in how.items() if key != "kind"}
    found.write(how["kind"], "4-21", **fields)  # type: ignore[arg-type]
    for day in ("4-22", "5-10", "6-20"):
        about = [one for one in found.checks(day) if one.station == "mat" and one.sowings]
        assert {one.what for one in about} <= {"close"}, day
    check = found.check("4-22", "close")
    assert check.says == "pepper: nothing is left in it; close the count at 28 of 30?"
    found.tick(check, "4-22 09:00")
    assert closed_why(found, "pepper") == "final"
    assert [one for one in found.checks("4-23") if one.station == "mat" and one.sowings] == []


def test_the_last_plants_that_are_pricked_out_in_the_round_close_the_count(
    walk: MakeWalk,
) -> None:
    found = done_with(walk)
    counted(found, "4-20", 28)
    check = found.check("4-20 10:00", "prick out")
    entries = found.tick(check, "4-20 11:00", "28 into sill")
    assert [type(one) for one in entries] == [PrickedOut, Counted]
    assert closed_why(found, "pepper") == "final"
    one = found.opened.records().by_name_in_line("pepper")
    assert one is not None
    assert (one.emerged, one.standing, one.left["pricked_out"]) == (28, 0, 28)


@pytest.mark.parametrize("how", [
    {"kind": SetOut, "left": 0}, {"kind": Given, "left": 0},
    {"kind": Split, "plants": 12, "into": "pepper.1", "station": "sill"},
])  # fmt: skip
def test_what_went_with_its_medium_took_what_was_still_to_come_along(
    walk: MakeWalk, how: dict[str, object]
) -> None:
    found = sown(walk)
    counted(found, "3-12", 6)
    counted(found, "3-13", 12)
    fields = {"sowing": "pepper"} | {key: one for key, one in how.items() if key != "kind"}
    found.write(how["kind"], "3-14", **fields)  # type: ignore[arg-type]
    for day in ("3-15", "3-20", "5-20"):
        about = [one for one in found.checks(day) if one.station == "mat" and one.sowings]
        assert {one.what for one in about} == {"close"}, day


def test_some_that_are_left_behind_keep_the_count_open(walk: MakeWalk) -> None:
    found = done_with(walk)
    counted(found, "4-20", 28)
    entries = found.tick(found.check("4-20 10:00", "prick out"), "4-20 11:00", "20 into sill")
    assert [type(one) for one in entries] == [PrickedOut]
    assert closed_why(found, "pepper") is None


def test_while_it_is_due_or_overdue_it_is_looked_at_every_other_day_at_least(
    walk: MakeWalk,
) -> None:
    # docs/round.md: 1 day, after two counts alike 2 days, and never less (common practice).
    found = sown(walk)
    day, asked = moment("3-11"), []
    while day < moment("4-20"):
        for check in found.checks(day, "look"):
            found.tick(check, day)
            asked.append(day.date())
        day += timedelta(days=1)
    gaps = {(later - earlier).days for earlier, later in pairwise(asked)}
    assert gaps == {1, 2}


def counted_every_other_day(walk: MakeWalk) -> Walk:
    found = done_with(walk)
    day = moment("3-16")
    while not found.checks(day, "close"):
        assert found.checks(day, "count"), day
        counted(found, f"{day:%m-%d}", 28)
        day += timedelta(days=2)
        assert day < moment("5-01")
    return found


def test_a_count_is_asked_to_be_closed_when_none_came_for_a_week_past_its_last_day(
    walk: MakeWalk,
) -> None:
    found = counted_every_other_day(walk)
    last = max(one.at for one in found.opened.journal.by_id.values() if isinstance(one, Counted))
    assert (last.date() - date(2027, 3, 14)).days >= 7
    check = found.check(last + timedelta(days=2), "close")
    assert check.due == last.date() + timedelta(days=1)
    none_new = f"none new for {(last.date() - date(2027, 3, 14)).days} days"
    assert check.says == f"pepper: {none_new}; close the count at 28 of 30?"
    assert check.why[0].text.startswith(none_new)
    assert "no more should come up" in check.why[0].text
    assert "common practice, no source" in check.why[0].basis
    assert found.checks(last + timedelta(days=2), "count") == []
    (final,) = found.tick(check, last + timedelta(days=2))
    assert isinstance(final, Counted)
    assert (final.standing, final.final) == (28, True)
    assert found.checks(last + timedelta(days=30), "close") == []
    assert found.checks(last + timedelta(days=30), "count") == []


def test_who_lets_a_count_stay_open_is_asked_again_after_a_week(walk: MakeWalk) -> None:
    found = counted_every_other_day(walk)
    last = max(one.at for one in found.opened.journal.by_id.values() if isinstance(one, Counted))
    today = last + timedelta(days=1)
    found.tick(found.check(today, "close"), today, "28")
    assert days_of(found, "close", f"{today:%m-%d} 20:00", 7) == []
    assert found.check(today + timedelta(days=7), "close").key != "close pepper 1"


def test_a_count_whose_closing_is_put_off_is_asked_about_a_week_later(walk: MakeWalk) -> None:
    found = counted_every_other_day(walk)
    last = max(one.at for one in found.opened.journal.by_id.values() if isinstance(one, Counted))
    today = last + timedelta(days=1)
    check = found.check(today, "close")
    found.tick(check, today, "put off")
    assert days_of(found, "close", f"{today:%m-%d} 20:00", 7) == []
    assert found.check(today + timedelta(days=7), "close").key == check.key


def test_as_many_as_last_time_closes_the_count(walk: MakeWalk) -> None:
    found = counted_every_other_day(walk)
    last = max(one.at for one in found.opened.journal.by_id.values() if isinstance(one, Counted))
    today = last + timedelta(days=1)
    found.tick(found.check(today, "close"), today, "=")
    assert closed_why(found, "pepper") == "final"


def test_one_more_seedling_at_the_question_is_a_count_like_another(walk: MakeWalk) -> None:
    found = counted_every_other_day(walk)
    last = max(one.at for one in found.opened.journal.by_id.values() if isinstance(one, Counted))
    today = last + timedelta(days=1)
    found.tick(found.check(today, "close"), today, "29")
    assert closed_why(found, "pepper") is None
    assert found.checks(today + timedelta(days=1), "close") == []


def test_of_nothing_up_no_count_is_asked_to_be_closed(walk: MakeWalk) -> None:
    found = sown(walk)
    for day in range(11, 31):
        counted(found, f"3-{day}", 0)
    assert found.checks("4-20", "close") == []


PAPER: dict[str, Any] = {"purpose": "test", "on": "paper", "tray": "tray 1"}


def test_nothing_is_asked_of_a_closed_test(walk: MakeWalk) -> None:
    found = sown(walk, **PAPER)
    counted(found, "3-12", 20)
    assert {one.what for one in found.checks("3-14")} >= {"moisten", "count"}
    ended: dict[str, Any] = {"normal": 26, "abnormal": 1, "hard": 0, "fresh": 0, "dead": 3}
    counted(found, "3-16", 27, final=True, **ended)
    for day in ("3-17", "3-26", "4-10", "6-10"):
        assert [one.what for one in found.checks(day) if one.subject[0] != "lot"] == [], day


def test_a_germination_test_is_never_fed(walk: MakeWalk) -> None:
    found = sown(walk, **PAPER)
    counted(found, "3-12", 20)
    assert found.checks("4-10", "feed") == []
    assert found.checks("4-10", "move to light") == []


def test_how_the_seeds_of_a_test_ended_has_to_be_said(walk: MakeWalk) -> None:
    found = sown(walk, **PAPER)
    for day in range(11, 26):
        counted(found, f"3-{day}", 27)
    check = found.check("3-27", "close")
    assert check.says.endswith("close the test at 27 of 30?")
    assert check.tick is None
    assert "how many stand now" in found.refused(check, "")


def test_a_crop_that_nobody_knows_is_asked_about_after_two_weeks(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = walk("", MAT_25)
    found.write(Sown, "3-02", sowing="found", lot="gone", seeds=30, station="mat")
    for day in range(10, 24):
        counted(found, f"3-{day}", 9, "found")
    assert found.checks("3-24", "close") == []
    counted(found, "3-24", 9, "found")
    assert found.check("3-25", "close").says == (
        "found: none new for 14 days; close the count at 9 of 30?"
    )


def sown_again(walk: MakeWalk, ups: list[int]) -> Walk:
    found = sown(walk)
    for number, up in enumerate(ups):
        counted(found, f"3-{12 + number}", up)
    again = {"sowing": "pepper/2", "lot": "pepper", "seeds": 30, "station": "mat"}
    found.write(Sown, "3-30", **again, instead_of="pepper")
    return found


def test_a_silent_sowing_that_was_sown_again_is_to_be_finished(walk: MakeWalk) -> None:
    found = sown_again(walk, [0, 0])
    check = found.check("3-30 12:00", "close")
    assert check.says == "pepper: sown again as pepper/2; finish it?"
    (entry,) = found.tick(check, "3-30 12:00")
    assert isinstance(entry, Finished)
    assert found.checks("3-31", "close") == []


def test_some_seedlings_of_a_sowing_that_was_sown_again_are_kept_and_their_count_closed(
    walk: MakeWalk,
) -> None:
    found = sown_again(walk, [0, 5])
    check = found.check("3-30 12:00", "close")
    assert check.says == "pepper: sown again as pepper/2; close the count at 5 of 30?"
    found.tick(check, "3-30 12:00")
    assert closed_why(found, "pepper") == "final"
    one = found.opened.records().by_name_in_line("pepper")
    assert one is not None
    assert one.standing == 5
