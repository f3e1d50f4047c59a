"""Who is at which step, what today's weather lets them do, and what moves setting out."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notebook import Notebook, moment
from seasons import HEAD, lot, season
from seedstart.planning.calendar.season_today import rows_today
from seedstart.planning.hardening.hardening_status import Hardening, coming, hardening_of
from seedstart.planning.hardening.set_out_gate import ground_now
from seedstart.planning.known_weather import forecasts_of, known_weather
from seedstart.season.journal.entries import (
    Counted,
    Forecast,
    Hardened,
    Held,
    Lost,
    PrickedOut,
    Read,
    SetOut,
    Sown,
)

LOTS = lot("cabbage", "cabbage") + lot("tomato", "tomato") + lot("pepper", "pepper")
TRUSTING = HEAD.replace("last = 2027-05-12", "last = 2027-05-12\ntrust_percent = 10")
WITH_A_YARD = HEAD + '\n[[station]]\nname = "yard"\nkind = "outdoors"\n'


def day(text: str) -> date:
    return moment(text).date()


def grown(name: str, sown: str, up: str) -> Notebook:
    """A sowing of thirty that came up."""
    book = Notebook()
    book.write(Sown, sown, sowing=name, lot=name, seeds=30, station="shelf")
    book.write(Counted, up, sowing=name, standing=28)
    return book


def out(book: Notebook, name: str, **hours: float) -> None:
    """Hours out of days, as m5d02=3."""
    for key, number in hours.items():
        month, of_month = key.removeprefix("m").split("d")
        book.write(Hardened, f"{month}-{of_month} 18:00", sowing=name, hours=number)


def seen(
    book: Notebook, today: str, head: str = HEAD, ground_c: float | None = None
) -> tuple[Hardening, ...]:
    plan = season(LOTS, head)
    records = book.records(LOTS, head, day(today))
    rows = rows_today(plan, records, {}, day(today))
    forecasts = known_weather(forecasts_of(book.journal(), day(today)), (), day(today))
    of = {row.sowing_id: row for row in rows}
    found = []
    for one in records.standings.values():
        mother = one
        while mother.id not in of:
            mother = records.standings[mother.made_from or ""]
        if one.alive:
            row = of[mother.id]
            found.append(hardening_of(one, row, plan, records, forecasts, day(today), ground_c))
    return tuple(one for one in found if one is not None)


def one(book: Notebook, today: str, head: str = HEAD, **more: Any) -> Hardening:
    (found,) = seen(book, today, head, **more)
    return found


def texts(found: Hardening) -> str:
    return " ".join(said.text for said in found.why)


def against(found: Hardening) -> dict[str, bool]:
    return {one.what: one.bars for one in found.against}


CABBAGE = ("cabbage", "03-20", "03-27")


def test_before_it_is_due_nothing_is_said_of_it() -> None:
    book = grown(*CABBAGE)
    assert seen(book, "03-30") == ()


def test_a_late_beginning_is_step_one_and_moves_setting_out() -> None:
    book = grown(*CABBAGE)
    book.write(PrickedOut, "04-05", sowing="cabbage", plants=28, into="cabbage.1")
    rows = rows_today(season(LOTS), book.records(LOTS), {}, day("04-06"))
    row = next(found for found in rows if found.sowing == "cabbage")
    due, planned = row.window("harden"), row.window("set_out")
    assert due is not None
    assert planned is not None
    late = due.best + timedelta(days=4)
    found = one(book, f"{late:%m-%d}")
    assert (found.step, found.of, found.begun, found.due) == (1, 10, None, due.best)
    assert found.set_out is not None
    assert found.set_out.best == planned.best + timedelta(days=4)
    assert found.moved_days == 4


def test_nothing_is_hardened_off_that_is_still_to_be_pricked_out() -> None:
    for today in ("04-14", "04-19", "05-10"):
        assert seen(grown(*CABBAGE), today) == ()


def test_plants_grow_on_for_ten_days_after_a_late_pricking_out() -> None:
    # Common practice, no source: 10 to 14 days of new growth.
    book = grown(*CABBAGE)
    book.write(PrickedOut, "04-16", sowing="cabbage", plants=28, into="cabbage.1")
    assert seen(book, "04-25") == ()
    assert one(book, "04-29").begun is None


def test_each_day_out_is_a_step_and_today_counts_once_it_is_written() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    before = one(book, "04-22")
    assert (before.step, before.hours, before.light, before.written) == (3, 4.0, "shade", False)
    assert before.set_out is not None
    assert before.set_out.best == day("04-30")
    out(book, "cabbage", m4d22=4)
    after = one(book, "04-22")
    assert (after.step, after.done_days, after.days_left, after.written) == (3, 3, 7, True)
    assert after.today == "out"
    assert after.set_out == before.set_out


def test_a_day_that_was_held_moves_setting_out_by_one_and_keeps_its_reason() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    book.write(Held, "04-22", sowing="cabbage", why="storm")
    today = one(book, "04-22")
    assert (today.today, texts(today)) == ("held", "Kept in: storm.")
    tomorrow = one(book, "04-23")
    assert [(held.day, held.why) for held in tomorrow.held] == [(day("04-22"), "storm")]
    for found in (today, tomorrow):
        assert (found.step, found.moved_days) == (3, 1)
        assert found.set_out is not None
        assert found.set_out.best == day("05-01")


def test_a_day_that_nobody_wrote_down_is_missed_and_moves_it_too() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d22=3)
    found = one(book, "04-23")
    assert [missed.day for missed in found.missed] == [day("04-21")]
    assert (found.step, found.moved_days) == (3, 1)


def test_a_missed_day_moves_nothing_where_the_frost_comes_later() -> None:
    book = grown("tomato", "03-15", "03-22")
    out(book, "tomato", m5d10=2, m5d12=3)
    found = one(book, "05-13", TRUSTING)
    assert [missed.day for missed in found.missed] == [day("05-11")]
    # 17 days at 10 % after the average of 12 May (tests/reference/freeze_normals.csv).
    assert found.set_out is not None
    assert found.set_out.best >= day("05-29")
    assert found.moved_days == 0


def test_too_few_hours_count_half_and_the_step_is_done_again() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3, m4d22=2)
    found = one(book, "04-23")
    assert (found.done_days, found.step) == (2.5, 3)
    assert found.moved_days == 1


def test_after_the_last_step_nothing_more_is_missed_and_hardening_bars_no_longer() -> None:
    book = grown(*CABBAGE)
    for number, hours in enumerate((2, 3, 4, 5, 6, 7, 8, 9, 10, 11)):
        when = f"04-{20 + number} 18:00"
        book.write(Hardened, when, sowing="cabbage", hours=hours, night=hours > 8)
    found = one(book, "05-03")
    assert (found.done_days, found.days_left, found.missed) == (10, 0, ())
    assert "hardening" not in against(found)
    assert found.set_out is not None
    assert found.set_out.best <= day("05-03")


def test_plants_pricked_out_are_hardened_off_on_their_own() -> None:
    book = grown(*CABBAGE)
    for number in (1, 2):
        book.write(PrickedOut, "04-05", sowing="cabbage", plants=14, into=f"cabbage.{number}")
    out(book, "cabbage.1", m4d20=2, m4d21=3)
    found = seen(book, "04-22")
    assert [(sowing.name, sowing.step) for sowing in found] == [("cabbage.1", 3), ("cabbage.2", 1)]


def test_what_is_set_out_or_lost_is_no_longer_told() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2)
    book.write(SetOut, "04-21", sowing="cabbage", plants=20)
    assert one(book, "04-22").plants == 8
    book.write(Lost, "04-23", sowing="cabbage", plants=8, why="slugs")
    assert seen(book, "04-24") == ()


def test_without_a_forecast_today_is_not_judged() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2)
    found = one(book, "04-21")
    assert found.today == "not judged"
    assert found.why[0].text == "No forecast for today."


def test_a_forecast_of_a_minimum_alone_is_not_judged() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2)
    book.write(Forecast, "04-21", day=day("04-21"), tmin_c=6.0)
    assert one(book, "04-21").today == "not judged"
    assert "how warm" in texts(one(book, "04-21"))


@pytest.mark.parametrize(
    ("weather", "today", "said"),
    [
        ({"tmax_c": 14.0, "wind_ms": 2.0}, "out", "nothing against it"),
        # 45 °F: University of Maryland Extension 2023.
        ({"tmax_c": 6.0}, "held", "below 7.2 °C tender plants stay in"),
        # 50 °F: Hennepin County Master Gardeners 2014.
        ({"tmax_c": 9.0}, "half", "below 10 °C it counts half"),
        ({"tmax_c": 20.0, "gust_ms": 15.0}, "held", "Gusts of 15 m/s"),
        ({"tmax_c": 20.0, "rain_mm": 25.0}, "held", "25 mm of rain"),
    ],
)
def test_the_days_forecast_decides(weather: dict[str, Any], today: str, said: str) -> None:
    book = grown("tomato", "03-15", "03-22")
    out(book, "tomato", m5d10=2)
    book.write(Forecast, "05-10", day=day("05-11"), **weather)
    found = one(book, "05-11")
    assert found.today == today
    assert said in texts(found)


def test_days_that_the_forecast_holds_or_halves_move_setting_out() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    fair = one(book, "04-22").set_out
    assert fair is not None
    book.write(Forecast, "04-22", day=day("04-22"), tmax_c=14.0, gust_ms=15.0)
    book.write(Forecast, "04-22", day=day("04-23"), tmax_c=5.0)
    book.write(Forecast, "04-22", day=day("04-24"), tmax_c=5.0)
    book.write(Forecast, "04-22", day=day("04-25"), tmax_c=15.0)
    found = one(book, "04-22")
    assert [(ahead.day, ahead.counts) for ahead in found.ahead] == [
        (day("04-22"), "held"), (day("04-23"), "half"), (day("04-24"), "half"),
    ]  # fmt: skip
    assert found.set_out is not None
    assert found.set_out.best == fair.best + timedelta(days=2)
    assert found.moved_days == 2


def test_a_day_that_counts_half_by_its_weather_counts_half_once_it_is_done() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2)
    book.write(Forecast, "04-21", day=day("04-21"), tmax_c=7.0)  # below 7.2 °C: California
    before = one(book, "04-21")
    out(book, "cabbage", m4d21=3)
    evening, morning = one(book, "04-21"), one(book, "04-22")
    assert (before.today, evening.today) == ("half", "half")
    assert texts(evening) == "Out for 3 h. 7 °C by day: below 7.2 °C it counts half."
    assert (morning.step, morning.done_days) == (2, 1.5)
    assert [half.day for half in morning.halved] == [day("04-21")]
    assert before.set_out == evening.set_out == morning.set_out
    # Who carried them out in a storm that was forecast saw that there was none.
    book.write(Forecast, "04-22", day=day("04-22"), tmax_c=15.0, gust_ms=20.0)
    out(book, "cabbage", m4d22=3)
    assert one(book, "04-23").done_days == 2.5


def test_setting_out_that_was_moved_is_overdue_from_its_new_day_on() -> None:
    book = grown(*CABBAGE)
    plan = {f"m4d{number}": hours for number, hours in zip(range(20, 27), range(2, 9), strict=True)}
    out(book, "cabbage", **plan)
    for number in (27, 28):
        book.write(Held, f"04-{number} 09:00", sowing="cabbage", why="storm")
    for number, hours in ((29, 9), (30, 10)):
        book.write(Hardened, f"04-{number} 18:00", sowing="cabbage", hours=hours, night=True)
    moved = one(book, "05-01").set_out
    book.write(Hardened, "05-01 18:00", sowing="cabbage", hours=11, night=True)
    assert moved is not None
    for later in ("05-02", "05-09", "05-20"):
        assert one(book, later).set_out == moved


def test_a_forecast_held_day_moves_no_more_once_it_is_written_down() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    book.write(Forecast, "04-22", day=day("04-22"), tmax_c=14.0, gust_ms=15.0)
    book.write(Held, "04-22", sowing="cabbage", why="gale")
    assert one(book, "04-22").moved_days == 1
    out(book, "cabbage", m4d22=4)  # it went out after all
    assert one(book, "04-22").moved_days == 0


def test_what_was_done_counts_before_what_was_forecast() -> None:
    book = grown("tomato", "03-15", "03-22")
    out(book, "tomato", m5d10=2, m5d11=3)
    book.write(Forecast, "05-10", day=day("05-11"), tmax_c=2.0)
    assert one(book, "05-11").today == "out"


def test_the_latest_forecast_of_a_day_holds_and_a_struck_one_does_not() -> None:
    book = Notebook()
    book.write(Forecast, "05-10 08:00", day=day("05-11"), tmax_c=2.0)
    late = book.write(Forecast, "05-10 20:00", day=day("05-11"), tmax_c=15.0)
    assert forecasts_of(book.journal())[day("05-11")].tmax_c == 15.0
    assert forecasts_of(book.journal(), day("05-09")) == {}
    book.strike(late)
    assert forecasts_of(book.journal())[day("05-11")].tmax_c == 2.0


def eight_steps(name: str, first: str) -> Notebook:
    """Seven days done, so that the eighth, with its night, is today's."""
    book = grown(name, "03-15", "03-22")
    start = moment(f"{first} 18:00")
    for number in range(7):
        at = start + timedelta(days=number)
        book.write(Hardened, at, sowing=name, hours=number + 2.0)
    return book


