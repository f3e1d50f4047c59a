"""Tables of hours folded to the days of the season's zone, over changes of clocks too."""

import json
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from seedstart.problems import BadInputError
from seedstart.season.weather.weather_days import Days
from seedstart.season.weather.weather_file import Answers, ReadOptions, read_weather

BERLIN = ZoneInfo("Europe/Berlin")  # clocks change on 28 March and 31 October 2027


def day(number: int, month: int = 4) -> int:
    return date(2027, month, number).toordinal()


def read(data: bytes, name: str = "forecast.csv", said: Answers | None = None) -> Days:
    return read_weather(data, name, said, ReadOptions(zone=BERLIN))


def csv(rows: Iterable[str], header: str = "time,temperature (°C)") -> bytes:
    return "\n".join([header, *rows, ""]).encode()


def hours_from(start: str, count: int, step: int = 1) -> list[datetime]:
    first = datetime.fromisoformat(start)
    return [first + timedelta(hours=step * number) for number in range(count)]


def warmth(at: datetime) -> float:
    """Invented: the coldest hour is five o'clock, a day later a degree warmer."""
    return (at.hour - 5) % 24 / 2 + at.day - 10


def test_the_night_of_a_day_is_the_one_that_ends_on_its_morning() -> None:
    some = hours_from("2027-04-10T06:00", 42)  # to 23:00 on the 11th
    rows = [f"{at:%Y-%m-%dT%H:%M},{-2.5 if at.hour == 20 else warmth(at)}" for at in some]
    found = read(csv(rows))
    # 20:00 on the 10th is of the night to the 11th; those before and after are half known
    assert found.tmin_tenths == {day(11): -25}
    assert found.others["tmax_c"] == {day(10): 9.0, day(11): 12.5}
    assert found.sentences() == [
        "hours folded into days: a night's lowest is that from 18:00 on the day before on"
    ]


def test_what_hours_say_of_wind_rain_and_sun_is_folded_as_each_is_meant() -> None:
    header = "Date,Temp (F),Wind (km/h),Gusts (km/h),Rain (mm),Sunshine (min),Humidity (%)"
    some = hours_from("2027-04-10T00:00", 24)
    rows = [f"{at:%d.%m.%Y %H:%M},50,{18 if at.hour < 12 else 36},54,0.5,30,90" for at in some]
    others = read(csv(rows, header)).others
    assert {name: values[day(10)] for name, values in others.items()} == {
        "tmax_c": 10.0, "wind_ms": 7.5, "gust_ms": 15.0, "rain_mm": 12.0, "sun_h": 12.0,
    }  # fmt: skip


def test_hours_in_world_time_fall_into_the_days_of_the_season() -> None:
    # 22:00 UTC on the 10th is midnight in Berlin, in summer time.
    some = hours_from("2027-04-09T12:00", 60)
    cold = [-3 if f"{at:%d %H}" == "10 15" else 5 for at in some]  # 17:00 in Berlin
    utc = [f"{at:%Y-%m-%dT%H:%M}Z,{c}" for at, c in zip(some, cold, strict=True)]
    bare = [f"{at:%Y-%m-%dT%H:%M},{c}" for at, c in zip(some, cold, strict=True)]
    said = Answers(columns={"date": "time|UTC"})
    for found in (
        read(csv(utc)), read(csv(bare, "time (UTC),temperature (°C)")), read(csv(bare), said=said)
    ):  # fmt: skip
        assert found.tmin_tenths == {day(10): -30, day(11): 50}


# The lengths of the days from the system's zone data: 23, 24 and 25 hours.
@pytest.mark.parametrize(("first", "hours"), [(day(28, 3), 23), (day(1), 24), (day(31, 10), 25)])
@pytest.mark.parametrize("backwards", [False, True])
def test_a_day_has_its_own_length_and_its_doubled_hour_is_read_in_order(
    first: int, hours: int, *, backwards: bool
) -> None:
    midnight = datetime.combine(date.fromordinal(first), datetime.min.time(), BERLIN)
    some = [at.astimezone(BERLIN) for at in hours_from(midnight.astimezone(UTC).isoformat(), hours)]
    for form in ("%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M%z"):
        rows = [f"{at:{form}},{number},1" for number, at in enumerate(some)]
        header = "time,temperature (°C),rain (mm)"
        found = read(csv(reversed(rows) if backwards else rows, header))
        assert found.others["rain_mm"] == {first: float(hours)}


