"""How a sowing is doing: what its counts say, and what to do about it."""

from datetime import date, timedelta
from itertools import pairwise
from random import Random
from typing import Any

import pytest

from crop_pooling.tray_clock import tray_clock
from notebook import Notebook, moment
from prospecting import PEPPER, TOMATO, count, prospect, sown
from seasons import HEAD, lot, season
from seedstart.crop_table.crop import Crop
from seedstart.growing.emergence import TRAYS_OVER_TABLE, TRAYS_QUARTILES
from seedstart.planning.calendar.crop_times import rate_curve
from seedstart.planning.prospects.to_come import speed_of
from seedstart.season.journal.entries import (
    Counted,
    Dug,
    Finished,
    Lost,
    Moved,
    PrickedOut,
    Read,
    Sown,
)
from seedstart.tracking.own_factor import own_factor
from seedstart.units import steady
from shipped import crop_table
from simulated_lots import Setting, Simulation, score
from tables import handbook_limits

BEET = lot("beet", "beet", station='"mat"')
NO_FROST = HEAD.replace("[frost]\nlast = 2027-05-12\n", "")


def on_the_cold_sill() -> Notebook:
    """Pepper at 12 °C, colder than the lowest that the handbook prints for it."""
    lowest_c, _, _ = handbook_limits()["Pepper"]
    assert season(PEPPER).stations_by_name["sill"].expected == steady(12)
    assert lowest_c > 12
    return sown(station="sill", name="pepper")


def advised(book: Notebook, at: str, lots: str = TOMATO, **more: str) -> str:
    found = prospect(book, at, lots, **more)
    assert found.advice is not None
    return found.advice.what


# The clock of trays.


# Days in trays of germination_temperature.csv over those of emergence_days.csv at their warmth.
def test_trays_are_as_much_slower_than_the_table_as_printed_days_say() -> None:
    clock = tray_clock()
    assert round(clock.middle, 1) == TRAYS_OVER_TABLE
    assert (round(clock.low, 1), round(clock.high, 1)) == TRAYS_QUARTILES


def _both() -> list[Crop]:
    return [
        one
        for one in crop_table().crops.values()
        if one.clock == "table" and one.days_in_trays is not None
    ]


# The same two tables, emergence_days.csv and germination_temperature.csv, pooled crop by crop.
def test_printed_tray_days_lie_where_the_prior_of_the_speed_expects_them() -> None:
    held = []
    for crop in _both():
        speed, printed = speed_of(crop, None), crop.days_in_trays
        assert printed is not None
        table = rate_curve(crop).days(steady(crop.tray_c.best))
        ratio = printed.best / table / speed.half
        held.append(2.718 ** (-1.96 * speed.sd) <= ratio <= 2.718 ** (1.96 * speed.sd))
    assert len(held) >= 15
    assert sum(held) / len(held) >= 0.8


def test_a_growers_own_sowings_move_the_speed_and_make_it_surer() -> None:
    crop = crop_table().crops["tomato"]
    usual, own = speed_of(crop, None), speed_of(crop, own_factor([2.1, 2.0, 2.2]))
    assert own.half > usual.half
    assert own.sd < usual.sd
    assert speed_of(crop, own_factor([])).sd == pytest.approx(usual.sd)


def test_days_that_are_printed_for_trays_are_on_their_clock_already() -> None:
    assert speed_of(crop_table().crops["petunia"], None).half == 1


# Simulated lots; benchmarks/prospects.py has a thousand of each kind.


@pytest.mark.parametrize("speed", [None, 1.0, 1.6, 2.0])
def test_intervals_hold_what_comes_whatever_the_speed(speed: float | None) -> None:
    found = score(Setting(speed, every=3), 30)
    assert found.total >= 0.9
    assert found.half >= 0.9
    assert found.needless <= 1


def test_intervals_hold_where_the_packet_promises_too_much() -> None:
    found = score(Setting(None, every=3, short=0.25), 30)
    assert found.total >= 0.75
    assert found.half >= 0.75
    assert found.untold <= 1


def test_lots_of_which_too_few_come_are_told_in_time() -> None:
    found = score(Setting(1.6, every=3, share=0.3), 30)
    assert (found.untold, found.needless) == (0, 0)
    assert found.late <= 1


def test_good_seed_is_hardly_ever_sown_again_needlessly() -> None:
    found = score(Setting(None, every=3), 300, seed=4)
    assert found.again >= 5, "else this shows nothing"
    assert found.needless <= found.again / 10


def test_dead_seed_is_told_in_time_to_a_grower_who_digs_a_few_up() -> None:
    random, found = Random(7), Simulation(Setting(1.6, share=0.0, digs=True))
    told = found.tell(found.draw(random)).sow_again
    assert told is not None
    assert told <= 2 * found.usual_days


