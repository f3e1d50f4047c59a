"""Seasons that lack something, sowings that nobody listed, other ends of the year and the earth."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from notebook import as_read, moment
from seasons import HEAD, lot
from seedstart.season.journal.entries import (
    Adjusted,
    Counted,
    Covered,
    MixedUp,
    Moved,
    PottedOn,
    PrickedOut,
    Read,
    Sown,
    Split,
    Struck,
    Watered,
)
from walk import MakeWalk, Walk

LEEK = lot("leek", "leek", station='"shelf"')


def whats(found: Walk, at: str) -> set[str]:
    return {one.what for one in found.checks(at)}


def test_a_season_without_a_frost_date_is_walked_all_the_same(walk: MakeWalk) -> None:
    found = walk(LEEK, HEAD.replace("[frost]\nlast = 2027-05-12\n", ""))
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="mat")
    found.write(Counted, "3-15", sowing="leek", standing=9)
    assert whats(found, "3-16") == {"count", "water", "move to light"}
    assert found.round("3-16").days_to_frost is None


def test_stations_without_a_temperature_take_the_usual_setting_of_a_tray(walk: MakeWalk) -> None:
    head = HEAD.replace('expected = "20C"\n', "")
    found = walk(LEEK, head)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    days = [moment("3-01") + timedelta(days=day) for day in range(30)]
    first = next(day for day in days if found.checks(day, "look"))
    # Seven to fourteen days in a mixed tray (crops/leek.toml, Idaho CIS 1209).
    assert 5 <= (first - moment("3-01")).days <= 10
    assert found.alerts("3-20", "too cold") == []


def test_a_lot_that_is_no_longer_listed_is_watered_and_counted(walk: MakeWalk) -> None:
    found = walk("")
    found.write(Sown, "3-01", sowing="gone", lot="gone", seeds=24, station="mat")
    assert whats(found, "3-10") == {"water", "look"}
    found.write(Counted, "3-15", sowing="gone", standing=9)
    assert whats(found, "3-17") == {"count", "water", "move to light"}
    assert found.alerts("3-17") == []


def test_what_nobody_knows_is_looked_for_from_the_day_after_sowing(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = walk(LEEK)
    found.write(Sown, "3-01", sowing="gone", lot="gone", seeds=24, station="mat")
    assert found.checks("3-01 18:00", "look") == []
    look = found.check("3-02", "look")
    assert (look.due, look.says) == (date(2027, 3, 2), "look for seedlings of gone")
    (why,) = look.why
    assert why.basis == "common practice, no source"
    assert why.text.startswith("gone: the lot gone is not in lots.toml")
    assert why.text.endswith("looked for from the day after sowing")
    found.tick(look, "3-02 09:00")
    assert found.check("3-03", "look").due == date(2027, 3, 3)


def test_in_a_fridge_seed_of_an_unlisted_lot_is_not_looked_for(walk: MakeWalk) -> None:
    found = walk(LEEK, f'{HEAD}[[station]]\nname = "cold"\nkind = "fridge"\n')
    found.write(Sown, "3-01", sowing="gone", lot="gone", seeds=24, station="cold")
    assert found.checks("3-20", "look") == []


def test_what_became_of_a_sowing_reaches_its_daughters_of_an_unlisted_lot(walk: MakeWalk) -> None:
    """Its mother's emergence tells when a daughter is fed; the round is compared throughout."""
    found = walk("")
    found.write(Sown, "3-01", sowing="gone", lot="gone", seeds=24, station="mat")
    count = found.write(Counted, "3-15", sowing="gone", standing=9)
    found.write(PrickedOut, "3-16", sowing="gone", plants=9, into="gone.1", station="shelf")
    assert found.check("4-20", "feed").key == "feed gone.1 2027-03-15"
    found.write(Struck, "4-20 08:10", entry=count.id)
    assert found.check("4-20 08:20", "feed").key == "feed gone.1 2027-03-16"


