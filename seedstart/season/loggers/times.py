"""When a logger's rows were taken: day and month distinguished, wall clocks placed in the world."""

from datetime import datetime
from typing import TYPE_CHECKING, Final, NamedTuple

from seedstart.problems import BadInputError, Problem
from seedstart.season.loggers.columns import Role, header_zone
from seedstart.season.loggers.local_time import find_zone, offset_s, offset_text, place
from seedstart.season.loggers.rows import Rows
from seedstart.season.loggers.sources import Answers, Question, names_of
from seedstart.season.loggers.stamps import (
    FIRST_YEAR,
    LAST_YEAR,
    Order,
    Stamps,
    dates,
    possible_orders,
    wall_s,
)
from seedstart.season.loggers.table import Table
from seedstart.text import clean

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Indices = NDArray[np.intp]
    Flags = NDArray[np.bool_]

_DAY_S: Final = 86400
_SHOWN: Final = 80
# A day's rows, then the next day's: under the right order a date goes on by a day or a few.
# Under the wrong one it leaps by a month. Own choice, no source.
_NEXT_DAYS: Final = 3
_MONTH_DAYS: Final = 27
# More stamps than this that fit no order are not garbled: the file has two orders. Own choice.
_GARBLED_SHARE: Final = 0.01


class Times(NamedTuple):
    """When each row was taken.

    Attributes:
        at_s: Seconds of the epoch; NaN where the row has no readable time.
        newest_first: The file runs backwards.
        naive: Its stamps state no offset, so the zone was taken from elsewhere.
        skipped: Rows whose wall time the zone leaves out in spring.
        unturned: A moment before each change to winter time that the clock did not follow.
    """

    at_s: "Floats"
    newest_first: bool
    naive: bool
    skipped: "Indices"
    unturned: tuple[float, ...]


def decide_order(stamps: Stamps) -> tuple[Order, ...]:
    """The orders of day and month that the stamps leave possible; one if they decide it.

    They do by a number above 12, and by days that follow each other in one order alone. None
    is possible where too many stamps fit no order that fits the others.
    """
    against = possible_orders(stamps)
    if not against:
        return ("ymd",)
    fewest = min(against.values())
    if fewest > _GARBLED_SHARE * len(stamps.clock_s):
        return ()
    orders = tuple(order for order, count in against.items() if count == fewest)
    if len(orders) == 1:
        return orders
    following = tuple(order for order in orders if _leap(stamps, order) == "days")
    leaping = [order for order in orders if _leap(stamps, order) == "months"]
    decided = len(following) == 1 and len(leaping) == len(orders) - 1
    return following if decided else orders


def _leap(stamps: Stamps, order: Order) -> str:
    """How far the date goes on where it does: "days", "months", or neither."""
    import numpy as np

    wall = wall_s(stamps, order)
    days = wall[~np.isnan(wall)] // _DAY_S
    leaps = np.abs(np.diff(days))
    leaps = leaps[leaps > 0]
    if not len(leaps) or len(days) < 2 * (len(leaps) + 1):
        return ""  # with one row a day, a month apart may be right
    if leaps.max() <= _NEXT_DAYS:
        return "days"
    return "months" if leaps.min() >= _MONTH_DAYS else ""


def mixed_rows(stamps: Stamps, valued: "Flags") -> "Indices":
    """Rows that disagree with most about stating an offset; none where all agree.

    Only rows that hold a value count: the last one may be torn before its offset.
    """
    import numpy as np

    bare = stamps.readable & valued & np.isnan(stamps.offset_s)
    stated = stamps.readable & valued & ~np.isnan(stamps.offset_s)
    if not bare.any() or not stated.any():
        return np.zeros(0, np.intp)
    return np.flatnonzero(bare if bare.sum() <= stated.sum() else stated)


def times_of_stamps(stamps: Stamps, order: Order, sensor: "Indices", zone: str) -> Times:
    """The times of rows with stamps. Those that state an offset need no zone.

    Args:
        stamps: Of each row, in the order of the file; with an offset in all or in none.
        order: Of day and month.
        sensor: Number of each row's sensor.
        zone: Where the clock hung, or an offset.
    """
    import numpy as np

    wall = wall_s(stamps, order)
    bare = np.isnan(stamps.offset_s)
    naive = bool(2 * bare[stamps.readable].sum() > stamps.readable.sum())
    rows = np.flatnonzero(~np.isnan(wall) & (bare == naive))
    newest_first = _runs_backwards(wall[rows])
    if not naive:
        return Times(wall - stamps.offset_s, newest_first, naive, rows[:0], ())
    rows = rows[::-1] if newest_first else rows
    placed = place(wall[rows], sensor[rows], find_zone(zone))
    at = np.full(len(wall), np.nan)
    at[rows] = placed.at_s
    return Times(at, newest_first, naive, np.sort(rows[placed.skipped]), placed.unturned)


def times_of_counts(counts: "Floats") -> Times:
    """The times of rows that count seconds or milliseconds since 1970 in UTC."""
    import numpy as np

    at = np.where(counts > 1e11, counts / 1000, counts)
    at = np.where((at >= 978_307_200) & (at < 7_258_118_400), at, np.nan)  # 2001 to 2199
    return Times(at, _runs_backwards(at[~np.isnan(at)]), naive=False, skipped=_none(), unturned=())


def _none() -> "Indices":
    import numpy as np

    return np.zeros(0, np.intp)


def _runs_backwards(at_s: "Floats") -> bool:
    import numpy as np

    moves = np.diff(at_s)
    return bool((moves < 0).sum() > (moves > 0).sum())


