import re
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.crop_table.crop import Crop, Figure, Source
from seedstart.days import WEEKDAYS, Window
from seedstart.planning.calendar.crop_times import at_station, basis_in_words
from seedstart.planning.calendar.frost_dates import FrostDates, frost_dates
from seedstart.planning.calendar.reasons import emerges_alone
from seedstart.planning.calendar.row import STEP_NAMES, Row
from seedstart.planning.calendar.scheduler import plan
from seedstart.planning.calendar.sowing_request import Ask, Where, tray_setting
from seedstart.planning.prospects.to_come import emerging_of
from seedstart.units import Temperatures, steady
from shipped import crop, crop_table, with_weeks
from tables import by_crop, figures, rows

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
    assert one.weeks_before_last_frost is not None
    weeks = (FROST - window(row_of(one), "sow").best).days / 7
    assert weeks == pytest.approx(one.weeks_before_last_frost.best, abs=1.1 / 7)


# Weeks indoors as printed: cucumber, melon and squash 3 to 4 in six to eight sources; sunflower and
# pumpkin 3 to 4 (Iowa State University Extension 2023, 2017); watermelon 2 to 4 (Cornell, Delaware,
# Iowa); coleus 8 to 10 (Iowa, Kansas, Vermont); zinnia 4 to 6 (Iowa); basil 5 to 6 (Iowa), 6 to 8
# (Utah); celeriac 10 to 12, asparagus 12 to 14 (sellers' sheets).
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("cucumber", 3, 4),
        ("melon", 3, 4),
        ("summer squash", 3, 4),
        ("winter squash", 3, 4),
        ("pumpkin", 3, 4),
        ("watermelon", 2, 4),
        ("sunflower", 3, 4),
        ("coleus", 8, 10),
        ("zinnia", 4, 6),
        ("basil", 5, 8),
        ("celeriac", 10, 12),
        ("asparagus", 12, 14),
    ],
)
def test_plants_stand_indoors_as_many_weeks_as_are_printed(
    name: str, low: float, high: float
) -> None:
    row = row_of(name)
    age = (window(row, "set_out").best - window(row, "sow").best).days / 7
    assert low - 1 / 7 <= age <= high + 1 / 7
    assert any("indoors are printed for it" in reason.text for reason in row.reasons)


@pytest.mark.parametrize(
    "one", [one for one in CROPS if one.raising == "pricked out"], ids=lambda one: one.name
)
def test_plants_grow_on_for_ten_days_between_pricking_out_and_hardening_off(one: Crop) -> None:
    # Common practice, no source: no page prints an interval; eight days up it has a true leaf.
    row = row_of(one)
    assert (window(row, "prick_out").best - window(row, "emerge").best).days >= 8
    grown = window(row, "harden").best - window(row, "prick_out").best
    assert grown.days >= 10
    assert (window(row, "set_out").best - window(row, "harden").best).days >= 7


# The trade sows these in modules and thins them; kohlrabi: Gatter and McKee 2010.
@pytest.mark.parametrize(
    "name", ["chard", "kohlrabi", "mustard", "pak choi", "endive", "calendula", "coriander"]
)
def test_what_nobody_pricks_out_has_no_day_for_it(name: str) -> None:
    assert all(step.name != "prick_out" for step in row_of(name).steps)


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
    assert window(row_of(one), "sow").days < 50
    for step in steps:
        assert step.earliest <= step.best <= step.latest
    for ahead, behind in pairwise(steps):
        assert all(left <= right for left, right in zip(ahead, behind, strict=True))


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


@pytest.mark.parametrize(
    ("classes", "least", "share"),
    [
        ({"hardy", "half_hardy", "tender", "very_tender"}, 190, 0.72),
        ({"tender", "very_tender"}, 110, 0.78),
    ],
    ids=["all", "tender"],
)
def test_the_calendar_agrees_with_published_ones_as_well_as_they_with_each_other(
    classes: set[str], least: int, share: float
) -> None:
    # Two published sources differ by a median of 7 days in weeks indoors alone.
    overlaps, differences = [], []
    names = {one.name: one for one in CROPS if one.hardiness in classes}
    for name, low, high in published():
        if name not in names:
            continue
        sow = window(row_of(names[name]), "sow")
        earliest = FROST - timedelta(days=round(7 * high) + 3)
        latest = FROST - timedelta(days=round(7 * low) - 3)  # "6 weeks before" is a week, no day
        overlaps.append(sow.earliest <= latest and earliest <= sow.latest)
        middle = FROST - timedelta(days=round(7 * (low + high) / 2))
        differences.append(abs((sow.best - middle).days))
    assert len(overlaps) >= least
    assert sum(overlaps) / len(overlaps) >= share
    assert median(differences) <= 11
    assert median(window(row_of(one), "sow").days for one in CROPS) <= 40


