"""A mat that no longer heats, readings that stopped."""

from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest

from notebook import moment
from seasons import HEAD, lot
from seedstart.daily.alerts.spells import Trace
from seedstart.daily.alerts.station_alerts import fallen
from seedstart.daily.answers import seen
from seedstart.daily.check import Alert
from seedstart.season.journal.entries import Adjusted, Finished, Read, Sown, Watered
from walk import MakeWalk, Walk

LOTS = lot("pepper", "pepper", station='"mat"')
KIND = "mat no longer heats"
# All figures of a failed mat are common practice (docs/round.md).


def hourly(since: str, *legs: tuple[float, float]) -> Iterator[tuple[datetime, float]]:
    """So many hours at so many degrees, one after the other."""
    at = moment(since)
    for hours, celsius in legs:
        for _ in range(round(hours)):
            yield at, celsius
            at += timedelta(hours=1)


def heated(walk: MakeWalk, *medium: tuple[float, float], room: float = 17.0) -> Walk:
    """A mat from the 1st of March, noon, on."""
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    found.log("mat", "soil_c", hourly("3-01 12:00", *medium))
    found.log("shelf", "air_c", hourly("3-01 12:00", (24 * 30, room)))
    return found


def sown_on_the_mat(walk: MakeWalk) -> Walk:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    return found


def fell(walk: MakeWalk) -> Walk:
    """At six in the evening of the 5th."""
    return heated(walk, (24 * 4 + 6, 25), (6, 18))


def failed(found: Walk, at: str) -> list[Alert]:
    return found.alerts(at, KIND)


def test_a_mat_that_fell_to_the_room_is_told_with_what_it_was(walk: MakeWalk) -> None:
    found = fell(walk)
    (alert,) = failed(found, "3-05 21:00")
    assert alert.text == (
        "the medium is at 18 °C (25 °C last week): 1.0 °C above the room instead of 8.0 °C"
    )
    assert (alert.level, alert.sowings) == ("act_now", ("pepper",))
    assert alert.since == moment("3-05 18:00")
    assert alert.key == failed(found, "3-05 23:00")[0].key


def test_until_the_mat_heats_its_seed_has_a_place_to_go_to(walk: MakeWalk) -> None:
    (alert,) = failed(fell(walk), "3-05 21:00")
    assert alert.remedies[-1] == "until it heats, carry what is not up to the shelf"


def test_a_room_that_cools_takes_the_mat_along_and_nothing_is_said(walk: MakeWalk) -> None:
    found = heated(walk, (24 * 4 + 6, 25), (6, 20))
    found.log("shelf", "air_c", hourly("3-01 12:00", (24 * 4 + 6, 17), (6, 12)))
    assert failed(found, "3-05 21:00") == []


@pytest.mark.parametrize("celsius", [24, 22])
def test_a_mat_that_drifts_is_not_called_failed(walk: MakeWalk, celsius: float) -> None:
    assert failed(heated(walk, (24 * 4 + 6, 25), (6, celsius)), "3-05 21:00") == []


def test_after_watering_nothing_is_said_for_three_hours(walk: MakeWalk) -> None:
    found = fell(walk)
    found.write(Watered, "3-05 17:45", station="mat")
    assert failed(found, "3-05 19:30") == []
    assert failed(found, "3-05 23:00") != []


def test_what_fell_before_it_was_watered_fell_not_by_that(walk: MakeWalk) -> None:
    found = fell(walk)
    found.write(Watered, "3-05 19:30", station="mat")
    assert failed(found, "3-05 20:00") != []


def test_watering_any_tray_there_counts(walk: MakeWalk) -> None:
    found = fell(walk)
    found.write(Sown, "3-02", sowing="other", lot="pepper", seeds=9, tray="tray 5", station="mat")
    assert failed(found, "3-05 20:00") != []
    found.write(Watered, "3-05 17:45", tray="tray 5")
    assert failed(found, "3-05 19:30") == []


def test_watering_a_tray_that_is_empty_by_now_counts(walk: MakeWalk) -> None:
    found = fell(walk)
    found.write(Sown, "3-02", sowing="other", lot="pepper", seeds=9, tray="tray 5", station="mat")
    found.write(Finished, "3-03", sowing="other")
    assert failed(found, "3-05 20:00") != []
    found.write(Watered, "3-05 17:45", tray="tray 5")
    assert failed(found, "3-05 19:30") == []


@pytest.mark.parametrize("setting", [{"mat": "off"}, {"thermostat_c": 18.0}])
def test_what_was_set_so_is_no_failure(walk: MakeWalk, setting: dict[str, object]) -> None:
    found = fell(walk)
    found.write(Adjusted, "3-05 17:30", station="mat", **setting)
    assert failed(found, "3-05 21:00") == []


