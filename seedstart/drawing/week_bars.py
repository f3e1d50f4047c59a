"""The sowing calendar as bars: weeks or days across, a line a row.

A letter stands at the best day of each step, a capital once the step has happened. Around sowing,
setting out and the step that comes next lie the days that would do as well, as far as the
neighbouring letters. The windows of the other steps follow from these and would fill every bar.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from seedstart.days import MONTHS, monday_of, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, joined_spans, plain, wrapped
from seedstart.planning.calendar.row import IN_WORDS, Happening, Row, StepName, row_key

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
    return in_sight and all(_kept_apart(one, other) for one, other in pairwise(labels))


def _kept_apart(one: _Label, other: _Label) -> bool:
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


LETTERS: Final[dict[StepName, str]] = {
    "treat": "t",
    "sow": "s",
    "emerge": "u",
    "prick_out": "p",
    "pot_on": "b",
    "harden": "h",
    "set_out": "o",
}
_WITH_WINDOW: Final[frozenset[StepName]] = frozenset({"sow", "set_out"})
SEVERAL: Final = "+"
# Inside a step's window, and between two windows. What happened has a day, no window.
_WINDOW: Final[dict[Happening, str]] = {"planned": "░", "expected": "═", "happened": "━"}
_BETWEEN: Final[dict[Happening, str]] = {"planned": "·", "expected": "─", "happened": "━"}
_MARKS = 3  # a warning, and what lies out of sight to the left and to the right


def week_bars(
    rows: Iterable[Row],
    first_day: date,
    today: date,
    frost: date | None,
    width: int = 80,
    zoom: Zoom = "weeks",
) -> list[Line]:
    """The whole drawing: ruler, a line a row in the order given, legend.

    Args:
        rows: The calendar's rows.
        first_day: Where to begin; the Monday on or before it is the first day shown.
        today: The day to mark.
        frost: The frost date to mark; None where there is none.
        width: Columns to use, 40 or more.
        zoom: Half a week a column, or a day.
    """
    stretch = stretch_for(width, first_day, today, frost, zoom)
    lines = ruler_lines(stretch, width)
    lines += [bar_line(row, stretch, width) for row in rows]
    return [*lines, plain(""), *legend_lines(width)]


def stretch_for(
    width: int, first_day: date, today: date, frost: date | None, zoom: Zoom = "weeks"
) -> Stretch:
    """The days that fit beside the names; a screen scrolls by giving another first day."""
    columns = width - _name_width(width) - _MARKS
    return Stretch.of(first_day, columns, zoom, today, frost)


def ruler_lines(stretch: Stretch, width: int) -> list[Line]:
    """The head of the drawing, three lines."""
    return ruler(stretch, _name_width(width) + _MARKS - 1)


def bar_line(row: Row, stretch: Stretch, width: int) -> Line:
    """One row: its name, `!` where something speaks against a date, and its bar.

    A row without dates says why instead.
    """
    name = Span(fitted(row_key(row), _name_width(width)), "name")
    steps = _places(row, stretch)
    if not steps:
        text = row.problem or "no date"
        return (name, Span("! ", "warn"), Span(fitted(text, stretch.columns + 1), "quiet"))
    # The upright lines run through the bars, else they are lost in a full calendar.
    bar = _fills(steps) | stretch.marks() | _letters(steps)
    cells = [bar.get(column, Span(" ")) for column in range(stretch.columns)]
    left = Span(BEFORE if min(step.first for step in steps) < 0 else " ", "quiet")
    beyond = max(step.last for step in steps) >= stretch.columns
    right = Span(BEYOND if beyond else " ", "quiet")
    mark = Span("!", "warn") if row.warnings or row.problem else Span(" ")
    return joined_spans([name, mark, left, *cells, right])


def legend_lines(width: int) -> list[Line]:
    """What the signs mean."""
    letters = ", ".join(f"{letter} {IN_WORDS[name]}" for name, letter in LETTERS.items())
    text = (
        f"{letters}: the best day of each step; a capital is done. "
        f"Planned {_BETWEEN['planned']} with {_WINDOW['planned']} its range; "
        f"expected {_BETWEEN['expected']} with {_WINDOW['expected']}; "
        f"done {_BETWEEN['happened']}. {SEVERAL} several steps, "
        f"{TODAY} today, {FROST} last frost."
    )
    return wrapped(text, width, role="quiet", hang="")


def short_legend() -> str:
    """The signs in two short lines, for a screen that has other things to show."""
    short = dict(IN_WORDS) | {"treat": "treat", "harden": "harden"}
    letters = "  ".join(f"{letter} {short[name]}" for name, letter in LETTERS.items())
    fills = (
        f"{_BETWEEN['planned']}{_WINDOW['planned']} planned  "
        f"{_BETWEEN['expected']}{_WINDOW['expected']} expected  {_BETWEEN['happened']} done"
    )
    marks = f"{SEVERAL} several  {TODAY} today  {FROST} last frost"
    return f"{letters}  CAPITAL done\n{fills}  {marks}"


def first_day_of(rows: Iterable[Row]) -> date | None:
    """The earliest day of any window: where to begin to see all; None where no row has a date."""
    days = [step.window.earliest for row in rows for step in row.steps if step.window]
    return min(days, default=None)


def _name_width(width: int) -> int:
    return min(24, max(10, width // 5 + 1))


class _Place(NamedTuple):
    """A step in columns: where its window begins, where its letter stands, where it ends."""

    letter: str
    is_: Happening
    first: int
    at: int
    last: int


def _places(row: Row, stretch: Stretch) -> list[_Place]:
    """The dated steps in order of time. What happened has a day and no window."""
    places: list[_Place] = []
    for step in row.steps:
        if step.window is None:
            continue
        letter, (first, at, last) = LETTERS[step.name], map(stretch.column, step.window)
        if step.is_ == "happened":
            letter = letter.upper()
        is_next = step.is_ != "happened" and all(place.is_ == "happened" for place in places)
        if not is_next and (step.is_ == "happened" or step.name not in _WITH_WINDOW):
            first = last = at
        places.append(_Place(letter, step.is_, first, at, last))
    return _apart(sorted(places, key=lambda place: place.at), stretch.zoom)


def _apart(places: list[_Place], zoom: Zoom) -> list[_Place]:
    """Letters that meet in one half week stand side by side; sowing keeps its place.

    No letter moves by more than its neighbouring half week, and none where a column is a day.
    """
    room = 1 if zoom == "weeks" else 0
    apart = list(places)
    sown = next((n for n, place in enumerate(apart) if place.letter in "sS"), 0)
    for n in range(sown + 1, len(apart)):
        at = apart[n].at
        apart[n] = apart[n]._replace(at=min(at + room, max(at, apart[n - 1].at + 1)))
    for n in range(sown - 1, -1, -1):
        at = apart[n].at
        apart[n] = apart[n]._replace(at=max(at - room, min(at, apart[n + 1].at - 1)))
    return apart


def _letters(steps: list[_Place]) -> dict[int, Span]:
    cells: dict[int, Span] = {}
    for step in steps:
        cells[step.at] = Span(SEVERAL if step.at in cells else step.letter, step.is_)
    return cells


def _fills(steps: list[_Place]) -> dict[int, Span]:
    """What stands before, between and after the letters, by column."""
    first, last = steps[0], steps[-1]
    cells = {column: _window(first) for column in range(first.first, first.at)}
    for before, after in pairwise(steps):
        for column in range(before.at + 1, after.at):
            cells[column] = _fill(column, before, after)
    return cells | {column: _window(last) for column in range(last.at + 1, last.last + 1)}


def _fill(column: int, before: _Place, after: _Place) -> Span:
    if column <= before.last:
        return _window(before)
    return _window(after) if column >= after.first else Span(_BETWEEN[after.is_], after.is_)


def _window(step: _Place) -> Span:
    return Span(_WINDOW[step.is_], step.is_)