def test_set_out_windows_meet_those_that_two_sources_print() -> None:
    met = []
    ends = [f"set_out_weeks_after_last_frost_{end}" for end in ("low", "high")]
    printed = by_crop("transplant_timing.csv")
    for one in CROPS:
        rows_of_it = [row for row in printed.get(one.name, ()) if row[ends[0]] and row[ends[1]]]
        if len({row["source"] for row in rows_of_it}) < 2:
            continue
        weeks, out = figures(rows_of_it, *ends), window(row_of(one), "set_out")
        first, last = (FROST + timedelta(weeks=end(weeks)) for end in (min, max))
        met.append(out.earliest <= last and first <= out.latest)
    assert len(met) >= 15
    assert all(met)


def test_days_to_come_up_at_the_tray_setting_meet_those_that_are_printed() -> None:
    met = []
    printed = by_crop("germination_temperature.csv", "flower_germination.csv")
    for one in CROPS:
        days = figures(printed.get(one.name, []), "days_low", "days_high")
        expected = at_station(one, tray_setting(one).medium).expected
        judged = one.days_in_trays is not None and one.days_in_trays.basis == "practice"
        if len(days) >= 4 and expected is not None and not judged:
            met.append(expected.earliest <= max(days) and min(days) <= expected.latest)
    assert len(met) >= 80
    assert all(met)


HIGH = "weeks_indoors_high"
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


# Set out after the last frost, hardy as they are: frost kills young fern and rosemary; phlox and
# lobelia are printed 1 to 2 weeks after it (Purdue HO-203); candytuft waits for its roots;
# sprouting broccoli is a crop for next spring.
LATE = {
    "annual phlox",
    "asparagus",
    "candytuft",
    "lobelia",
    "rosemary",
    "sprouting broccoli",
}


def test_a_hardy_crop_is_out_by_the_last_frost() -> None:
    late = {
        one.name
        for one in CROPS
        if one.hardiness in {"hardy", "half_hardy"} and window(row_of(one), "set_out").best > FROST
    }
    assert late == LATE
    flowers = by_crop("sow_weeks_flowers.csv")
    for name in ("annual phlox", "lobelia"):
        assert max(figures(flowers[name], "set_out_weeks_after_last_frost_high")) > 0


def test_a_colder_bench_sows_earlier_by_what_it_needs_longer() -> None:
    pepper = crop("pepper")
    warm, cold = row_of(pepper, at=steady(26)), row_of(pepper, at=steady(18))
    days = [at_station(pepper, steady(c)).expected for c in (26, 18)]
    assert days[0] is not None
    assert days[1] is not None
    gap = (window(warm, "sow").best - window(cold, "sow").best).days
    assert gap == pytest.approx(days[1].best - days[0].best, abs=1)
    # emergence_days.csv: pepper takes 25 to 13 days at 15 to 20 °C and 8 at 25 to 30; trays 1.6 ×.
    assert 1.6 * (13 - 8) <= gap <= 1.6 * (25 - 8)
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
    assert "expect 12 % of the sound seedlings" in row.warnings[0]


# Share germinating: University of Florida IFAS, in heat_limits.csv.
@pytest.mark.parametrize("row", by_crop("heat_limits.csv")["pansy"][2:])
def test_pansy_fails_in_heat_as_the_university_of_florida_prints(
    row: dict[str, str],
) -> None:
    soil_c, percent = float(row["temp_c"]), float(row["percent_or_word"])
    share = at_station(crop("pansy"), steady(soil_c)).outlook.normal_share
    assert share == pytest.approx(percent / 90)
    said = " ".join(row_of("pansy", at=steady(soil_c)).warnings)
    assert ("above 25 °C, the highest temperature printed for pansy" in said) == (soil_c > 25)
    assert ("germinates poorly" in said) == (percent / 90 < 2 / 3)


