import re
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.crop_table.crop import Crop, Figure, Source
from seedstart.days import WEEKDAYS, Window
from seedstart.planning.ask import Ask, Where, tray_setting
from seedstart.planning.calendar import plan
from seedstart.planning.crop_times import at_station, basis_in_words, growing
from seedstart.planning.emerging import emerging_of
from seedstart.planning.frost_dates import FrostDates, frost_dates
from seedstart.planning.reasons import emerges_alone
from seedstart.planning.row import STEP_NAMES, Row
from seedstart.units import Temperatures, steady
from shipped import crop, crop_table, with_weeks
from tables import rows

FROST = date(2027, 5, 12)
CROPS = with_weeks()


def row_of(
    name: str | Crop,
    frost: FrostDates | None = None,
    at: Temperatures | None = None,
    **more: object,
) -> Row:
    one = crop(name) if isinstance(name, str) else name
    where = Where("bench", at) if at else tray_setting(one)
    asked: dict[str, object] = {"frost": frost or frost_dates(FROST), **more}
    return plan(Ask(crop=one, where=where, **asked))  # type: ignore[arg-type]


def window(row: Row, step: str) -> Window:
    found = next(one.window for one in row.steps if one.name == step)
    assert found is not None
    return found


@pytest.mark.parametrize("one", CROPS, ids=lambda one: one.name)
def test_at_the_tray_setting_sowing_is_the_printed_weeks_before_the_average(one: Crop) -> None:
    # The weeks are pooled from sow_weeks_vegetables_herbs.csv and sow_weeks_flowers.csv.
    # Later, inside the printed weeks, where plants would get older than weeks indoors are printed.
    grows = growing(one)
    assert one.weeks_before_last_frost is not None
    assert grows is not None
    weeks = (FROST - window(row_of(one), "sow").best).days / 7
    assert weeks == pytest.approx(one.weeks_before_last_frost.best - grows.later / 7, abs=1.1 / 7)
    assert weeks >= one.weeks_before_last_frost.low - 1.1 / 7


def test_plants_get_no_older_than_weeks_indoors_are_printed_where_the_window_allows() -> None:
    # Cucumber, squash, melon: 3 to 4 weeks indoors in six to eight sources (cucumber: Iowa State
    # 2017, Penn State 2008, Clemson in transplant_timing.csv; more in both files of weeks).
    for name in ("cucumber", "melon", "summer squash"):
        row = row_of(name)
        age = (window(row, "set_out").best - window(row, "sow").best).days / 7
        assert 3 <= age <= 4.1, name
        assert any("older than the 4 weeks indoors" in reason.text for reason in row.reasons)


@pytest.mark.parametrize("soil_c", [10, 14, 18, 22, 24, 26, 30])
def test_the_sum_that_is_told_is_the_date(soil_c: float) -> None:
    told = r"(\d+ \w+) less (\d+) days of growing on, less (\d+) to come up: sow on (\d+ \w+)"
    counted = 0
    for one in CROPS:
        row = row_of(one, at=steady(soil_c))
        for reason in row.reasons:
            if found := re.match(told, reason.text):
                goal, sow = (
                    datetime.strptime(f"{text} 2027", "%d %b %Y").replace(tzinfo=UTC)
                    for text in (found[1], found[4])
                )
                assert (goal - sow).days % 365 == int(found[2]) + int(found[3]), one.name
                counted += 1
    assert counted > 40


@pytest.mark.parametrize("one", CROPS, ids=lambda one: one.name)
def test_steps_follow_each_other_and_their_windows_are_in_order(one: Crop) -> None:
    steps = [step.window for step in row_of(one).steps if step.window]
    assert len(steps) >= 4
    for step in steps:
        assert step.earliest <= step.best <= step.latest
    for ahead, behind in pairwise(steps):
        assert all(left <= right for left, right in zip(ahead, behind, strict=True))


@pytest.mark.parametrize("one", CROPS, ids=lambda one: one.name)
def test_a_sow_window_stays_under_fifty_days(one: Crop) -> None:
    assert window(row_of(one), "sow").days < 50


def published() -> list[tuple[str, float, float]]:
    """(crop, low, high) weeks before the average last frost, one row a source, none marked weak."""
    found = []
    for name in ("sow_weeks_vegetables_herbs.csv", "sow_weeks_flowers.csv"):
        for row in rows(name):
            low, high = (
                row["sow_weeks_before_last_frost_low"],
                row["sow_weeks_before_last_frost_high"],
            )
            if low and high and not row["source"].startswith("(weak"):
                safe = 17 / 7 if row["frost_meaning"] == "safe" else 0
                found.append((row["crop"], float(low) - safe, float(high) - safe))
    return found


