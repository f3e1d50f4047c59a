"""Day lengths against the solar position algorithm of NREL, computed with pvlib 0.16.1."""

from datetime import date

import pytest

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