def test_where_nothing_stands_nothing_is_said(walk: MakeWalk) -> None:
    found = fell(walk)
    found.write(Finished, "3-04", sowing="pepper")
    assert failed(found, "3-05 21:00") == []


def trace(hours: range, celsius: float) -> Trace:
    return Trace([hour * 3600.0 for hour in hours], [celsius] * len(hours))


def test_less_than_two_days_or_a_mat_that_never_warmed_cannot_be_judged() -> None:
    room = trace(range(120), 17)

    def judged(week_c: float, hours: int) -> bool:
        before, after = trace(range(hours), week_c), trace(range(hours, hours + 4), 17)
        medium = Trace([*before.at_s, *after.at_s], [*before.c, *after.c])
        found = fallen(medium, room, (hours + 4) * 3600.0, since_s=0, watered_s=None)
        return found is not None

    assert judged(25, 60)
    assert not judged(25, 40)
    assert not judged(19, 60)


def test_what_a_mat_is_now_is_the_mean_of_its_last_hour_alone() -> None:
    # docs/round.md, common practice. The last reading at 25 °C is 66 minutes old.
    warm = [0.5 * number for number in range(120)]
    cold = [60 + 0.1 * number for number in range(11)]
    at_s = [3600 * hours for hours in (*warm, 59.9, *cold)]
    medium = Trace(at_s, [25.0] * 121 + [17.0] * 11)
    room = trace(range(62), 17)
    found = fallen(medium, room, at_s[-1], since_s=0, watered_s=None)
    assert found is not None
    assert (found.now_c, found.now_rise_c) == (17.0, 0.0)


def read_elsewhere(walk: MakeWalk, kind: str) -> Walk:
    """A mat that fell, and the only sensor of air at another station of some kind."""
    place = f'[[station]]\nname = "other"\nkind = "{kind}"\n'
    found = walk(LOTS, HEAD + place)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    found.log("mat", "soil_c", hourly("3-01 12:00", (24 * 4 + 6, 25), (6, 18)))
    found.log("other", "air_c", hourly("3-01 12:00", (24 * 30, 17)))
    return found


@pytest.mark.parametrize(
    "kind", ["outdoors", "frame", "tunnel", "greenhouse", "fridge", "propagator", "cabinet"]
)
def test_no_sensor_outside_the_room_is_taken_for_it(walk: MakeWalk, kind: str) -> None:
    (alert,) = failed(read_elsewhere(walk, kind), "3-05 21:00")
    assert alert.text == "the medium is at 18 °C (24 °C expected)"


@pytest.mark.parametrize("kind", ["shelf", "bench", "sill"])
def test_another_place_in_the_room_tells_its_air(walk: MakeWalk, kind: str) -> None:
    assert len(failed(read_elsewhere(walk, kind), "3-05 21:00")) == 1


def test_a_sensor_outdoors_that_is_listed_first_does_not_hide_the_rooms(walk: MakeWalk) -> None:
    yard = '[[station]]\nname = "yard"\nkind = "outdoors"\n\n[[station]]\nname = "mat"'
    found = walk(LOTS, HEAD.replace('[[station]]\nname = "mat"', yard))
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    found.log("mat", "soil_c", hourly("3-01 12:00", (24 * 4 + 6, 25), (6, 18)))
    found.log("yard", "air_c", hourly("3-01 12:00", (24 * 30, -5)))
    found.log("shelf", "air_c", hourly("3-01 12:00", (24 * 30, 17)))
    (alert,) = failed(found, "3-05 21:00")
    assert "1.0 °C above the room instead of 8.0 °C" in alert.text


def test_without_a_room_to_compare_with_nothing_is_said() -> None:
    medium = trace(range(60), 25)
    assert fallen(medium, Trace((), ()), 60 * 3600.0, since_s=0, watered_s=None) is None


def read_each_morning(found: Walk, *celsius: float, air: float | None = 16.0) -> None:
    """By hand from the 2nd on, at eight; the air first."""
    for day, c in enumerate(celsius, start=2):
        if air is not None:
            found.write(Read, f"3-{day:02} 07:58", station="shelf", quantity="air_c", value=air)
        found.write(Read, f"3-{day:02} 08:00", station="mat", quantity="soil_c", value=c)