def test_a_night_too_cold_for_a_tender_plant_is_spent_in_and_the_day_counts_whole() -> None:
    # hardening_off.csv: 50 °F for tomato and pepper (Washington County Master Gardeners,
    # Minnesota). Hardened they want the same: the night out would teach them nothing.
    book = eight_steps("tomato", "05-10")
    book.write(Forecast, "05-17", day=day("05-17"), tmax_c=18.0, wind_ms=1.0)
    book.write(Forecast, "05-17", day=day("05-18"), tmin_c=9.0)
    found = one(book, "05-17")
    assert (found.step, found.night, found.today) == (8, False, "out")
    assert "below 10 °C" in texts(found)
    book.write(Hardened, "05-17 18:00", sowing="tomato", hours=found.hours)
    assert one(book, "05-18").step == 9


def test_a_frost_is_spent_in_and_the_day_of_what_nights_harden_counts_half() -> None:
    # University of Delaware: "brought in when freezing is expected".
    book = eight_steps("cabbage", "04-20")
    book.write(Forecast, "04-27", day=day("04-27"), tmin_c=-1.0, tmax_c=14.0)
    found = one(book, "04-27")
    assert (found.night, found.today) == (False, "half")
    book.write(Hardened, "04-27 18:00", sowing="cabbage", hours=found.hours)
    assert one(book, "04-28").step == 8


