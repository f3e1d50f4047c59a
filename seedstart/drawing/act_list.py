"""What was done, a line an act: when, who, what; what was taken back is struck and says so."""

from typing import Final

from seedstart.acts.sentences import entry_in_words
from seedstart.drawing.lines import Line, Role, Span, fitted, wrapped
from seedstart.season.entries import Entry
from seedstart.tracking.acts import Act
from seedstart.units import Units

_WHEN, _LEAST_BY, _MOST_BY = 16, 8, 14
_WIDE: Final = 100


def acts_head(width: int) -> Line:
    """The names of the columns."""
    return (Span(f"  {'when':<{_WHEN}} {fitted('who', _by_wide(width))} what", "quiet"),)


def act_line(act: Act, units: Units, width: int) -> Line:
    """One act; its first entry stands for it, with how many more there are."""
    first, more = act.entries[0], len(act.entries) - 1
    many = f" (+{more})" if more else ""
    before = f" {fitted(first.by, _by_wide(width))} "
    mark = "taken back: " if act.taken_back else ""
    room = width - 2 - _WHEN - len(before) - len(many)
    said = fitted(f"{mark}{_bare(first, units)}", max(room, 1)).rstrip()
    role: Role = "quiet" if act.taken_back else "plain"
    return (
        Span("x " if act.taken_back else "  ", "warn"),
        Span(f"{_moment(first):<{_WHEN}}{before}", "quiet"),
        Span(f"{said}{many}", role),
    )


def act_sheet(act: Act, units: Units, width: int) -> list[Line]:
    """All that was written in one act."""
    lines: list[Line] = []
    for entry in act.entries:
        lines += wrapped(entry_in_words(entry, units), width)
    state = (
        f"Written by {act.first.by}."
        if not act.taken_back
        else (f"Written by {act.first.by}; taken back: it counts for nothing.")
    )
    return [*lines, *wrapped(state, width, role="quiet")]


def _bare(entry: Entry, units: Units) -> str:
    """Without the moment at its end: that has a column of its own."""
    return entry_in_words(entry, units).rpartition(" (")[0]


def _moment(entry: Entry) -> str:
    return f"{entry.at:%a %-d %b %H:%M}"


def _by_wide(width: int) -> int:
    return _MOST_BY if width >= _WIDE else _LEAST_BY
