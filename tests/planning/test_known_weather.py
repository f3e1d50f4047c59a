"""What is known of a day's weather: measured before forecast, later before earlier."""

from collections.abc import Iterable
from datetime import date

from notebook import Notebook
from seedstart.planning.known_weather import KnownDay, forecasts_of, known_weather, tonight
from seedstart.season.journal.entries import Forecast
from seedstart.season.weather.weather_folder import WeatherFile, read_weather_file

DAY = date(2027, 5, 11)
TODAY = date(2027, 5, 10)


def file(name: str, *rows: str, header: str = "date,tmin_c,tmax_c,gust_ms") -> WeatherFile:
    data = "\n".join([header, *rows, ""]).encode()
    found = read_weather_file(data, f"weather/{name}", {}, "2027-05-09")
    assert not found.problems
    return found


def known(
    files: Iterable[WeatherFile], today: date = TODAY, book: Notebook | None = None
) -> dict[date, KnownDay]:
    typed = forecasts_of(book.journal()) if book else {}
    return known_weather(typed, files, today)


def test_what_was_measured_replaces_what_was_forecast_and_the_rest_stays() -> None:
    ahead = file("forecast.csv", "2027-05-10,3,12,9")
    yard = file("yard.csv", "2027-05-10,1.5,,")
    one = known([ahead, yard])[TODAY]
    assert (one.tmin_c, one.tmax_c, one.gust_ms, one.measured) == (1.5, 12.0, 9.0, True)
    assert one.source == "weather/yard.csv"


def test_a_later_forecast_counts_before_an_earlier_one_whatever_their_files() -> None:
    header = "issued,date,tmin_c"
    late = file("forecast-a.csv", "2027-05-10T18:00,2027-05-11,4", header=header)
    early = file("forecast-b.csv", "2027-05-10T06:00,2027-05-11,1", header=header)
    for files in ([late, early], [early, late]):
        assert known(files)[DAY].tmin_c == 4.0
        assert known(files)[DAY].issued == "2027-05-10T18:00"


def test_one_file_may_hold_the_forecasts_of_many_days() -> None:
    rows = ("2027-05-08,2027-05-11,1", "2027-05-10,2027-05-11,4")
    one = file("forecast.csv", *rows, header="issued,date,tmin_c")
    assert known([one])[DAY].tmin_c == 4.0
    assert known([one], date(2027, 5, 9))[DAY].tmin_c == 1.0  # as it was known then


def test_a_forecast_without_its_moment_is_of_the_day_its_file_was_written() -> None:
    assert known([file("forecast.csv", "2027-05-11,4,,")])[DAY].issued == "2027-05-09"


def test_what_the_grower_wrote_down_later_counts_before_a_file() -> None:
    book = Notebook()
    book.write(Forecast, "05-10 08:00", day=DAY, tmin_c=-2.0)
    ahead = file("forecast.csv", "2027-05-11,4,15,")
    one = known([ahead], book=book)[DAY]
    assert (one.tmin_c, one.tmax_c, one.source) == (-2.0, 15.0, "written down")


def test_days_to_come_are_not_measured_and_later_forecasts_not_known() -> None:
    yard = file("yard.csv", "2027-05-11,4,15,")
    assert known([yard]) == {}
    ahead = file("forecast.csv", "2027-05-12,2027-05-13,4", header="issued,date,tmin_c")
    assert known([ahead]) == {}


def test_tonight_is_the_colder_side_of_midnight() -> None:
    weather = {TODAY: KnownDay(tmin_c=2.0), DAY: KnownDay(tmin_c=5.0)}
    assert tonight(weather, TODAY) == 2.0
    assert tonight({DAY: KnownDay(tmin_c=5.0)}, TODAY) == 5.0
    assert tonight(weather | {TODAY: KnownDay(tmin_c=2.0, night_behind=True)}, TODAY) == 5.0
    assert tonight({}, TODAY) is None


def test_tonight_by_hours_is_the_night_to_come_and_not_the_one_behind() -> None:
    hours = [(day, hour) for day in (9, 10, 11) for hour in range(24)]
    rows = [
        f"2027-05-{day:02} {hour:02}:00,{-1 if (day, hour) == (10, 4) else day}"
        for day, hour in hours
    ]
    found = known([file("forecast.csv", *rows, header="time,temperature (°C)")])
    assert (found[TODAY].tmin_c, found[TODAY].night_behind) == (-1.0, True)
    assert tonight(found, TODAY) == 10.0  # the evening of the 10th; the night before was at -1


def test_a_day_of_which_only_the_highest_was_measured_has_its_night_still_ahead() -> None:
    ahead = file("forecast.csv", "2027-05-10,2,12,", "2027-05-11,5,12,")
    found = known([ahead, file("yard.csv", "2027-05-10,13", header="date,tmax_c")])
    assert tonight(found, TODAY) == 2.0


def test_a_value_that_no_night_has_is_not_known() -> None:
    assert known([file("yard.csv", "2027-05-10,87.0,,")]) == {}
