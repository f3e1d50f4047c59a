"""Too cold and too hot: what the medium was, while seed lay in it that is not up."""

from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.answers import seen
from seedstart.daily.check import Alert
from seedstart.drawing.round_lines import alert_text
from seedstart.season.journal.entries import Adjusted, Counted, Moved, Read, Sown
from tables import handbook_limits
from walk import MakeWalk, Walk

# °F to °C as the handbook's table in tests/reference has them: 15.6 and 35 for pepper.
COLDEST, _, HOTTEST = handbook_limits()["Pepper"]
LOTS = (
    lot("pepper", "pepper", station='"mat"')
    + lot("leek", "leek", station='"sill"')
    + lot("sweet-pea", "sweet pea", station='"sill"')
)


def sown(walk: MakeWalk, station: str = "mat", name: str = "pepper", head: str = HEAD) -> Walk:
    found = walk(LOTS, head)
    found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station=station)
    return found


def every_ten_minutes(since: str, *legs: tuple[float, float]) -> Iterator[tuple[datetime, float]]:
    """So many hours at so many degrees, one after the other."""
    at = moment(since)
    for hours, celsius in legs:
        for _ in range(round(hours * 6)):
            yield at, celsius
            at += timedelta(minutes=10)


def night(found: Walk, celsius: float = 12.0, hours: float = 4.0) -> None:
    """A mat at 24 °C but for some hours from midnight of the 5th on, taken in at eight."""
    read = every_ten_minutes("3-01 09:00", (87, 24), (hours, celsius), (8.2 - hours, 24))
    found.log("mat", "soil_c", read)


def cold(found: Walk, at: str) -> Alert:
    return found.alert(at, "too cold")


def test_a_cold_night_is_told_in_the_morning_with_its_hours_and_its_cost(walk: MakeWalk) -> None:
    found = sown(walk)
    night(found, 9.0)
    alert = cold(found, "3-05 08:00")
    # From the first reading at 9 °C to the last 3 h 50 min; the lines to and from 24 °C cross
    # 15.6 °C 4.4 of their ten minutes away.
    assert (
        f"4.0 h below {COLDEST} °C, pepper's printed lower limit; lowest 9 °C (00:00)" in alert.text
    )
    assert "last 24 °C (08:00)" in alert.text
    assert (alert.level, alert.sowings) == ("today", ("pepper",))
    assert alert.since == pytest.approx(moment("3-04 23:56"), abs=timedelta(minutes=1))
    # At 10 °C nothing came up in the handbook's table: four hours cost four hours.
    assert alert.costs_days == round(4 / 24, 1)
    assert "measured until 08:00; pepper's lower limit: 2 sources" in alert.basis
    # Harrington & Minges 1954: at 15 °C pepper came up, in 25 days.
    assert "its table shows it emerging down to 15 °C" in alert.basis


def test_a_nights_event_stays_until_the_evening_after_it(walk: MakeWalk) -> None:
    found = sown(walk)
    night(found)
    assert found.alerts("3-05 17:30", "too cold") != []
    assert found.alerts("3-06 00:00", "too cold") == []


def test_an_event_that_was_seen_stays_away(walk: MakeWalk) -> None:
    found = sown(walk)
    night(found)
    found.opened.record(seen(cold(found, "3-05 08:00")), at=moment("3-05 08:05"))
    assert found.alerts("3-05 09:00", "too cold") == []


def test_while_it_is_too_cold_it_is_to_be_mended_now(walk: MakeWalk) -> None:
    found = sown(walk)
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (71, 24), (24, 12)))
    alert = cold(found, "3-04 20:00")
    assert alert.level == "act_now"
    assert "check that the mat has power" in "; ".join(alert.remedies)


@pytest.mark.parametrize("celsius", [15.6, 16.0, 35.0])
def test_at_the_limits_nothing_is_told(walk: MakeWalk, celsius: float) -> None:
    found = sown(walk)
    night(found, celsius)
    assert found.alerts("3-05 08:00", "too cold") + found.alerts("3-05 08:00", "too hot") == []


def test_above_the_handbooks_highest_it_is_too_hot(walk: MakeWalk) -> None:
    found = sown(walk)
    night(found, 41.0)  # at 40 °C nothing came up in the handbook's table
    alert = found.alert("3-05 08:00", "too hot")
    assert f"above {HOTTEST:g} °C, pepper's printed upper limit; highest 41 °C" in alert.text
    assert alert.costs_days == round(4 / 24, 1)


def test_a_draught_of_less_than_an_hour_is_no_event(walk: MakeWalk) -> None:
    # docs/round.md, common practice.
    found = sown(walk)
    night(found, 12.0, hours=0.5)
    assert found.alerts("3-05 08:00", "too cold") == []


