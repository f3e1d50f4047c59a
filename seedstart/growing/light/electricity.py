"""Photons for watts, watts for money."""

from typing import Final

# The most that LEDs can do: 4.1 µmol/J blue with red, 3.4 white with red (Kusuma, Pattison &
# Bugbee 2020, Horticulture Research 7: 56).
MOST_UMOL_PER_JOULE: Final = 4.1
# 76 % of the energy as white light of 4.893 µmol/J, computed from LED-B1 of CIE 15:2018.
MOST_WHITE_UMOL_PER_JOULE: Final = 3.7


def kwh(watts: float, hours_a_day: float, days: float = 1) -> float:
    """Electric energy in kWh."""
    return watts / 1000 * hours_a_day * days


def umol_per_joule(lumens_per_watt: float, lx_per_umol: float) -> float:
    """Photons a joule (photosynthetic photon efficacy) from the lumens a watt of a packet."""
    return lumens_per_watt / lx_per_umol


def kwh_per_m2_day(dli_mol: float, efficacy_umol_j: float, landing: float) -> float:
    """Electricity for a DLI on each square metre.

    Args:
        dli_mol: mol m⁻² d⁻¹.
        efficacy_umol_j: Photons a joule of the lamps, µmol/J.
        landing: Share of their light that lands on the shelf, above 0 to 1.
    """
    return dli_mol / (3.6 * efficacy_umol_j * landing)


def too_good(efficacy_umol_j: float, *, white: bool) -> str:
    """Why a lamp cannot be so good; empty where it can."""
    most = MOST_WHITE_UMOL_PER_JOULE if white else MOST_UMOL_PER_JOULE
    if efficacy_umol_j <= most:
        return ""
    kind = "white LEDs" if white else "LEDs"
    return (
        f"{efficacy_umol_j:.2g} µmol a joule is more than the best {kind} give, {most:g} "
        "(Kusuma, Pattison & Bugbee 2020): look at watts and flux again."
    )
