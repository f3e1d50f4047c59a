"""Ids of entries rise, whatever the clock does."""

from itertools import pairwise
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seedstart.season.journal.entry import next_id

RANDOM = st.binary(min_size=10, max_size=10)
TIMES = st.integers(0, (1 << 48) - 1)
# RFC 9562, appendix A.6: the moment, both random parts, and the id that they make.
RFC_MS, RFC_RAND_A, RFC_RAND_B = 0x017F22E279B0, 0xCC3, 0x18C4DC0C0C07398F
RFC_ID = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_the_example_of_the_standard_comes_out() -> None:
    random = (RFC_RAND_A << 62 | RFC_RAND_B).to_bytes(10)
    assert next_id(None, RFC_MS, random) == RFC_ID


@settings(derandomize=True, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 3), RANDOM), min_size=2))
def test_ids_rise_though_the_clock_stands_or_is_set_back(steps: list[tuple[int, bytes]]) -> None:
    ids = [last := next_id(None, *steps[0])]
    for now_ms, random in steps[1:]:
        ids.append(last := next_id(last, now_ms, random))
    assert all(one < other for one, other in pairwise(ids))


@settings(derandomize=True, deadline=None)
@given(TIMES, RANDOM)
def test_an_id_is_a_uuid_of_version_7_that_bears_its_time(now_ms: int, random: bytes) -> None:
    made = next_id(None, now_ms, random)
    assert len(made) == 36
    assert (UUID(made).version, UUID(made).variant) == (7, "specified in RFC 4122")
    assert UUID(made).int >> 80 == now_ms


def test_within_a_millisecond_the_next_id_is_not_guessed_from_the_last() -> None:
    nexts = {next_id(RFC_ID, RFC_MS, bytes([*range(6), 0, 0, 0, n])) for n in range(200)}
    assert len(nexts) == 200


def test_a_random_part_that_is_full_carries_into_the_time() -> None:
    full = "017f22e2-79b0-7fff-bfff-ffffffffffff"
    assert next_id(full, RFC_MS, bytes(10)) == "017f22e2-79b1-7000-8000-000000000000"


@pytest.mark.parametrize(
    "last",
    [
        "f47ac10b-58cc-4372-a567-0e02b2c3d479",  # version 4, so its digits are no time
        "pencilled in by hand, on the 3rd May",
        "ffffffff-ffff-7fff-bfff-ffffffffffff",  # nothing is above it
    ],
)
def test_a_last_id_that_is_of_no_use_counts_as_none(last: str) -> None:
    random = bytes(range(10))
    assert next_id(last, RFC_MS, random) == next_id(None, RFC_MS, random)


@pytest.mark.parametrize(("now_ms", "random"), [(-1, bytes(10)), (1 << 48, bytes(10)), (0, b"9")])
def test_what_makes_no_id_is_refused(now_ms: int, random: bytes) -> None:
    with pytest.raises(ValueError, match="ten random bytes and a time from 1970 on"):
        next_id(None, now_ms, random)
