"""What a packet says of a lamp → its photon flux, and what no lamp can be."""

import pytest

from seasons import HEAD, season
from seedstart.problems import BadInputError
from seedstart.season.plan.lamps import Lamp


def lamps(written: str) -> tuple[Lamp, ...]:
    shelf = '[[station]]\nname = "shelf"\nkind = "shelf"'
    text = f'timezone = "Europe/Vienna"\n{shelf}\nlamps = [{{ {written} }}]\n'
    return season(head=text).stations[0].lamps


# Lumens over the factors of CIE 15:2018 (tests/reference/lux_to_ppfd.csv, strip_light_cases.csv).
@pytest.mark.parametrize(
    ("written", "umol_s", "error"),
    [
        ("ppf_umol_s = 36, lumens = 9999", 36, 0.10),
        ("lumens = 1000, lx_per_umol = 69.4", 14.409, 0.112),
        ('lumens = 1800, light = "warm white", lx_per_umol = 67.91', 26.506, 0.112),
        ("lumens_per_watt = 100, watts = 18", 26.087, 0.141),
        ('watts = 20, umol_per_joule = 2.7, light = "red-blue"', 54, 0.10),
    ],
)
def test_the_flux_of_a_lamp_is_what_its_packet_gives(
    written: str, umol_s: float, error: float
) -> None:
    flux = lamps(written)[0].full_flux
    assert flux is not None
    assert flux.value == pytest.approx(umol_s, rel=1e-4)
    assert flux.error == pytest.approx(error, abs=5e-4)


def test_what_is_not_said_is_named() -> None:
    (lamp,) = lamps("watts = 20, hours = 16")
    assert lamp.full_flux is None
    assert [one.split(" ")[0] for one in lamp.missing()] == ["length", "height", "ppf_umol_s,"]
    assert lamps('kind = "panel"')[0].missing()[1] == "width"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ('lumens = 2000, light = "red-blue"', "say nothing of red-blue lamps"),
        ("watts = 10, umol_per_joule = 6", "6 µmol a joule is more than the best white LEDs give"),
        ("watts = 10, ppf_umol_s = 60", "lamps[1].ppf_umol_s (shelf): found '60'. 6 µmol a joule"),
        ("watts = 5, lumens = 2500", "lamps[1].lumens (shelf): found '2500'. 7.2 µmol a joule"),
        ("hours = 30", "hours a day from 0 to 24"),
        ('dimming = "0%"', "a percentage from 1 to 100"),
        ('light = "whiet"', "Nearest: white"),
    ],
)
def test_what_no_lamp_can_be_is_refused(written: str, said: str) -> None:
    with pytest.raises(BadInputError) as refused:
        lamps(written)
    assert said in str(refused.value)


def test_a_season_says_where_it_is_and_what_electricity_costs() -> None:
    plan = season(head=f'latitude = 58.4\nprice_per_kwh = 0.21\ncurrency = "EUR"\n{HEAD}')
    assert (plan.latitude_deg, plan.price_per_kwh, plan.currency) == (58.4, 0.21, "EUR")
    with pytest.raises(BadInputError, match="degrees, south negative, from -90 to 90"):
        season(head=f"latitude = 158\n{HEAD}")
