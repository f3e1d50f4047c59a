"""Feeling the medium, feeding, measuring."""

from datetime import date, timedelta

import pytest

from notebook import moment
from seasons import lot
from seedstart.season.journal.entries import (
    Counted,
    Fed,
    Measured,
    Moved,
    Plant,
    PottedOn,
    PrickedOut,
    PutOff,
    Sown,
    Watered,
    Weighed,
)
from walk import MakeWalk, Walk

LOTS = lot("leek", "leek", station='"shelf"') + lot("pepper", "pepper", station='"mat"')


def leek(walk: MakeWalk, station: str = "shelf", up: str | None = "3-15", **fields: object) -> Walk:
    found = walk(LOTS)
    sown = {"sowing": "leek", "lot": "leek", "seeds": 24, "station": station} | fields
    found.write(Sown, "3-01", **sown)
    if up:
        found.write(Counted, up, sowing="leek", standing=24)
    return found


@pytest.mark.parametrize(
    ("station", "up", "days"), [("shelf", None, 1), ("shelf", "3-15", 2), ("mat", "3-15", 1)]
)
def test_medium_is_felt_every_day_while_seed_lies_in_it_or_on_heat_else_every_other_day(
    walk: MakeWalk, station: str, up: str | None, days: int
) -> None:
    # docs/round.md, common practice.
    found = leek(walk, station, up)
    found.write(Watered, "3-20 18:00", sowing="leek")
    due = moment("3-20") + timedelta(days=days)
    assert found.checks(due - timedelta(days=1), "water") == []
    assert found.check(due, "water").what == "water"


def test_water_is_a_question_and_never_late(walk: MakeWalk) -> None:
    found = leek(walk)
    check = found.check("3-30", "water")
    assert check.due == date(2027, 3, 30)
    assert check.why[0].text == "no watering recorded since Mon 1 Mar 08:00"


def test_a_tick_waters_and_the_check_is_done(walk: MakeWalk) -> None:
    found = leek(walk, tray="tray 5")
    (entry,) = found.tick(found.check("3-20", "water"), "3-20 09:00")
    assert isinstance(entry, Watered)
    assert entry.tray == "tray 5"
    assert found.checks("3-20 10:00", "water") == []
    assert [one.says for one in found.done("3-20 10:00", "water")] == ["watered"]


def test_a_weight_is_written_down_and_does_not_water(walk: MakeWalk) -> None:
    found = leek(walk, tray="tray 5")
    (entry,) = found.tick(found.check("3-20", "water"), "3-20 09:00", "1700 g")
    assert isinstance(entry, Weighed)
    assert (entry.grams, entry.state, entry.tray) == (1700, "now", "tray 5")


def test_watering_a_station_waters_what_stands_there(walk: MakeWalk) -> None:
    found = leek(walk)
    found.write(Watered, "3-20 08:00", station="shelf")
    assert found.checks("3-21", "water") == []


