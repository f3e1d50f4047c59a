from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seedstart.acts.act import show_value
from seedstart.acts.parsers import parse_reading
from seedstart.units import (
    Temperatures,
    Units,
    c_from_f,
    f_from_c,
    parse_area,
    parse_days,
    parse_grams,
    parse_hours,
    parse_length,
    parse_percent,
    parse_temperature,
    parse_temperatures,
    show_temperature,
    show_temperatures,
    steady,
)


# NIST SP 811 (2008), B.8: t/°C = (t/°F - 32)/1.8.
@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (68, 20), (212, 100), (-40, -40)])
def test_degrees_convert_as_nist_prints(fahrenheit: float, celsius: float) -> None:
    assert c_from_f(fahrenheit) == pytest.approx(celsius)
    assert f_from_c(celsius) == pytest.approx(fahrenheit)


@pytest.mark.parametrize(
    ("text", "units", "celsius"),
    [
        ("20C", "metric", 20),
        ("68F", "metric", 20),
        ("20 °C", "us", 20),
        ("20", "metric", 20),
        ("68", "us", 20),
        ("23,5C", "metric", 23.5),
        ("-2.2 c", "metric", -2.2),
        ("68 deg F", "metric", 20),
    ],
)
def test_temperatures_are_read_in_either_unit(text: str, units: Units, celsius: float) -> None:
    assert parse_temperature(text, units) == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("240C", r"from -40C to 60C \(24C\?\)"),
        ("70C", r"from -40C to 60C \(70F would be 21.1C\)"),
        ("200F", "from -40C to 60C"),
        ("warm", "20C or 68F"),
        ("", "20C or 68F"),
        ("nanC", "20C or 68F"),
    ],
)
def test_what_no_bench_can_have_is_refused(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        parse_temperature(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("24C", steady(24)),
        ("21C day, 14C night", Temperatures(21, 14)),
        ("14C night, 21C day", Temperatures(21, 14)),
        ("21C 16 h, 14C night", Temperatures(21, 14, 16)),
        ("68F day, 50F night", Temperatures(20, 10)),
        ("21 day; 14 night", Temperatures(21, 14)),
    ],
)
def test_a_station_may_have_a_day_and_a_night(text: str, expected: Temperatures) -> None:
    assert parse_temperatures(text) == pytest.approx(expected)


@pytest.mark.parametrize("text", ["21C day", "21C day, 14C day", "21C, 14C", "21C 30 h, 14C night"])
def test_half_a_day_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"21C day, 14C night|20C or 68F"):
        parse_temperatures(text)


def test_the_mean_weighs_the_hours() -> None:
    assert Temperatures(21, 15, 16).mean_c == pytest.approx((16 * 21 + 8 * 15) / 24)


def test_temperatures_are_shown_with_their_unit() -> None:
    assert show_temperature(23.9) == "23.9 °C"
    assert show_temperature(24.0) == "24 °C"
    assert show_temperature(20, "us") == "68 °F"
    assert show_temperatures(Temperatures(21, 14)) == "21 °C for 12 h by day, 14 °C by night"


@given(st.text(max_size=24))
def test_any_text_is_a_quantity_or_a_value_error(text: str) -> None:
    for parse in (parse_temperatures, parse_area, parse_days, parse_percent):
        try:
            parse(text)
        except ValueError as error:
            assert str(error)


# 1 in = 25.4 mm exactly (NIST SP 811 B.6).
@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("1.2 x 0.5 m", (1.2, 0.5)),
        ("54 x 28 cm", (0.54, 0.28)),
        ("28×54cm", (0.54, 0.28)),
        ("10 x 20 in", (0.508, 0.254)),
        ("1.2 m x 50 cm", (1.2, 0.5)),
    ],
)
def test_areas_are_two_lengths(text: str, sides: tuple[float, float]) -> None:
    assert parse_area(text) == pytest.approx(sides)


@pytest.mark.parametrize("text", ["1.2 x 0.5", "1.2 m", "0 x 1 m", "large"])
def test_an_area_without_unit_or_sides_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"unit|above 0"):
        parse_area(text)


def test_times_and_shares() -> None:
    assert parse_days("14 days") == parse_days("2 weeks") == 14
    assert parse_percent("85 %") == 85
    with pytest.raises(ValueError, match="with its sign"):
        parse_percent("85")
    with pytest.raises(ValueError, match="14 days or 2 weeks"):
        parse_days("0 days")


@pytest.mark.parametrize("fahrenheit", [*range(33, 140), 69.1, 74.9])
def test_a_temperature_typed_in_fahrenheit_is_shown_as_it_was_typed(fahrenheit: float) -> None:
    _, celsius = parse_reading(f"{fahrenheit:g}F", None, "us")
    assert show_value("soil_c", celsius, "us") == f"{fahrenheit:g} °F"
    assert show_value("soil_c", round(c_from_f(fahrenheit), 4), "us") == f"{fahrenheit:g} °F"


def test_no_temperature_is_minus_nought() -> None:
    assert show_temperature(-0.04) == "0 °C"


@pytest.mark.parametrize(
    "parse", [parse_temperature, parse_hours, parse_percent, parse_area, parse_length, parse_grams]
)
@pytest.mark.parametrize("unit", ["C", "h", "%", "m", " x 1 m", "kg"])
def test_no_typed_quantity_is_infinite(parse: Callable[[str], object], unit: str) -> None:
    with pytest.raises(ValueError, match="a "):
        parse("9" * 400 + unit)
