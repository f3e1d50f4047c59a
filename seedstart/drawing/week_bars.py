"""The sowing calendar as bars: weeks or days across, a line a row.

Each step is its letter and its day, a capital once it has happened; with days across it is
spelled out. Two steps so near that their days would meet: the earlier loses its day. Behind the
last step lie the days that would do as well for setting out.
"""

from collections.abc import Collection, Iterable
from datetime import date, timedelta
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from seedstart.days import MONTHS, WEEKDAYS, monday_of, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted, joined_spans, plain, wrapped
from seedstart.planning.calendar.row import Happening, Row, Step, StepName, row_key

Zoom = Literal["weeks", "days"]
# Whole weeks are laid out, so that a Monday always begins a column. Three columns a week hold a
# letter and its day, and show 20 weeks in 80; with two a day stand 30 days.
_COLUMNS_A_WEEK: Final[dict[Zoom, int]] = {"weeks": 3, "days": 14}
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
        zoom: Whether weeks stand across, or days.
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

    def holds(self, day: date) -> bool:
        """Whether a day is in sight."""
        return 0 <= self.column(day) < self.columns

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

    def days(self) -> list[date]:
        """The days in sight."""
        days = (self.monday + timedelta(days=number) for number in range(self.weeks * 7 + 7))
        return [day for day in days if self.holds(day)]


class _Label(NamedTuple):
    at: int
    text: str
    role: Role = "quiet"

    @property
    def end(self) -> int:
        return self.at + len(self.text)


def ruler(stretch: Stretch, gutter: int, work_days: Collection[str] = ()) -> list[Line]:
    """Three lines: months, then Mondays and where today and the frost lie; or days.

    Args:
        stretch: What is shown.
        gutter: Columns to the left of it, for the lines' own names.
        work_days: Weekdays (`wed`) on which one works: their letters are capitals.
    """
    months = _line("", gutter, _placed(_months(stretch), stretch.columns))
    if stretch.zoom == "weeks":
        mondays = [_Label(stretch.column(one), str(one.day)) for one in stretch.mondays()]
        return [
            months,
            _line("weeks from Monday", gutter, _placed(mondays, stretch.columns, gap=0)),
            _line("", gutter, _placed(_pointers(stretch), stretch.columns, gap=0)),
        ]
    letters = [
        _Label(stretch.column(day), _weekday(day, work_days), _role(stretch, day))
        for day in stretch.days()
    ]
    numbers = [
        _Label(stretch.column(day), str(day.day), _role(stretch, day)) for day in stretch.days()
    ]
    named = "work days capital" if work_days else ""
    return [
        months,
        _line(named, gutter, _placed(letters, stretch.columns, gap=0)),
        _line("", gutter, _placed(numbers, stretch.columns, gap=0)),
    ]


def _weekday(day: date, work_days: Collection[str]) -> str:
    name = WEEKDAYS[day.weekday()]
    return name[0].upper() if name in work_days else name[0]


def _role(stretch: Stretch, day: date) -> Role:
    return "today" if day == stretch.today else "frost" if day == stretch.frost else "quiet"


def _months(stretch: Stretch) -> list[_Label]:
    """A head over the first Monday (or day) of each month; January says its year."""
    firsts = stretch.mondays() if stretch.zoom == "weeks" else stretch.days()
    labels = [_Label(0, MONTHS[firsts[0].month - 1].title())]
    for before, day in pairwise(firsts):
        if day.month != before.month:
            name = MONTHS[day.month - 1].title()
            text = f"{name} {day.year}" if day.month == 1 else name
            labels.append(_Label(stretch.column(day), text))
    if len(labels) > 1 and labels[1].at <= len(labels[0].text):
        del labels[0]  # the month that ends has no room for its name
    return labels


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
        [point(first, first.text, columns, left=True), point(last, last.text, columns)],
        [point(first, first.text, columns), point(last, last.text, columns)],
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
    said = name if name == "today" and stretch.holds(day) else f"{name} {short_day(day)}"
    return _Label(at, said, name)