def test_what_was_moist_is_felt_again_after_one_day_then_two_then_three(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = leek(walk)
    day, key = moment("3-20"), found.check("3-20", "water").key
    for days in (1, 2, 3, 3):
        (entry,) = found.tick(found.check(day, "water"), day, "moist")
        assert isinstance(entry, PutOff)
        for later in range(days):
            assert found.checks(day + timedelta(days=later, hours=1), "water") == []
        day += timedelta(days=days)
        assert found.check(day, "water").key == key
    found.write(Watered, day, sowing="leek")
    day += timedelta(days=2)
    again = found.check(day, "water")
    assert again.put_off == 0
    assert again.key != key


def test_the_first_feed_comes_two_weeks_after_emergence_then_one_a_week(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = leek(walk)
    assert found.checks("3-28", "feed") == []
    check = found.check("3-29", "feed")
    assert check.due == date(2027, 3, 29)
    assert "50 ppm N" in check.says
    assert any("University of Massachusetts" in why.basis for why in check.why)
    late = found.check("4-05", "feed")
    assert (late.key, late.due) == (check.key, check.due)
    (entry,) = found.tick(late, "4-05 09:00")
    assert isinstance(entry, Fed)
    assert found.checks("4-11", "feed") == []
    assert found.check("4-12", "feed").due == date(2027, 4, 12)


def test_what_waits_for_seed_in_the_same_tray_is_not_fed(walk: MakeWalk) -> None:
    found = leek(walk, tray="tray 5")
    found.write(Sown, "3-20", sowing="pepper", lot="pepper", seeds=9, tray="tray 5")
    assert found.checks("4-05", "feed") == []


def test_fresh_medium_feeds_for_two_weeks_and_only_then_is_it_late(walk: MakeWalk) -> None:
    found = leek(walk)
    found.write(PottedOn, "3-28", sowing="leek")
    assert found.checks("4-10", "feed") == []
    assert found.check("4-11", "feed").due == date(2027, 4, 11)


def test_what_is_hardened_off_is_not_fed(walk: MakeWalk) -> None:
    # Growing Gardens (weak; tests/reference/care.csv): no feeding while hardening.
    found = leek(walk)
    found.write(PottedOn, "3-28", sowing="leek")
    days = (moment("4-11") + timedelta(days=number) for number in range(40))
    first = next(day for day in days if found.checks(day, "harden"))
    assert found.checks(first - timedelta(days=1), "feed") != []
    assert found.checks(first, "feed") == []


def test_in_the_week_of_pricking_out_nothing_is_fed(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = walk(lot("celery", "celery", station='"shelf"'))
    found.write(Sown, "3-01", sowing="celery", lot="celery", seeds=24, station="shelf")
    found.write(Counted, "3-15", sowing="celery", standing=24)
    days = [moment("3-16") + timedelta(days=number) for number in range(40)]
    first = next(day for day in days if found.checks(day, "prick out"))
    assert found.checks(first, "feed") == []
    fields = {"sowing": "celery", "plants": 20, "into": "celery.1", "tray": "tray 9"}
    found.write(PrickedOut, first, **fields)
    for number in range(7):
        assert found.checks(first + timedelta(days=number), "feed") == []
    assert {one.sowings[0].name for one in found.checks(first + timedelta(days=8), "feed")} <= {
        "celery"
    }


def test_plants_pricked_out_are_fed_by_the_day_their_mother_came_up(walk: MakeWalk) -> None:
    found = leek(walk)
    found.write(PrickedOut, "3-20", sowing="leek", plants=24, into="leek.1", station="shelf")
    assert found.checks("4-02", "feed") == []
    assert found.check("4-03", "feed").due == date(2027, 4, 3)
    assert "up since 15 Mar" in found.check("4-03", "feed").why[0].text


def test_what_was_measured_once_is_measured_every_week(walk: MakeWalk) -> None:
    found = leek(walk)
    assert found.checks("4-20", "measure") == []
    plant = Plant(height_mm=52, diameter_mm=2.1)
    found.write(Measured, "4-01", sowing="leek", plants=(plant,))
    assert found.checks("4-07", "measure") == []
    check = found.check("4-08", "measure")
    assert (check.key, check.due) == ("measure leek 2", date(2027, 4, 8))
    (entry,) = found.tick(check, "4-09 09:00", "60/2.4, 58/2.2")
    assert isinstance(entry, Measured)
    assert [(one.height_mm, one.diameter_mm) for one in entry.plants] == [(60, 2.4), (58, 2.2)]
    assert found.checks("4-09 10:00", "measure") == []
    assert [one.key for one in found.done("4-09 10:00", "measure")] == ["measure leek 2"]


def test_plants_of_a_trial_are_measured_a_week_after_emergence(walk: MakeWalk) -> None:
    found = leek(walk, purpose="trial", trial="light")
    assert found.checks("3-21", "measure") == []
    assert found.check("3-22", "measure").why[0].text == "not measured yet"


def test_a_trial_is_measured_on_the_days_of_its_file_and_then_no_more(walk: MakeWalk) -> None:
    # Half of the 24 that came were up on the first count, 15 March (see `leek`).
    found = leek(walk, purpose="trial", trial="light")
    trials = found.folder / "trials"
    trials.mkdir()
    (trials / "light.toml").write_text(
        'kind = "light"\nlots = ["leek"]\nlevels = [4, 8]\nmeasure_on = [14, 21]\n', "utf-8"
    )
    assert found.checks("3-28", "measure") == []
    check = found.check("3-29", "measure")
    assert check.why[0].text == "14 days after half were up, 15 Mar"
    found.tick(check, "3-29 09:00", "60/2.4 58/2.2")
    assert found.checks("4-04", "measure") == []
    found.tick(found.check("4-05", "measure"), "4-05 09:00", "80/2.8 78/2.7")
    assert found.checks("4-20", "measure") == []


def test_a_tray_that_was_carried_off_is_felt_where_it_stands(walk: MakeWalk) -> None:
    found = leek(walk, tray="tray 5")
    found.write(Moved, "3-16", tray="tray 5", station="mat")
    assert found.check("3-20", "water").station == "mat"
