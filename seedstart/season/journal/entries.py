"""The journal, a struct a kind: what was done and seen, never changed, only struck.

All kinds are had from here; docs/formats_journal.md tells a grower the same.
"""

from collections.abc import Iterator
from datetime import date
from typing import Annotated, Any, Final, Union

from msgspec import Meta, field

from seedstart.season.journal.entry import (
    BLANK,
    BLANK_AT,
    Entry,
    Id,
    Name,
    OfAny,
    OfPlants,
    OfSowing,
    Stamp,
    Subject,
    SubjectKind,
    kind_in_lines,
    named,
)
from seedstart.season.journal.place_entries import (
    VALUE_RANGES,
    Adjusted,
    Covered,
    Fed,
    Forecast,
    Hardened,
    Held,
    Moved,
    Poured,
    Quantity,
    Read,
    Uncovered,
    Watered,
    Weighed,
)
from seedstart.season.journal.sowing_entries import (
    Counted,
    Dividing,
    Dug,
    Finished,
    Given,
    Leaving,
    Lost,
    Measured,
    MixedUp,
    Plant,
    PottedOn,
    PrickedOut,
    Relabelled,
    Scarified,
    SetOut,
    Soaked,
    Sown,
    Split,
    Stratified,
    TakenOut,
    Thinned,
    Treatment,
    makes,
)


class Checked(Entry, frozen=True, kw_only=True):
    """A check done that leaves no other record, or an alert that was seen."""

    check: Name

    def subjects(self) -> tuple[Subject, ...]:
        """The check, by its key."""
        return (("check", self.check),)


class PutOff(Entry, frozen=True, kw_only=True):
    """A check left for later."""

    check: Name
    until: date | None = None
    why: str | None = None

    def subjects(self) -> tuple[Subject, ...]:
        """The check, by its key."""
        return (("check", self.check),)


class Planned(Entry, frozen=True, kw_only=True):
    """Keys of lots.toml set anew; holds while the file still says what it said.

    Attributes:
        to: `set` in the line: the keys and their new values, null for a key taken away.
        said: `from` in the line: what the file said of them, null where it said nothing.
    """

    lot: Name
    to: Annotated[dict[str, Any], Meta(min_length=1)] = field(name="set")
    said: dict[str, Any] = field(name="from")

    def subjects(self) -> tuple[Subject, ...]:
        """Its lot."""
        return (("lot", self.lot),)


class Noted(Entry, frozen=True, kw_only=True):
    """Words about a sowing, a tray, a station, a lot, or the season.

    Attributes:
        about: What it is about: damping off, mould, gnats, leggy, wilted, eaten …
    """

    text: Name
    about: str | None = None
    sowing: Name | None = None
    tray: Name | None = None
    station: Name | None = None
    lot: Name | None = None

    def __post_init__(self) -> None:
        if (self.sowing, self.tray, self.station, self.lot).count(None) < 3:
            raise ValueError("one of sowing, tray, station, lot, or none of them")

    def subjects(self) -> tuple[Subject, ...]:
        """The one it names, or the season."""
        if self.lot is not None:
            return (("lot", self.lot),)
        return named(self.sowing, self.tray, self.station) or (("season", ""),)


class Struck(Entry, frozen=True, kw_only=True):
    """Another entry taken back, by its id; a strike that is struck restores it."""

    entry: Id


class Unknown(Entry, frozen=True, kw_only=True):
    """An entry of a kind that a newer version writes: kept, passed over, never written."""

    called: str


def _kinds(struct: type[Entry]) -> Iterator[type[Entry]]:
    """The structs under one that have none under them: what a line can be."""
    below = struct.__subclasses__()
    if not below:
        yield struct
    for one in below:
        yield from _kinds(one)


KINDS: Final[dict[str, type[Entry]]] = {
    kind_in_lines(struct.__name__): struct for struct in _kinds(Entry) if struct is not Unknown
}


_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def journal_schema() -> dict[str, Any]:
    """What a line may hold, kind by kind; docs/formats_journal.md says what has to fit together."""
    from msgspec.json import schema  # only who asks for it pays for it

    kinds: Any = Union[tuple(KINDS.values())]  # noqa: UP007 - made at run time
    return {"$schema": _DIALECT, "title": "A line of a season's journal", **schema(kinds)}
