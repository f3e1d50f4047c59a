"""Lux, foot-candles, photons and the dose of a day: how they turn into each other.

What a meter says is never more exact than the meter, and what was read in lux never more exact
than the factor of its lamp: `Measured` carries both.
"""

from collections.abc import Iterable, Sequence
from math import hypot, sqrt
from typing import Final, Literal, NamedTuple

MOL_PER_UMOL_HOUR: Final = 3600 / 1e6
LUX_PER_FOOTCANDLE: Final = 10.76391  # lumens per square foot over lumens per square metre

LightSource = Literal[
    "white", "warm white", "neutral white", "cool white", "violet white", "red-blue",
    "fluorescent", "sodium", "metal halide", "incandescent", "daylight",
]  # fmt: skip
Meter = Literal["quantum", "lux", "phone"]


class LuxFactor(NamedTuple):
    """How many lux one µmol m⁻² s⁻¹ of a lamp's light makes.

    Attributes:
        lx_per_umol: The factor.
        error: How far off it may be, as a share of it.
        source: Who says so.
    """

    lx_per_umol: float
    error: float
    source: str


_CIE: Final = "computed from the spectra of CIE 15:2018"
_THIMIJAN: Final = "Thimijan & Heins 1983, HortScience 18(6): 818-822"
# Red-blue lamps are missing on purpose: lux weighs light as eyes do, which hardly see theirs.
LUX_FACTORS: Final[dict[LightSource, LuxFactor]] = {
    "white": LuxFactor(69.0, 0.10, f"white LED of unknown colour, {_CIE}"),
    "warm white": LuxFactor(67.5, 0.05, f"LED-B1 and B2, {_CIE}"),
    "neutral white": LuxFactor(69.75, 0.05, f"LED-B3, {_CIE}"),
    "cool white": LuxFactor(70.5, 0.05, f"LED-B4 and B5, {_CIE}"),
    "violet white": LuxFactor(53.1, 0.05, f"LED-V1, {_CIE}"),
    "fluorescent": LuxFactor(77.0, 0.05, f"cool and warm white; {_THIMIJAN}, and {_CIE}"),
    "sodium": LuxFactor(83.5, 0.05, f"high pressure; {_THIMIJAN}, and {_CIE}"),
    "metal halide": LuxFactor(69.0, 0.11, f"lamps differ; {_THIMIJAN}, and {_CIE}"),
    "incandescent": LuxFactor(50.0, 0.05, f"{_THIMIJAN}, and {_CIE}"),
    "daylight": LuxFactor(55.0, 0.05, f"sun and sky; {_THIMIJAN}, and {_CIE}"),
}
# How far off a reading may be, as a share of it: common practice, no source.
METER_ERRORS: Final[dict[Meter, float]] = {"quantum": 0.05, "lux": 0.10, "phone": 0.30}


class Measured(NamedTuple):
    """A number and how far off it may be, as a share of it."""

    value: float
    error: float

    @property
    def low(self) -> float:
        """Its lower end."""
        return self.value * max(1 - self.error, 0)

    @property
    def high(self) -> float:
        """Its upper end."""
        return self.value * (1 + self.error)


def dli_mol(ppfd_umol: float, hours: float) -> float:
    """Daily light integral of a steady light; those of lamp and window add.

    Args:
        ppfd_umol: Photon flux density at the leaf, µmol m⁻² s⁻¹.
        hours: Hours of light a day, 0 to 24.

    Returns:
        The DLI in mol m⁻² d⁻¹.

    Raises:
        ValueError: PPFD below 0, or hours outside 0 to 24.

    Source:
        Quantities and units after ANSI/ASABE S640; 3600 s/h, 10⁶ µmol/mol.
    """
    _check_hours(hours)
    if not 0 <= ppfd_umol < float("inf"):
        raise ValueError(f"a PPFD of 0 µmol m⁻² s⁻¹ or more; got {ppfd_umol}")
    return ppfd_umol * hours * MOL_PER_UMOL_HOUR


def ppfd_for(dli: float, hours: float) -> float:
    """The PPFD in µmol m⁻² s⁻¹ that gives a DLI in so many hours.

    Raises:
        ValueError: A DLI below 0, or no hours of light.
    """
    _check_hours(hours)
    if dli < 0 or not hours:
        raise ValueError(f"a DLI of 0 or more and some hours of light; got {dli} and {hours}")
    return dli / (MOL_PER_UMOL_HOUR * hours)


def hours_for(dli: float, ppfd_umol: float) -> float | None:
    """The hours of light that give a DLI; None where a day is too short for it.

    Raises:
        ValueError: A DLI below 0, or no light.
    """
    if dli < 0 or not ppfd_umol > 0:
        raise ValueError(f"a DLI of 0 or more and some light; got {dli} and {ppfd_umol}")
    hours = dli / (MOL_PER_UMOL_HOUR * ppfd_umol)
    return min(hours, 24.0) if hours <= 24 + 1e-9 else None


def lux_factor(source: LightSource, lx_per_umol: float | None = None) -> LuxFactor:
    """The factor of a lamp: its maker's, else that of its kind of light.

    Raises:
        ValueError: A red-blue lamp without a factor of its own.
    """
    if lx_per_umol is not None:
        return LuxFactor(lx_per_umol, 0.05, "as its packet says")
    if source not in LUX_FACTORS:
        raise ValueError(
            "lux and lumens say nothing of red-blue lamps (7 lx a µmol of red, 147 of green): "
            "their photon flux in µmol/s is needed, or a reading in µmol"
        )
    return LUX_FACTORS[source]


def ppfd_from_lux(lux: float, factor: LuxFactor, meter: Meter = "lux") -> Measured:
    """PPFD in µmol m⁻² s⁻¹ from lux: the errors of meter and factor are independent."""
    error = hypot(METER_ERRORS[meter], factor.error)
    return Measured(lux / factor.lx_per_umol, error)


def ppfd_from_footcandles(fc: float, factor: LuxFactor, meter: Meter = "lux") -> Measured:
    """PPFD in µmol m⁻² s⁻¹ from foot-candles."""
    return ppfd_from_lux(fc * LUX_PER_FOOTCANDLE, factor, meter)


class GridMean(NamedTuple):
    """Readings over a shelf, put together.

    Attributes:
        mean: Their mean.
        error: How far off it may be, as a share: the meter's error does not shrink by reading
            again, what differs from place to place does.
        least: The lowest.
        most: The highest.
        number: How many.
    """

    mean: float
    error: float
    least: float
    most: float
    number: int


def mean_of_grid(values: Sequence[float], meter_error: float) -> GridMean:
    """The mean of readings spread over a shelf, and how sure it is.

    Raises:
        ValueError: No reading.
    """
    if not values:
        raise ValueError("at least one reading")
    mean = sum(values) / len(values)
    of_places = 0.0
    if len(values) > 1 and mean:
        spread = sum((value - mean) ** 2 for value in values) / (len(values) - 1)
        of_places = 2 * sqrt(spread / len(values)) / mean
    return GridMean(mean, hypot(meter_error, of_places), min(values), max(values), len(values))


def sum_of_stretches(stretches: Iterable[tuple[float, float]]) -> float:
    """Mol m⁻² of stretches of steady light, each PPFD in µmol m⁻² s⁻¹ and hours."""
    return sum(ppfd * hours for ppfd, hours in stretches) * MOL_PER_UMOL_HOUR


def _check_hours(hours: float) -> None:
    if not 0 <= hours <= 24:
        raise ValueError(f"hours of light a day from 0 to 24; got {hours:g}")
