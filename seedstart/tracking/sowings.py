"""The entries of one sowing → what is known of it. docs/tracking.md gives the rules."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import Any, Final

from seedstart.problems import Problem
from seedstart.season.journal.entries import (
    Counted,
    Dividing,
    Entry,
    Leaving,
    MixedUp,
    PottedOn,
    Relabelled,
    SetOut,
    Sown,
    makes,
)
from seedstart.season.plan.names import Called
from seedstart.tracking.identity import AS_WRITTEN, NOBODY, Identity
from seedstart.tracking.meanings import MEANINGS, meaning
from seedstart.tracking.place import Begun, stays
from seedstart.tracking.standing import GONE, Closing, Ended, Standing, Why
from seedstart.tracking.tally import Followed, Tally


def how_it_ended(counts: Sequence[Counted], seeds: int | None) -> tuple[Ended | None, str | None]:
    """Normal, abnormal, hard, fresh and dead seeds of a test, or why they are not known.

    The latest count whose figures add up to the seeds holds: it is of the whole test. Where each
    count was only of what was taken away at it, they are summed; what was taken away at a count
    that says no more was normal.

    Args:
        counts: The test's counts, in order.
        seeds: Seeds sown; None where they were not counted.

    Returns:
        The figures, and a sentence where they do not add up; both None where none were given.
    """
    given = [_ended(count) for count in counts if _is_judged(count)]
    if not given:
        return None, None
    whole = next((entry for entry in reversed(given) if entry.seeds == seeds), None)
    if whole is not None:
        return whole, None
    for sums in (_added(given), _added([*given, *_taken_away(counts)])):
        if sums.seeds == seeds:
            return sums, None
    return None, (
        f"Normal, abnormal, hard, fresh and dead seeds add up to {given[-1].seeds} at the last "
        f"count, {seeds} were sown: they give no percentage."
    )


def _taken_away(counts: Sequence[Counted]) -> list[Ended]:
    """Seedlings taken out as they were counted, where nothing else is said: they were normal."""
    return [
        Ended(count.new, 0, 0, 0, 0)
        for count in counts
        if count.new is not None and (count.normal is None)
    ]


def _added(given: Sequence[Ended]) -> Ended:
    parts = ("normal", "abnormal", "hard", "fresh", "dead")
    return Ended(*(sum(getattr(entry, part) for entry in given) for part in parts))


def _is_judged(count: Counted) -> bool:
    parts = (count.normal, count.abnormal, count.hard, count.fresh, count.dead)
    return any(part is not None for part in parts)


def _ended(count: Counted) -> Ended:
    return Ended(
        count.normal or 0,
        count.abnormal or 0,
        count.hard or 0,
        count.fresh or 0,
        count.dead or 0,
    )


_CARE: Final = {kind: one.care for kind, one in MEANINGS.items() if one.fold == "care" and one.care}
_SOWN_KEYS: Final = (
    "seeds", "about", "grams", "on", "purpose", "trial", "replicate", "place", "instead_of", "onto",
    "after",
)  # fmt: skip


def fold_sowing(
    sowing: str,
    entries: Iterable[Entry],
    identity: Identity = NOBODY,
    called: Called = AS_WRITTEN,
    came: Mapping[str, int] | None = None,
) -> Standing:
    """What is known of one sowing.

    What it has from its mother (lot, first place) is left out: `records` adds it.

    Args:
        sowing: The id of the entry that made it.
        entries: Those in force that are about it, in order of (at, id); that one among them.
        identity: Whom the names in the entries mean.
        called: Present names of lots, stations and trays.
        came: By the id of a `mixed_up`, how many plants of other sowings it brought here.

    Raises:
        ValueError: The entry that made it is not among them.
    """
    known = list(entries)
    maker = next((entry for entry in known if entry.id == sowing), None)
    if maker is None:
        raise ValueError(f"the entry {sowing} that made the sowing is missing")
    fold = Fold(maker, called, came or {}, identity)
    fold.take(known)
    return fold.standing(identity)


class Fold:
    """One sowing while its entries are gone through."""

    def __init__(
        self,
        maker: Entry,
        called: Called,
        came: Mapping[str, int],
        identity: Identity = NOBODY,
    ) -> None:
        """Begin with the entry that made it.

        Args:
            maker: That entry.
            called: Present names of lots, stations and trays.
            came: By the id of a `mixed_up`, how many plants of other sowings it brought here.
            identity: Whom names mean; nothing but a `mixed_up` asks for it on the way.
        """
        self.maker, self.identity, self.called, self.came = maker, identity, called, came
        self.seed = maker if isinstance(maker, Sown) else None
        self.plants = maker.plants if isinstance(maker, Dividing) else came.get(maker.id, 0)
        self.tally = Tally(self.plants, maker.at)
        self.names = [makes(maker) or ""]
        self.lot = called.lot(self.seed.lot) if self.seed else None
        self.lot_sure = True
        self.cells = maker.cells if isinstance(maker, Sown | Dividing) else None
        self.container = maker.container if isinstance(maker, Dividing) else None
        seeds = (self.seed.seeds or self.seed.about) if self.seed else self.plants
        self.whole = self.cells or seeds or 0  # what a sample is part of
        self.estimate: int | None = None
        self.counted: list[Counted] = []
        self.followed = Followed()
        self.closed: Closing | None = None
        self.ended_at: datetime | None = None
        self.topped_up = self.mixed_up = False
        self.mixed_into: str | None = None
        self.begun: list[Begun] = []
        self.care: dict[str, list[Any]] = {name: [] for name in _CARE.values()}
        self.acts: list[Entry] = []
        self.problems: list[Problem] = []
        self.place(maker)

    def take(self, entries: Iterable[Entry]) -> None:
        """Go through the entries; nearly all of them are counts or care."""
        run: Iterator[Any]
        for kind, run in groupby(entries, type):
            if kind is Counted:
                counts: list[Any] = list(run)
                self.counted += counts
                self.tally.stand_in_turn(counts, self._take_odd, self.followed)
            elif kind in _CARE:
                self.care[_CARE[kind]] += run
            elif kind in _OTHERS:
                for entry in run:
                    if entry.id != self.maker.id:
                        _OTHERS[kind](self, entry)

    def _take_odd(self, entry: Counted) -> None:
        """A count that says more than how many stand, or after the end, or after a sample."""
        tally, at, stood, inferred = self.tally, entry.at, entry.standing, 0
        if entry.lost:
            tally.lose(entry.lost, at)
        if stood is None:
            tally.take_away(entry.new or 0)
            seen = tally.total
        else:
            if stood and tally.thrown:
                self._take_back_end(at)
            inferred = tally.stand(stood, at, self._estimate(entry, stood))
            seen = stood + tally.gone
        if entry.final and self.closed is None:
            self.closed = Closing(at, "final")
        self.followed.add(tally.total, seen, inferred)

    def _estimate(self, entry: Counted, stood: int) -> int | None:
        """What a sample makes of the whole sowing; None where all was looked at."""
        self.estimate = None
        if entry.looked_at is None or entry.looked_at >= self.whole:
            return None
        estimate = round(stood * self.whole / entry.looked_at)
        self.estimate = estimate + self.tally.gone
        return estimate

    def _take_back_end(self, at: datetime) -> None:
        """Take back its end: it was counted after it was finished."""
        hint = f"It was finished, and counted again on {at.date()}: take back one of the two."
        self.problems.append(self._problem(hint))
        self.tally.take_back_end(at)
        self.ended_at = None
        if self.closed and self.closed.why == "finished":
            self.closed = None

    def leaving(self, entry: Leaving | SetOut) -> None:
        """Plants left for good."""
        why = GONE[meaning(entry).did]
        if entry.left is not None:
            self.tally.leave(why, entry.left, entry.at)
        elif why == "lost":
            self.tally.lose(entry.plants or 0, entry.at)
        else:
            self.tally.go(why, entry.plants or 0, entry.at)
        self.acts.append(entry)

    def dividing(self, entry: Dividing) -> None:
        """Plants became a new sowing."""
        self.tally.go(GONE[meaning(entry).did], entry.plants, entry.at)
        self.acts.append(entry)

    def finished(self, entry: Entry) -> None:
        """End it."""
        self.tally.finish(entry.at)
        self._end(Closing(entry.at, "finished"))
        self.acts.append(entry)

    def mixed(self, entry: MixedUp) -> None:
        """Mix it up with others: it goes on as one with them, or in another."""
        self.mixed_up = True
        self.acts.append(entry)
        if self.identity.means(entry, entry.into) == self.maker.id:
            plants = self.came.get(entry.id, 0)
            self.plants += plants
            self.tally.join(plants, entry.at, sown=self.seed is not None)
            return
        self.tally.go("mixed_up", self.tally.stands, entry.at)
        self.mixed_into = self.mixed_into or entry.id
        self._end(Closing(entry.at, "mixed up"))

    def _end(self, closing: Closing) -> None:
        self.closed = self.closed or closing
        self.ended_at = self.ended_at or closing.at

    def sown_onto(self, _entry: Entry) -> None:
        """Seed of another sowing was sown onto it."""
        self.topped_up = True

    def relabelled(self, entry: Relabelled) -> None:
        """Give it another name, or another lot."""
        if entry.name is not None:
            self.names.append(entry.name)
        if entry.at < self.maker.at:
            return  # of another one that was called so: it says nothing of seed still to be sown
        if entry.lot is not None:
            self.lot = self.called.lot(entry.lot)
        if entry.sure is not None or entry.lot is not None:
            self.lot_sure = entry.sure is not False

    def potted_on(self, entry: PottedOn) -> None:
        """Its plants got a bigger container."""
        self.container = entry.container or self.container
        self.acts.append(entry)
        self.place(entry)

    def place(self, entry: Entry) -> None:
        """Bring it to the tray or station that the entry names, if it names one."""
        tray, station = getattr(entry, "tray", None), getattr(entry, "station", None)
        station = self.called.station(station) if station else None
        if tray:
            self.begun.append((("tray", self.called.tray(tray)), entry.at, station))
        elif station:
            self.begun.append((("station", station), entry.at, None))

    def _problem(self, hint: str) -> Problem:
        return Problem(file="journal", key=f"sowing {self.names[-1]}", hint=hint)

    def standing(self, identity: Identity) -> Standing:
        """What is known after the last entry.

        Args:
            identity: Whom the names in the entry that made it mean.
        """
        maker, tally = self.maker, self.tally
        closed = self.closed or self._all_gone()
        care: dict[str, Any] = {name: tuple(entries) for name, entries in self.care.items()}
        return Standing(
            **self._of_its_making(identity),
            id=maker.id,
            name=self.names[-1],
            made=meaning(maker).made or "sown",
            at=maker.at,
            by=maker.by,
            lot=self.lot,
            lot_sure=self.lot_sure,
            plants=self.plants,
            cells=self.cells,
            container=self.container,
            stays=stays(self.begun),
            counted=tuple(self.counted),
            emerged_by=tuple(self.followed.emerged),
            seen_by=tuple(self.followed.seen),
            inferred_by=self.followed.inferred,
            standing=tally.stands,
            left=self._left(),
            emerged=tally.total if self.seed else 0,
            estimate=self.estimate,
            ended=self._ended()[0],
            inferred=tally.inferred,
            closed=closed,
            over=self._over(closed),
            topped_up=self.topped_up,
            mixed_up=self.mixed_up,
            mixed_into=self.mixed_into,
            acts=tuple(self.acts),
            problems=(*self.problems, *map(self._problem, self._wrong())),
            **care,
        )

    def _left(self) -> dict[Why, int]:
        left = {why: plants for why, plants in sorted(self.tally.left.items()) if plants}
        return left | {"finished": self.tally.thrown} if self.tally.thrown else left

    def _of_its_making(self, identity: Identity) -> dict[str, Any]:
        maker, find = self.maker, identity.find
        if isinstance(maker, Sown):
            return {key: getattr(maker, key) for key in _SOWN_KEYS}
        if isinstance(maker, Dividing):
            mother = find(maker.sowing, maker.by, maker.id)
            return {"made_from": mother, "place": maker.place}
        names = maker.sowings if isinstance(maker, MixedUp) else ()
        found = (find(name, maker.by, maker.id) for name in names)
        return {"mixed_of": tuple(dict.fromkeys(sowing for sowing in found if sowing))}

    def _ended(self) -> tuple[Ended | None, str | None]:
        if self.seed is None or self.seed.purpose == "plants":
            return None, None
        return how_it_ended(self.counted, self.seed.seeds)

    def _wrong(self) -> Iterator[str]:
        if wrong := self._ended()[1]:
            yield wrong
        if isinstance(self.maker, Dividing) and self.tally.total > self.plants:
            yield f"{self.tally.total} plants were there and {self.plants} came: one is wrong."

    def _all_gone(self) -> Closing | None:
        """None stands and none can come: plants are gone, seed all came or was dug up."""
        since = self.tally.empty_since
        seeds = self.seed.seeds if self.seed else 0
        dug = sum(digging.seeds for digging in self.care["dug"])
        if since is None or seeds is None or self.tally.total < seeds - dug:
            return None
        return None if self._cells_to_come() else Closing(since, "all gone")

    def _cells_to_come(self) -> bool:
        """Whether more seedlings came than seeds were sown, and the last count found cells empty.

        A cluster of beet gives several: as many seedlings as seeds are not yet all of them.
        """
        last = self.counted[-1] if self.counted else None
        if self.seed is None or self.seed.seeds is None or last is None or last.cells is None:
            return False
        return self.tally.total > self.seed.seeds and last.cells < (self.cells or self.seed.seeds)

    def _over(self, closed: Closing | None) -> datetime | None:
        since = self.tally.empty_since
        if self.ended_at or closed is None or since is None:
            return self.ended_at
        return max(since, closed.at)


_OTHERS: Final[dict[type[Entry], Callable[[Fold, Any], None]]] = {
    kind: getattr(Fold, one.fold)
    for kind, one in MEANINGS.items()
    if one.fold not in {None, "counts", "care"}
}
