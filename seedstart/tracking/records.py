"""Sowings and places joined by time: where it stood when, watered last, covered, hours out."""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from functools import cached_property
from operator import attrgetter
from typing import Any, Final, NamedTuple, TypeVar

from msgspec import Struct, field

from seedstart.season.journal.entries import Covered, Entry
from seedstart.season.journal.entry import Subject
from seedstart.season.plan.names import Called
from seedstart.text import natural
from seedstart.tracking.identity import Identity
from seedstart.tracking.links import Links
from seedstart.tracking.meanings import Care
from seedstart.tracking.place import Place, Spot, Treated
from seedstart.tracking.standing import Standing

_E = TypeVar("_E", bound=Entry)
_at = attrgetter("at")
_EMPTY: Final = Place(subject=("station", ""))


class Out(NamedTuple):
    """What was said of the hours out of a day of hardening off, and when."""

    at: datetime
    hours: float
    night: bool


class KeptIn(NamedTuple):
    """Why something was plants kept in on a day of hardening off, and when that was said."""

    at: datetime
    why: str


class Folds(Struct, frozen=True):
    """What each subject's own entries say, before it is joined; `recording` keeps it up.

    Attributes:
        naming: By the name in lines, the entries in force that make or name a sowing.
        lines: By a name folded and without `#…`, the names in lines that may mean it.
        sowings: Each sowing by its own entries.
        places: Each tray and station by its own entries.
        written: By a tray or station, the subjects that lines name it by.
        treatments: By a lot's name in lines, what was done to its seed.
    """

    naming: dict[str, tuple[Entry, ...]] = field(default_factory=dict)
    lines: dict[str, tuple[str, ...]] = field(default_factory=dict)
    sowings: dict[str, Standing] = field(default_factory=dict)
    places: dict[Subject, Place] = field(default_factory=dict)
    written: dict[Subject, tuple[Subject, ...]] = field(default_factory=dict)
    treatments: dict[str, tuple[Treated, ...]] = field(default_factory=dict)


