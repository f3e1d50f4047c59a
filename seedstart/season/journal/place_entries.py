"""Entries about where plants stand, what they are given there, and the weather to come."""

from datetime import date
from typing import Annotated, Final, Literal

from msgspec import Meta, field

from seedstart.growing.light.dose import Meter
from seedstart.season.journal.entry import (
    MOST,
    Amount,
    Entry,
    HoursOfDay,
    MediumC,
    Name,
    OfAny,
    OfPlants,
    Percent,
    Positive,
    Subject,
    named,
    need_any,
    need_one,
)
from seedstart.units import COLDEST_C, HOTTEST_C

# Outside it no weather was ever measured (-89.2 °C Vostok 1983, 56.7 °C Furnace Creek 1913: the
# World Meteorological Organization's extremes, from memory), so the figure is a slip.
WeatherC = Annotated[float, Meta(ge=-90, le=60)]

Quantity = Literal["soil_c", "air_c", "ppfd_umol", "lux", "dli_mol", "rh_percent", "ec_ms_cm", "ph"]
# Lowest and highest value that can be true; light and salt have no ceiling but that of amounts.
VALUE_RANGES: Final[dict[Quantity, tuple[float, float]]] = {
    "soil_c": (COLDEST_C, HOTTEST_C),
    "air_c": (COLDEST_C, HOTTEST_C),
    "ppfd_umol": (0, MOST),
    "lux": (0, MOST),
    "dli_mol": (0, MOST),
    "rh_percent": (0, 100),
    "ec_ms_cm": (0, MOST),
    "ph": (0, 14),
}


def range_in_words(quantity: Quantity) -> str:
    """What a reading of a quantity may be: `ph from 0 to 14`, `lux from 0 up`."""
    low, high = VALUE_RANGES[quantity]
    return f"{quantity} from {low:g} " + ("up" if high == MOST else f"to {high:g}")


class Moved(Entry, frozen=True, kw_only=True):
    """A sowing, or a tray with all in it, carried to a station.

    Where `sowing` stands, `tray` is the tray it comes into.
    """

    sowing: Name | None = None
    tray: Name | None = None
    station: Name
    place: str | None = None

    def __post_init__(self) -> None:
        if self.sowing is None and self.tray is None:
            raise ValueError("a sowing or a tray")

    def subjects(self) -> tuple[Subject, ...]:
        """What is carried."""
        return named(self.sowing, self.tray if self.sowing is None else None, None)


class Covered(OfAny, frozen=True, kw_only=True):
    """A cover laid on."""


class Uncovered(OfAny, frozen=True, kw_only=True):
    """A cover lifted off."""


class Poured(OfAny, frozen=True, kw_only=True):
    """What is given with a can: how much, of what, the nitrogen in it in ppm."""

    ml: Amount | None = None
    what: str | None = None
    ppm_n: Amount | None = None


class Watered(Poured, frozen=True, kw_only=True):
    """Water given."""


class Fed(Poured, frozen=True, kw_only=True):
    """Feed given."""


class Weighed(OfPlants, frozen=True, kw_only=True):
    """A weight: of the dry tray, of the tray at container capacity, or as it is now."""

    grams: Positive
    state: Literal["dry", "full", "now"]


class Read(Entry, frozen=True, kw_only=True):
    """A number read off an instrument at a station or in a tray.

    Attributes:
        station, tray: Where; exactly one.
        quantity: Of what.
        value: In the unit that its name ends with.
        from_left_mm, from_front_mm: Where on the station, from its left end and its front.
        meter: What light was read with.
    """

    station: Name | None = None
    tray: Name | None = None
    quantity: Quantity
    value: float
    from_left_mm: Amount | None = None
    from_front_mm: Amount | None = None
    meter: Meter | None = None

    def __post_init__(self) -> None:
        need_one((self.station, self.tray), "station, tray")
        if (self.from_left_mm is None) != (self.from_front_mm is None):
            raise ValueError("from_left_mm and from_front_mm, or neither")
        low, high = VALUE_RANGES[self.quantity]
        if not low <= self.value <= high:
            raise ValueError(range_in_words(self.quantity))

    def subjects(self) -> tuple[Subject, ...]:
        """Where it was read."""
        return named(None, self.tray, self.station)


class Adjusted(Entry, frozen=True, kw_only=True):
    """A station's lamp or warmth set anew; `expected` as in season.toml."""

    station: Name
    lamp_hours: HoursOfDay | None = None
    lamp_height_mm: Positive | None = None
    lamp_percent: Percent | None = None
    mat: Literal["on", "off"] | None = None
    thermostat_c: MediumC | None = None
    expected: Name | None = None

    def __post_init__(self) -> None:
        need_any(
            self, "lamp_hours", "lamp_height_mm", "lamp_percent", "mat", "thermostat_c", "expected"
        )

    def subjects(self) -> tuple[Subject, ...]:
        """Its station."""
        return (("station", self.station),)


class Hardened(OfPlants, frozen=True, kw_only=True):
    """Hours outdoors on that day; `night`: the night too."""

    hours: HoursOfDay
    night: bool = False


class Held(OfPlants, frozen=True, kw_only=True):
    """Kept in on a day of hardening off."""

    why: Name


class Forecast(Entry, frozen=True, kw_only=True):
    """What a forecast says of a day; `date` in the line."""

    day: date = field(name="date")
    tmin_c: WeatherC | None = None
    tmax_c: WeatherC | None = None
    wind_ms: Amount | None = None
    gust_ms: Amount | None = None
    rain_mm: Amount | None = None
    sun_h: HoursOfDay | None = None

    def __post_init__(self) -> None:
        need_any(self, "tmin_c", "tmax_c", "wind_ms", "gust_ms", "rain_mm", "sun_h")

    def subjects(self) -> tuple[Subject, ...]:
        """The day it is about."""
        return (("day", self.day.isoformat()),)
