"""Electricity of lamps against the published efficacies."""

import pytest

from seedstart.growing.light.electricity import kwh, kwh_per_m2_day, too_good, umol_per_joule
from tables import rows


# 100, 120, 150 lm/W at the factors of LED-B5, B2, B4 (CIE 15:2018): computed elsewhere.
@pytest.mark.parametrize(
    ("lm_w", "k", "ppe"), [(100, 69.40, 1.441), (120, 67.91, 1.767), (150, 71.66, 2.093)]
)
def test_lumens_a_watt_make_photons_a_joule(lm_w: float, k: float, ppe: float) -> None:
    assert umol_per_joule(lm_w, k) == pytest.approx(ppe, abs=5e-4)


def test_cool_white_fluorescent_is_as_good_as_was_measured() -> None:
    # Nelson & Bugbee 2014, PLoS ONE 9(6): e99010: 0.95 µmol/J. Of CIE FL2, lux_to_ppfd.csv.
    (lx_per_umol,) = (
        float(row["lux_per_umol"])
        for row in rows("lux_to_ppfd.csv")
        if row["source_of_light"].startswith("CIE FL2 ")
    )
    assert umol_per_joule(72.7, lx_per_umol) == pytest.approx(0.95, abs=0.001)


def test_kilowatt_hours_are_arithmetic() -> None:
    assert kwh(4 * 18, 16, 56) == pytest.approx(64.512)
    assert kwh_per_m2_day(12, 2.0, 0.8) == pytest.approx(2.0833, abs=1e-4)


def test_what_no_lamp_can_do_is_said() -> None:
    assert "more than the best white LEDs give, 3.7" in too_good(6, white=True)
    assert too_good(4.0, white=False) == ""
    assert too_good(4.0, white=True) != ""
