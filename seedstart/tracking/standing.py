"""What is known of one sowing: what it is, where it stood, what came up, what left.

Nothing here knows a crop, a forecast or today. docs/tracking.md gives the rules.
"""

from collections.abc import Iterator
from datetime import datetime
from functools import cached_property
from itertools import pairwise
from typing import Final, Literal

from msgspec import Struct, field

from seedstart.problems import Problem
from seedstart.season.journal.entries import Counted, Entry
from seedstart.season.journal.entry import Subject
from seedstart.tracking.meanings import CaredSowing, Did, Made, meaning

# Why plants are no longer in a sowing. `counted`: taken away as they were counted (`new`);
# `finished`: thrown away at the end, which is no loss; `mixed_up`: gone on in another sowing.
Why = Literal[
    "lost", "thinned", "given", "pricked_out", "split", "set_out", "finished", "counted", "mixed_up"
]
# What a lot is before anything of it is sown; then each of its sowings.
SowingState = Literal["to sow", "waiting", "coming up", "growing", "over"]
# Acts by which plants leave, and the reason that each gives.
GONE: Final[dict[Did | None, Why]] = {
    "lost": "lost", "thinned": "thinned", "given": "given", "set_out": "set_out",
    "pricked_out": "pricked_out", "split": "split",
}  # fmt: skip


class Stay(Struct, frozen=True, gc=False):
    """Where a sowing or a tray was for a time, by present names.

    Attributes:
        where: A tray or a station.
        since: From when on.
        until: Till when; None while it is still there.
        station: Of a stay in a tray, the station that was named with it.
    """

    where: Subject
    since: datetime
    until: datetime | None = None
    station: str | None = None


class Count(Struct, frozen=True, gc=False):
    """One count, and what followed from it.

    Attributes:
        entry: What was written.
        emerged: Emerged by then, the highest so far; it never falls. Of plants from another
            sowing: the most there have been.
        seen: Standing and all that had left by this count alone: below `emerged` where it fell.
        inferred: Plants taken for dead, since fewer stood than on an earlier day.
    """

    entry: Counted
    emerged: int
    seen: int
    inferred: int = 0

    @property
    def at(self) -> datetime:
        """When."""
        return self.entry.at

    @property
    def by(self) -> str:
        """Whose."""
        return self.entry.by


class Disagreement(Struct, frozen=True):
    """Two writers' different counts of one day; the later one stands."""

    earlier: Count
    later: Count

    @property
    def may_be_growth(self) -> bool:
        """Whether more had come up by the second count: then both may be right."""
        return self.later.seen > self.earlier.seen


class Ended(Struct, frozen=True):
    """How the seeds of a test ended."""

    normal: int
    abnormal: int
    hard: int
    fresh: int
    dead: int

    @property
    def seeds(self) -> int:
        """All of them."""
        return self.normal + self.abnormal + self.hard + self.fresh + self.dead


class Closing(Struct, frozen=True):
    """When and why no more seedlings are to be counted in a sowing.

    Attributes:
        at: When.
        why: `final` count, `finished`, `all gone` (none stands and no more can come), or
            `mixed up` with another.
    """

    at: datetime
    why: Literal["final", "finished", "all gone", "mixed up"]


