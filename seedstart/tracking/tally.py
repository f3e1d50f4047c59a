"""Plants of one sowing, added up: what stands, what left for which reason, what is missing."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from datetime import datetime

from seedstart.season.journal.entries import Counted
from seedstart.tracking.standing import Why


class Followed:
    """What followed from each count, in order.

    Attributes:
        emerged: Emerged by then.
        seen: Standing and all that had left by that count alone.
        inferred: By the number of the count, plants taken for dead at it.
    """

    __slots__ = ("emerged", "inferred", "seen")

    def __init__(self) -> None:
        """Begin with no counts."""
        self.emerged: list[int] = []
        self.seen: list[int] = []
        self.inferred: dict[int, int] = {}

    def add(self, emerged: int, seen: int, inferred: int) -> None:
        """One more count."""
        if inferred:
            self.inferred[len(self.seen)] = inferred
        self.emerged.append(emerged)
        self.seen.append(seen)


class Tally:
    """The plants of one sowing while its entries are gone through.

    At every moment `stands + gone + thrown + inferred <= total`, but for a guess from a sample.

    Attributes:
        stands: What stands.
        gone: What left, for all reasons but the next.
        thrown: What was thrown away at the end.
        inferred: What is missing at a count of a later day, and no `lost` has explained.
        total: The most that there has been, those that left among them; it never falls.
        left: What left, by reason.
        empty_since: Since when none stands; None while some do, and before any did.
    """

    __slots__ = (
        "_fell_today", "_guessed", "_known_at", "empty_since", "gone", "inferred", "left", "stands",
        "thrown", "total",
    )  # fmt: skip

    def __init__(self, plants: int, at: datetime) -> None:
        """Begin with so many plants that came in; none in a sowing of seed."""
        self.stands = self.total = plants
        self.gone = self.thrown = self.inferred = 0
        self.left: defaultdict[Why, int] = defaultdict(int)
        self.empty_since: datetime | None = None
        self._known_at = at if plants else None  # when it was last said how many stand
        self._fell_today = 0  # by so many the last count lay below another of the same day
        self._guessed = False

    def take_away(self, new: int) -> None:
        """Count new ones that were taken away as they were counted."""
        self.total += new
        self.gone += new
        self.left["counted"] += new

    def stand_in_turn(
        self, run: Iterable[Counted], odd: Callable[[Counted], None], into: Followed
    ) -> None:
        """Counts with nothing between them: `stand` for each, as for nearly all of a million.

        The values are kept at hand, since each that is fetched from an object adds up.

        Args:
            run: The counts.
            odd: Takes a count that says more than how many stand.
            into: Takes what follows from the others.
        """
        emerged, seen_, missing = into.emerged.append, into.seen.append, into.inferred
        wary = self._guessed or self.thrown
        stands, gone, total, inferred = self.stands, self.gone, self.total, self.inferred
        known_at, fell_today = self._known_at, self._fell_today
        for entry in run:
            stood = entry.standing
            if wary or stood is None or entry.lost or entry.looked_at is not None or entry.final:
                self.stands, self.total, self.inferred = stands, total, inferred
                self._known_at, self._fell_today = known_at, fell_today
                odd(entry)
                wary = self._guessed or self.thrown
                stands, gone, total, inferred = self.stands, self.gone, self.total, self.inferred
                known_at, fell_today = self._known_at, self._fell_today
                continue
            at = entry.at
            if stood < stands:
                fell_today = stands - stood
                if known_at is not None and at.date() > known_at.date():
                    missing[len(into.seen)] = fell_today
                    inferred += fell_today
                    fell_today = 0
            elif fell_today:
                fell_today = 0
            stands, known_at = stood, at
            seen = stood + gone
            if seen >= total:
                total, inferred = seen, 0
            elif inferred:
                inferred = min(inferred, total - seen)
            if stood:
                self.empty_since = None
            elif self.empty_since is None:
                self.empty_since = at
            emerged(total)
            seen_(seen)
        self.stands, self.total, self.inferred = stands, total, inferred
        self._known_at, self._fell_today = known_at, fell_today

    def stand(self, stood: int, at: datetime, estimate: int | None = None) -> int:
        """Count the plants that stand.

        Args:
            stood: Plants counted.
            at: When.
            estimate: Where they were a sample, how many that makes in all. Nothing can be missing
                from a guess, nor at one.

        Returns:
            How many are taken for dead: fewer stand than on an earlier day.
        """
        inferred = 0
        if stood < self.stands or self._guessed or estimate is not None:
            inferred = self._fall(stood, at, guess=estimate is not None)
        elif self._fell_today:
            self._fell_today = 0
        self.stands = stands = stood if estimate is None else estimate
        self._known_at = at
        if stands:
            self.empty_since = None
        elif self.empty_since is None:
            self.empty_since = at
        seen = stood + self.gone
        if seen >= self.total:
            self.total, self.inferred = seen, 0  # none of the missing was dead
        elif self.inferred:
            self.inferred = min(self.inferred, self.total - seen)
        return inferred

    def _fall(self, stood: int, at: datetime, *, guess: bool) -> int:
        """How many are taken for dead at a count; keeps how many are missing since the morning."""
        known = self._known_at is not None and not guess and not self._guessed
        fall = max(0, self.stands - stood) if known else 0
        self._fell_today, self._guessed = fall, guess
        if fall and self._known_at is not None and at.date() > self._known_at.date():
            self._fell_today = 0
            self.inferred += fall
            return fall
        return 0

    def lose(self, plants: int, at: datetime) -> None:
        """Take off plants that died: those already missing first, then those that stand.

        What a count of this very moment found missing is meant too, on whatever day it was seen.
        """
        of_today = self._fell_today if at == self._known_at else 0
        explained = min(plants, self.inferred + of_today)
        of_today = max(0, explained - self.inferred)
        self._fell_today -= of_today
        self.inferred -= explained - of_today
        self.left["lost"] += explained
        self.gone += explained
        if plants > explained:
            self.go("lost", plants - explained, at)

    def go(self, why: Why, plants: int, at: datetime) -> None:
        """Take off plants that left: those that stand, else those set aside, else more came up."""
        standing = min(plants, self.stands)
        rest = plants - standing
        counted = min(rest, self.left["counted"]) if rest else 0
        thrown = min(rest - counted, self.thrown)
        if rest:
            self.left["counted"] -= counted
            self.thrown -= thrown
            self.inferred = max(0, self.inferred - (rest - counted - thrown))  # they lived
        self.left[why] += plants
        self.gone += plants - counted
        self.total = max(self.total, self.gone)
        self._has(self.stands - standing, at)

    def leave(self, why: Why, left: int, at: datetime) -> None:
        """Something left, and so many stand after it: as good as a count."""
        if why == "lost":
            self.lose(max(0, self.stands + self.inferred - left), at)
        else:
            self.go(why, max(0, self.stands - left), at)
        self._has(left, at)
        self._known_at = at
        self._fell_today, self._guessed = 0, False
        self.total = max(self.total, left + self.gone + self.thrown)
        self.inferred = min(self.inferred, self.total - left - self.gone - self.thrown)

    def finish(self, at: datetime) -> None:
        """What still stands is thrown away."""
        self.thrown += self.stands
        self._has(0, at)

    def take_back_end(self, at: datetime) -> None:
        """Take back the end: what was said to be thrown away still stands."""
        stands, self.thrown = self.stands + self.thrown, 0
        self._has(stands, at)

    def join(self, plants: int, at: datetime, *, sown: bool) -> None:
        """Plants of other sowings came in; where seed was sown they are none that came up."""
        if sown:
            self.gone -= plants
        else:
            self.total += plants
        self._has(self.stands + plants, at)

    def _has(self, stands: int, at: datetime) -> None:
        self.stands = stands
        if stands:
            self.empty_since = None
        elif self.empty_since is None:
            self.empty_since = at
