"""A season to walk through."""

from pathlib import Path

import pytest

from seasons import HEAD
from walk import MakeWalk, Walk


@pytest.fixture
def walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> MakeWalk:
    """Makes one from lots and, where it is not the usual bench, a head."""

    def make(lots: str = "", head: str = HEAD) -> Walk:
        return Walk(tmp_path, monkeypatch, lots, head)

    return make
