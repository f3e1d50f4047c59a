"""Quantities as growers type them and as screens show them: units in, units out."""

import re
from typing import Final, Literal, NamedTuple

Units = Literal["metric", "us"]

# What a medium or a room can have; outside it the figure is a slip of the pen or of the unit.
COLDEST_C: Final = -40.0
HOTTEST_C: Final = 60.0
_MPH_MS: Final = 0.44704  # exactly
# No quantity has more digits: a longer number is a slip, and could not be reckoned with.
_NUMBER = r"([+-]?\d{1,9}(?:[.,]\d{1,30})?)"


class Temperatures(NamedTuple):
    """What a station holds through a day: the same all day, or one by day and one by night."""

    day_c: float
    night_c: float
    day_hours: float = 12.0

    @property
    def steady(self) -> bool:
        """Whether day and night are alike."""
        return self.day_c == self.night_c

    @property
    def mean_c(self) -> float:
        """Mean over the 24 hours."""
        return (self.day_c * self.day_hours + self.night_c * (24 - self.day_hours)) / 24


def steady(temperature_c: float) -> Temperatures:
    """The same temperature by day and by night."""
    return Temperatures(temperature_c, temperature_c)


def c_from_f(fahrenheit: float) -> float:
    """Degrees Celsius from Fahrenheit."""
    return (fahrenheit - 32) * 5 / 9


def f_from_c(celsius: float) -> float:
    """Degrees Fahrenheit from Celsius."""
    return celsius * 9 / 5 + 32


def parse_temperature(
    text: str,
    units: Units = "metric",
    *,
    coldest_c: float = COLDEST_C,
    hottest_c: float = HOTTEST_C,
) -> float:
    """Degrees Celsius from `68F`, `20C`, `20 °C`, or `20` in the season's own units.

    Raises:
        ValueError: Not a temperature, or outside the bounds: -40 to 60 °C unless said otherwise.
    """
    match = re.fullmatch(rf"{_NUMBER}\s*(?:°|deg)?\s*([CcFf])?", text.strip())
    if not match:
        raise ValueError("a temperature, e.g. 20C or 68F")
    value = float(match[1].replace(",", "."))
    unit = (match[2] or ("f" if units == "us" else "c")).lower()
    celsius = c_from_f(value) if unit == "f" else value
    if not coldest_c <= celsius <= hottest_c:
        say = f"a temperature from {coldest_c:g}C to {hottest_c:g}C"
        if unit == "c" and coldest_c <= c_from_f(value) <= hottest_c:
            say += f" ({value:g}F would be {c_from_f(value):.1f}C)"
        elif unit == "c" and coldest_c <= value / 10 <= hottest_c:
            say += f" ({value / 10:g}C?)"
        raise ValueError(say)
    return celsius


def parse_temperatures(text: str, units: Units = "metric") -> Temperatures:
    """A station's temperature: `24C`, or `21C day, 14C night`, or `21C 16 h, 14C night`.

    Where the hours of day are not said they are twelve.

    Raises:
        ValueError: Not a temperature, or outside -40 to 60 °C.
    """
    parts = re.split(r"\s*[,;/]\s*(?=[+-]?\d+(?:[.,]\d+)?\s*(?:°|deg)?\s*[CcFf]?\b)", text.strip())
    if len(parts) == 1:
        return steady(parse_temperature(text, units))
    found: dict[str, float] = {}
    hours = 12.0
    for part in parts:
        match = re.fullmatch(
            rf"({_NUMBER}\s*(?:°|deg)?\s*[CcFf]?)\s+(?:{_NUMBER}\s*h\w*|(day|night))\s*", part
        )
        if not match:
            raise ValueError("temperatures, e.g. 24C, or 21C day, 14C night")
        celsius = parse_temperature(match[1], units)
        if match[3]:
            hours = float(match[3].replace(",", "."))
            found["day"] = celsius
        else:
            found[match[4]] = celsius
    if set(found) != {"day", "night"} or len(parts) != 2 or not 0 < hours < 24:
        raise ValueError("temperatures, e.g. 24C, or 21C day, 14C night")
    return Temperatures(found["day"], found["night"], hours)


def show_temperature(celsius: float, units: Units = "metric") -> str:
    """A temperature with its unit, to a tenth, here alone: `24 °C`, `75 °F`, `21.5 °C`."""
    value = f_from_c(celsius) if units == "us" else celsius
    shown = f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")  # + 0.0: no minus nought
    return f"{shown} °{'F' if units == 'us' else 'C'}"


def show_temperatures(station: Temperatures, units: Units = "metric") -> str:
    """A station's temperature as it is said: `24 °C`, or `21 °C day, 14 °C night`."""
    if station.steady:
        return show_temperature(station.day_c, units)
    day, night = show_temperature(station.day_c, units), show_temperature(station.night_c, units)
    return f"{day} for {station.day_hours:g} h by day, {night} by night"


def show_speed(metres_a_second: float, units: Units = "metric") -> str:
    """A wind with its unit: `5.4 m/s`, `12 mph`."""
    value = speed_of(metres_a_second, units)
    return f"{value:.0f} mph" if units == "us" else f"{round(value, 1):g} m/s"


