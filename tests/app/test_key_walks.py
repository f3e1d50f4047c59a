"""Random walks of keys, with files growing and breaking beside: nothing ends the app."""

from pathlib import Path

import pytest

from app_bench import sample
from key_walks import walk


# By hand: `python tests/key_walks.py 500`.
@pytest.mark.parametrize("seed", range(1, 7))
async def test_a_walk_of_keys_ends_no_app_and_leaves_what_is_true(
    tmp_path: Path, seed: int
) -> None:
    await walk(sample(tmp_path), seed)