class Records(Struct, frozen=True, kw_only=True, dict=True):
    """What happened in a season. `fold_journal.records` makes them, its `refold` updates them.

    Attributes:
        standings: Sowings, by the id of the entry that made each, in order of making.
        places: Trays and stations of which anything was said, by kind and present name.
        treatments: What was done to seed, by the id of its entry.
        astray: Entries that are about no sowing, or about one of several, by the name in them.
        identity: Which sowing has or had which name.
        links: What belongs together.
        called: Present names of what the season's files list.
        fridges: Stations of that kind: in them no seed is waited for.
        until: The last day that is in them; None for all that was recorded.
        folds: What they were joined from.
    """

    standings: dict[str, Standing] = field(default_factory=dict)
    places: dict[Subject, Place] = field(default_factory=dict)
    treatments: dict[str, Treated] = field(default_factory=dict)
    astray: dict[str, tuple[Entry, ...]] = field(default_factory=dict)
    identity: Identity = field(default_factory=Identity)
    links: Links = field(default_factory=Links)
    called: Called = field(default_factory=Called)
    fridges: frozenset[str] = frozenset()
    until: date | None = None
    folds: Folds = field(default_factory=Folds)

    @property
    def names_borne(self) -> frozenset[str]:
        """All names that sowings have or had, as written."""
        return self.identity.names_borne

    def name_in_line(self, sowing: str) -> str:
        """How a line is to call a sowing: by its name, and the end of its id where that fits two.

        Raises:
            KeyError: No such sowing.
        """
        name = self.standings[sowing].name
        bearers = {bearer.sowing for bearer in self.identity.bearers(name)}
        return name if len(bearers) < 2 else f"{name}#{sowing[-6:]}"

    def by_name_in_line(self, name: str) -> Standing | None:
        """The sowing that a line written now would mean; None where none or several fit."""
        bearers = {bearer.sowing for bearer in self.identity.bearers(name)}
        return self.standings.get(bearers.pop()) if len(bearers) == 1 else None

    def of_lot(self, lot: str) -> tuple[Standing, ...]:
        """The sowings in a lot's rows, daughters and mixtures too, in order of making.

        Args:
            lot: A present or former name.
        """
        return self._those(self.links.of_lots.get(self.called.lot(lot), ()))

    def lot_of(self, sowing: str) -> str | None:
        """The lot by whose plan a sowing is raised; None where nobody knows.

        Of plants of several lots that were mixed up, that of the one named first.
        """
        return self.links.lots.get(sowing)

    def head_of(self, sowing: str) -> str:
        """The sowing that heads the calendar's row of this one: itself, or one it came from."""
        return self.links.heads.get(sowing, sowing)

    def family(self, head: str) -> tuple[Standing, ...]:
        """All sowings in the row that one heads, in order of making; none where it heads none."""
        return self._those(self.links.families.get(head, ()))

    def lineage(self, sowing: str) -> tuple[Standing, ...]:
        """A sowing, the one that its plants came from, and so on; the last is seed where known."""
        return self._those(self.links.lineage(sowing))

    def daughters(self, sowing: str) -> tuple[Standing, ...]:
        """What was pricked out or split off from a sowing, and what it was mixed up into."""
        return self._those(self.links.daughters.get(sowing, ()))

    def _those(self, sowings: Iterable[str]) -> tuple[Standing, ...]:
        return tuple(map(self.standings.__getitem__, sowings))

    def place(self, subject: Subject) -> Place:
        """What is known of a tray or station; an empty one where nothing was said of it."""
        return self.places.get(subject, _EMPTY)

    def sowings_in(self, place: Subject, at: datetime | None = None) -> tuple[str, ...]:
        """The sowings in a tray or at a station, those in trays there among them.

        Args:
            place: The tray or station, by its present name.
            at: When; None for now. Sowings that are over are left out.
        """
        if at is None:
            here = self.links.here.get(place, ())
            return tuple(sowing for sowing in here if self.standings[sowing].alive)
        there = (
            (sowing, self.spot(sowing, at))
            for sowing, one in self.standings.items()
            if one.at <= at and (one.over is None or at < one.over)
        )
        return tuple(sowing for sowing, spot in there if spot and place in spot.subjects)

    def trays_at(self, station: str, at: datetime | None = None) -> tuple[str, ...]:
        """The trays that stand at a station, by name."""
        trays = ((name, one) for (kind, name), one in self.places.items() if kind == "tray")
        there = (name for name, tray in trays if tray.station_at(at) == station)
        return tuple(sorted(there, key=natural))

    def spots(self, sowing: str) -> tuple[Spot, ...]:
        """Where a sowing was, in order; tray and station of each time."""
        return self.links.spots(sowing)

    def spot(self, sowing: str, at: datetime | None = None) -> Spot | None:
        """Tray and station of a sowing; None before any was named.

        Args:
            sowing: Its id.
            at: When; None for now.
        """
        return self.links.now.get(sowing) if at is None else self.links.spot_at(sowing, at)

    def goes_along(self, sowing: str, at: datetime | None = None) -> str | None:
        """The tray that goes where a sowing is carried: the one that it is in, and nothing else.

        Args:
            sowing: Its id.
            at: When; None for now.
        """
        spot = self.spot(sowing, at)
        if spot is None or spot.tray is None:
            return None
        return spot.tray if set(self.sowings_in(("tray", spot.tray), at)) <= {sowing} else None

    def station_of(self, sowing: str, at: datetime | None = None) -> str | None:
        """The station at which a sowing, or its tray, stands or stood."""
        spot = self.spot(sowing, at)
        return spot.station if spot else None

    def stations_of(self, sowings: Iterable[Standing]) -> tuple[str, ...]:
        """The stations at which these stand now, that with most of the plants first."""
        plants: Counter[str] = Counter()
        for sowing in sowings:
            station = self.station_of(sowing.id)
            if station is not None:
                plants[station] += sowing.standing
        return tuple(station for station, _ in plants.most_common())

    def last(self, sowing: str, care: Care) -> Entry | None:
        """The latest act of a care: the sowing's own, or its trays' and stations' meanwhile."""
        if (sowing, care) not in self._latest:
            every = self._all(sowing, care, latest=True)
            self._latest[sowing, care] = max(every, key=_order, default=None)
        return self._latest[sowing, care]

    @cached_property
    def _latest(self) -> dict[tuple[str, Care], Entry | None]:
        """The latest words on a sowing that were asked for: a round asks again and again."""
        return {}

    def cover(self, sowing: str) -> Entry | None:
        """The latest word on a sowing's cover: its own, its tray's, or its station's meanwhile.

        A tray is covered as one: a cover that lay on it before this was sown into it lies there
        still. What is said of a station is said of what stood there then.
        """
        if (sowing, "covered") not in self._latest:
            self._latest[sowing, "covered"] = self._cover(sowing)
        return self._latest[sowing, "covered"]

    def _cover(self, sowing: str) -> Entry | None:
        found: list[Entry] = list(self.standings[sowing].covered[-1:])
        for spot in self.spots(sowing):
            if spot.station is not None:
                found += _last_of(self.place(("station", spot.station)).covered, spot)
        last = self.spot(sowing)
        if last is not None and last.tray is not None:
            found += self.place(("tray", last.tray)).covered[-1:]
        return max(found, key=_order, default=None)

    def is_covered(self, sowing: str) -> bool:
        """Whether a sowing, its tray or its station is covered."""
        return isinstance(self.cover(sowing), Covered)

    def hours_out(self, sowing: str) -> dict[date, Out]:
        """What was said of each day of hardening off; the latest word on a day holds."""
        entries = sorted(self._all(sowing, "hardened"), key=_order)
        return {entry.at.date(): Out(entry.at, entry.hours, entry.night) for entry in entries}

    def held_in(self, sowing: str) -> dict[date, KeptIn]:
        """The days on which it was kept in while it was hardened off, and why."""
        entries = sorted(self._all(sowing, "held"), key=_order)
        return {entry.at.date(): KeptIn(entry.at, entry.why) for entry in entries}

    def day_zero(self, sowing: str) -> datetime | None:
        """The moment from which its days count: sown, or later taken out of the cold.

        The cold is a stratification that its seed had, or a fridge in which it began. A daughter's
        days count from its making.

        Returns:
            None while it is in the cold.
        """
        standing = self.standings[sowing]
        zero = standing.at
        for treatment in (self.treatments.get(one) for one in standing.after):
            if treatment and treatment.what == "stratified" and treatment.until:
                zero = max(zero, treatment.until)
        for spot in self.spots(sowing):
            if spot.station not in self.fridges:
                break
            if spot.until is None:
                return None
            zero = max(zero, spot.until)
        return zero

    def _all(self, sowing: str, care: Care, *, latest: bool = False) -> list[Any]:
        """One kind of care, the sowing's own and that of where it was; or the latest of each."""
        standing = self.standings[sowing]
        found: list[Any] = list(getattr(standing, care))[-1 if latest else 0 :]
        for spot in self.spots(sowing):
            for subject in spot.subjects:
                entries = getattr(self.place(subject), care)
                found += _last_of(entries, spot) if latest else _between(entries, spot)
        return found


def _between(entries: Sequence[_E], spot: Spot) -> Sequence[_E]:
    """Care during a stay: from when it came there until it left."""
    if not entries:
        return ()
    first = bisect_left(entries, spot.since, key=_at)
    return entries[first : _end_of(entries, spot)]


def _last_of(entries: Sequence[_E], spot: Spot) -> Sequence[_E]:
    """The last one of a stay, if there is one."""
    if not entries:
        return ()
    end = _end_of(entries, spot)
    last = entries[end - 1 : end] if end else ()
    return last if last and last[0].at >= spot.since else ()


def _end_of(entries: Sequence[_E], spot: Spot) -> int:
    return len(entries) if spot.until is None else bisect_left(entries, spot.until, key=_at)


def _order(entry: Entry) -> tuple[datetime, str]:
    return entry.at, entry.id
