"""Readings of one medium: a logger's and those by hand, joined, and how much they cover."""

from array import array

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notebook import Notebook, moment
from seedstart.season.journal.entries import Read
from seedstart.season.loggers.series import Series
from seedstart.tracking.medium import MeasuredC, covered_s, measured, runs, spoken_of

HOUR_S = 3600.0
START = moment("3-01 08:00").timestamp()


def logged(celsius: list[float], marks: bytes | None = None) -> Series:
    """Readings of a logger from the first of March, an hour apart."""
    times = array("d", [START + HOUR_S * place for place in range(len(celsius))])
    return Series("mat", "soil_c", times, array("d", celsius), marks or bytes(len(celsius)))


def by_hand(celsius: dict[str, float]) -> tuple[Read, ...]:
    book = Notebook()
    return tuple(
        book.write(Read, at, station="mat", quantity="soil_c", value=value)
        for at, value in celsius.items()
    )


def test_readings_by_hand_take_their_place_among_a_loggers() -> None:
    found = measured(logged([20, 21]), by_hand({"3-01 08:30": 19, "3-01 11:00": 22}))
    assert list(found.c) == [20, 19, 21, 22]
    assert list(found.at_s) == sorted(found.at_s)
    assert not found.only_by_hand


def test_a_loggers_reading_goes_before_one_by_hand_of_the_same_moment() -> None:
    assert list(measured(logged([20]), by_hand({"3-01 08:00": 25})).c) == [20]


def test_air_marked_readings_and_those_still_to_come_are_not_among_them() -> None:
    air = Notebook().write(Read, "3-01 08:20", station="mat", quantity="air_c", value=15.0)
    now_s = START + 2.5 * HOUR_S
    found = measured(logged([20, 85, 21, 22], bytes([0, 1, 0, 0])), (air,), now_s)
    assert list(found.c) == [20, 21]
    assert found.next_s == START + 3 * HOUR_S


def test_only_by_hand_is_known_of_readings_that_are_known() -> None:
    read = by_hand({"3-02 08:00": 20})
    assert measured(None, read).only_by_hand
    assert not measured(None, read, START).only_by_hand


def test_a_single_reading_speaks_for_an_hour_and_a_half_to_either_side() -> None:
    spoken = spoken_of(MeasuredC((START,), (20.0,)))
    assert covered_s(spoken, START - 9 * HOUR_S, START + 9 * HOUR_S) == 3 * HOUR_S
    assert covered_s(spoken, START, START + HOUR_S) == HOUR_S


@given(st.lists(st.tuples(st.integers(0, 900), st.booleans()), min_size=1, max_size=40))
@settings(derandomize=True, deadline=None)
def test_runs_that_are_known_are_spoken_of_as_those_found_again(
    read: list[tuple[int, bool]],
) -> None:
    times = sorted({quarter * 900.0 for quarter, _ in read})
    hand = frozenset(quarter * 900.0 for quarter, by_hand in read if by_hand)
    found = MeasuredC(times, [20.0] * len(times), by_hand=hand)
    assert spoken_of(found, list(runs(times, by_hand=hand))) == spoken_of(found)


@given(st.lists(st.integers(0, 300), min_size=1, max_size=40), st.data())
@settings(derandomize=True, deadline=None)
def test_what_readings_cover_is_what_lies_near_one_of_them(
    quarters: list[int], data: st.DataObject
) -> None:
    """Against a count of minutes, each asked by itself whether it is spoken of."""
    times = sorted({quarter * 15 * 60.0 for quarter in quarters})
    first = data.draw(st.integers(0, 200))
    from_s, until_s = first * 900.0, (first + data.draw(st.integers(0, 100))) * 900.0

    def is_spoken_of(at_s: float) -> bool:
        # Two readings three hours apart reach each other just so.
        return any(abs(at_s - time) <= 1.5 * HOUR_S for time in times)

    minutes = sum(
        is_spoken_of(from_s + 60 * minute + 30) for minute in range(int((until_s - from_s) / 60))
    )
    spoken = spoken_of(MeasuredC(times, [20.0] * len(times)))
    assert covered_s(spoken, from_s, until_s) == pytest.approx(60 * minutes)
