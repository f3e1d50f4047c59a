"""Day lengths against NREL's algorithm of the sun, computed with pvlib 0.16.1, and astral."""

from datetime import date, timedelta

import pytest
from astral import Observer
from astral.sun import daylight

from seedstart.growing.light.daylight import day_length_hours, outdoor_dli_mol, window_dli_mol

DAYS = [(1, 15), (2, 1), (3, 1), (3, 20), (4, 1), (5, 1), (6, 21), (12, 21)]
HOURS = {
    0: [12.122, 12.117, 12.110, 12.109, 12.109, 12.114, 12.123, 12.125],
    30: [10.434, 10.786, 11.556, 12.130, 12.493, 13.340, 14.080, 10.215],
    40: [9.658, 10.182, 11.313, 12.148, 12.676, 13.916, 15.017, 9.328],
    50: [8.575, 9.355, 10.991, 12.178, 12.929, 14.715, 16.372, 8.073],
    60: [6.751, 8.025, 10.499, 12.231, 13.326, 16.016, 18.869, 5.870],
}


@pytest.mark.parametrize("latitude", HOURS)
def test_days_are_as_long_as_a_solar_almanac_has_them(latitude: int) -> None:
    for (month, day), hours in zip(DAYS, HOURS[latitude], strict=True):
        found = day_length_hours(latitude, date(2025, month, day))
        assert found == pytest.approx(hours, abs=1.5 / 60), (month, day)


# astral itself lies within 1.3 minutes of NREL's algorithm up to 60°; the sample season is at 58.4.
@pytest.mark.parametrize("latitude", [-45, -30, 0, 30, 45, 58.4, 60])
def test_every_day_of_a_leap_year_is_as_long_as_a_library_of_the_sun_has_it(
    latitude: float,
) -> None:
    for number in range(0, 366, 3):
        day = date(2028, 1, 1) + timedelta(number)
        rise, fall = daylight(Observer(latitude, 0.0, 0.0), day)
        hours = (fall - rise).total_seconds() / 3600
        assert day_length_hours(latitude, day) == pytest.approx(hours, abs=1.5 / 60), day


def test_at_the_poles_it_is_day_or_night() -> None:
    assert day_length_hours(90, date(2025, 6, 21)) == 24
    assert day_length_hours(-90, date(2025, 6, 21)) == 0
    assert day_length_hours(75, date(2025, 12, 21)) == 0


def test_the_sky_gives_between_the_5_and_60_mol_printed_for_the_united_states() -> None:
    # Korczynski et al. 2002, as others quote it: 5 to 60 mol over the year.
    winter, summer = (outdoor_dli_mol(40, date(2025, month, 21)) for month in (12, 6))
    assert 4 < winter.low < winter.high < 25
    assert 40 < summer.high < 65
    assert window_dli_mol(40, date(2025, 6, 21), 0.1).high == pytest.approx(summer.high / 10)


def test_a_share_of_daylight_is_at_most_all_of_it() -> None:
    with pytest.raises(ValueError, match="from 0 to 1; got 10"):
        window_dli_mol(40, date(2025, 6, 21), 10)