def test_the_calendar_agrees_with_published_ones_as_well_as_they_with_each_other() -> None:
    # Two published sources differ by a median of 7 days in weeks indoors alone.
    overlaps, differences = [], []
    names = {one.name: one for one in CROPS}
    for name, low, high in published():
        if name not in names:
            continue
        sow = window(row_of(names[name]), "sow")
        earliest = FROST - timedelta(days=round(7 * high) + 3)
        latest = FROST - timedelta(days=round(7 * low) - 3)  # "6 weeks before" is a week, no day
        overlaps.append(sow.earliest <= latest and earliest <= sow.latest)
        middle = FROST - timedelta(days=round(7 * (low + high) / 2))
        differences.append(abs((sow.best - middle).days))
    assert len(overlaps) >= 190
    assert sum(overlaps) / len(overlaps) >= 0.70
    assert median(differences) <= 12


SHIFTED = ("pepper", "leek", "lettuce", "cosmos", "cucumber", "pea")


@given(st.dates(date(2020, 1, 1), date(2040, 12, 31)), st.sampled_from(SHIFTED))
@settings(max_examples=150)
def test_any_time_of_year_is_counted_alike(day: date, name: str) -> None:
    # New Year, leap days and a southern spring (October) are nothing special.
    here, there = row_of(name, frost_dates(FROST)), row_of(name, frost_dates(day))
    by = (day - FROST).days
    for one, other in zip(here.steps, there.steps, strict=True):
        assert one.window is not None
        assert other.window == one.window.shifted(by)


def test_a_leap_day_can_be_the_day_to_sow() -> None:
    weeks = crop("pepper").weeks_before_last_frost
    assert weeks is not None
    frost = date(2028, 2, 29) + timedelta(days=round(7 * weeks.best))
    assert window(row_of("pepper", frost_dates(frost)), "sow").best == date(2028, 2, 29)


def test_tender_plants_wait_for_the_trusted_date_and_hardy_ones_do_not() -> None:
    # 17 days lie between the average and the 10 % date (six stations, freeze_normals.csv).
    average, safe = frost_dates(FROST - timedelta(days=17)), frost_dates(FROST, 10)
    assert window(row_of("tomato", safe), "set_out").earliest == FROST
    assert window(row_of("tomato", safe), "set_out").best == FROST
    assert window(row_of("tomato", average), "set_out").best < FROST
    assert row_of("cabbage", safe).steps == row_of("cabbage", average).steps


def test_a_hardy_crop_is_out_by_the_last_frost() -> None:
    for one in CROPS:
        if one.hardiness in {"hardy", "half_hardy"}:
            assert window(row_of(one), "set_out").best <= FROST


def test_a_colder_bench_sows_earlier_by_what_it_needs_longer() -> None:
    pepper = crop("pepper")
    warm, cold = row_of(pepper, at=steady(26)), row_of(pepper, at=steady(18))
    days = [at_station(pepper, steady(c)).expected for c in (26, 18)]
    assert days[0] is not None
    assert days[1] is not None
    gap = (window(warm, "sow").best - window(cold, "sow").best).days
    assert gap == pytest.approx(days[1].best - days[0].best, abs=1)
    assert window(warm, "set_out") == window(cold, "set_out")


def test_what_cannot_come_up_has_the_reason_and_the_cure_and_no_date() -> None:
    # emergence_days.csv, Harrington & Minges 1954: pepper at 15 °C after 25 days, at 10 °C never.
    others = (Where("heat mat", steady(24)),)
    cold = plan(
        Ask(
            crop=crop("pepper"),
            where=Where("sill", steady(12)),
            frost=frost_dates(FROST),
            others=others,
        )
    )
    assert cold.steps == ()
    assert cold.problem is not None
    assert cold.problem.startswith("The sill at 12 °C is below 15 °C, the coldest at which pepper")
    assert "it is up in 8 to 1" in cold.problem


def test_heat_that_spoils_lettuce_is_a_warning_and_not_a_bar() -> None:
    # normal_seedlings_percent.csv: 12 % at 30 °C against 99 % at 25 °C.
    row = row_of("lettuce", at=steady(30))
    assert row.sow_day is not None
    assert "12 % of the normal seedlings" in row.warnings[0]


def test_a_cold_night_is_a_warning_and_a_mild_one_is_none() -> None:
    # Harrington & Minges 1954, emergence_days.csv: no pepper at 10 °C, 13 days at 20 °C.
    pepper = crop("pepper")
    cold, mild = (at_station(pepper, Temperatures(24, night_c)) for night_c in (10, 20))
    assert cold.outlook.verdict == "badly"
    assert mild.outlook.verdict == "comes up"
    assert cold.expected is not None
    assert mild.expected is not None
    assert cold.expected.best > mild.expected.best


def test_the_first_day_of_the_calendar_is_the_first_day_that_counts_are_held_against() -> None:
    # Whichever is wider: the printed range, or the spread within one tray.
    for one in crop_table().crops.values():
        if one.clock == "table" or one.days_in_trays is None:
            continue
        expected, emerging = at_station(one, tray_setting(one).medium).expected, emerging_of(one)
        assert expected is not None
        assert emerging.earliest * expected.best == pytest.approx(expected.earliest), one.name
        assert emerging.latest * expected.best == pytest.approx(expected.latest), one.name