def test_a_limit_that_nobody_prints_is_called_our_guess() -> None:
    assert figures(by_crop("germination_temperature.csv")["snapdragon"], "max_c") == []
    (said,) = row_of("snapdragon", at=steady(28)).warnings
    assert said == "At the bench (28 °C) snapdragon is above 27 °C, our guess for hardy plants."
    for one in CROPS:
        for soil_c in (8, 12, 33, 37):
            row = row_of(one, at=steady(soil_c))
            cold = soil_c < one.fastest_c.best
            limit = one.lowest_c if cold else one.highest_c
            for text in (*row.warnings, row.problem or ""):
                if limit.basis == "guess":
                    assert "temperature printed" not in text, (one.name, text)


@pytest.mark.parametrize("one", CROPS, ids=lambda one: one.name)
def test_seed_that_would_lie_for_weeks_has_no_date_unless_a_table_carries_it(one: Crop) -> None:
    # Two and a half times the days at the tray's setting, or thirty: common practice, no source.
    usual = at_station(one, steady(one.tray_c.best)).expected
    assert usual is not None
    for soil_c in (8, 10, 12, 14):
        found = at_station(one, steady(soil_c))
        if found.expected is None or found.expected.best <= max(
            min(2.5 * usual.best, 30), 1.1 * usual.best
        ):
            continue
        assert one.emergence is not None or one.shares is not None
        assert found.outlook.verdict in {"slow", "badly"}
        assert row_of(one, at=steady(soil_c)).warnings


@pytest.mark.parametrize(
    "name", ["heliotrope", "wax begonia", "cleome", "scarlet sage", "geranium"]
)
def test_a_cold_bench_gets_a_warmer_place_named_and_no_date_in_another_year(name: str) -> None:
    # flower_germination.csv prints 15 °C and more for each.
    assert min(figures(by_crop("flower_germination.csv")[name], "temp_low_c")) >= 15
    problem = row_of(name, at=steady(10)).problem or ""
    assert "find a warmer place" in problem
    assert "it is up in" in problem


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
    # sowing_notes.csv: 12 hours (University of Illinois Extension).
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


def test_tomato_comes_up_as_growers_know_it() -> None:
    # emergence_days.csv: 6 days at 25 °C, at 5 °C never. In trays 7 to 14: common practice.
    tomato = crop("tomato")
    good = at_station(tomato, steady(24)).expected
    assert good is not None
    assert 5 <= good.earliest <= 8
    assert 7 <= good.best <= 14
    assert good.latest <= 14
    assert at_station(tomato, steady(5)).outlook.verdict == "too cold"
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
    printed = figures(by_crop("transplant_timing.csv")["kale"], "weeks_indoors_low", HIGH)
    assert min(printed) <= age / 7 <= max(printed)


def test_a_growers_own_day_overrules_the_calendar_and_frost_still_holds() -> None:
    early = row_of("tomato", sow_on=date(2027, 2, 1))
    assert window(early, "sow") == Window.on(date(2027, 2, 1))
    assert window(early, "set_out").best >= FROST
    late = row_of("tomato", sow_on=date(2027, 6, 1))
    weeks = figures(by_crop("transplant_timing.csv")["tomato"], "weeks_indoors_low", HIGH)
    age = window(late, "set_out").best - date(2027, 6, 1)
    assert min(weeks) <= age.days / 7 <= max(weeks)


def test_what_is_sown_in_place_has_a_line_of_its_own_and_says_why() -> None:
    row = row_of("carrot")
    assert row.problem is None
    (step,) = row.steps
    assert (step.name, step.says) == ("sow", "sow outdoors")
    printed = by_crop("transplant_timing.csv")["carrot"]  # Colorado State; Purdue HO-203
    weeks = figures(printed, *(f"set_out_weeks_after_last_frost_{end}" for end in ("low", "high")))
    assert window(row, "sow").earliest == FROST + timedelta(weeks=min(weeks))
    assert window(row, "sow").latest == FROST + timedelta(weeks=max(weeks))
    assert "sown in place" in row.reasons[0].text


@pytest.mark.parametrize(("name", "said"), [("tomato", "frost"), ("carrot", "sown in place")])
def test_without_a_frost_only_a_day_of_its_own_dates_a_lot(name: str, said: str) -> None:
    found = plan(Ask(crop=crop(name), where=tray_setting(crop(name))))
    assert said in (found.problem or "")
    assert found.steps == ()