def test_times_that_the_clocks_leave_out_are_of_another_zone_and_it_is_asked() -> None:
    some = hours_from("2027-03-28T00:00", 24)
    rows = [f"{at:%Y-%m-%dT%H:%M},3" for at in some]
    with pytest.raises(BadInputError) as refused:
        read(csv(rows))
    assert str(refused.value) == (
        "forecast.csv, line 4, date: found '2027-03-28T02:00'. The clocks go forward over this "
        "hour, so its times are not those of the season. Say of which zone they are: "
        "date=HEADER|UTC, or the name of a zone behind the bar."
    )
    assert read(csv(rows), said=Answers(columns={"date": "time|UTC"})).others["tmax_c"]
    with pytest.raises(BadInputError, match=r"date: found 'Mars/Rim', allowed: a zone, e\.g\."):
        read(csv(rows), said=Answers(columns={"date": "time|Mars/Rim"}))


def test_a_night_of_which_only_every_sixth_hour_is_known_is_left_out() -> None:
    close = hours_from("2027-04-10T06:00", 12, 3)
    thin = hours_from("2027-04-11T18:00", 12, 6)
    found = read(csv(f"{at:%Y-%m-%d %H:%M},4" for at in [*close, *thin]))
    assert found.tmin_tenths == {day(11): 40}
    assert found.sentences()[1] == "2 nights left out, of which not every three hours are known"


def test_an_exported_forecast_in_json_states_its_zone_and_units_beside_its_hours() -> None:
    some = hours_from("2027-04-09T12:00", 60)
    hourly = {
        "time": [f"{at:%Y-%m-%dT%H:%M}" for at in some],
        "temperature_2m": [warmth(at) for at in some],
        "dew_point_2m": [-20] * 60,
        "wind_gusts_10m": [36] * 60,
        "precipitation_probability": [90] * 60,
        "sunshine_duration": [1800] * 60,
    }
    units = {"time": "iso8601", "temperature_2m": "°C", "dew_point_2m": "°C",
             "wind_gusts_10m": "km/h", "sunshine_duration": "s"}  # fmt: skip
    document = {"timezone": "GMT", "hourly_units": units, "hourly": hourly}
    found = read(json.dumps(document).encode(), "forecast.json")
    assert found.tmin_tenths == {day(10): 0, day(11): 10}  # five o'clock GMT, seven in Berlin
    assert found.others["gust_ms"][day(10)] == 10.0
    assert found.others["sun_h"][day(10)] == 12.0
    assert "rain_mm" not in found.others


def test_a_forecast_that_lies_deep_in_its_json_takes_the_amount_of_the_shortest_time() -> None:
    series = [
        {
            "time": f"{at:%Y-%m-%dT%H:%M:%SZ}",
            "data": {
                "instant": {"details": {"air_temperature": warmth(at), "wind_speed": 4.0}},
                "next_12_hours": {"details": {"precipitation_amount": 12.0}},
                "next_1_hours": {"details": {"precipitation_amount": 0.5}},
            },
        }
        for at in hours_from("2027-04-09T12:00", 60)
    ]
    units = {"air_temperature": "celsius", "wind_speed": "m/s", "precipitation_amount": "mm"}
    document = {"properties": {"meta": {"units": units}, "timeseries": series}}
    found = read(json.dumps(document).encode(), "forecast.json")
    assert found.tmin_tenths[day(10)] == 0
    assert found.others["rain_mm"][day(10)] == 12.0
    assert found.others["wind_ms"][day(10)] == 4.0


def test_hours_in_fahrenheit_that_do_not_say_so_are_asked_for() -> None:
    rows = [f"{at:%Y-%m-%d %H:%M},{50}" for at in hours_from("2027-04-10T00:00", 24)]
    with pytest.raises(BadInputError, match="does not say whether its temperatures are °C or °F"):
        read(csv(rows, "time,temperature"))
    assert read(csv(rows, "time,temperature"), said=Answers(unit="F")).others["tmax_c"] == {
        day(10): 10.0
    }


def test_a_time_that_is_none_costs_its_row_alone() -> None:
    rows = [f"{at:%Y-%m-%d %H:%M},4" for at in hours_from("2027-04-10T00:00", 24)]
    rows[5] = "2027-04-10 25:00,4"
    found = read(csv(rows))
    assert found.others["tmax_c"] == {day(10): 4.0}
    assert [one.line for one in found.problems] == [7]


def test_a_day_with_morning_and_evening_rows_is_no_table_of_hours() -> None:
    rows = ["2027-04-10 07:00,-2", "2027-04-10 19:00,5", "2027-04-11 07:00,1"]
    found = read(csv(rows, "time,min (°C)"))
    assert found.tmin_tenths == {day(10): -20, day(11): 10}


def test_long_files_tell_how_far_they_are() -> None:
    told: list[int] = []
    some = hours_from("2027-01-01T00:00", 25_000)
    data = csv(f"{at:%Y-%m-%dT%H:%M}Z,4" for at in some)
    read_weather(data, "m.csv", None, ReadOptions(zone=BERLIN, progress=told.append).after(5))
    assert told == [10_005, 20_005]