def test_a_weakly_sourced_night_limit_advises_and_does_not_bar() -> None:
    # 40 °F for the hardy group stands on a seed merchant's page alone (Growing Gardens, weak, in
    # hardening_off.csv).
    book = eight_steps("cabbage", "04-20")
    book.write(Forecast, "04-27", day=day("04-27"), tmin_c=3.0, tmax_c=14.0)
    found = one(book, "04-27")
    assert (found.night, found.today) == (True, "out")
    (said,) = (said for said in found.why if "only advice" in said.text)
    assert said.basis == "weak source"


def test_freezing_brings_even_cabbage_in_for_the_night() -> None:
    # hardening_off.csv: bring in when freezing is expected (University of Delaware, Ernest).
    book = eight_steps("cabbage", "04-20")
    book.write(Forecast, "04-27", day=day("04-27"), tmin_c=-0.5, tmax_c=14.0)
    found = one(book, "04-27")
    assert (found.night, found.today) == (False, "half")


def test_frost_bars_tender_plants_until_the_trusted_day_and_tells_its_risk() -> None:
    book = grown("tomato", "03-15", "03-22")
    out(book, "tomato", m5d10=2)
    found = one(book, "05-12", TRUSTING)
    assert against(found)["frost"]
    (frost,) = (gate.said.text for gate in found.against if gate.what == "frost")
    # On the average date itself a frost comes later in half of all years.
    assert "50 % chance of frost" in frost
    assert not found.may_set_out


