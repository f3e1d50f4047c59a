import pytest

from seedstart.units import Units, parse_days, parse_grams, parse_hours, parse_length


# 1 in = 25.4 mm and 1 ft = 0.3048 m exactly (international yard, 1959).
@pytest.mark.parametrize(
    ("text", "units", "bare", "metres"),
    [
        ("30 cm", "metric", "cm", 0.3),
        ("1,2 m", "metric", "cm", 1.2),
        ("12 in", "metric", "cm", 0.3048),
        ("1 ft", "us", "cm", 0.3048),
        ("30", "metric", "cm", 0.3),
        ("6", "metric", "mm", 0.006),
        ("0.5", "us", "mm", 0.0127),
    ],
)
def test_a_length_is_read_in_metres(text: str, units: Units, bare: str, metres: float) -> None:
    assert parse_length(text, units, bare) == pytest.approx(metres)


# 1 oz = 28.349523125 g exactly (international pound, 1959: 0.45359237 kg / 16).
@pytest.mark.parametrize(
    ("text", "grams"),
    [("2.5 g", 2.5), ("3 grams", 3), ("500mg", 0.5), ("1 kg", 1000), ("2 oz", 56.69904625)],
)
def test_a_mass_is_read_in_grams(text: str, grams: float) -> None:
    assert parse_grams(text) == pytest.approx(grams)


@pytest.mark.parametrize(
    ("text", "hours"), [("12 h", 12), ("12 hours", 12), ("1 day", 24), ("0,5 days", 12)]
)
def test_a_soak_is_read_in_hours(text: str, hours: float) -> None:
    assert parse_hours(text) == pytest.approx(hours)


@pytest.mark.parametrize("text", ["", "12", "-1 h", "a while", "12 min"])
def test_what_is_no_time_in_hours_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"a time with its unit, e.g. 12 h or 1 day"):
        parse_hours(text)


@pytest.mark.parametrize("text", ["", "-3 cm", "3 yards", "tall"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"a length with a unit, e\.g\. 30 cm or 12 in"):
        parse_length(text)


@pytest.mark.parametrize("text", ["", "3", "-3 g", "3 packets"])
def test_what_is_no_mass_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"a mass with its unit, e\.g\. 2\.5 g or 0\.1 oz"):
        parse_grams(text)


def test_a_time_of_more_digits_than_a_season_has_days_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a time, e.g. 14 days or 2 weeks"):
        parse_days("99999 days")
