"""The journal of a season: entries by the subjects they name, whatever way they came."""

import gc
from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import partial
from itertools import islice
from operator import eq, lt
from typing import Any, Final, NamedTuple

from seedstart.problems import Problem, gathered
from seedstart.season.journal.entries import (
    KINDS,
    Entry,
    Noted,
    OfAny,
    OfPlants,
    OfSowing,
    Struck,
    Subject,
    TakenOut,
    Treatment,
)
from seedstart.season.journal.entry import SubjectKind
from seedstart.season.journal.entry_lists import (
    AT,
    ID,
    alike,
    in_step,
    put_in_order,
    without,
    without_neighbours,
)
from seedstart.season.journal.journal_lines import Strikes, read_blocks

_NAMING_ONE: Final = {OfSowing.subjects, OfAny.subjects, OfPlants.subjects, Noted.subjects}
# Of these kinds each names but one, and a sowing that it names is the one.
_OF_ONE: Final = frozenset(kind for kind in KINDS.values() if kind.subjects in _NAMING_ONE)

_Piles = defaultdict[SubjectKind, defaultdict[str, list[Entry]]]


class Lines(NamedTuple):
    """What there is to read of one file: all of it, or what is new at its end."""

    file: str
    data: bytes
    first_line: int = 1


class Journal:
    """Entries in order, repeats out; it grows by `read` and `take_in` alone, and forgets nothing.

    The same entries give the same journal in any order of arrival, in one file or in many.

    Attributes:
        of: What names a subject, in order of (at, id), struck ones too. Subjects stand by the
            names in the lines. A `taken_out` stands under the lot of its treatment; strikes,
            and kinds that a newer version writes, stand under none.
        set_aside: Lines that are no entries.
    """

    def __init__(self) -> None:
        self.set_aside: list[Problem] = []
        self._differing: set[str] = set()
        self._start()

    def _start(self) -> None:
        self.of: dict[Subject, list[Entry]] = {}
        # The same lists by kind and name: the way to them that a million entries take.
        self._piles: _Piles = defaultdict(partial(defaultdict, list))
        self._listed: Counter[SubjectKind] = Counter()
        self._entries: list[Entry] = []
        self._by_id: dict[str, Entry] = {}
        self._highest, self._rising = "", True
        self._strikes = Strikes()
        self._new_strikes: list[Struck] = []
        self._ends: list[TakenOut] = []  # those whose treatment has not come
        self._latest = datetime.min.replace(tzinfo=UTC)
        self._unordered: set[Subject] = set()
        self._settled = 0  # so many entries
        self._taken_back: dict[Subject, dict[str, Entry]] = {}  # by subject and id
        self._last_ids: dict[str, str] = {}  # by the writer
        self._looked_at: Counter[str] = Counter()  # by the writer, so many entries

    def read(self, *files: Lines) -> set[Subject]:
        """Take in lines; `journal_lines.read_blocks` says what may stand in them.

        Returns:
            The subjects of which an entry came, or was struck or restored.
        """
        if self.set_aside:
            self._forget_what_comes_again(files)
        for entries in in_step([self._blocks(lines) for lines in files]):
            self._add(entries)
        return self._settle()

    def take_in(self, entries: Iterable[Entry]) -> set[Subject]:
        """Take in entries, as those just written; returns what was touched, as `read` does."""
        self._add(entries)
        return self._settle()

    @property
    def struck(self) -> Set[str]:
        """The ids of entries that were taken back: a strike in force names them."""
        return self._strikes.struck

    def in_force(self, subject: Subject) -> Sequence[Entry]:
        """The entries of a subject that were not taken back, in order of (at, id)."""
        entries, taken_back = self.of.get(subject, []), self._taken_back.get(subject)
        return without(entries, taken_back.values()) if taken_back else entries

    @property
    def by_id(self) -> Mapping[str, Entry]:
        """All entries. Reading a journal seldom asks for one by its id, so they wait till then."""
        self._by_id |= {entry.id: entry for entry in self._entries[len(self._by_id) :]}
        return self._by_id

    @property
    def disputed(self) -> list[Problem]:
        """Strikes in a circle, and lines that differ under one id."""
        return [
            *(_circle(circle) for circle in sorted(self._strikes.circles)),
            *(_differing(entry_id) for entry_id in sorted(self._differing)),
        ]

    def last_id(self, by: str) -> str | None:
        """The highest id of a writer: the next one is made above it."""
        seen = self._looked_at[by]  # a tick asks, and looks at the new ones alone
        new = (
            e.id for e in islice(reversed(self._entries), len(self._entries) - seen) if e.by == by
        )
        last = next(new, "") if self._rising else max(new, default="")
        self._last_ids[by] = max(last, self._last_ids.get(by, ""))
        self._looked_at[by] = len(self._entries)
        return self._last_ids[by] or None

    def last_act(self, by: str) -> tuple[Entry, ...]:
        """The last act of a writer that was not taken back, whole; a strike is none."""
        own = (
            entry.id
            for entry in self._entries
            if entry.by == by and entry.id not in self.struck and not isinstance(entry, Struck)
        )
        last = max(own, default=None)
        return self.act_of(last) if last else ()

    def act_of(self, entry_id: str) -> tuple[Entry, ...]:
        """The entries made in one act with this one, itself among them, by id; none if unknown."""
        entry = self.by_id.get(entry_id)
        act = (entry and entry.act) or entry_id
        together = (e for e in self._entries if e.act == act or e.id in {act, entry_id})
        return tuple(sorted(together, key=ID))

    def _forget_what_comes_again(self, files: Iterable[Lines]) -> None:
        """Drop the faults of last lines: read half written perhaps, they are read again."""
        firsts = {lines.file: lines.first_line for lines in files}
        self.set_aside = [
            problem
            for problem in self.set_aside
            if problem.file not in firsts
            or problem.line is None
            or problem.line < firsts[problem.file]
        ]

    def _blocks(self, lines: Lines) -> Iterator[list[Entry]]:
        for block in read_blocks(lines.data, lines.file, lines.first_line):
            if block.set_aside:
                self.set_aside = gathered([*self.set_aside, *block.set_aside])
            yield block.entries

    def _add(self, entries: Iterable[Entry]) -> None:
        batch = list(entries)
        if self._by_id:
            known = self.by_id
            batch = [e for e in batch if e.id not in known or not alike(known[e.id], e)]
        # While ids rise none can be a repeat, and none needs to be looked up.
        if not self._is_above(batch):
            batch = without_neighbours(sorted(batch, key=ID))
            self._rising &= self._is_above(batch)
        if batch:
            self._highest = max(self._highest, batch[-1].id)
            self._entries += batch
            self._place(batch)

    def _is_above(self, batch: list[Entry]) -> bool:
        ids = list(map(ID, batch))
        return not ids or (self._highest < ids[0] and all(map(lt, ids, islice(ids, 1, None))))

    def _place(self, batch: list[Entry]) -> None:
        """Put each entry behind those of its subjects; note where that is not its place."""
        in_order = sorted(batch, key=AT)
        piles = self._piles
        sowings, trays = piles["sowing"], piles["tray"]
        entry: Any
        for entry in in_order:
            # Nearly all name one sowing or tray: a million subjects need not be made for them.
            if type(entry) in _OF_ONE:
                if entry.sowing is not None:
                    sowings[entry.sowing].append(entry)
                    continue
                if entry.tray is not None:
                    trays[entry.tray].append(entry)
                    continue
            for kind, name in entry.subjects() or self._put_by(entry):
                piles[kind][name].append(entry)
        self._list_new_subjects()
        # While ids rise, what is of the same moment as the latest stands rightly behind it.
        late = (bisect_left if self._rising else bisect_right)(in_order, self._latest, key=AT)
        self._unordered.update(*(entry.subjects() for entry in in_order[:late]))
        self._latest = max(self._latest, in_order[-1].at)

    def _list_new_subjects(self) -> None:
        for kind, by_name in self._piles.items():
            listed = self._listed[kind]
            if len(by_name) > listed:  # the new ones stand at its end
                self.of.update(
                    ((kind, name), pile) for name, pile in islice(by_name.items(), listed, None)
                )
                self._listed[kind] = len(by_name)

    def _put_by(self, entry: Entry) -> tuple[Subject, ...]:
        """Let what names another entry wait until all have come."""
        if isinstance(entry, Struck):
            self._new_strikes.append(entry)
        elif isinstance(entry, TakenOut):
            self._ends.append(entry)
        return ()

    def _settle(self) -> set[Subject]:
        """Order what came, and apply what names another entry; returns what was touched."""
        gone = set() if self._rising or not self._has_repeats() else self._all_over()
        touched = self._place_ends()
        for subject in self._unordered:
            put_in_order(self.of[subject])
        changed = self._strikes.add(self._new_strikes)
        self._take_back(changed)
        if self._settled:
            for entry in self._entries[self._settled :]:
                touched.update(entry.subjects())
            touched.update(*map(self._subjects_of, changed))
        else:  # all is touched, and nothing needs to be looked up
            touched = gone | set(self.of)
        self._new_strikes, self._unordered, self._settled = [], set(), len(self._entries)
        return touched

    def _take_back(self, changed: Set[str]) -> None:
        """Keep which entries of each subject are struck, of those that came or were changed."""
        for entry in self._struck_or_restored(changed):
            for subject in self._subjects_of_entry(entry):
                taken_back = self._taken_back.setdefault(subject, {})
                if entry.id in self.struck:
                    taken_back[entry.id] = entry
                else:
                    taken_back.pop(entry.id, None)

    def _struck_or_restored(self, changed: Set[str]) -> Iterable[Entry]:
        if self._settled or not self._rising:
            new = (e for e in self._entries[self._settled :] if e.id in self.struck)
            # An act strikes nothing as a rule, and then none has to be found by its id.
            return [*new, *filter(None, map(self.by_id.get, changed))] if changed else new
        # Ids rise: a few are found faster than all are laid out.
        places = [bisect_left(self._entries, one, key=ID) for one in self.struck]
        found = (self._entries[place] for place in places if place < len(self._entries))
        return [entry for entry in found if entry.id in self.struck]

    def _has_repeats(self) -> bool:
        if self._settled:
            return len(self.by_id) < len(self._entries)
        ids = sorted(map(ID, self._entries))  # half the cost of laying them out by id
        return any(map(eq, ids, islice(ids, 1, None)))

    def _all_over(self) -> set[Subject]:
        """Begin again without repeats; returns what there was."""
        before = set(self.of)
        fresh: dict[str, Entry] = {}
        for entry in self._entries:
            known = fresh.setdefault(entry.id, entry)
            if not alike(known, entry):
                self._differing.add(entry.id)
                # Any rule will do that does not ask which came first.
                fresh[entry.id] = min(known, entry, key=repr)
        self._start()
        self._add(fresh.values())
        return before

    def _place_ends(self) -> set[Subject]:
        """Put each end of a treatment to the treatment's lot, once both have come."""
        if not self._ends:
            return set()
        of_lots = [entries for (kind, _), entries in self.of.items() if kind == "lot"]
        lots = {e.id: e.lot for entries in of_lots for e in entries if isinstance(e, Treatment)}
        placed: set[Subject] = set()
        for end in self._ends:
            if end.entry in lots:
                subject: Subject = ("lot", lots[end.entry])
                self.of[subject].append(end)
                placed.add(subject)
        self._ends = [end for end in self._ends if end.entry not in lots]
        self._unordered |= placed
        return placed

    def _subjects_of(self, entry_id: str) -> tuple[Subject, ...]:
        entry = self.by_id.get(entry_id)
        return self._subjects_of_entry(entry) if entry else ()

    def _subjects_of_entry(self, entry: Entry) -> tuple[Subject, ...]:
        if isinstance(entry, TakenOut):
            treatment = self.by_id.get(entry.entry)
            return treatment.subjects() if isinstance(treatment, Treatment) else ()
        return entry.subjects()


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """No garbage collection while a season is read or derived; the outcome is not looked at again.

    Entries, and what follows from them, hold no references that could go in circles, and there may
    be a million of them: what is to be collected is so before they come, not after.
    """
    gc.collect(1)  # the young ones: going through all takes longer than to draw a first screen
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()


def _differing(entry_id: str) -> Problem:
    hint = (
        "Lines that differ have this id, and one of them counts: take it back and write it down "
        "again."
    )
    return Problem(file="journal", key=f"id {entry_id}", hint=hint)


def _circle(circle: tuple[str, ...]) -> Problem:
    hint = "These entries take each other back in a circle: they take back nothing."
    return Problem(file="journal", key="struck", found=", ".join(circle), hint=hint)
