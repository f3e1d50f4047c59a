"""Doses and factors against published figures; the source stands beside each."""

import pytest

from seedstart.growing.light.dose import (
    LUX_FACTORS,
    LUX_PER_FOOTCANDLE,
    LightSource,
    LuxFactor,
    dli_mol,
    hours_for,
    lux_factor,
    mean_of_grid,
    ppfd_for,
    ppfd_from_footcandles,
    ppfd_from_lux,
    sum_of_stretches,
)
from tables import rows


@pytest.mark.parametrize(
    ("ppfd", "hours", "dli"),
    [
        (250, 12, 10.80),  # Horticulturae 2024, 10(7):730, prints these three
        (250, 14, 12.60),
        (300, 12, 12.96),
        (185, 16, 10.656),  # Randall & Lopez 2015: "similar to a DLI of 10 to 12"
        (1, 24, 0.0864),  # arithmetic
    ],
)
def test_dli_is_what_published_trials_print(ppfd: float, hours: float, dli: float) -> None:
    assert dli_mol(ppfd, hours) == pytest.approx(dli, abs=0.0005)
    assert ppfd_for(dli, hours) == pytest.approx(ppfd, abs=0.02)
    assert hours_for(dli, ppfd) == pytest.approx(hours, abs=0.002)


def test_a_day_has_no_more_than_24_hours() -> None:
    with pytest.raises(ValueError, match="from 0 to 24; got 30"):
        dli_mol(100, 30)
    assert hours_for(20, 100) is None


# 500 foot-candles of sodium light over 7.6: Runkle 2006, Michigan State University. 10 000 of sun
# times 0.195 and 500 of cool white times 0.137: a photobiologist on a mailing list, 2001.
@pytest.mark.parametrize(
    ("fc", "fc_per_umol", "umol"), [(500, 7.6, 65.8), (10_000, 1 / 0.195, 1950), (500, 7.299, 68.5)]
)
def test_footcandles_are_what_others_make_of_them(
    fc: float, fc_per_umol: float, umol: float
) -> None:
    factor = LuxFactor(fc_per_umol * LUX_PER_FOOTCANDLE, 0, "")
    assert ppfd_from_footcandles(fc, factor).value == pytest.approx(umol, rel=1e-3)


PRINTED: dict[LightSource, tuple[str, ...]] = {
    "white": ("CIE LED-B",),
    "warm white": ("CIE LED-B1", "CIE LED-B2"),
    "neutral white": ("CIE LED-B3",),
    "cool white": ("CIE LED-B4", "CIE LED-B5"),
    "violet white": ("CIE LED-V1",),
    "fluorescent": (
        "cool white fluorescent", "warm white fluorescent", "CIE FL2 ", "CIE FL4 "
    ),
    "sodium": ("high-pressure sodium", "CIE HP1"),
    "metal halide": ("metal halide", "CIE HP3", "CIE HP4", "CIE HP5"),
    "incandescent": ("incandescent", "CIE A "),
    "daylight": ("sun and sky", "sunlight", "CIE D55", "CIE D65"),
}  # fmt: skip


@pytest.mark.parametrize("source", LUX_FACTORS)
def test_the_band_of_a_factor_holds_every_figure_printed_for_its_lamp(source: LightSource) -> None:
    factor = LUX_FACTORS[source]
    printed = [
        float(row["lux_per_umol"])
        for row in rows("lux_to_ppfd.csv")
        if row["source_of_light"].startswith(PRINTED[source])
        and "incandescent 3:1" not in row["source_of_light"]
    ]
    assert printed
    for one in printed:
        assert abs(one / factor.lx_per_umol - 1) <= factor.error + 5e-4, one


def test_what_was_read_in_lux_carries_the_errors_of_meter_and_lamp() -> None:
    read = ppfd_from_lux(6900, lux_factor("white"), "phone")
    assert read.value == pytest.approx(100)
    assert read.error == pytest.approx((0.3**2 + 0.1**2) ** 0.5)
    assert (read.low, read.high) == pytest.approx((68.4, 131.6), abs=0.1)


def test_lumens_of_red_blue_lamps_are_refused() -> None:
    with pytest.raises(ValueError, match="red-blue lamps"):
        lux_factor("red-blue")
    assert lux_factor("red-blue", 12.0).lx_per_umol == 12


def test_many_readings_do_not_shrink_the_error_of_the_meter() -> None:
    grid = mean_of_grid([80.0] * 20, meter_error=0.1)
    assert (grid.mean, grid.error) == pytest.approx((80, 0.1))
    assert mean_of_grid([40, 80, 120], 0.1).error > 0.1


def test_doses_of_lamp_and_window_add() -> None:
    assert sum_of_stretches([(100, 8), (50, 4)]) == pytest.approx(dli_mol(100, 8) + dli_mol(50, 4))
