"""A stretch of days laid over columns of text, and the ruler above it."""

from collections.abc import Iterable
from datetime import date, timedelta
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from seedstart.days import MONTHS, monday_of, short_day
from seedstart.drawing.lines import Line, Role, Span, joined_spans

Zoom = Literal["weeks", "days"]
# Whole weeks are laid out, so that a Monday always begins a column. Two columns a week show a
# spring of 29 weeks in 80; its first is Monday to Thursday.
_COLUMNS_A_WEEK: Final[dict[Zoom, int]] = {"weeks": 2, "days": 7}
TODAY: Final = "│"
FROST: Final = "┊"
POINTER: Final = "▾"
BEFORE: Final = "‹"
BEYOND: Final = "›"


class Stretch(NamedTuple):
    """What part of the year is shown.

    Attributes:
        monday: The first day shown.
        columns: How many columns it takes.
        zoom: What a column is: half a week, or a day.
        today: The day to mark.
        frost: The frost date to mark; None where the season has none.
    """

    monday: date
    columns: int
    zoom: Zoom
    today: date
    frost: date | None

    @classmethod
    def of(
        cls, first_day: date, columns: int, zoom: Zoom, today: date, frost: date | None
    ) -> "Stretch":
        """The stretch from the Monday on or before a day."""
        return cls(monday_of(first_day), max(columns, 1), zoom, today, frost)

    def column(self, day: date) -> int:
        """Where a day lies; below 0 or from `columns` on where it is out of sight."""
        return (day - self.monday).days * _COLUMNS_A_WEEK[self.zoom] // 7

    @property
    def weeks(self) -> int:
        """Whole weeks in sight: how far a page scrolls."""
        return max(1, self.columns // _COLUMNS_A_WEEK[self.zoom])

    def marks(self) -> dict[int, Span]:
        """The upright lines of today and of the frost date, by column; today's hides the other."""
        found: dict[int, Span] = {}
        if self.frost is not None:
            found[self.column(self.frost)] = Span(FROST, "frost")
        found[self.column(self.today)] = Span(TODAY, "today")
        return found

    def mondays(self) -> list[date]:
        """The Mondays in sight."""
        count = -(-self.columns // _COLUMNS_A_WEEK[self.zoom])
        return [self.monday + timedelta(weeks=number) for number in range(count)]


class _Label(NamedTuple):
    at: int
    text: str
    role: Role = "quiet"

    @property
    def end(self) -> int:
        return self.at + len(self.text)


def ruler(stretch: Stretch, gutter: int) -> list[Line]:
    """Three lines: months (or the dates of Mondays), ISO weeks, and where today and the frost lie.

    Args:
        stretch: What is shown.
        gutter: Columns to the left of it, for the lines' own names.
    """
    heads = _months(stretch) if stretch.zoom == "weeks" else _dates(stretch)
    prefix = "" if stretch.zoom == "weeks" else "W"
    weeks = [
        _Label(stretch.column(monday), f"{prefix}{monday.isocalendar().week:02d}")
        for monday in stretch.mondays()
    ]
    return [
        _line(str(stretch.monday.year), gutter, _placed(heads, stretch.columns)),
        _line("ISO week", gutter, _placed(weeks, stretch.columns)),
        _line("", gutter, _placed(_pointers(stretch), stretch.columns, gap=0)),
    ]


def _months(stretch: Stretch) -> list[_Label]:
    """A head where each month begins; January says its year."""
    first = stretch.monday
    labels = [_Label(0, MONTHS[first.month - 1].title())]
    number = 12 * first.year + first.month  # months since year 0: the one after the first
    while stretch.column(start := date(number // 12, number % 12 + 1, 1)) < stretch.columns:
        name = MONTHS[start.month - 1].title()
        text = f"{name} {start.year}" if start.month == 1 else name
        labels.append(_Label(stretch.column(start), text))
        number += 1
    if len(labels) > 1 and labels[1].at <= len(labels[0].text):
        del labels[0]  # the month that ends has no room for its name
    return labels


def _dates(stretch: Stretch) -> list[_Label]:
    return [_Label(stretch.column(monday), short_day(monday)) for monday in stretch.mondays()]


def _pointers(stretch: Stretch) -> list[_Label]:
    """Where today and the frost date lie, written to the side that has room.

    The first way to write them that fits; in a corner one text names both days.
    """
    days: list[tuple[date, Literal["today", "frost"]]] = [(stretch.today, "today")]
    if stretch.frost is not None:
        days.append((stretch.frost, "frost"))
    marks = [_mark(stretch, day, name) for day, name in sorted(days)]
    first, last = marks[0], marks[-1]
    both = ", ".join(mark.text for mark in marks)
    point, columns = _pointer, stretch.columns
    ways = [
        [point(first, first.text, columns), point(last, last.text, columns)],
        [point(first, first.text, columns, left=True), point(last, last.text, columns)],
        [point(first, first.text, columns, left=True), point(last, last.text, columns, left=True)],
        [point(first, "", columns), point(last, both, columns)],
        [point(first, both, columns, left=True), point(last, "", columns)],
        [point(last, both, columns)],
        [point(first, both, columns, left=True)],
    ]
    if first.at == last.at:
        ways = ways[-2:]
    return next((labels for labels in ways if _fits(labels, columns)), [])


def _mark(stretch: Stretch, day: date, name: Literal["today", "frost"]) -> _Label:
    """A day to point at; all that lies out of sight on one side lies in one place."""
    at = min(max(stretch.column(day), -1), stretch.columns)
    return _Label(at, f"{name} {short_day(day)}", name)


def _pointer(mark: _Label, text: str, columns: int, *, left: bool = False) -> _Label:
    """A sign in the mark's column with its text to the right or left, or at the edge."""
    if mark.at < 0:
        return _Label(0, f"{BEFORE} {text}".rstrip(), mark.role)
    if mark.at >= columns:
        said = f"{text} {BEYOND}".lstrip()
        return _Label(columns - len(said), said, mark.role)
    if left and text:
        return _Label(mark.at - len(text) - 1, f"{text} {POINTER}", mark.role)
    return _Label(mark.at, f"{POINTER} {text}".rstrip(), mark.role)


def _fits(labels: list[_Label], columns: int) -> bool:
    in_sight = labels[0].at >= 0 and labels[-1].end <= columns
    return in_sight and all(_apart(one, other) for one, other in pairwise(labels))


def _apart(one: _Label, other: _Label) -> bool:
    """Whether two texts can be told apart: a pointer between them is as good as a blank."""
    pointer = one.text.endswith(POINTER) or other.text.startswith(POINTER)
    return one.end <= other.at if pointer else one.end < other.at


def _placed(labels: Iterable[_Label], columns: int, gap: int = 1) -> list[Span]:
    """Labels at their columns; one nearer than a gap to the one before is left out."""
    cells = [Span(" ")] * columns
    free = 0
    for at, text, role in labels:
        if at >= free and at + len(text) <= columns:
            cells[at : at + len(text)] = [Span(sign, role) for sign in text]
            free = at + len(text) + gap
    return cells


def _line(name: str, gutter: int, cells: list[Span]) -> Line:
    return joined_spans([Span(name[:gutter].ljust(gutter), "quiet"), *cells])
