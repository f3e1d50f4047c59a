"""Whatever call of the disk fails: what was said is so, and a retry doubles nothing.

A share of the faults; `benchmarks/break_disk.py` makes all of them happen.
"""

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest

from broken_disk import ACTS, FAULTS, Fault, crops_read_once, small_season, walk

_STEP = 11
_SHARE = [pair for number, pair in enumerate(product(ACTS, FAULTS)) if number % 3 == 0]


@pytest.fixture(autouse=True)
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path / "settings"))
    with crops_read_once():
        small_season(tmp_path / "made")
        yield tmp_path / "made"


@pytest.mark.parametrize(("name", "fault"), _SHARE)
def test_a_call_of_the_disk_that_fails_is_told_truly(
    small: Path, tmp_path: Path, name: str, fault: Fault
) -> None:
    first = 1 + (FAULTS.index(fault) + list(ACTS).index(name)) % _STEP
    assert walk(small, tmp_path / "place", ACTS[name], fault, _STEP, first) > 0