def test_ground_that_was_measured_out_of_doors_is_known_to_all_that_wait(walk: MakeWalk) -> None:
    """Soil temperature speaks for or against setting out; the round is compared throughout."""
    head = f'{HEAD}[[station]]\nname = "bed"\nkind = "outdoors"\n'
    found = walk(lot("tomato", "tomato", station='"shelf"'), head)
    found.write(Sown, "3-20", sowing="tomato", lot="tomato", seeds=9, station="shelf")
    found.write(Counted, "3-30", sowing="tomato", standing=9, final=True)
    found.write(PrickedOut, "4-10", sowing="tomato", plants=9, into="tomato.1", station="shelf")
    found.write(PottedOn, "4-25", sowing="tomato.1")
    day = moment("4-25")
    while not found.checks(day, "set out"):
        assert day < moment("7-01")
        for check in found.checks(day, "harden"):
            found.tick(check, day)
        day += timedelta(days=1)
    for celsius in (5.0, 6.0):
        found.write(Read, day, station="bed", quantity="soil_c", value=celsius)
        whys = [why.text for why in found.check(day, "set out").why]
        assert any(f"{celsius:g} °C" in text for text in whys), whys


def test_a_sowing_at_no_place_is_cared_for(walk: MakeWalk) -> None:
    found = walk(LEEK)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24)
    found.write(Covered, "3-01", sowing="leek")
    found.write(Counted, "3-15", sowing="leek", standing=20)
    assert whats(found, "3-16") == {"count", "water", "uncover"}
    assert found.check("3-16", "water").station is None


@pytest.mark.parametrize("grams", [{"about": 200}, {"grams": 1.5}])
def test_seed_that_nobody_counted_is_looked_for_and_counted_on(
    walk: MakeWalk, grams: dict[str, float]
) -> None:
    found = walk(LEEK)
    found.write(Sown, "3-01", sowing="leek", lot="leek", station="shelf", **grams)
    assert "look" in whats(found, "3-12")
    found.write(Counted, "3-15", sowing="leek", standing=150)
    assert "count" in whats(found, "3-16")


def test_seeds_of_a_test_are_counted_and_nothing_else_is_planned_for_them(walk: MakeWalk) -> None:
    found = walk(LEEK)
    found.write(
        Sown, "3-01", sowing="leek", lot="leek", seeds=20, station="mat", purpose="test", on="paper"
    )
    assert whats(found, "3-12") >= {"look"}
    found.write(Counted, "3-15", sowing="leek", new=9)
    assert not whats(found, "5-20") & {"prick out", "pot on", "harden", "set out"}
    assert "sow" in whats(found, "5-20"), "the test is no sowing of the plan"


def test_mixed_up_sowings_are_cared_for_as_one(walk: MakeWalk) -> None:
    found = walk(LEEK + lot("onion", "onion"))
    for name in ("leek", "onion"):
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station="shelf")
        found.write(Counted, "3-15", sowing=name, standing=9)
    found.write(MixedUp, "3-16", sowings=("leek", "onion"), into="alliums")
    assert [one.sowings[0].name for one in found.checks("3-20", "water")] == ["alliums"]


def test_plants_that_are_each_others_mother_do_not_hang_the_round(walk: MakeWalk) -> None:
    found = walk(LEEK)
    found.write(Sown, "3-01", sowing="leek", lot="leek", seeds=24, station="shelf")
    found.write(Split, "3-10", sowing="a", plants=2, into="b", station="shelf")
    found.write(Split, "3-11", sowing="b", plants=2, into="a", station="shelf")
    assert "water" in whats(found, "4-20")


