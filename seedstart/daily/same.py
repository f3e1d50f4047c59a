"""What is derived afresh each time, handed out as the object of last time where it is equal."""

from collections.abc import Hashable
from typing import Any, TypeVar

_T = TypeVar("_T")


class Same:
    """A face redraws the lines whose check is another object, and no others."""

    def __init__(self) -> None:
        """Nothing handed out yet."""
        self._kept: dict[Hashable, Any] = {}

    def of(self, name: Hashable, found: _T) -> _T:
        """What was found, or its equal that was handed out under this name before."""
        kept: _T | None = self._kept.get(name)
        if kept is found or (kept is not None and kept == found):
            return kept
        self._kept[name] = found
        return found