def test_an_hour_and_a_few_minutes_are_an_event(walk: MakeWalk) -> None:
    # docs/round.md, common practice: from one hour on.
    found = sown(walk)
    night(found, 12.0, hours=7 / 6)  # an hour at 12 °C, and three minutes to it and from it
    assert "1.1 h below" in cold(found, "3-05 08:00").text


def test_the_crop_that_loses_most_is_told_and_not_the_one_that_was_cold_longest(
    walk: MakeWalk,
) -> None:
    names = {"vinca": "annual vinca", "asparagus": "asparagus"}
    found = walk("".join(lot(name, crop, station='"mat"') for name, crop in names.items()))
    for name in names:
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station="mat")
    legs = ((96, 24.0), (30, 15.0), (6, 9.5), (6, 24.0))
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", *legs))
    alert = cold(found, "3-07 02:50")
    assert alert.sowings == ("vinca", "asparagus")
    assert "below 10 °C, asparagus" in alert.text
    assert alert.costs_days == 0.8


def test_what_is_up_minds_no_cold_medium(walk: MakeWalk) -> None:
    found = sown(walk)
    night(found)
    found.write(Counted, "3-04", sowing="pepper", standing=3)
    assert found.alerts("3-05 08:00", "too cold") == []


def test_seed_that_came_later_was_not_in_the_cold(walk: MakeWalk) -> None:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="shelf")
    night(found)
    found.write(Moved, "3-05 06:00", sowing="pepper", station="mat")
    assert found.alerts("3-05 08:00", "too cold") == []


def test_in_a_fridge_nothing_is_too_cold(walk: MakeWalk) -> None:
    head = f'{HEAD}[[station]]\nname = "fridge"\nkind = "fridge"\nexpected = "4C"\n'
    found = sown(walk, "fridge", head=head)
    found.log("fridge", "soil_c", every_ten_minutes("3-01 09:00", (90, 4)))
    assert found.alerts("3-04 20:00") == []


def test_a_reading_by_hand_is_told_at_once(walk: MakeWalk) -> None:
    found = sown(walk)
    found.write(Read, "3-04 08:20", station="mat", quantity="soil_c", value=12.0)
    alert = cold(found, "3-04 08:25")
    assert "12 °C (08:20), below 15.6 °C, pepper's printed lower limit" in alert.text
    assert alert.costs_days is None, "of one reading nobody knows how long it was so"
    assert found.alerts("3-05 07:00", "too cold") != [], "it holds for a day"
    assert found.alerts("3-05 08:30", "too cold") == [], "it does not say what is now"


def test_readings_of_two_mornings_are_the_hours_between_them(walk: MakeWalk) -> None:
    found = sown(walk, "sill")
    for day in (4, 5, 6):
        found.write(Read, f"3-{day:02} 08:00", station="sill", quantity="soil_c", value=9.0)
    alert = cold(found, "3-06 08:30")
    assert "48 h below 15.6 °C" in alert.text
    assert alert.costs_days == 2.0


def test_a_reading_by_hand_is_told_on_that_day_looked_back_at(walk: MakeWalk) -> None:
    found = sown(walk)
    found.write(Read, "3-04 08:20", station="mat", quantity="soil_c", value=12.0)
    found.round("5-01")
    on = found.on(moment("3-04").date())
    assert [one.kind for one in on.alerts] == ["too cold"]


def test_an_event_that_goes_on_for_weeks_is_one_event(walk: MakeWalk) -> None:
    found = sown(walk)
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (24, 24), (24 * 20, 12)))
    keys = {cold(found, f"3-{day:02} 20:00").key for day in range(4, 20)}
    assert len(keys) == 1
    assert cold(found, "3-19 20:00").since == pytest.approx(
        moment("3-02 09:00"), abs=timedelta(minutes=10)
    )


def test_one_limit_after_the_other_is_still_one_event(walk: MakeWalk) -> None:
    """Tomato minds what pepper minded before: the station has one event."""
    found = walk(LOTS + lot("okra", "okra"))
    for name in ("pepper", "okra"):
        found.write(Sown, "3-01", sowing=name, lot=name, seeds=24, station="mat")
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (24, 24), (24, 15.7), (24 * 8, 12)))
    keys = {cold(found, f"3-{day:02} 20:00").key for day in range(4, 10)}
    assert len(keys) == 1


def test_cold_by_our_guess_of_a_limit_is_for_today_and_never_for_now(walk: MakeWalk) -> None:
    # crops/sweet-pea.toml: lowest 7 °C, our guess for half hardy plants.
    found = sown(walk, "sill", "sweet-pea")
    found.log("sill", "soil_c", every_ten_minutes("3-01 09:00", (71, 12), (12, 2)))
    alert = cold(found, "3-04 20:00")
    assert alert.level == "today"
    assert "our guess" in alert.basis