def test_where_no_risk_was_named_the_frost_is_told_and_bars_nothing() -> None:
    book = grown("tomato", "03-15", "03-22")
    out(book, "tomato", m5d10=2)
    assert against(one(book, "05-12"))["frost"] is False


def test_hardy_plants_do_not_wait_for_the_frost() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2)
    assert "frost" not in against(one(book, "04-21", TRUSTING))


def test_a_forecast_frost_bars_tender_plants_and_advises_covers_for_hardy_ones() -> None:
    for name, first, bars in (("tomato", "05-10", True), ("cabbage", "04-20", False)):
        book = eight_steps(name, first)
        today = day(first) + timedelta(days=7)
        cold = today + timedelta(days=2)
        book.write(Forecast, f"{today:%m-%d}", day=cold, tmin_c=-1.0)
        assert against(one(book, f"{today:%m-%d}"))["night"] is bars


def test_cold_soil_bars_only_where_it_was_measured() -> None:
    # transplant_timing.csv: 60 °F (15.6 °C) at the least, for pepper (National Gardening
    # Association).
    book = grown("pepper", "02-20", "03-10")
    out(book, "pepper", m5d20=2)
    assert "soil" not in against(one(book, "05-21"))
    assert "soil" in against(one(book, "05-21", ground_c=14.0))
    assert "soil" not in against(one(book, "05-21", ground_c=22.0))


def test_the_ground_is_what_was_last_measured_out_of_doors_within_three_days() -> None:
    plan, book = season(LOTS, WITH_A_YARD), Notebook()
    book.write(Read, "05-01 08:00", station="yard", quantity="soil_c", value=9.0)
    book.write(Read, "05-02 08:00", station="yard", quantity="soil_c", value=11.0)
    book.write(Read, "05-02 09:00", station="shelf", quantity="soil_c", value=21.0)
    records = book.records(LOTS, WITH_A_YARD)
    assert ground_now(plan, records, {}, moment("05-03 08:00")) == 11.0
    assert ground_now(plan, records, {}, moment("05-08 08:00")) is None