ASKED = {
    "ready": {"ready": date(2027, 8, 20)},
    "trusted": {"frost": frost_dates(FROST, 50, 10)},
    "own day": {"sow_on": date(2027, 3, 1)},
    "average": {},
}


@pytest.mark.parametrize("asked", ASKED.values(), ids=ASKED.keys())
def test_every_reason_belongs_to_a_step_and_is_a_sentence(asked: dict[str, object]) -> None:
    for name in ("tomato", "kale", "cucumber", "celery", "okra"):
        reasons = row_of(name, **asked).reasons  # type: ignore[arg-type]
        assert reasons
        for reason in reasons:
            assert reason.step in STEP_NAMES
            assert reason.text.endswith("."), reason.text


def test_a_soak_that_has_its_day_is_not_also_said_to_have_none() -> None:
    row = row_of("okra")
    assert row.step("treat") is not None
    soaks = [reason.text for reason in row.reasons if "soak" in reason.text]
    assert len(soaks) == 1
    assert "no date waits for that" not in soaks[0]


def test_sources_of_one_house_are_one_voice() -> None:
    figure = Figure(low=3, best=4, high=5, basis="source", sources=("leaf", "page", "book"))
    house, press = Source("A leaflet", "house"), Source("A handbook", "press")
    assert basis_in_words(figure, {"leaf": house, "page": house, "book": press}) == "2 sources"
    assert basis_in_words(figure) == "3 sources"


def test_away_whenever_it_may_come_up_it_is_sown_all_the_same_and_said_to_come_up_alone() -> None:
    free = row_of("pepper")
    sow, up = window(free, "sow"), window(free, "emerge")
    days = [timedelta(days=number) for number in (1, 3, 30)]
    away = ((sow.earliest, sow.best - days[0]), (sow.best + days[1], up.latest + days[2]))
    row = row_of("pepper", away=away)
    assert window(row, "sow").best == sow.best
    assert row.warnings == (emerges_alone(up.best),)


# Common practice, no source: what growers expect of tomato.
def test_tomato_comes_up_as_growers_know_it() -> None:
    tomato = crop("tomato")
    good = at_station(tomato, steady(24)).expected
    assert good is not None
    assert good.earliest >= 5
    assert 7 <= good.best <= 14
    assert good.latest <= 14
    assert at_station(tomato, steady(8)).outlook.verdict == "too cold"
    assert at_station(tomato, steady(25)).outlook.verdict == "comes up"


@pytest.mark.parametrize("work_days", [("sat",), ("wed", "sun"), ("mon", "tue", "fri")])
def test_a_grower_sows_on_their_work_days(work_days: tuple[str, ...]) -> None:
    for one in CROPS:
        row = row_of(one, work_days=work_days)
        free = row_of(one)
        day = window(row, "sow").best
        if not row.warnings:
            assert WEEKDAYS[day.weekday()] in work_days
            assert window(free, "sow").holds(day)
            assert abs((day - window(free, "sow").best).days) <= 6


def test_nothing_comes_up_alone() -> None:
    free = row_of("pepper")
    up = window(free, "emerge").best
    away = ((up - timedelta(days=2), up + timedelta(days=5)),)
    row = row_of("pepper", away=away)
    assert not away[0][0] <= window(row, "emerge").best <= away[0][1]
    assert window(free, "sow").holds(window(row, "sow").best)


def test_a_ready_date_is_counted_back_from_and_frost_has_no_say() -> None:
    day = date(2027, 8, 20)
    row = row_of("kale", ready=day)
    assert window(row, "set_out").best == day
    weeks = crop("kale").weeks_before_last_frost
    out = crop("kale").set_out_weeks
    assert weeks is not None
    assert out is not None
    age = 7 * (weeks.best + out.best)
    assert (day - window(row, "sow").best).days == pytest.approx(age, abs=1)


def test_a_growers_own_day_overrules_the_calendar_and_frost_still_holds() -> None:
    early = row_of("tomato", sow_on=date(2027, 2, 1))
    assert window(early, "sow") == Window.on(date(2027, 2, 1))
    assert window(early, "set_out").best >= FROST
    late = row_of("tomato", sow_on=date(2027, 6, 1))
    assert window(late, "set_out").best > date(2027, 7, 1)


def test_without_a_frost_only_a_day_of_its_own_dates_a_lot() -> None:
    asked = Ask(crop=crop("tomato"), where=tray_setting(crop("tomato")))
    assert plan(asked).problem is not None
    assert plan(asked).steps == ()


def test_a_crop_sown_in_place_says_so() -> None:
    assert "sown in place" in (row_of("carrot").problem or "")
