"""Which entries were taken back, and which of those were restored."""

from collections import defaultdict
from collections.abc import Sequence

from seedstart.season.entries import Struck


class Strikes:
    """An entry is struck while a strike in force names it; a circle strikes nothing.

    Attributes:
        struck: The ids that a strike in force names; strikes that were struck are among them.
        circles: The ids of strikes that name each other, each circle from its lowest id on.
    """

    def __init__(self) -> None:
        self.struck: set[str] = set()
        self.circles: set[tuple[str, ...]] = set()
        self._named_by: dict[str, str] = {}  # by the strike, what it names
        self._on: defaultdict[str, list[str]] = defaultdict(list)  # by what is named, the strikes
        self._circling: set[str] = set()

    def add(self, strikes: Sequence[Struck]) -> set[str]:
        """Take in strikes, whatever they name; returns the ids that were struck or restored."""
        for strike in strikes:
            self._named_by[strike.id] = strike.entry
            self._on[strike.entry].append(strike.id)
        changed: set[str] = set()
        for strike in strikes:
            changed ^= self._follow(strike.id)
        return changed

    def _follow(self, strike: str) -> set[str]:
        """Judge a strike, what it names, what that names if it is a strike too, and so on."""
        changed = set()
        for entry in self._chain(strike):
            is_struck = any(
                by not in self.struck and by not in self._circling for by in self._on.get(entry, ())
            )
            if is_struck != (entry in self.struck):
                self.struck ^= {entry}
                changed.add(entry)
        return changed

    def _chain(self, strike: str) -> list[str]:
        places: dict[str, int] = {}
        entry: str | None = strike
        while entry is not None and entry not in places:
            places[entry] = len(places)
            entry = self._named_by.get(entry)
        chain = list(places)
        if entry is not None:
            circle = chain[places[entry] :]
            self._circling.update(circle)
            lowest = circle.index(min(circle))
            self.circles.add((*circle[lowest:], *circle[:lowest]))
        return chain
