"""Names of lots, sowings, stations and trays: which are allowed, and what a typed one means."""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Final, Protocol

from msgspec import Struct, field

from seedstart.problems import Problem
from seedstart.season.plan.typed_values import RefusedError, full_text
from seedstart.text import clean, folded

# What a label holds, and more than any screen shows of it.
LONGEST_NAME: Final = 100
# `#` sets off the end of an id; `/2` and `.1` are the later sowings and the daughters of a lot.
_LIKE_A_SOWING: Final = re.compile(r"[/.]\d+$")


class Named(Protocol):
    """What has a name and may have had others."""

    @property
    def name(self) -> str:
        """The name it has today."""

    @property
    def was(self) -> tuple[str, ...]:
        """Names it had before."""


class Names:
    """The names of one kind of thing, to look up what was typed; case aside, NFC."""

    def __init__(self, named: Iterable[Named]) -> None:
        things = list(named)
        self.current = tuple(thing.name for thing in things)
        former = {folded(was): thing.name for thing in things for was in thing.was}
        self._by_folded = former | {folded(name): name for name in self.current}

    def find(self, typed: str) -> str | None:
        """The name as it is written today, from it or from a former one; None for neither."""
        return self._by_folded.get(folded(clean(typed)))


class Called(Struct, frozen=True):
    """Present names of what the season's files list, by folded present and former names.

    What the files do not list is called as it is written.
    """

    lots: dict[str, str] = field(default_factory=dict)
    stations: dict[str, str] = field(default_factory=dict)
    trays: dict[str, str] = field(default_factory=dict)

    @classmethod
    def among(
        cls, lots: Iterable[Named], stations: Iterable[Named], trays: Iterable[Named]
    ) -> "Called":
        """The names of what is listed."""
        return cls(_present(lots), _present(stations), _present(trays))

    def lot(self, written: str) -> str:
        """A lot's present name."""
        return self.lots.get(folded(written), written)

    def station(self, written: str) -> str:
        """A station's present name."""
        return self.stations.get(folded(written), written)

    def tray(self, written: str) -> str:
        """A tray's present name."""
        return self.trays.get(folded(written), written)


def _present(listed: Iterable[Named]) -> dict[str, str]:
    things = list(listed)
    former = {folded(was): thing.name for thing in things for was in thing.was}
    return former | {folded(thing.name): thing.name for thing in things}


def find_name(
    typed: str, among: Names, *, file: str, key: str = "", line: int | None = None, lists: str = ""
) -> str | Problem:
    """The name that was meant, or the problem that lists the nearest.

    Args:
        typed: What the grower wrote.
        among: The names there are.
        file: Where it stands, for the problem.
        key: Likewise.
        line: Likewise.
        lists: The command or file that lists the names, where there are many.
    """
    name = among.find(typed)
    if name is not None:
        return name
    return Problem(
        file=file, key=key, line=line, found=typed, allowed=among.current, listed_by=lists
    )


def wrong_name(name: str) -> str | None:
    """Why nothing may have this name, in one sentence; None when something may."""
    if not folded(name):
        return "There is nothing to see in this name."
    if len(name) > LONGEST_NAME:
        return f"A name has up to {LONGEST_NAME} characters; this one has {len(name)}."
    return None


def a_name(value: object) -> str:
    """A reader of present and former names, for the keys of a file."""
    name = full_text(value)
    if why := wrong_name(name):
        raise RefusedError(hint=why)
    return name


def wrong_lot_name(name: str) -> str | None:
    """Why a lot may not have this name, in one sentence; None when it may."""
    if not name:
        return "A lot needs a name: what stands on its label."
    if why := wrong_name(name):
        return why
    if "#" in name:
        return "A lot's name holds no #: it sets off the id of a sowing."
    if end := _LIKE_A_SOWING.search(name):
        return f"A lot's name does not end like {end[0]}: sowings are named so."
    return None


def later_sowing_name(lot: str, taken: Collection[str]) -> str:
    """The name of a lot's next sowing: the lot's own, then `leek/2`, `leek/3`.

    Args:
        lot: The lot's name.
        taken: Names that sowings have or had.
    """
    return _first_free((lot, *(f"{lot}/{number}" for number in range(2, len(taken) + 3))), taken)


def daughter_name(mother: str, taken: Collection[str]) -> str:
    """The name of plants pricked out or split off: `leek.1`, `leek.2`."""
    return _first_free((f"{mother}.{number}" for number in range(1, len(taken) + 2)), taken)


def _first_free(names: Iterable[str], taken: Collection[str]) -> str:
    borne = {folded(name) for name in taken}
    return next(name for name in names if folded(name) not in borne)


def clashes(named: Sequence[Named]) -> Iterator[tuple[int, str, str, int]]:
    """Names that two things share, now or formerly, case aside.

    Yields:
        The number of the later thing, its key (`name` or `was`), the name, the earlier's number.
    """
    owner: dict[str, int] = {}
    borne = [(number, thing.name) for number, thing in enumerate(named)]
    borne += [(number, was) for number, thing in enumerate(named) for was in thing.was]
    for number, name in borne:
        first = owner.setdefault(folded(name), number)
        if name and first != number:
            later, earlier = max(number, first), min(number, first)
            key = "name" if folded(named[later].name) == folded(name) else "was"
            yield later, key, name, earlier
