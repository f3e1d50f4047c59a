"""What was made of something, made again only where what it was made of is no longer the same."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar, TypeVarTuple

_V = TypeVar("_V")
_In = TypeVarTuple("_In")


class Memo:
    """Values by (function, subject), each with the inputs that it was made from.

    A value that is made again and equals what it was stays the same object, so what is made from
    it stands too, and a face redraws the lines whose check is another object, and no others.
    """

    def __init__(self) -> None:
        """Nothing made yet."""
        self._kept: dict[Hashable, tuple[tuple[Any, ...], Any]] = {}
        self._before: dict[Hashable, tuple[tuple[Any, ...], Any]] = {}

    def of(self, make: Callable[[*_In], _V], subject: Hashable, *inputs: *_In) -> _V:
        """What a function makes of its inputs, as it was made before where they are the same.

        Args:
            make: Gives equal values for equal inputs, and looks at nothing else.
            subject: Of what; each has one value at a time.
            inputs: Compared as they are, so none may be changed in place.
        """
        key = make, subject
        kept = self._kept.get(key) or self._before.get(key)
        if kept is None or kept[0] != inputs:
            value = make(*inputs)
            kept = inputs, kept[1] if kept is not None and kept[1] == value else value
        self._kept[key] = kept
        found: _V = kept[1]
        return found

    def same(self, subject: Hashable, found: _V) -> _V:
        """What was found of a subject, as the object of last time where it is equal."""
        return self.of(_itself, subject, found)

    def turn(self) -> None:
        """Let go of what was asked for neither since the last turn nor is from now on."""
        self._before, self._kept = self._kept, {}


def _itself(found: _V) -> _V:
    return found
