"""How far sowings have come, reckoned when somebody asks: of what is up, seldom anybody does."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime

from seedstart.planning.emerging import progress_of
from seedstart.season.plan import Season
from seedstart.tracking.own_factor import OwnFactor
from seedstart.tracking.records import Records
from seedstart.tracking.warmth import Progress, Warmth


class Underway(Mapping[str, Progress]):
    """Progress by sowing, of those in which more may come up; kept till it is forgotten."""

    def __init__(
        self,
        season: Season,
        records: Records,
        warmth: Warmth,
        now: datetime,
        own: OwnFactor | None = None,
    ) -> None:
        """Know what it is reckoned from; `emerging.progress_of` says what these are."""
        self._season, self._records, self._warmth = season, records, warmth
        self._now, self._own = now, own
        self._known: dict[str, Progress | None] = {}

    def renew(self, records: Records, touched: Iterable[str]) -> None:
        """Go on with other records, in which something new is said of some sowings."""
        self._records = records
        for sowing in touched:
            self._known.pop(sowing, None)

    def _reckoned(self, sowing: str) -> Progress | None:
        one = self._records.standings.get(sowing)
        if one is None or not one.alive or one.closed is not None:
            return None
        return progress_of(one, self._season, self._records, self._warmth, self._now, self._own)

    def __getitem__(self, sowing: str) -> Progress:
        if sowing not in self._known:
            self._known[sowing] = self._reckoned(sowing)
        found = self._known[sowing]
        if found is None:
            raise KeyError(sowing)
        return found

    def __iter__(self) -> Iterator[str]:
        return (sowing for sowing in self._records.standings if sowing in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)
