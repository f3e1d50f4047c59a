"""What was done, as lines: days as headings, an act a line, and one act whole."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby

from msgspec import Struct

from seedstart.acts.sentences import entry_in_words
from seedstart.drawing.lines import Line, Role, Span, cells_wide, fitted, wrapped
from seedstart.season.journal.entries import Entry
from seedstart.text import plural
from seedstart.tracking.history import Act
from seedstart.units import Units

_AT, _LEAST_BY, _MOST_BY = 7, 8, 14
_WIDE = 100
_BACK = "taken back"
TAKEN_BACK = "—"


class ActsDay(Struct, frozen=True):
    """The heading of a day.

    Attributes:
        day: Which.
        entries: How many entries its acts have.
    """

    day: date
    entries: int


def by_day(acts: Iterable[Act]) -> Iterator[ActsDay | Act]:
    """Acts under the headings of their days, in the order given."""
    for day, those in groupby(acts, key=lambda act: act.first.at.date()):
        here = list(those)
        yield ActsDay(day, sum(len(act.entries) for act in here))
        yield from here


def day_line(head: ActsDay, width: int) -> Line:
    """A day and how much was written on it."""
    day = f"{head.day:%A} {head.day.day} {head.day:%B}"
    said = plural(head.entries, "entry", "entries")
    gap = " " * max(width - cells_wide(day) - cells_wide(said) - 1, 2)
    return (Span(day, "heading"), Span(f"{gap}{said}", "quiet"))


def act_line(act: Act, units: Units, width: int) -> Line:
    """One act; its first entry stands for it, with how many more there are."""
    first, more = act.entries[0], len(act.entries) - 1
    many = f" (+{more})" if more else ""
    back = f"  {_BACK} " if act.taken_back else ""
    wide = _MOST_BY if width >= _WIDE else _LEAST_BY
    room = max(width - 3 - _AT - wide - len(many) - len(back), 1)
    role: Role = "quiet" if act.taken_back else "plain"
    said = f"{fitted(_bare(first, units), room).rstrip()}{many}"
    return (
        Span(f"{TAKEN_BACK if act.taken_back else ' '}  ", "warn"),
        Span(f"{first.at:%H:%M}  {fitted(first.by, wide)}", "quiet"),
        Span(fitted(said, room + len(many)) if back else said, role),
        Span(back, "warn"),
    )


def act_sheet(act: Act, units: Units, width: int) -> list[Line]:
    """All that was written in one act."""
    lines: list[Line] = []
    for entry in act.entries:
        lines += wrapped(entry_in_words(entry, units), width)
    back = f"; {_BACK}: it counts for nothing" if act.taken_back else ""
    return [*lines, *wrapped(f"Written by {act.first.by}{back}.", width, role="quiet")]


def _bare(entry: Entry, units: Units) -> str:
    """Without the moment at its end: that has a column of its own."""
    return entry_in_words(entry, units).rpartition(" (")[0]
