from collections.abc import Mapping
from datetime import date
from itertools import groupby
from math import cos, pi

import pytest

from minima_records import record
from seedstart.growing.frost import (
    FrostRisk,
    FrostYear,
    Quantile,
    day_number,
    day_of,
    days_after_average,
    frost_risk,
    frost_years,
    risk_percent_after,
    trend_of,
)
from seedstart.growing.frost_record import frost_record
from seedstart.growing.minima_screen import Minima, is_southern, screened
from tables import rows


# NWS Wilmington NC, the page of Florence SC that freeze_normals.csv cites: the percent by date that
# the last freeze has *passed*, so 100 less it remains. Mean 79.26 (20 Mar) and SD 14.29 days are
# fitted to the list.
@pytest.mark.parametrize(
    ("day", "passed"),
    [
        (date(2027, 3, 1), 8.9),
        (date(2027, 3, 10), 23.6),
        (date(2027, 3, 20), 49.3),
        (date(2027, 3, 30), 75.2),
        (date(2027, 4, 5), 86.4),
        (date(2027, 4, 10), 92.7),
        (date(2027, 4, 20), 98.4),
    ],
)
def test_the_risk_left_is_a_published_list(day: date, passed: float) -> None:
    number = day.timetuple().tm_yday - 79.26
    assert 100 - risk_percent_after(number, 14.29) == pytest.approx(passed, abs=0.2)


def test_a_safe_date_lies_17_days_after_the_average() -> None:
    # Median of six places that print both: 17 days, 13 to 19 (freeze_normals.csv).
    assert days_after_average(10) == pytest.approx(17, abs=0.5)
    assert days_after_average(90) == pytest.approx(-17, abs=0.5)
    assert days_after_average(50) == 0


@pytest.mark.parametrize("risk", [1, 10, 33, 50, 67, 99])
def test_risk_and_days_are_each_others_inverse(risk: float) -> None:
    assert risk_percent_after(days_after_average(risk)) == pytest.approx(risk)


def _springs(dataset: str, threshold: str) -> tuple[FrostYear, ...]:
    minima, _ = screened(record(dataset))
    return frost_years(minima, round(10 * float(threshold)))


# last_frost_expected.csv: every spring of two open records (seattle-weather, clemson_temps).
def test_the_last_frost_of_every_spring_of_two_open_records_is_found() -> None:
    wrong = []
    for key, rows_of in groupby(rows("last_frost_expected.csv"), _dataset):
        found = {one.year: one for one in _springs(*key)}
        for row in rows_of:
            day = found[int(row["year"])].day
            if (day.isoformat() if day else "") != row["last_spring_frost"]:
                wrong.append((row, day))
    assert not wrong


def _dataset(row: dict[str, str]) -> tuple[str, str]:
    return row["dataset"], row["threshold_c"]


# last_frost_risk_expected.csv: 120 dates of clemson_temps by four methods and three periods.
def test_the_dates_at_a_risk_are_those_of_four_published_methods() -> None:
    wrong = []
    for key, rows_of in groupby(rows("last_frost_risk_expected.csv"), _dataset):
        springs = _springs(*key)
        for row in rows_of:
            low, high = int(row["first_year"]), int(row["last_year"])
            risk = frost_risk([one for one in springs if low <= one.year <= high])
            assert risk is not None
            assert risk.mean_day == pytest.approx(float(row["mean_day"]), abs=5e-4)
            assert risk.sd_days == pytest.approx(float(row["sd_days"]), abs=5e-4)
            assert (risk.seasons, risk.with_frost) == (
                int(row["n_seasons"]), int(row["n_with_frost"]),
            )  # fmt: skip
            number = _by_method(risk, row["method"], float(row["risk_percent"]))
            shown = "none" if number is None else f"{day_of(number, 2021):%m-%d}"
            if shown != row["date_mmdd"]:
                wrong.append((row, number))
            if number is not None:
                assert number == pytest.approx(float(row["day"]), abs=5e-4)
    assert not wrong


def _by_method(risk: FrostRisk, method: str, percent: float) -> float | None:
    if method.startswith("empirical"):
        kind: Quantile = "type7" if method == "empirical_type7" else "weibull"
        return risk.empirical_day(percent, kind)
    return risk.normal_day(percent)


# freeze_normals.csv, NCEI 1981-2010 for the same station (CLEMSON UNIV), 32 °F: a simple method
# agrees with the official one to within four days (tests/reference/README.md).
def test_a_record_agrees_with_the_published_normals_of_its_station() -> None:
    springs = _springs("stevedata/clemson_temps", "0.0")
    risk = frost_risk([one for one in springs if 1981 <= one.year <= 2010])
    assert risk is not None
    published = [row for row in rows("freeze_normals.csv") if "CLEMSON" in row["station"]]
    assert published
    for row in published:
        number = risk.normal_day(float(row["probability_percent"]))
        assert number is not None
        away = day_of(number, 2021) - date.fromisoformat(f"2021-{row['date_mmdd']}")
        assert abs(away.days) <= 4, row


