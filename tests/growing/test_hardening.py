"""Steps and limits against tests/reference/hardening_off.csv, where every row has its source."""

import itertools
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.growing.hardening_rules import (
    DOWNPOUR,
    GUSTS,
    HARD_RAIN,
    LEAST_DAYS,
    MOST_DAYS,
    USUAL_DAYS,
    DayWeather,
    Hardiness,
    Limit,
    days_of_hardening,
    judge_day,
    limits_of,
    night_against,
    steps,
)
from tables import rows

TENDER, HARDY = limits_of("tender"), limits_of("hardy")


def printed(group: str, column: str, source: str) -> Iterator[float]:
    """The figures of one source for a crop or group."""
    for row in rows("hardening_off.csv"):
        if row["crop_or_group"] == group and source in row["source"] and row[column]:
            yield float(row[column])


def test_the_length_is_marylands_week_or_two_and_ten_days_lie_between() -> None:
    assert [*printed("all vegetables", "days_low", "Maryland")] == [LEAST_DAYS]
    assert [*printed("all vegetables", "days_high", "Maryland")] == [MOST_DAYS]
    assert LEAST_DAYS < USUAL_DAYS < MOST_DAYS


def test_plants_of_a_fortnight_are_hardened_off_for_half_of_it() -> None:
    assert days_of_hardening(14) == (7, 7, 7)
    assert days_of_hardening(40) == (MOST_DAYS, USUAL_DAYS, LEAST_DAYS)


def test_the_first_day_lies_between_the_hours_that_sources_print() -> None:
    # 1 h: Hennepin County Master Gardeners 2014. 3 to 4 h: Beltrami Master Gardeners.
    (least,) = printed("all vegetables", "first_day_hours", "Hennepin")
    for days in range(LEAST_DAYS, MOST_DAYS + 1):
        assert least <= steps(days)[0].hours <= 4


@given(st.integers(LEAST_DAYS, MOST_DAYS))
def test_each_day_is_longer_by_two_hours_at_most_and_never_shorter(days: int) -> None:
    # Beltrami: one to two hours more a day; half an hour where two weeks are taken.
    hours = [step.hours for step in steps(days)]
    more = [after - before for before, after in itertools.pairwise(hours)]
    assert len(hours) == days
    assert all(0.5 <= one <= 2 for one in more)


@given(st.integers(2, 30))
def test_shade_comes_before_sun_and_nights_come_last(days: int) -> None:
    plan = steps(days)
    lights = [("shade", "half sun", "sun").index(step.light) for step in plan]
    assert lights == sorted(lights)
    assert lights[0] == 0
    nights = [step.night for step in plan]
    assert nights == sorted(nights)
    assert nights[-1]
    assert not nights[0]


@given(st.integers(2, 30))
def test_who_stays_out_for_the_night_stood_in_the_sun_by_day(days: int) -> None:
    assert {step.light for step in steps(days) if step.night} == {"sun"}


def test_the_first_night_of_ten_days_is_the_eighth() -> None:
    # "Night out under cover on day 8": Following the Master Gardener 2013 (weak).
    assert next(number for number, step in enumerate(steps(10), 1) if step.night) == 8


def test_hardening_off_in_a_day_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 2 days, not 1"):
        steps(1)


def test_tender_seedlings_stay_in_below_what_maryland_and_california_print() -> None:
    for source in ("Maryland", "California"):
        assert [*printed("tender seedlings", "min_day_temp_c", source)] == [TENDER.day_held.value]
    assert judge_day(DayWeather(tmax_c=7.1), TENDER)[0] == "held"
    assert judge_day(DayWeather(tmax_c=7.2), TENDER)[0] == "half"


def test_a_day_in_the_fifties_fahrenheit_counts_whole() -> None:
    assert [*printed("all vegetables", "min_day_temp_c", "Hennepin")] == [TENDER.day_counts.value]
    assert judge_day(DayWeather(tmax_c=10.0), TENDER) == ("out", ())


def test_hardy_seedlings_get_a_whole_day_from_where_california_begins() -> None:
    # California Master Gardener Handbook in hardening_off.csv: "at 45-50 F (7.2-10.0 C)".
    assert judge_day(DayWeather(tmax_c=7.2), HARDY) == ("out", ())
    assert judge_day(DayWeather(tmax_c=7.1), HARDY)[0] == "half"


