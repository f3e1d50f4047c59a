"""A journal and a season → the records of what happened, and the same again after new entries.

One more entry costs the refold of what it is about; `refold` gives what `records` gives afresh.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import UTC, date, datetime
from itertools import chain, compress
from operator import attrgetter
from typing import Final, TypeVar

from msgspec.structs import replace

from seedstart.season.journal.entries import Entry, MixedUp, makes
from seedstart.season.journal.entry import Subject
from seedstart.season.journal.journal import Journal
from seedstart.season.plan.season_file import Season
from seedstart.tracking.identity import NAMING, Identity, called_so_by, identify, parted, without_id
from seedstart.tracking.joining import Joined, inherit, join, leaves_others_alone
from seedstart.tracking.meanings import MEANINGS
from seedstart.tracking.place import Place, Treated, fold_place, fold_treatments
from seedstart.tracking.records import Folds, Records
from seedstart.tracking.sowings import Fold, fold_sowing
from seedstart.tracking.standing import Standing

_K = TypeVar("_K")
_V = TypeVar("_V")
_AT: Final = attrgetter("at")
_SIMPLE: Final = frozenset(
    kind for kind, one in MEANINGS.items() if one.made and one.made != "mixed_up"
)


def records(journal: Journal, season: Season, until: date | None = None) -> Records:
    """What happened in a season.

    Args:
        journal: What was recorded.
        season: For the present names of what it lists, and its fridges.
        until: The last day to count, as entries are dated; strikes count whenever written.
    """
    return _Refold(_nothing(season, until), journal, set(journal.of)).records()


def refold(old: Records, touched: Set[Subject], journal: Journal, season: Season) -> Records:
    """The records after new entries; what these do not touch stays the same objects.

    Args:
        old: The records before.
        touched: The subjects that the journal says were touched.
        journal: With the new entries in it.
        season: Where it names things otherwise than before, all is folded afresh.
    """
    nothing = _nothing(season, old.until)
    if (old.called, old.fridges) != (nothing.called, nothing.fridges):
        return _Refold(nothing, journal, set(journal.of)).records()
    return _Refold(old, journal, touched).records() if touched else old


def _nothing(season: Season, until: date | None) -> Records:
    """The records of a season in which nothing happened."""
    fridges = frozenset(station.name for station in season.stations if station.kind == "fridge")
    return Records(called=season.called, fridges=fridges, until=until)


class _Refold:
    """Records on their way from before to after."""

    def __init__(self, old: Records, journal: Journal, touched: Set[Subject]) -> None:
        self.old, self.journal, self.touched = old, journal, touched
        self.in_force: dict[Subject, Sequence[Entry]] = {}
        self.parted: dict[str, Mapping[str | None, Sequence[Entry]]] = {}
        self.begun: dict[str, tuple[str, Fold]] = {}
        # By a name that several writers gave, each to one sowing, and none else wrote: whose it is.
        self.apart: dict[str, Mapping[str, str]] = {}
        self.folded: set[str] = set()  # sowings and places that were folded again
        self.placed: set[Subject] = set()
        self.names = sorted(name for kind, name in touched if kind == "sowing")
        self.naming = dict(old.folds.naming)
        self.lines = dict(old.folds.lines)
        self.identity = self._identity()
        self.bases = {without_id(name) for name in self.names} | self._renamed()

    def records(self) -> Records:
        """The records after it."""
        old = self.old
        sowings, places = self._sowings(), self._places()
        treatments = self._treatments()
        folds = Folds(self.naming, self.lines, sowings, *places, treatments)
        joined = self._joined(folds)
        return Records(
            standings=joined.standings,
            places=joined.places,
            treatments={entry.id: entry for lot in treatments.values() for entry in lot},
            astray=self._astray(),
            identity=self.identity,
            links=joined.links,
            called=old.called,
            fridges=old.fridges,
            until=old.until,
            folds=folds,
        )

    def _entries(self, subject: Subject) -> Sequence[Entry]:
        """The entries of a subject that are in force, and of the days that count."""
        if subject not in self.in_force:
            entries = self.journal.in_force(subject)
            self.in_force[subject] = _up_to(self.old.until, entries)
        return self.in_force[subject]

    def _identity(self) -> Identity:
        changed = False
        for name in self.names:
            entries = self._entries(("sowing", name))
            naming = tuple(compress(entries, map(NAMING.__contains__, map(type, entries))))
            changed = changed or naming != self.naming.get(name, ())
            self._begin(name, naming, entries)
            _put(self.naming, name, naming)
            base = without_id(name)
            lines = (
                {*self.lines.get(base, ()), name}
                if entries
                else {*self.lines.get(base, ())} - {name}
            )
            _put(self.lines, base, tuple(sorted(lines)))
        return identify(chain.from_iterable(self.naming.values())) if changed else self.old.identity

    def _begin(self, name: str, naming: Sequence[Entry], entries: Sequence[Entry]) -> None:
        """Fold the lines of a name that seems to mean one sowing alone.

        While they are at hand: of a million entries, fetching each again costs more than folding.
        Whether they all mean it is known when the names of all lines are.
        """
        made = [entry for entry in naming if makes(entry) == name]
        if not made or not _SIMPLE.issuperset(map(type, naming)):
            return
        lines = {made[0].by: entries} if len(made) == 1 else _by_writer(made, entries)
        for maker in made if lines else ():
            fold = Fold(maker, self.old.called, {})
            fold.take(lines[maker.by])
            self.begun[maker.id] = name, fold
        if len(made) > 1 and lines:
            self.apart[name] = {maker.by: maker.id for maker in made}

    def _renamed(self) -> set[str]:
        """Names that belong to other sowings than before."""
        before, after = self.old.identity.borne, self.identity.borne
        if before is after:
            return set()
        return {name for name in before.keys() | after if before.get(name) != after.get(name)}

    def _to_fold(self) -> Iterable[str]:
        """Sowings that touched lines mean or meant, and those that are made by such lines.

        Those of one name follow each other: the entries that they share are still in the cache.
        """
        borne = (self.old.identity.borne, self.identity.borne)
        found: dict[str, None] = {}
        for base in self.bases:
            found |= dict.fromkeys(
                bearer.sowing for names in borne for bearer in names.get(base, ())
            )
            for name in self.lines.get(base, ()):
                found |= dict.fromkeys(entry.id for entry in self.naming.get(name, ()))
        return found

    def _sowings(self) -> dict[str, Standing]:
        before = self.old.folds.sowings
        if not self.bases:
            return before
        after = dict(before)
        for sowing in self._to_fold():
            self.folded.add(sowing)
            after.pop(sowing, None)
            if sowing in self.identity.made:
                after[sowing] = self._fold(sowing, {})
        self._mix(after)
        for sowing in self.folded & after.keys():
            after[sowing] = _same(before.get(sowing), after[sowing])
        return after

    def _mix(self, after: dict[str, Standing]) -> None:
        """Let plants that were mixed up go on where they went, one mixture after the other."""
        mixtures = [(one, self.identity.means(one, one.into)) for one in self._mixtures()]
        for _, into in mixtures:
            if into is not None:
                self.folded.add(into)
                after[into] = self._fold(into, {})
        came: dict[str, int] = {}
        for mixed, into in mixtures:
            givers = (one for one in after.values() if one.mixed_into == mixed.id)
            came[mixed.id] = sum(giver.left.get("mixed_up", 0) for giver in givers)
            if into is not None:
                after[into] = self._fold(into, came)

    def _mixtures(self) -> list[MixedUp]:
        """What was mixed up, in the order in which it happened; seldom anything."""
        naming = chain.from_iterable(self.naming.values())
        mixed = {entry.id: entry for entry in naming if isinstance(entry, MixedUp)}
        return sorted(mixed.values(), key=lambda entry: (entry.at, entry.id))

    def _fold(self, sowing: str, came: dict[str, int]) -> Standing:
        name, fold = self.begun.get(sowing, ("", None))
        its_own = self._only(name) == sowing or self._told_apart(name)
        if fold and not came and its_own and self._lines_of(sowing) == [name]:
            return fold.standing(self.identity)
        return fold_sowing(sowing, self._about(sowing), self.identity, self.old.called, came)

    def _lines_of(self, sowing: str) -> list[str]:
        """The names in lines that may mean a sowing."""
        bases = dict.fromkeys(map(without_id, self.identity.names[sowing]))
        return [name for base in bases for name in self.lines.get(base, ())]

    def _about(self, sowing: str) -> Sequence[Entry]:
        """The entries that are about a sowing, under whatever names."""
        parts: list[Sequence[Entry]] = []
        for name in self._lines_of(sowing):
            only = self._only(name)
            if only is None:
                parts.append(self._parted(name).get(sowing, ()))
            elif only == sowing:
                parts.append(self._entries(("sowing", name)))
        parts = [part for part in parts if part]
        return parts[0] if len(parts) == 1 else _merged(parts)

    def _parted(self, name: str) -> Mapping[str | None, Sequence[Entry]]:
        """The entries that call a sowing so, by the one that they mean; None of no one."""
        if name not in self.parted:
            entries = self._entries(("sowing", name))
            self.parted[name] = parted(self.identity, name, entries)
        return self.parted[name]

    def _only(self, name: str) -> str | None:
        """The sowing that all lines with a name mean, if they cannot but mean it."""
        bearers = {bearer.sowing for bearer in self.identity.bearers(name)}
        if len(bearers) != 1 or "#" in name:
            return None
        (only,) = bearers
        naming, means = self.naming.get(name, ()), self.identity.means
        return only if all(means(entry, name) == only for entry in naming) else None

    def _told_apart(self, name: str) -> bool:
        """Whether the lines with a name mean the sowing that their writer called so."""
        return name in self.apart and self.apart[name] == called_so_by(self.identity, name)

    def _astray(self) -> dict[str, tuple[Entry, ...]]:
        astray = dict(self.old.astray)
        lines = (name for base in self.bases for name in self.lines.get(base, ()))
        for name in {*self.names, *lines}:
            sure = self._told_apart(name) or self._only(name)
            lost = () if sure else self._parted(name).get(None, ())
            _put(astray, name, tuple(lost))
        return dict(sorted(astray.items()))

    def _places(self) -> tuple[dict[Subject, Place], dict[Subject, tuple[Subject, ...]]]:
        places, written = dict(self.old.folds.places), dict(self.old.folds.written)
        for subject in self.touched:
            if subject[0] in {"tray", "station"}:
                present = self._present(subject)
                self.placed.add(present)
                names = {*written.get(present, ()), subject}
                _put(written, present, tuple(sorted(n for n in names if self._entries(n))))
        for present in sorted(self.placed):
            parts = [self._entries(subject) for subject in written.get(present, ())]
            entries = parts[0] if len(parts) == 1 else _merged(parts)
            places.pop(present, None)
            if entries:
                places[present] = fold_place(present, entries, self.old.called)
        return dict(sorted(places.items())), written

    def _present(self, subject: Subject) -> Subject:
        kind, name = subject
        called = self.old.called
        return kind, called.tray(name) if kind == "tray" else called.station(name)

    def _treatments(self) -> dict[str, tuple[Treated, ...]]:
        treatments = dict(self.old.folds.treatments)
        for kind, lot in self.touched:
            if kind == "lot":
                entries = self._entries((kind, lot))
                _put(treatments, lot, fold_treatments(self.old.called.lot(lot), entries))
        return dict(sorted(treatments.items()))

    def _joined(self, folds: Folds) -> Joined:
        """Joined again: where nothing that others have of a sowing changed, it alone."""
        old, before = self.old, self.old.folds
        changed = {
            sowing
            for sowing in self.folded
            if before.sowings.get(sowing) is not folds.sowings.get(sowing)
        }
        alone = all(
            leaves_others_alone(before.sowings.get(one), folds.sowings.get(one)) for one in changed
        )
        moved = {
            place for place in self.placed if _stays_of(before, place) != _stays_of(folds, place)
        }
        if not alone or moved:
            return join(folds.sowings, folds.places)
        standings = dict(old.standings) if changed else old.standings
        for sowing in changed:
            standings[sowing] = self._heir(folds.sowings[sowing])
        return Joined(standings, self._with_old_stays(folds), old.links)

    def _heir(self, standing: Standing) -> Standing:
        old = self.old.standings
        known = [old[mother] for mother in standing.mothers if mother in old]
        return standing if standing.from_seed else inherit(standing, known)

    def _with_old_stays(self, folds: Folds) -> dict[Subject, Place]:
        places = dict(self.old.places)
        for subject, place in folds.places.items():
            if place is not self.old.folds.places.get(subject):
                known = places.get(subject)
                places[subject] = replace(place, stays=known.stays if known else place.stays)
        return places


def _up_to(until: date | None, entries: Sequence[Entry]) -> Sequence[Entry]:
    """Entries of the days that count, from entries in order of (at, id)."""
    if until is None:
        return entries
    # Dated as they are written, at whatever offset: till the day begins in UTC all are of days
    # before it or of it.
    begins = datetime(until.year, until.month, until.day, tzinfo=UTC)
    first = bisect_left(entries, begins, key=_AT)
    last = entries[first:]
    kept = [one for one in last if one.at.date() <= until]
    return entries if len(kept) == len(last) else [*entries[:first], *kept]


def _put(into: dict[_K, tuple[_V, ...]], key: _K, values: tuple[_V, ...]) -> None:
    """Keep values under a key, and no key without values."""
    if values:
        into[key] = values
    else:
        into.pop(key, None)


def _stays_of(folds: Folds, place: Subject) -> object:
    known = folds.places.get(place)
    return known.stays if known else None


def _same(before: Standing | None, after: Standing) -> Standing:
    """The object from before where nothing changed."""
    return before if before is after or (before is not None and before == after) else after


def _by_writer(made: Sequence[Entry], entries: Iterable[Entry]) -> dict[str, Sequence[Entry]]:
    """Entries by their writers; none where some are of a writer who made none of these, or two."""
    lines: dict[str, list[Entry]] = {entry.by: [] for entry in made}
    if len(lines) < len(made):
        return {}
    put = {by: of_writer.append for by, of_writer in lines.items()}
    try:
        for entry in entries:
            put[entry.by](entry)
    except KeyError:
        return {}
    return dict(lines)


def _merged(parts: Iterable[Sequence[Entry]]) -> list[Entry]:
    """Entries in order of (at, id), each once."""
    entries = {entry.id: entry for entry in chain.from_iterable(parts)}
    return sorted(entries.values(), key=lambda entry: (entry.at, entry.id))