# NWS Wilmington NC (freeze_normals.csv, 9 levels of 4 stations): a normal curve through each list
# gives its dates, floored to whole days; two of Lumberton's miss by 0.05 of a day.
@pytest.mark.parametrize(
    ("place", "mean", "sd", "right"),
    [("Florence", 79.26, 14.29, 9), ("Wilmington", 77.25, 15.30, 9),
     ("Lumberton", 94.18, 15.14, 7), ("Southport", 85.12, 12.84, 8)],
)  # fmt: skip
def test_published_lists_of_four_stations_are_normal_curves(
    place: str, mean: float, sd: float, right: int
) -> None:
    every = rows("freeze_normals.csv")
    listed = [one for one in every if f"ilm/freeze{place} " in one["source"]]
    assert len(listed) == 9
    same = 0
    for row in listed:
        number = int(mean + days_after_average(float(row["probability_percent"]), sd))
        same += f"{day_of(number, 2021):%m-%d}" == row["date_mmdd"]
    assert same >= right


def test_a_gross_error_in_july_is_set_aside_and_the_season_keeps_its_april_frost() -> None:
    # clemson_temps has -57.8 °C on 18 July 1936; last_frost_expected.csv has 19 and 4 April.
    for threshold, true in (("0.0", date(1936, 4, 19)), ("-2.2", date(1936, 4, 4))):
        springs = _springs("stevedata/clemson_temps", threshold)
        assert [one.day for one in springs if one.year == 1936] == [true]
    minima, aside = screened(record("stevedata/clemson_temps"))
    assert [(one.tenths, one.because) for one in aside if one.day == JULY_1936] == [
        (-578, "far from its season")
    ]
    assert len(aside) == 3  # 1930-06-24, 1933-07-05 and this one: tests/reference/README.md
    assert JULY_1936 not in minima.tenths
    assert not screened(record("seattle-weather"))[1]


JULY_1936 = date(1936, 7, 18).toordinal()


def _record(frosts: Mapping[int, str | None], years: range, south: bool = False) -> Minima:
    """Mild nights with a swing of the year, and a frost on one day of each season."""
    first, last = date(years[0], 1, 1).toordinal(), date(years[-1], 12, 31).toordinal()
    tenths = {
        day: round(80 - 20 * (1 if not south else -1) * cos(2 * pi * (day - first) / 365.25))
        + day * 37 % 61
        - 30
        for day in range(first, last + 1)
    }
    for year, frost in frosts.items():
        if frost is not None:
            tenths[date.fromisoformat(f"{year}-{frost}").toordinal()] = -1
    return Minima(tenths)


def test_a_spring_without_a_frost_is_kept_as_such() -> None:
    minima = _record({2001: "04-10", 2002: None, 2003: "04-20", 2004: "04-12"}, range(2001, 2005))
    risk = frost_risk(frost_years(minima, 0))
    assert risk is not None
    assert (risk.seasons, risk.with_frost, risk.share_with_frost) == (4, 3, 0.75)
    # q [1 - Φ((d - m)/s)]: of 3 years in 4 with a frost, no date is passed by more than 75 %.
    assert risk.normal_day(80) is None
    half = risk.normal_day(37.5)  # half of those with a frost
    assert half == pytest.approx(risk.mean_day)
    assert risk.percent_after(day_of(risk.mean_day, 2001)) == pytest.approx(37.5, abs=1)


def test_in_the_south_the_spring_is_that_of_the_second_half_of_the_year() -> None:
    frosts = {2001: "10-10", 2002: "10-20", 2003: "09-30"}
    minima = _record(frosts, range(2001, 2005), south=True)
    assert is_southern(minima)
    found = frost_years(minima, 0, south=True)
    assert [(one.year, one.day) for one in found] == [
        (year, date.fromisoformat(f"{year}-{day}")) for year, day in frosts.items()
    ]
    risk = frost_risk(found, south=True)
    assert risk is not None
    assert day_of(risk.mean_day, 2030, south=True) == date(2030, 10, 10)


def test_29_february_counts_as_the_28th_and_a_leap_year_moves_no_date() -> None:
    # 15 April is day 105, and 106 in a leap year; 29 February is day 59.
    assert day_number(date(2024, 4, 15)) == day_number(date(2023, 4, 15)) == 105
    assert day_number(date(2024, 2, 29)) == 59
    assert day_of(105, 2024) == date(2024, 4, 15)


@pytest.mark.parametrize("day", [date(2030, 7, 1), date(2031, 1, 31), date(2031, 2, 28)])
def test_a_day_number_of_the_south_gives_its_day_again(day: date) -> None:
    assert day_of(day_number(day, south=True), 2030, south=True) == day


def test_a_season_counts_unless_ten_days_that_could_hide_a_frost_are_missing() -> None:
    minima = _record({2001: "04-10", 2002: "04-01", 2003: "04-20"}, range(2001, 2004))
    tenths = dict(minima.tenths)
    for day in range(2, 12):  # after 2002's own frost, before the latest frost of the record
        del tenths[date(2002, 4, day).toordinal()]
    for day in range(1, 31):  # after every frost of the record: hides nothing
        del tenths[date(2001, 6, day).toordinal()]
    found = frost_years(Minima(tenths), 0)
    assert [(one.missing, one.counts) for one in found] == [(0, True), (10, False), (0, True)]