@pytest.mark.parametrize(
    ("hardiness", "group", "source", "basis"),
    [
        ("tender", "Tomato", "Washington County", "relative"),
        ("very_tender", "Cucumber", "Maryland", "relative"),
        ("hardy", "hardy group", "Growing Gardens", "weak"),
        ("half_hardy", "half-hardy group", "Growing Gardens", "weak"),
    ],
)
def test_nights_of_a_class_are_those_that_the_source_prints(
    hardiness: Hardiness, group: str, source: str, basis: str
) -> None:
    limit = limits_of(hardiness).night
    assert [*printed(group, "min_night_temp_c", source)] == [limit.value]
    assert limit.basis == basis


def test_the_night_that_is_printed_for_the_crop_goes_before_that_of_its_class() -> None:
    own = Limit(6.0, "source", ("page",))
    assert limits_of("hardy", own).night is own
    assert limits_of("hardy", hardened=own).hardened_night is own
    assert limits_of("hardy", own).hardened_night.value == -2.2


def test_freezing_keeps_every_plant_in_for_the_night() -> None:
    # "Bring in when freezing is expected": University of Delaware, Ernest.
    (freezing,) = printed("all vegetables", "min_night_temp_c", "Ernest")
    against = night_against(freezing, HARDY)
    assert against is not None
    assert (against.value, against.basis) == (0.0, "source")
    assert night_against(4.4, HARDY) is None


def test_wind_that_hurt_new_transplants_holds_every_plant() -> None:
    # Gusts over 30 mph with a mean of 12 mph: University of Delaware, Johnson.
    assert GUSTS.value == pytest.approx(30 * 0.44704, abs=0.05)
    assert TENDER.wind.value == pytest.approx(12 * 0.44704, abs=0.05)
    calm = DayWeather(tmax_c=18.0, wind_ms=5.3, gust_ms=13.3)
    assert judge_day(calm, HARDY)[0] == judge_day(calm, TENDER)[0] == "out"
    assert judge_day(DayWeather(tmax_c=18.0, gust_ms=13.4), HARDY)[0] == "held"


def test_on_a_windy_day_tender_plants_stay_in_and_hardy_ones_get_half_of_it() -> None:
    # "Tender seedlings not out on windy days": California Master Gardener Handbook
    # (hardening_off.csv). A mean of 12 mph: University of Delaware, Johnson.
    windy = DayWeather(tmax_c=18.0, wind_ms=5.4)
    assert judge_day(windy, TENDER)[0] == "held"
    assert judge_day(windy, HARDY)[0] == "half"


def test_hard_rain_counts_half_and_very_hard_rain_holds() -> None:
    # R10mm and R20mm of the ETCCDI climate indices (from memory).
    assert (HARD_RAIN.value, DOWNPOUR.value) == (10, 20)
    assert HARD_RAIN.basis == DOWNPOUR.basis == "memory"
    assert judge_day(DayWeather(tmax_c=18.0, rain_mm=9.9), TENDER)[0] == "out"
    assert judge_day(DayWeather(tmax_c=18.0, rain_mm=10.0), TENDER)[0] == "half"
    assert judge_day(DayWeather(tmax_c=18.0, rain_mm=20.0), TENDER)[0] == "held"


def test_a_day_with_a_minimum_alone_is_not_judged() -> None:
    assert judge_day(DayWeather(tmin_c=12.0), TENDER) == (None, ())
    assert judge_day(DayWeather(), HARDY) == (None, ())


def test_what_holds_a_day_holds_it_though_its_temperature_is_not_known() -> None:
    counts, met = judge_day(DayWeather(gust_ms=20.0, rain_mm=12.0), HARDY)
    assert counts == "held"
    assert [one.what for one in met] == ["gusts", "hard rain"]


@given(st.floats(-30, 40), st.floats(0, 40), st.floats(0, 60), st.floats(0, 80), st.floats(0, 20))
def test_a_warmer_day_never_counts_less(
    tmax_c: float, wind: float, gust: float, rain: float, more: float
) -> None:
    order = ("held", "half", "out")
    for hardiness in ("hardy", "half_hardy", "tender", "very_tender"):
        limits = limits_of(hardiness)
        colder, _ = judge_day(DayWeather(None, tmax_c, wind, gust, rain), limits)
        warmer, _ = judge_day(DayWeather(None, tmax_c + more, wind, gust, rain), limits)
        assert colder is not None
        assert warmer is not None
        assert order.index(warmer) >= order.index(colder)
