"""Marks against the published rules, and against what a bench really does."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.growing.sensor_faults import (
    AIR_CHANGE_C,
    LIMITS,
    MARKS,
    POSSIBLE,
    SOIL_CHANGE_C,
    Limits,
    find_faults,
)

DAY_S = 86400


def marks_of(
    values: Sequence[float] | np.ndarray,
    *,
    quantity: str = "soil_c",
    every_s: float = 600,
    limits: dict[str, Limits] | None = None,
) -> list[str]:
    """The marks of one evenly spaced series, as words."""
    count = len(values)
    at_s = np.arange(count) * every_s
    codes = find_faults(at_s, values, np.zeros(count, int), [quantity], limits or LIMITS)
    return [MARKS[code] for code in codes]


def swinging(days: float, *, every_s: float = 600, decimals: int = 2) -> np.ndarray:
    """A window sill: 16 to 24 °C once a day."""
    at_s = np.arange(int(days * DAY_S / every_s)) * every_s
    return np.asarray(np.round(20 + 4 * np.sin(at_s / DAY_S * 2 * np.pi), decimals))


# WMO 1993, VI.21, as the R package dataresqc prints it: the largest change of air temperature
# within so many hours. A change a little smaller is good, a little larger is not.
@pytest.mark.parametrize(("hours", "change_c"), [(1, 4), (2, 7), (3, 9), (6, 15), (12, 25)])
def test_air_may_change_by_what_the_published_table_allows(hours: int, change_c: float) -> None:
    for size, mark in ((change_c - 0.1, ""), (change_c + 0.1, "step")):
        values = [10.0, 10.0, 10.0 + size, 10.0 + size]
        found = marks_of(values, quantity="air_c", every_s=hours * 3600)
        assert found == ["", "", mark, ""], (hours, size)


@pytest.mark.parametrize(
    ("quantity", "values", "marks"),
    [
        # Between readings: soil by more than 3 °C (Scientific Data 2025, s41597-025-05441-7,
        # table 4).
        ("soil_c", (20, 20, 23, 23), ("", "", "", "")),
        ("soil_c", (20, 20, 23.1, 23.1), ("", "", "step", "")),
        ("soil_c", (24, 24, 18, 18.2, 18.5, 19), ("", "", "step", "", "", "")),  # watered
        # A spike is the smaller of the two jumps where they have opposite signs (ioos_qc).
        ("soil_c", (20, 20, 24, 22, 22), ("",) * 5),
        ("soil_c", (20, 20, 24, 20.5, 20.5), ("", "", "spike", "", "")),
        ("soil_c", (20, 20, 24, 28, 28), ("",) * 5),  # on, not back
        # -50 to 50 °C for automatic stations (ZAMG, WMO ET AWS-1 Doc. 9(2), 2002).
        ("soil_c", (68, 68.2, 68.4), ("range",) * 3),  # Fahrenheit taken for Celsius
        ("soil_c", (20, float("nan"), 20), ("", "range", "")),
        # From memory, as beside POSSIBLE: 105 % is still read in mist.
        ("rh_percent", (99, 105, 106), ("", "", "range")),
        # The value at power-on is named and spoils no neighbour; pH ends at 14.
        ("soil_c", (20, 85, 20.1, 20.1), ("", "power_on", "", "")),
        ("soil_c", (20, 84.9, 20.1, 20.1), ("", "range", "", "")),
        ("ph", (20, 85, 20.1), ("range",) * 3),
        # Lamps and lids make light and humidity jump.
        ("ppfd_umol", (0, 210, 210, 0), ("",) * 4),
        ("rh_percent", (40, 95, 40, 95), ("",) * 4),
    ],
)
def test_a_reading_is_marked_by_its_neighbours_and_by_what_can_be(
    quantity: str, values: tuple[float, ...], marks: tuple[str, ...]
) -> None:
    assert marks_of(values, quantity=quantity) == [*marks]


# ZAMG's limits for automatic stations in WMO ET AWS-1 Doc. 9(2), 2002: -50 to 50 °C.
@pytest.mark.parametrize("quantity", ["soil_c", "air_c"])
def test_temperatures_outside_fifty_degrees_are_out_of_range(quantity: str) -> None:
    values = [-50.1, -50.0, 50.0, 50.1, -127.0]
    found = marks_of(values, quantity=quantity, every_s=DAY_S)
    assert found == ["range", "", "", "range", "range"]


def test_a_thermostat_that_holds_the_medium_is_fine() -> None:
    steady = np.full(6 * 144, 24.0)
    assert set(marks_of(steady)) == {""}
    # On and off by a tenth, with days on which nothing moves at all.
    held = steady.copy()
    held[:300:7] += 0.1
    held[700::7] -= 0.1
    assert set(marks_of(held)) == {""}
    # Half degrees hide what little it moves, also after a week on a sill that swings.
    coarse = np.concatenate((np.round(swinging(7) * 2) / 2, np.full(5 * 144, 24.0)))
    assert "flat" not in marks_of(coarse)


def test_a_thermostat_switched_on_in_mid_file_is_fine() -> None:
    at = np.arange(6 * 144)
    held = np.round(24 + 0.3 * np.sin(at / 5), 1)
    held[200:400] = 24.0  # well over a day without a move
    assert set(marks_of(np.concatenate((swinging(5, decimals=1), held)))) <= {"", "step"}


@pytest.mark.parametrize(
    ("stuck", "flat"),
    [
        (slice(400, 600), 199),  # 33 hours; the value it stuck at was true
        (slice(700, None), 307),  # to the end of the file
        (slice(400, 540), 0),  # 23 hours: the OSU Andrews Forest rules judge a day
    ],
)
def test_a_sensor_that_stands_still_between_days_that_move_is_flat(stuck: slice, flat: int) -> None:
    values = swinging(7)
    values[stuck] = values[stuck.start]
    found = marks_of(values)
    assert found[stuck.start + 1 :][:flat] == ["flat"] * flat
    assert found.count("flat") == flat


# GHCN-Daily wants 15 to 20 identical values; taken is the stricter end.
@pytest.mark.parametrize(("readings", "flat"), [(19, False), (20, True)])
def test_twenty_equal_readings_are_flat_and_nineteen_are_not(readings: int, flat: bool) -> None:
    values = swinging(30, every_s=3 * 3600)
    values[50] = values[49] + 0.1  # a fine sensor
    values[100 : 100 + readings] = 26.0  # over two days
    assert ("flat" in marks_of(values, every_s=3 * 3600)) is flat


def test_two_readings_a_day_show_that_the_day_moved() -> None:
    morning_and_evening = [16.0, 24.0] * 5 + [16.0, 16.1] + [16.0, 24.0] * 5
    stuck = [20.0] * 20
    values = morning_and_evening + stuck + morning_and_evening
    found = marks_of(values, quantity="air_c", every_s=12 * 3600)
    begin = len(morning_and_evening)
    assert found[begin + 1 : begin + 20] == ["flat"] * 19


def test_a_fine_sensor_does_not_make_its_coarse_neighbour_flat() -> None:
    # Half degrees hide a thermostat's swing: what the next probe reads is another matter.
    coarse = np.round(swinging(7) * 2) / 2
    coarse[400:600] = coarse[400]
    fine = swinging(7)
    at_s = np.tile(np.arange(len(coarse)) * 600.0, 2)
    series = np.repeat([0, 1], len(coarse))
    both = np.concatenate((coarse, fine))
    codes = find_faults(at_s, both, series, ["soil_c", "soil_c"])
    assert "flat" not in {MARKS[code] for code in codes}


def test_a_frame_in_the_morning_sun_is_a_ramp_and_no_step() -> None:
    values = np.concatenate((np.full(6, 5.0), np.arange(5, 35, 5.0), np.full(6, 30.0)))
    assert set(marks_of(values, quantity="air_c", every_s=3600)) == {""}


def test_lamps_may_stand_still_and_limits_may_be_set() -> None:
    lamp = ([0.0] * 48 + [210.0] * 96) * 5
    assert set(marks_of(lamp, quantity="ppfd_umol")) == {""}
    # WMO 1993 goes to twelve hours: farther apart nothing is compared.
    assert marks_of([5.0, 5.0, 45.0, 45.0], every_s=13 * 3600) == [""] * 4
    wide = {"soil_c": Limits(change_c=((1.0, 10.0),))}
    assert marks_of([20.0, 20.0, 25.0, 20.0, 20.0], limits=wide) == [""] * 5


def test_one_series_says_nothing_about_another() -> None:
    # Rows of a warm and a cold station in turn, as a logger with two probes writes them.
    at_s = np.repeat(np.arange(50) * 600.0, 2)
    values = np.tile([24.0, 8.0], 50)
    codes = find_faults(at_s, values, np.tile([0, 1], 50), ["soil_c", "air_c"])
    assert not codes.any()


def test_lengths_that_differ_are_refused() -> None:
    with pytest.raises(ValueError, match="one time, value and series each"):
        find_faults([0.0], [1.0, 2.0], [0], ["soil_c"])


def test_the_published_tables_stand_in_order() -> None:
    for table in (AIR_CHANGE_C, SOIL_CHANGE_C):
        hours, changes = zip(*table, strict=True)
        assert list(hours) == sorted(hours)
        assert list(changes) == sorted(changes)


ANY = st.lists(
    st.tuples(
        st.integers(0, 10**6),
        st.floats(allow_nan=True, allow_infinity=True),
        st.integers(0, len(POSSIBLE) - 1),
    ),
    max_size=40,
)


@settings(derandomize=True, deadline=None)
@given(ANY, st.randoms(use_true_random=False))
def test_order_of_rows_changes_no_mark(
    rows: list[tuple[int, float, int]], chance: "np.random.Generator"
) -> None:
    rows = list({(at, of): (at, value, of) for at, value, of in rows}.values())
    shuffled = rows.copy()
    chance.shuffle(shuffled)

    def marks(readings: list[tuple[int, float, int]]) -> dict[tuple[int, int], int]:
        at, value, of = (
            (list(column) for column in zip(*readings, strict=True))
            if readings
            else (
                [],
                [],
                [],
            )
        )
        codes = find_faults(at, value, np.array(of, int), list(POSSIBLE))
        return dict(zip(zip(at, of, strict=True), codes.tolist(), strict=True))

    assert marks(rows) == marks(shuffled)
    assert len(marks(rows)) == len(rows)
