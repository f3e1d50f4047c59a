"""What belongs together: sowings to their lot, their mother, and the places where they were."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime
from functools import cached_property
from typing import TypeVar

from msgspec import Struct, field

from seedstart.season.journal.entry import Subject
from seedstart.tracking.place import Place, Spot, spots
from seedstart.tracking.standing import Standing, Stay

_K = TypeVar("_K")
_V = TypeVar("_V")


class Links(Struct, frozen=True, dict=True):
    """Whose a sowing is, and where: the one index of it; few entries of a season change any of it.

    A row of the calendar is headed by one sowing. Its family are all that came from it, but for
    those that a relabelling gave to another lot: each of these heads a row of its own there.

    Attributes:
        stays: Where each sowing was, by its id, in order of making.
        of_trays: Where each tray was, by its name.
        mothers: By a sowing, those that it was pricked out, split off or mixed up from.
        heads: By a sowing, the one that heads its row: itself, or one that it came from.
        lots: By a sowing, the lot in whose rows it is; no entry where nobody knows.
        made_on: By the day, the sowings and daughters that were made on it.
    """

    stays: dict[str, tuple[Stay, ...]] = field(default_factory=dict)
    of_trays: dict[str, tuple[Stay, ...]] = field(default_factory=dict)
    mothers: dict[str, tuple[str, ...]] = field(default_factory=dict)
    heads: dict[str, str] = field(default_factory=dict)
    lots: dict[str, str] = field(default_factory=dict)
    made_on: dict[date, tuple[str, ...]] = field(default_factory=dict)

    @classmethod
    def between(cls, sowings: Iterable[Standing], places: Mapping[Subject, Place]) -> "Links":
        """Build the links of sowings, in order of making, and places."""
        standings = {standing.id: standing for standing in sowings}
        mothers = {
            standing.id: known
            for standing in standings.values()
            if (known := tuple(mother for mother in standing.mothers if mother in standings))
        }
        heads = {sowing: _head(sowing, standings, mothers) for sowing in standings}
        lots = {one: lot for one, head in heads.items() if (lot := standings[head].lot)}
        return cls(
            {standing.id: standing.stays for standing in standings.values()},
            {name: place.stays for (kind, name), place in places.items() if kind == "tray"},
            mothers,
            heads,
            lots,
            _grouped((standing.at.date(), standing.id) for standing in standings.values()),
        )

    @cached_property
    def of_lots(self) -> dict[str, tuple[str, ...]]:
        """The sowings in each lot's rows, in order of making."""
        return _grouped((lot, sowing) for sowing, lot in self.lots.items())

    @cached_property
    def families(self) -> dict[str, tuple[str, ...]]:
        """All sowings in a row, in order of making, by the sowing that heads it."""
        return _grouped((head, sowing) for sowing, head in self.heads.items())

    @cached_property
    def daughters(self) -> dict[str, tuple[str, ...]]:
        """What was pricked out or split off from each sowing, and what it was mixed into."""
        pairs = self.mothers.items()
        return _grouped((mother, daughter) for daughter, mothers in pairs for mother in mothers)

    def descent(self, sowings: Iterable[str]) -> set[str]:
        """These and all that came from them."""
        found, more = set(sowings), list(sowings)
        while more:
            daughters = set(self.daughters.get(more.pop(), ())) - found
            found |= daughters
            more += daughters
        return found

    def lineage(self, sowing: str) -> tuple[str, ...]:
        """A sowing, the one that it came from, and so on; of a mixture, the one named first."""
        return tuple(_lineage(sowing, self.mothers))

    @cached_property
    def _spots(self) -> dict[str, tuple[Spot, ...]]:
        """Spots worked out so far: few are needed, and a tray may have been carried often."""
        return {}

    def spots(self, sowing: str) -> tuple[Spot, ...]:
        """Where a sowing was, in order; tray and station of each time."""
        if sowing not in self._spots:
            self._spots[sowing] = spots(self.stays[sowing], self.of_trays)
        return self._spots[sowing]

    @cached_property
    def now(self) -> dict[str, Spot]:
        """Where each sowing is now; without those of which nobody has said."""
        return {sowing: self._last_spot(stays[-1]) for sowing, stays in self.stays.items() if stays}

    def _last_spot(self, stay: Stay) -> Spot:
        kind, name = stay.where
        if kind == "station":
            return Spot(stay.since, None, None, name)
        of_tray = self.of_trays.get(name)
        return Spot(stay.since, None, name, of_tray[-1].where[1] if of_tray else None)

    def spot_at(self, sowing: str, at: datetime) -> Spot | None:
        """Where a sowing was at a moment; None before any place was named."""
        return next((spot for spot in reversed(self.spots(sowing)) if spot.since <= at), None)

    def carrier(self, sowing: str) -> Subject:
        """What it is carried in: its tray, or it is carried by itself."""
        spot = self.now.get(sowing)
        return ("tray", spot.tray) if spot and spot.tray is not None else ("sowing", sowing)

    @cached_property
    def carried(self) -> dict[Subject, tuple[str, ...]]:
        """The sowings that are carried as one."""
        return _grouped((self.carrier(sowing), sowing) for sowing in self.stays)

    @cached_property
    def here(self) -> dict[Subject, tuple[str, ...]]:
        """Which sowings are, or were last, in which place."""
        now = self.now.items()
        return _grouped((place, sowing) for sowing, spot in now for place in spot.subjects)

    @cached_property
    def _ever(self) -> dict[Subject, tuple[str, ...]]:
        own = self.stays.items()
        return _grouped((stay.where, sowing) for sowing, stays in own for stay in stays)

    @cached_property
    def _trays_ever(self) -> dict[Subject, tuple[Subject, ...]]:
        trays = self.of_trays.items()
        return _grouped((stay.where, ("tray", name)) for name, stays in trays for stay in stays)

    def ever_in(self, places: Iterable[Subject]) -> set[str]:
        """The sowings that were in one of these places at any time."""
        return {sowing for place in places for sowing in self._ever.get(place, ())}

    def trays_ever_at(self, places: Iterable[Subject]) -> set[Subject]:
        """The trays that stood at one of these stations at any time."""
        return {tray for place in places for tray in self._trays_ever.get(place, ())}


def _lineage(sowing: str, mothers: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """Sowings that made each other end it."""
    seen: set[str] = set()
    while sowing not in seen:
        seen.add(sowing)
        yield sowing
        sowing = mothers.get(sowing, (sowing,))[0]


def _head(
    sowing: str, standings: Mapping[str, Standing], mothers: Mapping[str, tuple[str, ...]]
) -> str:
    """The farthest that it came from without another lot's name in between."""
    head = sowing
    for earlier in _lineage(sowing, mothers):
        lot = standings[head].lot
        if lot is not None and lot != standings[earlier].lot:
            break
        head = earlier
    return head


def _grouped(pairs: Iterable[tuple[_K, _V]]) -> dict[_K, tuple[_V, ...]]:
    groups: dict[_K, list[_V]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return {key: tuple(values) for key, values in groups.items()}