def _pointer(mark: _Label, text: str, columns: int, *, left: bool = False) -> _Label:
    """A sign in the mark's column with its text to the right or left, or at the edge."""
    if mark.at < 0:
        return _Label(0, f"{BEFORE} {text}".rstrip(), mark.role)
    if mark.at >= columns:
        said = f"{text} {BEYOND}".lstrip()
        return _Label(columns - len(said), said, mark.role)
    if left and text:
        return _Label(mark.at - len(text), f"{text}{POINTER}", mark.role)
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
# With days across a step is spelled out, as far as the next one leaves room.
_SPELLED: Final[dict[StepName, str]] = {
    "treat": "treat",
    "sow": "sow",
    "emerge": "up",
    "prick_out": "prick out",
    "pot_on": "pot on",
    "harden": "harden",
    "set_out": "out",
}
_DONE: Final = "T treated S sown U up P pricked out B potted H hardened O out"
SEVERAL: Final = "+"
OVERDUE: Final = "!"
# What stands between two steps: what was, what is to come, what is not sown yet.
_WAS, _TO_COME, _NOT_SOWN = "━", "─", "·"
_ANY_OF_THESE: Final = "═"
_MARKS: Final = 2  # a warning and a blank, before the name


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
        zoom: Whether weeks stand across, or days.
    """
    stretch = stretch_for(width, first_day, today, frost, zoom)
    lines = ruler_lines(stretch, width)
    lines += [bar_line(row, stretch, width) for row in rows]
    return [*lines, plain(""), *legend_lines(width)]


def stretch_for(
    width: int, first_day: date, today: date, frost: date | None, zoom: Zoom = "weeks"
) -> Stretch:
    """The days that fit beside the names; a screen scrolls by giving another first day."""
    return Stretch.of(first_day, width - _gutter(width), zoom, today, frost)


def ruler_lines(stretch: Stretch, width: int, work_days: Collection[str] = ()) -> list[Line]:
    """The head of the drawing, three lines."""
    return ruler(stretch, _gutter(width), work_days)


def bar_line(row: Row, stretch: Stretch, width: int) -> Line:
    """One row: `!` where something speaks against a date, its name and its bar.

    A row without dates says why instead.
    """
    mark = Span("! ", "warn") if row.warnings or row.problem else Span("  ")
    name = Span(fitted(row_key(row), _name_width(width)), "name")
    steps = _places(row, stretch)
    if not steps:
        text = row.problem or "no date"
        return (mark, name, Span(fitted(text, stretch.columns), "quiet"))
    # The upright lines run through the bars, else they are lost in a full calendar.
    bar = _fills(steps, stretch) | stretch.marks() | _labels(steps, stretch)
    cells = [bar.get(column, Span(" ")) for column in range(stretch.columns)]
    if min(step.first for step in steps) < 0:
        cells[0] = Span(BEFORE, "quiet")
    if max(step.last for step in steps) >= stretch.columns:
        cells[-1] = Span(BEYOND, "quiet")
    return joined_spans([mark, name, *cells])


def legend_lines(width: int) -> list[Line]:
    """What the signs mean."""
    text = (
        f"{_DONE}; small: to come, {OVERDUE} overdue, {SEVERAL} several.  {_WAS} was  "
        f"{_TO_COME} to come  {_NOT_SOWN} not sown  {_ANY_OF_THESE} any of these days  "
        f"{TODAY} today  {FROST} last frost"
    )
    return wrapped(text, width, role="quiet", hang="")


def short_legend(zoom: Zoom) -> Line:
    """The letters, or what is left out, in one line."""
    if zoom == "days":
        return (Span("capitals: done; lots with nothing in these weeks are left out", "quiet"),)
    return (Span(f"{_DONE}; small to come", "quiet"),)


def first_day_of(rows: Iterable[Row]) -> date | None:
    """The earliest day of any window: where to begin to see all; None where no row has a date."""
    days = [step.window.earliest for row in rows for step in row.steps if step.window]
    return min(days, default=None)


def moves_within(row: Row, stretch: Stretch) -> bool:
    """Whether a step of a row falls into what is shown."""
    return any(step.window and stretch.holds(step.window.best) for step in row.steps)


def _name_width(width: int) -> int:
    return min(24, max(10, width // 5 + 1))


def _gutter(width: int) -> int:
    return _name_width(width) + _MARKS


class _Place(NamedTuple):
    """A step in columns: where its window begins, where its label stands, where it ends."""

    is_: Happening
    first: int
    at: int
    last: int
    said: str
    short: str
    role: Role


def _places(row: Row, stretch: Stretch) -> list[_Place]:
    """The dated steps in order of time. What happened has a day and no window."""
    dated = [step for step in row.steps if step.window is not None]
    next_ = next((step for step in dated if step.is_ != "happened"), None)
    places = [_place(row, step, stretch, is_next=step is next_) for step in dated]
    return sorted(places, key=lambda place: place.at)


def _place(row: Row, step: Step, stretch: Stretch, *, is_next: bool) -> _Place:
    window = step.window
    if window is None:  # what has no date is not placed
        raise ValueError(step.name)
    first, at, last = map(stretch.column, window)
    if step.is_ == "happened" or step.name not in {"sow", "set_out"}:
        first = last = at
    elif step.name == "set_out":
        first = at
    role: Role = "expected" if step.is_ == "planned" else step.is_
    overdue = step.missed is not None and step.is_ != "happened"
    short = LETTERS[step.name].upper() if step.is_ == "happened" else LETTERS[step.name]
    said = f"{short}{OVERDUE if overdue else window.best.day}"
    if stretch.zoom == "days":
        said = _spelled(row, step, is_next=is_next)
    return _Place(step.is_, first, at, last, said, short, "warn" if overdue else role)


def _spelled(row: Row, step: Step, *, is_next: bool) -> str:
    """`SOWN`, `sow 36, to 17`, `up`, `out, any day to 18 May`."""
    word = _SPELLED[step.name]
    if step.is_ == "happened" or step.window is None:
        return word.upper()
    if step.name == "sow" and row.seeds:
        word = f"sow {row.seeds}"
    last = step.window.latest
    if step.name == "set_out" and last > step.window.best:
        return f"{word}, any day to {short_day(last)}"
    if is_next and last > step.window.best:
        return f"{word}, to {last.day}"
    return word


def _labels(steps: list[_Place], stretch: Stretch) -> dict[int, Span]:
    """Letters and days by column; a day that would meet the next letter is left out."""
    cells: dict[int, Span] = {}
    ends = [place.at for place in steps[1:]] + [stretch.columns]
    for place, end in zip(steps, ends, strict=True):
        if place.at in cells:
            cells[place.at] = Span(SEVERAL, place.role)
            continue
        if place.at < 0:
            continue
        room = max(end - place.at, 1)
        said = place.said if stretch.zoom == "days" or len(place.said) <= room else place.short
        for number, sign in enumerate(said[:room].rstrip()):
            cells[place.at + number] = Span(sign, place.role)
    return cells


def _fills(steps: list[_Place], stretch: Stretch) -> dict[int, Span]:
    """What stands before, between and after the labels, by column."""
    first, last = steps[0], steps[-1]
    today = stretch.column(stretch.today)
    cells = {column: Span(_NOT_SOWN, "quiet") for column in range(first.first, first.at)}
    for before, after in pairwise(steps):
        for column in range(before.at + 1, after.at):
            cells[column] = _fill(after, was=column < today)
    for column in range(last.at + 1, last.last + 1):
        cells[column] = Span(_ANY_OF_THESE, last.role)
    return cells


def _fill(after: _Place, *, was: bool) -> Span:
    if after.is_ == "planned":
        return Span(_NOT_SOWN, "quiet")
    if after.is_ == "happened" or was:
        return Span(_WAS, "happened")
    return Span(_TO_COME, "expected")