def test_a_stay_that_changes_hands_at_midnight_of_the_year(walk: MakeWalk) -> None:
    zone = ZoneInfo("Europe/Vienna")
    head = HEAD.replace("last = 2027-05-12", "last = 2028-05-12")
    found = walk(lot("onion", "onion", station='"shelf"'), head)
    at = as_read(datetime(2027, 12, 22, 8, tzinfo=zone))
    found.write(Sown, at, sowing="onion", lot="onion", seeds=24, station="shelf")
    eve = as_read(datetime(2027, 12, 31, 20, tzinfo=zone))
    (look,) = found.checks(eve, "look")
    found.tick(look, eve)
    assert found.checks(eve + timedelta(hours=1), "look") == []
    new_year = as_read(datetime(2028, 1, 1, 8, tzinfo=zone))
    assert found.check(new_year, "look").due == new_year.date()
    assert found.check(new_year, "water").why[0].text.endswith("Wed 22 Dec 08:00")


def test_the_29th_of_february_is_a_day(walk: MakeWalk) -> None:
    zone = ZoneInfo("Europe/Vienna")
    found = walk(LEEK, HEAD.replace("2027-05-12", "2028-05-12"))
    at = as_read(datetime(2028, 2, 10, 8, tzinfo=zone))
    found.write(Sown, at, sowing="leek", lot="leek", seeds=24, station="shelf")
    leap = as_read(datetime(2028, 2, 29, 8, tzinfo=zone))
    found.write(Watered, leap - timedelta(days=1), sowing="leek")
    found.write(Counted, leap - timedelta(days=1), sowing="leek", standing=3)
    assert found.check(leap, "count").due == leap.date()
    assert found.checks(leap, "water") == []
    assert found.check(leap + timedelta(days=1), "water").due == leap.date() + timedelta(days=1)


@pytest.mark.parametrize("day", ["3-28", "10-31"])
def test_days_of_23_and_25_hours_are_one_day_each(walk: MakeWalk, day: str) -> None:
    found = walk(LEEK)
    found.write(Sown, moment(day) - timedelta(days=20), sowing="leek", lot="leek", seeds=24,
                station="shelf")  # fmt: skip
    found.write(Counted, f"{day} 00:30", sowing="leek", standing=3)
    found.write(Watered, f"{day} 00:30", sowing="leek")
    assert found.checks(f"{day} 23:30", "count") == []
    next_day = moment(f"{day} 23:30") + timedelta(hours=1)
    assert len(found.checks(next_day, "count")) == 1
    assert found.checks(next_day, "water") == []


def test_in_the_south_the_year_is_turned_round(walk: MakeWalk) -> None:
    head = (
        HEAD.replace("Europe/Vienna", "Australia/Hobart")
        .replace("2027-05-12", "2027-10-20")
        .replace('title = "Test bench"', 'title = "South"')
    )
    found = walk(lot("tomato", "tomato", station='"mat"'), head)
    zone = ZoneInfo("Australia/Hobart")

    def at(month: int, day: int) -> datetime:
        return as_read(datetime(2027, month, day, 8, tzinfo=zone))

    assert found.checks(at(7, 1), "sow") == []
    days = [at(8, 1) + timedelta(days=day) for day in range(60)]
    first = next(day for day in days if found.checks(day, "sow"))
    # Six weeks before the frost date as usual, 4.4 to 8 (crops/tomato.toml).
    assert timedelta(weeks=4) < at(10, 20) - first < timedelta(weeks=8)
    found.tick(found.check(first, "sow"), first, "24")
    assert found.round(first).days_to_frost == (at(10, 20).date() - first.date()).days


def test_carried_to_a_place_set_cold_and_back_is_followed(walk: MakeWalk) -> None:
    """The round that was kept open is compared with a fresh one after each step."""
    found = walk(lot("pepper", "pepper", station='"mat"') + LEEK)
    for name in ("pepper", "leek"):
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, tray="tray 5", station="mat")
    found.round("3-05")
    found.write(Moved, "3-05 08:10", tray="tray 5", station="sill")
    assert found.alerts("3-05 08:20", "too cold") != []
    found.write(Adjusted, "3-05 08:25", station="sill", expected="24C")
    assert found.alerts("3-05 08:30", "too cold") == []
    found.write(Moved, "3-05 08:35", sowing="leek", station="shelf")
    assert {one.station for one in found.checks("3-05 08:40", "water")} == {"sill", "shelf"}