class When(NamedTuple):
    """When the rows of a file were taken, and what about that is open or wrong."""

    at_s: "Floats"  # NaN where a row is set aside, and everywhere while the order is open
    newest_first: bool
    order: str
    zone: str
    questions: list[Question]
    problems: list[Problem]


def when(
    table: Table, roles: dict[int, Role], rows: Rows, zone: str, answers: Answers, file: str
) -> When:
    """The times of a file's rows.

    Raises:
        BadInputError: Some stamps state an offset and some do not; no order of day and month
            fits; or the answered one does not.
    """
    import numpy as np

    clock = next(place for place, role in roles.items() if role in ("time", "date"))
    if rows.stamps is None:
        times = times_of_counts(rows.values[clock])
        problems = _unreadable(table, rows, times.at_s, file)
        return When(times.at_s, times.newest_first, "ymd", "", [], problems)
    valued = ~np.logical_and.reduce([np.isnan(column) for column in rows.values.values()])
    if len(mixed := mixed_rows(rows.stamps, valued)):
        raise BadInputError(_mixed(table, rows, mixed, file))
    order = _order(rows, answers, file)
    if isinstance(order, Question):
        nothing = np.full(len(rows.line), np.nan)
        return When(nothing, False, "", "", [order], [])  # noqa: FBT003
    stated = answers.zone or header_zone(table.headers[clock])
    sensor, _ = names_of(roles, rows, "sensor")
    times = times_of_stamps(rows.stamps, order, sensor, stated or zone)
    problems = _unreadable(table, rows, times.at_s, file)
    questions: list[Question] = []
    if stated:
        problems += _skipped(table, rows, times, stated, file)
        times.at_s[times.skipped] = np.nan
    else:
        questions += _zone_questions(rows, times, zone)
    used = (stated or zone) if times.naive else ""
    return When(times.at_s, times.newest_first, order, used, questions, problems)


def _order(rows: Rows, answers: Answers, file: str) -> Order | Question:
    """The order of day and month, or the question that asks for it."""
    stamps = rows.stamps
    against = possible_orders(stamps) if stamps else {}
    if not stamps or not against:
        return "ymd"
    orders = decide_order(stamps)
    if not orders:
        raise BadInputError([_no_order(file)])
    if answers.order:
        return _answered(answers.order, against)
    if len(orders) == 1:
        return orders[0]
    row = int(stamps.readable.argmax())
    first = f"{stamps.first[row]} {stamps.middle[row]} {stamps.last[row]}"
    days = " or ".join(_day(stamps, order, row) for order in orders)
    text = f"In which order are day (d), month (m) and year (y)? {first} may be {days}."
    return Question(key="order", text=text, allowed=orders)


def _answered(answer: str, against: dict[Order, int]) -> Order:
    """The order that was answered: one that no more dates contradict than any other."""
    fitting = tuple(order for order, count in against.items() if count == min(against.values()))
    for order in fitting:
        if order == answer:
            return order
    text = "Its dates fit no other order."
    raise BadInputError([Problem(file="order", found=answer, allowed=fitting, hint=text)])


def _day(stamps: Stamps, order: Order, row: int) -> str:
    year, month, day = (int(part[row]) for part in dates(stamps, order))
    return f"{year}-{month:02d}-{day:02d}"


def _zone_questions(rows: Rows, times: Times, zone: str) -> list[Question]:
    """Whether the clock followed the season's zone at all, where its stamps speak against it."""
    questions = []
    place = find_zone(zone)
    if len(times.skipped):
        lines = rows.line[times.skipped]
        before = float(times.at_s[times.skipped[0]]) - 3600
        text = (
            f"Line {lines[0]} and {len(lines) - 1} more are in an hour that {zone} skips when "
            "clocks go forward. Was this clock never put forward?"
        )
        questions.append(
            Question(key="zone", text=text, allowed=(offset_text(offset_s(before, place)), zone))
        )
    elif times.unturned:
        before = times.unturned[0]
        day = datetime.fromtimestamp(before, place).date()
        text = (
            f"On {day} {zone} has one hour twice and this file has it once, without a "
            "gap. Was this clock never put back?"
        )
        questions.append(
            Question(key="zone", text=text, allowed=(offset_text(offset_s(before, place)), zone))
        )
    return questions


def _unreadable(table: Table, rows: Rows, at_s: "Floats", file: str) -> list[Problem]:
    """Rows whose time cannot be read, by their lines."""
    import numpy as np

    wrong = np.flatnonzero(np.isnan(at_s))
    what = f"a time that exists, from {FIRST_YEAR} to {LAST_YEAR}"
    return _by_line(table, rows, wrong, file, what) if len(wrong) else []


def _skipped(table: Table, rows: Rows, times: Times, zone: str, file: str) -> list[Problem]:
    what = f"a time that {zone} has: its clocks skip this hour when they go forward"
    return _by_line(table, rows, times.skipped, file, what) if len(times.skipped) else []


def _mixed(table: Table, rows: Rows, wrong: "Indices", file: str) -> list[Problem]:
    return _by_line(table, rows, wrong, file, "an offset from UTC in every row, or in none")


def _by_line(table: Table, rows: Rows, wrong: "Indices", file: str, allowed: str) -> list[Problem]:
    """Problems that show their line."""
    lines = table.text.split("\n")
    return [
        Problem(
            file=file,
            line=number,
            key="time",
            found=clean(lines[number - 1][:_SHOWN]),
            allowed=(allowed,),
        )
        for number in rows.line[wrong].tolist()
    ]


def _no_order(file: str) -> Problem:
    return Problem(
        file=file,
        key="time",
        allowed=("dates in one order of day and month",),
        hint="Some of its dates have no such month in either order.",
    )