def test_what_may_only_be_slow_is_dug_up_before_it_is_sown_again() -> None:
    random, found = Random(2), Simulation(Setting(None, share=0.0))
    dead = found.draw(random)
    told = [found.prospect(dead, range(1, day)).advice for day in range(2, 25)]
    words = [one.what for one in told if one is not None]
    assert words == ["wait"] * words.count("wait") + ["dig"] * words.count("dig")
    assert words.count("dig") >= 7


@pytest.mark.parametrize("every", [1, 3, 7])
@pytest.mark.parametrize("share", [0.0, 0.3, 0.55])
def test_nobody_is_told_to_wait_and_at_the_next_look_that_it_is_too_late(
    every: int, share: float
) -> None:
    random, found = Random(5), Simulation(Setting(None, every, share=share), HEAD, "3-28")
    for _ in range(3):
        drawn, counted, told = found.draw(random), list[int](), list[str]()
        for day in range(1, 45, every):
            counted.append(day)
            advice = found.prospect(drawn, counted).advice
            told.append(advice.what if advice else "")
        assert "too late" in told or "enough" in told
        assert ("wait", "too late") not in set(pairwise(told)), told


# What is told.


def test_tomatoes_silent_on_day_ten_wait() -> None:
    # germination_temperature.csv: 7 to 14 days in trays (Idaho CIS 1209), so far more likely alive
    # than dead.
    book = count(sown(), "3-11", [0] * 10)
    found = prospect(book, "3-20 20:00")
    assert found.dead is not None
    assert found.dead < 0.25
    assert found.advice is not None
    assert found.advice.what == "wait"


def test_never_fewer_are_expected_than_are_up() -> None:
    book = count(sown(seeds=30), "3-18", [0, 4, 12, 22, 27, 28, 28, 28, 28, 28])
    found = prospect(book, "3-28")
    assert found.total is not None
    assert found.more is not None
    assert found.total.low >= 28
    assert found.total.best == pytest.approx(28 + found.more)
    assert not found.more_is_expected


def test_enough_is_enough_and_the_count_is_closed_after_a_quiet_week() -> None:
    book = count(sown(), "3-18", [0, 4, 12, 20, 22, 22])
    assert advised(book, "3-24") == "enough"
    count(book, "3-24", [22] * 6)
    assert advised(book, "3-29 20:00") == "close"


def test_plants_that_died_are_no_longer_enough() -> None:
    book = count(sown(), "3-18", [0, 4, 12, 13])
    assert advised(book, "3-21 20:00") == "enough"
    book.write(Lost, "3-22", sowing="tomato", plants=5, why="slugs")
    assert advised(book, "3-22 20:00") != "enough"


def test_too_few_are_sown_again_while_the_window_of_the_plan_is_open() -> None:
    book = count(sown(), "3-18", [0, 2, 3, 4, 4, 4, 4, 4, 4, 4, 4])
    found = prospect(book, "3-28 20:00")
    assert found.advice is not None
    assert found.advice.what == "sow again"
    assert "4 of 24 were up by 28 Mar" in found.advice.text
    last = found.advice.until
    assert last is not None
    assert f"by {last.day} {last:%b}" in found.advice.text
    # The plan's window stands, whatever the day.
    weeks = [prospect(book, day) for day in ("3-30", "4-06", "4-20")]
    assert {one.advice.until for one in weeks if one.advice} == {last}
    after = prospect(book, (last + timedelta(days=1)).strftime("%m-%d"))
    assert after.advice is not None
    assert after.advice.what == "too late"
    assert "The last day to sow again was" in after.advice.text
    assert "it would be set out about" in after.advice.text


def test_it_is_sown_again_by_the_last_day_that_is_told_and_set_out_in_its_window() -> None:
    book = count(sown(), "3-18", [0, 2, 3, 4, 4, 4, 4, 4, 4, 4, 4])
    found = prospect(book, "3-28 20:00")
    assert found.advice is not None
    assert found.advice.until is not None
    from seedstart.planning.calendar.season_rows import season_rows

    (row,) = season_rows(season(TOMATO), date(2027, 1, 2))
    allowed = row.window("set_out")
    own_day = f'["{found.advice.until.isoformat()}"]'
    (again,) = season_rows(
        season(lot("tomato", "tomato", want="12", station='"mat"', sow=own_day)), date(2027, 1, 2)
    )
    out = again.window("set_out")
    assert allowed is not None
    assert out is not None
    assert allowed.latest - timedelta(days=1) <= out.best <= allowed.latest


def test_where_nothing_ends_the_time_to_sow_again_no_day_is_told() -> None:
    book = count(sown(), "3-18", [0, 2, 3, 4, 4, 4, 4, 4, 4, 4, 4])
    found = prospect(book, "6-28 20:00", head=NO_FROST)
    assert found.advice is not None
    assert (found.advice.what, found.advice.until) == ("sow again", None)


def test_what_nobody_looked_at_is_not_called_silent() -> None:
    found = prospect(sown(), "4-20")
    assert found.advice is not None
    assert found.advice.what == "look"
    assert found.advice.text == "Not looked at since it was sown."
    book = count(sown(), "3-16", [0, 0])
    later = prospect(book, "4-02")
    assert later.advice is not None
    assert later.advice.text == "Not looked at since 17 Mar."