class Standing(CaredSowing, frozen=True, kw_only=True, dict=True):
    """What is known of one sowing.

    Attributes:
        id: Of the entry that made it.
        name: What it is called now; `Records.name_in_line` says how a line is to call it.
        made: How it came to be; only what was `sown` has a germination.
        at: When.
        by: Who wrote that.
        lot: The lot by its present name, a daughter's that of its mother; None where unknown.
        lot_sure: False where a relabelling said that it is a guess.
        made_from: The id of the sowing that it was pricked out or split off from.
        mixed_of: The ids of sowings that were mixed up into it.
        seeds: Seeds sown, counted; or
        about: so many roughly; or
        grams: their mass.
        plants: Plants that came in from other sowings.
        cells: Cells it was sown or pricked out into.
        container: What the plants are in, where it was said.
        on: What the seed was laid on.
        purpose: Plants, a test, or a trial.
        trial: The trial, by name.
        replicate: Its number in the trial.
        place: Where in the tray, in the grower's words.
        instead_of: The sowing that it replaces, as the line calls it.
        onto: The sowing that it topped up, as the line calls it.
        after: Ids of the seed's treatments.
        stays: Where it was, in order; of a daughter of which nothing was said, its mother's place.
        counted: Its counts as they were written, in order of (at, id).
        emerged_by: Emerged by each count; `counts` has all that followed from each.
        seen_by: Standing and all that had left, by each count alone.
        inferred_by: By the number of the count from 0, plants taken for dead at it.
        standing: How many stand now; an estimate after a sample.
        left: By reason, how many are gone.
        emerged: Came up in all, never less than was once seen; 0 for plants from elsewhere.
        estimate: Of all that came up, after a sample; None after a full count.
        ended: How the seeds of a test ended.
        inferred: Plants missing at a count of a later day that no `lost` has explained yet.
        closed: When no more is to be counted, and why; None before.
        over: When its last plant went, or it was finished; None while it goes on.
        topped_up: Seed of another sowing was sown onto it.
        mixed_up: It was mixed up with others.
        mixed_into: The entry by which its plants went on in another sowing.
        acts: Pricked out, split, potted on, thinned, lost, given, set out, finished, mixed up:
            the entries.
        problems: What is wrong in what was said of it.
    """

    id: str
    name: str
    made: Made
    at: datetime
    by: str
    lot: str | None = None
    lot_sure: bool = True
    made_from: str | None = None
    mixed_of: tuple[str, ...] = ()
    seeds: int | None = None
    about: int | None = None
    grams: float | None = None
    plants: int = 0
    cells: int | None = None
    container: str | None = None
    on: Literal["medium", "paper", "sand", "agar"] = "medium"
    purpose: Literal["plants", "test", "trial"] = "plants"
    trial: str | None = None
    replicate: int | None = None
    place: str | None = None
    instead_of: str | None = None
    onto: str | None = None
    after: tuple[str, ...] = ()
    stays: tuple[Stay, ...] = ()
    counted: tuple[Counted, ...] = ()
    emerged_by: tuple[int, ...] = ()
    seen_by: tuple[int, ...] = ()
    inferred_by: dict[int, int] = field(default_factory=dict)
    standing: int = 0
    left: dict[Why, int] = field(default_factory=dict)
    emerged: int = 0
    estimate: int | None = None
    ended: Ended | None = None
    inferred: int = 0
    closed: Closing | None = None
    over: datetime | None = None
    topped_up: bool = False
    mixed_up: bool = False
    mixed_into: str | None = None
    acts: tuple[Entry, ...] = ()
    problems: tuple[Problem, ...] = ()

    @cached_property
    def counts(self) -> tuple[Count, ...]:
        """Its counts and what followed from them, in order; seldom asked for."""
        return tuple(
            Count(entry, emerged, seen, self.inferred_by.get(number, 0))
            for number, (entry, emerged, seen) in enumerate(
                zip(self.counted, self.emerged_by, self.seen_by, strict=True)
            )
        )

    @cached_property
    def disagreements(self) -> tuple[Disagreement, ...]:
        """Two writers' different counts of one day."""
        if len({entry.by for entry in self.counted}) < 2:
            return ()
        return tuple(
            Disagreement(earlier, later)
            for earlier, later in pairwise(self.counts)
            if earlier.by != later.by
            and earlier.at.date() == later.at.date()
            and earlier.seen != later.seen
            and earlier.entry.new is None
            and later.entry.new is None
        )

    @property
    def unsettled(self) -> tuple[Disagreement, ...]:
        """Disagreements of which one count is wrong: fewer by the later one, and nobody left."""
        return tuple(
            disagreement for disagreement in self.disagreements if not disagreement.may_be_growth
        )

    @property
    def cells_up(self) -> int | None:
        """Most cells seen with at least one; None where they were not counted."""
        counted = (entry.cells for entry in self.counted if entry.cells is not None)
        return max(counted, default=None)

    @property
    def counted_since_left(self) -> Iterator[Counted]:
        """Its counts since plants last left it, the newest first: what a slip may stand among."""
        left = self.acts[-1].at if self.acts else None
        return (entry for entry in reversed(self.counted) if left is None or entry.at > left)

    @property
    def mothers(self) -> tuple[str, ...]:
        """The ids of the sowings that its plants came from; none of seed."""
        return (self.made_from,) if self.made_from else self.mixed_of

    @property
    def from_seed(self) -> bool:
        """Whether it was sown: a daughter counts plants, never germination."""
        return self.made == "sown"

    @property
    def alive(self) -> bool:
        """Whether there is anything left to care for: plants, or seeds that may still come."""
        return self.over is None

    @property
    def state(self) -> SowingState:
        """How far it is, in one word; of what was not raised from seed, growing till it is over."""
        if not self.alive:
            return "over"
        if self.from_seed and self.up_since is None:
            return "over" if self.closed else "waiting"
        return "coming up" if self.from_seed and self.closed is None else "growing"

    @property
    def lives(self) -> bool:
        """Whether it takes room: once all that came up has gone on, while its count is open.

        What was split off as it stood took its medium along, and the seed in that.
        """
        if self.standing or not self.alive:
            return self.alive
        pricked = bool(self.left.get("pricked_out", 0))
        return self.closed is None if pricked else not self.left.get("split", 0)

    @property
    def potted_since(self) -> datetime | None:
        """When its plants last got a bigger container; None where they never did."""
        act = self.last_act("potted_on")
        return act.at if act else None

    @property
    def lost(self) -> int:
        """Plants that died: those said to, and those missing at a later count."""
        return self.left.get("lost", 0) + self.inferred

    @property
    def seeds_with_a_chance(self) -> int | None:
        """Seeds sown, less the sound ones that were dug up: nobody knows what of those came."""
        return (
            None if self.seeds is None else self.seeds - sum(digging.sound for digging in self.dug)
        )

    @property
    def more_than_sown(self) -> bool:
        """Whether more came up than seeds were sown; clusters of beet and chard do so."""
        return self.seeds is not None and self.emerged > self.seeds

    @cached_property
    def up_since(self) -> datetime | None:
        """When seedlings were first seen, or plants first taken; a daughter's, its making."""
        if not self.from_seed:
            return self.at
        by = zip(self.counted, self.emerged_by, strict=True)
        counted = next((entry.at for entry, emerged in by if emerged), None)
        taken = next((act.at for act in self.acts if meaning(act).did in GONE), None)
        return min((at for at in (counted, taken) if at is not None), default=None)

    def acts_of(self, *did: Did) -> tuple[Entry, ...]:
        """Its acts of some kinds, in order."""
        return tuple(act for act in self.acts if meaning(act).did in did)

    def last_act(self, *did: Did) -> Entry | None:
        """The latest of its acts of some kinds."""
        return next((act for act in reversed(self.acts) if meaning(act).did in did), None)

    def times(self, *did: Did) -> int:
        """How often something was done to it: several lines of one act are once."""
        return len({act.act or act.id for act in self.acts_of(*did)})

    def stay_at(self, at: datetime) -> Stay | None:
        """Where it was at a moment; None before its first place was named."""
        return next((stay for stay in reversed(self.stays) if stay.since <= at), None)