def test_a_place_planned_colder_than_our_guess_is_to_be_known(walk: MakeWalk) -> None:
    # crops/wax-begonia.toml: lowest 10 °C or more, our guess for tender plants.
    cold_sill = HEAD.replace('"12C"', '"8C"')
    found = walk(lot("begonia", "wax begonia", station='"sill"'), cold_sill)
    found.write(Sown, "3-01", sowing="begonia", lot="begonia", seeds=24, station="sill")
    alert = cold(found, "3-04 08:00")
    assert alert.level == "know"
    assert "planned at 8 °C, below" in alert.text
    assert "our guess" in alert.text


def test_heat_by_our_guess_of_a_limit_is_only_to_be_known(walk: MakeWalk) -> None:
    # crops/lavender.toml: highest 27 °C, our guess for hardy plants.
    found = walk(lot("lavender", "lavender", station='"mat"'))
    found.write(Sown, "3-01", sowing="lavender", lot="lavender", seeds=24, station="mat")
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (71, 30)))
    assert found.alert("3-04 08:00", "too hot").level == "know"


def test_of_days_in_which_nothing_moved_it_is_said_that_none_counted(walk: MakeWalk) -> None:
    # At 10 °C nothing came up in the handbook's table (Harrington & Minges 1954).
    found = sown(walk)
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (24, 24), (24 * 15, 9)))
    alert = cold(found, "3-17 08:00")
    assert alert.cost_in_words == "none of these 15 days counted"
    assert alert_text(alert).endswith("; none of these 15 days counted")
    assert "dig" not in "; ".join(alert.remedies)


def test_costs_of_days_are_told_without_tenths(walk: MakeWalk) -> None:
    # 15 °C: 25 days, 25 °C: 8 (Harrington & Minges 1954): of nine days some five are lost.
    found = sown(walk)
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (24, 24), (24 * 9, 15)))
    alert = cold(found, "3-11 08:00")
    assert alert.costs_days is not None
    assert 4 < alert.costs_days < 7
    assert alert.cost_in_words == f"costs {round(alert.costs_days)} days"


def test_after_three_weeks_in_wet_cold_one_is_dug_up_before_it_is_carried(walk: MakeWalk) -> None:
    # Common practice, no source: seed of pepper in wet cold for weeks has mostly rotted.
    found = sown(walk, "sill")
    found.log("sill", "soil_c", every_ten_minutes("3-01 09:00", (24 * 22, 9)))
    alert = cold(found, "3-23 08:00")
    dig, soft, *rest = alert.remedies
    assert dig == "dig a few up: after 22 days in wet cold most seed rots"
    assert soft.startswith("soft: sow again on the mat by ")
    assert rest == [rest[0]]
    assert rest[0].startswith("firm: on the mat (24 °C)")


def test_weeks_read_by_hand_are_one_event(walk: MakeWalk) -> None:
    found = sown(walk, "sill")
    for day in range(1, 26):
        found.write(Read, f"3-{day:02} 09:00", station="sill", quantity="soil_c", value=9.0)
    alert = cold(found, "3-25 09:30")
    assert "24 days below" in alert.text
    assert alert.remedies[0].startswith("dig a few up: after 24 days")


def test_a_mat_that_heats_far_too_much_is_no_remedy(walk: MakeWalk) -> None:
    found = sown(walk, "sill")
    found.write(Read, "3-04 07:30", station="mat", quantity="soil_c", value=31.0)
    assert cold(found, "3-04 08:00").brief.endswith("→ shelf")


def test_a_mat_that_is_switched_off_is_no_remedy(walk: MakeWalk) -> None:
    found = sown(walk, "sill")
    found.write(Adjusted, "3-02", station="mat", mat="off")
    assert cold(found, "3-04 08:00").brief.endswith("→ shelf")


def test_what_a_frost_kills_is_not_sent_into_a_frame_before_the_last_one(walk: MakeWalk) -> None:
    head = f'{HEAD}[[station]]\nname = "frame"\nkind = "frame"\nexpected = "27C"\n'
    found = sown(walk, "sill", head=head)
    assert cold(found, "3-04 08:00").brief.endswith("→ mat")
    assert cold(found, "5-13 08:00").brief.endswith("→ frame")


