"""Which sowing a line means: names in lines → the entries that made the sowings.

A sowing is known by the id of the entry that made it; names are for people. docs/tracking.md gives
the rules.
"""

from collections import defaultdict
from collections.abc import Iterable
from functools import cached_property
from typing import Final, NamedTuple

from msgspec import Struct, field

from seedstart.season.journal.entries import Entry, MixedUp, Relabelled, makes
from seedstart.season.plan.names import Called
from seedstart.text import folded
from seedstart.tracking.meanings import MEANINGS

# Kinds of entries that make or name sowings.
NAMING: Final = frozenset(
    kind for kind, one in MEANINGS.items() if one.made or one.fold == "relabelled"
)


class Bearer(NamedTuple):
    """A sowing that has or had a name.

    Attributes:
        sowing: The sowing.
        name: The name, folded.
        by: Who gave it.
        given: The id of the entry that gave it.
    """

    sowing: str
    name: str
    by: str
    given: str


class Identity(Struct, frozen=True, dict=True):
    """The sowings that there are, and which has or had which name.

    Attributes:
        made: By its id, the entry that made a sowing.
        borne: By the folded name without `#…`, those that have or had it.
        names: By sowing, the names that it has or had, as written.
        relabelled: By the id of a relabelling, the sowing that it is about.
    """

    made: dict[str, Entry] = field(default_factory=dict)
    borne: dict[str, tuple[Bearer, ...]] = field(default_factory=dict)
    names: dict[str, tuple[str, ...]] = field(default_factory=dict)
    relabelled: dict[str, str] = field(default_factory=dict)

    @cached_property
    def names_borne(self) -> frozenset[str]:
        """All names that sowings have or had, as written."""
        return frozenset(name for names in self.names.values() for name in names)

    def bearers(self, name: str) -> tuple[Bearer, ...]:
        """Sowings that a name in a line fits, with `#` and the end of an id or without."""
        borne = self.borne.get(without_id(name), ())
        whole = folded(name)
        fitting = tuple(bearer for bearer in borne if bearer.name == whole)
        if fitting or "#" not in name:
            return fitting
        end = name.rpartition("#")[2].strip().casefold()
        return tuple(bearer for bearer in borne if end and bearer.sowing.endswith(end))

    def find(self, name: str, by: str, line: str) -> str | None:
        """The sowing that a line means; None where no sowing or more than one fits.

        A name that fits one sowing alone means it. One that fits more means the one that the same
        writer had called so when the line was written; else, the only one that anybody had.

        Args:
            name: The name in the line.
            by: The line's writer.
            line: The line's id: ids sort in the order in which lines were written.
        """
        # none is of itself
        bearers = [bearer for bearer in self.bearers(name) if bearer.sowing != line]
        own = [bearer for bearer in bearers if bearer.by == by]
        for fitting in (
            bearers,
            [bearer for bearer in own if bearer.given <= line],
            own,
            [bearer for bearer in bearers if bearer.given <= line],
        ):
            meant = {bearer.sowing for bearer in fitting}
            if len(meant) == 1:
                return meant.pop()
            if meant and fitting is not bearers:
                return None
        return None

    def means(self, entry: Entry, name: str) -> str | None:
        """The sowing that an entry means by a name that stands in it."""
        if isinstance(entry, Relabelled):
            return self.relabelled.get(entry.id)
        if entry.id in self.made and folded(makes(entry) or "") == folded(name):
            return entry.id
        return self.find(name, entry.by, entry.id)


def parted(
    identity: Identity, name: str, entries: Iterable[Entry]
) -> dict[str | None, list[Entry]]:
    """Entries that call a sowing by one name, by the sowing that they mean; None of no one."""
    newest = max((bearer.given for bearer in identity.borne.get(without_id(name), ())), default="")
    parts: defaultdict[str | None, list[Entry]] = defaultdict(list)
    # Who called one sowing so, and no other, means it whenever it was written.
    always = {by: parts[sowing].append for by, sowing in called_so_by(identity, name).items()}
    later: dict[str, str | None] = {}  # what was written after all names were given: by writer
    for entry in entries:
        append = always.get(entry.by)
        if append is not None and type(entry) not in NAMING:
            append(entry)
        elif entry.id > newest and type(entry) not in NAMING:
            if entry.by not in later:
                later[entry.by] = identity.find(name, entry.by, entry.id)
            parts[later[entry.by]].append(entry)
        else:
            parts[identity.means(entry, name)].append(entry)
    return dict(parts)


def called_so_by(identity: Identity, name: str) -> dict[str, str]:
    """The sowing that each writer called by a name, of writers who called only one so."""
    called: defaultdict[str, set[str]] = defaultdict(set)
    for bearer in identity.bearers(name):
        called[bearer.by].add(bearer.sowing)
    return {by: sowings.pop() for by, sowings in called.items() if len(sowings) == 1}


NOBODY: Final = Identity()
AS_WRITTEN: Final = Called()


def without_id(name: str) -> str:
    """A name folded, `#` and the end of an id taken off."""
    return folded(name.rpartition("#")[0] if "#" in name else name)


def goes_on(mixed: MixedUp) -> bool:
    """Whether one of the sowings that were mixed up goes on under its name: no new one is made."""
    return folded(mixed.into) in map(folded, mixed.sowings)


def identify(naming: Iterable[Entry]) -> Identity:
    """The sowings and their names, from the entries in force that make or name sowings.

    Args:
        naming: `sown`, `pricked_out`, `split`, `mixed_up`, `relabelled`; others and repeats do no
            harm, nor does their order.
    """
    entries = sorted({entry.id: entry for entry in naming}.values(), key=lambda entry: entry.id)
    book = _Book()
    for entry in entries:
        name = makes(entry)
        if name is not None and not (isinstance(entry, MixedUp) and goes_on(entry)):
            book.identity.made[entry.id] = entry
            book.give(entry.id, name, entry)
    waiting = [entry for entry in entries if isinstance(entry, Relabelled)]
    while waiting:
        # A relabelling may call a sowing by a name that another one, written later, gave it.
        unknown = [entry for entry in waiting if not book.relabel(entry)]
        if len(unknown) == len(waiting):
            break
        waiting = unknown
    return book.identity


class _Book:
    """Names as they are given, one after the other."""

    def __init__(self) -> None:
        self.identity = Identity()

    def give(self, sowing: str, name: str, by_entry: Entry) -> None:
        borne, names = self.identity.borne, self.identity.names
        bearer = Bearer(sowing, folded(name), by_entry.by, by_entry.id)
        base = without_id(name)
        borne[base] = (*borne.get(base, ()), bearer)
        if name not in names.get(sowing, ()):
            names[sowing] = (*names.get(sowing, ()), name)

    def relabel(self, entry: Relabelled) -> bool:
        sowing = self.identity.find(entry.sowing, entry.by, entry.id)
        if sowing is None:
            return False
        self.identity.relabelled[entry.id] = sowing
        if entry.name is not None:
            self.give(sowing, entry.name, entry)
        return True