def speed_of(metres_a_second: float, units: Units = "metric") -> float:
    """A wind in the units shown, m/s or mph."""
    return metres_a_second / _MPH_MS if units == "us" else metres_a_second


def parse_days(text: str) -> int:
    """Whole days from `14 days`, `2 weeks`, `10 d`.

    Raises:
        ValueError: Not a length of time in days or weeks, or none at all.
    """
    match = re.fullmatch(r"(\d{1,4})\s*(d|days?|w|weeks?)", text.strip().lower())
    if not match or int(match[1]) == 0:
        raise ValueError("a time, e.g. 14 days or 2 weeks")
    return int(match[1]) * (7 if match[2].startswith("w") else 1)


def parse_hours(text: str) -> float:
    """Hours from `12 h`, `12 hours`, `1.5 days`.

    Raises:
        ValueError: Not a length of time in hours or days.
    """
    match = re.fullmatch(rf"{_NUMBER}\s*(h|hours?|d|days?)", text.strip().lower())
    if not match or match[1].startswith("-"):
        raise ValueError("a time with its unit, e.g. 12 h or 1 day")
    return float(match[1].replace(",", ".")) * (24 if match[2].startswith("d") else 1)


def parse_percent(text: str) -> float:
    """Percent, 0 to 100, from `85%` or `85 %`.

    Raises:
        ValueError: No percent sign, or outside 0 to 100.
    """
    match = re.fullmatch(r"(\d{1,9}(?:[.,]\d{1,30})?)\s*%", text.strip())
    if not match or not 0 <= float(match[1].replace(",", ".")) <= 100:
        raise ValueError("a percentage from 0% to 100%, with its sign")
    return float(match[1].replace(",", "."))


# What a frost date may mean, in words: the risk in percent of years.
RISKS: Final = {"average": 50.0, "safe": 10.0}


def parse_risk(text: str) -> float:
    """A risk in percent, with or without its sign; or `average` (50), `safe` (10).

    A date that is never or always late is none.
    """
    meaning = RISKS.get(text.strip().lower())
    if meaning is not None:
        return meaning
    try:
        risk = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        raise ValueError("average, safe, or a percentage above 0 and below 100, e.g. 10") from None
    if not 0 < risk < 100:
        raise ValueError("average, safe, or a percentage above 0 and below 100, e.g. 10")
    return risk


_METRES: Final = {
    "mm": 0.001,
    "cm": 0.01,
    "m": 1.0,
    "in": 0.0254,
    "ft": 0.3048,
}


def parse_area(text: str) -> tuple[float, float]:
    """Length and width in metres, the longer first, from `1.2 x 0.5 m` or `54 x 28 cm`.

    Raises:
        ValueError: Not two lengths, no unit, or a side that is not above nought.
    """
    match = re.fullmatch(
        rf"{_NUMBER}\s*(mm|cm|m|in|ft)?\s*[x×]\s*{_NUMBER}\s*(mm|cm|m|in|ft)?",
        text.strip().lower(),
    )
    if not match:
        raise ValueError("length and width with a unit, e.g. 1.2 x 0.5 m")
    if not match[4]:
        unit = "m" if float(match[1].replace(",", ".")) < 5 else "cm"
        raise ValueError(
            f"length and width with a unit (mm, cm, m, in, ft), e.g. {text.strip()} {unit}"
        )
    first, second = (float(match[group].replace(",", ".")) for group in (1, 3))
    sides = first * _METRES[match[2] or match[4]], second * _METRES[match[4]]
    if min(sides) <= 0:
        raise ValueError("length and width above 0")
    return max(sides), min(sides)


def parse_length(text: str, units: Units = "metric", bare: str = "cm") -> float:
    """Metres from `30 cm`, `1.2 m`, `12 in`; a bare number is inches or, in metric, `bare`.

    Raises:
        ValueError: Not a length, or one below nought.
    """
    match = re.fullmatch(rf"{_NUMBER}\s*(mm|cm|m|in|ft)?", text.strip().lower())
    if not match or match[1].startswith("-"):
        raise ValueError("a length with a unit, e.g. 30 cm or 12 in")
    unit = match[2] or ("in" if units == "us" else bare)
    return float(match[1].replace(",", ".")) * _METRES[unit]


def show_length(metres: float, units: Units = "metric") -> str:
    """A length on a bench as the season shows it: `60 cm`, `23.6 in`."""
    if units == "us":
        return f"{metres / _METRES['in']:.3g} in"
    return f"{metres * 100:.3g} cm"


# The avoirdupois ounce of the international agreement of 1959: 0.45359237 kg / 16.
_GRAMS: Final = {"mg": 0.001, "g": 1.0, "kg": 1000.0, "oz": 28.349523125}


def parse_grams(text: str) -> float:
    """Grams from `3.5 g`, `2 grams`, `500 mg`, `0.1 oz`.

    Raises:
        ValueError: Not a mass with its unit, or one below nought.
    """
    match = re.fullmatch(rf"{_NUMBER}\s*(mg|g|grams?|kg|oz)", text.strip().lower())
    if not match or match[1].startswith("-"):
        raise ValueError("a mass with its unit, e.g. 2.5 g or 0.1 oz")
    unit = "g" if match[2].startswith("g") else match[2]
    return float(match[1].replace(",", ".")) * _GRAMS[unit]