def test_what_is_silent_past_its_usual_days_is_dug_up_and_what_is_found_tells() -> None:
    book = count(sown(), "3-16", [0] * 11)
    found = prospect(book, "3-26 20:00")
    assert found.advice is not None
    assert found.advice.what == "dig"
    assert "None of 24 up on 26 Mar" in found.advice.text
    silent = list(book.entries)
    book.write(Dug, "3-26 21:00", sowing="tomato", soft=5)
    assert advised(book, "3-26 22:00") == "sow again"
    book.entries = silent
    book.write(Dug, "3-26 21:00", sowing="tomato", sound=5)
    assert advised(book, "3-26 22:00") == "wait"


def test_one_that_is_finished_closed_or_replaced_is_waited_for_no_more() -> None:
    for last in (Finished, Counted):
        book = count(sown(), "3-16", [0] * 15)
        fields: dict[str, Any] = {"standing": 0, "final": True} if last is Counted else {}
        book.write(last, "3-31", sowing="tomato", **fields)
        found = prospect(book, "4-02")
        assert not found.is_open
        assert found.advice is None
    book = count(sown(), "3-16", [0] * 15)
    book.write(
        Sown, "3-31", sowing="tomato/2", lot="tomato", seeds=24, station="mat", instead_of="tomato"
    )
    assert prospect(book, "4-02").advice is None
    assert prospect(book, "4-02", name="tomato/2").is_open


def test_seedlings_that_were_pricked_out_uncounted_came_up_too() -> None:
    book = count(sown(), "3-18", [0, 2])
    book.write(PrickedOut, "3-22", sowing="tomato", plants=10, into="tomato.1")
    found = prospect(book, "3-23")
    assert found.up == 10
    assert found.total is not None
    assert found.total.low >= 10


def test_recorded_tests_count_as_those_of_the_plan_do() -> None:
    plain = prospect(sown(), "3-12")
    book = sown()
    book.write(Sown, "2-01", sowing="test", lot="tomato", seeds=40, on="paper", purpose="test")
    book.write(Counted, "2-12", sowing="test", standing=12, final=True)
    tested = prospect(book, "3-12")
    assert plain.total is not None
    assert tested.total is not None
    assert tested.total.best < plain.total.best - 5
    assert "12 of 40 came up in your test" in tested.rests_on


def test_a_sample_tells_nothing_of_the_whole() -> None:
    book = sown(seeds=60, cells=60)
    book.write(Counted, "3-24", sowing="tomato", standing=5, looked_at=10)
    found = prospect(book, "3-25")
    assert found.total is not None
    assert found.total.high > 40


def test_where_nothing_comes_up_it_is_to_be_carried_to_a_warmer_place() -> None:
    cold = prospect(on_the_cold_sill(), "3-12", PEPPER, "pepper")
    assert cold.usual is None
    assert cold.advice is not None
    assert (cold.advice.what, cold.advice.where) == ("warmer", "mat")


def test_a_mat_that_no_longer_heats_is_no_better_place() -> None:
    book = on_the_cold_sill()
    book.write(Read, "3-12 07:00", station="mat", quantity="soil_c", value=17.0)
    cold = prospect(book, "3-12", PEPPER, "pepper")
    assert cold.advice is not None
    assert cold.advice.where != "mat"


def test_no_number_is_expected_of_seeds_that_nobody_counted() -> None:
    found = prospect(sown(seeds=None, grams=1.5), "3-14")
    assert found.half is not None
    assert found.total is None
    assert "not counted" in found.unknown


def test_no_number_is_expected_where_a_seed_gives_several() -> None:
    found = prospect(sown(20, name="beet"), "3-14", BEET, "beet")
    assert found.total is None
    assert found.usual is not None
    assert "several seedlings" in found.unknown


def test_seed_in_the_fridge_has_no_days_yet() -> None:
    head = f'{HEAD}\n[[station]]\nname = "fridge"\nkind = "fridge"\nexpected = "4C"\n'
    book = sown(at="3-02", station="fridge", name="pepper")
    found = prospect(book, "3-14", PEPPER, "pepper", head)
    assert found.zero is None
    assert found.half is None
    assert "in the cold" in found.unknown
    book.write(Moved, "3-12", sowing="pepper", station="mat")
    out = prospect(book, "3-14", PEPPER, "pepper", head)
    assert out.zero == moment("3-12")
    assert out.chilled
    assert out.days_now == 2


def test_counts_stand_at_their_days_since_sowing() -> None:
    book = sown()
    book.write(Counted, "3-20 20:00", sowing="tomato", standing=3)
    found = prospect(book, "3-21")
    assert found.counts == ((10.5, 3),)
    assert (found.up, found.days_looked) == (3, 1)
    assert found.days_now == 11