@pytest.mark.parametrize(("years", "least"), [(4, 20.0), (10, 100 / 11), (30, 100 / 31)])
def test_a_record_says_nothing_of_a_risk_rarer_than_its_years(years: int, least: float) -> None:
    # 100/(n + 1) %: 20 for 4 years, 9.1 for 10, 3.2 for 30.
    risk = FrostRisk(tuple(range(100, 100 + years)), years, 2001, 2000 + years)
    assert risk.least_risk_percent == pytest.approx(least)
    assert risk.carries(least)
    assert not risk.carries(least - 0.1)
    assert risk.empirical_day(least - 0.1) is None


# The exact interval of a normal quantile comes from the noncentral t (scipy); the large-sample
# one of the program lies within a day and a half of it for thirty years.
@pytest.mark.parametrize("percent", [10, 30, 50])
def test_the_interval_is_close_to_the_exact_one(percent: float) -> None:
    from scipy.stats import nct, norm

    minima = [one for one in _springs("stevedata/clemson_temps", "0.0") if one.year >= 1991]
    risk = frost_risk(minima)
    assert risk is not None
    n, at = risk.with_frost, norm.ppf(1 - percent / 100)
    ends = [
        risk.mean_day + risk.sd_days * nct.ppf(share, n - 1, at * n**0.5) / n**0.5
        for share in (0.05, 0.95)
    ]
    middle, sides = risk.normal_day(percent), risk.interval_days(percent)
    assert middle is not None
    assert ends == pytest.approx([middle - sides, middle + sides], abs=1.5)


def test_the_trend_is_that_of_a_general_library() -> None:
    from scipy.stats import linregress, t

    springs = _springs("stevedata/clemson_temps", "0.0")
    found = trend_of(springs)
    assert found is not None
    known = [(one.year, day_number(one.day)) for one in springs if one.day]
    line = linregress([year for year, _ in known], [day for _, day in known])
    either = t.ppf(0.975, len(known) - 2) * line.stderr
    assert (found.days_a_decade, found.low, found.high) == pytest.approx(
        (10 * line.slope, 10 * (line.slope - either), 10 * (line.slope + either))
    )
    assert found.is_shown


@pytest.mark.parametrize(
    ("value", "because"),
    [(999, "out of range"), (-999, "out of range"), (-410, "far from its season")],
)
def test_a_value_that_cannot_be_is_set_aside(value: int, because: str) -> None:
    minima = _record({2001: "04-10", 2002: "04-01"}, range(2001, 2005))
    wrong = {**minima.tenths, date(2003, 6, 1).toordinal(): value}
    kept, aside = screened(Minima(wrong))
    assert [(one.tenths, one.because) for one in aside] == [(value, because)]
    assert len(kept.tenths) == len(wrong) - 1


def test_a_year_of_one_value_is_no_measurement() -> None:
    minima = _record({2001: "04-10", 2002: "04-01"}, range(2001, 2005))
    year = range(date(2003, 1, 1).toordinal(), date(2004, 1, 1).toordinal())
    kept, aside = screened(Minima({**minima.tenths, **dict.fromkeys(year, 0)}))
    assert {one.because for one in aside} == {"stuck"}
    assert [one.counts for one in frost_years(kept, 0)] == [True, True, False, True]


def test_a_minimum_above_its_maximum_is_set_aside() -> None:
    day = date(2001, 4, 1).toordinal()
    _, aside = screened(Minima({day: 90}), {day: 50})
    assert [one.because for one in aside] == ["above the maximum"]


def test_the_screen_is_the_rule_that_numpy_works_out() -> None:
    # |x - median| > 6 * 1.4826 * MAD of the 15 days around in all the years, by numpy.
    import numpy as np

    minima = record("stevedata/clemson_temps").tenths
    place = {day: day - date(date.fromordinal(day).year, 1, 1).toordinal() for day in minima}
    by_place: dict[int, list[int]] = {}
    for day, value in minima.items():
        by_place.setdefault(place[day], []).append(value)
    usual = {}
    for number in by_place:
        around = [by_place.get((number + step) % 366, []) for step in range(-7, 8)]
        values = np.concatenate([np.array(one) for one in around])
        middle = np.median(values)
        usual[number] = middle, np.median(np.abs(values - middle))
    far = {
        day
        for day, value in minima.items()
        if abs(value - usual[place[day]][0]) > 6 * 1.4826 * usual[place[day]][1]
    }
    _, aside = screened(record("stevedata/clemson_temps"))
    assert {one.day for one in aside} == far


def test_the_first_frost_of_autumn_and_the_days_between() -> None:
    tenths = dict(_record({2001: "04-10", 2002: "04-20"}, range(2001, 2003)).tenths)
    for day in ("2001-10-07", "2001-11-01", "2002-10-17"):
        tenths[date.fromisoformat(day).toordinal()] = -5
    found = frost_record(Minima(tenths))
    assert [one.day for one in found.autumns] == [date(2001, 10, 7), date(2002, 10, 17)]
    assert found.season_days == (180, 180)