def test_setting_out_that_moved_falls_on_a_work_day() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    book.write(Held, "04-22", sowing="cabbage", why="storm")
    working = HEAD.replace("[frost]", 'work_days = ["wed"]\n\n[frost]', 1)
    found = one(book, "04-23", working)
    assert found.set_out is not None
    assert found.set_out.best >= day("05-01")
    assert found.set_out.best.strftime("%a") == "Wed"


def test_while_nobody_is_there_no_step_is_done_and_none_is_missed() -> None:
    book = grown(*CABBAGE)
    out(book, "cabbage", m4d20=2, m4d21=3)
    book.write(Held, "04-22", sowing="cabbage", why="storm")
    ready = one(book, "04-23")
    away = HEAD.replace("[frost]", 'away = [["2027-04-28", "2027-05-20"]]\n\n[frost]', 1)
    found = one(book, "04-23", away)
    assert ready.set_out is not None
    assert found.set_out is not None
    # Eight steps are left on the 23rd, five are done by the 27th, three from the 21st of May on.
    assert found.set_out.best == day("05-24")
    out(book, "cabbage", m4d23=4, m4d24=5, m4d25=6, m4d26=7, m4d27=8)
    back = one(book, "05-21", away)
    assert [each.day for each in back.missed] == []


def test_after_the_last_step_is_written_it_may_go_out_the_same_day() -> None:
    book = grown(*CABBAGE)
    for number, hours in enumerate((2, 3, 4, 5, 6, 7, 8, 9, 10, 11)):
        when = f"05-{10 + number} 08:00"
        book.write(Hardened, when, sowing="cabbage", hours=hours, night=hours > 8)
    found = one(book, "05-19")
    assert found.days_left == 0
    assert found.set_out is not None
    assert found.set_out.earliest == day("05-19")


def test_what_is_hardened_off_in_the_weeks_ahead_is_told_with_its_day() -> None:
    book = grown(*CABBAGE)
    rows = rows_today(season(LOTS), book.records(LOTS), {}, day("04-01"))
    row = next(found for found in rows if found.sowing == "cabbage")
    due = row.window("harden")
    assert due is not None
    begins = due.best
    assert coming(rows, begins - timedelta(days=21)) == (("cabbage", begins),)
    assert coming(rows, begins - timedelta(days=22)) == ()  # three weeks ahead, no more
    out(book, "cabbage", m4d02=2)
    begun = rows_today(season(LOTS), book.records(LOTS), {}, day("04-02"))
    assert coming(begun, day("04-02")) == ()


def test_a_day_held_before_it_was_ever_out_is_told_and_begins_nothing() -> None:
    book = grown(*CABBAGE)
    book.write(PrickedOut, "04-05", sowing="cabbage", plants=28, into="cabbage.1")
    due = one(book, "04-25").due
    book.write(Held, f"{due:%m-%d}", sowing="cabbage.1", why="frost")
    found = one(book, f"{due + timedelta(days=1):%m-%d}")
    assert (found.begun, found.step, found.due) == (None, 1, due)
    assert [held.why for held in found.held] == ["frost"]
    assert found.moved_days == 1


ACTS = st.lists(st.sampled_from(["out", "short", "held", "nothing"]), min_size=1, max_size=16)


@given(ACTS)
def test_nothing_goes_out_before_as_many_days_as_there_are_steps(acts: Iterable[str]) -> None:
    book = grown(*CABBAGE)
    start = day("04-20")
    out(book, "cabbage", m4d20=2)
    last = start
    for number, act in enumerate(acts, 1):
        last = start + timedelta(days=number)
        at = moment(f"{last:%m-%d} 18:00")
        if act in {"out", "short"}:
            hours = 11.0 if act == "out" else 0.5
            book.write(Hardened, at, sowing="cabbage", hours=hours, night=act == "out")
        elif act == "held":
            book.write(Held, at, sowing="cabbage", why="rain")
    found = one(book, f"{last:%m-%d}")
    assert found.set_out is not None
    assert found.set_out.best >= start + timedelta(days=found.of)
    assert found.set_out.earliest <= found.set_out.best <= found.set_out.latest
    assert 0 <= found.done_days <= (last - start).days + 1
    assert 1 <= found.step <= found.of
