"""What is measured, in words, and a value of it with its unit."""

from typing import Final

from seedstart.season.place_entries import Quantity
from seedstart.units import Units, show_temperature

IN_WORDS: Final[dict[Quantity, str]] = {
    "soil_c": "soil", "air_c": "air", "ppfd_umol": "PPFD", "lux": "light", "dli_mol": "DLI",
    "rh_percent": "humidity", "ec_ms_cm": "EC", "ph": "pH",
}  # fmt: skip
_UNITS: Final[dict[str, str]] = {
    "ppfd_umol": "µmol/m²s", "lux": "lx", "dli_mol": "mol/m²d", "rh_percent": "%",
    "ec_ms_cm": "mS/cm",
}  # fmt: skip


def show_value(quantity: str, value: float, units: Units = "metric") -> str:
    """A reading with its unit; a pH has none."""
    if quantity in {"soil_c", "air_c"}:
        return show_temperature(value, units)
    return f"{value:.4g} {_UNITS.get(quantity, '')}".rstrip()