@pytest.mark.parametrize("air", [16.0, None])
def test_two_mornings_read_by_hand_tell_that_a_mat_is_dead(
    walk: MakeWalk, air: float | None
) -> None:
    found = sown_on_the_mat(walk)
    read_each_morning(found, 23.9, 24.2, 16.5, air=air)
    assert failed(found, "3-04 09:00") == [], "one reading may be a slip"
    read_each_morning(found, 23.9, 24.2, 16.5, 16.7, air=air)
    (alert,) = failed(found, "3-05 09:00")
    assert (alert.level, alert.since) == ("act_now", moment("3-04 08:00"))
    assert "medium is at 17 °C" in alert.text or "medium is at 16.7 °C" in alert.text


def test_a_mat_that_never_warmed_is_held_against_what_is_expected_of_it(walk: MakeWalk) -> None:
    found = sown_on_the_mat(walk)
    read_each_morning(found, 16.5, 16.4)
    (alert,) = failed(found, "3-03 09:00")
    assert "(24 °C expected): 0.4 °C above the room instead of 8.0 °C" in alert.text


def test_a_mat_that_heats_less_than_planned_is_not_called_dead(walk: MakeWalk) -> None:
    found = sown_on_the_mat(walk)
    read_each_morning(found, 19.9, 19.8, 19.9, 20.0)
    assert failed(found, "3-05 09:00") == []


def test_a_dead_mat_is_told_until_it_warms_again_however_long_that_takes(walk: MakeWalk) -> None:
    found = heated(walk, (24 * 6, 25), (24 * 20, 18), (24, 24))
    keys = {failed(found, f"3-{day:02} 09:00")[0].key for day in range(8, 28)}
    assert len(keys) == 1
    assert failed(found, "3-28 09:00") == []


def test_it_is_told_after_days_away_in_which_nobody_read(walk: MakeWalk) -> None:
    found = sown_on_the_mat(walk)
    read_each_morning(found, 24.0, 16.5, 16.5)
    assert failed(found, "3-09 09:00") != []


def test_once_seen_it_is_not_told_again(walk: MakeWalk) -> None:
    found = heated(walk, (24 * 6, 25), (24 * 20, 18))
    found.opened.record(seen(failed(found, "3-09 09:00")[0]), at=moment("3-09 09:05"))
    assert failed(found, "3-09 10:00") + failed(found, "3-20 09:00") == []


# Readings that stopped.


def by_hand(walk: MakeWalk, *times: str) -> Walk:
    found = walk(LOTS)
    found.write(Sown, "3-01", sowing="pepper", lot="pepper", seeds=24, station="mat")
    for at in times:
        found.write(Read, at, station="mat", quantity="soil_c", value=24.0)
    return found


def stopped(found: Walk, at: str) -> list[Alert]:
    return found.alerts(at, "readings stopped")


DAILY = [f"3-{day:02} 08:00" for day in range(2, 8)]


def test_readings_that_came_daily_and_stopped_are_told_after_a_day_and_a_half(
    walk: MakeWalk,
) -> None:
    found = by_hand(walk, *DAILY)
    assert stopped(found, "3-08 18:00") == []
    (alert,) = stopped(found, "3-09 08:00")
    assert alert.text == "no usable reading for 2 days: the dates of pepper go by earlier readings"
    assert (alert.level, alert.since) == ("know", moment("3-07 08:00"))
    assert alert.key == stopped(found, "3-12 08:00")[0].key


def test_readings_taken_at_other_hours_each_day_came_daily_too(walk: MakeWalk) -> None:
    hours = ("09:40", "07:10", "11:00", "06:30", "08:50", "10:15")
    found = by_hand(walk, *(f"3-0{day} {hour}" for day, hour in enumerate(hours, start=2)))
    assert stopped(found, "3-09 08:00") != []


def test_readings_now_and_then_do_not_stop(walk: MakeWalk) -> None:
    assert stopped(by_hand(walk, *DAILY[:2], *DAILY[3:]), "3-09 08:00") == []


def test_what_was_given_up_long_ago_is_not_told_for_ever(walk: MakeWalk) -> None:
    found = by_hand(walk, *DAILY)
    assert stopped(found, "3-16 08:00") != []
    assert stopped(found, "3-18 08:00") == []


@pytest.mark.parametrize(("start", "today"), [("3-22", "3-30 12:00"), ("10-25", "11-02 12:00")])
def test_days_of_23_or_25_hours_are_days(walk: MakeWalk, start: str, today: str) -> None:
    found = walk(LOTS)
    first = moment(start)
    found.write(Sown, first, sowing="pepper", lot="pepper", seeds=24, station="mat")
    for day in range(7):
        at = moment(f"{(first + timedelta(days=day)):%m-%d} 00:30")
        found.write(Read, at, station="mat", quantity="soil_c", value=24.0)
    assert stopped(found, today) != []
