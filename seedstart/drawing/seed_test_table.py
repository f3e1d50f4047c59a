"""A germination test as a table: a row a replicate, a column a count, and how the rest ended."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from seedstart.days import long_day, short_day
from seedstart.drawing.lines import Line, Role, Span, fitted
from seedstart.planning.lots.seed_tests import SeedTest
from seedstart.tracking.standing import Standing

# Columns: where the first count stands, how wide each is, and how many are shown.
_NAME: Final = 14
_COUNT: Final = 8
_COUNTS: Final = 3
_TAKEN: Final = 7
_LEFT: Final = 6
_ENDED: Final = (("abn", 4), ("hard", 5), ("fresh", 6), ("dead", 5))
_NONE: Final = "·"
# Where today's count stands in a row, its sign and its gap among it: it is the last of the counts.
FIELD_FROM: Final = 2 + _NAME + (_COUNTS - 1) * _COUNT


class Replicate(Struct, frozen=True):
    """One replicate, as a row.

    Attributes:
        standing: It.
        label: `replicate 3`, or its name where it has no number.
        counts: What each of the days in sight found; None where nobody counted.
        taken: Normal ones taken out so far.
        left: Seeds that still lie there; None where they were not counted.
    """

    standing: Standing
    label: str
    counts: tuple[int | None, ...]
    taken: int
    left: int | None


class TestTable(Struct, frozen=True):
    """All of it.

    Attributes:
        days: The days whose counts are in sight, the last one today's while it is counted.
        numbers: Of each its day since the cold or the beginning.
        rows: The replicates.
        today: The day, where it is counted; None else.
        is_last: Whether this is the day of the last count, or past it.
    """

    __test__ = False  # no test of pytest's

    days: tuple[date, ...]
    numbers: tuple[int, ...]
    rows: tuple[Replicate, ...]
    today: date | None
    is_last: bool


def table_of(test: SeedTest, today: date) -> TestTable:
    """The table of a test that was begun."""
    zero = today - timedelta(days=test.day or 0)
    counted = {one.id: _by_day(one) for one in test.replicates}
    counting = test.state == "being counted"
    every = {day for found in counted.values() for day in found}
    days = tuple(sorted(every | ({today} if counting else set())))[-_COUNTS:]
    rows = tuple(
        Replicate(
            one,
            f"replicate {one.replicate}" if one.replicate else one.name,
            tuple(counted[one.id].get(day) for day in days),
            one.ended.normal if one.ended else one.emerged,
            None if one.seeds is None else max(one.seeds - one.emerged, 0),
        )
        for one in test.replicates
    )
    plan = test.planned
    is_last = plan is not None and test.day is not None and test.day >= plan.last_count
    return TestTable(
        days,
        tuple((day - zero).days for day in days),
        rows,
        today if counting else None,
        is_last,
    )


def _by_day(one: Standing) -> dict[date, int]:
    """New ones by the day that found them."""
    found: dict[date, int] = {}
    before = 0
    for count in one.counts:
        day = count.at.date()
        found[day] = found.get(day, 0) + count.emerged - before
        before = max(before, count.emerged)
    return found


def head_lines(table: TestTable) -> list[Line]:
    """The names of the columns, in two lines."""
    pad = " " * (2 + _NAME + (_COUNTS - len(table.days)) * _COUNT)
    days = "".join(f"{f'day {number}':<{_COUNT}}" for number in table.numbers)
    dates = "".join(f"{_day(day, table):<{_COUNT}}" for day in table.days)
    ended = "".join(f"{name:>{wide}}" for name, wide in _ENDED)
    return [
        (Span(f"{pad}{days}{'taken':>{_TAKEN}}{'left':>{_LEFT}}  at the last count", "quiet"),),
        (Span(f"{pad}{dates}{'out':>{_TAKEN}}{'':>{_LEFT}}  {ended}", "quiet"),),
    ]


def _day(day: date, table: TestTable) -> str:
    return "today" if day == table.today else short_day(day)


def replicate_line(one: Replicate, table: TestTable, *, sign: bool = True) -> Line:
    """A replicate: its sign, its counts, what is out and what is left, how the rest ended."""
    done = table.today is None or (bool(one.counts) and one.counts[-1] is not None)
    closed = one.standing.closed is not None
    ended = one.standing.ended
    names = ("abnormal", "hard", "fresh", "dead")
    how = [str(getattr(ended, name)) if ended else _NONE for name in names]
    cells = "".join(f"{text:>{wide}}" for text, (_, wide) in zip(how, _ENDED, strict=True))
    left = "" if closed or one.left is None else str(one.left)
    mark = ("✓ " if done or closed else "· ") if sign else "  "
    role: Role = "happened" if mark[0] == "✓" else "plain"
    return (
        Span(mark, role),
        Span(fitted(one.label, _NAME), "name"),
        Span(f"{_counts(one.counts)}{one.taken:>{_TAKEN}}{left:>{_LEFT}}  {cells}"),
    )


def _counts(counts: Sequence[int | None]) -> str:
    pad = " " * ((_COUNTS - len(counts)) * _COUNT)
    return pad + "".join(f"{_NONE if one is None else one!s:<{_COUNT}}" for one in counts)


def together_line(table: TestTable) -> Line:
    """All replicates of it together."""
    sums = [
        sum(one.counts[at] or 0 for one in table.rows)
        if any(one.counts[at] is not None for one in table.rows)
        else None
        for at in range(len(table.days))
    ]
    taken = sum(one.taken for one in table.rows)
    known = [one.left for one in table.rows if one.left is not None]
    left = str(sum(known)) if table.today is not None and known else ""
    text = f"  {'together':<{_NAME}}{_counts(sums)}{taken:>{_TAKEN}}{left:>{_LEFT}}"
    return (Span(text.rstrip(), "quiet"),)


def how_far(test: SeedTest, today: date) -> str:
    """`day 10; last count Sun 12 Apr, day 12`; of a closed one the day that was."""
    if test.closed_on is not None:
        return f"closed {short_day(test.closed_on)}"
    if test.state != "being counted" or test.day is None:
        return test.state
    if test.planned is None:
        return f"day {test.day}"
    last = today + timedelta(days=test.planned.last_count - test.day)
    return f"day {test.day}; last count {long_day(last).rpartition(' ')[0]}"