# Percentage of normal seedlings, Harrington: lettuce 99 at 25 °C, 12 at 30; pansy, University of
# Florida: 90 % germinate at 20 °C, 56 at 30, 10 at 35, and above 25 °C it may turn dormant.
@pytest.mark.parametrize(
    ("crop", "says"),
    [
        ("lettuce", "where half of lettuce's seedlings fail"),
        ("pansy", "pansy's printed upper limit"),
    ],
)
def test_a_mat_too_hot_for_a_crop_that_fails_in_heat_is_told_with_the_way_off_it(
    walk: MakeWalk, crop: str, says: str
) -> None:
    found = walk(lot("cool", crop, station='"mat"'))
    found.write(Sown, "3-10", sowing="cool", lot="cool", seeds=24, station="mat")
    found.log("mat", "soil_c", every_ten_minutes("3-10 09:00", (95, 31)))
    alert = found.alert("3-14 08:00", "too hot")
    assert alert.level in {"today", "act_now"}
    assert says in alert.text
    assert "; ".join(alert.remedies).startswith("move it off the mat: ")


def test_a_mat_that_lettuce_bears_is_no_alert(walk: MakeWalk) -> None:
    found = walk(lot("cool", "lettuce", station='"mat"'))
    found.write(Sown, "3-10", sowing="cool", lot="cool", seeds=24, station="mat")
    found.log("mat", "soil_c", every_ten_minutes("3-10 09:00", (95, 24)))
    assert [one for one in found.alerts("3-14 08:00") if one.kind == "too hot"] == []


def test_where_nothing_is_measured_the_plan_is_judged(walk: MakeWalk) -> None:
    found = sown(walk, "sill")  # 12 °C by the plan
    alert = cold(found, "3-04 08:00")
    assert alert.level == "know"
    assert "planned at 12 °C, below 15.6 °C, pepper's printed lower limit" in alert.text
    assert alert.brief.endswith("→ mat")
    assert "mat" in "; ".join(alert.remedies)


def test_three_days_after_the_last_reading_the_plan_is_judged(walk: MakeWalk) -> None:
    found = sown(walk, "sill")  # 12 °C by the plan
    found.log("sill", "soil_c", every_ten_minutes("3-01 09:00", (72, 24)))
    last = moment("3-04 08:50")
    assert found.alerts(last + timedelta(days=2, hours=23), "too cold") == []
    assert "planned at 12 °C" in found.alert(last + timedelta(days=3, hours=1), "too cold").text


def test_where_nothing_comes_up_as_planned_a_cost_is_counted_against_a_tray_that_does(
    walk: MakeWalk,
) -> None:
    found = sown(walk, "sill")  # 12 °C by the plan, at which no pepper comes up
    found.log("sill", "soil_c", every_ten_minutes("3-01 09:00", (87, 26), (4, 9), (4.2, 26)))
    # At 10 °C nothing came up in the handbook's table: four hours cost four hours.
    assert cold(found, "3-05 08:00").costs_days == round(4 / 24, 1)


def test_a_place_that_was_set_warmer_is_judged_by_that(walk: MakeWalk) -> None:
    found = sown(walk, "sill")
    found.write(Adjusted, "3-02", station="sill", expected="22C")
    assert found.alerts("3-04 08:00", "too cold") == []


def test_a_mat_that_no_longer_heats_is_no_remedy_and_the_alert_hears_of_it_at_once(
    walk: MakeWalk,
) -> None:
    found = sown(walk, "sill")
    assert cold(found, "3-04 08:00").brief.endswith("→ mat")
    # 4.5 °C less than planned: pepper would still come up there, if it held that.
    found.write(Read, "3-04 08:30", station="mat", quantity="soil_c", value=19.5)
    alert = cold(found, "3-04 09:00")
    assert alert.brief.endswith("→ shelf")
    assert alert.remedies[0].startswith("on the shelf (20 °C) it is up in ")


def test_the_remedy_is_the_place_to_which_the_sowing_itself_is_sent(walk: MakeWalk) -> None:
    # On the walk the shelf comes before the warmer mat.
    mat, shelf, sill = HEAD.split("[[station]]")[1:]
    head = "[[station]]".join((HEAD.split("[[station]]")[0], shelf, mat, sill))
    found = sown(walk, "sill", head=head)
    alert = cold(found, "3-04 08:00")
    (prospect,) = found.opened.prospects().values()
    assert prospect.advice is not None
    assert prospect.advice.where == "mat"
    assert alert.brief.endswith("→ mat")
    assert alert.remedies[0].startswith("on the mat (24 °C) it is up in ")


def test_a_cold_trays_cost_is_not_told_twice_as_late(walk: MakeWalk) -> None:
    found = sown(walk)
    found.log("mat", "soil_c", every_ten_minutes("3-01 09:00", (24, 24), (24 * 9, 12)))
    assert [one.kind for one in found.alerts("3-10 20:00")] == ["mat no longer heats", "too cold"]


def test_degrees_are_shown_as_the_season_shows_them(walk: MakeWalk) -> None:
    head = HEAD.replace("[frost]", 'units = "us"\n\n[frost]', 1)
    found = sown(walk, head=head)
    night(found)
    assert "lowest 53.6 °F (00:00)" in cold(found, "3-05 08:00").text
